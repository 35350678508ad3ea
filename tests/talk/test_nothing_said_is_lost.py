"""What ended in a false "meets" once: each row is a talk that must not, and must not tell what was never said.

The expectations are written from the meaning of the words.
"""

from typing import Any

import pytest

from assistant.securement.finding import Status
from tests.conftest import Talk

COIL = "forty thousand pound coil eye crosswise on two timbers and five bunks"
CHAINS = (
    "two three eighths grade seventy chains forward and two three eighths grade seventy chains rearward "
    "through the eye to the other side"
)
MEETS = (COIL, CHAINS)


def test_the_load_of_the_rows__meets_by_itself(talk: Talk) -> None:
    answer, _ = talk(*MEETS, "am i good")
    assert answer.judgement
    assert answer.judgement.verdict is Status.MEETS


ROWS: list[tuple[str, ...]] = [
    (*MEETS, "two chains are loose", "am i good"),
    (COIL, "chain it with one chain forward, one chain rearward, one chain over", "am i good"),
    (COIL, "i will put two chains forward and two chains rearward", "am i good"),
    (COIL, "i want two chains forward and two chains rearward", "am i good"),
    (COIL, "skip two chains forward and two chains rearward", "am i good"),
    (COIL, "two chains forward and two chains rearward unhooked", "am i good"),
    (COIL, "three chains forward and a strap forward", "two more bunks in the back", "am i good"),
    (COIL, "three chains forward and a strap forward", "no lip on the back", "am i good"),
    (COIL, "three chains forward and a strap forward", "wedges behind it", "am i good"),
    (COIL, "three chains forward and a strap forward", "it's loaded in back", "am i good"),
    (COIL, "two chains forward and two chains rearward, no edge protection on the chains", "am i good"),
    (*MEETS, "no edge protection on the chains", "am i good"),
    (*MEETS, "inside wrap is coming out the eye like a clock spring", "am i good"),
    (COIL, "three chains forward and a strap forward", "say that back to me", "am i good"),
]


@pytest.mark.parametrize("said", ROWS, ids=[" | ".join(said[1:]) for said in ROWS])
def test_what_is_open_denied_or_not_so__is_never_met(talk: Talk, said: tuple[str, ...]) -> None:
    answer, _ = talk(*said)
    assert answer.judgement
    assert answer.judgement.verdict is not Status.MEETS


@pytest.mark.parametrize(
    "said",
    [
        "two more bunks in the back",
        "no lip on the back",
        "wedges behind it",
        "it's loaded in back",
        "say that back to me",
    ],
)
def test_place_of_another_noun__turns_no_tiedown(talk: Talk, said: str) -> None:
    _, before = talk(COIL, "three chains forward and a strap forward")
    _, after = talk(said, conversation=before)
    assert [group.pulls for group in after.load.tiedowns] == ["forward", "forward"]


def test_inside_wrap__is_no_wedge(talk: Talk) -> None:
    _, after = talk("forty thousand pound coil", "inside wrap is coming out the eye like a clock spring")
    assert after.load.support.wedges is None
    assert after.load.seen == ("inner lip",)


def test_straps_that_are_chains__are_chains_alone(talk: Talk) -> None:
    _, after = talk("six straps on her", "they're chains sorry six chains")
    assert [(group.kind, group.count) for group in after.load.tiedowns] == [("chain", 6)]


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        (("note truck was weighed at seventy eight four hundred", "no wait seventy nine four hundred"), []),
        (("under five thousand pounds does the coil rule even apply",), []),
    ],
)
def test_what_tells_of_no_coil__brings_in_none(talk: Talk, said: tuple[str, ...], expected: list[Any]) -> None:
    _, after = talk(*said)
    assert list(after.load.coils) == expected


def test_scratch_that__behind_a_note_leaves_the_load(talk: Talk) -> None:
    _, after = talk("forty thousand pound coil", "note left rear tire is low", "scratch that")
    assert after.load.coils[0].weight_lb == 40_000

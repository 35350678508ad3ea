"""The sign at the foot of the screen: one place, one word, large, never wider than the screen."""

import pytest

from assistant.edges.sign import State, sign


def lines(state: State, partly: str = "", columns: int = 80, hint: str = "") -> list[str]:
    return "".join(part[1] for part in sign(state, partly, columns, hint=hint)).split("\n")


@pytest.mark.parametrize("state", State)
def test_it_is_three_lines_with_one_word_in_wide_capitals(state: State) -> None:
    above, middle, below = lines(state)
    assert not above.strip()
    assert not below.strip()
    assert middle.startswith("  " + " ".join(state.value.upper()))


def test_each_state_of_hands_free_listening_has_a_color_of_its_own() -> None:
    states = (State.LISTENING, State.THINKING, State.SPEAKING, State.ASLEEP)
    assert len({sign(state, "", 80)[0][0] for state in states}) == 4


def test_the_latest_words_stand_beside_it_and_it_never_grows_wider_than_the_screen() -> None:
    said = "forty thousand pound coil on timbers and three bunks four chains"
    _, middle, _ = lines(State.LISTENING, said, columns=50)
    assert middle.endswith("four chains")
    assert len(middle) <= 50
    assert len(lines(State.LISTENING, said, columns=0)) == 3


def test_asleep_it_says_what_wakes_it() -> None:
    assert "say okay deckhand" in lines(State.ASLEEP, hint="say okay deckhand")[1]
    assert "Escape" in lines(State.SPEAKING)[1]

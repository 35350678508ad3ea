"""Written text reaches the voice as words.

The expected words are how English says the figures; no figure here is a published value.
"""

import re

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from assistant.say.spell import MOST, number_words, ordinal_words, spell

SIX_SIX = "six thousand six hundred"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("6,600", "six thousand six hundred"),
        ("18800", "eighteen thousand eight hundred"),
        ("0", "zero"),
        ("-200 lb", "minus two hundred pounds"),
        ("0.435 g", "zero point four three five g"),
        ("3/8", "three eighths"),
        ("5/16 in", "five sixteenths inch"),
        ("1/16 in", "one sixteenth inch"),
        ("1/2", "one half"),
        ("1/2 in chain", "half inch chain"),
        ("½ inch", "half inch"),
        ("1/4 in", "quarter inch"),
        ("1-1/4 in", "one and a quarter inch"),
        ("1 3/4 in strap", "one and three quarters inch strap"),
        ("1½ in", "one and a half inch"),
        ("3/8 in chain", "three eighths inch chain"),
        ("4 in strap", "four inch strap"),
        ("4 in the row", "four in the row"),
        ("2 in all", "two in all"),
        ("72 in", "seventy two inches"),
        ("1 lb", "one pound"),
        ("1,100 lb or less", "one thousand one hundred pounds or less"),
        ("a 40,000 lb coil", "a forty thousand pound coil"),
        ("12 ft long", "twelve feet long"),
        ("48 ft trailer", "forty eight foot trailer"),
        ("10-ft deck", "ten foot deck"),
        ("5-10 ft", "five to ten feet"),
        ("2,268 kg", "two thousand two hundred sixty eight kilograms"),
        ("50 mi", "fifty miles"),
        ("50%", "fifty percent"),
        ("45°", "forty five degrees"),
        ("4 x 6,600 lb = 26,400 lb", f"four times {SIX_SIX} pounds is twenty six thousand four hundred pounds"),
        ("6x37, fiber core", "six by thirty seven, fiber core"),
        ("1-1/4 x 0.029 in", "one and a quarter by zero point zero two nine inches"),
        ("4 x 4 in timbers", "four by four inch timbers"),
        ("6x37 fiber core", "six by thirty seven fiber core"),
        ("49 CFR 393.106(d)", "forty nine C F R three ninety three point one oh six, paragraph d"),
        ("393.120", "three ninety three point one twenty"),
        ("393.100", "three ninety three point one hundred"),
        ("392.9", "three ninety two point nine"),
        ("393.110(b)(2)", "three ninety three point one ten, paragraph b two"),
        ("393.120(b)(1)(ii)", "three ninety three point one twenty, paragraph b one roman two"),
        ("393.106(d)(1)-(2)", "three ninety three point one oh six, paragraph d one to two"),
        ("393.120(d)(1)(ii)-(iii)", "three ninety three point one twenty, paragraph d one roman two to roman three"),
        ("393.120(b)-(d)", "three ninety three point one twenty, paragraph b to d"),
        ("393.5 lb", "three hundred ninety three point five pounds"),
        ("49 CFR part 393", "forty nine C F R part three ninety three"),
        ("WLL", "working load limit"),
        ("G70 chain", "grade seventy chain"),
        ("grade 100", "grade one hundred"),
        ("the 2nd coil", "the second coil"),
        ("Need 18,800 lb.", "Need eighteen thousand eight hundred pounds."),
        ("007", "zero zero seven"),
        ("no figures at all", "no figures at all"),
        ("", ""),
    ],
)  # fmt: skip
def test_spell__says_it_as_people_do(text: str, words: str) -> None:
    assert spell(text) == words


PIECES = st.one_of(
    st.integers(0, MOST).map("{:,}".format),
    st.integers(0, MOST).map(str),
    st.decimals(0, 99_999, places=3).map(str),
    st.builds("{}/{}".format, st.integers(0, 99), st.integers(0, 99)),
    st.builds("{}-{}/{} in".format, st.integers(1, 9), st.integers(1, 15), st.sampled_from([2, 4, 8, 16])),
    st.builds("{} {}".format, st.integers(-9_999, 99_999), st.sampled_from(["lb", "kg", "in", "ft", "mi", "%", "g"])),
    st.builds("49 CFR 393.{}({})".format, st.integers(1, 136), st.sampled_from("abcdef")),
    st.sampled_from(
        ["grade 70", "G80", "WLL", "6x37", "1st", "393.100-393.136", "½ in", "chain", ",", ".", "(", "the"]
    ),
)


@given(st.lists(PIECES, max_size=8).map(" ".join))
@example("1" * 40)
def test_spell__leaves_no_figure_in_anything_we_write(text: str) -> None:
    assert not re.search(r"\d", spell(text))


@given(st.text(alphabet=st.one_of(st.characters(), st.sampled_from("0123456789,./-()%gxin "))))
def test_spell__takes_any_text_at_all(text: str) -> None:
    assert not re.search(r"\d", spell(text))


@pytest.mark.parametrize(
    "piece", ["9,1/2-", "1", ",111", "1/", "1.", "(a)", "1-", " ", " x", "1 - ", "393.106(d)", "½ ", "\u00d7 1 "]
)
def test_spell__takes_a_very_long_text(piece: str) -> None:
    assert not re.search(r"\d", spell(f"1{piece * (100_000 // len(piece))}"))


@given(st.integers(0, MOST), st.integers(0, MOST))
def test_number_words__are_different_for_different_numbers(one: int, other: int) -> None:
    assert (number_words(one) == number_words(other)) == (one == other)


@given(st.integers(0, MOST))
def test_number_words__hold_letters_and_single_spaces_only(n: int) -> None:
    assert re.fullmatch(r"[a-z]+( [a-z]+)*", number_words(n))


@pytest.mark.parametrize("n", [-1, MOST + 1])
def test_number_words__refuse_what_has_no_words(n: int) -> None:
    with pytest.raises(ValueError, match=str(n)):
        number_words(n)


@pytest.mark.parametrize(
    ("n", "words"),
    [(1, "first"), (2, "second"), (3, "third"), (8, "eighth"), (12, "twelfth"), (16, "sixteenth"), (20, "twentieth"),
     (32, "thirty second"), (100, "one hundredth")],
)  # fmt: skip
def test_ordinal_words__say_the_ordinal(n: int, words: str) -> None:
    assert ordinal_words(n) == words

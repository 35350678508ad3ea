"""Number words both ways, and the trade's short forms.

The shorthand is trade usage (common practice, no source): "forty two five" is 42,500 lb when a coil is weighed.
"""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from assistant.phrase.grammar import read_grammar
from assistant.phrase.numbers import Reader, in_words, trade_words, without_and
from assistant.phrase.slots import Slots
from assistant.phrase.tokens import tokens

GRAMMAR = read_grammar()
WORDS = GRAMMAR.numbers
SLOTS = Slots(GRAMMAR, frozenset({"inch", "grade", "chain", "chains", "strap", "straps", "binder"}))

POUNDS = st.integers(1_000, 99_999)
TENS_OF_POUNDS = st.integers(100, 9_999).map(lambda tens: tens * 10)


def weights(said: str) -> set[float]:
    """Return all weights that the whole of what is said can mean, lb."""
    found = tokens(said)
    return {weight.pounds for end, weight in SLOTS.on(found).read("weight", 0) if end == len(found)}


def counts(said: str) -> set[float]:
    found = tokens(said)
    return {value for end, value in Reader(WORDS, found).count(0) if end == len(found)}


def sizes(said: str) -> set[float]:
    found = tokens(said)
    return {value for end, value in SLOTS.on(found).read("size", 0) if end == len(found)}


@given(st.integers(1, 999_999))
def test_number__said_in_full_comes_back(number: int) -> None:
    found = tokens(in_words(number, WORDS))
    assert (len(found), number) in Reader(WORDS, found).plain(0)


@given(st.integers(1, 99))
def test_count__said_in_words_or_typed_comes_back(number: int) -> None:
    assert counts(in_words(number, WORDS)) == {number}
    assert counts(str(number)) == {number}


@given(POUNDS | TENS_OF_POUNDS)
@example(20_000)
@example(42_500)
@example(10_010)
def test_weight__said_in_any_trade_form_comes_back_and_means_nothing_else(pounds: int) -> None:
    for said in trade_words(pounds, WORDS):
        assert weights(said) == {pounds}, said


@given(POUNDS | TENS_OF_POUNDS)
def test_weight__two_different_ones_are_never_said_alike(pounds: int) -> None:
    for said in trade_words(pounds, WORDS):
        assert all(said not in trade_words(other, WORDS) for other in (pounds + 10, pounds + 100, pounds + 1_000))


@pytest.mark.parametrize(
    ("said", "pounds"),
    [
        ("forty two five", 42_500),
        ("forty two five hundred", 42_500),
        ("forty two thousand five hundred", 42_500),
        ("forty two two fifty", 42_250),
        ("thirty eight two fifty", 38_250),
        ("thirty-eight two fifty", 38_250),
        ("thirty seven six", 37_600),
        ("twenty one five", 21_500),
        ("nineteen eight", 19_800),
        ("eighteen seven fifty five", 18_755),
        ("fifty four hundred", 5_400),
        ("four thousand nine hundred", 4_900),
        ("a thousand", 1_000),
        ("four two five zero zero", 42_500),
        ("four two five oh oh", 42_500),
        ("thirty nine five hundred", 39_500),
        ("forty one point five thousand", 41_500),
        ("forty two and a half thousand", 42_500),
        ("forty thousand and fifty", 40_050),
    ],
)
def test_shorthand__is_read_as_the_trade_says_it(said: str, pounds: float) -> None:
    assert weights(said) == {pounds}


@pytest.mark.parametrize("said", ["five two", "fifteen one thousand", "forty fifty", "five hundred hundred", "two one"])
def test_shorthand__what_nobody_says_is_no_weight(said: str) -> None:
    assert weights(said) == set()


@pytest.mark.parametrize(
    ("typed", "pounds"),
    [
        ("42,500", 42_500),
        ("42500", 42_500),
        ("42.5k", 42_500),
        ("42500#", 42_500),
        ("42500lbs", 42_500),
        ("42", 42_000),  # trade usage: a bare two-digit figure told as a weight is thousands
        ("42.5 kips", 42_500),
        ("20 tons", 40_000),
    ],
)
def test_typed_weight__is_read_as_written(typed: str, pounds: float) -> None:
    assert weights(typed) == {pounds}


# International Yard and Pound Agreement, 1959: 1 lb = 0.45359237 kg exactly (memory); a short ton is 2,000 lb (memory).
@pytest.mark.parametrize(
    ("said", "pounds"),
    [
        ("nineteen tons", 38_000),
        ("nineteen and a half tons", 39_000),
        ("twenty one point five tons", 43_000),
        ("a ton", 2_000),
        ("half a ton", 1_000),
        ("nineteen metric tons", 19_000 / 0.45359237),
        ("eighteen thousand kilos", 18_000 / 0.45359237),
        ("24 kips", 24_000),
    ],
)
def test_weight__in_another_unit_is_turned_into_pounds(said: str, pounds: float) -> None:
    assert min(weights(said)) == pytest.approx(pounds, abs=0.01)


@given(st.integers(10, 99), st.integers(1, 9), st.sampled_from([", ", "; ", ". ", " - ", "\n"]))
def test_number__never_crosses_punctuation(thousands: int, hundreds: int, mark: str) -> None:
    said = f"{in_words(thousands, WORDS)}{mark}{in_words(hundreds, WORDS)}"
    assert weights(said) == set()


@given(POUNDS, POUNDS)
def test_two_weights_with_a_comma_between__stay_two(first: int, second: int) -> None:
    found = tokens(f"{first:,}, {second:,}")
    assert [token.value for token in found] == [first, second]
    assert weights(f"{first:,}, {second:,}") == set()


@pytest.mark.parametrize(
    ("said", "size"),
    [
        ("three eighths", 0.375),
        ("three eighths inch", 0.375),
        ("five sixteenths", 0.3125),
        ("half inch", 0.5),
        ("a half inch", 0.5),
        ("quarter inch", 0.25),
        ("four inch", 4),
        ("one and a quarter inch", 1.25),
        ("3/8", 0.375),
        ('3/8"', 0.375),
        ("1-1/4 in", 1.25),
        ("1 1/4 in", 1.25),
        ("4 inch", 4),
        ("\N{VULGAR FRACTION ONE HALF} inch", 0.5),
    ],
)
def test_size__is_read_in_inches(said: str, size: float) -> None:
    assert sizes(said) == {size}


@pytest.mark.parametrize("said", ["five in", "forty inch", "nine eighths", "zero inch", "3/0", "four", "-4 inch"])
def test_size__what_is_none_is_not_read_as_one(said: str) -> None:
    assert sizes(said) == set()


@pytest.mark.parametrize(
    ("said", "count"),
    [
        ("a couple", 2),
        ("a couple of", 2),
        ("couple of", 2),
        ("a pair of", 2),
        ("a dozen", 12),
        ("a single", 1),
        ("two", 2),
    ],
)
def test_count__has_its_own_words(said: str, count: int) -> None:
    assert counts(said) == {count}


@pytest.mark.parametrize(
    ("said", "plain"),
    [
        ("six hundred and fifty pounds", "six hundred fifty pounds"),
        ("thirty two thousand and fifty", "thirty two thousand fifty"),
        ("and fifty", "and fifty"),
        ("two thousand and four chains", "two thousand and four chains"),
        ("four chains and twenty feet", "four chains and twenty feet"),
    ],
)
def test_an_and_inside_a_number_says_nothing(said: str, plain: str) -> None:
    assert without_and(said.split(), GRAMMAR.numbers) == plain.split()

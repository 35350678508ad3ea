"""Which of the recognizer's alternatives was meant, and how sure its words and its numbers are.

The recognizer's language model knows pairs of words; the grammar knows whole phrases. An alternative's score is what
the recognizer gives it less what the grammar finds wrong with it. Heard more than once, as it came and with the noise
turned down, an utterance has the alternative that all hearings together find likeliest.

How sure something is, is the share of all alternatives, by score, that have it; of several hearings, the mean. A number
is sure as a whole, with the numbers beside it: "forty seven" may have lost a "four", and each word of it is still sure.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import partial
from itertools import groupby

from assistant.phrase.understand import Understander

COST_IN_NATS = 2.0
"""What one unit of parse cost weighs against the recognizer's log score: measured on the spoken clips and noise."""
TEMPERATURE = 1.5
"""Softens the scores into shares; a recognizer's scores are surer of themselves than they are right. Measured too."""
UNKNOWN = "[unk]"
"""What the recognizer writes for a sound that is none of its words."""
_BELOW_LEAST = 4.0
"""How far below its least alternative a hearing puts one that it does not have [nats]."""

Words = tuple[str, ...]
Alternative = tuple[Words, float]
"""Words, and the recognizer's log score."""


@dataclass(frozen=True)
class Weighed:
    """What was meant, and how sure it is (0 to 1)."""

    words: Words
    sure: tuple[float, ...]
    """Of each word."""
    numbers: tuple[float, ...]
    """Of each word that is a number word as it is written: how sure the number is that it is part of."""
    all_numbers: float
    """That these numbers were said and no others; 1 where no hearing has any."""


def choose(alternatives: Sequence[Alternative], understander: Understander) -> tuple[int, tuple[float, ...]]:
    """Return the place of the best alternative and how sure each of its words is.

    Parameters
    ----------
    alternatives
        At least one, best first as the recognizer sees it.
    understander
        The grammar's parser.

    Notes
    -----
    A word that every alternative has is as sure as can be said from here: 1.
    """
    shares = _shares(alternatives, understander, {})
    best = max(shares, key=shares.__getitem__)
    place = next(place for place, (words, _) in enumerate(alternatives) if words == best)
    return place, _sure(best, [shares])


def weigh(hearings: Sequence[Sequence[Alternative]], understander: Understander) -> Weighed:
    """Return what was meant by several hearings of one utterance.

    Parameters
    ----------
    hearings
        The alternatives of each, at least one each.
    understander
        The grammar's parser: it knows which words are numbers.
    """
    costs: dict[Words, float] = {}
    shares = [_shares(alternatives, understander, costs) for alternatives in hearings]
    least = [min(one.values()) * math.exp(-_BELOW_LEAST / TEMPERATURE) for one in shares]
    best = max(
        dict.fromkeys(words for one in shares for words in one),
        key=lambda words: sum(
            math.log(max(one.get(words, low), low, 1e-300)) for one, low in zip(shares, least, strict=True)
        ),
    )
    runs = {words: _runs(words, understander) for one in shares for words in one}
    said = runs[best]

    def share_of(has: Callable[[Words], bool]) -> float:
        return min(1.0, sum(sum(part for words, part in one.items() if has(words)) for one in shares) / len(shares))

    sure_of = [share_of(partial(_has_times, runs, run, nth)) for run, nth in _numbered(said)]
    of_each = iter([sure for run, sure in zip(said, sure_of, strict=True) for _ in run])
    known = [word for word in best if word != UNKNOWN]
    by_word = [next(of_each) if understander.is_number_word(word) else 1.0 for word in known]
    written = understander.written(known)
    numbers = tuple(sure for word, sure in zip(written, by_word, strict=True) if understander.is_number_word(word))
    return Weighed(best, _sure(best, shares), numbers, share_of(lambda words: runs[words] == said))


def _has_times(runs: Mapping[Words, Sequence[Words]], run: Words, times: int, words: Words) -> bool:
    return runs[words].count(run) >= times


def _shares(
    alternatives: Sequence[Alternative], understander: Understander, costs: dict[Words, float]
) -> dict[Words, float]:
    """Return the share of each alternative, by score; those of the same words have the better score.

    `costs` keeps what the grammar finds wrong with each, for the next hearing.
    """
    scores: dict[Words, float] = {}
    for words, score in alternatives:
        if words not in costs:
            costs[words] = understander.cost(words)
        scores[words] = max(scores.get(words, -math.inf), score - COST_IN_NATS * costs[words])
    best = max(scores.values())
    weights = {words: math.exp((score - best) / TEMPERATURE) for words, score in scores.items()}
    total = sum(weights.values())
    return {words: weight / total for words, weight in weights.items()}


def _sure(chosen: Words, hearings: Sequence[Mapping[Words, float]]) -> tuple[float, ...]:
    agreeing = [0.0] * len(chosen)
    for shares in hearings:
        for words, share in shares.items():
            for block in SequenceMatcher(None, chosen, words, autojunk=False).get_matching_blocks():
                for place in range(block.a, block.a + block.size):
                    agreeing[place] += share / len(hearings)
    return tuple(min(1.0, share) for share in agreeing)


def _runs(words: Words, understander: Understander) -> tuple[Words, ...]:
    """Return the numbers of an alternative, each with all its words."""
    runs: list[Words] = []
    for number, run in groupby(words, understander.is_number_word):
        if number:
            runs.append(tuple(run))
    return tuple(runs)


def _numbered(runs: Sequence[Words]) -> list[tuple[Words, int]]:
    """Return each number with how often it has been said by then: "two ... two" wants an alternative with both."""
    return [(run, runs[: place + 1].count(run)) for place, run in enumerate(runs)]

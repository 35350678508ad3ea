"""Which of the recognizer's alternatives was meant, and how sure its words and its numbers are.

The recognizer's language model knows pairs of words, its phrases have longer runs, and the grammar knows what is whole.
An alternative's score is what the recognizer gives it, more or less what runs of four words make of it (runs.py), less
what the grammar finds wrong with it. Heard more than once, as it came and with the noise turned down, an utterance has
the alternative that all hearings together find likeliest.

How sure something is, is the share of all alternatives, by score, that have it. Of several hearings, a word has the
mean share and a number the mean log odds, and a number is sure as a whole, with the numbers beside it: "forty seven"
may have lost a "four", and each word of it is still sure.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import cache, partial
from itertools import groupby

from assistant.hear.runs import Runs
from assistant.phrase.numbers import without_and
from assistant.understand.understander import Understander

COST_IN_NATS = 2.0
"""What one unit of parse cost weighs against the recognizer's log score: measured on the spoken clips and noise."""
RUNS_IN_NATS = 0.8
"""What the likelihood of longer runs weighs against the recognizer's log score. Measured too."""
TEMPERATURE = 1.5
"""Softens the scores into shares; a recognizer's scores are surer of themselves than they are right. Measured too."""
UNKNOWN = "[unk]"
"""What the recognizer writes for a sound that is none of its words."""
_SAID_AGAIN = 0.02
"""Two utterances are the same words said twice where at least this share of all that both may be agrees."""
_HEARD_NOW = 0.5
"""What is said again and is less sure than this by itself stays as unsure, whatever was said before."""
_BELOW_LEAST = 4.0
"""How far below its least alternative a hearing puts one that it does not have [nats]."""

_NEVER = 1e-4
"""No share counts as less than this or as more than all but this: a hearing has twenty alternatives and no more."""

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
    shares: Mapping[Words, float]
    """Of each alternative, of all hearings together."""


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
    shares = _shares(alternatives, partial(fault, understander, None))
    best = max(shares, key=shares.__getitem__)
    place = next(place for place, (words, _) in enumerate(alternatives) if words == best)
    return place, _sure(best, shares, understander)


def weigh(
    hearings: Sequence[Sequence[Alternative]],
    understander: Understander,
    phrases: Runs | None = None,
    before: Mapping[Words, float] | None = None,
) -> Weighed:
    """Return what was meant by several hearings of one utterance.

    Parameters
    ----------
    hearings
        The alternatives of each, at least one each.
    understander
        The grammar's parser: it knows which words are numbers.
    phrases
        The runs of words that the recognizer's phrases have; None to go by pairs alone.
    before
        The shares of the utterance before, where it came to nothing and this may be the same said again: what both
        may be is then likelier than either alone tells. Where hardly anything is in both it counts for nothing.
    """
    fault_of = cache(partial(fault, understander, phrases))
    alone = [_shares(alternatives, fault_of) for alternatives in hearings]
    together = _together(alone)
    again = _agreed(together, before or {})
    shares = again or together
    apart = [again] if again else alone
    best = _likeliest(apart)
    runs = {words: _runs(words, understander) for words in together}
    said = runs[best]
    heard_now = sum(share for words, share in together.items() if runs[words] == said)
    most = heard_now if again and heard_now < _HEARD_NOW else 1.0

    def share_of(has: Callable[[Words], bool]) -> float:
        held = [sum(share for words, share in one.items() if has(words)) for one in apart]
        return min(most, _agreeing(held))

    sure_of = [share_of(partial(_has_times, runs, run, nth)) for run, nth in _numbered(said)]
    of_each = iter([sure for run, sure in zip(said, sure_of, strict=True) for _ in run])
    known = [word for word in best if word != UNKNOWN]
    by_word = [next(of_each) if understander.is_number_word(word) else 1.0 for word in known]
    written = understander.written(known)
    numbers = tuple(sure for word, sure in zip(written, by_word, strict=True) if understander.is_number_word(word))
    all_numbers = share_of(lambda words: runs[words] == said)
    return Weighed(best, _sure(best, shares, understander), numbers, all_numbers, together)


def _likeliest(hearings: Sequence[Mapping[Words, float]]) -> Words:
    """Return the alternative that all hearings together find likeliest."""
    least = [min(one.values()) * math.exp(-_BELOW_LEAST / TEMPERATURE) for one in hearings]
    return max(
        dict.fromkeys(words for one in hearings for words in one),
        key=lambda words: sum(
            math.log(max(one.get(words, low), low, 1e-300)) for one, low in zip(hearings, least, strict=True)
        ),
    )


def _agreed(now: Mapping[Words, float], before: Mapping[Words, float]) -> dict[Words, float]:
    """Return the shares of what two utterances may both be; nothing where they can hardly be the same."""
    both = {words: share * before[words] for words, share in now.items() if words in before}
    agreed = sum(both.values())
    return {words: share / agreed for words, share in both.items()} if agreed >= _SAID_AGAIN else {}


def denied(weighed: Weighed, understander: Understander, *, read_back: Words = ()) -> Mapping[Words, float]:
    """Return the shares of what else may have been said, where what was heard came to nothing and is said again.

    `read_back` is what was read back, if anything was: whoever does not say yes said something else, of other numbers.
    """
    numbers = _runs(read_back, understander)
    return {
        words: share
        for words, share in weighed.shares.items()
        if words not in {weighed.words, read_back} and (not numbers or _runs(words, understander) != numbers)
    }


def fault(understander: Understander, phrases: Runs | None, words: Words) -> float:
    """Return what speaks against words besides their sound [nats].

    Parameters
    ----------
    understander
        The grammar's parser.
    phrases
        The runs of words that the recognizer's phrases have; None to go by pairs alone.
    words
        An alternative's.
    """
    longer = phrases.beyond_pairs(words) if phrases else 0.0
    return COST_IN_NATS * understander.cost(words) - RUNS_IN_NATS * longer


def _agreeing(shares: Sequence[float]) -> float:
    """Return how sure something is that each hearing gives a share: by the mean of the log odds.

    Two hearings that are sure outweigh one that is in doubt, and one that is sure of something else outweighs both.
    """
    held = [min(max(share, _NEVER), 1 - _NEVER) for share in shares]
    odds = sum(math.log(share / (1 - share)) for share in held) / len(held)
    return 1 / (1 + math.exp(-odds))


def _together(hearings: Sequence[Mapping[Words, float]]) -> dict[Words, float]:
    """Return the mean share of each alternative."""
    found: dict[Words, float] = {}
    for shares in hearings:
        for words, share in shares.items():
            found[words] = found.get(words, 0.0) + share / len(hearings)
    return found


def _has_times(runs: Mapping[Words, Sequence[Words]], run: Words, times: int, words: Words) -> bool:
    return runs[words].count(run) >= times


def _shares(alternatives: Sequence[Alternative], fault_of: Callable[[Words], float]) -> dict[Words, float]:
    """Return the share of each alternative, by score; those of the same words have the better score."""
    scores: dict[Words, float] = {}
    for words, score in alternatives:
        scores[words] = max(scores.get(words, -math.inf), score - fault_of(words))
    best = max(scores.values())
    weights = {words: math.exp((score - best) / TEMPERATURE) for words, score in scores.items()}
    total = sum(weights.values())
    return {words: weight / total for words, weight in weights.items()}


def _sure(chosen: Words, shares: Mapping[Words, float], understander: Understander) -> tuple[float, ...]:
    """Return how sure each word is; "yeah" says as much for "yes" as "yes" does."""
    agreeing = [0.0] * len(chosen)
    replies = understander.grammar.replies
    meant = [replies.get(word, word) for word in chosen]
    for words, share in shares.items():
        same = SequenceMatcher(None, meant, [replies.get(word, word) for word in words], autojunk=False)
        for block in same.get_matching_blocks():
            for place in range(block.a, block.a + block.size):
                agreeing[place] += share
    return tuple(min(1.0, share) for share in agreeing)


def _runs(words: Words, understander: Understander) -> tuple[Words, ...]:
    """Return the numbers of an alternative, each with all its words; "six hundred and fifty" is "six hundred fifty"."""
    runs: list[Words] = []
    for number, run in groupby(without_and(words, understander.grammar.numbers), understander.is_number_word):
        if number:
            runs.append(tuple(run))
    return tuple(runs)


def _numbered(runs: Sequence[Words]) -> list[tuple[Words, int]]:
    """Return each number with how often it has been said by then: "two ... two" wants an alternative with both."""
    return [(run, runs[: place + 1].count(run)) for place, run in enumerate(runs)]

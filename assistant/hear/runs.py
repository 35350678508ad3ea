"""How likely words are by runs of four, beyond what pairs tell: the recognizer's own language model knows pairs alone.

By pairs "one chains" is as likely as "nine chains", and "the are half inch" as "three are half inch"; by runs of three
and four words the recognizer's phrases have none such. Number words of one class count as one word here: no number is
likelier for being sampled more often.
"""

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

import numpy as np

from assistant.phrase.grammar import Grammar

_ORDER = 4
_START, _END = "<s>", "</s>"
_STRANGE = 0
"""The code of every word that no phrase has."""


class _Behind(NamedTuple):
    """What stood behind a run: how often any word did, and how many different ones."""

    times: int
    kinds: int


class Runs:
    """How often words stand behind the words before them, up to three, in a list of phrases.

    Parameters
    ----------
    phrases
        The recognizer's, as they sound; one that is there more than once counts as often.
    grammar
        Tells which number words are of one class.

    Notes
    -----
    Smoothed after Witten and Bell: the probability of a word behind a run is ``(c + t p) / (n + t)``, with c how often
    it stood there, n how often any did, t how many different ones did and p its probability behind the run without
    its first word.

    References
    ----------
    I. H. Witten and T. C. Bell, "The zero-frequency problem", IEEE Transactions on Information Theory 37 (1991),
    method C.
    """

    def __init__(self, phrases: Iterable[str], grammar: Grammar) -> None:
        often = Counter(phrases)
        said = " ".join(f"{_START} {phrase} {_END}" for phrase in often).split()
        self._code_of = _codes(dict.fromkeys(said), _classes(grammar))
        size = self._size = max(self._code_of.values()) + 1
        words = np.fromiter(map(self._code_of.__getitem__, said), np.int64, len(said))
        starts = np.flatnonzero(words == self._code_of[_START])
        lengths = np.diff(starts, append=len(words))
        place = np.arange(len(words)) - np.repeat(starts, lengths)
        times = np.repeat(np.fromiter(often.values(), np.int64), lengths)
        self._times: list[Mapping[int, int]] = []
        self._behind: list[Mapping[int, _Behind]] = []
        keys = np.zeros(len(words), np.int64)
        for before in range(_ORDER):
            keys[before:] += words[: len(words) - before] * size**before
            within = place >= max(before, 1)
            runs, which = np.unique(keys[within], return_inverse=True)
            counts = np.bincount(which, times[within]).astype(np.int64)
            self._times.append(dict(zip(runs.tolist(), counts.tolist(), strict=True)))
            led_by, which, kinds = np.unique(runs // size, return_inverse=True, return_counts=True)
            behind = np.bincount(which, counts).astype(np.int64)
            self._behind.append(dict(zip(led_by.tolist(), map(_Behind, behind.tolist(), kinds.tolist()), strict=True)))

    def beyond_pairs(self, words: Sequence[str]) -> float:
        """Return how much likelier words are by runs of four than by pairs [nats]; below 0 where they are less likely.

        Examples
        --------
        Words that no phrase holds side by side are no more and no less likely by longer runs: 0.
        """
        codes = [self._code_of.get(word, _STRANGE) for word in (_START, *words, _END)]
        found = 0.0
        for end in range(1, len(codes)):
            run = codes[max(0, end - _ORDER + 1) : end + 1]
            found += math.log(self._likely(run) / self._likely(run[-2:]))
        return found

    def _likely(self, run: Sequence[int]) -> float:
        """Return the probability of the last word of a run behind the others."""
        order, key = len(run) - 1, 0
        for code in run:
            key = key * self._size + code
        shorter = self._likely(run[1:]) if order else 1 / self._size
        behind = self._behind[order].get(key // self._size)
        if behind is None:
            return shorter
        return (self._times[order].get(key, 0) + behind.kinds * shorter) / (behind.times + behind.kinds)


def _codes(words: Iterable[str], class_of: Mapping[str, str]) -> Mapping[str, int]:
    """Return a number for each word, the same for all words of one class."""
    codes: dict[str, int] = {}
    return {word: codes.setdefault(class_of.get(word, word), _STRANGE + 1 + len(codes)) for word in words}


def _classes(grammar: Grammar) -> Mapping[str, str]:
    """Return the class of each number word that is one; those that sound like other words stand for themselves."""
    numbers = grammar.numbers
    apart = {"one", *grammar.same_sound.values()}
    kinds = {"units": numbers.units, "teens": numbers.teens, "tens": numbers.tens}
    return {word: f"<{kind}>" for kind, words in kinds.items() for word in words if word not in apart}

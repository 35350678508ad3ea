"""Which of the recognizer's alternatives was meant, and how sure each of its words is.

The recognizer's language model knows pairs of words; the grammar knows whole phrases. An alternative's score is what
the recognizer gives it less what the grammar finds wrong with it. A word's confidence is the share of all alternatives,
by score, that have the same word in its place.
"""

import math
from collections.abc import Sequence
from difflib import SequenceMatcher

from assistant.phrase.understand import Understander

COST_IN_NATS = 2.0
"""What one unit of parse cost weighs against the recognizer's log score: measured on the spoken clips and noise."""
TEMPERATURE = 1.5
"""Softens the scores into shares; a recognizer's scores are surer of themselves than they are right. Measured too."""

Alternative = tuple[tuple[str, ...], float]
"""Words, and the recognizer's log score."""


def choose(alternatives: Sequence[Alternative], understander: Understander) -> tuple[int, tuple[float, ...]]:
    """Return the place of the best alternative and the confidence, 0 to 1, of each of its words.

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
    scores = [score - COST_IN_NATS * understander.cost(words) for words, score in alternatives]
    best = max(range(len(scores)), key=scores.__getitem__)
    weights = [math.exp((score - scores[best]) / TEMPERATURE) for score in scores]
    total = sum(weights)
    chosen = alternatives[best][0]
    agreeing = [0.0] * len(chosen)
    for (words, _), weight in zip(alternatives, weights, strict=True):
        for block in SequenceMatcher(None, chosen, words, autojunk=False).get_matching_blocks():
            for place in range(block.a, block.a + block.size):
                agreeing[place] += weight
    return best, tuple(min(1.0, share / total) for share in agreeing)

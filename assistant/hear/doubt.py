"""What of an utterance is in doubt: what is to be read back, and what else may have been said."""

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from typing import NamedTuple

from assistant.hear.choose import UNKNOWN, Weighed
from assistant.phrase.grammar import REPLIES
from assistant.phrase.tokens import LONGEST
from assistant.understand.heard import implies_a_number
from assistant.understand.understander import Understander

DOUBTFUL = 0.7
"""A number that is less sure than this is read back before it counts. Chosen, like those below, on voices and noises of
the speech bench that are no unseen ones: higher asks more often where it had heard right, lower lets more wrong ones
through."""
DOUBTFUL_IN_NOISE = 0.92
ASKED_ANYWAY = 0.98
"""Where one number is read back, so is every other that is less sure than this: it costs no question more. Where it is
loud, each is."""
LOUD_DB = 11.0
"""By the estimate of loudness.py; at a ratio of 5 dB it is mostly lower, at 10 dB hardly ever."""
HAZY = 0.7
"""Words that are on average less sure than this are read back before they change anything."""
HAZY_REPLY = 0.5
"""The same of a yes or a no to what was read back: there is little else that people say then."""
IMPLIED = 0.97
"""In noise: a count that no word tells must be the only one that was heard, as sure as this. "A chain" is two sounds
away from "eight chains"."""
OFFERED = 0.1
"""What else was perhaps said is offered if it is at least so likely."""
_MOST_OFFERS = 3
_WEIGHED = 16
"""So many of the likeliest alternatives are looked at for what they tell."""
SURE = 0.95
"""In a quiet place what is as sure as this at the first hearing is not heard again."""
QUIET_DB = 40.0
"""Below this a number must be that sure. By the estimate of loudness.py."""
TOO_LOUD_DB = 6.5
"""Below this no number and no fact is taken. By the same estimate: some 3 dB above the ratio at 5 dB, and 5 at 0 dB."""

Others = Callable[[], tuple[str, ...]]


@dataclass(frozen=True)
class Utterance:
    """What was said, how sure that is (0 to 1, None without words), and which number words are doubtful."""

    text: str
    confidence: float | None
    unsure: tuple[int, ...]
    too_loud: bool = False
    """Whether the noise leaves no number to be sure of."""
    hazy: bool = False
    """Whether its words are on the whole not sure."""
    clipped: bool = False
    """Whether it was recorded too loud: then every number of it is doubtful, however sure it seems."""
    crosstalk: bool = False
    """Whether somebody else spoke at the same time: then it is read back, however sure it seems."""
    audio: bytes = field(default=b"", repr=False)
    """The sound of a dictated note (16 kHz mono 16-bit); empty for the rest."""
    weighed: Weighed | None = field(default=None, repr=False)
    """All that it may have been: if it comes to nothing and is said again, the two are weighed together."""
    others: Others = field(default=tuple, repr=False)
    """Gives what else it may have been that would tell something else, the likeliest first; worked out when called."""


class Sound(NamedTuple):
    """What a sound is like."""

    ratio_db: float
    """Speech to noise, by the estimate of loudness.py."""
    clipped: bool = False
    crosstalk: bool = False

    @property
    def noisy(self) -> bool:
        """Whether a number must be surer than in a quiet place."""
        return self.ratio_db < QUIET_DB

    @property
    def spoiled(self) -> bool:
        """Whether nothing of it is sure: the grammar makes something likely of whatever is left of it."""
        return self.clipped or self.crosstalk


def is_sure(weighed: Weighed, ratio_db: float) -> bool:
    """Return whether what was heard once need not be heard again."""
    return min(weighed.all_numbers, *weighed.numbers, on_average(weighed)) >= SURE and ratio_db >= QUIET_DB


def judged(weighed: Weighed, sound: Sound, understander: Understander, *, read_back: bool) -> Utterance:
    """Return what was meant as it is written: "eye to the side", not "eye two the side", and what of it is in doubt.

    A number is doubtful where it, or that no other was said, is not sure; of sound that was clipped, or has a second
    voice in it, each is.

    Parameters
    ----------
    weighed
        What was meant.
    sound
        What the sound is like.
    understander
        The grammar's.
    read_back
        Whether something was read back and waits for a yes or a no.
    """
    grammar = understander.grammar
    known = [word for word in weighed.words if word != UNKNOWN]
    least = ASKED_ANYWAY if sound.ratio_db < LOUD_DB else DOUBTFUL_IN_NOISE if sound.noisy else DOUBTFUL
    mean = on_average(weighed)
    text = " ".join(understander.written(known))
    parts = understander.hear(text[:LONGEST])
    implied = (sound.noisy or sound.spoiled) and implies_a_number(parts.fragments)
    facts = sound.noisy and any(grammar.sorts[part.name] == "fact" for part in parts.fragments)
    # "A chain" may be "eight chains", "coil strap" may have lost its numbers: then no number word is doubtful.
    lost = implied and (sound.spoiled or mean < least or weighed.all_numbers < IMPLIED)
    mistakable = any(phrase in text for phrase in grammar.mistakable)
    said = understander.whole(parts).keys() or (parts.names if not parts.left_over else set())
    replies = read_back and bool(said & REPLIES)
    mixed = sound.crosstalk and not replies  # a voice that always seemed to be two could not say yes
    hazy = bool(known) and (lost or mixed or mistakable or mean < (HAZY_REPLY if replies else HAZY))
    hushed = sound.ratio_db < TOO_LOUD_DB
    return Utterance(text, min(weighed.numbers, default=mean) if known else None,
                     _doubts(weighed, least, spoiled=sound.spoiled),
                     too_loud=(bool(weighed.numbers) or facts) and hushed, hazy=hazy, clipped=sound.clipped,
                     crosstalk=sound.crosstalk, weighed=weighed,
                     others=tuple if hushed else partial(_others, weighed, understander))  # fmt: skip


def _doubts(weighed: Weighed, least: float, *, spoiled: bool) -> tuple[int, ...]:
    """Return which numbers are doubtful."""
    doubted = any(sure < least for sure in weighed.numbers)
    doubts = [which for which, sure in enumerate(weighed.numbers) if spoiled or (doubted and sure < ASKED_ANYWAY)]
    if weighed.numbers and not doubts and weighed.all_numbers < least:
        # One was perhaps not heard at all: the least sure stands for it.
        doubts = [min(range(len(weighed.numbers)), key=weighed.numbers.__getitem__)]
    return tuple(doubts)


def _others(weighed: Weighed, understander: Understander) -> tuple[str, ...]:
    """Return what else may have been said: alternatives that the grammar covers whole and that tell something else.

    What tells the same counts together; what is less likely than `OFFERED` is left out.
    """
    if weighed.shares.get(weighed.words, 0.0) > 1 - OFFERED:
        return ()
    shares: dict[str, float] = {}
    written: dict[str, str] = {}
    heard = ""
    for words, share in sorted(weighed.shares.items(), key=lambda found: -found[1])[:_WEIGHED]:
        text = understander.fluent(" ".join(understander.written([word for word in words if word != UNKNOWN])))
        parts = understander.hear(text[:LONGEST])
        told = repr([(part.name, sorted(part.values.items())) for part in parts.fragments])
        if words == weighed.words:
            heard = told
        elif parts.left_over or not parts.fragments or UNKNOWN in words:
            continue
        shares[told] = shares.get(told, 0.0) + share
        written.setdefault(told, text)
    shares.pop(heard, None)
    likely = sorted(shares, key=shares.__getitem__, reverse=True)
    return tuple(written[told] for told in likely if shares[told] >= OFFERED)[:_MOST_OFFERS]


def on_average(weighed: Weighed) -> float:
    """Return how sure the words are on average; 0 where there is none."""
    sure = [share for word, share in zip(weighed.words, weighed.sure, strict=True) if word != UNKNOWN]
    return sum(sure) / len(sure) if sure else 0.0

"""The ear: the recognizer with the grammar's phrases, a second hearing where it helps, and doubt about numbers."""

import hashlib
import json
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from functools import cached_property, partial
from pathlib import Path

from assistant.conversation import Conversation
from assistant.edges.clearing import cleared, slowed
from assistant.edges.crosstalk import two_voices
from assistant.edges.loudness import is_clipped, signal_to_noise_db
from assistant.edges.places import cache_dir
from assistant.edges.recognizer import Heard, Reading, Recognizer, Stream
from assistant.hear.choose import UNKNOWN, Weighed, denied, weigh
from assistant.phrase.grammar import REPLIES, Grammar, grammar_folder
from assistant.phrase.plausible import implies_a_number
from assistant.hear.runs import Runs
from assistant.phrase.sampler import Sampler
from assistant.phrase.tokens import LONGEST
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


class Ear:
    """Hears utterances by one grammar.

    Parameters
    ----------
    recognizer
        The loaded speech model.
    understander
        The grammar's parser: it knows which words are numbers.
    """

    def __init__(self, recognizer: Recognizer, understander: Understander) -> None:
        self._recognizer = recognizer
        self._understander = understander
        self._grammar = understander.grammar
        self._sampled: dict[str, list[str]] = {}

    def prepare(self) -> None:
        """Build what hears the whole grammar ahead of the first word."""
        self._recognizer.prepare(self._phrases())
        _ = self._runs

    @cached_property
    def _runs(self) -> Runs:
        return Runs(self._phrases(), self._grammar)

    def stream(self) -> Stream:
        """Begin to listen to utterances; give each to `settle`."""
        return self._recognizer.stream(self._phrases())

    def waiting(self, phrase: str) -> Stream:
        """Begin to listen for one phrase alone, beside what is none of its words."""
        return self._recognizer.stream((phrase,))

    def hear(self, pcm: bytes, conversation: Conversation, before: Utterance | None = None) -> Utterance:
        """Hear one utterance in a piece of 16 kHz mono 16-bit sound; see `settle`."""
        return self.settle(self._recognizer.listen(pcm, self._phrases()), conversation, before)

    def settle(self, heard: Heard, conversation: Conversation, before: Utterance | None = None) -> Utterance:
        """Return what was said, after a second hearing with the noise turned down.

        `before` is the utterance before this one where it came to nothing: it may be said again now, and was then not
        what it was taken for.

        A note is heard again by the free model. After a question the narrow grammar of what may be answered is heard
        too, and what either of them read counts for as likely as the one that found it likelier: an answer is likelier
        by the narrow grammar, anything else by the whole one.
        """
        note = self._note(heard)
        if note is not None:
            return Utterance(note, heard.confidence, (), audio=heard.audio)
        if not heard.words:
            return Utterance("", None, ())
        ratio = signal_to_noise_db(heard.audio)
        narrow = self._narrow(conversation) if heard.audio else ""
        settles = conversation.pending.settles if conversation.pending else None
        asked = tuple(self._grammar.as_it_sounds(settles.doubted).split()) if settles else ()
        earlier = before.weighed if before else None
        shares = denied(earlier, self._understander, read_back=asked) if earlier else {}
        weighed = self._weighed(heard, narrow, ratio, shares)
        return self._utterance(weighed, ratio, heard.audio, read_back=settles is not None)

    def _weighed(self, heard: Heard, narrow: str, ratio: float, earlier: Mapping[tuple[str, ...], float]) -> Weighed:
        """Return what was meant by the sound as it came and, unless that is sure, with the noise turned down.

        In noise a number is also heard with the noise turned down at the speed it was said with: fewer wrong ones pass.
        """
        first = self._with_narrow(heard, heard.audio, narrow)
        once = weigh([first], self._understander, self._runs, earlier)
        if min(once.all_numbers, *once.numbers, _on_average(once)) >= SURE and ratio >= QUIET_DB:
            return once
        clear = cleared(heard.audio)
        ways = (slowed(clear), clear) if once.numbers and ratio < QUIET_DB else (slowed(clear),)
        again = [self._with_narrow(self._recognizer.listen(way, self._phrases()), way, narrow) for way in ways]
        hearings = [readings for readings in (first, *again) if readings]
        return weigh(hearings, self._understander, self._runs, earlier)

    def _with_narrow(self, heard: Heard, pcm: bytes, narrow: str) -> Sequence[Reading]:
        """Return the ways to read what was heard, with those of a narrow grammar where it knew every word."""
        if not narrow:
            return _readings(heard)
        answers = _readings(self._recognizer.listen(pcm, self._phrases(narrow)))
        known = [(words, score) for words, score in answers if words and UNKNOWN not in words]
        return (*_readings(heard), *known)  # of the same words the better score counts

    def _utterance(self, weighed: Weighed, ratio: float, pcm: bytes, *, read_back: bool) -> Utterance:
        """Return what was meant as it is written: "eye to the side", not "eye two the side".

        A number is doubtful where it, or that no other was said, is not sure; of sound that was clipped, or has a
        second voice in it, each is: the grammar makes something likely of whatever is left of it.
        """
        clipped, crosstalk = is_clipped(pcm), two_voices(pcm, ratio)
        spoiled = clipped or crosstalk
        known = [word for word in weighed.words if word != UNKNOWN]
        in_noise = ratio < QUIET_DB
        least = ASKED_ANYWAY if ratio < LOUD_DB else DOUBTFUL_IN_NOISE if in_noise else DOUBTFUL
        doubted = any(sure < least for sure in weighed.numbers)
        doubts = [which for which, sure in enumerate(weighed.numbers) if spoiled or (doubted and sure < ASKED_ANYWAY)]
        if weighed.numbers and not doubts and weighed.all_numbers < least:
            # One was perhaps not heard at all: the least sure stands for it.
            doubts = [min(range(len(weighed.numbers)), key=weighed.numbers.__getitem__)]
        on_average = _on_average(weighed)
        confidence = min(weighed.numbers, default=on_average) if known else None
        text = " ".join(self._understander.written(known))
        parts = self._understander.hear(text[:LONGEST])
        implied = (in_noise or spoiled) and implies_a_number(parts.fragments)
        facts = in_noise and any(self._grammar.sorts[part.name] == "fact" for part in parts.fragments)
        # "A chain" may be "eight chains", "coil strap" may have lost its numbers: then no number word is doubtful.
        lost = implied and (spoiled or on_average < least or weighed.all_numbers < IMPLIED)
        mistakable = any(phrase in text for phrase in self._grammar.mistakable)
        replies = read_back and not parts.left_over and parts.names <= REPLIES
        mixed = crosstalk and not replies  # a voice that always seemed to be two could not say yes
        hazy = bool(known) and (lost or mixed or mistakable or on_average < (HAZY_REPLY if replies else HAZY))
        too_loud = (bool(weighed.numbers) or facts) and ratio < TOO_LOUD_DB
        return Utterance(text, confidence, tuple(doubts), too_loud=too_loud, hazy=hazy, clipped=clipped,
                         crosstalk=crosstalk, weighed=weighed,
                         others=partial(self._others, weighed) if ratio >= TOO_LOUD_DB else tuple)  # fmt: skip

    def _others(self, weighed: Weighed) -> tuple[str, ...]:
        """Return what else may have been said: alternatives that the grammar covers whole and that tell something else.

        What tells the same counts together; what is less likely than `OFFERED` is left out.
        """
        if weighed.shares.get(weighed.words, 0.0) > 1 - OFFERED:
            return ()
        shares: dict[str, float] = {}
        written: dict[str, str] = {}
        heard = ""
        for words, share in sorted(weighed.shares.items(), key=lambda found: -found[1])[:_WEIGHED]:
            text = self._understander.fluent(
                " ".join(self._understander.written([word for word in words if word != UNKNOWN]))
            )
            parts = self._understander.hear(text[:LONGEST])
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

    def _phrases(self, narrow: str = "") -> list[str]:
        if narrow not in self._sampled:
            self._sampled[narrow] = phrases_of(self._grammar, narrow)
        return self._sampled[narrow]

    def _narrow(self, conversation: Conversation) -> str:
        if conversation.quiz:
            return "quiz"
        pending = conversation.pending
        if pending is None:
            return ""
        if pending.settles:
            return "question"
        form = self._grammar.answer_to(pending.asked[0])
        return form.hear if form else ""

    def _note(self, heard: Heard) -> str | None:
        """Return "note" and the rest as the free model hears it, if that is how the utterance begins.

        All of it is heard again, "note" too: sound that begins in the middle of speech costs the first words.
        """
        known = [word for word in heard.words if word.word != UNKNOWN]
        said = [word.word for word in known]
        # "change the note to" is heard with a "two" in it: to the ear they are one word.
        taken = self._understander.note_words(said) or self._understander.note_words(
            ["to" if word == "two" else word for word in said]
        )
        if not taken:
            return None
        ends = known[len(taken) - 1].end
        free = self._recognizer.listen(heard.audio, None)
        rest = [word.word for word in free.words if (word.start + word.end) / 2 > ends]
        return " ".join((*taken, *rest))


def _on_average(weighed: Weighed) -> float:
    """Return how sure the words are on average; 0 where there is none."""
    sure = [share for word, share in zip(weighed.words, weighed.sure, strict=True) if word != UNKNOWN]
    return sum(sure) / len(sure) if sure else 0.0


def _readings(heard: Heard) -> Sequence[Reading]:
    """Return the ways to read what was heard, if any; where its recognizer gave one alone, that one."""
    if heard.readings or not heard.words:
        return heard.readings
    return ((tuple(word.word for word in heard.words), 0.0),)


def phrases_of(grammar: Grammar, narrow: str = "") -> list[str]:
    """Return the recognizer's phrases, from the cache where this very grammar was sampled before."""
    kept = _kept_in(narrow)
    if kept is not None:
        with suppress(OSError, ValueError):
            phrases = json.loads(kept.read_text(encoding="utf-8"))
            if isinstance(phrases, list) and phrases and all(isinstance(phrase, str) for phrase in phrases):
                return phrases
    sample = Sampler(grammar)
    phrases = sample.answers(narrow) if narrow else sample.whole()
    if kept is not None:
        with suppress(OSError):  # a full disk costs a third of a second next time, no more
            fresh = kept.with_suffix(".new")
            fresh.touch(mode=0o600)
            fresh.write_text(json.dumps(phrases), encoding="utf-8")
            fresh.replace(kept)
    return phrases


def _kept_in(narrow: str) -> Path | None:
    """Return the cache file for this grammar and this sampler; None where there is no place for one."""
    digest = hashlib.sha256(narrow.encode())
    package = Path(__file__).parent.parent / "phrase"
    for file in sorted([*grammar_folder().glob("*.t*"), *package.glob("*.py")]):
        digest.update(file.read_bytes())
    try:
        folder = cache_dir() / "phrases"
        folder.mkdir(mode=0o700, exist_ok=True)
    except OSError:
        return None
    return folder / f"{narrow or 'whole'}-{digest.hexdigest()[:16]}.json"

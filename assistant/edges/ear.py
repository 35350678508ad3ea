"""The ear: the recognizer with the grammar's phrases, a second hearing where it helps, and doubt about numbers."""

import hashlib
import json
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from assistant.conversation import Conversation
from assistant.edges.loudness import signal_to_noise_db
from assistant.edges.places import cache_dir
from assistant.edges.recognizer import BYTES_PER_SECOND, UNKNOWN, Heard, Recognizer, Stream
from assistant.phrase.grammar import Grammar, grammar_folder
from assistant.phrase.sampler import Sampler
from assistant.phrase.understand import Understander

DOUBTFUL = 0.7
"""A number word that is less sure than this is read back before it counts. Chosen on the spoken clips, clean and with
noise at 10 dB: higher asks more often where it had heard right, lower lets more wrong numbers through."""
QUIET_DB = 25.0
"""Below this, "fifteen" may have been "fifty": such number words are read back. By the estimate of loudness.py."""
LOUD_DB = 14.0
"""Below this every number is read back: at 10 dB one utterance in thirty else has a wrong one, and nobody asked."""
TOO_LOUD_DB = 10.0
"""Below this no number is taken: two of five are heard wrong at 5 dB. By the same estimate, 2 dB above the ratio."""
_NOTE_ENDS_AFTER_S = 0.05


@dataclass(frozen=True)
class Utterance:
    """What was said, how sure that is (0 to 1, None without words), and which number words are doubtful."""

    text: str
    confidence: float | None
    unsure: tuple[int, ...]
    too_loud: bool = False
    """Whether the noise leaves no number to be sure of."""


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
        """Build the recognizer for the whole grammar ahead of the first word."""
        self._recognizer.prepare(self._phrases())

    def stream(self) -> Stream:
        """Begin to listen to utterances; give each to `settle`."""
        return self._recognizer.stream(self._phrases())

    def hear(self, pcm: bytes, conversation: Conversation) -> Utterance:
        """Hear one utterance in a piece of 16 kHz mono 16-bit sound."""
        return self.settle(self._recognizer.listen(pcm, self._phrases()), conversation)

    def settle(self, heard: Heard, conversation: Conversation) -> Utterance:
        """Return what was said, after a second hearing where the first one may not be the best.

        A note is heard again by the free model; an answer to an open question also by the narrow grammar of what may
        be answered, which hears numbers better, and is taken where it knew every word.
        """
        note = self._note(heard)
        if note is not None:
            return Utterance(note, heard.confidence, ())
        narrow = self._narrow(conversation)
        if narrow and heard.audio:
            again = self._recognizer.listen(heard.audio, self._phrases(narrow))
            if again.words and not again.unknown and (again.confidence or 0) > (heard.confidence or 0):
                return self._utterance(again, agreed=self._numbers(again) == self._numbers(heard))
        return self._utterance(heard)

    def _numbers(self, heard: Heard) -> list[str]:
        return [word.word for word in heard.words if self._understander.is_number_word(word.word)]

    def _utterance(self, heard: Heard, *, agreed: bool = True) -> Utterance:
        """Return what was heard as it is written: "eye to the side", not "eye two the side".

        A number is doubtful where its word is, where noise may have made it of its twin, and where two hearings differ.
        """
        known = [word for word in heard.words if word.word != UNKNOWN]
        written = self._understander.written([word.word for word in known])
        numbers = [
            (word.confidence, said)
            for word, said in zip(known, written, strict=True)
            if self._understander.is_number_word(said)
        ]
        ratio = signal_to_noise_db(heard.audio)
        twins = self._grammar.twins if ratio < QUIET_DB else {}
        unsure = tuple(
            which
            for which, (confidence, said) in enumerate(numbers)
            if confidence < DOUBTFUL or said in twins or not agreed or ratio < LOUD_DB
        )
        least = min((confidence for confidence, _ in numbers), default=heard.confidence)
        return Utterance(" ".join(written), least, unsure, too_loud=bool(numbers) and ratio < TOO_LOUD_DB)

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
        """Return "note" and the freely heard rest, if that is how the utterance begins."""
        taken = self._understander.note_words(heard.text.split())
        if not taken:
            return None
        words = [word for word in heard.words if word.word in {*taken}][: len(taken)]
        start = int((words[-1].end + _NOTE_ENDS_AFTER_S) * BYTES_PER_SECOND) // 2 * 2
        free = self._recognizer.listen(heard.audio[start:], None)
        return f"{' '.join(taken)} {free.text}"


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

"""The ear: 16 kHz mono 16-bit sound in, words with their confidence out.

With phrases the recognizer listens for those sentences and their mixtures; without, for anything, as a note needs.
"""

import json
import threading
from collections import OrderedDict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from importlib import import_module
from pathlib import Path
from typing import Any, Protocol

from assistant.edges.problem import ModelMissing
from assistant.hear.choose import UNKNOWN

RATE = 16_000
"""Samples a second that the model was trained on."""
BYTES_PER_SECOND = 2 * RATE

_CHUNK = BYTES_PER_SECOND // 4
"""The endpointer looks once a call: larger chunks run sentences together, smaller ones only cost calls."""
_ALTERNATIVES = 20
"""How many readings of one utterance are weighed: the right one is nearly always among the first four."""
Reading = tuple[tuple[str, ...], float]
"""One way to read an utterance: its words, and the recognizer's log score."""
Choose = Callable[[Sequence[Reading]], tuple[int, tuple[float, ...]]]
"""Takes alternatives (words, log score); gives the place of the one that was meant and how sure each word is."""
_SPARE = 8
"""Recognizers kept for phrases used before; one with 60,000 sentences weighs some 10 MB."""


@dataclass(frozen=True)
class HeardWord:
    """One word, when it was spoken [s from the start of the sound] and how sure the recognizer is (0 to 1)."""

    word: str
    start: float
    end: float
    confidence: float


@dataclass(frozen=True)
class Heard:
    """One utterance: its words, and the sound it was heard in (16 kHz mono 16-bit) for a second hearing."""

    words: tuple[HeardWord, ...] = ()
    audio: bytes = field(default=b"", repr=False)
    number_words: frozenset[str] | None = field(default=None, repr=False)
    """Words that can be part of a number; None when nobody told, and then every word counts as one."""
    readings: tuple[Reading, ...] = field(default=(), repr=False)
    """All ways to read it that were weighed; none where the recognizer gave its first one alone."""

    @property
    def text(self) -> str:
        """The words the recognizer knows, with single spaces; empty when it heard none."""
        return " ".join(word.word for word in self.words if word.word != UNKNOWN)

    @property
    def unknown(self) -> bool:
        """Whether something was said that is none of the recognizer's words."""
        return any(word.word == UNKNOWN for word in self.words)

    @property
    def confidence(self) -> float | None:
        """The least sure number word's confidence, or the mean where no number was said; None without words.

        A wrong number is the dangerous mistake, so one doubtful number word makes the utterance doubtful.
        """
        known = [word for word in self.words if word.word != UNKNOWN]
        numbers = [word.confidence for word in known if self.number_words is None or word.word in self.number_words]
        if numbers:
            return min(numbers)
        return sum(word.confidence for word in known) / len(known) if known else None

    @property
    def seconds(self) -> float:
        """Length of the sound [s]."""
        return len(self.audio) / BYTES_PER_SECOND


class Listening(Protocol):
    """An utterance being listened to, block by block."""

    def feed(self, pcm: bytes) -> Heard | None:
        """Take the next sound; return the utterance once its speaker has fallen silent."""

    def partial(self) -> str:
        """Return what has been heard of the utterance so far."""

    def finish(self) -> Heard:
        """End the listening and return what was heard since the last utterance; it may hold no words."""


class _Kaldi:
    """A recognizer of the `vosk` package together with how much it has heard: its clock is never set back."""

    def __init__(self, recognizer: Any) -> None:  # noqa: ANN401 - vosk ships no types
        self.recognizer = recognizer
        self.fed = 0


class Stream:
    """One listening, ended by `finish`. A `Listening` made by `Recognizer.stream`."""

    def __init__(self, owner: "Recognizer", phrases: tuple[str, ...] | None, kaldi: _Kaldi) -> None:
        self._owner = owner
        self._phrases = phrases
        self._kaldi: _Kaldi | None = kaldi
        self._audio = bytearray()
        self._began = kaldi.fed

    def feed(self, pcm: bytes) -> Heard | None:
        """Take the next 16 kHz mono 16-bit sound; return the utterance once its speaker has fallen silent.

        An utterance without any word in it is dropped: someone breathed, or nobody spoke.
        """
        kaldi = self._open()
        kaldi.fed += len(pcm)
        self._audio += pcm
        if not kaldi.recognizer.AcceptWaveform(bytes(pcm)):
            return None
        heard = self._take(kaldi, kaldi.recognizer.Result())
        return heard if heard.words else None

    def partial(self) -> str:
        """Return what has been heard of the utterance so far; later sound may still change it."""
        # Right after an endpoint the library answers with an empty result of another form.
        text: str = json.loads(self._open().recognizer.PartialResult()).get("partial", "")
        return " ".join(word for word in text.split() if word != UNKNOWN)

    def finish(self) -> Heard:
        """End the listening and return what was heard since the last utterance; it may hold no words."""
        kaldi = self._open()
        heard = self._take(kaldi, kaldi.recognizer.FinalResult())
        self._kaldi = None
        self._owner.give_back(self._phrases, kaldi)
        return heard

    def _open(self) -> _Kaldi:
        if self._kaldi is None:
            message = "this listening has been finished"
            raise ValueError(message)
        return self._kaldi

    def _take(self, kaldi: _Kaldi, result: str) -> Heard:
        began = self._began / BYTES_PER_SECOND
        found = json.loads(result)
        readings = tuple(
            (tuple(row["word"] for row in alternative.get("result", ())), alternative["confidence"])
            for alternative in found.get("alternatives", ())
        )
        words = tuple(
            HeardWord(row["word"], _since(began, row["start"]), _since(began, row["end"]), sure)
            for row, sure in self._rows(found, readings)
        )
        heard = Heard(words, bytes(self._audio), self._owner.number_words, readings)
        self._audio.clear()
        self._began = kaldi.fed
        return heard

    def _rows(self, found: Mapping[str, Any], readings: Sequence[Reading]) -> Iterable[tuple[Mapping[str, Any], float]]:
        """Return the words of the reading that was meant, and how sure each is."""
        choose = self._owner.choose
        if choose is None or not readings:
            return [(row, row["conf"]) for row in found.get("result", ())]
        place, sure = choose(readings)
        return zip(found["alternatives"][place].get("result", ()), sure, strict=True)


class Recognizer:
    """The speech model, loaded once, and the recognizers made from it.

    Parameters
    ----------
    model_path : Path
        The model's folder.
    number_words : frozenset of str or None
        Words that can be part of a number; the least sure of them is an utterance's confidence.
    choose : callable or None
        Weighs alternatives by what it knows of the phrases. Without it, and without phrases, the recognizer's own
        first reading stands, with its own confidence in each word.

    Notes
    -----
    Streams may be opened and finished on any thread; one stream belongs to one thread at a time.

    Raises
    ------
    ModelMissing
        The `vosk` package or the model cannot be loaded.
    """

    def __init__(
        self, model_path: Path, number_words: frozenset[str] | None = None, choose: Choose | None = None
    ) -> None:
        self.number_words = number_words
        self.choose = choose
        try:
            self._vosk: Any = import_module("vosk")  # here, as it loads a 25 MB library
        except (ImportError, OSError) as error:
            trouble = f"The vosk package cannot be loaded: {error}."
            raise ModelMissing(trouble, "Install it with `pip install vosk==0.3.45`; typing works without.") from error
        self._vosk.SetLogLevel(-1)
        try:
            self._model = self._vosk.Model(str(model_path))
        except Exception as error:  # vosk raises bare Exception
            trouble = f"The speech model in {model_path} cannot be loaded: {error}."
            raise ModelMissing(trouble, "Run `deckside check-up` to see whether it is whole.") from error
        self._spare: OrderedDict[tuple[str, ...] | None, _Kaldi] = OrderedDict()
        self._lock = threading.Lock()

    def words_missing(self, words: Iterable[str]) -> list[str]:
        """Return those of the words that the model lacks: it would drop them from a phrase without a word."""
        return [word for word in words if self._model.vosk_model_find_word(word) < 0]

    def stream(self, phrases: Sequence[str] | None) -> Stream:
        """Begin to listen for the phrases, or for anything when they are None."""
        key = None if phrases is None else tuple(phrases)
        with self._lock:
            kaldi = self._spare.pop(key, None)
        return Stream(self, key, kaldi or self._make(key))

    def listen(self, pcm: bytes, phrases: Sequence[str] | None) -> Heard:
        """Return all that is said in a piece of sound (16 kHz mono 16-bit), pauses or not, as one utterance."""
        return hear_all(self.stream(phrases), chunks(pcm, _CHUNK))

    def prepare(self, phrases: Sequence[str] | None) -> None:
        """Build the recognizer for these phrases ahead of the first word."""
        self.stream(phrases).finish()

    def give_back(self, phrases: tuple[str, ...] | None, kaldi: _Kaldi) -> None:
        """Keep a finished stream's recognizer for the next stream with the same phrases."""
        kaldi.recognizer.Reset()
        with self._lock:
            self._spare[phrases] = kaldi
            while len(self._spare) > _SPARE:
                self._spare.popitem(last=False)

    def _make(self, phrases: tuple[str, ...] | None) -> _Kaldi:
        grammar = () if phrases is None else (json.dumps([*phrases, UNKNOWN]),)
        try:
            recognizer = self._vosk.KaldiRecognizer(self._model, RATE, *grammar)
        except Exception as error:  # vosk raises bare Exception
            trouble = f"The speech model is loaded but cannot listen: {error}."
            raise ModelMissing(trouble, "Run `deckside check-up` to see whether it is whole.") from error
        recognizer.SetWords(True)  # noqa: FBT003 - vosk's signature
        if phrases is not None and self.choose:
            recognizer.SetMaxAlternatives(_ALTERNATIVES)
        return _Kaldi(recognizer)


def hear_all(listening: Listening, blocks: Iterable[bytes]) -> Heard:
    """Feed all blocks, finish, and return what was said in them as one utterance, pauses or not."""
    audio = bytearray()
    parts: list[tuple[int, Heard]] = []
    for block in blocks:
        audio += block
        if heard := listening.feed(block):
            parts.append((len(audio), heard))
    last = listening.finish()
    parts.append((len(audio), last))
    words = [_moved(word, (end - len(heard.audio)) / BYTES_PER_SECOND) for end, heard in parts for word in heard.words]
    readings: Sequence[Reading] = ()
    for _, heard in parts:
        readings = _joined(readings, heard.readings)
    return Heard(tuple(words), bytes(audio), last.number_words, tuple(readings))


def _joined(before: Sequence[Reading], after: Sequence[Reading]) -> Sequence[Reading]:
    """Return the likeliest ways to read two pieces of sound one after the other."""
    if not before or not after:
        return before or after
    both = ((one + two, score + more) for one, score in before for two, more in after)
    return sorted(both, key=lambda reading: -reading[1])[:_ALTERNATIVES]


def chunks(pcm: bytes, size: int) -> Iterator[bytes]:
    """Cut sound into pieces of `size` bytes, the last one shorter."""
    return (pcm[start : start + size] for start in range(0, len(pcm), size))


def _since(began: float, when: float) -> float:
    return round(max(0.0, when - began), 2)


def _moved(word: HeardWord, seconds: float) -> HeardWord:
    return HeardWord(word.word, _since(-seconds, word.start), _since(-seconds, word.end), word.confidence)

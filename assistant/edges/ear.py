"""The ear: the recognizer with the grammar's phrases, and a second hearing where it helps."""

from collections.abc import Mapping, Sequence
from functools import cached_property

from assistant.conversation import Conversation
from assistant.edges.clearing import cleared, slowed
from assistant.edges.crosstalk import two_voices
from assistant.edges.loudness import is_clipped, signal_to_noise_db
from assistant.edges.phrase_cache import phrases_of
from assistant.edges.recognizer import Heard, Reading, Recognizer, Stream
from assistant.hear.choose import UNKNOWN, Weighed, denied, weigh
from assistant.hear.doubt import QUIET_DB, Sound, Utterance, is_sure, judged
from assistant.hear.runs import Runs
from assistant.understand.understander import Understander


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

        A note, and all that is said while one is dictated, is heard again by the free model. After a question the
        narrow grammar of what may be answered is heard too, and what either of them read counts for as likely as the
        one that found it likelier: an answer is likelier by the narrow grammar, anything else by the whole one.
        """
        note = self._note(heard) or (self._dictated(heard) if conversation.notes.dictating else None)
        if note:
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
        sound = Sound(ratio, is_clipped(heard.audio), two_voices(heard.audio, ratio))
        return judged(weighed, sound, self._understander, read_back=settles is not None)

    def _weighed(self, heard: Heard, narrow: str, ratio: float, earlier: Mapping[tuple[str, ...], float]) -> Weighed:
        """Return what was meant by the sound as it came and, unless that is sure, with the noise turned down.

        In noise a number is also heard with the noise turned down at the speed it was said with: fewer wrong ones pass.
        """
        first = self._with_narrow(heard, heard.audio, narrow)
        once = weigh([first], self._understander, self._runs, earlier)
        if is_sure(once, ratio):
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

    def _phrases(self, narrow: str = "") -> list[str]:
        if narrow not in self._sampled:
            self._sampled[narrow] = phrases_of(self._understander, narrow)
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

    def _dictated(self, heard: Heard) -> str | None:
        """Return what was said as the free model hears it: a note that is being dictated can be about anything."""
        if not heard.audio:
            return None
        return " ".join(word.word for word in self._recognizer.listen(heard.audio, None).words) or None


def _readings(heard: Heard) -> Sequence[Reading]:
    """Return the ways to read what was heard, if any; where its recognizer gave one alone, that one."""
    if heard.readings or not heard.words:
        return heard.readings
    return ((tuple(word.word for word in heard.words), 0.0),)

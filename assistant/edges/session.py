"""A session: a conversation that lasts, with its notebook, gear file and clock round the pure `reply`."""

import hashlib
import random
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

from assistant import securement
from assistant.conversation import Conversation
from assistant.edges.gear_file import gear_path, read_gear, write_gear
from assistant.edges.note_sound import drop_sound, keep_sound
from assistant.edges.notebook import Notebook
from assistant.edges.problem import Problem
from assistant.hear.doubt import Utterance
from assistant.kit import Kit
from assistant.load.model import GearList, Load
from assistant.reply import reply
from assistant.say.answer import Answer, CorrectNote, DropNote, KeepGear, KeepNote, ReadNote, ShowLog
from assistant.say.spell import spell
from assistant.talk import not_understood

_TOO_LOUD = "It is too loud here to be sure of a number. Step away from the engine, or hold the microphone closer."
_CROSSTALK = "I hear more than one voice. Let one speak alone."
_CLIPPED = "The sound was too loud for the microphone. Hold it farther away, or turn it down."


class Session:
    """Takes utterances, gives answers, and keeps what is to be kept.

    Parameters
    ----------
    kit
        Grammar, tables and the day.
    lasting
        Whether answers and the conversation are kept and gone on with; without, only notes and gear are, as `ask` does.
    keep_sound
        Whether the sound of a spoken note is kept with it.

    Notes
    -----
    The notebook is opened for each use: a conversation is taken on one thread and ended on another.
    """

    def __init__(self, kit: Kit, *, lasting: bool = False, keep_sound: bool = False) -> None:
        self.kit = kit
        self._lasting = lasting
        self._keep_sound = keep_sound
        self.notices: list[str] = []
        """What went wrong on the way and must be shown once."""
        self.resumed = False
        """Whether the conversation goes on with the load of an earlier sitting."""
        self.conversation = Conversation(gear=self._gear(), seed=random.SystemRandom().randrange(2**31))
        self.unsettled: Utterance | None = None
        """The last utterance, if nothing came of it: it may be said again."""
        self._resume()

    def take(self, said: Utterance | str) -> Answer:
        """Answer one utterance and keep what it asks to keep."""
        utterance = Utterance(said, None, ()) if isinstance(said, str) else said
        self.unsettled = utterance
        if utterance.too_loud:
            # Said before anything is taken: a number that nobody can be sure of is no number.
            return not_understood(utterance.text, self.conversation, _TOO_LOUD)
        answer, after = reply(
            utterance.text,
            self.conversation,
            kit=self.kit,
            unsure=utterance.unsure,
            hazy=utterance.hazy,
            others=utterance.others,
        )
        if answer.understood and not answer.confirm:
            self.unsettled = None
        self.conversation = after
        answer = _hinted(answer.model_copy(update={"confidence": utterance.confidence}), utterance)
        for effect in answer.effects:
            answer = self._do(effect, answer, utterance.audio if self._keep_sound else b"")
        self._keep(answer)
        return answer

    def _do(self, effect: object, answer: Answer, sound: bytes) -> Answer:
        """Carry out what an answer asks of the edge; trouble is said in its place."""
        try:
            match effect:
                case KeepNote(text=text, heard=heard):
                    with Notebook() as book:
                        number = book.keep_note(text, answer.load, _now(), heard=heard)
                    return _with_sound(number, sound, answer)
                case CorrectNote() | DropNote():
                    return _change_note(effect, answer, sound)
                case KeepGear(gear=gear):
                    write_gear(gear_path(), gear)
                case ReadNote():
                    with Notebook() as book:
                        note = book.last_note()
                    text = f"Your last note: {note.text}." if note else "There is no note yet."
                    return answer.model_copy(update={"say": spell(text), "show": f"{text}\n"})
                case ShowLog(latest=latest):
                    with Notebook() as book:
                        notes = book.notes()[-latest:]
                    lines = [f"{note.at.astimezone():%d %b %H:%M}  {note.text}" for note in notes]
                    text = "" if lines else "There is no note yet."
                    return answer.model_copy(update={"say": text or answer.say, "show": "\n".join([*lines, text])})
        except Problem as problem:
            return answer.model_copy(
                update={"understood": False, "say": spell(problem.trouble), "show": f"{problem}\n"}
            )
        return answer

    def _keep(self, answer: Answer) -> None:
        if not self._lasting:
            return
        try:
            with Notebook() as book:
                if answer.judgement:
                    book.keep_answer(answer, _now(), tables_edition())
                book.keep_conversation(self.conversation, _now())
        except Problem as problem:
            self.notices.append(str(problem))
            self._lasting = False

    def _gear(self) -> GearList:
        sample = self.kit.sample_gear
        try:
            return read_gear(gear_path(), sample)
        except Problem as problem:
            self.notices.append(f"{problem} The sample gear list is used instead.")
            return sample

    def _resume(self) -> None:
        """Go on where the last sitting stopped; without its notebook when that cannot be used."""
        if not self._lasting:
            return
        try:
            with Notebook() as book:
                before = book.last_conversation()
                notice = book.notice
        except Problem as problem:
            self.notices.append(str(problem))
            self._lasting = False
            return
        if notice:
            self.notices.append(notice)
        if before:
            self.resumed = before.load != Load()
            # what was asked, held or supposed ended with the sitting
            gone = {"quiz": None, "pending": None, "held": None, "supposed": None, "told_last": "", "aside": ()}
            mine = {"gear": self.conversation.gear, "seed": self.conversation.seed}
            self.conversation = before.model_copy(update={**gone, **mine})


def _hinted(answer: Answer, utterance: Utterance) -> Answer:
    """Show what was wrong with the sound, and say it too where that is why something is asked."""
    hints = [hint for hint, is_so in ((_CLIPPED, utterance.clipped), (_CROSSTALK, utterance.crosstalk)) if is_so]
    if not hints:
        return answer
    said = " ".join((*hints, answer.say)) if answer.confirm or not answer.understood else answer.say
    return answer.model_copy(update={"say": said, "show": "".join((answer.show, *(f"{hint}\n" for hint in hints)))})


def _with_sound(number: int, sound: bytes, answer: Answer) -> Answer:
    """Keep a note's sound, if there is any to keep, and show where."""
    if not sound:
        return answer
    return answer.model_copy(update={"show": f"{answer.show}Its sound: {keep_sound(number, sound)}\n"})


def _change_note(effect: CorrectNote | DropNote, answer: Answer, sound: bytes) -> Answer:
    """Correct or drop the last note, and say which that was."""
    with Notebook() as book:
        note = book.last_note()
        if note is None:
            text = "There is no note yet."
            return answer.model_copy(update={"say": text, "show": f"{text}\n"})
        if isinstance(effect, CorrectNote):
            number = book.correct_note(note.id, effect.text, answer.load, _now(), heard=effect.heard)
            drop_sound(note.id)
            corrected = answer.model_copy(update={"show": f"{answer.show}Before it was: {note.text}\n"})
            return _with_sound(number, sound, corrected)
        book.drop_note(note.id, _now())
        drop_sound(note.id)
    text = f"Dropped the note: {note.text.rstrip('.')}."
    return answer.model_copy(update={"say": spell(text), "show": f"{text}\n"})


@cache
def tables_edition() -> str:
    """Return which tables an answer rests on: a digest of the files, so that any old answer can be made again."""
    digest = hashlib.sha256()
    for file in sorted((Path(securement.__file__).parent / "tables").glob("*.toml")):
        digest.update(file.read_bytes())
    return f"tables sha256 {digest.hexdigest()[:16]}"


def _now() -> datetime:
    return datetime.now(UTC)

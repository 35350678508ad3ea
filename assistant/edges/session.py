"""A session: a conversation that lasts, with its notebook, gear file and clock round the pure `reply`."""

import hashlib
import random
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

from assistant import securement
from assistant.conversation import Conversation
from assistant.edges.gear_file import gear_path, read_gear, write_gear
from assistant.edges.note_sound import drop_sound, keep_sound, sound_of
from assistant.edges.notebook import Entry, Notebook
from assistant.edges.problem import Problem
from assistant.hear.doubt import Utterance
from assistant.kit import Kit
from assistant.load.model import GearList, Load
from assistant.load.note import KeptNote, Notes, Topic
from assistant.reply import reply
from assistant.say.answer import Answer, CorrectNote, DropNote, KeepGear, KeepNote, ReadNote, ShowLog
from assistant.say.spell import spell
from assistant.talk import not_understood

_TOO_LOUD = "It is too loud here to be sure of a number. Step away from the engine, or hold the microphone closer."
_CROSSTALK = "I hear more than one voice. Let one speak alone."
_OF_NOTES = (KeepNote, CorrectNote, DropNote, ReadNote, ShowLog)
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
        answer, after = self._reply(utterance)
        if any(isinstance(effect, _OF_NOTES) for effect in answer.effects) and self._know_notes():
            # what is said of notes rests on all that the notebook holds
            answer, after = self._reply(utterance)
        if answer.came_to_something and not answer.confirm:
            self.unsettled = None
        self.conversation = after
        answer = _hinted(answer.model_copy(update={"confidence": utterance.confidence}), utterance)
        for effect in answer.effects:
            answer = self._do(effect, answer, utterance.audio if self._keep_sound else b"")
        self._keep(answer)
        return answer

    def _reply(self, utterance: Utterance) -> tuple[Answer, Conversation]:
        return reply(
            utterance.text,
            self.conversation,
            kit=self.kit,
            unsure=utterance.unsure,
            hazy=utterance.hazy,
            others=utterance.others,
        )

    def _know_notes(self) -> bool:
        """Take the notebook's notes into the conversation; tell whether that changed it."""
        try:
            with Notebook() as book:
                kept = tuple(_as_kept(note) for note in book.notes())
        except Problem:
            return False  # said where the effect is carried out
        notes = self.conversation.notes
        if kept == notes.kept:
            return False
        self.conversation = self.conversation.model_copy(update={"notes": notes.model_copy(update={"kept": kept})})
        return True

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
                case ReadNote() | ShowLog():
                    with Notebook():  # opened, so that trouble with it is said
                        pass
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
            gone_too = {"topic": Topic.LOAD, "notes": Notes()}
            mine = {"gear": self.conversation.gear, "seed": self.conversation.seed}
            self.conversation = before.model_copy(update={**gone, **gone_too, **mine})


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
    """Correct or drop notes in the notebook, and their sounds with them."""
    with Notebook() as book:
        notes = book.notes()
        if not notes:
            return answer
        if isinstance(effect, CorrectNote):
            note = notes[-1 if effect.place is None else effect.place]
            number = book.correct_note(note.id, effect.text, answer.load, _now(), heard=effect.heard)
            earlier = sound_of(note.id) if effect.goes_on and sound else b""
            drop_sound(note.id)
            return _with_sound(number, earlier + sound, answer)
        for note in [notes[place] for place in effect.places] or notes[-1:]:
            book.drop_note(note.id, _now())
            drop_sound(note.id)
    return answer


def _as_kept(note: Entry) -> KeptNote:
    return KeptNote(text=note.text, heard=note.heard, at=f"{note.at.astimezone():%d %b %H:%M}")


@cache
def tables_edition() -> str:
    """Return which tables an answer rests on: a digest of the files, so that any old answer can be made again."""
    digest = hashlib.sha256()
    for file in sorted((Path(securement.__file__).parent / "tables").glob("*.toml")):
        digest.update(file.read_bytes())
    return f"tables sha256 {digest.hexdigest()[:16]}"


def _now() -> datetime:
    return datetime.now(UTC)

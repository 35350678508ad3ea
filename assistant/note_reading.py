"""Notes that were kept: which of them is meant, and reading and listing them."""

from collections.abc import Sequence

from assistant.conversation import Conversation
from assistant.kit import Kit
from assistant.load.note import KeptNote, Notes, Topic
from assistant.say import notes as say
from assistant.say.answer import Answer, DropNote, Effect, ReadNote, ShowLog
from assistant.talk import LATEST_NOTES, plain
from assistant.understand.notes import Does, NoteAct

Noted = tuple[Answer | None, Conversation]
"""An answer and the state after it; no answer where it is no note talk after all."""


def talked(
    utterance: str,
    intent: str,
    conversation: Conversation,
    text: str,
    notes: Notes | None = None,
    *effects: Effect,
    show: str = "",
) -> Noted:
    """Answer, with the notes as the topic."""
    after = conversation.model_copy(update={"topic": Topic.NOTE, "notes": notes or conversation.notes})
    return plain(utterance, intent, after, text, show=show, effects=effects or (ReadNote(),)), after


def meant(act: NoteAct, notes: Notes) -> int | None:
    """Return which note is meant: the one named, the one talked of, or the last; None where there is none such."""
    count = len(notes.kept)
    if act.nth is not None:
        return act.nth - 1 if act.nth <= count else None
    if notes.place is not None and notes.place < count:
        return notes.place
    return None if act.it or not count else count - 1


def none_such(utterance: str, intent: str, act: NoteAct, conversation: Conversation, effect: Effect) -> Noted:
    """Say that there is no such note. What "it" is then, is the load: but only when that was said."""
    count = len(conversation.notes.kept)
    if act.nth is not None and count:
        return talked(utterance, intent, conversation, say.no_such_note(act.nth, count))
    if act.it and act.nth is None and conversation.turns:
        answer, after = talked(utterance, intent, conversation, say.no_note_meant(there_are=bool(count)))
        return answer, after.model_copy(update={"topic": Topic.LOAD})
    return talked(utterance, intent, conversation, say.NONE_YET, None, effect)


# ---- notes are read --------------------------------------------------------------------------------------------------


def read(utterance: str, act: NoteAct, conversation: Conversation, _: Kit) -> Noted:
    """Read one note."""
    notes = conversation.notes
    place = meant(act, notes)
    if place is None:
        return none_such(utterance, "read note", act, conversation, ReadNote())
    is_last = place == len(notes.kept) - 1 and act.nth is None
    text = say.last_note(notes.kept[place]) if is_last else say.nth_note(place, notes.kept[place])
    return talked(utterance, "read note", conversation, text, notes.model_copy(update={"place": place}))


def about(words: str, notes: Notes) -> tuple[int, ...]:
    """Return which notes have the most of some words in them."""
    wanted = {word.strip(",.;:!?") for word in words.lower().split()}
    scores = [len(wanted & _words_of(note)) for note in notes.kept]
    most = max(scores, default=0)
    return tuple(place for place, score in enumerate(scores) if most and score == most)


def _words_of(note: KeptNote) -> set[str]:
    return {word.strip(",.;:!?") for word in f"{note.text} {note.heard}".lower().split()}


def read_by_word(utterance: str, act: NoteAct, conversation: Conversation, _: Kit) -> Noted:
    """Read the notes that have a word in them."""
    found = about(act.text, conversation.notes)
    if not found and act.does is Does.READ_BY_WORD_IF_ANY:
        return None, conversation
    if not found:
        return talked(utterance, "read note", conversation, say.nothing_about(act.text))
    return read_these(utterance, found, conversation)


def read_these(utterance: str, places: Sequence[int], conversation: Conversation) -> Noted:
    """Read some notes; the last of them is then the one talked of."""
    notes = conversation.notes
    at = notes.model_copy(update={"place": places[-1]})
    text, show = say.aloud(places, notes.kept), say.listed(places, notes.kept)
    return talked(utterance, "read note", conversation, text, at, show=show)


def list_all(utterance: str, act: NoteAct, conversation: Conversation, _: Kit) -> Noted:
    """Read and list every note."""
    notes = conversation.notes
    intent = "log" if act.does is Does.LIST else "read note"
    effect = ShowLog(latest=LATEST_NOTES)
    if not notes.kept:
        return talked(utterance, intent, conversation, say.NONE_YET, None, effect)
    places = range(max(0, len(notes.kept) - LATEST_NOTES), len(notes.kept))
    text = say.last_note(notes.kept[0]) if len(notes.kept) == 1 else say.aloud(places, notes.kept)
    at = notes.model_copy(update={"place": places[-1]})
    return talked(utterance, intent, conversation, text, at, effect, show=say.listed(places, notes.kept))


def send(utterance: str, act: NoteAct, conversation: Conversation, _: Kit) -> Noted:
    """Say that nothing is sent, and where the note is."""
    notes = conversation.notes
    place = meant(act, notes)
    text = say.not_sent(notes.kept[place].text if place is not None else "")
    return talked(utterance, "note", conversation, text)


def assure(utterance: str, _: NoteAct, conversation: Conversation, __: Kit) -> Noted:
    """Say whether what was ordered last is done."""
    notes = conversation.notes
    if notes.clearing:
        text = say.not_yet_dropped(len(notes.kept))
    elif notes.place is not None:
        text = say.still_there(notes.kept[notes.place].text)
    else:
        last = conversation.last
        was_dropped = last and any(isinstance(effect, DropNote) for effect in last.effects)
        text = say.is_gone() if was_dropped else say.NONE_YET if not notes.kept else say.last_note(notes.kept[-1])
    return talked(utterance, "note", conversation, text)

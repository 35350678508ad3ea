"""Notes in a conversation: kept, gone on with, corrected, dropped, read and listed. They never change the load."""

from collections.abc import Callable

from assistant.conversation import Conversation
from assistant.kit import Kit
from assistant.load.note import KeptNote, Notes, Topic
from assistant.note_reading import (
    Noted,
    about,
    assure,
    list_all,
    meant,
    none_such,
    read,
    read_by_word,
    read_these,
    send,
    talked,
)  # fmt: skip
from assistant.phrase.dictation import corrected, with_figures
from assistant.phrase.tokens import LONGEST
from assistant.say import notes as say
from assistant.say.answer import Answer, CorrectNote, DropNote, KeepNote, ReadNote
from assistant.talk import not_understood
from assistant.understand.heard import Fragment, Heard
from assistant.understand.notes import Does, NoteAct


def take_note_talk(utterance: str, heard: Heard, conversation: Conversation, kit: Kit) -> Noted:
    """Take what is a note or about notes; without an answer where it is neither.

    Parameters
    ----------
    utterance
        What was said.
    heard
        The same, taken apart: an order as a whole ends a note that is being dictated.
    conversation
        The state before it.
    kit
        Knows how people speak of notes.

    Returns
    -------
    tuple of Answer or None, Conversation
        The answer, if it is note talk, and the state to go on with.
    """
    notes = conversation.notes
    if notes.clearing:
        if kit.note_talk.means("yes", utterance):
            return _clear(utterance, conversation)
        if kit.note_talk.means("no", utterance):
            return talked(utterance, "note", conversation, say.LEFT, notes.model_copy(update={"clearing": False}))
    about_notes = conversation.topic is Topic.NOTE
    act = kit.note_talk.hear(utterance, about_notes=about_notes, dictating=notes.dictating)
    if notes.dictating:
        if act is None and not _is_order(heard, kit):
            return _go_on(utterance, utterance.strip(), conversation, kit)
        if act is None or act.does not in _WHILE_DICTATING:
            notes = notes.model_copy(update={"dictating": False, "parts": ()})
            conversation = conversation.model_copy(update={"notes": notes})
    if act is None:
        return None, conversation if not notes.clearing else _with(conversation, notes, clearing=False)
    if notes.clearing and act.does is not Does.ASSURE:
        conversation = _with(conversation, notes, clearing=False)
    return _ACTS[act.does](utterance, act, conversation, kit)


NOTE_ORDERS = {"read_note": Does.READ, "drop_note": Does.DROP, "show_log": Does.LIST}
"""What is ordered of notes beside something else."""


def follow_note(utterance: str, part: Fragment, conversation: Conversation, kit: Kit) -> tuple[Answer, Conversation]:
    """Follow an order about notes that stands beside something told."""
    does = NOTE_ORDERS[part.name]
    answer, after = _ACTS[does](utterance, NoteAct(does), conversation, kit)
    return answer or not_understood(utterance, conversation, say.NONE_YET), after


def bare_number(
    utterance: str, heard: Heard, conversation: Conversation, kit: Kit
) -> tuple[Answer, Conversation] | None:
    """Ask of what a bare number is that comes after a note or a quiz; None for everything else."""
    if conversation.topic is Topic.LOAD or not heard.names or not heard.names <= {"weight", "number"}:
        return None
    if not all(kit.understander.is_number(token) for token in heard.tokens):
        return None
    mend = f" {say.MEND_NOTE}" if conversation.topic is Topic.NOTE else ""
    answer = not_understood(utterance, conversation, f"{say.WHAT_NUMBER}{mend}")
    return answer.model_copy(update={"intent": "number"}), conversation


_WHILE_DICTATING = frozenset({Does.END, Does.GIVE_UP, Does.DROP_PART})


def _is_order(heard: Heard, kit: Kit) -> bool:
    """Return whether an utterance asks or orders something, and does nothing else."""
    sorts = kit.understander.grammar.sorts
    names = kit.understander.whole(heard).keys() | (frozenset() if heard.lost else heard.names)
    return bool(names) and all(sorts[name] in {"ask", "command"} for name in names)


def _with(conversation: Conversation, notes: Notes, **changed: object) -> Conversation:
    return conversation.model_copy(update={"notes": notes.model_copy(update=changed)})


def _written(text: str, who: str, kit: Kit) -> str:
    written = with_figures(text, kit.understander.grammar.numbers)
    return f"{who}: {written}" if who else written


# ---- a note is kept, and gone on with --------------------------------------------------------------------------------


def _note(utterance: str, act: NoteAct, conversation: Conversation, kit: Kit) -> Noted:
    if not act.text:
        waiting = conversation.notes.model_copy(update={"dictating": True, "parts": ()})
        return talked(utterance, "note", conversation, say.LISTENING, waiting)
    return _keep(utterance, act.text, act.who, conversation, kit, ended=True)


def _note_the_last(utterance: str, act: NoteAct, conversation: Conversation, kit: Kit) -> Noted:
    last = conversation.last
    if last is None or conversation.topic is Topic.NOTE:
        return _note(utterance, act, conversation, kit)
    return _keep(utterance, last.heard, "", conversation, kit, ended=True)


def _keep(utterance: str, heard: str, who: str, conversation: Conversation, kit: Kit, *, ended: bool) -> Noted:
    note = KeptNote(text=_written(heard, who, kit), heard=heard)
    before = conversation.notes
    notes = before.model_copy(
        update={
            "kept": (*before.kept, note),
            "place": len(before.kept),
            "dictating": not ended,
            "parts": () if ended else (note,),
        }
    )
    effect = KeepNote(text=note.text, heard=heard)
    if ended:
        return talked(utterance, "note", conversation, say.noted(note.text), notes, effect)
    show = f"{say.noted(note.text)}\n{say.GO_ON}\n"
    return talked(utterance, "note", conversation, say.GO_ON, notes, effect, show=show)


def _go_on(utterance: str, more: str, conversation: Conversation, kit: Kit) -> Noted:
    """Take the next words of a note that is being dictated. What was said of it so far is kept already."""
    if not conversation.notes.parts:
        return _keep(utterance, more, "", conversation, kit, ended=False)
    part = KeptNote(text=with_figures(more, kit.understander.grammar.numbers), heard=more)
    return _of_parts(utterance, (*conversation.notes.parts, part), conversation, say.GO_ON)


def _of_parts(utterance: str, parts: tuple[KeptNote, ...], conversation: Conversation, said: str) -> Noted:
    notes = conversation.notes.model_copy(update={"parts": parts})
    text, heard = say.joined([part.text for part in parts]), say.joined([part.heard for part in parts])
    place = notes.place if notes.place is not None else len(notes.kept) - 1
    return _put(utterance, text, heard, place, conversation.model_copy(update={"notes": notes}), said=said)


def _end(utterance: str, _: NoteAct, conversation: Conversation, __: Kit) -> Noted:
    notes = conversation.notes
    place = notes.place if notes.parts or not notes.dictating else None
    text = say.NOTHING_KEPT if place is None else say.length(notes.kept[place].text)
    show = "" if place is None else f"{text}\n{notes.kept[place].text}\n"
    over = notes.model_copy(update={"dictating": False, "parts": ()})
    return talked(utterance, "note", conversation, text, over, show=show)


def _give_up(utterance: str, act: NoteAct, conversation: Conversation, kit: Kit) -> Noted:
    notes = conversation.notes
    if not notes.parts:
        over = notes.model_copy(update={"dictating": False})
        return talked(utterance, "note", conversation, say.NOTHING_KEPT, over)
    return _drop(utterance, act, _with(conversation, notes, dictating=False, parts=()), kit)


def _drop_part(utterance: str, act: NoteAct, conversation: Conversation, kit: Kit) -> Noted:
    """Drop what was dictated last, and wait for other words."""
    parts = conversation.notes.parts[:-1]
    if parts:
        return _of_parts(utterance, parts, conversation, say.DROPPED_PART)
    answer, after = _give_up(utterance, act, conversation, kit)
    return answer, _with(after, after.notes, dictating=bool(conversation.notes.parts))


def _put(utterance: str, text: str, heard: str, place: int, conversation: Conversation, *, said: str = "") -> Noted:
    """Put other words in a note's place."""
    kept = list(conversation.notes.kept)
    before = kept[place]
    kept[place] = before.model_copy(update={"text": text, "heard": heard})
    notes = conversation.notes.model_copy(update={"kept": tuple(kept), "place": place})
    effect = CorrectNote(text=text, heard=heard, place=place, goes_on=text.startswith(before.text))
    show = f"{say.says_now(text)}\n{said or f'Before it was: {before.text}'}\n"
    return talked(utterance, "note", conversation, said or say.says_now(text), notes, effect, show=show)


# ---- other words for it ----------------------------------------------------------------------------------------------


def _add(utterance: str, act: NoteAct, conversation: Conversation, kit: Kit) -> Noted:
    place = meant(act, conversation.notes)
    if place is None:
        return _note(utterance, act, conversation, kit)
    if not act.text:
        parts = (conversation.notes.kept[place],)
        going_on = conversation.notes.model_copy(update={"dictating": True, "parts": parts, "place": place})
        return talked(utterance, "note", conversation, say.GO_ON, going_on)
    was = conversation.notes.kept[place]
    text = say.joined((was.text, with_figures(act.text, kit.understander.grammar.numbers)))
    return _put(utterance, text, say.joined((was.heard, act.text)), place, conversation)


def _replace(utterance: str, act: NoteAct, conversation: Conversation, kit: Kit) -> Noted:
    if not act.text:
        empty = not_understood(utterance, conversation, say.NOTHING_KEPT)
        return empty.model_copy(update={"intent": "note"}), conversation
    place = meant(act, conversation.notes)
    text = with_figures(act.text, kit.understander.grammar.numbers)
    if place is None:  # the notebook of an earlier day may hold one
        effect = CorrectNote(text=text, heard=act.text)
        return talked(utterance, "note", conversation, say.NONE_YET, None, effect)
    return _put(utterance, text, act.text, place, conversation)


def _correct(utterance: str, act: NoteAct, conversation: Conversation, kit: Kit) -> Noted:
    place = meant(act, conversation.notes)
    if place is None:
        return None, conversation
    was = conversation.notes.kept[place]
    other = with_figures(act.text, kit.understander.grammar.numbers)
    text = corrected(was.text, other, kit.note_talk.alike)
    numbers_only = all(word.isdigit() or kit.understander.is_number_word(word) for word in other.lower().split())
    weak = act.does is Does.CORRECT_IF_ALIKE and not numbers_only
    if text is None and weak and _is_load_talk(act.text, conversation, kit):
        return None, conversation
    text = text or say.correction(was.text, other)
    return _put(utterance, text, say.joined((was.heard, act.text)), place, conversation)


def _is_load_talk(text: str, conversation: Conversation, kit: Kit) -> bool:
    """Return whether words tell, ask or order something without the note; or may answer what was asked before it."""
    heard = kit.understander.hear(text[:LONGEST], conversation.load)
    return bool(heard.fragments) or conversation.pending is not None


# ---- notes are dropped -----------------------------------------------------------------------------------------------


def _drop(utterance: str, act: NoteAct, conversation: Conversation, _: Kit) -> Noted:
    place = meant(act, conversation.notes)
    if place is None:
        # where nothing is known yet, the notebook may hold one
        unknown = act.nth is None and not act.it and not conversation.notes.kept
        return none_such(utterance, "drop note", act, conversation, DropNote() if unknown else ReadNote())
    return _drop_at(utterance, place, conversation)


def _drop_at(utterance: str, place: int, conversation: Conversation) -> Noted:
    kept = conversation.notes.kept
    notes = Notes(kept=(*kept[:place], *kept[place + 1 :]))
    effect = DropNote(places=() if place == len(kept) - 1 else (place,))
    return talked(utterance, "drop note", conversation, say.dropped(kept[place].text), notes, effect)


def _drop_by_word(utterance: str, act: NoteAct, conversation: Conversation, _: Kit) -> Noted:
    found = about(act.text, conversation.notes)
    if not found:
        return talked(utterance, "drop note", conversation, say.nothing_about(act.text))
    if len(found) > 1:
        return read_these(utterance, found, conversation)
    return _drop_at(utterance, found[0], conversation)


def _ask_to_clear(utterance: str, _: NoteAct, conversation: Conversation, __: Kit) -> Noted:
    notes = conversation.notes
    if not notes.kept:
        return talked(utterance, "drop note", conversation, say.NONE_YET)
    asking = notes.model_copy(update={"clearing": True})
    return talked(utterance, "drop note", conversation, say.drop_all(len(notes.kept)), asking)


def _clear(utterance: str, conversation: Conversation) -> Noted:
    count = len(conversation.notes.kept)
    if not count:
        return talked(utterance, "drop note", conversation, say.NONE_YET, Notes())
    effect = DropNote(places=tuple(range(count)))
    return talked(utterance, "drop note", conversation, say.all_dropped(count), Notes(), effect)


_ACTS: dict[Does, Callable[[str, NoteAct, Conversation, Kit], Noted]] = {
    Does.NOTE: _note,
    Does.NOTE_THE_LAST: _note_the_last,
    Does.END: _end,
    Does.GIVE_UP: _give_up,
    Does.DROP_PART: _drop_part,
    Does.ADD: _add,
    Does.REPLACE: _replace,
    Does.CORRECT: _correct,
    Does.CORRECT_IF_ALIKE: _correct,
    Does.DROP: _drop,
    Does.DROP_BY_WORD: _drop_by_word,
    Does.CLEAR: _ask_to_clear,
    Does.READ: read,
    Does.READ_BY_WORD: read_by_word,
    Does.READ_BY_WORD_IF_ANY: read_by_word,
    Does.READ_ALL: list_all,
    Does.LIST: list_all,
    Does.SEND: send,
    Does.ASSURE: assure,
}

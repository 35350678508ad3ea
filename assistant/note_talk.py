"""Notes in a conversation: kept, gone on with, corrected, dropped, read and listed. They never change the load."""

from collections.abc import Callable, Sequence

from assistant.conversation import Conversation
from assistant.kit import Kit
from assistant.load.note import KeptNote, Notes, Topic
from assistant.phrase.dictation import corrected, with_figures
from assistant.phrase.tokens import LONGEST
from assistant.say import notes as say
from assistant.say.answer import Answer, CorrectNote, DropNote, Effect, KeepNote, ReadNote, ShowLog
from assistant.talk import LATEST_NOTES, not_understood, plain
from assistant.understand.heard import Fragment, Heard
from assistant.understand.notes import Does, NoteAct

Noted = tuple[Answer | None, Conversation]


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
            return _talked(utterance, "note", conversation, say.LEFT, notes.model_copy(update={"clearing": False}))
    about_notes = conversation.topic is Topic.NOTE
    act = kit.note_talk.hear(utterance, about_notes=about_notes, dictating=notes.dictating)
    if notes.dictating:
        if act is None and not _is_order(heard, kit):
            return _go_on(utterance, utterance.strip(), conversation, kit)
        if act is None or act.does not in _WHILE_DICTATING:
            notes = notes.model_copy(update={"dictating": False})
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
    """Ask of what a bare number is that comes after a note; None for everything else."""
    if conversation.topic is not Topic.NOTE or not heard.names or not heard.names <= {"weight", "number"}:
        return None
    if not all(kit.understander.is_number(token) for token in heard.tokens):
        return None
    return not_understood(utterance, conversation, say.WHAT_NUMBER), conversation


_WHILE_DICTATING = frozenset({Does.END, Does.GIVE_UP, Does.DROP_PART})


def _is_order(heard: Heard, kit: Kit) -> bool:
    """Return whether an utterance is, as a whole, one of the fixed questions and orders."""
    sorts = kit.understander.grammar.sorts
    return any(sorts[name] in {"ask", "command"} for name in kit.understander.whole(heard))


def _with(conversation: Conversation, notes: Notes, **changed: object) -> Conversation:
    return conversation.model_copy(update={"notes": notes.model_copy(update=changed)})


def _talked(
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


def _written(text: str, who: str, kit: Kit) -> str:
    written = with_figures(text, kit.understander.grammar.numbers)
    return f"{who}: {written}" if who else written


def _place(act: NoteAct, notes: Notes) -> int | None:
    """Return which note is meant: the one named, the one talked of, or the last; None where there is none such."""
    count = len(notes.kept)
    if act.nth is not None:
        return act.nth - 1 if act.nth <= count else None
    if notes.place is not None and notes.place < count:
        return notes.place
    return None if act.it or not count else count - 1


def _none_such(utterance: str, intent: str, act: NoteAct, conversation: Conversation, effect: Effect) -> Noted:
    count = len(conversation.notes.kept)
    text = say.ALREADY_DROPPED if count else say.NONE_YET
    if act.nth is not None and count:
        text = say.no_such_note(act.nth, count)
    return _talked(utterance, intent, conversation, text, None, effect)


# ---- a note is kept, and gone on with --------------------------------------------------------------------------------


def _note(utterance: str, act: NoteAct, conversation: Conversation, kit: Kit) -> Noted:
    if not act.text:
        waiting = conversation.notes.model_copy(update={"dictating": True, "begun": False})
        return _talked(utterance, "note", conversation, say.LISTENING, waiting)
    return _keep(utterance, act.text, act.who, conversation, kit, ended=True)


def _note_the_last(utterance: str, act: NoteAct, conversation: Conversation, kit: Kit) -> Noted:
    last = conversation.last
    if last is None or conversation.topic is Topic.NOTE:
        return _note(utterance, act, conversation, kit)
    return _keep(utterance, last.heard, "", conversation, kit, ended=True)


def _keep(utterance: str, heard: str, who: str, conversation: Conversation, kit: Kit, *, ended: bool) -> Noted:
    text = _written(heard, who, kit)
    before = conversation.notes
    notes = before.model_copy(
        update={
            "kept": (*before.kept, KeptNote(text=text, heard=heard)),
            "place": len(before.kept),
            "dictating": not ended,
            "begun": not ended,
        }
    )
    said = say.noted(text) if ended else say.GO_ON
    shown = "" if ended else f"{say.noted(text)}\n{say.GO_ON}\n"
    return _talked(utterance, "note", conversation, said, notes, KeepNote(text=text, heard=heard), show=shown)


def _go_on(utterance: str, more: str, conversation: Conversation, kit: Kit) -> Noted:
    """Take the next words of a note that is being dictated. What was said of it so far is kept already."""
    notes = conversation.notes
    place = notes.place
    if not notes.begun or place is None:
        return _keep(utterance, more, "", conversation, kit, ended=False)
    was = notes.kept[place]
    text = say.added(was.text, with_figures(more, kit.understander.grammar.numbers))
    return _put(utterance, text, say.added(was.heard, more), place, conversation, said=say.GO_ON)


def _end(utterance: str, _: NoteAct, conversation: Conversation, __: Kit) -> Noted:
    notes = conversation.notes
    place = notes.place if notes.begun else None
    text = say.NOTHING_KEPT if place is None else say.length(notes.kept[place].text)
    show = "" if place is None else f"{text}\n{notes.kept[place].text}\n"
    over = notes.model_copy(update={"dictating": False, "begun": False})
    return _talked(utterance, "note", conversation, text, over, show=show)


def _give_up(utterance: str, act: NoteAct, conversation: Conversation, kit: Kit) -> Noted:
    notes = conversation.notes
    over = _with(conversation, notes, dictating=False, begun=False)
    if not notes.begun:
        return _talked(utterance, "note", over, say.NOTHING_KEPT)
    return _drop(utterance, act, over, kit)


def _put(utterance: str, text: str, heard: str, place: int, conversation: Conversation, *, said: str = "") -> Noted:
    """Put other words in a note's place."""
    kept = list(conversation.notes.kept)
    before = kept[place]
    kept[place] = before.model_copy(update={"text": text, "heard": heard})
    notes = conversation.notes.model_copy(update={"kept": tuple(kept), "place": place})
    effect = CorrectNote(text=text, heard=heard, place=place)
    show = f"{say.says_now(text)}\n{said or f'Before it was: {before.text}'}\n"
    return _talked(utterance, "note", conversation, said or say.says_now(text), notes, effect, show=show)


# ---- other words for it ----------------------------------------------------------------------------------------------


def _add(utterance: str, act: NoteAct, conversation: Conversation, kit: Kit) -> Noted:
    place = _place(act, conversation.notes)
    if place is None:
        return _note(utterance, act, conversation, kit)
    if not act.text:
        going_on = conversation.notes.model_copy(update={"dictating": True, "begun": True, "place": place})
        return _talked(utterance, "note", conversation, say.GO_ON, going_on)
    was = conversation.notes.kept[place]
    text = say.added(was.text, with_figures(act.text, kit.understander.grammar.numbers))
    return _put(utterance, text, say.added(was.heard, act.text), place, conversation)


def _replace(utterance: str, act: NoteAct, conversation: Conversation, kit: Kit) -> Noted:
    if not act.text:
        return not_understood(utterance, conversation, say.NOTHING_KEPT), conversation
    place = _place(act, conversation.notes)
    text = with_figures(act.text, kit.understander.grammar.numbers)
    if place is None:  # the notebook of an earlier day may hold one
        effect = CorrectNote(text=text, heard=act.text)
        return _talked(utterance, "note", conversation, say.NONE_YET, None, effect)
    return _put(utterance, text, act.text, place, conversation)


def _correct(utterance: str, act: NoteAct, conversation: Conversation, kit: Kit) -> Noted:
    place = _place(act, conversation.notes)
    if place is None:
        return None, conversation
    was = conversation.notes.kept[place]
    other = with_figures(act.text, kit.understander.grammar.numbers)
    text = corrected(was.text, other, kit.note_talk.alike)
    if text is None and act.does is Does.CORRECT_IF_ALIKE and _is_load_talk(act.text, conversation, kit):
        return None, conversation
    text = text or say.correction(was.text, other)
    return _put(utterance, text, say.added(was.heard, act.text), place, conversation)


def _is_load_talk(text: str, conversation: Conversation, kit: Kit) -> bool:
    """Return whether words tell, ask or order something without the note; or may answer what was asked before it."""
    heard = kit.understander.hear(text[:LONGEST], conversation.load)
    return bool(heard.fragments) or conversation.pending is not None


# ---- notes are dropped -----------------------------------------------------------------------------------------------


def _drop(utterance: str, act: NoteAct, conversation: Conversation, _: Kit) -> Noted:
    place = _place(act, conversation.notes)
    if place is None:
        return _none_such(utterance, "drop note", act, conversation, DropNote() if not act.it else ReadNote())
    return _drop_at(utterance, place, conversation)


def _drop_at(utterance: str, place: int, conversation: Conversation) -> Noted:
    kept = conversation.notes.kept
    notes = Notes(kept=(*kept[:place], *kept[place + 1 :]))
    effect = DropNote(places=() if place == len(kept) - 1 else (place,))
    return _talked(utterance, "drop note", conversation, say.dropped(kept[place].text), notes, effect)


def _drop_by_word(utterance: str, act: NoteAct, conversation: Conversation, _: Kit) -> Noted:
    found = _about(act.text, conversation.notes)
    if not found:
        return _talked(utterance, "drop note", conversation, say.nothing_about(act.text))
    if len(found) > 1:
        return _read_these(utterance, found, conversation)
    return _drop_at(utterance, found[0], conversation)


def _ask_to_clear(utterance: str, _: NoteAct, conversation: Conversation, __: Kit) -> Noted:
    notes = conversation.notes
    if not notes.kept:
        return _talked(utterance, "drop note", conversation, say.NONE_YET)
    asking = notes.model_copy(update={"clearing": True})
    return _talked(utterance, "drop note", conversation, say.drop_all(len(notes.kept)), asking)


def _clear(utterance: str, conversation: Conversation) -> Noted:
    count = len(conversation.notes.kept)
    if not count:
        return _talked(utterance, "drop note", conversation, say.NONE_YET, Notes())
    effect = DropNote(places=tuple(range(count)))
    return _talked(utterance, "drop note", conversation, say.all_dropped(count), Notes(), effect)


# ---- notes are read --------------------------------------------------------------------------------------------------


def _read(utterance: str, act: NoteAct, conversation: Conversation, _: Kit) -> Noted:
    notes = conversation.notes
    place = _place(act, notes)
    if place is None:
        return _none_such(utterance, "read note", act, conversation, ReadNote())
    is_last = place == len(notes.kept) - 1 and act.nth is None
    text = say.last_note(notes.kept[place]) if is_last else say.nth_note(place, notes.kept[place])
    return _talked(utterance, "read note", conversation, text, notes.model_copy(update={"place": place}))


def _about(words: str, notes: Notes) -> tuple[int, ...]:
    """Return which notes have the most of some words in them."""
    wanted = {word.strip(",.;:!?") for word in words.lower().split()}
    scores = [len(wanted & _words_of(note)) for note in notes.kept]
    most = max(scores, default=0)
    return tuple(place for place, score in enumerate(scores) if most and score == most)


def _words_of(note: KeptNote) -> set[str]:
    return {word.strip(",.;:!?") for word in f"{note.text} {note.heard}".lower().split()}


def _read_by_word(utterance: str, act: NoteAct, conversation: Conversation, _: Kit) -> Noted:
    found = _about(act.text, conversation.notes)
    if not found and act.does is Does.READ_BY_WORD_IF_ANY:
        return None, conversation
    if not found:
        return _talked(utterance, "read note", conversation, say.nothing_about(act.text))
    return _read_these(utterance, found, conversation)


def _read_these(utterance: str, places: Sequence[int], conversation: Conversation) -> Noted:
    notes = conversation.notes
    at = notes.model_copy(update={"place": places[-1]})
    text, show = say.aloud(places, notes.kept), say.listed(places, notes.kept)
    return _talked(utterance, "read note", conversation, text, at, show=show)


def _list(utterance: str, act: NoteAct, conversation: Conversation, _: Kit) -> Noted:
    notes = conversation.notes
    intent = "log" if act.does is Does.LIST else "read note"
    effect = ShowLog(latest=LATEST_NOTES)
    if not notes.kept:
        return _talked(utterance, intent, conversation, say.NONE_YET, None, effect)
    places = range(max(0, len(notes.kept) - LATEST_NOTES), len(notes.kept))
    text = say.last_note(notes.kept[0]) if len(notes.kept) == 1 else say.aloud(places, notes.kept)
    at = notes.model_copy(update={"place": places[-1]})
    return _talked(utterance, intent, conversation, text, at, effect, show=say.listed(places, notes.kept))


def _send(utterance: str, act: NoteAct, conversation: Conversation, _: Kit) -> Noted:
    notes = conversation.notes
    place = _place(act, notes)
    text = say.not_sent(notes.kept[place].text if place is not None else "")
    return _talked(utterance, "note", conversation, text)


def _assure(utterance: str, _: NoteAct, conversation: Conversation, __: Kit) -> Noted:
    notes = conversation.notes
    if notes.clearing:
        text = say.not_yet_dropped(len(notes.kept))
    elif notes.place is not None:
        text = say.still_there(notes.kept[notes.place].text)
    else:
        last = conversation.last
        was_dropped = last and any(isinstance(effect, DropNote) for effect in last.effects)
        text = say.is_gone() if was_dropped else say.NONE_YET if not notes.kept else say.last_note(notes.kept[-1])
    return _talked(utterance, "note", conversation, text)


_ACTS: dict[Does, Callable[[str, NoteAct, Conversation, Kit], Noted]] = {
    Does.NOTE: _note,
    Does.NOTE_THE_LAST: _note_the_last,
    Does.END: _end,
    Does.GIVE_UP: _give_up,
    Does.DROP_PART: _give_up,
    Does.ADD: _add,
    Does.REPLACE: _replace,
    Does.CORRECT: _correct,
    Does.CORRECT_IF_ALIKE: _correct,
    Does.DROP: _drop,
    Does.DROP_BY_WORD: _drop_by_word,
    Does.CLEAR: _ask_to_clear,
    Does.READ: _read,
    Does.READ_BY_WORD: _read_by_word,
    Does.READ_BY_WORD_IF_ANY: _read_by_word,
    Does.READ_ALL: _list,
    Does.LIST: _list,
    Does.SEND: _send,
    Does.ASSURE: _assure,
}

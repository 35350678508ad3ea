"""What is said of notes."""

from collections.abc import Sequence

from assistant.load.note import KeptNote
from assistant.say.spell import number_words

SPOKEN_NOTES = 5
"""How many notes are read aloud at once: more than that nobody keeps in the ear (our choice). The screen has all."""

NONE_YET = "There is no note yet."
GO_ON = "Go on, and say end note when it is whole."
LISTENING = f"What is the note? {GO_ON}"
NOTHING_KEPT = "The note has no words: nothing is kept."
DROPPED_PART = f"Those words are dropped. {GO_ON}"
_ONCE_MORE = "Say it once more to take back what was told of the load."
NOT_SENT = "Nothing is sent anywhere: I have no line out."
LEFT = "Nothing is dropped."
WHAT_NUMBER = "A number alone: of what? Say the coil's weight, or how many of what."
MEND_NOTE = "For the note, say no wait and the number."
_CROSSED_OUT = "The log keeps {} crossed out."


def ended(text: str) -> str:
    """Return a note's text with one full stop behind it."""
    return f"{text.rstrip(' .')}."


def noted(text: str) -> str:
    """Say that a note is kept, in its own words."""
    return f"Noted: {ended(text)}"


def says_now(text: str) -> str:
    """Say what a note says after it was changed."""
    return f"The note now says: {ended(text)}"


def length(text: str) -> str:
    """Say how long a dictated note became."""
    words = len(text.split())
    return f"Noted, {words} word{'s' * (words != 1)}."


def last_note(note: KeptNote) -> str:
    """Read the latest note."""
    return f"Your last note: {ended(note.text)}"


def nth_note(place: int, note: KeptNote) -> str:
    """Read one note by its number, counted from 0."""
    return f"Note {number_words(place + 1)}: {ended(note.text)}"


def aloud(places: Sequence[int], notes: Sequence[KeptNote]) -> str:
    """Read several notes, the latest if they are many."""
    spoken = places[-SPOKEN_NOTES:]
    rest = " The others are on the screen." if len(spoken) < len(places) else ""
    return " ".join(nth_note(place, notes[place]) for place in spoken) + rest


def listed(places: Sequence[int], notes: Sequence[KeptNote]) -> str:
    """Return notes as lines for the screen, with their numbers and times."""
    lines = (f"{place + 1:>3}  {notes[place].at}  {notes[place].text}".replace("    ", "  ") for place in places)
    return "".join(f"{line}\n" for line in lines)


def dropped(text: str) -> str:
    """Say which note is dropped, and that the log keeps it."""
    return f"Dropped the note: {ended(text)} {_CROSSED_OUT.format('it')}"


def all_dropped(count: int) -> str:
    """Say that every note is dropped."""
    which = {1: "The note is", 2: "Both notes are"}.get(count, f"All {number_words(count)} notes are")
    return f"{which} dropped. {_CROSSED_OUT.format('it' if count == 1 else 'them')}"


def drop_all(count: int) -> str:
    """Ask whether every note is to be dropped."""
    which = {1: "the one note there is", 2: "both notes"}.get(count, f"all {number_words(count)} notes")
    return f"Shall I drop {which}? Yes or no."


def not_yet_dropped(count: int) -> str:
    """Say that nothing is dropped before the question is answered."""
    return f"Not yet: nothing is dropped. {drop_all(count)}"


def no_note_meant(*, there_are: bool) -> str:
    """Say that "it" is no note any more; what it would be else, the next time."""
    return f"{'That note is dropped already' if there_are else 'There is no note now'}. {_ONCE_MORE}"


def no_such_note(which: int, count: int) -> str:
    """Say that there is no note of that number."""
    there_are = "there is one" if count == 1 else f"there are {number_words(count)}"
    return f"There is no note {number_words(which)}: {there_are}."


def nothing_about(word: str) -> str:
    """Say that no note has a word in it."""
    return f"No note says anything about {word}."


def not_sent(text: str) -> str:
    """Say that nothing is sent, and where the note is."""
    where = f"It is in the log: {ended(text)}" if text else NONE_YET
    return f"{NOT_SENT} {where}"


def still_there(text: str) -> str:
    """Say that a note is kept."""
    return f"Yes, it is in the log: {ended(text)}"


def is_gone() -> str:
    """Say that a note is dropped."""
    return f"Yes, it is dropped. {_CROSSED_OUT.format('it')}"


def correction(text: str, other: str) -> str:
    """Return a note with a correction behind it."""
    return f"{ended(text)} Correction: {other.rstrip(' .')}"


def joined(parts: Sequence[str]) -> str:
    """Return what was dictated in several breaths as one text."""
    *first, last = parts
    return " ".join([*(ended(part) for part in first), last])

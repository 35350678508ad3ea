"""What talk about coils and tiedowns needs of the utterance that it is part of."""

from typing import NoReturn, Protocol

from assistant.load.change import Change
from assistant.load.model import Load
from assistant.phrase.meaning import Focus, Question


class Floor(Protocol):
    """What the talk needs of the utterance it is part of."""

    focus: Focus | None
    remarks: list[str]
    assumed: list[str]

    @property
    def load(self) -> Load:
        """The load with all changes so far."""

    def change(self, *changes: Change, focus: Focus | None = None) -> None:
        """Make changes."""

    def ask(self, question: Question) -> None:
        """Ask a question."""

    def refuse(self, sentence: str) -> NoReturn:
        """Leave the whole utterance."""

    def count(self, count: int) -> int:
        """Return a plausible count or refuse."""

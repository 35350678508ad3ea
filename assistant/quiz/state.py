"""A quiz under way: its questions and the answers given."""

from assistant.load.model import Noun


class Question(Noun):
    """One question with the answer that the tables and the engine give.

    `say` is spoken (numbers spelled out), `show` is for the screen. `answer` is a number, or a yes or no.
    `why` says where the answer comes from, clause and sum, for the screen; `why_say` for the ear.
    """

    say: str
    show: str
    answer: float | bool
    unit: str = ""
    why: str
    why_say: str
    rule: str


class Quiz(Noun):
    """Questions, and for each one answered so far whether it was right."""

    questions: tuple[Question, ...]
    right: tuple[bool, ...] = ()

    @property
    def current(self) -> Question | None:
        """The question that waits for its answer; None when all are done."""
        return self.questions[len(self.right)] if len(self.right) < len(self.questions) else None

"""A conversation: what was told so far, as changes one utterance after another."""

from assistant.load.change import Change, fold
from assistant.load.model import GearList, Load, Noun
from assistant.load.note import Notes, Topic
from assistant.load.open_item import OpenItem, Why
from assistant.phrase.meaning import Focus, Question
from assistant.quiz.state import Quiz
from assistant.say.answer import Answer
from assistant.securement.rule_sets import RuleSet


class Pending(Noun):
    """What was asked last and waits for an answer.

    `asked` are the open questions, the one that was spoken first. `settles` holds the changes that each reply stands
    for; without it the questions came from findings, and grammar/answers.toml says how a short answer is read.
    """

    asked: tuple[str, ...]
    settles: Question | None = None
    spoken: bool = True
    """Whether the first of them was said aloud: only then can a yes, a no or a bare number be its answer."""


class Half(Noun):
    """The first half of something said, and which of its number words the recognizer doubts."""

    text: str
    unsure: tuple[int, ...] = ()


class Supposed(Noun):
    """What a what-if made of the load, for "and with six"."""

    load: Load
    focus: Focus | None


class Conversation(Noun):
    """The state that `reply` takes and gives back. Nothing else carries over from one utterance to the next."""

    turns: tuple[tuple[Change, ...], ...] = ()
    """The changes of each utterance that changed something: undo drops the last."""
    load: Load = Load()
    """The fold of all turns."""
    open: tuple[OpenItem, ...] = ()
    """What was said and neither taken nor answered: while it stands, nothing is met."""
    open_before: tuple[tuple[OpenItem, ...], ...] = ()
    """What was open before each turn, for undo."""
    gear: GearList = GearList()
    rules: RuleSet = RuleSet.US
    pending: Pending | None = None
    aside: tuple[str, ...] = ()
    """Questions answered with "don't know": asked again only when no other is open."""
    focus: Focus | None = None
    """The group last spoken of: ("tiedowns", 0)."""
    held: Half | None = None
    """What was said last, where it could not stand alone: joined with what is said next, if that is better."""
    told_last: str = ""
    """What was said last, where it entered the load: its number may go on."""
    supposed: Supposed | None = None
    topic: Topic = Topic.LOAD
    """What was talked of last: what "scratch that" and "read it back" act on."""
    notes: Notes = Notes()
    last: Answer | None = None
    quiz: Quiz | None = None
    seed: int = 0
    """Makes quiz scenes differ from one conversation to the next; chosen by the edge."""

    @property
    def waiting(self) -> tuple[OpenItem, ...]:
        """What was said and waits: for its other half, or for an answer to what was asked about it."""
        half = (OpenItem(said=self.held.text, why=Why.CUT_OFF),) if self.held else ()
        return (*half, *self.unsettled)

    @property
    def unsettled(self) -> tuple[OpenItem, ...]:
        """What must be settled before it enters the load."""
        question = self.pending.settles if self.pending else None
        return (OpenItem(said=question.text, why=Why.UNSETTLED),) if question else ()

    def turned(
        self, changes: tuple[Change, ...], opened: tuple[OpenItem, ...], still: tuple[OpenItem, ...]
    ) -> "Conversation":
        """Return the conversation with one more turn: its changes made, and what it left open beside what still is."""
        if not changes and not opened and still == self.open:
            return self
        return self.model_copy(
            update={
                "turns": (*self.turns, changes),
                "open_before": (*self.open_before, self.open),
                "load": fold(changes, self.load),
                "open": tuple(dict.fromkeys((*still, *opened))),
            }
        )

    def asking(self, question: Question) -> "Conversation":
        """Return the conversation with a question that must be settled first; what was open before stays behind it."""
        pending = self.pending
        behind = () if pending is None else pending.asked[1:] if pending.settles else pending.asked
        return self.model_copy(update={"pending": Pending(asked=(question.text, *behind), settles=question)})

    def settled(self) -> "Conversation":
        """Return the conversation without the question that had to be settled, with what was open before it."""
        if self.pending is None or self.pending.settles is None:
            return self
        behind = self.pending.asked[1:]
        return self.model_copy(update={"pending": Pending(asked=behind) if behind else None})

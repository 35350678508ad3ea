"""Tiedowns of another kind in the place of those that are on: "swap the chains for straps", "straps instead"."""

from typing import NoReturn, Protocol

from assistant.load.change import Change, SetFields
from assistant.load.model import Load
from assistant.phrase.draft import Draft
from assistant.phrase.meaning import Facts, Focus

_OF_THE_KIND = ("size_in", "thickness_in", "grade", "material", "marked_lb", "binder_lb", "hook_lb", "winch_lb",
                "breaking_lb", "pretension_lb", "threads_left", "take_up_in", "lead_in", "adjustable")  # fmt: skip
"""What one kind of tiedown does not hand on to another that is put in its place."""


class Swapping(Protocol):
    """What swapping needs of the utterance it is part of."""

    @property
    def load(self) -> Load:
        """The load with all changes so far."""

    def change(self, *changes: Change, focus: Focus | None = None) -> None:
        """Make changes."""

    def refuse(self, sentence: str) -> NoReturn:
        """Leave the whole utterance."""

    def count(self, count: int) -> int:
        """Return a plausible count or refuse."""


def swap(draft: Draft, floor: Swapping) -> None:
    """Put another kind of tiedown, and maybe another number, where those of one kind are; they run as these did."""
    kinds = sorted({group.kind for group in floor.load.tiedowns})
    if draft.kind is None and len(kinds) > 1:
        floor.refuse(f"There are {' and '.join(f'{kind}s' for kind in kinds)} on. Say which to change.")
    groups = [index for index, group in enumerate(floor.load.tiedowns) if draft.kind in {None, group.kind}]
    there = sum(floor.load.tiedowns[index].count for index in groups)
    name = draft.kind or next(iter(kinds), "chain")
    if not there or (there > 1 and not draft.plural):
        named = name if there == 1 else f"{name}s"
        floor.refuse(f"There {'is' if there == 1 else 'are'} {there or 'no'} {named} on. Say which to change.")
    count = floor.count(draft.facts.get("count", there))
    if len(groups) > 1 and count != there:
        floor.refuse(f"There are several groups of {name}s. Say how many hold forward, how many rearward.")
    told = draft.facts if len(groups) == 1 else {"kind": draft.facts["kind"]}
    for index in groups:
        group = floor.load.tiedowns[index]
        fields: Facts = {key: None for key in _OF_THE_KIND if getattr(group, key) is not None}
        fields |= {"unmarked": False, "damaged": False, **told}
        floor.change(SetFields(noun="tiedowns", index=index, fields=fields), focus=("tiedowns", index))

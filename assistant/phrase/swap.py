"""Tiedowns of another kind in the place of those that are on: "swap the chains for straps", "straps instead"."""

from assistant.load.change import SetFields
from assistant.load.model import Kind
from assistant.phrase.draft import Draft
from assistant.phrase.floor import Floor
from assistant.phrase.meaning import Facts
from assistant.phrase.which import name_of, of_kind

_OF_THE_KIND = ("size_in", "thickness_in", "grade", "material", "marked_lb", "binder_lb", "hook_lb", "winch_lb",
                "breaking_lb", "pretension_lb", "threads_left", "take_up_in", "lead_in", "adjustable")  # fmt: skip
"""What one kind of tiedown does not hand on to another that is put in its place."""


def swap(draft: Draft, floor: Floor) -> None:
    """Put another kind of tiedown, and maybe another number, where those of one kind are; they run as these did."""
    kinds = sorted({group.kind for group in floor.load.tiedowns})
    if draft.kind is None and len(kinds) > 1:
        floor.refuse(f"There are {' and '.join(name_of(kind, 2) for kind in kinds)} on. Say which to change.")
    groups = of_kind(floor.load, draft.kind)
    there = sum(floor.load.tiedowns[index].count for index in groups)
    kind = draft.kind or next(iter(kinds), Kind.CHAIN)
    if not there or (there > 1 and not draft.plural):
        named = name_of(kind, there)
        floor.refuse(f"There {'is' if there == 1 else 'are'} {there or 'no'} {named} on. Say which to change.")
    count = floor.count(draft.facts.get("count", there))
    if len(groups) > 1 and count != there:
        floor.refuse(f"There are several groups of {name_of(kind, 2)}. Say how many hold forward, how many rearward.")
    told = draft.facts if len(groups) == 1 else {"kind": draft.facts["kind"]}
    for index in groups:
        group = floor.load.tiedowns[index]
        fields: Facts = {key: None for key in _OF_THE_KIND if getattr(group, key) is not None}
        fields |= {"unmarked": False, "damaged": False, **told}
        floor.change(SetFields(noun="tiedowns", index=index, fields=fields), focus=("tiedowns", index))

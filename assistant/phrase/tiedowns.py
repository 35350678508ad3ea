"""Talk about tiedowns against those that are there: more, fewer, other, or told more closely."""

from collections.abc import Iterable
from typing import Any

from assistant.load.change import AddTiedowns, Change, Remove, SetFields, SplitTiedowns, revised
from assistant.load.model import Kind, Tiedown
from assistant.phrase.draft import Draft, Drafts
from assistant.phrase.floor import Floor
from assistant.phrase.meaning import Facts, Question
from assistant.phrase.page import MADE_OF
from assistant.phrase.swap import swap
from assistant.phrase.which import all_of, is_so, name_of, of_kind, those


class TiedownTalk:
    """Takes the tiedown drafts of one utterance."""

    def __init__(self, floor: Floor) -> None:
        self._floor = floor
        self._said: list[Tiedown] = []
        """Groups told in this utterance: what is said next is of others."""

    def take(self, draft: Draft) -> None:
        """Take one draft."""
        if draft.each:
            self._for_each(draft)
        for count in (draft.count, *(count for count, _ in draft.some)):
            if count is not None:
                self._floor.count(count)
        if draft.verb == "swap":
            swap(draft, self._floor)
            return
        if draft.kind is None and not draft.only:
            self._kind_from_focus(draft)
        if draft.verb == "remove":
            self._remove(draft)
        elif draft.count is None:
            self._tell_all(draft)
        elif draft.verb == "fix":
            self._fix(draft)
        elif draft.verb == "add":
            self._add(draft)
        else:
            self._state(draft)

    def _kind_from_focus(self, draft: Draft) -> None:
        """Settle what "two more" and "take two off" are: of the group last spoken of."""
        focus = self._floor.focus
        if focus and focus[0] == "tiedowns" and focus[1] < len(self._floor.load.tiedowns):
            draft.kind = self._floor.load.tiedowns[focus[1]].kind
        elif len(kinds := {group.kind for group in self._floor.load.tiedowns}) == 1:
            draft.kind = next(iter(kinds))
        else:
            self._floor.refuse(f"I heard {draft.count}, but not of what. Say chains or straps.")

    def _for_each(self, draft: Draft) -> None:
        """Multiply a number told for each piece by how many pieces lie on the deck."""
        load = self._floor.load
        pieces = sum(coil.count for coil in load.coils) + sum(article.count for article in load.articles)
        if not pieces or (load.coils and load.articles):
            self._floor.refuse(f"I heard {draft.count} for each, but not of how many. Say how many there are in all.")
        draft.count = (draft.count or 1) * pieces

    def loose(self, drafts: Drafts) -> None:
        """Take facts told of the tiedowns without naming them."""
        for count, _ in drafts.tiedown_some:
            self._floor.count(count)
        for number in drafts.fewer:
            self.take(Draft("tiedowns", "remove", count=number))
        if drafts.every_tiedown:
            for index in all_of(self._floor.load, drafts.all_of):
                self._floor.change(SetFields(noun="tiedowns", index=index, fields=drafts.every_tiedown))
        if drafts.fix and not drafts.tiedown_facts and self._recount(drafts.tiedown_some):
            return
        if drafts.tiedown_facts or drafts.tiedown_some:
            index = self._meant(drafts)
            if index is not None:
                if drafts.tiedown_facts:
                    self._tell_alike(index, drafts.tiedown_facts)
                self._tell_some(index, drafts.tiedown_some)
        for part, limit in drafts.parts.items():
            self._part(part, limit)

    def _tell_alike(self, index: int, fields: Facts) -> None:
        """Tell a group, and with it those of its kind of which as much is known, what they are made of."""
        groups = self._floor.load.tiedowns
        group = groups[index]
        known = {key: getattr(group, key) for key in fields}
        alike = [other for other in of_kind(self._floor.load, group.kind) if is_so(groups[other], known)]
        told = alike if fields.keys() <= MADE_OF else [index]
        for other in told:
            self._floor.change(SetFields(noun="tiedowns", index=other, fields=fields), focus=("tiedowns", index))
        if len(told) > 1:
            count = sum(groups[other].count for other in told)
            self._floor.assumed.append(f"I took that for all {count} {name_of(group.kind, count)}.")

    def _meant(self, drafts: Drafts) -> int:
        """Return which group is meant when none is named: the only one, or the one last spoken of."""
        load, focus = self._floor.load, self._floor.focus
        if not load.tiedowns:
            self._floor.refuse("I heard how tiedowns run, but there are none yet. Say how many, and of what.")
        alike = len({group.kind for group in load.tiedowns}) == 1
        if len(load.tiedowns) == 1 or (alike and not drafts.tiedown_some and drafts.tiedown_facts.keys() <= MADE_OF):
            return 0
        asked = sum(count for count, _ in drafts.tiedown_some)
        large = [(index, group) for index, group in enumerate(load.tiedowns) if group.count >= asked]
        fitting = [
            (index, group)
            for index, group in large
            if all(self._compatible(group, facts) for _, facts in drafts.tiedown_some)
        ]
        open_ones = [index for index, group in fitting if group.pulls is None]
        if drafts.tiedown_some and len(fitting) == 1:
            return fitting[0][0]
        if drafts.tiedown_some and len(open_ones) == 1:
            return open_ones[0]
        if focus and focus[0] == "tiedowns" and focus[1] < len(load.tiedowns):
            return focus[1]
        return self._floor.refuse("I heard how tiedowns run, but not which. Say it with their name: chains or straps.")

    def _part(self, part: str, limit: float) -> None:
        kinds = {"binder_lb": {Kind.CHAIN, Kind.WIRE_ROPE}, "winch_lb": {Kind.STRAP}}.get(part, set(Kind))
        groups = [index for index, group in enumerate(self._floor.load.tiedowns) if group.kind in kinds]
        if not groups:
            self._floor.refuse("I heard a rating for a part, but there are no tiedowns yet that have it.")
        for index in groups:
            self._floor.change(SetFields(noun="tiedowns", index=index, fields={part: limit}))

    # ---- one draft ----

    def _groups(self, kind: Kind | None) -> list[int]:
        return of_kind(self._floor.load, kind)

    def _add(self, draft: Draft) -> None:
        """Put more on: into a group told alike, or as a group of its own."""
        told = Tiedown(kind=draft.kind or Kind.CHAIN, count=draft.count or 1, **draft.facts)
        merged = () if draft.some else self._merged(told)
        if merged:
            self._floor.change(*merged, focus=("tiedowns", merged[0].index))
        else:
            self._put(told, draft.some)

    def _merged(self, told: Tiedown) -> tuple[SetFields, ...]:
        """Return the change that puts more into a group told alike; nothing where there is none."""
        for index in self._groups(told.kind):
            group = self._floor.load.tiedowns[index]
            if group.model_copy(update={"count": told.count}) == told:
                fields = {"count": self._floor.count(group.count + told.count)}
                return (SetFields(noun="tiedowns", index=index, fields=fields),)
        return ()

    def _put(self, told: Tiedown, some: list[tuple[int, Facts]]) -> None:
        spoken_for = sum(count for count, _ in some)
        if spoken_for > told.count:
            self._floor.refuse(
                f"I heard {told.count} {name_of(told.kind, told.count)}, but {spoken_for} told apart. Say it again."
            )
        for count, facts in some:
            self._floor.change(AddTiedowns(tiedown=revised(told, {**facts, "count": count})))
        if told.count > spoken_for:
            rest = told.model_copy(update={"count": told.count - spoken_for})
            self._floor.change(AddTiedowns(tiedown=rest))
        self._said += self._floor.load.tiedowns[-(len(some) + (told.count > spoken_for)) :]
        self._floor.focus = ("tiedowns", len(self._floor.load.tiedowns) - 1)

    def _state(self, draft: Draft) -> None:
        """Hear "four chains": new ones, the known ones told more closely, or a doubt to ask about."""
        known = [index for index in self._groups(draft.kind) if self._floor.load.tiedowns[index] not in self._said]
        like = [index for index in known if self._compatible(self._floor.load.tiedowns[index], draft.facts)]
        if not like:
            self._add_new(draft)
            return
        wanted = draft.count or 1
        for index in like:
            group = self._floor.load.tiedowns[index]
            closer = {key: value for key, value in draft.facts.items() if getattr(group, key) != value}
            if group.count == wanted or (group.count > wanted and closer):
                self._tell(index, wanted, closer, draft.some)
                return
        total = sum(self._floor.load.tiedowns[index].count for index in like)
        self._in_all_or_more(draft, like, total)

    def _add_new(self, draft: Draft) -> None:
        told = Tiedown(kind=draft.kind or Kind.CHAIN, count=draft.count or 1, **draft.facts)
        self._put(told, draft.some)

    def _in_all_or_more(self, draft: Draft, like: list[int], total: int) -> None:
        wanted, kind = draft.count or 1, draft.kind or Kind.CHAIN
        told = Tiedown(kind=kind, count=wanted, **draft.facts)
        name = name_of(kind, wanted)
        grown: tuple[Change, ...]
        if wanted > total and not draft.some:
            added = told.model_copy(update={"count": wanted - total})
            grown = self._merged(added) or (AddTiedowns(tiedown=added),)
        elif len(like) == 1:
            grown = (SetFields(noun="tiedowns", index=like[0], fields={**draft.facts, "count": wanted}),)
        else:
            dropped = tuple(Remove(noun="tiedowns", index=index) for index in sorted(like, reverse=True))
            grown = (*dropped, AddTiedowns(tiedown=told))
        there = f"There {'is' if total == 1 else 'are'} {total} {name_of(kind, total)} on."
        text = f"{there} Do you mean {wanted} {name} in all, or {wanted} more?"
        more = (*self._merged(told),) if not draft.some else ()
        replies = {"in all": grown, "more": more or (AddTiedowns(tiedown=told),)}
        self._floor.ask(Question(text=text, expects="in all or more", on=replies, count=wanted))

    def _tell(self, index: int, count: int, facts: Facts, some: list[tuple[int, Facts]]) -> None:
        """Tell facts of a group, or of a part of it; then of the parts told apart."""
        group = self._floor.load.tiedowns[index]
        if not facts and not some:
            self._floor.remarks.append(f"{count} {name_of(group.kind, count)}: as I have it.")
        elif count < group.count:
            self._floor.change(SplitTiedowns(index=index, count=count, fields=facts))
        elif facts:
            self._floor.change(SetFields(noun="tiedowns", index=index, fields=facts))
        self._said.append(self._floor.load.tiedowns[index])
        self._floor.focus = ("tiedowns", index)
        self._tell_some(index, some)

    def _tell_some(self, index: int, some: Iterable[tuple[int, Facts]]) -> None:
        """Split a group: "two of them forward, two rearward"; the part told stands first, the rest behind it."""
        some = list(some)
        group = self._floor.load.tiedowns[index]
        spoken_for = sum(count for count, _ in some)
        if spoken_for > group.count:
            self._floor.refuse(
                f"There are {group.count} {name_of(group.kind, group.count)}, but I heard {spoken_for} told apart. "
                "Say how many there are in all."
            )
        for place, (count, facts) in enumerate(some):
            self._floor.change(SplitTiedowns(index=index + place, count=count, fields=facts), focus=("tiedowns", index))
            self._said.append(self._floor.load.tiedowns[index + place])

    def _tell_all(self, draft: Draft) -> None:
        """Tell facts of all tiedowns of a kind that are there: "the chains are grade eighty"."""
        groups = those(self._floor.load, draft.kind, draft.only)
        if not groups and draft.only:
            what = name_of(draft.kind, 2) if draft.kind else "tiedowns"
            self._floor.refuse(f"I know of no {what} that run so. Say how many there are.")
        if not groups and draft.verb == "fix" and self._floor.load.tiedowns and not draft.there:
            self._change_kind(draft)
            return
        if not groups:
            kind = draft.kind or Kind.CHAIN
            self._floor.refuse(f"I heard {kind.value}s, but there are none yet. Say how many.")
        groups = self._made_so(groups, draft)
        if not draft.facts and not draft.some:
            self._floor.refuse(
                f"I heard the {name_of(draft.kind or Kind.CHAIN, 2)}, but not what of them. Say it again."
            )
        for index in groups if draft.facts else ():
            self._floor.change(SetFields(noun="tiedowns", index=index, fields=draft.facts))
        self._floor.focus = ("tiedowns", groups[-1]) if groups else self._floor.focus
        if draft.some and len(groups) == 1:
            self._tell_some(groups[0], draft.some)
        elif draft.some:
            self._floor.refuse(
                "I heard some told apart, but there are several groups. Say the number and all about them."
            )

    def _made_so(self, groups: list[int], draft: Draft) -> list[int]:
        """Return those of the make that was named; where none is, all are told to be of it."""
        so = [index for index in groups if is_so(self._floor.load.tiedowns[index], draft.made)]
        if not draft.made or so:
            return so
        if len(groups) > 1 and (draft.facts or draft.some):
            self._floor.refuse(
                f"I know of no {name_of(draft.kind or Kind.CHAIN, 2)} like that. Say how many there are."
            )
        draft.facts |= draft.made
        return groups

    def _change_kind(self, draft: Draft) -> None:
        focus = self._floor.focus
        last = len(self._floor.load.tiedowns) - 1
        index = min(focus[1], last) if focus and focus[0] == "tiedowns" else last
        fields: dict[str, Any] = {"kind": draft.kind, "size_in": None, "grade": None, "marked_lb": None, **draft.facts}
        if draft.count is not None:
            fields["count"] = draft.count
        self._floor.change(SetFields(noun="tiedowns", index=index, fields=fields), focus=("tiedowns", index))

    def _ask_instead(self, draft: Draft) -> None:
        """Ask whether "actually, four chains" takes the place of the straps, or comes beside them."""
        (there,) = self._floor.load.tiedowns
        kind, count = draft.kind or Kind.CHAIN, draft.count or 1
        told = Tiedown(kind=kind, count=count, **draft.facts)
        text = (
            f"There {'is' if there.count == 1 else 'are'} {there.count} {name_of(there.kind, there.count)} on. "
            f"Do you mean {count} {name_of(kind, count)} in place of {'it' if there.count == 1 else 'them'}?"
        )
        beside = AddTiedowns(tiedown=told)
        replies: dict[str, tuple[Change, ...]] = {
            "yes": (Remove(noun="tiedowns", index=0), beside),
            "no": (beside,),
        }
        self._floor.ask(Question(text=text, expects="yes or no", on=replies))

    def _fix(self, draft: Draft) -> None:
        """Correct a count: "make that five chains"."""
        groups = [index for index in self._groups(draft.kind)
                  if self._compatible(self._floor.load.tiedowns[index], draft.facts)]  # fmt: skip
        if not groups and not self._groups(draft.kind) and draft.first and len(self._floor.load.tiedowns) == 1:
            self._ask_instead(draft)
        elif not groups:
            self._add_new(draft)
        elif len(groups) > 1:
            kind = draft.kind or Kind.CHAIN
            self._floor.refuse(
                f"There are several groups of {kind.value}s. Say which: the forward ones, or the rearward ones."
            )
        else:
            fields = {**draft.facts, "count": draft.count}
            change = SetFields(noun="tiedowns", index=groups[0], fields=fields)
            self._floor.change(change, focus=("tiedowns", groups[0]))
            self._tell_some(groups[0], draft.some)

    def _remove(self, draft: Draft) -> None:
        kind = draft.kind or Kind.CHAIN
        quiet = draft.facts.pop("quiet", False)
        known = draft.facts | draft.made
        groups = [
            index
            for index in those(self._floor.load, draft.kind, draft.only)
            if is_so(self._floor.load.tiedowns[index], known)
        ]
        if not groups and (draft.facts or draft.only or draft.made):
            self._floor.refuse(f"I know of no {name_of(kind, 2)} like that to take off. Say one thing at a time.")
        if not groups:
            if not quiet:
                self._floor.remarks.append(f"There is no {kind.value} to take off.")
            return
        left = draft.count if draft.count is not None else (None if draft.plural else 1)
        there = sum(self._floor.load.tiedowns[index].count for index in groups)
        if left is not None and left < there and len(groups) > 1:
            # Which one comes off decides what still holds forward and what rearward.
            self._floor.refuse(
                f"There are several groups of {name_of(kind, 2)}. Say which way those pull that come off."
            )
        for index in reversed(groups):
            there = self._floor.load.tiedowns[index].count
            taken = there if left is None else min(left, there)
            if taken:
                self._floor.change(Remove(noun="tiedowns", index=index, count=taken))
            left = None if left is None else left - taken
        partly = len(groups) == 1 and bool(self._groups(kind))
        self._floor.focus = ("tiedowns", groups[0]) if partly else None
        if left:
            self._floor.remarks.append(f"There were {left} {name_of(kind, left)} fewer than you took off.")

    def _recount(self, some: list[tuple[int, Facts]]) -> bool:
        """Correct the counts of groups that were told apart before: "make that three forward"."""
        tiedowns = self._floor.load.tiedowns
        meant = [[index for index, group in enumerate(tiedowns) if is_so(group, facts)] for _, facts in some]
        if not some or any(len(groups) != 1 for groups in meant):
            return False
        for (index,), (count, _) in zip(meant, some, strict=True):
            fields = {"count": self._floor.count(count)}
            self._floor.change(SetFields(noun="tiedowns", index=index, fields=fields), focus=("tiedowns", index))
        return True

    @staticmethod
    def _compatible(group: Tiedown, facts: Facts) -> bool:
        """Return whether facts could be told of a group: nothing it is known to be otherwise."""
        return all(getattr(group, key) in {None, False, value} for key, value in facts.items())

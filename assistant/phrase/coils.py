"""Talk about coils against those that are there: another one, the same told more closely, or a doubt to ask about."""

from collections.abc import Mapping
from typing import Protocol

from assistant.load.change import AddCoils, Change, Remove, SetFields, revised
from assistant.load.model import Coil, Load
from assistant.phrase.draft import Draft
from assistant.phrase.floor import Floor
from assistant.phrase.meaning import Facts, Question
from assistant.phrase.plausible import checked_weight
from assistant.phrase.slots import Weight

_MEASURES = frozenset({"width_in", "outside_in", "bore_in"})
_IN_BACK = -2
"""`nth` of "the back coil": the last of several."""


class CoilFloor(Floor, Protocol):
    """What the talk needs of the utterance it is part of."""

    limits: Mapping[str, float]
    assumed: list[str]
    before: Load
    """The load before the utterance."""


class CoilTalk:
    """Takes the coil drafts of one utterance."""

    def __init__(self, floor: CoilFloor) -> None:
        self._floor = floor
        self._first_told = False
        """Whether the first coil was told in this utterance: "the back one" is then another."""

    def take(self, draft: Draft) -> None:
        """Take one draft."""
        if draft.verb == "remove":
            self._remove_coil(draft)
            return
        if draft.nth:
            self._nth(draft)
            return
        told = dict(draft.facts)
        if draft.apart or len(draft.weights) > 1:
            self._in_full(draft.weights)
        weights = [checked_weight(weight, "coils", self._floor.limits) for weight in draft.weights]
        self.note_weights(draft.weights)
        self._count(draft)
        if len(weights) > 1 or (draft.apart and weights):
            told = self._in_place_of_unweighed(draft) | told
            for pounds in weights:
                self.add({**told, "weight_lb": pounds})
            missing = (draft.count or 0) - len(weights)
            if missing > 0:
                self.add({**told, "count": missing})
            return
        told |= {"weight_lb": weights[0]} if weights else {}
        told |= {"count": draft.count} if draft.count is not None else {}
        if self.doubtful_weight(told, draft.weights):
            return
        new_too = draft.another and len(self._floor.load.coils) > len(self._floor.before.coils)
        if draft.verb == "add" or new_too or not self._floor.load.coils:
            self.add(told)
        else:
            self.known(told, fix=draft.verb == "fix")

    def _count(self, draft: Draft) -> None:
        """Check a count; own up to taking "three of them" as coils, where nothing else can be meant."""
        load, count = self._floor.load, draft.count
        if count is not None:
            self._floor.count(count)
        if not draft.unnamed:
            return
        if load.articles or load.tiedowns or any(coil.weight_lb is not None for coil in load.coils):
            self._floor.refuse(f"I heard the number {count}, but not what it counts. Say it with its name.")
        self._floor.assumed.append("These are taken as coils.")

    def _nth(self, draft: Draft) -> None:
        """Tell facts of one coil by its place; the one behind the last is one more."""
        coils = self._floor.load.coils
        total = sum(coil.count for coil in coils)
        nth = draft.nth if draft.nth > 0 else total
        if draft.nth == _IN_BACK and total < 2:  # noqa: PLR2004 - one in front, one in back
            if not self._first_told:
                self._floor.refuse("I know of no coil in front of that. Say how many coils there are.")
            nth = 2
        self._first_told |= draft.nth == 1
        self.note_weights(draft.weights[:1])
        self._in_full(draft.weights)
        told = dict(draft.facts)
        for weight in draft.weights[:1]:
            told["weight_lb"] = checked_weight(weight, "coils", self._floor.limits)
        if nth > total + 1 or (not coils and nth != 1):
            there = "no coil yet" if not total else "one coil" if total == 1 else f"{total} coils"
            self._floor.refuse(f"I know of {there}. Say how many coils there are.")
        if nth == total + 1:
            self.add(told)
            return
        if not told:
            self._floor.refuse("I heard which coil, but not what of it. Say it again.")
        index, before = 0, 0
        while before + coils[index].count < nth:
            before += coils[index].count
            index += 1
        self._tell_one(index, told, first=nth == before + 1)

    def _tell_one(self, index: int, told: Facts, *, first: bool) -> None:
        """Tell facts of one coil of a group; it is taken out of it, and stands before or behind the others."""
        group = self._floor.load.coils[index]
        if group.weight_lb and told.get("weight_lb", group.weight_lb) != group.weight_lb:
            self._floor.remarks.append(f"Changed: it was {group.weight_lb:,.0f} lb.")
        if group.count == 1:
            self._floor.change(SetFields(noun="coils", index=index, fields=told), focus=("coils", index))
            return
        rest = {"count": group.count - 1}
        one = revised(group, {**told, "count": 1})
        if first:
            taken = SetFields(noun="coils", index=index, fields={**told, "count": 1})
            self._floor.change(taken, AddCoils(coil=revised(group, rest)), focus=("coils", index))
        else:
            kept = SetFields(noun="coils", index=index, fields=rest)
            self._floor.change(kept, AddCoils(coil=one), focus=("coils", len(self._floor.load.coils)))

    def _in_place_of_unweighed(self, draft: Draft) -> Facts:
        """Take off the coils that are now told one by one, and return what was known of them."""
        if not self._floor.load.coils or draft.verb == "add":
            return {}
        group = self._floor.load.coils[0]
        if len(self._floor.load.coils) > 1 or group.weight_lb is not None or group.count != draft.count:
            self._floor.refuse("There are coils on the deck already. Say start over, or tell me what to add.")
        self._floor.change(Remove(noun="coils", index=0))
        return group.model_dump(include={"eye", "metal"})

    def note_weights(self, weights: list[Weight]) -> None:
        """Own up to what reading the weights took for granted."""
        for weight in weights:
            if weight.thousands_unsaid:
                self._floor.assumed.append(f"I take {weight.pounds / 1000:g} as {weight.pounds:,.0f} lb.")
            if weight.assumed:
                self._floor.assumed.append(weight.assumed)

    def doubtful_weight(self, told: Facts, weights: list[Weight]) -> bool:
        """Ask about a coil so light that thousands were meant, or misheard."""
        pounds = told.get("weight_lb")
        if weights and weights[0].maybe and pounds == weights[0].pounds:
            return self._cut_short(told, weights[0])
        if pounds is None or pounds >= self._floor.limits["coil_min_lb"]:
            return False
        thousands = {**told, "weight_lb": pounds * 1000}
        plausible = thousands["weight_lb"] <= self._floor.limits["coil_max_lb"] and weights[0].unit in {"", "pound"}
        if not plausible:
            self._floor.refuse(f"I heard a coil of {pounds:,.0f} pounds. Say the weight again.")
        self._floor.ask(
            Question(
                text=f"I heard {pounds:,.0f} pounds. Do you mean {pounds * 1000:,.0f} pounds?",
                expects="yes or no",
                on={"yes": self._coil_changes(thousands), "no": ()},
            )
        )
        return True

    def _in_full(self, weights: list[Weight]) -> None:
        """Refuse a weight that may have been cut short, where there are too many to ask about."""
        for weight in weights:
            if weight.maybe:
                self._floor.refuse(f"I heard {weight.pounds:,.0f} pounds. Say the weight again in full.")

    def _cut_short(self, told: Facts, weight: Weight) -> bool:
        """Ask whether "forty two thousand five" was 42,500."""
        likelier = weight.maybe
        text = f"I heard {weight.pounds:,.0f} pounds. Do you mean {likelier:,.0f} pounds?"
        replies = {"yes": self._coil_changes({**told, "weight_lb": likelier}), "no": ()}
        self._floor.ask(Question(text=text, expects="yes or no", on=replies))
        return True

    def _coil_changes(self, told: Facts) -> tuple[Change, ...]:
        if self._floor.load.coils:
            return (SetFields(noun="coils", index=len(self._floor.load.coils) - 1, fields=told),)
        return (AddCoils(coil=Coil(**told)),)

    def add(self, told: Facts) -> None:
        """Put one more group on the deck."""
        self._floor.change(AddCoils(coil=Coil(**told)), focus=("coils", len(self._floor.load.coils)))

    def known(self, told: Facts, *, fix: bool) -> None:
        """Tell facts of a coil that is there: fill in, correct, or ask which it is."""
        index = self._coil_in_focus() if fix else len(self._floor.load.coils) - 1
        coil = self._floor.load.coils[index]
        differs = {key for key, value in told.items() if getattr(coil, key) not in {None, value}}
        open_count = differs == {"count"} and coil.count == 1 and coil.weight_lb is None
        if fix or not differs or open_count:
            new = {key: value for key, value in told.items() if getattr(coil, key) != value}
            if new:
                self._floor.change(SetFields(noun="coils", index=index, fields=new), focus=("coils", index))
            else:
                self._floor.focus = ("coils", index)
            return
        if len(differs) == 1 and differs <= {"eye", "metal"}:
            self._floor.change(SetFields(noun="coils", index=index, fields=told), focus=("coils", index))
            self._floor.remarks.append(f"Changed: the coil's {differs.pop()}.")
            return
        there = (
            f"{coil.weight_lb:,.0f} pound coil"
            if coil.weight_lb
            else f"{coil.count} coils"
            if coil.count > 1
            else "coil"
        )
        self._floor.ask(
            Question(
                text=f"There is a {there} on the deck. Is this another one?",
                expects="yes or no",
                on={
                    "yes": (AddCoils(coil=Coil(**told)),),
                    "no": (SetFields(noun="coils", index=index, fields=told),),
                },
            )
        )

    def _coil_in_focus(self) -> int:
        if self._floor.focus and self._floor.focus[0] == "coils" and self._floor.focus[1] < len(self._floor.load.coils):
            return self._floor.focus[1]
        return len(self._floor.load.coils) - 1

    def _remove_coil(self, draft: Draft) -> None:
        coils = self._floor.load.coils
        if not coils:
            self._floor.remarks.append("There is no coil to take off.")
            return
        if draft.another and len(coils) > 1:
            self._floor.refuse("The coils are not alike. Say take off the last coil, or start over.")
        self._floor.change(Remove(noun="coils", index=len(coils) - 1, count=draft.count))
        self._floor.focus = None

    def facts(self, facts: Facts) -> None:
        """Tell facts of the coils without naming them: of every one, or of a new one where there is none."""
        if not self._floor.load.coils and facts.keys() == {"metal"}:
            self._floor.refuse(f"I heard {facts['metal']}, but not what is made of it. Say coil, or what else it is.")
        if not self._floor.load.coils and self._floor.load.articles and facts.keys() <= _MEASURES:
            self._floor.refuse("I keep no width and no diameter of other cargo, only its length. Say it without.")
        if not self._floor.load.coils:
            self.add(facts)
            return
        for index, coil in enumerate(self._floor.load.coils):
            if any(getattr(coil, key) != value for key, value in facts.items()):
                self._floor.change(SetFields(noun="coils", index=index, fields=facts))
        self._floor.focus = ("coils", len(self._floor.load.coils) - 1)

    def weigh_one(self, index: int, told: Facts) -> None:
        """Tell the weight of one coil out of a group."""
        group = self._floor.load.coils[index]
        one = group.model_copy(update={"count": 1, **told})
        self._floor.change(
            SetFields(noun="coils", index=index, fields={"count": group.count - 1}),
            AddCoils(coil=one),
            focus=("coils", index),
        )

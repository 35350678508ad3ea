"""From drafts to changes: what was told is laid beside what is known, and doubt becomes a question."""

from collections.abc import Mapping
from typing import NoReturn

from assistant.load.change import (
    AddArticles,
    AddCoils,
    AddSeen,
    Change,
    DropSeen,
    Remove,
    SetFields,
    SetPart,
    SetRow,
    SetSupport,
    SetYard,
    SplitTiedowns,
    apply,
)
from assistant.load.model import Article, Coil, Load, Row
from assistant.phrase.draft import Draft, Drafts
from assistant.phrase.meaning import Facts, Focus, Meaning, Question
from assistant.phrase.plausible import Refused, checked_count, checked_weight
from assistant.phrase.slots import Weight
from assistant.phrase.tiedowns import TiedownTalk

_TRADE_COIL = range(10, 81)
"""A bare number in this range can be a coil's thousands of pounds ("no, forty two"); common practice, no source."""

_LIPS = frozenset({"lip", "inner lip"})


def reconcile(drafts: Drafts, load: Load, focus: Focus | None, limits: Mapping[str, float]) -> Meaning:
    """Return what the drafts mean for a load.

    Parameters
    ----------
    drafts
        What the utterance told.
    load
        The load before it.
    focus
        The group last spoken of, for "no, four".
    limits
        Plausible ranges from grammar/numbers.toml.
    """
    talk = _Talk(drafts, load, focus, limits)
    try:
        talk.take_all()
    except Refused as refused:
        return Meaning(refused=(str(refused),))
    return Meaning(
        changes=tuple(talk.changes),
        question=talk.question,
        assumed=tuple(dict.fromkeys([*drafts.assumed, *talk.assumed])),
        remarks=tuple(talk.remarks),
        focus=talk.focus,
    )


class _Talk:
    """Takes the drafts one after another against a running load."""

    def __init__(self, drafts: Drafts, load: Load, focus: Focus | None, limits: Mapping[str, float]) -> None:
        self._drafts = drafts
        self._before = load
        self._load = load
        self._limits = limits
        self.focus = focus
        self.changes: list[Change] = []
        self.question: Question | None = None
        self.assumed: list[str] = []
        self.remarks: list[str] = []

    @property
    def load(self) -> Load:
        """The load with all changes so far."""
        return self._load

    def change(self, *changes: Change, focus: Focus | None = None) -> None:
        """Make changes."""
        for change in changes:
            if self.question and isinstance(change, Remove | SplitTiedowns):
                # it would move the groups that the open question speaks of
                self.refuse(f"One thing at a time. {self.question.text}")
            self._load = apply(self._load, change)
            self.changes.append(change)
        self.focus = focus or self.focus

    def ask(self, question: Question) -> None:
        """Ask the first question; later ones wait until it is settled and are said again."""
        if self.question is None:
            self.question = question
        else:
            self.remarks.append("One thing at a time: say the rest again after this.")

    def refuse(self, sentence: str) -> NoReturn:
        """Leave the whole utterance."""
        raise Refused(sentence)

    def count(self, count: int) -> int:
        """Return a plausible count or refuse."""
        return checked_count(count, self._limits)

    def take_all(self) -> None:
        """Take everything the utterance told."""
        drafts = self._drafts
        if drafts.clash:
            self.refuse(drafts.clash)
        tiedowns = TiedownTalk(self)
        for draft in drafts.nouns:
            if draft.noun == "coils":
                self._coils(draft)
            elif draft.noun == "articles":
                self._article(draft)
            else:
                tiedowns.take(draft)
        if drafts.coil_facts:
            self._coil_facts(drafts.coil_facts)
        if drafts.article_facts:
            self._article_facts(drafts.article_facts)
        tiedowns.loose(drafts)
        for weight in drafts.weights:
            self._weight(weight)
        if drafts.together:
            self._together(drafts.together)
        for number in drafts.numbers:
            self._number(number)
        self._rest()

    def _rest(self) -> None:
        drafts = self._drafts
        for name, value in drafts.support.items():
            if name in {"bunks", "timbers", "wedges"} and value:
                self.count(value)
        told = dict(drafts.support)
        for name, value in drafts.taken.items():
            if not told.get(name) and not getattr(self._load.support, name):
                told[name] = value
                self.assumed.append(drafts.taken_assumed[name])
        if told:
            last = ("support", 0) if drafts.counted and not drafts.nouns else None
            self.change(SetSupport(fields=told), focus=last)
        elif drafts.taken:
            self.remarks.append(f"{' and '.join(drafts.taken).capitalize()}: as I have it.")
        self._parts()
        self.change(*(AddSeen(name=name) for name in drafts.seen), *(DropSeen(name=name) for name in drafts.mended))

    def _parts(self) -> None:
        drafts = self._drafts
        if drafts.row:
            self.change(SetRow(row=Row(drafts.row)))
        if drafts.slack:
            self.change(SetPart(part="slack", fields=drafts.slack))
            if drafts.slack.get("lip_in") and "lip" not in self._load.seen:
                self.change(AddSeen(name="lip"))  # whoever measures a lip has seen one
        if _LIPS & {*drafts.mended} and self._load.slack.lip_in is not None:
            self.change(SetPart(part="slack", fields={"lip_in": None}))
        if drafts.front:
            self.change(SetPart(part="front", fields=drafts.front))
        if drafts.yard is not None:
            self.change(SetYard(yard=drafts.yard))

    # ---- coils ----

    def _coils(self, draft: Draft) -> None:
        if draft.verb == "remove":
            self._remove_coil()
            return
        told = dict(draft.facts)
        weights = [checked_weight(weight, "coils", self._limits) for weight in draft.weights]
        self._note_weights(draft.weights)
        if draft.count is not None:
            self.count(draft.count)
        if len(weights) > 1 or (draft.apart and weights):
            told = self._in_place_of_unweighed(draft) | told
            for pounds in weights:
                self._add_coil({**told, "weight_lb": pounds})
            missing = (draft.count or 0) - len(weights)
            if missing > 0:
                self._add_coil({**told, "count": missing})
            return
        told |= {"weight_lb": weights[0]} if weights else {}
        told |= {"count": draft.count} if draft.count is not None else {}
        if self._doubtful_weight(told, draft.weights):
            return
        new_too = draft.another and len(self._load.coils) > len(self._before.coils)
        if draft.verb == "add" or new_too or not self._load.coils:
            self._add_coil(told)
        else:
            self._known_coil(told, fix=draft.verb == "fix")

    def _in_place_of_unweighed(self, draft: Draft) -> Facts:
        """Take off the coils that are now told one by one, and return what was known of them."""
        if not self._load.coils or draft.verb == "add":
            return {}
        group = self._load.coils[0]
        if len(self._load.coils) > 1 or group.weight_lb is not None or group.count != draft.count:
            self.refuse("There are coils on the deck already. Say start over, or tell me what to add.")
        self.change(Remove(noun="coils", index=0))
        return group.model_dump(include={"eye", "metal"})

    def _note_weights(self, weights: list[Weight]) -> None:
        for weight in weights:
            if weight.thousands_unsaid:
                self.assumed.append(f"I take {weight.pounds / 1000:g} as {weight.pounds:,.0f} lb.")
            if weight.assumed:
                self.assumed.append(weight.assumed)

    def _doubtful_weight(self, told: Facts, weights: list[Weight]) -> bool:
        """Ask about a coil so light that thousands were meant, or misheard."""
        pounds = told.get("weight_lb")
        if pounds is None or pounds >= self._limits["coil_min_lb"]:
            return False
        thousands = {**told, "weight_lb": pounds * 1000}
        plausible = thousands["weight_lb"] <= self._limits["coil_max_lb"] and weights[0].unit in {"", "pound"}
        if not plausible:
            self.refuse(f"I heard a coil of {pounds:,.0f} pounds. Say the weight again.")
        self.ask(
            Question(
                text=f"I heard {pounds:,.0f} pounds. Do you mean {pounds * 1000:,.0f} pounds?",
                expects="yes or no",
                on={"yes": self._coil_changes(thousands), "no": ()},
            )
        )
        return True

    def _coil_changes(self, told: Facts) -> tuple[Change, ...]:
        if self._load.coils:
            return (SetFields(noun="coils", index=len(self._load.coils) - 1, fields=told),)
        return (AddCoils(coil=Coil(**told)),)

    def _add_coil(self, told: Facts) -> None:
        self.change(AddCoils(coil=Coil(**told)), focus=("coils", len(self._load.coils)))

    def _known_coil(self, told: Facts, *, fix: bool) -> None:
        """Tell facts of a coil that is there: fill in, correct, or ask which it is."""
        index = self._coil_in_focus() if fix else len(self._load.coils) - 1
        coil = self._load.coils[index]
        differs = {key for key, value in told.items() if getattr(coil, key) not in {None, value}}
        open_count = differs == {"count"} and coil.count == 1 and coil.weight_lb is None
        if fix or not differs or open_count:
            new = {key: value for key, value in told.items() if getattr(coil, key) != value}
            if new:
                self.change(SetFields(noun="coils", index=index, fields=new), focus=("coils", index))
            else:
                self.focus = ("coils", index)
            return
        if len(differs) == 1 and differs <= {"eye", "metal"}:
            self.change(SetFields(noun="coils", index=index, fields=told), focus=("coils", index))
            self.remarks.append(f"Changed: the coil's {differs.pop()}.")
            return
        there = (
            f"{coil.weight_lb:,.0f} pound coil"
            if coil.weight_lb
            else f"{coil.count} coils"
            if coil.count > 1
            else "coil"
        )
        self.ask(
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
        if self.focus and self.focus[0] == "coils" and self.focus[1] < len(self._load.coils):
            return self.focus[1]
        return len(self._load.coils) - 1

    def _remove_coil(self) -> None:
        if not self._load.coils:
            self.remarks.append("There is no coil to take off.")
            return
        self.change(Remove(noun="coils", index=len(self._load.coils) - 1))
        self.focus = None

    def _coil_facts(self, facts: Facts) -> None:
        if not self._load.coils and facts.keys() == {"metal"}:
            self.refuse(f"I heard {facts['metal']}, but not what is made of it. Say coil, or what else it is.")
        if not self._load.coils:
            self._add_coil(facts)
            return
        for index, coil in enumerate(self._load.coils):
            if any(getattr(coil, key) != value for key, value in facts.items()):
                self.change(SetFields(noun="coils", index=index, fields=facts))
        self.focus = ("coils", len(self._load.coils) - 1)

    # ---- articles ----

    def _article(self, draft: Draft) -> None:
        if draft.verb == "remove":
            self._remove_article(draft.facts["name"])
            return
        told = dict(draft.facts)
        for weight in draft.weights[:1]:
            told["weight_lb"] = checked_weight(weight, "articles", self._limits)
        self._note_weights(draft.weights)
        told["count"] = self.count(draft.count or 1)
        same = [index for index, article in enumerate(self._load.articles) if article.name == told["name"]]
        if draft.verb == "fix" and same:
            self.change(SetFields(noun="articles", index=same[-1], fields=told), focus=("articles", same[-1]))
            return
        self.change(AddArticles(article=Article(**told)), focus=("articles", len(self._load.articles)))

    def _remove_article(self, name: str) -> None:
        for index, article in reversed(list(enumerate(self._load.articles))):
            if article.name == name:
                self.change(Remove(noun="articles", index=index))
                self.focus = None
                return
        self.remarks.append(f"There is no {name} to take off.")

    def _article_facts(self, facts: Facts) -> None:
        """Tell an article's facts without naming it; blocking is the coils' where there is no article."""
        if self._load.articles:
            last = len(self._load.articles) - 1
            index = min(self.focus[1], last) if self.focus and self.focus[0] == "articles" else last
            self.change(SetFields(noun="articles", index=index, fields=facts), focus=("articles", index))
            return
        blocked = {key: value for key, value in facts.items() if key == "blocked_forward"}
        if blocked != facts:
            self.refuse("I heard a length, but nothing on the deck that needs one.")
        self.change(SetSupport(fields=blocked))

    # ---- weights and numbers alone ----

    def _weight(self, weight: Weight) -> None:
        focus = self.focus
        on_article = bool(focus and focus[0] == "articles" and focus[1] < len(self._load.articles))
        self._note_weights([weight])
        if on_article and focus:
            pounds = checked_weight(weight, "articles", self._limits)
            article = self._load.articles[focus[1]]
            if article.weight_lb is None or self._drafts.fix:
                self.change(SetFields(noun="articles", index=focus[1], fields={"weight_lb": pounds}), focus=focus)
                return
        told = {"weight_lb": checked_weight(weight, "coils", self._limits)}
        if self._doubtful_weight(told, [weight]):
            return
        without = [index for index, coil in enumerate(self._load.coils) if coil.weight_lb is None]
        if without and self._drafts.apart and self._load.coils[without[0]].count > 1:
            self._weigh_one(without[0], told)
        elif self._drafts.fix and self._load.coils:
            self._known_coil(told, fix=True)
        elif without:
            self.change(SetFields(noun="coils", index=without[0], fields=told), focus=("coils", without[0]))
        elif not self._load.coils:
            self.assumed.append("A weight by itself is taken as one coil's.")
            self._add_coil(told)
        else:
            self._known_coil(told, fix=False)

    def _weigh_one(self, index: int, told: Facts) -> None:
        """Tell the weight of one coil out of a group."""
        group = self._load.coils[index]
        one = group.model_copy(update={"count": 1, **told})
        self.change(
            SetFields(noun="coils", index=index, fields={"count": group.count - 1}),
            AddCoils(coil=one),
            focus=("coils", index),
        )

    def _together(self, weight: Weight) -> None:
        """Share a total among coils that are on the deck already."""
        count = sum(coil.count for coil in self._load.coils)
        if not count:
            self.refuse("I heard a total, but not of how many coils. Say how many coils there are.")
        if count > 1 and (len(self._load.coils) > 1 or self._load.coils[0].weight_lb is not None):
            self.refuse("I heard a total, but the coils are told one by one. Say what each one weighs.")
        if count > 1:
            self.assumed.append("Coils weighed together are taken as equally heavy.")
        self._weight(weight._replace(pounds=weight.pounds / count))

    def _number(self, number: int) -> None:
        noun, index = self.focus or ("", 0)
        if noun not in {"coils", "articles", "tiedowns"} or index >= len(getattr(self._load, noun)):
            noun = ""
        if self._drafts.fix and noun == "tiedowns":
            kind = self._load.tiedowns[index].kind
            if sum(group.kind is kind for group in self._load.tiedowns) > 1:
                self.refuse(f"There are several groups of {kind.value}s. Say how many hold forward, how many rearward.")
            fields = {"count": self.count(number)}
            self.change(SetFields(noun="tiedowns", index=index, fields=fields), focus=self.focus)
        elif self._drafts.fix and noun == "coils" and number in _TRADE_COIL:
            self._weight(Weight(number * 1000.0, thousands_unsaid=True, unit="", assumed=""))
        elif self._drafts.fix and noun in {"coils", "articles"}:
            fields = {"count": self.count(number)}
            self.change(SetFields(noun="coils" if noun == "coils" else "articles", index=index, fields=fields))
        elif any(coil.weight_lb is None for coil in self._load.coils) and number in _TRADE_COIL:
            self._weight(Weight(number * 1000.0, thousands_unsaid=True, unit="", assumed=""))
        else:
            self.refuse(f"I heard the number {number:,}, but not what it counts. Say it with its name.")

"""From drafts to changes: what was told is laid beside what is known, and doubt becomes a question."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from copy import deepcopy
from typing import Any, NoReturn

from pydantic import ValidationError

from assistant.load.change import (
    AddArticles,
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
from assistant.load.model import Article, Coil, Kind, Load, Row
from assistant.phrase.coils import CoilTalk
from assistant.phrase.draft import Draft, Drafts
from assistant.phrase.meaning import Facts, Focus, Meaning, Question
from assistant.phrase.plausible import Refused, cannot_be, checked_count, checked_weight
from assistant.phrase.slots import Weight
from assistant.phrase.tiedowns import TiedownTalk
from assistant.phrase.which import name_of

_TRADE_COIL = range(10, 81)
"""A bare number in this range can be a coil's thousands of pounds ("no, forty two"); common practice, no source."""

_GEAR = frozenset({"damaged chain", "damaged strap", "damaged hook"})
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
    drafts = deepcopy(drafts)  # taking them changes them, and the same utterance may be tried in several ways
    talk = _Talk(drafts, load, focus, limits)
    try:
        talk.take_all()
    except Refused as refused:
        return Meaning(refused=(str(refused),))
    except ValidationError as impossible:
        return Meaning(refused=(cannot_be(impossible),))
    nouns = [draft.noun for draft in drafts.nouns if draft.verb != "remove"]
    if nouns[-1:] == ["tiedowns"] and talk.load.tiedowns and (talk.focus or ("", 0))[0] != "tiedowns":
        talk.focus = ("tiedowns", len(talk.load.tiedowns) - 1)  # the noun told last, whatever was settled last
    return Meaning(
        changes=tuple(talk.changes),
        question=talk.question,
        assumed=tuple(dict.fromkeys([*drafts.assumed, *talk.assumed])),
        remarks=tuple(talk.remarks),
        lead=talk.lead,
        open=talk.open,
        focus=talk.focus,
    )


def _values(load: Load) -> Iterator[Any]:
    """Yield every number of a load, and how its coils lie."""
    for noun in (*load.coils, *load.articles, *load.tiedowns, load.support):
        for value in noun.model_dump(exclude_none=True, mode="json").values():
            if isinstance(value, int | float) and not isinstance(value, bool):
                yield float(value)
    yield from (coil.eye.value for coil in load.coils if coil.eye)
    yield from (float(tiedown.grade) for tiedown in load.tiedowns if tiedown.grade)


class _Talk:
    """Takes the drafts one after another against a running load."""

    def __init__(self, drafts: Drafts, load: Load, focus: Focus | None, limits: Mapping[str, float]) -> None:
        self._drafts = drafts
        self.before = load
        self._load = load
        self.limits = limits
        self.focus = focus
        self.changes: list[Change] = []
        self.question: Question | None = None
        self.assumed: list[str] = []
        self.remarks: list[str] = []
        self.lead = ""
        self.open = ""
        self.coils = CoilTalk(self)

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
        return checked_count(count, self.limits)

    def take_all(self) -> None:  # noqa: C901 - one branch a part of what was told
        """Take everything the utterance told."""
        drafts = self._drafts
        if drafts.clash:
            self.refuse(drafts.clash)
        tiedowns = TiedownTalk(self)
        self._tags()
        for draft in drafts.nouns:
            if draft.noun == "coils":
                self.coils.take(draft)
            elif draft.noun == "articles":
                self._article(draft)
            else:
                tiedowns.take(draft)
        if drafts.coil_facts:
            self.coils.facts(drafts.coil_facts)
        if drafts.article_facts:
            self._article_facts(drafts.article_facts)
        tiedowns.loose(drafts)
        if drafts.same_again:
            self._same_again()
        for weight in drafts.weights:
            self._weight(weight)
        if drafts.together:
            self._together(drafts.together)
        for number in drafts.numbers:
            self._number(number)
        self._rest()
        if drafts.denied:
            self._denied(drafts.denied)

    def _denied(self, denied: list[Any]) -> None:
        """Refuse "four not five" unless a five was there and has become another number, and nothing else changed."""
        gone = Counter(_values(self.before)) - Counter(_values(self._load))
        meant = {*denied, *(1000 * one for one in denied if isinstance(one, int | float))}
        if not gone or not gone.keys() <= meant:
            said = " and ".join(f"{one:,g}" if isinstance(one, int | float) else str(one) for one in denied)
            self.refuse(f"I heard “not {said}”, but that is not what I have there. Say what it is, with its name.")

    def _rest(self) -> None:
        drafts = self._drafts
        for name, value in drafts.support.items():
            if name in {"bunks", "timbers", "wedges"} and value:
                self.count(value)
        told = self._with_their_number({**drafts.support, **self._more(drafts)})
        for name, value in drafts.taken.items():
            if not told.get(name) and not getattr(self._load.support, name):
                told[name] = value
                self.assumed.append(drafts.taken_assumed[name])
        if told:
            last = ("support", 0) if drafts.counted and not drafts.nouns else None
            self.change(SetSupport(fields=told), focus=last)
        elif drafts.taken:
            self.remarks.append(f"{' and '.join(drafts.taken).capitalize()}: as I have it.")
        if drafts.uncounted and not self._load.support.bunks:
            self.open = "How many bunks are there?"
            self.change(SetSupport(fields={"some_bunks": True}))
        elif drafts.uncounted:
            self.remarks.append("Bunks: as I have it.")
        self._parts()
        if drafts.mended_it:
            self._mended_it()
        self._mended(drafts.mended)
        self.change(*(AddSeen(name=name) for name in drafts.seen))

    def _with_their_number(self, told: Facts) -> Facts:
        """Return what is told of the support; bunks that have their number now are no longer some."""
        counted = "bunks" in told and self._load.support.some_bunks
        return {**told, "some_bunks": None} if counted else told

    def _mended_it(self) -> None:
        """Strike the one thing that is wrong: what was seen, or the damage to one group of tiedowns."""
        damaged = [index for index, group in enumerate(self._load.tiedowns) if group.damaged]
        wrong = [*self._load.seen, *(f"damaged {self._load.tiedowns[index].kind}" for index in damaged)]
        if len(wrong) != 1:
            said = "I know of nothing that was to be mended." if not wrong else f"Say which: {', or the '.join(wrong)}."
            self.refuse(said)
        if damaged:
            self.change(SetFields(noun="tiedowns", index=damaged[0], fields={"damaged": False}))
        self._mended(wrong)

    def _mended(self, names: Sequence[str]) -> None:
        """Strike what was seen; of gear, say what its replacement is taken for."""
        self.change(*(DropSeen(name=name) for name in names))
        self.assumed += [f"I took what replaces the {name} as like the others." for name in names if name in _GEAR]

    def _more(self, drafts: Drafts) -> Facts:
        """Return how many bunks, timbers or wedges there are with those put in and taken out."""
        told: Facts = {}
        for name, more in drafts.more.items():
            there = getattr(self._load.support, name)
            if there is None and not (more > 0 and name in drafts.adds):
                which = "more" if more > 0 else "fewer"
                self.refuse(f"I heard {which} {name}, but not how many there were. Say how many there are in all.")
            if (there or 0) + more < 0:
                self.refuse(f"There are {there} {name}. Say how many there are in all.")
            told[name] = (there or 0) + more
        return told

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

    def _tags(self) -> None:
        """Take what a tag says behind straps as their mark, where no coil waits for its weight."""
        waits = not self._load.coils or any(coil.weight_lb is None for coil in self._load.coils)
        for draft, weight in self._drafts.tagged:
            if draft.kind is not Kind.STRAP or waits:
                name = name_of(draft.kind or Kind.CHAIN, 2)
                heard = f"I heard a tag of {weight.pounds:,.0f} pounds."
                self.refuse(f"{heard} Say the coil weighs that, or the {name} are marked that.")
            draft.facts["marked_lb"] = weight.pounds

    # ---- articles ----

    def _article(self, draft: Draft) -> None:
        if draft.verb == "remove":
            self._remove_article(draft.facts["name"])
            return
        told = dict(draft.facts)
        for weight in draft.weights[:1]:
            told["weight_lb"] = checked_weight(weight, "articles", self.limits)
        self.coils.note_weights(draft.weights)
        same = [index for index, article in enumerate(self._load.articles) if article.name == told["name"]]
        if draft.there and same and draft.verb == "state":
            self._article_there(same[-1], told)
            return
        told["count"] = self.count(draft.count or 1)
        if draft.verb == "fix" and same:
            self.change(SetFields(noun="articles", index=same[-1], fields=told), focus=("articles", same[-1]))
            return
        self.change(AddArticles(article=Article(**told)), focus=("articles", len(self._load.articles)))

    def _article_there(self, index: int, told: Facts) -> None:
        """Tell more of an article that is on the deck: "the crate is ten foot long"."""
        article = self._load.articles[index]
        if told.keys() == {"name"} and not self._drafts.article_facts:
            self.refuse(f"I heard the {article.name}, but not what of it. Say it again.")
        if article.weight_lb and told.get("weight_lb", article.weight_lb) != article.weight_lb:
            self.remarks.append(f"Changed: it was {article.weight_lb:,.0f} lb.")
        self.change(SetFields(noun="articles", index=index, fields=told), focus=("articles", index))

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

    def _same_again(self) -> None:
        """Bring in one more coil or article like the last one told; tiedowns are never told twice so."""
        load, drafts = self._load, self._drafts
        if drafts.tiedown_facts or drafts.tiedown_some or drafts.nouns:
            self.refuse("Say what is the same, and how many.")
        noun, index = self.focus or ("", 0)
        if noun not in {"coils", "articles"}:
            noun = "coils" if load.coils else "articles"
            index = len(load.coils or load.articles) - 1
        group = (load.coils if noun == "coils" else load.articles)[index : index + 1] if index >= 0 else ()
        if not group:
            self.refuse("There is nothing on the deck yet that another could be like.")
        if group[0].count > 1:
            self.refuse(f"There are {group[0].count} alike. Say how many there are in all.")
        change = SetFields(noun="coils" if noun == "coils" else "articles", index=index, fields={"count": 2})
        self.change(change, focus=(noun, index))
        name = "coil" if isinstance(group[0], Coil) else group[0].name
        self.lead = f"Another {name} like the last"
        self.remarks.append("Tiedowns as they are.")

    # ---- weights and numbers alone ----

    def _weight(self, weight: Weight) -> None:
        focus = self.focus
        on_article = bool(focus and focus[0] == "articles" and focus[1] < len(self._load.articles))
        self.coils.note_weights([weight])
        if on_article and focus:
            pounds = checked_weight(weight, "articles", self.limits)
            article = self._load.articles[focus[1]]
            if article.weight_lb is None or self._drafts.fix:
                self.change(SetFields(noun="articles", index=focus[1], fields={"weight_lb": pounds}), focus=focus)
                return
        told = {"weight_lb": checked_weight(weight, "coils", self.limits)}
        if self.coils.doubtful_weight(told, [weight]):
            return
        without = [index for index, coil in enumerate(self._load.coils) if coil.weight_lb is None]
        if without and self._drafts.apart and self._load.coils[without[0]].count > 1:
            self.coils.weigh_one(without[0], told)
        elif self._drafts.fix and self._load.coils:
            self.coils.known(told, fix=True)
        elif without:
            self.change(SetFields(noun="coils", index=without[0], fields=told), focus=("coils", without[0]))
        elif not self._load.coils:
            self.assumed.append("A weight by itself is taken as one coil's.")
            self.coils.add(told)
        else:
            self.coils.known(told, fix=False)

    def _together(self, weight: Weight) -> None:
        """Share a total among coils that are on the deck already."""
        count = sum(coil.count for coil in self._load.coils)
        if not count:
            self.refuse("I heard a total, but not of how many coils. Say how many coils there are.")
        if count > 1 and (len(self._load.coils) > 1 or self._load.coils[0].weight_lb is not None):
            self.refuse("I heard a total, but the coils are told one by one. Say what each one weighs.")
        if count > 1:
            self.assumed.append("Coils weighed together are taken as equally heavy.")
        self._weight(weight._replace(pounds=weight.pounds / count, maybe=weight.maybe / count))

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
            self.lead = f"{number} {name_of(kind, number)}"  # which of them was meant, is heard
        elif self._drafts.fix and noun == "coils" and number in _TRADE_COIL:
            self._weight(Weight(number * 1000.0, thousands_unsaid=True, unit="", assumed=""))
        elif (
            self._drafts.fix
            and noun in {"coils", "articles"}
            and not (noun == "coils" and self._load.tiedowns and self._load.coils[index].count == 1)
        ):
            fields = {"count": self.count(number)}
            self.change(SetFields(noun="coils" if noun == "coils" else "articles", index=index, fields=fields))
        elif any(coil.weight_lb is None for coil in self._load.coils) and number in _TRADE_COIL:
            self._weight(Weight(number * 1000.0, thousands_unsaid=True, unit="", assumed=""))
        elif noun == "tiedowns" and len(self._load.tiedowns) == 1 and 0 < number <= self.limits["count_max"]:
            name = name_of(self._load.tiedowns[index].kind, number)
            changes = (SetFields(noun="tiedowns", index=index, fields={"count": number}),)
            self.ask(Question(text=f"Do you mean {number} {name}?", expects="yes or no", on={"yes": changes, "no": ()}))
        else:
            self.refuse(f"I heard the number {number:,}, but not what it counts. Say it with its name.")

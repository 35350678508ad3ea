"""Questions about the load, the gear and the rules, answered from the engine's findings."""

import math
from collections.abc import Mapping
from typing import Any

from assistant.conversation import Conversation
from assistant.judging import judge
from assistant.kit import Kit
from assistant.load.change import revised
from assistant.load.model import Coil, Gear, GearList, Kind, Load, Tiedown
from assistant.phrase.examples import sayings
from assistant.say.answer import Answer, KeepGear
from assistant.say.ear import finding_spoken, spoken
from assistant.say.readback import describe, describe_spoken
from assistant.say.screen import finding_shown, shown, why
from assistant.say.spell import spell
from assistant.securement.advice import how_many, least_count
from assistant.securement.finding import Basis, Finding, Judgement, Status
from assistant.securement.least_change import least_change, words_of
from assistant.securement.rating import rate
from assistant.securement.rule_sets import RuleSet, in_words
from assistant.securement.us_392_9 import next_look
from assistant.securement.us_393_110 import least_blocked, least_unblocked
from assistant.securement.wording import counted, described, inches, many, pounds
from assistant.talk import not_understood, plain
from assistant.understand.heard import Fragment


def answer_question(
    utterance: str, part: Fragment, conversation: Conversation, kit: Kit
) -> tuple[Answer, Conversation]:
    """Answer one question, or take the driver's own gear."""
    match part.name:
        case "gear" | "gear_binders" | "gear_unmarked":
            return _take_gear(utterance, part, conversation, kit)
        case "show_gear":
            return plain(utterance, "gear", conversation, _gear_line(conversation.gear),
                         show=_gear_lines(conversation.gear)), conversation  # fmt: skip
        case "how_many" | "how_many_any":
            return _how_many(utterance, part, conversation, kit), conversation
        case "next_stop":
            finding = next_look(tables=kit.tables, on=kit.on)
            answer = plain(utterance, "next stop", conversation, "", show=finding_shown(finding))
            return answer.model_copy(update={"say": finding_spoken(finding)}), conversation
        case "rating":
            return _rating(utterance, part, conversation, kit), conversation
        case "movement":
            from assistant.movement_talk import answer_movement  # noqa: PLC0415 - numpy, only when asked for

            return answer_movement(utterance, conversation, kit), conversation
        case "show_rules":
            text = f"Judged by {in_words(conversation.rules)}."
            return plain(utterance, "rules", conversation, text), conversation
        case "least":
            return _least(utterance, conversation, kit), conversation
        case "help":
            return plain(utterance, "help", conversation, _HELP, show=_help_lines(kit)), conversation
        case _:
            return _about_load(utterance, part.name, conversation, kit), conversation


_HELP = "Say the coil's weight, which way the eye points, what it rests on, and what holds it. Then ask: does it hold?"


def _help_lines(kit: Kit) -> str:
    lines = ["What you can say, in any order, several things in one breath:"]
    for theme, told in sayings(kit.understander.grammar).items():
        lines += ["", theme, *(f"  {saying.example}" for saying in told)]
    return "\n".join([*lines, "", "Every form there is: deckside phrases"]) + "\n"


def _about_load(utterance: str, name: str, conversation: Conversation, kit: Kit) -> Answer:
    """Answer "read that back", "what does it hold" and "why"."""
    load = conversation.load
    judgement = judge(conversation, kit)
    answer = plain(utterance, name.replace("_", " "), conversation, "").model_copy(update={"judgement": judgement})
    if name == "read_back":
        return answer.model_copy(update={"say": describe_spoken(load), "show": describe(load, judgement.rated)})
    if name == "holds":
        return answer.model_copy(update={"say": _holds(judgement), "show": shown(judgement, load)})
    lead = judgement.findings[0] if judgement.findings else None
    reason = f"By {lead.rule}: {lead.text}" if lead else "Nothing was judged yet."
    return answer.model_copy(update={"say": spell(reason), "show": why(judgement)})


def _holds(judgement: Judgement) -> str:
    if judgement.counted_lb is None and judgement.needed_lb is not None and not judgement.rated:
        return spell(f"Half the weight is {pounds(judgement.needed_lb)}. No tiedowns are told yet.")
    if judgement.counted_lb is None:
        return spoken(judgement)
    counted = f"The tiedowns count {pounds(judgement.counted_lb)}"
    if judgement.needed_lb is None:
        return spell(f"{counted}. The load's weight is not told yet.")
    over = judgement.counted_lb - judgement.needed_lb
    margin = f"{pounds(abs(over))} {'over' if over >= 0 else 'short'}"
    return spell(f"{counted}. Half the weight is {pounds(judgement.needed_lb)}: {margin}.")


def _named(tiedown: Tiedown) -> str:
    """Return a tiedown as it is said: "3/8 in grade 70 chain"."""
    size = [f"{inches(tiedown.size_in)} in"] if tiedown.size_in else []
    grade = [f"grade {tiedown.grade}"] if tiedown.grade else []
    return " ".join([*size, *grade, str(tiedown.kind)])


def _how_many(utterance: str, part: Fragment, conversation: Conversation, kit: Kit) -> Answer:
    """Answer for the kind asked; without one, for the kind in use, or chains."""
    asked = part.values.get("kinds") or part.values.get("kind")
    if "length" in part.values:
        return _how_many_by_length(utterance, part, conversation, kit)
    load, gear = conversation.load, conversation.gear
    if "weight" in part.values:  # of a load that is not on the deck
        load = Load(coils=(Coil(weight_lb=part.values["weight"]),))
    groups = load.tiedowns
    kind = Kind(asked) if asked else groups[-1].kind if groups else Kind.CHAIN
    made = {
        f"{name}_in" if name == "size" else name: part.values[name] for name in ("size", "grade") if name in part.values
    }
    if made:  # of such gear, whatever the driver's own is
        others = tuple(item for item in gear.items if item.kind is not kind)
        gear = GearList(items=(*others, Gear(kind=kind, **made)), sample=False)
    finding = how_many(load, kind=kind, tables=kit.tables, gear=gear, on=kit.on)
    judgement = judge(conversation, kit)
    told = _how_many_more(finding, judgement, load, kind, kit) if groups and not made else ""
    show = f"{told}\n{finding_shown(finding)}" if told else finding_shown(finding)
    answer = plain(utterance, "how many", conversation, told, show=show).model_copy(update={"judgement": judgement})
    if told:
        return answer
    asks = (finding.remedy,) if finding.remedy.endswith("?") else ()
    return answer.model_copy(update={"say": finding_spoken(finding), "asks": asks})


def _how_many_by_length(utterance: str, part: Fragment, conversation: Conversation, kit: Kit) -> Answer:
    """Answer for a load of which nothing but its length is told; what weighs little may need one less."""
    if conversation.rules is not RuleSet.US:
        text = "I count by length by the federal rule alone. Say use the federal rule."
        return not_understood(utterance, conversation, text)
    length_ft, name = part.values["length"].feet(kit.understander.grammar.definitions), part.values["kinds"]
    free = least_unblocked(length_ft=length_ft, weight_lb=math.inf, tables=kit.tables, on=kit.on)
    blocked = least_blocked(length_ft=length_ft, tables=kit.tables, on=kit.on)
    text = (
        f"By its length a load {length_ft:g} ft long wants at least {counted(free.number, name)}, or {blocked.number} "
        "where it is blocked in front. They must hold half its weight too: what does it weigh?"
    )
    clauses = f"{free.row.clause}\n{blocked.row.clause}\n"
    return plain(utterance, "how many", conversation, text, show=f"{text}\n{clauses}")


def _how_many_more(finding: Finding, judgement: Judgement, load: Load, kind: Kind, kit: Kit) -> str:
    """Return how many more of a kind there must be beside all that is on; nothing where that cannot be told."""
    needed, counted_lb = judgement.needed_lb, judgement.counted_lb
    each = next((step.value for step in finding.trace if step.what.startswith("gear: ")), None)
    if needed is None or counted_lb is None or not isinstance(each, int | float) or finding.status is not Status.MEETS:
        return ""
    least, _, unknown = least_count(load=load, tables=kit.tables, on=kit.on)
    by_count = least - sum(group.count for group in load.tiedowns)
    more = max(math.ceil((needed - counted_lb) / each), by_count, 0)
    what = f"Put on {more} more {many(kind) if more > 1 else kind}" if more else "No more by weight and number"
    gear = ", going by sample gear" if any(group.basis is Basis.SAMPLE_GEAR for group in judgement.rated) else ""
    sums = f"What is on counts {pounds(counted_lb)}, half the weight is {pounds(needed)}."
    wanted = judgement.findings[0].remedy if judgement.findings and not more else ""
    return f"{what}{gear}. {unknown.strip() or wanted or sums}"


def _least(utterance: str, conversation: Conversation, kit: Kit) -> Answer:
    """Answer "what do I add": the least that mends what is short, then with a spare."""
    load, gear = conversation.load, conversation.gear
    if conversation.rules is not RuleSet.US:
        text = "I work out the least to add by the federal rule alone. Say use the federal rule."
        return not_understood(utterance, conversation, text)
    advice = least_change(load, tables=kit.tables, gear=gear, on=kit.on)
    judgement = judge(conversation, kit)
    said = advice.finding.remedy or advice.finding.text
    if advice.additions:
        spare = (
            f"With a spare: {words_of(advice.with_spare)}." if len(advice.with_spare) > len(advice.additions) else ""
        )
        said = f"{said} {spare}".strip()
    answer = plain(utterance, "advice", conversation, said, show=finding_shown(advice.finding))
    return answer.model_copy(update={"judgement": judgement})


def _rating(utterance: str, part: Fragment, conversation: Conversation, kit: Kit) -> Answer:
    """Answer what a tiedown is good for by the tables, whatever the gear list says."""
    values = part.values
    kind = Kind(values.get("kind", Kind.CHAIN))  # only chains bear grades: "a half inch grade eighty" is one
    if "size" not in values:
        return _rating_of_those_on(utterance, kind, conversation, kit)
    tiedown = Tiedown(kind=kind, size_in=values["size"], grade=values.get("grade"))
    if tiedown.kind is Kind.CHAIN and tiedown.grade is None:
        text = f"A {_named(tiedown)} goes by its grade. Ask with the grade that is stamped on it."
        return not_understood(utterance, conversation, text)
    rated = rate(tiedown, tables=kit.tables, gear=GearList(), on=kit.on)
    if rated.wll_lb is None:
        text = f"The tables have no working load limit for a {_named(tiedown)}. Go by the maker's mark."
        return not_understood(utterance, conversation, text)
    clause = rated.trace[0].ref if rated.trace else ""
    text = f"A {_named(tiedown)} is good for {pounds(rated.wll_lb)}, unless it is marked otherwise."
    return plain(utterance, "rating", conversation, text, show=f"{text}\n{clause}\n")


_BY = {
    Basis.MARKED: "its mark",
    Basis.TABLE: "the table",
    Basis.GEAR_LIST: "the gear list",
    Basis.SAMPLE_GEAR: "sample gear",
}


def _rating_of_those_on(utterance: str, kind: Kind, conversation: Conversation, kit: Kit) -> Answer:
    """Answer what one of a kind is good for: of those on the load, or of the gear list where none are on."""
    judgement = judge(conversation, kit)
    rated = [group for group in judgement.rated if group.tiedown.kind is kind]
    known = rated or [rate(Tiedown(kind=kind), tables=kit.tables, gear=conversation.gear, on=kit.on)]
    if any(group.wll_lb is None for group in known):
        text = f"I can't tell what one {kind} is good for. Say its size, and for a chain its grade."
        return not_understood(utterance, conversation, text)
    worth = {(group.wll_lb, group.basis, group.counts_lb / group.tiedown.count) for group in known}
    told = [
        f"{pounds(wll_lb or 0)} by {_BY[basis]}" + (f", and counts {pounds(counts_lb)}" if rated else "")
        for wll_lb, basis, counts_lb in sorted(worth, reverse=True)
    ]
    text = f"One {kind} is good for {'; another for '.join(told)}."
    clauses = "\n".join(dict.fromkeys(group.trace[0].ref for group in known if group.trace))
    answer = plain(utterance, "rating", conversation, text, show=f"{text}\n{clauses}\n")
    return answer.model_copy(update={"judgement": judgement if rated else None})


# ---- gear ------------------------------------------------------------------------------------------------------------


def _take_gear(utterance: str, part: Fragment, conversation: Conversation, kit: Kit) -> tuple[Answer, Conversation]:
    gear = _gear_with(conversation.gear, part)
    if gear is None:
        text = "The gear list keeps binders with the chains. Tell me the other parts with the load."
        return not_understood(utterance, conversation, text), conversation
    after = conversation.model_copy(update={"gear": gear})
    judgement = judge(after, kit) if after.load != Load() else None
    answer = plain(utterance, "gear", after, _gear_line(gear), show=_gear_lines(gear), effects=(KeepGear(gear=gear),))
    return answer.model_copy(update={"judgement": judgement}), after


def _gear_with(gear: GearList, part: Fragment) -> GearList | None:
    """Return the gear list with what was told; from the first word of their own it is no sample any more."""
    values: Mapping[str, Any] = part.values
    if part.name == "gear_binders":
        if values["part"] != "binder_lb":
            return None
        kind, fields = Kind.CHAIN, {"binder_lb": values["limit"]}
    else:
        word = values.get("kinds") or values.get("kind")  # only chains bear grades: "i run half inch grade eighty"
        kind, fields = Kind(word) if word else Kind.CHAIN, _described(part)
    own = () if gear.sample else tuple(item for item in gear.items if item.kind is not kind)
    old = None if gear.sample else gear.of(kind)
    return GearList(items=(*own, revised(old or Gear(kind=kind), fields)), sample=False)


def _described(part: Fragment) -> dict[str, Any]:
    """Return what a phrase tells of a kind of gear: a new size or grade drops the old mark, which was another's."""
    if part.name == "gear_unmarked":
        return {"unmarked": True, "marked_lb": None}
    names = {"size": "size_in", "grade": "grade", "limit": "marked_lb"}
    told = {field: part.values[slot] for slot, field in names.items() if slot in part.values}
    return {"marked_lb": None, "unmarked": False, **told}


def _gear_line(gear: GearList) -> str:
    if not gear.items:
        return "The gear list is empty."
    whose = "Sample gear, not yours" if gear.sample else "Your gear"
    return f"{whose}: {', '.join(_item(item) for item in gear.items)}."


def _gear_lines(gear: GearList) -> str:
    lines = [_gear_line(gear).partition(":")[0] + ":", *(f"  {_item(item)}" for item in gear.items)]
    hint = "Say for example: my chains are half inch grade seventy."
    return "\n".join([*lines, *([hint] if gear.sample or not gear.items else [])]) + "\n"


def _item(item: Gear) -> str:
    return f"{described(item)}, binder {pounds(item.binder_lb)}" if item.binder_lb else described(item)

"""What would change between two judgements: before and after, worst first, for the ear and for the eye."""

from collections.abc import Iterator

from assistant.load.model import Noun
from assistant.say.ear import first_sentence, lowered, rests_on, spoken
from assistant.say.lines import wrapped
from assistant.say.spell import spell
from assistant.securement.finding import Finding, Judgement, Status
from assistant.securement.wording import weighed

_WORST_FIRST = (Status.STOP, Status.SHORT, Status.ASK, Status.OUTSIDE, Status.LOOK, Status.MEETS, None)
_WEIGHTS = frozenset({"lb", "kg"})
_THEN = {
    Status.STOP: "Then a stop",
    Status.SHORT: "Then short",
    Status.ASK: "Then open",
    Status.OUTSIDE: "Then outside what I check",
    Status.MEETS: "Then met",
}
_NOW = {
    Status.STOP: "now it must not move",
    Status.SHORT: "now it is short",
    Status.ASK: "now I can't tell",
    Status.OUTSIDE: "now it is outside what I check",
    Status.MEETS: "now every rule I checked is met",
}


class Changed(Noun):
    """One rule's result that differs: its status (None where the rule was not judged) and margin, before and after."""

    rule: str
    topic: str
    text: str
    unit: str
    before: Status | None
    after: Status | None
    before_margin: float | None
    after_margin: float | None


def changes(before: Judgement, after: Judgement) -> tuple[Changed, ...]:
    """Return the findings of which status or margin differ, worst first; what only eyes can check is left out."""
    was, will = dict(_keyed(before)), dict(_keyed(after))
    found = []
    for key in dict.fromkeys([*will, *was]):
        old, new = was.get(key), will.get(key)
        shown = new or old
        if shown is None or _same(old, new):
            continue
        found.append(
            Changed(
                rule=shown.rule,
                topic=shown.topic,
                text=shown.text,
                unit=shown.unit,
                before=old.status if old else None,
                after=new.status if new else None,
                before_margin=old.margin if old else None,
                after_margin=new.margin if new else None,
            )
        )
    return tuple(sorted(found, key=lambda change: _WORST_FIRST.index(change.after)))


def changed_spoken(before: Judgement, after: Judgement, changed: tuple[Changed, ...]) -> str:
    """Return in at most two sentences what would be: the verdict, and the one change that matters most."""
    verdict = lowered(first_sentence(spoken(after)).rstrip("."))
    if not changed:
        return f"If so: nothing changes; {verdict}."
    if after.verdict is before.verdict:
        stays = verdict if after.verdict is Status.ASK else _still(verdict)  # what is open may be open elsewhere
        return f"If so: {stays}. {_most(changed)}".strip()
    now = f"; {_now(before)}" if before.verdict else ""
    second = rests_on(after) if after.verdict is Status.MEETS else _most(changed)
    return f"If so: {verdict}{now}. {spell(second)}".strip()


def changed_shown(changed: tuple[Changed, ...]) -> str:
    """Return the list of what would change, for the screen."""
    if not changed:
        return "Nothing would change.\n"
    lines = ["What would change"]
    for change in changed:
        lines += wrapped(
            f"{_word(change.before)} -> {_word(change.after)}: {change.text} ({change.rule})", first="  * "
        )
        if change.before_margin != change.after_margin and change.unit:
            margins = f"{_margin(change.before_margin, change.unit)} -> {_margin(change.after_margin, change.unit)}"
            lines.append(f"      margin {margins}")
    return "\n".join(lines) + "\n"


def _keyed(judgement: Judgement) -> Iterator[tuple[tuple[str, str, int], Finding]]:
    """Yield findings by rule and topic; several of one are told apart by their order."""
    seen: dict[tuple[str, str], int] = {}
    for finding in judgement.findings:
        if finding.status is Status.LOOK:
            continue
        key = (finding.rule, finding.topic)
        yield (*key, seen.get(key, 0)), finding
        seen[key] = seen.get(key, 0) + 1


def _same(old: Finding | None, new: Finding | None) -> bool:
    return old is not None and new is not None and (old.status, old.margin) == (new.status, new.margin)


def _still(verdict: str) -> str:
    """Say that a verdict stays: "every rule I checked is still met"."""
    return verdict.replace(" is met", " is still met", 1) if " is met" in verdict else f"still {verdict}"


def _now(before: Judgement) -> str:
    aggregate = next((finding for finding in before.findings if finding.topic == "aggregate"), None)
    if before.verdict is Status.SHORT and aggregate and aggregate.status is Status.SHORT and aggregate.margin:
        return f"now it is short by {spell(weighed(-aggregate.margin, aggregate.unit))}"
    return _NOW[before.verdict] if before.verdict else ""


def _most(changed: tuple[Changed, ...]) -> str:
    """Return the change that matters most: the worst new status, else the margin of the half-weight sum."""
    turned = next((change for change in changed if change.before is not change.after and change.after), None)
    if turned and turned.after and turned.after is not Status.MEETS:
        return spell(f"{_THEN[turned.after]}: {_brief(turned.text)}.")
    summed = next(
        (change for change in changed if change.topic == "aggregate" and change.before_margin is not None), None
    )
    if summed and summed.before_margin is not None:
        over = f"over by {weighed(summed.before_margin, summed.unit)}" if summed.before_margin >= 0 else ""
        return spell(f"By weight it is now {over or f'short by {weighed(-summed.before_margin, summed.unit)}'}.")
    if turned and turned.after:
        return spell(f"{_THEN[turned.after]}: {_brief(turned.text)}.")
    return ""


def _brief(text: str) -> str:
    """Return a finding's sentence as far as its figures, to go on with."""
    return lowered(first_sentence(text).rstrip(".").partition(": ")[0])


def _word(status: Status | None) -> str:
    return status.value.upper() if status else "not judged"


def _margin(margin: float | None, unit: str) -> str:
    return "not known" if margin is None else f"{margin:+,.{0 if unit in _WEIGHTS else 3}f}".rstrip(".") + f" {unit}"

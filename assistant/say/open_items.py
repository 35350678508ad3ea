"""Open items in words: how each is named, asked about and judged."""

from collections.abc import Sequence

from assistant.load.open_item import OpenItem, Why
from assistant.securement.finding import Finding, Judgement, Mark, Status, Step

HOW_MANY_BUNKS = "How many bunks are there?"
_RULE = "what was said"
_MOST_NAMED = 2
_WHY = {
    Why.UNKNOWN_WORD: "I don't know what to make of “{}”",
    Why.NOT_PLACED: "I could not place “{}”",
    Why.DENIED: "I heard a no, and not what of: “{}”",
    Why.NOT_NOW: "I left out “{}”: that is not so now",
    Why.NOT_YET: "I left out “{}”: that is not done yet",
    Why.ELSEWHERE: "I left out “{}”: that is not on this load",
    Why.CLASH: "I could not take both: “{}”",
    Why.CUT_OFF: "You broke off: “{}”",
    Why.UNSETTLED: "I asked, and was not told: “{}”",
}


def named(item: OpenItem) -> str:
    """Return one sentence that names an open item and why it is open."""
    return f"{_WHY[item.why].format(item.said)}."


def asked(items: Sequence[OpenItem]) -> str:
    """Return the question for open items: by name, and how to be rid of them."""
    said = " and ".join(f"“{item.said}”" for item in items[:_MOST_NAMED])
    more = f" and {len(items) - _MOST_NAMED} more" if len(items) > _MOST_NAMED else ""
    return f"What about {said}{more}? Say it in other words, or never mind that."


def spoken(items: Sequence[OpenItem]) -> str:
    """Return what was not taken as it is said aloud, once."""
    return " ".join(named(item) for item in items[:_MOST_NAMED])


def with_open(judgement: Judgement, items: Sequence[OpenItem]) -> Judgement:
    """Return a judgement that is no better than `ask` while something said is open."""
    if not items:
        return judgement
    finding = Finding(
        rule=_RULE,
        status=Status.ASK,
        text=" ".join(named(item) for item in items),
        remedy=asked(items),
        mark=Mark.DERIVED,
        trace=tuple(Step(what="said", value=item.said, formula=item.why) for item in items),
        topic="open",
    )
    worse = [one for one in judgement.findings if one.status in {Status.STOP, Status.SHORT, Status.ASK}]
    better = [one for one in judgement.findings if one not in worse]
    asks = tuple(dict.fromkeys((*judgement.asks, finding.remedy)))
    return judgement.model_copy(update={"findings": (*worse, finding, *better), "asks": asks})

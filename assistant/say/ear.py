"""A judgement as two short sentences for the ear: the verdict, then the one most useful thing."""

import re

from assistant.load.model import Path, Pull
from assistant.say.spell import spell
from assistant.securement.finding import Basis, Finding, Judgement, Status
from assistant.securement.wording import many, pounds

_LONGEST = 16
"""Words of a finding's own sentence that are still spoken; a longer one is for the screen."""
_MOVEMENTS = {
    Pull.FORWARD: "forward movement",
    Pull.REARWARD: "rearward movement",
    Pull.LEFT: "movement to the left",
    Pull.RIGHT: "movement to the right",
    Pull.OVER: "movement upward",
}
_LAST_LOOK = "Look at the edges and the hooks before you roll."
_ASIDE = re.compile(r"\s+\([^()]*\)")
_NOTHING = "Nothing to check yet. Tell me what is on the deck."


def spoken(judgement: Judgement) -> str:
    """Return a judgement as at most two short sentences, verdict first, without a figure in digits.

    The second sentence is the first finding's remedy or question; where all is met, the assumption the verdict
    rests on, else what only eyes can check.
    """
    if judgement.verdict is None:
        return _NOTHING
    lead = next(finding for finding in judgement.findings if finding.status is judgement.verdict)
    match judgement.verdict:
        case Status.STOP:
            first, second = _with_fault("Stop", lead), lead.remedy
        case Status.SHORT:
            first, second = _shortage(judgement, lead), lead.remedy
        case Status.ASK:
            first, second = _so_far(judgement, lead), _question(judgement, lead)
        case Status.OUTSIDE:
            first, second = _with_fault("Outside what I check", lead), lead.remedy
        case _:
            first, second = f"Every rule I checked is met{_on_gear(judgement)}{_by(judgement)}.", _rests_on(judgement)
    return spell(" ".join(part for part in (first, _one_sentence(second)) if part))


def finding_spoken(finding: Finding) -> str:
    """Return one finding alone, as the answer to a question: its sentence, then what to do."""
    return spell(" ".join(part for part in (_one_sentence(finding.text), _one_sentence(finding.remedy)) if part))


def _shortage(judgement: Judgement, lead: Finding) -> str:
    if lead.topic == "aggregate" and lead.margin is not None:
        return f"Short by {pounds(-lead.margin)}{_on_gear(judgement)}."
    if lead.topic in _MOVEMENTS:
        return f"Not met: {_MOVEMENTS[Pull(lead.topic)]} is not held."
    return _with_fault("Not met", lead)


def _with_fault(verdict: str, finding: Finding) -> str:
    """Join the verdict and what is at fault into one sentence; the verdict alone when that would be long."""
    fault = _one_sentence(finding.text)
    if not fault or len(spell(fault).split()) > _LONGEST:
        return f"{verdict}."
    # Keep a capital that belongs to a name ("X", "FMCSA"), drop the one that only begins the sentence.
    start = fault[0] if fault[1:2].isupper() or (fault[1:2] == " " and fault[0] != "A") else fault[0].lower()
    return f"{verdict}: {start}{fault[1:]}"


def _so_far(judgement: Judgement, lead: Finding) -> str:
    if lead.topic == "path":
        return f"Half-weight line is met{_on_gear(judgement)} only if all go to the other side."
    aggregate = _aggregate(judgement)
    if aggregate is None or aggregate.status is not Status.MEETS or aggregate.margin is None:
        return "I can't tell yet."
    over = f"{pounds(aggregate.margin)} over" if aggregate.margin else "with nothing to spare"
    return f"Half-weight line is met{_on_gear(judgement)}, {over}."


def _question(judgement: Judgement, lead: Finding) -> str:
    return lead.remedy or (judgement.asks[0] if judgement.asks else "")


def _by(judgement: Judgement) -> str:
    aggregate = _aggregate(judgement)
    if aggregate is None or aggregate.margin is None:
        return ""
    return f", by {pounds(aggregate.margin)}" if aggregate.margin else ", with nothing to spare"


def _rests_on(judgement: Judgement) -> str:
    """Say what a met verdict rests on: an untold path, then sample gear, then another assumption, then the eyes."""
    full = [rated for rated in judgement.rated if rated.tiedown.path is None and rated.path is Path.ACROSS]
    if full:
        kinds = " and ".join(dict.fromkeys(many(rated.tiedown.kind) for rated in full))
        return f"I took the {kinds} as going to the other side."
    if _on_sample(judgement):
        return "Tell me what your own gear is."
    brief = [line for line in judgement.assumed if len(spell(line).split()) <= _LONGEST]
    if brief:
        return f"I assumed: {brief[0]}"
    looks = [finding.remedy for finding in judgement.findings if finding.status is Status.LOOK and finding.remedy]
    return looks[0] if looks else _LAST_LOOK


def _on_gear(judgement: Judgement) -> str:
    return " on sample gear" if _on_sample(judgement) else ""


def _on_sample(judgement: Judgement) -> bool:
    return any(rated.basis is Basis.SAMPLE_GEAR for rated in judgement.rated)


def _aggregate(judgement: Judgement) -> Finding | None:
    return next((finding for finding in judgement.findings if finding.topic == "aggregate"), None)


def _one_sentence(text: str) -> str:
    """Return the first sentence, without asides in brackets, ended by a stop."""
    plain = _ASIDE.sub("", text).strip()
    first = re.split(r"(?<=[.?!])\s+", plain, maxsplit=1)[0]
    return first if not first or first[-1] in ".?!" else f"{first}."

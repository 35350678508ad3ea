"""A judgement as two short sentences for the ear: the verdict, then the one most useful thing."""

import re
from collections.abc import Collection

from assistant.load.model import Path, Pull
from assistant.say.spell import spell
from assistant.securement.finding import Basis, Finding, Judgement, Status
from assistant.securement.wording import many, weighed

_LONGEST = 16
"""Words of a finding's own sentence that are still spoken; a longer one is for the screen."""
_MOVEMENTS = {
    Pull.FORWARD: "forward movement",
    Pull.REARWARD: "rearward movement",
    Pull.LEFT: "movement to the left",
    Pull.RIGHT: "movement to the right",
    Pull.OVER: "movement upward",
}
_SEEN = re.compile(r"^Seen: (.+?)(?=\.$)")
_SAMPLE = "Sample gear list: "
_OWN = "Gear list: "
NOT_KNOWN = "I can't tell yet."
"""First sentence while neither the sums nor a fault can be told."""
_LAST_LOOK = "Look at the edges and the hooks before you roll."
_ENDS = re.compile(r"(?<=[.?!])\s+|(?<=[?!])(?=[^\s.?!])")
"""Where a sentence ends: at a space behind its stop, and behind a question or an exclamation whatever follows."""
_TURNS = re.compile(r", so |; ")
_ASIDE = re.compile(r"\s+\([^()]*\)")
_NOTHING = "Nothing to check yet. Tell me what is on the deck."


def spoken(judgement: Judgement, aside: Collection[str] = ()) -> str:
    """Return a judgement as at most two short sentences, verdict first, without a figure in digits.

    The second sentence is the first finding's remedy or question; where all is met, the assumption the verdict
    rests on, else what only eyes can check. Questions put `aside` are asked only when no other is open.
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
            first, second = _so_far(judgement), asked_aloud(judgement, aside)
        case Status.OUTSIDE:
            first, second = _with_fault("Outside what I check", lead), lead.remedy
        case _:
            first, second = f"Every rule I checked is met{_on_gear(judgement)}{_by(judgement)}.", rests_on(judgement)
    return spell(" ".join(part for part in (first, first_sentence(second)) if part))


def finding_spoken(finding: Finding) -> str:
    """Return one finding alone, as the answer to a question, in at most two sentences.

    What to do comes first where something is to be done; after it what could not be counted, else how it was found.
    """
    sentences = [first_sentence(part) for part in _ENDS.split(finding.text)]
    if finding.status is not Status.MEETS or not finding.remedy:
        return spell(f"{sentences[0]} {first_sentence(finding.remedy)}".strip())
    gear = ", going by sample gear" if any(_SAMPLE in step.formula for step in finding.trace) else ""
    doubt = [sentence for sentence in sentences if "not told" in sentence]
    return spell(f"{first_sentence(finding.remedy).rstrip('.')}{gear}. {(doubt or sentences)[0]}")


def _shortage(judgement: Judgement, lead: Finding) -> str:
    if lead.topic == "aggregate" and lead.margin is not None:
        return f"Short by {weighed(-lead.margin, lead.unit)}{_on_gear(judgement)}."
    if lead.topic in _MOVEMENTS:
        movement = _MOVEMENTS[Pull(lead.topic)]
        return f"Not met: too few hold {movement}." if lead.have else f"Not met: {movement} is not held."
    return _with_fault("Not met", lead)


def _with_fault(verdict: str, finding: Finding) -> str:
    """Join the verdict and what is at fault into one sentence; the verdict alone when that would be long."""
    fault = _SEEN.sub(r"\1 seen", first_sentence(finding.text))
    if not _is_brief(fault):
        fault = first_sentence(_TURNS.split(fault, maxsplit=1)[0])
    return f"{verdict}: {lowered(fault)}" if fault and _is_brief(fault) else f"{verdict}."


def _so_far(judgement: Judgement) -> str:
    if any(finding.topic == "path" and finding.status is Status.ASK for finding in judgement.findings):
        return f"Half-weight line is met{_on_gear(judgement)} only if all go to the other side."
    aggregate = _aggregate(judgement)
    if aggregate is None or aggregate.status is not Status.MEETS or aggregate.margin is None:
        return NOT_KNOWN
    over = f"{weighed(aggregate.margin, aggregate.unit)} over" if aggregate.margin else "with nothing to spare"
    return f"Half-weight line is met{_on_gear(judgement)}, {over}."


def asked_aloud(judgement: Judgement, aside: Collection[str] = ()) -> str:
    """Return the question that is spoken while a fact is missing: the most useful one that was not put aside."""
    wanted = [finding.remedy for finding in judgement.findings if finding.status is Status.ASK]
    asks = [question for question in (*wanted, *judgement.asks) if question]
    return next((question for question in asks if question not in aside), asks[0] if asks else "")


def _by(judgement: Judgement) -> str:
    aggregate = _aggregate(judgement)
    if aggregate is None or aggregate.margin is None:
        return ""
    return f", by {weighed(aggregate.margin, aggregate.unit)}" if aggregate.margin else ", with nothing to spare"


def rests_on(judgement: Judgement) -> str:
    """Say what a met verdict rests on: an untold path, then sample gear, then another assumption, then the eyes."""
    full = [rated for rated in judgement.rated if rated.tiedown.path is None and rated.path is Path.ACROSS]
    if full:
        kinds = " and ".join(dict.fromkeys(many(rated.tiedown.kind) for rated in full))
        return f"I took the {kinds} as going to the other side."
    if _on_sample(judgement):
        return "Tell me what your own gear is."
    # The driver's own list is no assumption; everything else that is short enough is owned up to.
    others = [line for line in judgement.assumed if line and not line.startswith(_OWN) and _is_brief(line)]
    if others and others[0].startswith(_SAMPLE):
        return f"From the sample gear list I took the {others[0].removeprefix(_SAMPLE)}"
    if others:
        return f"Mind: {lowered(others[0])}"
    looks = [finding.remedy for finding in judgement.findings if finding.status is Status.LOOK and finding.remedy]
    return looks[0] if looks else _LAST_LOOK


def _on_gear(judgement: Judgement) -> str:
    return " on sample gear" if _on_sample(judgement) else ""


def _on_sample(judgement: Judgement) -> bool:
    return any(rated.basis is Basis.SAMPLE_GEAR for rated in judgement.rated)


def _aggregate(judgement: Judgement) -> Finding | None:
    return next((finding for finding in judgement.findings if finding.topic == "aggregate"), None)


def _is_brief(text: str) -> bool:
    return len(spell(text).split()) <= _LONGEST


def lowered(sentence: str) -> str:
    """Return a sentence to go on with: without its capital, unless that belongs to a name ("X", "FMCSA", "I")."""
    named = sentence[1:2].isupper() or (sentence[1:2] == " " and sentence[:1] != "A")
    return sentence if named else sentence[:1].lower() + sentence[1:]


def first_sentence(text: str) -> str:
    """Return the first sentence, without asides in brackets, ended by a stop."""
    plain = _ASIDE.sub("", text).strip()
    first = _ENDS.split(plain, maxsplit=1)[0]
    return first if not first or first[-1] in ".?!" else f"{first}."

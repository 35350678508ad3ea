"""A judgement for the eye: the verdict to be read from two metres, then each rule with its clause beside it."""

from assistant.load.model import Load
from assistant.say.lines import WIDTH, beside, section, wrapped
from assistant.say.picture import deck
from assistant.say.readback import describe
from assistant.securement.finding import Finding, Judgement, Rated, Status, Step
from assistant.securement.wording import described, pounds, weighed

CAUTION = (
    "This checks arithmetic and asks about what it cannot see. Local rules, carrier and shipper policy, "
    "makers' marks and a licensed inspector come first."
)
_VERDICTS = {
    Status.STOP: "STOP",
    Status.SHORT: "SHORT",
    Status.ASK: "NOT KNOWN YET",
    Status.OUTSIDE: "OUTSIDE WHAT IS CHECKED",
    Status.MEETS: "EVERY RULE CHECKED IS MET",
}
_BESIDE = 27
"""Columns for clause and mark: the longest clause of the coil rule with its paragraph fits."""
_STATUS = 8
_WEIGHTS = {"lb", "kg"}


def shown(judgement: Judgement, load: Load) -> str:
    """Return a judgement as plain lines of at most 78 columns: the verdict, the sums, the load as it was understood."""
    lines = [_banner(judgement), *_sums(judgement)]
    if load != Load():
        lines += ["", *describe(load, judgement.rated).splitlines()]
    if load.coils or load.articles:
        lines += ["", *deck(load).splitlines()]
    rules = [finding for finding in judgement.findings if finding.status is not Status.LOOK]
    looks = [finding for finding in judgement.findings if finding.status is Status.LOOK]
    for finding in rules:
        lines += ["", *_finding(finding)] if finding is rules[0] else _finding(finding)
    lines += section("Assumed", judgement.assumed, mark="-")
    lines += section("To answer", judgement.asks, mark="?")
    if looks:
        lines += ["", "Only eyes can check", *(line for finding in looks for line in _look(finding))]
    lines += ["", *wrapped(CAUTION)]
    return "\n".join(lines) + "\n"


def finding_shown(finding: Finding) -> str:
    """Return one finding alone, as the answer to a question, with how it was found."""
    return "\n".join([*_finding(finding), *_steps(finding.trace)]) + "\n"


def why(judgement: Judgement) -> str:
    """Return how each finding was made: step by step, each with its clause and how sure the source is."""
    if not judgement.findings:
        return "Nothing was judged yet.\n"
    lines: list[str] = []
    for rated in judgement.rated:
        lines += [*wrapped(_rating(rated)), *_steps(rated.trace), ""]
    for finding in judgement.findings:
        lines += [*_finding(finding), *_steps(finding.trace), ""]
    return "\n".join(lines[:-1]) + "\n"


def status_word(status: Status) -> str:
    """Return a status as it stands before a finding."""
    return status.value.upper()


def _banner(judgement: Judgement) -> str:
    if judgement.verdict is None:
        return "━━━ NOTHING TO CHECK YET ".ljust(WIDTH, "━")
    words = _VERDICTS[judgement.verdict]
    lead = next(finding for finding in judgement.findings if finding.status is judgement.verdict)
    if judgement.verdict is Status.SHORT and lead.margin is not None and lead.unit in _WEIGHTS:
        words += f" BY {weighed(-lead.margin, lead.unit).upper()}"
    return f"━━━ {words} ".ljust(WIDTH, "━")


def _sums(judgement: Judgement) -> list[str]:
    need, have = judgement.needed_lb, judgement.counted_lb
    if need is None and have is None:
        return []
    margin = f"{have - need:+,.0f} lb" if need is not None and have is not None else "not known"
    needed, counted = ("not known" if value is None else pounds(value) for value in (need, have))
    return [f"    need {needed}    have {counted}    margin {margin}"]


def _finding(finding: Finding) -> list[str]:
    first = f"{status_word(finding.status):<{_STATUS}}"
    lines = beside(finding.text, (finding.rule, f"({finding.mark})"), first=first, right_width=_BESIDE)
    if finding.remedy and finding.status is not Status.MEETS:
        lines += wrapped(finding.remedy, first=f"{'':<{_STATUS}}> ")
    return lines


def _look(finding: Finding) -> list[str]:
    text = f"{finding.text} {finding.remedy}".strip()
    return beside(text, (finding.rule, f"({finding.mark})"), first="  * ", right_width=_BESIDE)


def _steps(trace: tuple[Step, ...]) -> list[str]:
    lines: list[str] = []
    for number, step in enumerate(trace, 1):
        lines += wrapped(_step(step), first=f"{number:>6}. ")
        source = " ".join(part for part in (step.ref, f"({step.mark})" if step.mark else "") if part)
        if source:
            lines += wrapped(source, first=f"{'':>8}")
    return lines


def _step(step: Step) -> str:
    value = f"{step.value:,g}" if isinstance(step.value, float | int) and abs(step.value) < _PLAIN else f"{step.value}"
    unit = f" {step.unit}" if step.unit else ""
    formula = f"  [{step.formula}]" if step.formula else ""
    return f"{step.what}: {value}{unit}{formula}"


_PLAIN = 1_000_000
"""Below this, six figures show a number exactly enough to be checked by hand."""


def _rating(rated: Rated) -> str:
    each = "no limit found" if rated.wll_lb is None else f"{pounds(rated.wll_lb)} each, set by its {rated.governs}"
    counts = f"counts {pounds(rated.counts_lb)}"
    return f"{rated.tiedown.count} x {described(rated.tiedown)}: {each} ({rated.basis}), {rated.path}, {counts}"

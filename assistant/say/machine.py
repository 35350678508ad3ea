"""An answer for a machine: fixed names, one object."""

from collections.abc import Sequence
from typing import Any

from assistant.load.model import Load, Noun, Path, Tiedown
from assistant.say.answer import Answer
from assistant.securement.finding import Finding, Judgement, Rated

_TOLD_OF_TIEDOWN = (
    "thickness_in", "material", "unmarked", "binder_lb", "hook_lb", "winch_lb", "anchor_lb", "through", "place",
    "crossed", "doubled",
)  # fmt: skip


def as_json(answer: Answer) -> dict[str, Any]:
    """Return an answer as plain values for `json.dumps`; whole numbers are integers.

    Sums are pounds and None where they are not known or nothing was judged. A tiedown's `path` is what it was
    counted as, which is across where nothing was told; `assumed` then says so. After a what-if `load` is the real one,
    `changed` lists the findings that would differ, and all else is of what might be.
    """
    judgement = answer.judgement or Judgement()
    need, have = judgement.needed_lb, judgement.counted_lb
    told = {
        "heard": answer.heard,
        "verdict": judgement.verdict,
        "needed_lb": need,
        "counted_lb": have,
        "margin_lb": None if need is None or have is None else have - need,
        "load": _load(answer.load, (answer.as_it_is or judgement).rated),
        "findings": [_finding(finding) for finding in judgement.findings],
        "open": [{"said": item.said, "why": item.why} for item in answer.open],
        "assumed": list(judgement.assumed),
        "asks": list(dict.fromkeys((*answer.asks, *judgement.asks))),
        "say": answer.say,
        "show": answer.show,
        "intent": answer.intent,
        "understood": answer.understood,
        "confidence": answer.confidence,
        "confirm": answer.confirm,
        "changed": [_fields(change, *type(change).model_fields) for change in answer.changed],
    }
    plain: dict[str, Any] = _plain(told)
    return plain


def _load(load: Load, rated: Sequence[Rated]) -> dict[str, Any]:
    # The engine rates each group in the load's order; without a judgement there is nothing to tell of their worth.
    matched = rated if len(rated) == len(load.tiedowns) else (None,) * len(load.tiedowns)
    return {
        "coils": [_fields(coil, "count", "weight_lb", "eye", "metal") for coil in load.coils],
        "articles": [
            _fields(article, "weight_lb", "length_ft", "blocked_forward", "name", "count") for article in load.articles
        ],
        "tiedowns": [_tiedown(tiedown, worth) for tiedown, worth in zip(load.tiedowns, matched, strict=True)],
        "support": _fields(load.support, *type(load.support).model_fields),
        "seen": load.seen,
        "row": load.row,
    }


def _tiedown(tiedown: Tiedown, rated: Rated | None) -> dict[str, Any]:
    """Return a group with size, grade and mark as told, or as the gear list has them: `basis` says which."""
    described = rated.whole if rated and rated.whole else tiedown
    return {
        **_fields(tiedown, "kind", "count"),
        **_fields(described, "size_in", "grade", "marked_lb"),
        "wll_lb": rated.wll_lb if rated else None,
        "basis": rated.basis if rated else None,
        "path": rated.path if rated else tiedown.path or Path.ACROSS,
        "pulls": tiedown.pulls,
        "counts_lb": rated.counts_lb if rated else None,
        "governs": rated.governs if rated else None,
        **_fields(tiedown, *_TOLD_OF_TIEDOWN),
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        **_fields(finding, "rule", "status", "need", "have", "unit", "text", "remedy", "mark", "topic"),
        "margin": finding.margin,
        "trace": [_fields(step, *type(step).model_fields) for step in finding.trace],
    }


def _fields(noun: Noun, *names: str) -> dict[str, Any]:
    return {name: getattr(noun, name) for name in names}


def _plain(value: Any) -> Any:  # noqa: ANN401 - any value of ours goes in, its plain form comes out
    match value:
        case dict():
            return {name: _plain(inner) for name, inner in value.items()}
        case list() | tuple():
            return [_plain(inner) for inner in value]
        case float() if value.is_integer():
            return int(value)
        case str():
            return str(value)
        case _:
            return value

"""The load read back: what was told, no more, so that a driver hears at once what was misheard."""

from collections.abc import Iterable, Sequence

from assistant.load.model import Article, Coil, Load, Path, Row, Support, Through, Tiedown
from assistant.say.lines import wrapped
from assistant.say.spell import spell
from assistant.securement.finding import Rated
from assistant.securement.wording import counted, inches, pounds

_ROWS = {Row.TRANSVERSE: "side by side across the deck", Row.LENGTHWISE: "in line along the deck"}
_PATHS = {Path.ACROSS: "to the other side", Path.SAME_SIDE: "back to the same side", Path.DIRECT: "straight to it"}
_THROUGH = {Through.EYE: "through the eye", Through.TOP: "over the top"}
_PARTS = {"binder_lb": "binder", "hook_lb": "hook", "winch_lb": "winch", "anchor_lb": "anchor"}
_EMPTY = "The deck is empty."


def describe(load: Load, rated: Sequence[Rated] = ()) -> str:
    """Return the load line by line, with what each group of tiedowns was rated at where that is known."""
    lines = [_sentence(_coil(coil)) for coil in load.coils]
    lines += [_sentence(_article(article)) for article in load.articles]
    lines += [_sentence(_ROWS[load.row])] if load.row else []
    matched = rated if len(rated) == len(load.tiedowns) else (None,) * len(load.tiedowns)
    for tiedown, worth in zip(load.tiedowns, matched, strict=True):
        lines.append(_sentence(_tiedown(tiedown)) + _worth(worth))
    support = _support(load.support)
    lines += [_sentence(support)] if support else []
    lines += [_sentence(f"seen: {_listed(load.seen)}")] if load.seen else []
    if not lines:
        return f"{_EMPTY}\n"
    return "\n".join(line for text in lines for line in wrapped(text, first="  ")) + "\n"


def describe_spoken(load: Load) -> str:
    """Return the load in at most two sentences for the ear: what lies there, then what holds it."""
    lying = [*map(_coil, load.coils), *map(_article, load.articles)]
    lying += [_ROWS[load.row]] if load.row and lying else []
    holding = [*map(_tiedown, load.tiedowns), _support(load.support)]
    holding += [f"seen: {_listed(load.seen)}"] if load.seen else []
    sentences = [_sentence("; ".join(part for part in parts if part)) for parts in (lying, holding)]
    return spell(" ".join(sentence for sentence in sentences if sentence) or _EMPTY)


def _coil(coil: Coil) -> str:
    name = f"{coil.metal} coil" if coil.metal else "coil"
    eye = f"eye {coil.eye}" if coil.eye else "eye not told"
    return f"{counted(coil.count, name)}, {_weight(coil.weight_lb, coil.count)}, {eye}"


def _article(article: Article) -> str:
    parts = [counted(article.count, article.name), _weight(article.weight_lb, article.count)]
    if article.length_ft is not None:
        parts.append(f"{article.length_ft:g} ft long")
    if article.blocked_forward is not None:
        parts.append("blocked in front" if article.blocked_forward else "not blocked in front")
    return ", ".join(parts)


def _weight(weight_lb: float | None, count: int) -> str:
    if weight_lb is None:
        return "weight not told"
    return f"{pounds(weight_lb)}{' each' if count > 1 else ''}"


def _tiedown(tiedown: Tiedown) -> str:
    made = [f"{inches(tiedown.size_in)} in"] if tiedown.size_in is not None else []
    made += [f"by {tiedown.thickness_in:g} in"] if tiedown.thickness_in is not None else []
    made += [f"grade {tiedown.grade}"] if tiedown.grade else []
    made += [tiedown.material] if tiedown.material else []
    # "Three three eighths inch chains" would be taken for a number: the size follows.
    parts = [counted(tiedown.count, tiedown.kind), *([" ".join(made)] if made else [])]
    if tiedown.unmarked:
        parts.append("no marks")
    elif tiedown.marked_lb is not None:
        parts.append(f"marked {pounds(tiedown.marked_lb)}")
    parts += [f"{name} {pounds(lb)}" for field, name in _PARTS.items() if (lb := getattr(tiedown, field)) is not None]
    parts += [_THROUGH[tiedown.through]] if tiedown.through else []
    parts += [_PATHS[tiedown.path]] if tiedown.path else []
    parts += (
        [f"against {tiedown.pulls} movement" if tiedown.pulls != "over" else "pressing down"] if tiedown.pulls else []
    )
    parts += [f"at the {tiedown.place}"] if tiedown.place else []
    parts += ["crossed"] if tiedown.crossed else []
    parts += ["doubled"] if tiedown.doubled else []
    return ", ".join(parts)


def _worth(rated: Rated | None) -> str:
    if rated is None:
        return ""
    if rated.wll_lb is None:
        return " No working load limit found."
    return f" {pounds(rated.wll_lb)} each ({rated.basis}), counts {pounds(rated.counts_lb)}."


def _support(support: Support) -> str:
    told = [
        counted(number, noun)
        for number, noun in ((support.bunks, "bunk"), (support.timbers, "timber"), (support.wedges, "wedge"))
        if number is not None
    ]
    facts = (
        (support.cradle, "a cradle", "no cradle"),
        (support.mats, "friction mats", "no mats"),
        (support.pallet, "a pallet", "no pallet"),
        (support.nailed_only, "held by nails alone", "not held by nails alone"),
        (support.blocked_forward, "blocked in front", "not blocked in front"),
        (support.blocked_rearward, "blocked behind", "not blocked behind"),
        (support.on_deck, "touching the deck", "off the deck"),
    )
    told += [yes if fact else no for fact, yes, no in facts if fact is not None]
    return _listed(told)


def _listed(names: Iterable[str]) -> str:
    *front, last = [*names] or [""]
    return f"{', '.join(front)} and {last}" if front else last


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}." if text else ""

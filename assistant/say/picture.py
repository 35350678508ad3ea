"""The deck from above, in text: what lies on it, which way each eye points, and which movement is held by how many."""

from collections import Counter
from collections.abc import Sequence

from assistant.load.model import Article, Coil, Eye, Load, Pull, Row, Through, Tiedown

_INSIDE = 56
_BOX = 16
_MOST = 3
"""Groups that are drawn; more would not fit across a terminal."""
_ENDS = 9
"""Columns left of the deck for the cab."""
_EYES = {
    Eye.CROSSWISE: "│ eye across",
    Eye.LENGTHWISE: "─ eye along",
    Eye.VERTICAL: "o eye up",
    None: "? eye not told",
}
_ROWS = {Row.TRANSVERSE: "side by side", Row.LENGTHWISE: "in line"}


def deck(load: Load) -> str:
    """Return a plan of the deck, the cab on the left; at most 78 columns, lines ended by newlines.

    Each side carries the number of tiedowns that hold movement towards that side. A tiedown whose movement was not
    told is counted below the deck.
    """
    held = _held(load.tiedowns)
    blocks = _side_by_side([*map(_coil, load.coils), *map(_article, load.articles)])
    if load.row is not None:
        blocks.append(_ROWS[load.row])
    top = f"left held by {held[Pull.LEFT]}" if held[Pull.LEFT] else ""
    bottom = f"right held by {held[Pull.RIGHT]}" if held[Pull.RIGHT] else ""
    middle = len(blocks) // 2
    lines = [f"{'':{_ENDS}}┌{f' {top} ' if top else '':─^{_INSIDE}}┐"]
    for number, block in enumerate(blocks, -middle):
        forward = _end("forward", held[Pull.FORWARD], number, above="◄ cab")
        rearward = _end("rear", held[Pull.REARWARD], number)
        lines.append(f"{forward:>{_ENDS - 1}} │{block:^{_INSIDE}}│ {rearward}".rstrip())
    lines.append(f"{'':{_ENDS}}└{f' {bottom} ' if bottom else '':─^{_INSIDE}}┘")
    lines.append(f"{'':{_ENDS}} {_below(held)}")
    return "\n".join(lines) + "\n"


def _held(tiedowns: Sequence[Tiedown]) -> Counter[Pull | None]:
    held: Counter[Pull | None] = Counter()
    for tiedown in tiedowns:
        over = tiedown.pulls is None and tiedown.through is Through.TOP
        held[Pull.OVER if over else tiedown.pulls] += tiedown.count
    return held


def _end(word: str, number: int, row: int, *, above: str = "") -> str:
    """Return what stands at one end of the deck beside one row of it, the middle row being 0."""
    beside = (above, word, "held by", str(number))
    return dict(enumerate(beside, -2)).get(row, "")


def _below(held: Counter[Pull | None]) -> str:
    parts = [f"{held[Pull.OVER]} over the top"]
    if held[None]:
        parts.append(f"{held[None]} with pull not told")
    return ", ".join(parts)


def _coil(coil: Coil) -> tuple[str, ...]:
    name = "coil" if coil.count == 1 else f"{coil.count} coils"
    return (name, _weight(coil.weight_lb, coil.count), _EYES[coil.eye])


def _article(article: Article) -> tuple[str, ...]:
    name = article.name if article.count == 1 else f"{article.count} x {article.name}"
    length = "length not told" if article.length_ft is None else f"{article.length_ft:g} ft long"
    return (name, _weight(article.weight_lb, article.count), length)


def _weight(weight_lb: float | None, count: int) -> str:
    if weight_lb is None:
        return "? lb"
    return f"{weight_lb:,.0f} lb{' each' if count > 1 else ''}"


def _side_by_side(groups: Sequence[tuple[str, ...]]) -> list[str]:
    if not groups:
        return ["", "", "", "empty deck", ""]
    boxes = [_box(group) for group in groups[:_MOST]]
    lines = [" ".join(rows) for rows in zip(*boxes, strict=True)]
    return lines if len(groups) <= _MOST else [*lines, f"and {len(groups) - _MOST} more"]


def _box(lines: Sequence[str]) -> list[str]:
    printable = ["".join(character for character in line if character.isprintable())[:_BOX] for line in lines]
    return [f"╭{'─' * _BOX}╮", *(f"│{line:^{_BOX}}│" for line in printable), f"╰{'─' * _BOX}╯"]

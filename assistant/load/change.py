"""Changes to a load, and `apply`, the fold over them: undo is dropping the last ones."""

from collections.abc import Iterable, Mapping
from functools import reduce
from typing import Any, Literal, TypeVar

from pydantic import Field

from assistant.load.model import Article, Coil, FrontStructure, Load, Noun, Row, Tiedown

Item = TypeVar("Item", Coil, Article, Tiedown)


class AddCoils(Noun):
    """Put a group of like coils on the deck."""

    do: Literal["add coils"] = "add coils"
    coil: Coil


class AddArticles(Noun):
    """Put a group of like articles on the deck."""

    do: Literal["add articles"] = "add articles"
    article: Article


class AddTiedowns(Noun):
    """Put a group of like tiedowns on."""

    do: Literal["add tiedowns"] = "add tiedowns"
    tiedown: Tiedown


class SetFields(Noun):
    """Tell or correct facts of one group, by its place in the load."""

    do: Literal["set"] = "set"
    noun: Literal["coils", "articles", "tiedowns"]
    index: int = Field(ge=0)
    fields: Mapping[str, Any]


class SplitTiedowns(Noun):
    """Take `count` out of a group and tell facts of those alone ("two of them pull forward")."""

    do: Literal["split"] = "split"
    index: int = Field(ge=0)
    count: int = Field(ge=1)
    fields: Mapping[str, Any]


class Remove(Noun):
    """Take `count` off a group, or all of it when `count` is None."""

    do: Literal["remove"] = "remove"
    noun: Literal["coils", "articles", "tiedowns"]
    index: int = Field(ge=0)
    count: int | None = Field(default=None, ge=1)


class SetSupport(Noun):
    """Tell facts of what the coils rest on."""

    do: Literal["set support"] = "set support"
    fields: Mapping[str, Any]


class SetRow(Noun):
    """Tell how the coils stand together."""

    do: Literal["set row"] = "set row"
    row: Row | None


class SetPart(Noun):
    """Tell facts of what could let tiedowns go slack, or of the front end structure."""

    do: Literal["set part"] = "set part"
    part: Literal["slack", "front"]
    fields: Mapping[str, Any]


class SetYard(Noun):
    """Tell whether the move is a slow one on private ground, or on the road."""

    do: Literal["set yard"] = "set yard"
    yard: bool


class AddSeen(Noun):
    """Record an observation."""

    do: Literal["saw"] = "saw"
    name: str


class DropSeen(Noun):
    """Strike an observation: it was mended or never was."""

    do: Literal["mended"] = "mended"
    name: str


class StartOver(Noun):
    """Begin with an empty deck."""

    do: Literal["start over"] = "start over"


Change = (
    AddCoils | AddArticles | AddTiedowns | SetFields | SplitTiedowns | Remove
    | SetSupport | SetRow | SetPart | SetYard | AddSeen | DropSeen | StartOver
)  # fmt: skip


def apply(load: Load, change: Change) -> Load:  # noqa: C901, PLR0911, PLR0912 - one branch a kind of change reads best in one place
    """Return the load after one change.

    Raises
    ------
    ValueError
        A field or an index that the load does not have (pydantic's `ValidationError` is one).
    """
    match change:
        case AddCoils(coil=coil):
            return _with(load, coils=(*load.coils, coil))
        case AddArticles(article=article):
            return _with(load, articles=(*load.articles, article))
        case AddTiedowns(tiedown=tiedown):
            return _with(load, tiedowns=(*load.tiedowns, tiedown))
        case SetFields(noun="coils"):
            return _with(load, coils=_set(load.coils, change))
        case SetFields(noun="articles"):
            return _with(load, articles=_set(load.articles, change))
        case SetFields():
            return _with(load, tiedowns=_set(load.tiedowns, change))
        case SplitTiedowns():
            return _with(load, tiedowns=_split(load.tiedowns, change))
        case Remove(noun="coils"):
            return _with(load, coils=_remove(load.coils, change))
        case Remove(noun="articles"):
            return _with(load, articles=_remove(load.articles, change))
        case Remove():
            return _with(load, tiedowns=_remove(load.tiedowns, change))
        case SetSupport(fields=fields):
            return _with(load, support=revised(load.support, fields))
        case SetRow(row=row):
            return _with(load, row=row)
        case SetPart(part=part, fields=fields):
            return _with(
                load, **{part: revised(load.slack if part == "slack" else load.front or FrontStructure(), fields)}
            )
        case SetYard(yard=yard):
            return _with(load, yard=yard)
        case AddSeen(name=name):
            return load if name in load.seen else _with(load, seen=(*load.seen, name))
        case DropSeen(name=name):
            return _with(load, seen=tuple(seen for seen in load.seen if seen != name))
        case StartOver():
            return Load()


def fold(changes: Iterable[Change], load: Load | None = None) -> Load:
    """Return the load after all changes, from an empty deck unless one is given."""
    return reduce(apply, changes, load or Load())


Model = TypeVar("Model", bound=Noun)


def revised(noun: Model, fields: Mapping[str, Any]) -> Model:
    """Return the noun with some fields told anew, validated."""
    told = {name: getattr(noun, name) for name in type(noun).model_fields}
    return type(noun).model_validate({**told, **fields})


def _with(load: Load, **parts: object) -> Load:
    return load.model_copy(update=parts)


def _at(items: tuple[Item, ...], index: int) -> Item:
    if index >= len(items):
        message = f"no group {index}: the load has {len(items)}"
        raise ValueError(message)
    return items[index]


def _replaced(items: tuple[Any, ...], index: int, *new: Noun) -> tuple[Any, ...]:
    return (*items[:index], *new, *items[index + 1 :])


def _set(items: tuple[Item, ...], change: SetFields) -> tuple[Item, ...]:
    return _replaced(items, change.index, revised(_at(items, change.index), change.fields))


def _split(items: tuple[Tiedown, ...], change: SplitTiedowns) -> tuple[Tiedown, ...]:
    item = _at(items, change.index)
    if change.count > item.count:
        message = f"cannot take {change.count} out of {item.count}"
        raise ValueError(message)
    part = revised(item, {**change.fields, "count": change.count})
    if change.count == item.count:
        return _replaced(items, change.index, part)
    return _replaced(items, change.index, part, revised(item, {"count": item.count - change.count}))


def _remove(items: tuple[Item, ...], change: Remove) -> tuple[Item, ...]:
    item = _at(items, change.index)
    left = 0 if change.count is None else max(0, item.count - change.count)
    if not left:
        return _replaced(items, change.index)
    return _replaced(items, change.index, revised(item, {"count": left}))

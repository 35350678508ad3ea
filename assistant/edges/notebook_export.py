"""The notebook's entries as plain lines, JSON or CSV."""

import csv
import io
import json
from collections.abc import Mapping, Sequence
from typing import Any, Literal

Format = Literal["text", "json", "csv"]

_CSV = ("id", "at", "kind", "heard", "text", "verdict", "load", "refers", "program", "edition")


def exported(entries: Sequence[Mapping[str, Any]], form: Format) -> str:
    """Return the entries in one of the forms; text and CSV end with a newline unless they are empty."""
    match form:
        case "json":
            return json.dumps([_plain(entry) for entry in entries], ensure_ascii=False, indent=2)
        case "csv":
            return _csv(entries)
        case "text":
            return "".join(f"{_line(entry)}\n" for entry in entries)


def _plain(entry: Mapping[str, Any]) -> dict[str, Any]:
    told = {**entry, "at": entry["at"].isoformat()}
    return {**told, **{name: json.loads(told[name]) for name in ("load", "answer") if told[name] is not None}}


def _csv(entries: Sequence[Mapping[str, Any]]) -> str:
    table = io.StringIO()
    writer = csv.DictWriter(table, _CSV, extrasaction="ignore", lineterminator="\n")
    writer.writeheader()
    writer.writerows({**entry, "at": entry["at"].isoformat()} for entry in entries)
    return table.getvalue()


def _line(entry: Mapping[str, Any]) -> str:
    at = entry["at"].astimezone().strftime("%Y-%m-%d %H:%M")
    verdict = f"[{entry['verdict']}] " if entry["verdict"] else ""
    words = entry["text"]
    if entry["kind"] == "answer" and entry["heard"]:
        words = f"{entry['heard']} -> {verdict}{entry['text']}"
    # A typed note may hold control characters; shown on a terminal they would act.
    shown = "".join(character if character.isprintable() else " " for character in words)
    return f"{at}  {entry['kind']:<7} {entry['id']:>4}  {shown}"

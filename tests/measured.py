"""What was measured: one file, which the benches write, and the page that is made from it.

`measured.json` has a section for each table of a bench, with its day and its machine. A bench that is told `--write`
replaces its own sections and leaves the others; `MEASURED.md` is made anew from the file and never written by hand.
"""

import argparse
import datetime as dt
import json
import os
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple

FILE = Path(__file__).with_name("measured.json")
PAGE = Path(__file__).with_name("MEASURED.md")
Figure = float | str
Sections = dict[str, dict[str, Any]]

HEAD = """\
# What was measured

Made by `python -m tests.measured` from `measured.json`, which the benches write; not to be written by hand. In brackets
stands what a figure must be; one in **bold** is not.
"""


class Measured(NamedTuple):
    """One row: what was measured, a figure a column, and what each must be, where it must."""

    what: str
    figures: Mapping[str, Figure]
    targets: Mapping[str, str] = {}
    missed: Sequence[str] = ()


def record(
    sections: Mapping[str, Sequence[Measured]],
    *,
    by: str,
    note: str = "",
    day: dt.date | None = None,
    file: Path = FILE,
) -> None:
    """Put what a bench measured into the file, in the place of what its sections held, and make the page anew.

    Parameters
    ----------
    sections
        The rows of each section, in the order in which they are shown.
    by
        The command that measured them.
    note
        What a reader must know of this run: how much was heard, what was not installed.
    day
        When they were measured; today if not told.
    file
        Where they are kept; the page stands beside it.
    """
    kept = read(file) if file.exists() else {}
    for name, rows in sections.items():
        kept[name] = {
            "by": by,
            "columns": list(dict.fromkeys(column for row in rows for column in row.figures)),
            "cores": os.cpu_count(),
            "date": (day or dt.datetime.now(dt.UTC).date()).isoformat(),
            "note": note,
            "rows": [{**row._asdict(), "missed": list(row.missed)} for row in rows],
        }
    text = json.dumps(kept, indent=1, sort_keys=True, ensure_ascii=False)
    file.write_text(f"{text}\n", encoding="utf-8")
    file.with_name(PAGE.name).write_text(page(kept), encoding="utf-8")


def read(file: Path = FILE) -> Sections:
    """Return what was measured, by section."""
    found: Sections = json.loads(file.read_text(encoding="utf-8"))
    return found


def page(sections: Sections) -> str:
    """Return the page that a person reads, in Markdown."""
    return "\n".join([HEAD, *("\n".join(_section(name, sections[name])) for name in sorted(sections))])


def _section(name: str, section: Mapping[str, Any]) -> list[str]:
    columns = section["columns"]
    measured = f"`{section['by']}`, {section['date']}, {section['cores']} cores."
    return [
        f"## {name[:1].upper()}{name[1:]}",
        "",
        f"{measured} {section['note']}".rstrip(),
        "",
        f"| what | {' | '.join(columns)} |",
        f"|---|{'---:|' * len(columns)}",
        *(f"| {row['what']} | {' | '.join(_cell(row, column) for column in columns)} |" for row in section["rows"]),
        "",
    ]


def _cell(row: Mapping[str, Any], column: str) -> str:
    figure, target = row["figures"].get(column, ""), row["targets"].get(column)
    told = f"**{figure}**" if column in row["missed"] else str(figure)
    return f"{told} ({target})" if target else told


def main() -> int:
    """Make the page anew, for whoever merged two runs by hand."""
    argparse.ArgumentParser(prog="python -m tests.measured", description=__doc__).parse_args()
    PAGE.write_text(page(read()), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())

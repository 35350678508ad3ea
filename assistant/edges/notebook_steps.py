"""The notebook's layout, as numbered steps: each runs once, in one transaction with its own record."""

from typing import NamedTuple

APPLICATION = 0x4453_4B31
"""Marks a database file as a Deckside notebook ("DSK1")."""


class Step(NamedTuple):
    """One change of layout: its name for the record, and its statements in order."""

    name: str
    statements: tuple[str, ...]


RECORD = """
CREATE TABLE IF NOT EXISTS steps (
    number INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    at TEXT NOT NULL,
    program TEXT NOT NULL
) STRICT
"""

_REFUSE = """
CREATE TRIGGER entries_no_{verb} BEFORE {verb} ON entries
BEGIN
    SELECT RAISE(ABORT, 'the notebook is append-only');
END
"""

# Never change a step that was released: add the next one.
STEPS = (
    Step(
        "entries, append-only",
        (
            f"PRAGMA application_id = {APPLICATION}",
            # `refers` is the answer a turn ended with, or the note that a later entry drops.
            """
            CREATE TABLE entries (
                id INTEGER PRIMARY KEY AUTOINCREMENT,
                at TEXT NOT NULL,
                kind TEXT NOT NULL CHECK (kind IN ('note', 'answer', 'turn', 'dropped')),
                heard TEXT NOT NULL DEFAULT '',
                text TEXT NOT NULL DEFAULT '',
                load TEXT CHECK (load IS NULL OR json_valid(load)),
                verdict TEXT,
                answer TEXT CHECK (answer IS NULL OR json_valid(answer)),
                state TEXT CHECK (state IS NULL OR json_valid(state)),
                refers INTEGER REFERENCES entries (id),
                program TEXT NOT NULL,
                edition TEXT NOT NULL DEFAULT ''
            ) STRICT
            """,
            "CREATE INDEX entries_kind_at ON entries (kind, at)",
            _REFUSE.format(verb="UPDATE"),
            _REFUSE.format(verb="DELETE"),
        ),
    ),
)

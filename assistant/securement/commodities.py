"""49 CFR 393.116 to 393.136: goods with a rule of their own that is named and not checked."""

import datetime as dt

from assistant.load.model import Load
from assistant.securement.clause import Useful, found
from assistant.securement.finding import Finding, Status
from assistant.securement.table_reader import Tables


def name_other_rules(*, load: Load, tables: Tables, on: dt.date) -> list[Finding]:
    """Name the section that governs each article which has one.

    References
    ----------
    49 CFR 393.116 to 393.136, by their headings.
    """
    findings = []
    for name in dict.fromkeys(article.name for article in load.articles):
        row = tables.lookup("commodity", on=on, name=name)
        if row is None:
            continue
        findings.append(
            found(
                row,
                Status.OUTSIDE,
                f"{row.words} governs {row.notes['heading']}; it is not checked here.",
                topic="commodity",
                remedy=f"Read {row.words} for {row.notes['heading']}.",
                weight=Useful.DETAIL,
            )
        )
    return findings

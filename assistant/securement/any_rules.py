"""What is judged whichever rule set was chosen: what was seen, what is damaged, what was told of gear and support."""

import datetime as dt

from assistant.load.model import Load
from assistant.securement.finding import Finding
from assistant.securement.judge import check_gear_and_support
from assistant.securement.table_reader import Tables
from assistant.securement.us_393_104 import check_seen, refuse_damaged

BY_OTHER_TEXTS = "What was seen, and told of gear and support, is judged by 49 CFR 393 and common practice."


def check_condition(*, load: Load, tables: Tables, on: dt.date) -> tuple[list[Finding], list[str]]:
    """Judge what was seen and told of the condition of gear and support, and own up to whose texts that goes by.

    Notes
    -----
    Nothing told is dropped because another rule set was chosen: a frayed strap is as weak on either side of a border.

    References
    ----------
    49 CFR 393.104, 393.112, 393.114; common practice, no source. Each finding names its own.
    """
    findings = [
        *check_seen(load=load, tables=tables, on=on),
        *refuse_damaged(load=load, tables=tables, on=on),
        *check_gear_and_support(load=load, tables=tables, on=on),
    ]
    return findings, [BY_OTHER_TEXTS] if findings else []

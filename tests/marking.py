"""What is not so yet, marked by parts of the names of tests."""

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

import pytest


def mark_not_yet(
    items: Iterable[pytest.Item], folder: Path, reasons: Mapping[str, Sequence[str]], *, strict: bool
) -> None:
    """Expect to fail those tests of a folder that have one of the parts in their name."""
    for item in items:
        if folder in item.path.parents:
            for reason, parts in reasons.items():
                if any(part in item.name for part in parts):
                    item.add_marker(pytest.mark.xfail(reason=reason, strict=strict))

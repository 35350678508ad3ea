"""The corpus's sentences, read from the folder beside this file.

Each has `words` (as a recognizer gives them), `text` where the voice needs commas, `group` (a row of the bench's
table), `before` (typed utterances that set the scene) and what must come of it in a fresh conversation: `expected`, the
whole load after it, or `intent`, and then the load stays as it was; both where a question also tells of the load.
`gear` and `rules` are what the conversation holds afterwards. A load is written as in `audio_fixtures/manifest.yaml`,
with its conversions, but complete: what is not listed must not be there, so what goes over the top also pulls over.

A file with `held_out: true` at its top holds sentences that are **never used to choose phrases or thresholds**. The
others were looked at while these were chosen, and flatter. A held-out sentence that was used so after all is none any
longer, and moves to another file.
"""

from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import yaml

from assistant.load.model import GearList, Load

FOLDER = Path(__file__).parent / "sentences"


class Sentence(NamedTuple):
    """One sentence and what must come of it; `held_out` if it must choose nothing."""

    words: str
    text: str
    group: str
    before: tuple[str, ...] = ()
    load: Load | None = None
    intent: str | None = None
    gear: GearList | None = None
    rules: str | None = None
    held_out: bool = False


@cache
def sentences() -> tuple[Sentence, ...]:
    """Return every sentence, file by file."""
    manifests = [yaml.safe_load(file.read_text(encoding="utf-8")) for file in sorted(FOLDER.glob("*.yaml"))]
    return tuple(
        read(entry, held_out=manifest.get("held_out", False))
        for manifest in manifests
        for entry in manifest["sentences"]
    )


def read(entry: dict[str, Any], *, held_out: bool = False) -> Sentence:
    """Read one entry of a manifest, which says whether it is held out."""
    words = entry["words"]
    gear = entry.get("gear")
    return Sentence(
        words=words,
        text=entry.get("text", f"{words[:1].upper()}{words[1:]}."),
        group=entry["group"],
        before=tuple(entry.get("before", ())),
        load=Load.model_validate(entry["expected"]) if "expected" in entry else None,
        intent=entry.get("intent"),
        gear=GearList.model_validate({"items": gear}) if gear else None,
        rules=entry.get("rules"),
        held_out=held_out,
    )

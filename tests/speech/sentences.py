"""The corpus's sentences, read from the folder beside this file.

Each has `words` (as a recognizer gives them), `text` where the voice needs commas, `group` (a row of the bench's
table), `before` (typed utterances that set the scene) and what must come of it in a fresh conversation: `expected`, the
whole load after it, or `intent`, and then the load stays as it was; both where a question also tells of the load.
`gear` and `rules` are what the conversation holds afterwards. A load is written as in `audio_fixtures/manifest.yaml`,
with its conversions, but complete: what is not listed must not be there, so what goes over the top also pulls over.
"""

from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import yaml

from assistant.load.model import GearList, Load

FOLDER = Path(__file__).parent / "sentences"


class Sentence(NamedTuple):
    """One sentence and what must come of it."""

    words: str
    text: str
    group: str
    before: tuple[str, ...] = ()
    load: Load | None = None
    intent: str | None = None
    gear: GearList | None = None
    rules: str | None = None


@cache
def sentences() -> tuple[Sentence, ...]:
    """Return every sentence, file by file."""
    return tuple(
        read(entry)
        for file in sorted(FOLDER.glob("*.yaml"))
        for entry in yaml.safe_load(file.read_text(encoding="utf-8"))["sentences"]
    )


def read(entry: dict[str, Any]) -> Sentence:
    """Read one entry of the manifest."""
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
    )

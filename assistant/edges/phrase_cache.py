"""The recognizer's phrases, kept from one time to the next: to generate them takes some seconds."""

import hashlib
import json
from contextlib import suppress
from pathlib import Path

from assistant.edges.places import cache_dir
from assistant.hear.generator import Generator
from assistant.phrase.grammar import grammar_folder
from assistant.understand.understander import Understander

_ROOMS = ("hear", "phrase", "understand")
"""What is written there decides what is generated."""


def phrases_of(understander: Understander, narrow: str = "") -> list[str]:
    """Return the recognizer's phrases, from the cache where they were generated before."""
    kept = _kept_in(narrow)
    if kept is not None:
        with suppress(OSError, ValueError):
            phrases = json.loads(kept.read_text(encoding="utf-8"))
            if isinstance(phrases, list) and phrases and all(isinstance(phrase, str) for phrase in phrases):
                return phrases
    generator = Generator(understander)
    phrases = generator.answers(narrow) if narrow else generator.whole()
    if kept is not None:
        with suppress(OSError):  # a full disk costs some seconds next time, no more
            fresh = kept.with_suffix(".new")
            fresh.touch(mode=0o600)
            fresh.write_text(json.dumps(phrases), encoding="utf-8")
            fresh.replace(kept)
    return phrases


def _kept_in(narrow: str) -> Path | None:
    """Return the cache file for this grammar and this code; None where there is no place for one."""
    digest = hashlib.sha256(narrow.encode())
    package = Path(__file__).parent.parent
    rooms = (file for room in _ROOMS for file in (package / room).glob("*.py"))
    for file in sorted([*grammar_folder().glob("*.t*"), *rooms]):
        digest.update(file.read_bytes())
    try:
        folder = cache_dir() / "phrases"
        folder.mkdir(mode=0o700, exist_ok=True)
    except OSError:
        return None
    return folder / f"{narrow or 'whole'}-{digest.hexdigest()[:16]}.json"

"""The spoken corpus: which sentence is said by whom, how quickly and in what noise, and its clean sound in a cache.

    python -m tests.speech.corpus --folder /some/where     # render the default selection's clean speech

The full cross product is sentences x voices x 3 speeds x (clean + 4 ratios x 5 noises). Only clean speech is kept, by
what it is made from; noise is added when it is heard, drawn by sentence, voice, noise and ratio.

The default selection is balanced and always the same; all take turns, the held-out sentences among themselves. Each
sentence has three voices, two of them natural, and each such pair one speed. A natural voice is heard clean, at 20, 10
and 5 dB in one of the four other noises, at one of these ratios beside the engine too, and at 0 dB in one of the five;
another voice clean and once in noise. `--every-voice` has each sentence said by every voice; `--all` is the whole cross
product.
"""

import argparse
import hashlib
import os
import random
import sys
import wave
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from itertools import product
from pathlib import Path
from typing import NamedTuple

import platformdirs

from tests.speech import human, noise
from tests.speech.sentences import Sentence, sentences
from tests.speech.voices import BY_NAME, NATURAL, RATE, Voice, available, spoken

SPEEDS = (0.85, 1.0, 1.2)
RATIOS_DB = (20, 10, 5, 0)
LOWEST_DB = 0
"""At this ratio all five noises take turns."""
RECIPE = 1
"""Counts up when the same text in the same voice is to sound otherwise than before."""
HUMAN = "human"
_AGAIN = 10_000


class Item(NamedTuple):
    """One sentence as it is heard: by whom, how quickly, in which noise (None: clean) and how far above it."""

    sentence: Sentence
    voice: str
    speed: float
    noise: str | None = None
    snr_db: int | None = None


# ---- selecting -------------------------------------------------------------------------------------------------------


def selection(said: Sequence[Sentence], voices: Sequence[str], *, every_voice: bool = False) -> list[Item]:
    """Return the balanced selection: see the module's words.

    Held-out sentences come last and take turns by themselves: they are balanced on their own, and a sentence more on
    either side changes nothing in how those on the other are heard.
    """
    parts = [[sentence for sentence in said if sentence.held_out is held_out] for held_out in (False, True)]
    return [item for part in parts for item in _in_turn(part, voices, every_voice=every_voice)]


def _in_turn(said: Sequence[Sentence], voices: Sequence[str], *, every_voice: bool) -> list[Item]:
    items: list[Item] = []
    turns: dict[str, int] = defaultdict(int)
    for place, sentence in enumerate(said):
        for voice in voices if every_voice else speakers(place, voices):
            turn, turns[voice] = turns[voice], turns[voice] + 1
            pair = partial(Item, sentence, voice, SPEEDS[turn % len(SPEEDS)])
            items.append(pair())
            items += [pair(*condition) for condition in conditions(turn, natural=voice in NATURAL)]
    return items


def conditions(turn: int, *, natural: bool) -> list[tuple[str, int]]:
    """Return the noises and ratios in which a voice's next sentence is heard."""
    every, above = [*noise.KINDS], RATIOS_DB[:-1]
    if not natural:
        return [(every[turn % len(every)], RATIOS_DB[turn % len(RATIOS_DB)])]
    others = [(noise.OTHERS[(turn + step) % len(noise.OTHERS)], snr_db) for step, snr_db in enumerate(above)]
    # The speeds take turns by three as well: a third of each speed is heard beside the engine at each ratio.
    beside = above[(turn // len(SPEEDS)) % len(above)]
    return [*others, (noise.BESIDE, beside), (every[turn % len(every)], LOWEST_DB)]


def speakers(place: int, voices: Sequence[str]) -> list[str]:
    """Return who says a sentence: two natural voices and another, taking turns; fewer where there are fewer."""
    natural = [voice for voice in voices if voice in NATURAL]
    others = [voice for voice in voices if voice not in NATURAL]
    # Pairs with a distance that changes each round, so that every two natural voices share sentences.
    pairs = [(one, other) for one in range(len(natural)) for other in range(one)]
    chosen = [natural[at] for at in pairs[place % len(pairs)]] if pairs else natural
    return chosen + ([others[place % len(others)]] if others else [])


def cross_product(said: Sequence[Sentence], voices: Sequence[str]) -> list[Item]:
    """Return every sentence in every voice, at every speed, clean and in every noise at every ratio."""
    conditions = [(None, None), *product(noise.KINDS, RATIOS_DB)]
    return [
        Item(sentence, voice, speed, kind, snr_db)
        for sentence, voice, speed, (kind, snr_db) in product(said, voices, SPEEDS, conditions)
    ]


def recorded() -> list[Item]:
    """Return a person's number words joined into weights, every form clean and in noise; none if not installed."""
    if human.folder() is None:
        return []
    items = []
    for form in human.FORMS:
        for words, pounds, turn in human.weights(form):
            told = Sentence(words, words, f"{HUMAN}: {form}", load=human.told(pounds))
            items.append(Item(told, HUMAN, 1.0))
            items += [Item(told, HUMAN, 1.0, *condition) for condition in conditions(turn, natural=False)]
    return items


def narrowed(items: Iterable[Item], only: Mapping[str, str]) -> list[Item]:
    """Keep what is of a voice, noise ("clean" for none), group, speed or ratio, or is ("yes") or is not held out."""
    return [
        item
        for item in items
        if only.get("voice", item.voice) == item.voice
        and only.get("noise", item.noise or "clean") == (item.noise or "clean")
        and only.get("group", item.sentence.group) == item.sentence.group
        and float(only.get("speed", item.speed)) == item.speed
        and only.get("db", str(item.snr_db)) == str(item.snr_db)
        and only.get("held_out", _yes_or_no(item)) == _yes_or_no(item)
    ]


def _yes_or_no(item: Item) -> str:
    return "yes" if item.sentence.held_out else "no"


def sample(items: Sequence[Item], count: int, *, seed: int = 0) -> list[Item]:
    """Return a seeded sample with as many of each voice in each condition, as near as the number allows."""
    draw = random.Random(seed)  # noqa: S311 - a sample, no secret
    strata: dict[tuple[str, bool, int | None], list[Item]] = defaultdict(list)
    for item in dict.fromkeys(items):
        strata[item.voice, item.noise == noise.BESIDE, item.snr_db].append(item)
    for group in strata.values():
        draw.shuffle(group)
    rounds = max(map(len, strata.values()), default=0)
    turns = [group[turn] for turn in range(rounds) for group in strata.values() if turn < len(group)]
    kept = set(turns[:count])
    return [item for item in items if item in kept]


# ---- sound -----------------------------------------------------------------------------------------------------------


def default_folder() -> Path:
    """Return the cache folder where none is named."""
    return Path(platformdirs.user_cache_dir("deckside-speech-corpus"))


def clean(voice: str, text: str, speed: float, folder: Path, *, again: bool = False) -> bytes:
    """Return what a voice says, from the cache where it was said before: 16-bit mono PCM at 16 kHz."""
    if voice == HUMAN:
        return human.speak_number(text, seed=seed_of(text) + _AGAIN * again)
    digest = hashlib.sha256(f"{RECIPE}|{voice}|{speed}|{text}".encode()).hexdigest()[:24]
    kept = folder / voice / f"{digest}.wav"
    if not kept.exists():
        kept.parent.mkdir(parents=True, exist_ok=True)
        fresh = kept.with_suffix(f".{os.getpid()}")
        with wave.open(str(fresh), "wb") as file:
            file.setparams((1, 2, RATE, 0, "NONE", ""))
            file.writeframes(spoken(BY_NAME[voice], text, speed))
        fresh.replace(kept)
    with wave.open(str(kept), "rb") as file:
        return file.readframes(file.getnframes())


def heard_as(item: Item, text: str, folder: Path, *, again: bool = False) -> bytes:
    """Return text in an item's voice, speed, noise and ratio; said again, it has other noise."""
    pcm = clean(item.voice, text, item.speed, folder, again=again)
    if item.noise is None or item.snr_db is None:
        return pcm
    seed = seed_of(item.sentence.words, item.voice, item.noise, item.snr_db, text if again else "")
    return noise.mixed(pcm, noise.piece(item.noise, len(pcm) // 2, seed=seed), snr_db=item.snr_db)


def seed_of(*what: object) -> int:
    """Return a seed that is the same on every machine."""
    return int.from_bytes(hashlib.sha256(repr(what).encode()).digest()[:6])


# ---- command ---------------------------------------------------------------------------------------------------------


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add the options that say what is heard and where its sound is kept."""
    parser.add_argument("--folder", type=Path, default=default_folder(), help="where clean speech is kept")
    parser.add_argument("--all", action="store_true", help="the whole cross product")
    parser.add_argument("--every-voice", action="store_true", help="each sentence in every voice")
    parser.add_argument("--only", default="", help="voice=, noise=, group=, speed=, db=, held_out=yes|no; with commas")
    parser.add_argument("--limit", type=int, help="a seeded, balanced sample of so many")
    parser.add_argument("--processes", type=int, default=1)


def chosen(options: argparse.Namespace) -> tuple[list[Item], tuple[Voice, ...]]:
    """Return what the options choose, and the voices that are not installed."""
    here, missing = available()
    only = dict(part.strip().split("=", 1) for part in options.only.split(",") if part.strip())
    names = [voice.name for voice in here]
    if options.all:
        items = cross_product(sentences(), names)
    else:
        items = selection(sentences(), names, every_voice=options.every_voice or only.get("voice") in names)
    items = narrowed([*items, *recorded()], only)
    return (items if options.limit is None else sample(items, options.limit)), missing


def render(item: Item, folder: Path) -> None:
    """Put an item's clean speech into the cache."""
    clean(item.voice, item.sentence.text, item.speed, folder)


def main() -> int:
    """Render clean speech."""
    parser = argparse.ArgumentParser(prog="python -m tests.speech.corpus", description=__doc__.splitlines()[0])
    add_options(parser)
    options = parser.parse_args()
    items, missing = chosen(options)
    once = list({(item.voice, item.speed, item.sentence.text): item for item in items}.values())
    with ProcessPoolExecutor(options.processes) as pool:
        for _ in pool.map(partial(render, folder=options.folder), once, chunksize=16):
            pass
    lacking = f"; not installed: {', '.join(voice.name for voice in missing)}" if missing else ""
    sys.stdout.write(f"{len(once)} clips in {options.folder}{lacking}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())

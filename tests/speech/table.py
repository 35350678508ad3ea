"""The speech bench's table: rows of what came of many utterances, beside what they must reach. Pure.

What each column says is written in `bench.py`.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from typing import Any, NamedTuple

from tests.measured import Measured
from tests.speech import corpus, noise
from tests.speech.outcome import Outcome
from tests.speech.voices import NATURAL

Result = dict[str, Any]


class Target(NamedTuple):
    """What a row must reach, in percent; None where nothing is asked of it."""

    right: float | None = None
    after_one: float | None = None
    wrong_number: float | None = None
    asked_right: float | None = None


TARGETS = {
    None: Target(97, 99, 0, 3),
    20: Target(95, 98, 0, 4),
    10: Target(88, 95, 0.2, 12),
    5: Target(60, 80, 0.5, 30),
    0: Target(wrong_number=0.5),
}
HUMAN_TARGET = Target(right=97, wrong_number=0)


def end(result: Result) -> str:
    """Return what became of it in the end."""
    return str(result.get("then", result["outcome"]))


def share(results: Sequence[Result], is_so: Callable[[Result], bool]) -> float:
    """Return how many percent are so."""
    return 100 * sum(map(is_so, results)) / len(results)


class Part(NamedTuple):
    """The results that one row is made of, with its name and what it must reach."""

    name: str
    results: Sequence[Result]
    target: Target = Target()


def figures(results: Sequence[Result]) -> dict[str, float]:
    """Return what a row holds beside its name: how many were heard, and percents."""
    errors = 100 * sum(one["word_errors"] for one in results) / max(1, sum(one["words"] for one in results))
    return {
        "heard": len(results),
        "word error": errors,
        "right first": share(results, lambda one: one["outcome"] == Outcome.RIGHT),
        "right, 1 question": share(results, lambda one: end(one) == Outcome.RIGHT),
        "asked though right": share(results, lambda one: one["asked_though_right"]),
        "wrong number": share(results, lambda one: end(one) == Outcome.WRONG_NUMBER),
        "wrong otherwise": share(results, lambda one: end(one) == Outcome.WRONG),
    }


def demands(target: Target) -> dict[str, tuple[float, bool]]:
    """Return what a row must reach, by column: the limit, and whether it is the least; else it is the most."""
    asked = {
        "right first": (target.right, True),
        "right, 1 question": (target.after_one, True),
        "asked though right": (target.asked_right, False),
        "wrong number": (target.wrong_number, False),
    }
    return {column: (limit, least) for column, (limit, least) in asked.items() if limit is not None}


def reaches(got: float, limit: float, *, least: bool) -> bool:
    """Return whether a figure is at least, or at most, its limit."""
    return got >= limit if least else got <= limit


def row(name: str, results: Sequence[Result], target: Target | None = None) -> str:
    """Return one row of the table, with its targets beside what was measured."""
    got, must = figures(results), demands(target or Target())

    def cell(column: str) -> str:
        if column not in must:
            return f"{got[column]:.1f}"
        limit, least = must[column]
        reached = "yes" if reaches(got[column], limit, least=least) else "NO"
        return f"{got[column]:.1f} {'>=' if least else '<='}{limit:g} {reached}"

    first = f"{name:<42}{len(results):>7}{got['word error']:>7.1f}"
    return first + "".join(f"{cell(column):>16}" for column in [*got][2:])


def measured(part: Part) -> Measured:
    """Return one row as the file of what was measured keeps it."""
    got, must = figures(part.results), demands(part.target)
    return Measured(
        part.name,
        {column: figure if column == "heard" else round(figure, 1) for column, figure in got.items()},
        {column: f"{'≥' if least else '≤'} {limit:g}" for column, (limit, least) in must.items()},
        [column for column, (limit, least) in must.items() if not reaches(got[column], limit, least=least)],
    )


NAMES = (
    ("right", "first"),
    ("right,", "1 question"),
    ("asked", "though right"),
    ("wrong", "number"),
    ("wrong", "otherwise"),
)
HEAD = "\n".join(
    f"{what:<42}{many:>7}{errors:>7}" + "".join(f"{name[line]:>16}" for name in NAMES)
    for line, (what, many, errors) in enumerate((("", "", "word"), ("percent", "heard", "error")))
)


def conditions(results: Sequence[Result]) -> list[str]:
    """Return the rows of the natural voices, by ratio."""
    return [row(*part) for part in by_ratio(results)]


def by_ratio(results: Sequence[Result]) -> list[Part]:
    """Return the natural voices, by ratio: with targets, beside the engine apart; held-out sentences."""
    natural = [one for one in results if one["voice"] in NATURAL]
    parts: list[Part] = []
    for snr_db, target in TARGETS.items():
        here = [one for one in natural if one["db"] == snr_db]
        others = [one for one in here if one["noise"] != noise.BESIDE]
        name = f"natural voices, {_ratio(snr_db)}"
        if snr_db == corpus.LOWEST_DB:
            parts.append(Part(f"{name}, any noise", here, target))
        else:
            parts.append(Part(name, others, target))
            beside = [one for one in here if one["noise"] == noise.BESIDE]
            parts.append(Part(f"{name}, beside the engine", beside, target))
        parts.append(Part(f"{name}, held-out sentences", [one for one in others if one["held_out"]]))
    return [part for part in parts if part.results]


def by_voice(results: Sequence[Result]) -> list[Part]:
    """Return each natural voice by itself, by ratio, beside the engine and at the lowest ratio left out."""
    natural = [one for one in results if one["voice"] in NATURAL and one["noise"] != noise.BESIDE]
    ratios = [None, *corpus.RATIOS_DB[:-1]]
    return [
        Part(f"voice {voice}, {_ratio(snr_db)}", some) for (voice, snr_db), some in _split(natural, "voice", ratios)
    ]


def by_person(results: Sequence[Result]) -> list[Part]:
    """Return the recorded number words, by form and ratio."""
    human = [one for one in results if one["voice"] == corpus.HUMAN]
    return [
        Part(f"{form}, {_ratio(snr_db)}", some, Target() if snr_db is not None else HUMAN_TARGET)
        for (form, snr_db), some in _split(human, "group", (None, *corpus.RATIOS_DB))
    ]


def breakdown(results: Sequence[Result]) -> list[str]:
    """Return the rows by voice, by noise, by speed, by group, and of the recorded number words."""
    made = [one for one in results if one["voice"] != corpus.HUMAN]
    rows: list[str] = []
    for key, ratios in (("voice", (None, 20, 10)), ("speed", (None, 10)), ("group", (None, 10))):
        rows.append("")
        rows += [row(f"{key} {value}, {_ratio(snr)}", some) for (value, snr), some in _split(made, key, ratios)]
    rows.append("")
    rows += [row(f"{kind}, {_ratio(snr)}", some) for (kind, snr), some in _split(made, "noise", corpus.RATIOS_DB)]
    return [*rows, "", *(row(*part) for part in by_person(results))]


def _ratio(snr_db: int | None) -> str:
    return "clean" if snr_db is None else f"{snr_db} dB"


def _split(
    results: Iterable[Result], key: str, ratios: Sequence[int | None]
) -> list[tuple[tuple[Any, int | None], list[Result]]]:
    parts: dict[tuple[Any, int | None], list[Result]] = defaultdict(list)
    for one in results:
        if one["db"] in ratios:
            parts[one[key], one["db"]].append(one)
    return sorted(parts.items(), key=lambda part: (str(part[0][0]), ratios.index(part[0][1])))


def passes(results: Sequence[Result]) -> list[tuple[str, float, float]]:
    """Return how long hearing took, whole and each pass of it: share of the sound, percent of all."""
    whole = sum(one["hear_s"] for one in results) / sum(one["audio_s"] for one in results)
    found = [("time to hear / length of sound", whole, 100.0)]
    for turn in range(max(len(one["passes_s"]) for one in results)):
        had = [one for one in results if len(one["passes_s"]) > turn]
        spent = sum(one["passes_s"][turn] for one in had) / sum(one["audio_s"] for one in had)
        found.append((f"pass {turn + 1}", spent, 100 * len(had) / len(results)))
    return found


def timing(results: Sequence[Result]) -> str:
    """Return the same as one line."""
    return "; ".join(f"{what}: {spent:.4f}, of {part:.1f} % of utterances" for what, spent, part in passes(results))

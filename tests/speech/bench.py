"""Hears the corpus through the real ear and prints one table of what came of it. Run `python -m tests.speech.bench`.

Each sentence goes the whole way, `Ear.hear` and `reply`, in a fresh conversation after what stands before it. What
"right", "asked" and "wrong number" mean is written in `outcome.py`. Columns:

word error
    Words wrong, missing or besides, of those said; words of one sound count as equal, articles are left out.
right first
    Right without a question.
right, 1 question
    Right at once, or after the driver's answer to one question. The driver is simulated and speaks, in the same voice,
    speed, noise and ratio: "yes" when what is read back is right, every number word of it too, the right one where the
    question offers it, else the sentence again.
asked though right
    Asked, although what was heard would have been right.
wrong number
    At the end, after the driver's answer if there was one, a number stands that was not said, and nobody asked.
wrong otherwise
    At the end another fact is wrong or missing, and nobody asked.

Rows with targets are over the natural voices alone; the row below 5 dB has only one, that no number goes wrong. At each
ratio a further row, without targets, tells of the held-out sentences among them, not beside the engine.
A person's recorded number words have rows of their own; as the person recorded no "yes", the natural voice `heart`
says it for them.
"""

import argparse
import datetime as dt
import json
import sys
import time
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import Any, NamedTuple

from assistant.conversation import Conversation
from assistant.edges.ear import Ear
from assistant.edges.model_search import searching_widely
from assistant.edges.model_store import ready_model
from assistant.edges.recognizer import BYTES_PER_SECOND, Heard, Recognizer
from assistant.hear.choose import choose
from assistant.hear.doubt import Utterance
from assistant.kit import Kit, read_kit
from assistant.reply import reply
from assistant.say.answer import Answer
from tests.speech import corpus, human, noise
from tests.speech.corpus import Item
from tests.speech.outcome import Goal, Outcome, driver_says, goal_of, outcome_of, taken, word_errors
from tests.speech.voices import NATURAL

DAY = dt.date(2026, 11, 25)
YES_FOR_HUMAN = "heart"
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


# ---- hearing ---------------------------------------------------------------------------------------------------------


class TimedRecognizer(Recognizer):
    """The recognizer, which also notes how long each pass took [s]."""

    passes: list[float]

    def listen(self, pcm: bytes, phrases: Sequence[str] | None) -> Heard:
        """Listen, and note how long it took."""
        began = time.perf_counter()
        try:
            return super().listen(pcm, phrases)
        finally:
            self.passes.append(time.perf_counter() - began)


class Bench:
    """The ear and the kit, opened once a process."""

    def __init__(self, folder: Path) -> None:
        self.kit: Kit = read_kit(DAY)
        self.folder = folder
        understander = self.kit.understander
        self.recognizer = TimedRecognizer(
            searching_widely(ready_model(None)),
            understander.number_words,
            lambda readings: choose(readings, understander),
        )
        self.recognizer.passes = []
        self.ear = Ear(self.recognizer, understander)
        self.ear.prepare()

    def hear(self, item: Item) -> Result:
        """Hear one item, and the driver's answer where something is asked; return what came of it."""
        goal = goal_of(item.sentence, self.kit)
        self.recognizer.passes.clear()
        pcm = corpus.heard_as(item, item.sentence.text, self.folder)
        began = time.perf_counter()
        utterance = self.ear.hear(pcm, goal.before)
        spent = time.perf_counter() - began
        passes = [*self.recognizer.passes]
        answer, after = taken(utterance, goal.before, self.kit)
        outcome = outcome_of(goal, utterance.text, answer, after, self.kit)
        wrong, of = word_errors(item.sentence.words, utterance.text, self.kit.understander.grammar)
        result = {
            "group": item.sentence.group,
            "held_out": item.sentence.held_out,
            "voice": item.voice,
            "speed": item.speed,
            "noise": item.noise,
            "db": item.snr_db,
            "said": item.sentence.words,
            "heard": utterance.text,
            "unsure": list(utterance.unsure),
            "too_loud": utterance.too_loud,
            "answer": answer.say,
            "outcome": str(outcome),
            "asked_though_right": outcome is Outcome.ASKED and self.would_be_right(goal, utterance.text),
            "word_errors": wrong,
            "words": of,
            "audio_s": len(pcm) / BYTES_PER_SECOND,
            "hear_s": spent,
            "passes_s": passes,
        }
        return {**result, **(self.ask(item, goal, utterance, answer, after) if outcome is Outcome.ASKED else {})}

    def would_be_right(self, goal: Goal, heard: str) -> bool:
        """Return whether what was heard comes to the right load if it is taken as sure."""
        answer, after = reply(heard, goal.before, kit=self.kit)
        return outcome_of(goal, heard, answer, after, self.kit) is Outcome.RIGHT

    def ask(self, item: Item, goal: Goal, before: Utterance, answer: Answer, after: Conversation) -> Result:
        """Let the driver answer, and return what came of that."""
        words, text = driver_says(goal, answer, after, self.kit)
        speaker = item._replace(voice=YES_FOR_HUMAN) if item.voice == corpus.HUMAN and words == "yes" else item
        if item.voice == corpus.HUMAN and words != "yes":
            text = " ".join(word for word in words.split() if word in human.FILES)  # he recorded no others
        unsettled = before if answer.confirm or not answer.understood else None  # as a session has it
        utterance = self.ear.hear(corpus.heard_as(speaker, text, self.folder, again=True), after, unsettled)
        second, then = taken(utterance, after, self.kit)
        # A yes tells the phrase that was held, with the numbers beside those that were read back.
        heard, confirmed = (answer.heard, answer.confirm) if words == "yes" else (utterance.text, ())
        return {
            "then_said": words,
            "then_heard": utterance.text,
            "then_answer": second.say,
            "then": str(outcome_of(goal, heard, second, then, self.kit, read_back=confirmed)),
        }


_bench: list[Bench] = []


def _open(folder: Path) -> None:
    _bench.append(Bench(folder))


def _hear(item: Item) -> Result:
    return _bench[0].hear(item)


def hear_all(items: Sequence[Item], folder: Path, processes: int) -> list[Result]:
    """Hear every item, in so many processes."""
    with ProcessPoolExecutor(processes, initializer=_open, initargs=(folder,)) as pool:
        return list(pool.map(_hear, items, chunksize=32))


# ---- the table -------------------------------------------------------------------------------------------------------


def end(result: Result) -> str:
    """Return what became of it in the end."""
    return str(result.get("then", result["outcome"]))


def share(results: Sequence[Result], is_so: Callable[[Result], bool]) -> float:
    """Return how many percent are so."""
    return 100 * sum(map(is_so, results)) / len(results)


def row(name: str, results: Sequence[Result], target: Target | None = None) -> str:
    """Return one row of the table, with its targets beside what was measured."""
    target = target or Target()
    errors = 100 * sum(one["word_errors"] for one in results) / max(1, sum(one["words"] for one in results))
    cells = [
        _at_least(share(results, lambda one: one["outcome"] == Outcome.RIGHT), target.right),
        _at_least(share(results, lambda one: end(one) == Outcome.RIGHT), target.after_one),
        _at_most(share(results, lambda one: one["asked_though_right"]), target.asked_right),
        _at_most(share(results, lambda one: end(one) == Outcome.WRONG_NUMBER), target.wrong_number),
        _at_most(share(results, lambda one: end(one) == Outcome.WRONG), None),
    ]
    return f"{name:<42}{len(results):>7}{errors:>7.1f}" + "".join(f"{cell:>16}" for cell in cells)


def _at_least(got: float, target: float | None) -> str:
    return f"{got:.1f}" if target is None else f"{got:.1f} >={target:g} {'yes' if got >= target else 'NO'}"


def _at_most(got: float, target: float | None) -> str:
    return f"{got:.1f}" if target is None else f"{got:.1f} <={target:g} {'yes' if got <= target else 'NO'}"


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
    """Return the rows of the natural voices, by ratio: with targets, beside the engine apart; held-out sentences."""
    natural = [one for one in results if one["voice"] in NATURAL]
    rows: list[tuple[str, list[Result], Target | None]] = []
    for snr_db, target in TARGETS.items():
        here = [one for one in natural if one["db"] == snr_db]
        others = [one for one in here if one["noise"] != noise.BESIDE]
        name = _ratio(snr_db)
        if snr_db == corpus.LOWEST_DB:
            rows.append((f"{name}, any noise", here, target))
        else:
            rows.append((name, others, target))
            rows.append((f"{name}, beside the engine", [one for one in here if one["noise"] == noise.BESIDE], target))
        rows.append((f"{name}, held-out sentences", [one for one in others if one["held_out"]], None))
    return [row(f"natural voices, {name}", some, target) for name, some, target in rows if some]


def breakdown(results: Sequence[Result]) -> list[str]:
    """Return the rows by voice, by noise, by speed, by group, and of the recorded number words."""
    made = [one for one in results if one["voice"] != corpus.HUMAN]
    rows: list[str] = []
    for key, ratios in (("voice", (None, 20, 10)), ("speed", (None, 10)), ("group", (None, 10))):
        rows.append("")
        rows += [row(f"{key} {value}, {_ratio(snr)}", some) for (value, snr), some in _split(made, key, ratios)]
    rows.append("")
    rows += [row(f"{kind}, {_ratio(snr)}", some) for (kind, snr), some in _split(made, "noise", corpus.RATIOS_DB)]
    rows.append("")
    human = [one for one in results if one["voice"] == corpus.HUMAN]
    for (form, snr_db), some in _split(human, "group", (None, *corpus.RATIOS_DB)):
        rows.append(row(f"{form}, {_ratio(snr_db)}", some, None if snr_db is not None else HUMAN_TARGET))
    return rows


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


def timing(results: Sequence[Result]) -> str:
    """Return how long hearing took, and each pass of it, as a share of the length of the sound."""
    audio = sum(one["audio_s"] for one in results)
    lines = [f"time to hear / length of sound: {sum(one['hear_s'] for one in results) / audio:.4f}"]
    for turn in range(max(len(one["passes_s"]) for one in results)):
        had = [one for one in results if len(one["passes_s"]) > turn]
        spent = sum(one["passes_s"][turn] for one in had) / sum(one["audio_s"] for one in had)
        lines.append(f"pass {turn + 1}: {spent:.4f}, of {100 * len(had) / len(results):.1f} % of utterances")
    return "; ".join(lines)


def main() -> int:
    """Print the table; the exit code is 1 if a target was missed."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.speech.bench", description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    corpus.add_options(parser)
    parser.add_argument("--json", type=Path, help="write every utterance's outcome, one a line")
    options = parser.parse_args()
    items, missing = corpus.chosen(options)
    for voice in missing:
        print(f"not installed, skipped: {voice.name} ({voice.package})")
    if not items:
        print("nothing is chosen")
        return 2
    began = time.perf_counter()
    results = hear_all(items, options.folder, options.processes)
    if options.json:
        options.json.write_text("".join(f"{json.dumps(one)}\n" for one in results), encoding="utf-8")
    targets = conditions(results)
    table = [HEAD, *targets, *breakdown(results)]
    print("\n".join(table))
    print(f"\n{timing(results)}\n{len(results)} utterances in {(time.perf_counter() - began) / 60:.1f} minutes")
    return 1 if any(" NO" in line for line in table) else 0


if __name__ == "__main__":
    sys.exit(main())

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
The rows are made in `table.py`.
"""

import argparse
import datetime as dt
import json
import sys
import time
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

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
from tests.measured import Measured, record
from tests.speech import corpus, human
from tests.speech.corpus import Item
from tests.speech.outcome import Goal, Outcome, driver_says, goal_of, outcome_of, taken, word_errors
from tests.speech.table import (
    HEAD,
    Result,
    breakdown,
    by_person,
    by_ratio,
    by_voice,
    conditions,
    measured,
    passes,
    timing,
)
from tests.speech.voices import Voice

DAY = dt.date(2026, 11, 25)
YES_FOR_HUMAN = "heart"
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


# ---- what is told of it ----------------------------------------------------------------------------------------------


def write(results: Sequence[Result], missing: Sequence[Voice]) -> None:
    """Keep what was measured in the file of all benches."""
    lacking = f" Not installed: {', '.join(voice.name for voice in missing)}." if missing else ""
    record(
        {
            "speech": [measured(part) for part in (*by_ratio(results), *by_voice(results), *by_person(results))],
            "speech, time to hear": [
                Measured(what, {"share of the length": round(spent, 4), "% of utterances": round(part, 1)})
                for what, spent, part in passes(results)
            ],
        },
        by="python -m tests.speech.bench",
        note=f"{len(results):,} utterances, in percent.{lacking}",
    )


def main() -> int:
    """Print the table; the exit code is 1 if a target was missed."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.speech.bench", description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    corpus.add_options(parser)
    parser.add_argument("--json", type=Path, help="write every utterance's outcome, one a line")
    parser.add_argument("--write", action="store_true", help="keep the figures in tests/measured.json; all or nothing")
    options = parser.parse_args()
    if options.write and (options.only or options.all or options.every_voice or options.limit is not None):
        parser.error("--write keeps the figures of the whole default selection: leave out what narrows or widens it")
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
    if options.write:
        write(results, missing)
    table = [HEAD, *conditions(results), *breakdown(results)]
    print("\n".join(table))
    print(f"\n{timing(results)}\n{len(results)} utterances in {(time.perf_counter() - began) / 60:.1f} minutes")
    return 1 if any(" NO" in line for line in table) else 0


if __name__ == "__main__":
    sys.exit(main())

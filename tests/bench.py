"""The bench: one table of how good and how quick, beside what must be reached. Run `python -m tests.bench`.

With `--write` its figures are kept in `tests/measured.json`. Speed is measured here and asserted nowhere. The clips
were also used to choose the phrases and the doubt threshold, so the first row flatters; `tests/speech` says more
about voices and noise that were not.
"""

import argparse
import datetime as dt
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, NamedTuple

import yaml

from assistant.conversation import Conversation
from assistant.edges.ear import Ear
from assistant.edges.hearing import open_ear
from assistant.edges.recognizer import chunks
from assistant.edges.sound_files import read_sound
from assistant.edges.voice import Voice, choose_voice
from assistant.hear.doubt import Utterance
from assistant.kit import Kit, read_kit
from assistant.reply import reply
from assistant.say.machine import as_json
from tests.measured import Measured, record
from tests.speech.expected import as_expected

CLIPS = Path(__file__).parents[1] / "audio_fixtures"
DAY = dt.date(2026, 11, 25)
ASKED = "forty two five coil eyes crosswise four chains and a strap"
BLOCK = 8000
COLD_RUNS = 15
WARM_RUNS = 300


class Row(NamedTuple):
    """One line of the table."""

    what: str
    measured: str
    target: str
    reached: bool

    def kept(self) -> Measured:
        """Return the row as the file of what was measured keeps it."""
        missed = [] if self.reached else ["measured"]
        return Measured(self.what, {"measured": self.measured}, {"measured": self.target}, missed)


def main() -> int:
    """Print the table; the exit code is 1 if a target was missed."""
    options = reader("python -m tests.bench", __doc__).parse_args()
    kit = read_kit(DAY)
    rows = [cold(), warm(kit)]
    ear, voice = open_ear(kit), choose_voice()
    ear.prepare()
    list(voice.samples("Ready."))
    rows += [*clips(kit, ear), latency(kit, ear, voice)]
    rows.append(memory())
    return shown(rows, section="clips and speed", by="python -m tests.bench", write=options.write)


def reader(program: str, what: str) -> argparse.ArgumentParser:
    """Return the reader of a bench's options."""
    parser = argparse.ArgumentParser(prog=program, description=what)
    parser.add_argument("--write", action="store_true", help="keep the figures in tests/measured.json")
    return parser


def shown(rows: Sequence[Row], *, section: str, by: str, write: bool) -> int:
    """Print a table, keep it where that is asked for, and return 1 if a target was missed."""
    width, wide = (max(len(row[at]) for row in rows) for at in (0, 1))
    for row in rows:
        reached = "yes" if row.reached else "NO"
        print(f"{row.what:<{width}}  {row.measured:>{wide}}  must be {row.target:<10}  {reached}")
    if write:
        record({section: [row.kept() for row in rows]}, by=by)
    return 0 if all(row.reached for row in rows) else 1


def clips(kit: Kit, ear: Ear) -> list[Row]:
    """Hear every clip in a fresh conversation and compare with what its manifest names."""
    entries = yaml.safe_load((CLIPS / "manifest.yaml").read_text(encoding="utf-8"))["clips"]
    right = with_load = right_load = 0
    heard_s = spent_s = 0.0
    for entry in entries:
        pcm = read_sound(CLIPS / entry["file"])
        conversation = Conversation(gear=kit.sample_gear)
        began = time.perf_counter()
        utterance = ear.hear(pcm, conversation)
        spent_s += time.perf_counter() - began
        heard_s += len(pcm) / 32_000
        answer, _ = reply(utterance.text, conversation, kit=kit, unsure=utterance.unsure, hazy=utterance.hazy)
        good = as_expected(entry, answer.intent, as_json(answer)["load"])
        right += good
        if "intent" not in entry:
            with_load += 1
            right_load += good
        if not good:
            print(f"  not right: {entry['file']}: said {entry['words']!r}, heard {utterance.text!r}")
    share, loads = right / len(entries), right_load / with_load
    return [
        Row("clips, clean: loads exactly right", f"{loads:.1%} of {with_load}", "≥ 97 %", loads >= 0.97),
        Row("clips, clean: questions and commands too", f"{share:.1%} of {len(entries)}", "≥ 97 %", share >= 0.97),
        Row(
            "time to hear / length of sound, our grammar",
            f"{spent_s / heard_s:.3f}",
            "≤ 0.06",
            spent_s / heard_s <= 0.06,
        ),
    ]


def cold() -> Row:
    """Run `deckside ask` as a whole process, again and again."""
    with tempfile.TemporaryDirectory() as home:
        command = [sys.executable, "-m", "assistant.cli", "ask", ASKED, "--json"]
        environment = {**os.environ, "DECKSIDE_HOME": home}
        times = timed(
            lambda: subprocess.run(command, check=True, capture_output=True, env=environment),  # noqa: S603 - our own
            COLD_RUNS,
        )
    median = statistics.median(times)
    return Row("`deckside ask` cold, whole process, median", f"{median:.2f} s", "≤ 0.6 s", median <= 0.6)


def warm(kit: Kit) -> Row:
    """Parse and check one utterance, warm."""
    conversation = Conversation(gear=kit.sample_gear)

    def parse_and_check() -> None:
        answer, _ = reply(ASKED, conversation, kit=kit)
        assert answer.judgement is not None

    median = statistics.median(timed(parse_and_check, WARM_RUNS)) * 1000
    return Row("parse + check one utterance, warm, median", f"{median:.2f} ms", "≤ 2 ms", median <= 2)


def latency(kit: Kit, ear: Ear, voice: Voice) -> Row:
    """Time from the last sample in to the first sample of the answer out, sound fed as it would come."""
    times = []
    for clip in sorted(CLIPS.glob("*.flac"))[::2]:
        conversation = Conversation(gear=kit.sample_gear)
        *early, last = chunks(read_sound(clip), BLOCK)
        stream = ear.stream()
        for block in early:
            stream.feed(block)
        began = time.perf_counter()
        heard = stream.feed(last) or stream.finish()
        utterance: Utterance = ear.settle(heard, conversation)
        answer, _ = reply(utterance.text, conversation, kit=kit, unsure=utterance.unsure, hazy=utterance.hazy)
        next(iter(voice.samples(answer.say)))
        times.append(time.perf_counter() - began)
    late = statistics.quantiles(times, n=20)[-1]
    measured = f"{late:.2f} s (median {statistics.median(times):.2f})"
    return Row("last sample in -> first sample out, 95th percentile", measured, "≤ 0.5 s", late <= 0.5)


def memory() -> Row:
    """Return the most memory this process held, with model, grammar and voice loaded."""
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return Row("memory, listening with voice loaded, peak", f"{peak:.0f} MB", "≤ 700 MB", peak <= 700)


def timed(run: Callable[[], Any], times: int) -> list[float]:
    """Return how long each of some runs took [s], after one that does not count."""
    run()
    spent = []
    for _ in range(times):
        began = time.perf_counter()
        run()
        spent.append(time.perf_counter() - began)
    return spent


if __name__ == "__main__":
    sys.exit(main())

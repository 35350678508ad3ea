"""All that a change must pass, one step after another: `python -m tests [what pytest is to be given]`.

Format, lint, types and tests, without root and without a sound server: tests that need one are skipped where there is
none, and `.ci/run` holds them on a clean machine. Ends at the first step that fails.
"""

import subprocess
import sys
from collections.abc import Sequence
from importlib.util import find_spec
from pathlib import Path

ROOT = Path(__file__).parents[1]
STEPS = {
    "Format": ("ruff", "format", "--check", "."),
    "Lint": ("ruff", "check", "."),
    "Types": ("mypy",),
    "Tests": ("pytest",),
}


def main(given: Sequence[str]) -> int:
    """Run the steps; return the exit code of the first that failed, or 0."""
    missing = sorted({step[0] for step in STEPS.values() if find_spec(step[0]) is None})
    if missing:
        print(f"Not installed: {', '.join(missing)}. Run: {sys.executable} -m pip install -e '.[dev]'")
        return 2
    for name, step in STEPS.items():
        command = [*step, *(given if name == "Tests" else ())]
        print(f"\n== {name}: {' '.join(command)}", flush=True)
        ended = subprocess.run([sys.executable, "-m", *command], cwd=ROOT, check=False)  # noqa: S603 - our own steps
        if ended.returncode:
            print(f"\n{name}: failed", flush=True)
            return ended.returncode
    print("\nAll passed")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""The rooms: imports point inwards, what is pure stays pure, and the repository holds no trace of a machine."""

import ast
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "assistant"
MODULES = sorted(PACKAGE.rglob("*.py"))
LONGEST = 400
"""Lines of a module; a longer one is two."""

# Which rooms each room may look into. What stands above the rooms (`reply` and its parts) may use all but edges.
INWARDS = {
    "load": set(),
    "securement": {"load"},
    "haul": {"load", "securement"},
    "phrase": {"load"},
    "understand": {"load", "phrase"},
    "hear": {"load", "phrase", "understand"},
    "say": {"load", "securement", "haul"},
    "quiz": {"load", "securement", "haul", "say"},
    "kit": {"load", "phrase", "understand", "securement", "haul"},
    "conversation": {"load", "phrase", "quiz", "say", "securement"},
    "above": {"load", "phrase", "understand", "securement", "haul", "say", "quiz", "kit", "conversation", "above"},
}
SHARED = {
    "talk", "taking", "judging", "questions", "movement_talk", "quiz_talk", "note_talk", "note_reading", "commands",
    "short_answers", "halves", "what_if", "doubts", "offers", "reply",
}  # fmt: skip
OPENS_FILES = {"phrase/grammar.py", "securement/table_reader.py"}
NAMES_A_FOLDER = {"understand/lexicon.py", "understand/notes.py"}
"""These take the folder whose files phrase/grammar.py opens for them, and open none themselves."""
SEEDED = {"hear/generator.py", "quiz/questions.py"}
IMPURE = {
    "os", "sys", "time", "random", "secrets", "uuid", "logging", "sqlite3", "socket", "urllib", "http", "subprocess",
    "threading", "multiprocessing", "asyncio", "tempfile", "shutil", "pathlib", "io", "warnings", "tomllib",
    "importlib", "vosk", "sounddevice", "soundfile", "platformdirs", "prompt_toolkit", "tqdm", "hibari",
}  # fmt: skip
TOUCHES = {"print", "open", "input", "exec", "eval", "breakpoint", "globals"}
CLOCK = {"today", "now", "utcnow", "monotonic"}


def name(module: Path) -> str:
    return module.relative_to(PACKAGE).as_posix()


def room(module: Path) -> str:
    first = module.relative_to(PACKAGE).parts[0].removesuffix(".py")
    return "above" if first in SHARED else first


def room_of_import(imported: str) -> str:
    first = imported.split(".")[1] if "." in imported else ""
    return "above" if first in SHARED else first


def imports(module: Path) -> Iterator[str]:
    """Yield every module imported anywhere in a file, also inside functions."""
    for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{name(module)}: imports are absolute"
            yield node.module or ""


def calls(module: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call):
            yield node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")


PURE = [module for module in MODULES if room(module) not in {"edges", "cli", "__init__"}]

each_module = pytest.mark.parametrize("module", MODULES, ids=name)
each_pure_module = pytest.mark.parametrize("module", PURE, ids=name)


def test_rooms__are_all_known() -> None:
    assert {room(module) for module in PURE} <= set(INWARDS)
    assert len(PURE) > 30


@each_pure_module
def test_imports__point_inwards_only(module: Path) -> None:
    allowed = INWARDS[room(module)] | {room(module)}
    reached = {room_of_import(imported) for imported in imports(module) if imported.split(".")[0] == "assistant"}
    assert reached <= allowed


@each_pure_module
def test_pure_module__touches_no_machine(module: Path) -> None:
    allowed = set()
    if name(module) in OPENS_FILES:
        allowed = {"pathlib", "tomllib", "importlib"}
    elif name(module) in NAMES_A_FOLDER:
        allowed = {"pathlib"}
    elif name(module) in SEEDED:
        allowed = {"random"}
    used = {imported.split(".")[0] for imported in imports(module)} & IMPURE
    assert used <= allowed
    assert set(calls(module)) & (TOUCHES | CLOCK) == set()


@pytest.mark.parametrize("file", sorted(SEEDED))
def test_randomness__comes_from_a_seed(file: str) -> None:
    tree = ast.parse((PACKAGE / file).read_text(encoding="utf-8"))
    drawn = [
        node
        for node in ast.walk(tree)
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "random"
    ]
    assert {node.attr for node in drawn} <= {"Random"}
    seeded = [
        node for node in ast.walk(tree) if isinstance(node, ast.Call) and getattr(node.func, "attr", "") == "Random"
    ]
    assert seeded
    assert all(node.args for node in seeded)


@each_pure_module
def test_pure_module__keeps_no_changing_state(module: Path) -> None:
    tree = ast.parse(module.read_text(encoding="utf-8"))
    assert not [node for node in ast.walk(tree) if isinstance(node, ast.Global | ast.Nonlocal)]


@each_module
def test_module__is_no_longer_than_a_person_reads_at_once(module: Path) -> None:
    assert len(module.read_text(encoding="utf-8").splitlines()) <= LONGEST


@each_module
def test_module__says_what_it_is(module: Path) -> None:
    assert ast.get_docstring(ast.parse(module.read_text(encoding="utf-8")))


@each_module
def test_package__imports_no_tests(module: Path) -> None:
    assert not [imported for imported in imports(module) if imported.split(".")[0] == "tests"]


@each_module
def test_input__is_never_checked_by_assert(module: Path) -> None:
    """`python -O` removes it."""
    tree = ast.parse(module.read_text(encoding="utf-8"))
    assert not [node for node in ast.walk(tree) if isinstance(node, ast.Assert)]


# ---- the repository --------------------------------------------------------------------------------------------------


@pytest.fixture(scope="session")
def tracked() -> list[Path]:
    """Return the tracked files; skip where this is no checkout."""
    try:
        listed = subprocess.run(
            ["git", "ls-files", "-z"],  # noqa: S607 - whichever git the developer uses
            cwd=ROOT, capture_output=True, text=True, check=True,
        )  # fmt: skip
    except (OSError, subprocess.CalledProcessError):
        pytest.skip("not a git checkout")
    return [ROOT / file for file in listed.stdout.split("\0") if file and (ROOT / file).is_file()]


def test_tracked_files__hold_no_path_of_a_machine(tracked: list[Path]) -> None:
    machine = re.compile(rb"/(?:home|Users|root|work|mnt)/[A-Za-z0-9_.-]+/|/tmp/[w]\b|[A-Z]:\\\\Users")
    texts = [file for file in tracked if file.suffix not in {".flac", ".wav", ".png"}]
    assert [file.relative_to(ROOT).as_posix() for file in texts if machine.search(file.read_bytes())] == []


def test_tracked_files__are_none_that_a_tool_leaves_behind(tracked: list[Path]) -> None:
    left = re.compile(r"__pycache__|\.pyc$|\.egg-info|\.venv|\.pytest_cache|\.hypothesis|\.sqlite3?$|\.log$|~$")
    assert [file for file in tracked if left.search(file.as_posix())] == []


def test_tracked_files__are_of_no_great_size(tracked: list[Path]) -> None:
    assert [file for file in tracked if file.stat().st_size > 1_500_000] == []

"""The papers lead where they say: each link, each command and each module that they name is there."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests import __main__ as steps

ROOT = Path(__file__).parents[1]
PAPERS = [
    ROOT / "README.md",
    ROOT / "DEVELOPERS.md",
    ROOT / "CHANGELOG.md",
    ROOT / "grammar" / "README.md",
    *sorted((ROOT / "assistant").rglob("README.md")),
    *sorted((ROOT / "tests").rglob("*.md")),
]
PAGE = 100
"""Lines that the one page for developers may have."""

each_paper = pytest.mark.parametrize("paper", PAPERS, ids=lambda paper: paper.relative_to(ROOT).as_posix())


@each_paper
def test_links__lead_somewhere(paper: Path) -> None:
    links = re.findall(r"\]\(([^)#]+)(?:#[^)]*)?\)", paper.read_text(encoding="utf-8"))
    assert [link for link in links if "://" not in link and not (paper.parent / link).exists()] == []


@each_paper
def test_commands__run_what_is_there(paper: Path) -> None:
    modules = set(re.findall(r"python -m (tests[a-z_.]*)", paper.read_text(encoding="utf-8")))
    places = {module: ROOT / module.replace(".", "/") for module in modules}
    assert [
        module
        for module, place in places.items()
        if not place.with_suffix(".py").is_file() and not (place / "__main__.py").is_file()
    ] == []


def test_developers__is_one_page_that_leads_to_the_others() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert len(text.splitlines()) <= PAGE
    below = [paper for paper in PAPERS if paper.parent != ROOT]
    assert [paper.name for paper in below if f"({paper.relative_to(ROOT).as_posix()})" not in text] == []


# ---- python -m tests -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("failing", "ran"), [("ruff check", 2), ("mypy", 3), ("", 4)])
def test_steps__end_at_the_first_that_fails(failing: str, ran: int, monkeypatch: pytest.MonkeyPatch) -> None:
    calls: list[str] = []

    def run(command: list[str], **_: object) -> subprocess.CompletedProcess[str]:
        assert command[:2] == [sys.executable, "-m"]
        calls.append(" ".join(command[2:]))
        return subprocess.CompletedProcess(command, 1 if failing and calls[-1].startswith(failing) else 0)

    monkeypatch.setattr(steps.subprocess, "run", run)
    monkeypatch.setattr(steps, "find_spec", lambda name: name)
    assert steps.main(["-x"]) == (1 if failing else 0)
    assert len(calls) == ran
    assert failing or calls[-1] == "pytest -x"


def test_steps__name_what_is_not_installed(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(steps, "find_spec", lambda name: None if name == "mypy" else name)
    assert steps.main([]) == 2
    assert "Not installed: mypy." in capsys.readouterr().out

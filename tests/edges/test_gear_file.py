"""The gear list as a file the driver edits by hand."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.edges.gear_file import GearProblem, gear_path, read_gear, write_gear
from assistant.load.model import Gear, GearList, Kind

SAMPLE = GearList(items=(Gear(kind=Kind.CHAIN, size_in=0.375, grade="70"),), sample=True)

SIZES = st.none() | st.sampled_from([0.3125, 0.375, 0.5, 1.25, 1.75, 4.0]) | st.floats(0.01, 100)
LIMITS = st.none() | st.floats(1, 100_000) | st.integers(1, 50_000).map(float)
NAMES = st.none() | st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
GEAR = st.builds(
    Gear,
    kind=st.sampled_from(Kind),
    size_in=SIZES,
    thickness_in=SIZES,
    grade=NAMES,
    material=NAMES,
    marked_lb=LIMITS,
    unmarked=st.booleans(),
    binder_lb=LIMITS,
)
LISTS = st.builds(
    GearList,
    items=st.lists(GEAR, max_size=5, unique_by=lambda item: item.kind).map(tuple),
    sample=st.booleans(),
)


def written(path: Path, text: str) -> Path:
    path.write_text(text, encoding="utf-8")
    return path


@given(gear=LISTS)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])  # each example overwrites the same file
def test_gear__comes_back_as_it_was_written(gear: GearList, tmp_path: Path) -> None:
    path = tmp_path / "gear.toml"
    write_gear(path, gear)
    assert read_gear(path, SAMPLE) == gear


def test_no_file__gives_the_sample_list(tmp_path: Path) -> None:
    assert read_gear(tmp_path / "gear.toml", SAMPLE) is SAMPLE


def test_file__is_its_owners_alone_and_no_other_is_left_beside_it(tmp_path: Path) -> None:
    write_gear(tmp_path / "gear.toml", SAMPLE)
    assert [path.name for path in tmp_path.iterdir()] == ["gear.toml"]
    assert (tmp_path / "gear.toml").stat().st_mode & 0o777 == 0o600


def test_file__shows_sizes_as_a_driver_says_them(tmp_path: Path) -> None:
    write_gear(tmp_path / "gear.toml", GearList(items=(Gear(kind=Kind.CHAIN, size_in=0.3125, marked_lb=4500),)))
    text = (tmp_path / "gear.toml").read_text(encoding="utf-8")
    assert 'size_in = "5/16"' in text
    assert "marked_lb = 4500\n" in text


def test_hand_written_file__is_read(tmp_path: Path) -> None:
    path = written(
        tmp_path / "gear.toml",
        '# mine\n[[gear]]\nkind = "chain"\nsize_in = "3/8"\ngrade = 80\n\n[[gear]]\nkind = "strap"\nsize_in = 4\n'
        '[[gear]]\nkind = "rope"\nsize_in = "1 1/4"\nmaterial = "manila"\n',
    )
    assert read_gear(path, SAMPLE) == GearList(
        items=(
            Gear(kind=Kind.CHAIN, size_in=0.375, grade="80"),
            Gear(kind=Kind.STRAP, size_in=4),
            Gear(kind=Kind.ROPE, size_in=1.25, material="manila"),
        )
    )


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ('[[gear]]\nkind = "chain"\nsize_in = 3/8\n', 3, "not written as TOML"),
        ("[[gear]\n", 1, "not written as TOML"),
        ('[[gear]]\nkind = "chain"\ngrade = "70', 3, "not written as TOML"),
        ('\n[[gear]]\nkind = "bungee"\n', 2, "'chain'"),
        ('[[gear]]\nkind = "chain"\ncolour = "red"\n', 1, "colour is not known; known are binder_lb"),
        ('[[gear]]\nsize_in = "3/8"\n', 1, "kind is missing"),
        ('[[gear]]\nkind = "chain"\nsize_in = "thick"\n', 1, 'Write it like "3/8"'),
        ('[[gear]]\nkind = "chain"\nsize_in = "3/0"\n', 1, 'Write it like "3/8"'),
        ('[[gear]]\nkind = "chain"\nsize_in = -1\n', 1, "size_in: input should be greater than 0"),
        ('[[gear]]\nkind = "chain"\nmarked_lb = nan\n', 1, "marked_lb: input should be a finite number"),
        ('[[gear]]\nkind = "chain"\n[[gear]]\nkind = "chain"\n', 3, "second block for chain"),
        ('# x\nchains = "many"\n', 2, "chains is not known here"),
        ("gear = 3\n", 1, "Begin each block with [[gear]]"),
        ('sample = "yes"\n', 1, "neither true nor false"),
    ],
)
def test_broken_file__is_told_with_its_line_and_kept(tmp_path: Path, text: str, line: int, words: str) -> None:
    path = written(tmp_path / "gear.toml", text)
    with pytest.raises(GearProblem) as caught:
        read_gear(path, SAMPLE)
    assert f"line {line}" in str(caught.value)
    assert caught.value.line == line
    assert words in str(caught.value)
    assert path.read_text(encoding="utf-8") == text


def test_file_in_another_encoding__is_told_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "gear.toml"
    path.write_bytes(b"# mine\n# caf\xe9\n")
    with pytest.raises(GearProblem, match="line 2: it is not plain UTF-8"):
        read_gear(path, SAMPLE)


def test_file_that_cannot_be_read_or_written__is_told_in_words(tmp_path: Path) -> None:
    with pytest.raises(GearProblem, match="cannot be read"):
        read_gear(tmp_path, SAMPLE)
    with pytest.raises(GearProblem, match="cannot be written"):
        write_gear(tmp_path / "no folder" / "gear.toml", SAMPLE)


def test_place__follows_the_users_choice_and_is_theirs_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DECKSIDE_HOME", str(tmp_path / "mine"))
    assert gear_path() == tmp_path / "mine" / "config" / "gear.toml"
    assert gear_path().parent.stat().st_mode & 0o777 == 0o700

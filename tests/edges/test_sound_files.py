"""Sound files: every layout becomes the same sound; every bad file becomes one clear sentence."""

import io
import stat
import struct
from pathlib import Path

import numpy as np
import pytest
import soundfile
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.edges.problem import SoundFileProblem
from assistant.edges.sound_files import Samples, read_sound, write_wav

RATE = 16_000
SECONDS = 0.5


def tone(rate: int = RATE, seconds: float = SECONDS, level: float = 0.5) -> Samples:
    made: Samples = (level * np.sin(2 * np.pi * 440 * np.arange(int(rate * seconds)) / rate)).astype(np.float32)
    return made


def save(path: Path, samples: Samples, rate: int = RATE, subtype: str = "PCM_16") -> Path:
    soundfile.write(path, samples, rate, subtype=subtype)
    return path


def heard(path: Path) -> Samples:
    made: Samples = np.frombuffer(read_sound(path), "<i2").astype(np.float32) / 32767
    return made


@pytest.mark.parametrize("rate", [8_000, 11_025, 16_000, 22_050, 44_100, 48_000, 96_000])
@pytest.mark.parametrize("name", ["tone.wav", "tone.flac"])
def test_every_rate_becomes_sixteen_thousand_a_second(tmp_path: Path, rate: int, name: str) -> None:
    got = heard(save(tmp_path / name, tone(rate), rate))
    assert len(got) == pytest.approx(RATE * SECONDS, abs=2)
    inner = slice(1000, 7000)  # a filter rings at the ends
    assert np.abs(got[inner] - tone()[inner]).max() < 0.01


@pytest.mark.parametrize(
    ("name", "subtype", "error"),
    [
        ("a.wav", "PCM_U8", 0.01),
        ("a.wav", "PCM_24", 0.001),
        ("a.wav", "PCM_32", 0.001),
        ("a.wav", "FLOAT", 0.001),
        ("a.wav", "DOUBLE", 0.001),
        ("a.wav", "ULAW", 0.03),
        ("a.flac", "PCM_S8", 0.01),
        ("a.flac", "PCM_24", 0.001),
    ],
)
def test_every_width_becomes_sixteen_bits(tmp_path: Path, name: str, subtype: str, error: float) -> None:
    got = heard(save(tmp_path / name, tone(), subtype=subtype))
    assert np.abs(got - tone()).max() < error


def test_sixteen_bit_mono_at_the_right_rate_passes_unchanged(tmp_path: Path) -> None:
    samples = np.arange(-8000, 8000, 2, dtype=np.int16)
    soundfile.write(tmp_path / "a.wav", samples, RATE)
    assert np.abs(np.frombuffer(read_sound(tmp_path / "a.wav"), "<i2") - samples).max() <= 1


def test_stereo_becomes_its_mean(tmp_path: Path) -> None:
    got = heard(save(tmp_path / "a.wav", np.stack([tone(), tone()], axis=1)))
    assert np.abs(got - tone()).max() < 0.001


def test_channels_that_cancel_out_are_not_added(tmp_path: Path) -> None:
    got = heard(save(tmp_path / "a.wav", np.stack([tone(), -tone()], axis=1)))
    assert np.abs(got).max() > 0.4


def test_a_float_file_that_is_too_loud_is_clipped(tmp_path: Path) -> None:
    assert np.abs(heard(save(tmp_path / "a.wav", tone(level=4.0), subtype="FLOAT"))).max() == pytest.approx(1.0)


def test_values_that_are_no_numbers_count_as_silence(tmp_path: Path) -> None:
    samples = tone()
    samples[100:200] = np.nan
    assert np.all(heard(save(tmp_path / "a.wav", samples, subtype="FLOAT"))[110:190] == 0)


def test_a_file_written_into_a_pipe_is_read_though_its_header_tells_no_length(tmp_path: Path) -> None:
    path = save(tmp_path / "a.wav", tone())
    data = bytearray(path.read_bytes())
    at = data.index(b"data") + 4
    data[at : at + 4] = data[4:8] = struct.pack("<I", 0xFFFF_FFFF)
    path.write_bytes(data)
    assert len(heard(path)) == RATE * SECONDS


# Refusals.


def refusal(path: Path) -> str:
    with pytest.raises(SoundFileProblem) as problem:
        read_sound(path)
    return str(problem.value)


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    assert refusal(tmp_path / "none.wav").endswith("none.wav does not exist. Check the name and the folder.")


@pytest.mark.parametrize("name", ["a" * 300, "a\0b.wav"])
def test_an_impossible_name_is_told(tmp_path: Path, name: str) -> None:
    assert "not a usable file name" in refusal(tmp_path / name) or "does not exist" in refusal(tmp_path / name)


def test_a_folder_is_told(tmp_path: Path) -> None:
    assert "is a folder, not a sound file" in refusal(tmp_path)


def test_a_device_is_told() -> None:
    assert "is not a plain file" in refusal(Path("/dev/null"))


def test_an_empty_file_is_told(tmp_path: Path) -> None:
    (tmp_path / "a.wav").touch()
    assert "is empty" in refusal(tmp_path / "a.wav")


@pytest.mark.parametrize("name", ["a.wav", "a.flac", "a.raw", "a.txt"])
def test_a_text_file_is_told(tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_text("four chains and a strap\n" * 100)
    assert "is not a sound file that can be read" in refusal(tmp_path / name)
    assert "WAV and FLAC" in refusal(tmp_path / name)


def test_a_wav_file_cut_short_is_never_taken_for_a_whole_one(tmp_path: Path) -> None:
    path = save(tmp_path / "a.wav", tone())
    path.write_bytes(path.read_bytes()[:10_000])
    assert "is cut short: it holds 9,956 of the 16,000 bytes" in refusal(path)


def test_a_flac_file_cut_short_is_never_taken_for_a_whole_one(tmp_path: Path) -> None:
    noise = np.random.default_rng(1).uniform(-0.5, 0.5, RATE * 3).astype(np.float32)
    path = save(tmp_path / "a.flac", noise)
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    assert "cut short" in refusal(path) or "is damaged after" in refusal(path)


@pytest.mark.parametrize("level", [0.0, 0.0005])
def test_a_silent_file_is_told(tmp_path: Path, level: float) -> None:
    assert "is silent" in refusal(save(tmp_path / "a.wav", tone(level=level)))


def test_a_constant_offset_is_silence(tmp_path: Path) -> None:
    assert "is silent" in refusal(save(tmp_path / "a.wav", np.full(RATE, 0.3, np.float32)))


def test_a_file_too_short_for_a_word_is_told(tmp_path: Path) -> None:
    assert "too short to hold a word: 0.05 seconds" in refusal(save(tmp_path / "a.wav", tone(seconds=0.05)))
    assert "too short" in refusal(save(tmp_path / "b.wav", tone(seconds=0)))


@pytest.mark.parametrize("name", ["a.wav", "a.flac"])
def test_a_two_hour_file_is_refused_with_the_limit(tmp_path: Path, name: str) -> None:
    save(tmp_path / name, np.zeros(8_000 * 7_200, np.int16), 8_000)
    assert "lasts 120 minutes; 10 minutes at most" in refusal(tmp_path / name)


def test_a_file_as_long_as_the_limit_is_read_and_a_longer_one_not(tmp_path: Path) -> None:
    path = save(tmp_path / "a.wav", tone(seconds=2))
    assert len(read_sound(path, longest_s=2.0)) == 4 * RATE
    with pytest.raises(SoundFileProblem, match="lasts 2 seconds; 2 seconds at most"):
        read_sound(path, longest_s=1.99)


@pytest.mark.parametrize("rate", [1, 3_999, 500_000])
def test_an_impossible_rate_is_told(tmp_path: Path, rate: int) -> None:
    assert f"claims {rate:,} samples a second" in refusal(save(tmp_path / "a.wav", tone(), rate))


def test_too_many_channels_are_told(tmp_path: Path) -> None:
    assert "claims 9 channels" in refusal(save(tmp_path / "a.wav", np.zeros((RATE, 9), np.float32)))


def wav_bytes() -> bytes:
    made = io.BytesIO()
    soundfile.write(made, tone(), RATE, format="WAV", subtype="PCM_16")
    return made.getvalue()


WHOLE = wav_bytes()


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.binary(min_size=1, max_size=400), after=st.sampled_from([0, 4, 12, 20, 36, 40, 44, 400]))
def test_no_bytes_whatever_bring_a_traceback(tmp_path: Path, data: bytes, after: int) -> None:
    path = tmp_path / "any.wav"
    path.write_bytes(WHOLE[:after] + data)
    try:
        read_sound(path)
    except SoundFileProblem as problem:
        assert problem.trouble.startswith(str(path))  # noqa: PT017 - some of these bytes are a sound file


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(at=st.integers(0, 60), value=st.integers(0, 255))
def test_no_changed_byte_in_the_header_brings_a_traceback(tmp_path: Path, at: int, value: int) -> None:
    path = tmp_path / "any.wav"
    data = bytearray(WHOLE)
    data[at] = value
    path.write_bytes(data)
    try:
        read_sound(path)
    except SoundFileProblem as problem:
        assert problem.trouble.startswith(str(path))  # noqa: PT017 - most of these bytes are a sound file


# Writing.


def test_what_is_written_reads_back_and_only_its_owner_can_read_it(tmp_path: Path) -> None:
    path = tmp_path / "a.wav"
    path.write_bytes(b"something longer " * 10_000)
    path.chmod(0o644)
    write_wav(path, tone(24_000), 24_000)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    samples, rate = soundfile.read(path, dtype="float32")
    assert rate == 24_000
    assert np.abs(samples - tone(24_000)).max() < 0.001


def test_a_file_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    with pytest.raises(SoundFileProblem, match="cannot be written: No such file or directory"):
        write_wav(tmp_path / "none" / "a.wav", tone(), RATE)

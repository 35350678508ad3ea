"""Barge-in by level: a headset, an open loudspeaker, bangs and horns, and the first second of an answer."""

import numpy as np
import pytest

from assistant.edges.barge_in import LEARN_S, BargeIn
from assistant.edges.recognizer import BYTES_PER_SECOND, RATE

BLOCK = RATE // 10
SILENCE, HEADSET, ECHO, CALL = -75.0, -75.0, -30.0, -20.0
"""Levels [dBFS]: of a quiet room, of the echo with a headset and with a loudspeaker, and of somebody who calls."""


def sound(dbfs: float, seconds: float, seed: int = 1) -> np.ndarray:
    noise = np.random.default_rng(seed).standard_normal(int(RATE * seconds))
    return np.asarray(noise * 10 ** (dbfs / 20))


def syllables(dbfs: float, seconds: float) -> np.ndarray:
    """Return sound that swells and sinks four times a second, as speech does."""
    when = np.arange(int(RATE * seconds)) / RATE
    return np.asarray(sound(dbfs, seconds) * np.abs(np.sin(2 * np.pi * 2 * when)))


def over(echo: np.ndarray, *calls: tuple[float, np.ndarray]) -> np.ndarray:
    """Return the echo with calls that begin at a time [s] each."""
    mixed = echo.copy()
    for start, call in calls:
        at = int(start * RATE)
        mixed[at : at + len(call)] += call
    return mixed


def barged_at(mixed: np.ndarray) -> tuple[float, bytes] | None:
    """Return when it was noticed [s], and the sound that is listened to then; None where nothing was."""
    watch = BargeIn()
    pcm = (np.clip(mixed, -1, 1) * 32767).astype("<i2")
    for start in range(0, len(pcm), BLOCK):
        since = watch.hear(pcm[start : start + BLOCK].tobytes(), sounding=start >= 2 * BLOCK)
        if since is not None:
            return (start + BLOCK) / RATE, since
    return None


def test_its_own_echo_alone_never_stops_it() -> None:
    assert barged_at(syllables(ECHO, 20)) is None


def test_silence_never_stops_it() -> None:
    assert barged_at(np.zeros(5 * RATE)) is None


@pytest.mark.parametrize(("echo", "call"), [(HEADSET, -25.0), (ECHO, CALL)])
def test_a_call_over_it_stops_it_and_is_listened_to_from_before_its_beginning(echo: float, call: float) -> None:
    found = barged_at(over(syllables(echo, 6), (3.0, sound(call, 0.6, seed=2))))
    assert found
    when, since = found
    assert 3.25 <= when <= 3.5
    begins = when - len(since) / BYTES_PER_SECOND
    # Of the echo next to nothing is kept: it is the assistant's own words.
    assert 2.9 < begins < 3.0 if echo == ECHO else 2.6 < begins < 2.8


def test_the_dip_before_a_stop_consonant_does_not_break_a_word() -> None:
    word = np.concatenate([sound(CALL, 0.16), sound(SILENCE, 0.08), sound(CALL, 0.1)])
    assert barged_at(over(syllables(HEADSET, 6), (3.0, word)))


@pytest.mark.parametrize("seconds", [0.05, 0.1, 0.2])
def test_a_bang_or_a_tap_of_the_horn_does_not_stop_it(seconds: float) -> None:
    assert barged_at(over(syllables(ECHO, 6), (3.0, sound(-6, seconds)))) is None


def test_two_knocks_do_not_stop_it() -> None:
    knock = sound(-6, 0.05)
    assert barged_at(over(syllables(ECHO, 6), (3.0, knock), (3.3, knock))) is None


def test_a_driver_no_louder_than_the_echo_does_not_stop_it() -> None:
    assert barged_at(over(syllables(ECHO, 6), (3.0, sound(ECHO - 3, 1.0, seed=2)))) is None


def test_the_first_second_is_learned_from_and_cannot_stop_it() -> None:
    assert barged_at(over(syllables(HEADSET, 3), (0.3, sound(CALL, 0.5)))[: int(LEARN_S * RATE)]) is None


def test_steady_noise_of_an_engine_is_learned_as_the_echo_is() -> None:
    engine = sound(-25, 8)
    assert barged_at(engine) is None
    assert barged_at(over(engine, (4.0, sound(-10, 0.6, seed=3))))

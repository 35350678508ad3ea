"""Being interrupted: who speaks up is listened to, and neither one's own voice, nor a bang, nor silence interrupts."""

import numpy as np
import pytest

from assistant.edges import devices, microphone
from assistant.edges.barge_in import BargeIn
from assistant.edges.microphone import Microphone, hands_free
from tests.edges.fakes import FakeInput, FakeListening, FakeSound

BLOCK = 1_600


def sound(level: float, seed: int = 0) -> bytes:
    """Return a tenth of a second of noise with this root mean square."""
    noise = np.random.default_rng(seed).standard_normal(BLOCK)
    return np.clip(noise * level, -32_768, 32_767).astype(np.int16).tobytes()


def interrupted(*levels: float) -> bool:
    watch = BargeIn()
    return any(watch.hears(sound(level, seed)) for seed, level in enumerate(levels))


@pytest.mark.parametrize("echo", [0, 50, 800, 3000])
def test_a_voice_well_above_the_echo_interrupts(echo: float) -> None:
    assert interrupted(*[echo] * 8, *[max(700.0, 3 * echo)] * 3)


def test_its_own_voice_does_not_though_it_gets_louder() -> None:
    assert not interrupted(500, 900, 700, 1200, 1500, 1900, 1200, 2400, 300, 2600)


@pytest.mark.parametrize("blocks", [1, 2])
def test_a_bang_does_not(blocks: int) -> None:
    assert not interrupted(*[400] * 6, *[9000] * blocks, *[400] * 6)


def test_what_is_loud_from_the_start_teaches_how_loud_it_is_here() -> None:
    assert not interrupted(*[5000] * 20)


def test_whispers_and_silence_do_not() -> None:
    assert not interrupted(*[0] * 8, *[100] * 20)


def test_it_tells_once() -> None:
    watch = BargeIn()
    told = [watch.hears(sound(level, seed)) for seed, level in enumerate([300.0] * 6 + [4000.0] * 10)]
    assert told.count(True) == 1


def test_the_sound_since_before_the_rise_is_kept() -> None:
    watch = BargeIn()
    blocks = [sound(level, seed) for seed, level in enumerate([300.0] * 6 + [4000.0] * 3)]
    for block in blocks:
        watch.hears(block)
    assert watch.sound == tuple(blocks[-5:])


def test_an_empty_block_is_no_sound() -> None:
    assert not BargeIn().hears(b"")


@pytest.fixture
def device(monkeypatch: pytest.MonkeyPatch) -> FakeSound:
    fake = FakeSound()
    monkeypatch.setattr(devices, "load", lambda _: fake)
    monkeypatch.setattr(microphone, "_LOOK_EVERY_S", 0.01)
    return fake


def recording(device: FakeSound) -> FakeInput:
    assert device.input is not None
    return device.input


def test_the_microphone_listens_again_with_the_first_word_whole(device: FakeSound) -> None:
    told: list[bool] = []
    with Microphone() as ear:
        ear.watch(lambda: told.append(ear.deaf))
        for level in [300.0] * 6 + [4000.0] * 3:
            recording(device).deliver(sound(level))
        assert told == [False]
        recording(device).deliver(b"after")
        blocks = ear.blocks()
        heard = [next(blocks) for _ in range(7)]
    assert heard[0] is None  # what was half heard before it spoke is thrown away
    assert [len(block or b"") for block in heard[1:]] == [2 * BLOCK] * 5 + [5]


def test_an_answer_spoken_to_its_end_leaves_nothing_behind(device: FakeSound) -> None:
    told: list[str] = []
    with Microphone() as ear:
        ear.watch(lambda: told.append("interrupted"))
        for _ in range(10):
            recording(device).deliver(sound(800))
        ear.resume()
        for block in (b"four chains", b"."):
            recording(device).deliver(block)
        assert next(hands_free(ear, FakeListening)).text == "four chains"
    assert told == []

"""Barge-in and waking through a real device: what is played into the null sink "deck" is what the microphone hears.

The driver and the assistant's own voice both go there: an open loudspeaker.
"""

import threading
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile
import soxr

from assistant.edges.microphone import Microphone, hands_free
from assistant.edges.recognizer import Recognizer
from assistant.edges.sound_files import write_wav
from assistant.edges.speaker import Speaker
from assistant.edges.voice import Hibari, Samples, Voice
from assistant.edges.wake import PHRASE, Wake, when_woken
from tests.edges.fakes import CLIPS
from tests.edges.test_microphone_for_real import PHRASES, SAID, _server, clip, ear, playing

__all__ = ["_server", "clip", "ear"]
pytestmark = [pytest.mark.microphone, pytest.mark.model]

SOFT = 0.1
"""What reaches the microphone from the loudspeaker: 20 dB less than from the driver's mouth."""


class Recorded(Voice):
    """Speaks clips one after another, as softly as a loudspeaker is heard."""

    name = "recorded"
    rate = 16_000

    def samples(self, text: str) -> Iterator[Samples]:  # noqa: ARG002 - a voice's signature
        """Yield some ten seconds of speech."""
        for file in sorted(CLIPS.glob("heart_0[2-5]*.flac")):
            samples, rate = soundfile.read(file, dtype="float32")
            yield np.asarray(soxr.resample(samples, rate, self.rate) * SOFT, np.float32)


def test_who_speaks_over_it_is_heard_whole_and_silences_it(ear: Recognizer, clip: Path) -> None:
    with Microphone() as microphone:
        cut = threading.Event()
        began = threading.Event()

        def barged_in() -> None:
            speaker.cut()
            cut.set()

        def sounds() -> None:
            microphone.sounds()
            began.set()

        speaker = Speaker(
            Recorded(), print, started=lambda: microphone.watch(barged_in), ended=microphone.resume, sounds=sounds
        )
        speaker.say("an answer")

        def driver() -> None:
            began.wait(10)
            threading.Event().wait(2.0)
            playing(clip).join()

        thread = threading.Thread(target=driver)
        thread.start()
        heard = next(hands_free(microphone, lambda: ear.stream(PHRASES)))
        thread.join()
        speaker.wait()
    assert cut.is_set()
    assert heard.text == SAID


def test_its_own_voice_through_the_loudspeaker_does_not_silence_it() -> None:
    with Microphone() as microphone:
        cut = threading.Event()
        ended = threading.Event()
        speaker = Speaker(
            Recorded(), print, started=lambda: microphone.watch(cut.set), ended=ended.set, sounds=microphone.sounds
        )
        blocks = microphone.blocks()
        speaker.say("an answer")
        threading.Thread(target=lambda: (ended.wait(60), microphone.resume())).start()
        while not ended.is_set():
            next(blocks)
    assert not cut.is_set()


def test_the_spoken_phrase_wakes_it_and_talk_before_it_does_not(ear: Recognizer, tmp_path: Path, clip: Path) -> None:
    voice = Hibari()
    pieces = list(voice.samples(f"{PHRASE}, take off the strap."))
    write_wav(tmp_path / "call.wav", np.concatenate(pieces), voice.rate)

    def talk() -> None:
        playing(clip).join()
        threading.Event().wait(1.5)
        playing(tmp_path / "call.wav").join()

    with Microphone() as microphone:
        wake = Wake()
        thread = threading.Thread(target=talk)
        thread.start()
        heard = next(when_woken(microphone, wake, lambda: ear.stream((PHRASE,)), lambda: ear.stream(PHRASES)))
        thread.join()
    assert wake.awake
    assert heard.text == "take off the strap"

"""Sound that is no sentence to be trusted: made here with numpy, or out of what a voice says. All from a seed.

Everything takes and returns 16-bit mono PCM at 16 kHz.
"""

from collections.abc import Sequence

import numpy as np

from tests.speech.noise import RATE, Samples, active_rms, unit

LEVEL = 2_000
"""RMS of what is made here, near that of the voices."""
ORDER = 16
"""Poles of the vocal tract's model: two a kilohertz of band, common practice, no source."""
WINDOW = RATE * 32 // 1000
HOP = WINDOW // 2
LESSON = (
    "The river bends twice before it reaches the old mill, and every spring the water climbs the same three steps.",
    "My grandmother kept bees behind the barn and sold the honey from a table by the road.",
    "Nobody could say who had painted the blue door, though everybody remembered the smell of it.",
    "When the first snow came we carried the apples down to the cellar and counted them by candle light.",
    "The clock in the station has been slow since the war, so the whole town is used to being late.",
    "On Sundays the baker's boy played the trumpet on the bridge until the swans complained.",
    "There is a map in the library which shows a lake where the school now stands.",
    "In the evening the ferry goes back empty, with only the captain's dog looking out.",
)
"""Prose of no use to anyone: half a minute that tells nothing of a load."""
FOREIGN = {
    "de-DE": "Guten Morgen, ich suche den Weg zum Bahnhof, bitte helfen Sie mir.",
    "fr-FR": "Bonjour, je cherche une petite chambre pour la semaine prochaine.",
    "es-ES": "Buenos días, quisiera un vaso de agua y un poco de pan, por favor.",
    "it-IT": "Buongiorno, vorrei sapere quando arriva il treno per la montagna.",
}


def pcm(samples: Samples) -> bytes:
    """Return samples as 16-bit PCM, cut off where they are too loud."""
    return np.clip(np.round(samples), -32768, 32767).astype(np.int16).tobytes()


def samples_of(sound: bytes) -> Samples:
    """Return PCM as samples."""
    return np.frombuffer(sound, np.int16).astype(np.float64)


def music(seconds: float, *, seed: int = 0) -> bytes:
    """Return a band: four chords of sawtooth strings, a melody on top, and drums on the beat, 120 beats a minute."""
    rng = np.random.default_rng(seed)
    count = int(seconds * RATE)
    time = np.arange(count) / RATE
    beat = (time * 2).astype(int)
    sound = np.zeros(count)
    for place, chord in enumerate(
        ((220.0, 261.6, 329.6), (174.6, 220.0, 261.6), (130.8, 164.8, 196.0), (196.0, 246.9, 293.7))
    ):
        here = beat // 4 % 4 == place
        for pitch in chord:
            sound += here * sum(np.sin(2 * np.pi * pitch * over * time) / over for over in range(1, 9))
    scale = np.array([440.0, 523.3, 587.3, 659.3, 784.0])
    notes = scale[rng.integers(len(scale), size=beat[-1] + 1)][beat]
    since = time * 2 % 1
    sound += 3 * np.exp(-2 * since) * np.sin(2 * np.pi * np.cumsum(notes) / RATE)
    sound += 5 * np.exp(-12 * since) * np.sin(2 * np.pi * 60 * since / 2)
    snare = beat % 2 == 1
    sound += 2 * snare * np.exp(-18 * since) * rng.standard_normal(count)
    return pcm(LEVEL * unit(sound))


def horn(seconds: float) -> bytes:
    """Return a truck's air horn: two reeds, a third apart, full of overtones, for most of the time."""
    time = np.arange(int(seconds * RATE)) / RATE
    sounding = (time > 0.3) & (time < seconds - 0.3)
    reeds = sum(
        np.sin(2 * np.pi * pitch * over * time + over) / over**0.5 for pitch in (311.0, 370.0) for over in range(1, 15)
    )
    quiet = 0.002 * np.random.default_rng(0).standard_normal(len(time))
    return pcm(3 * LEVEL * (unit(np.asarray(reeds)) * sounding + quiet))


def both(one: bytes, other: bytes) -> bytes:
    """Return two voices at once, one as loud as the other."""
    first, second = samples_of(one), samples_of(other)
    total = np.zeros(max(len(first), len(second)))
    total[: len(first)] += first
    total[: len(second)] += second * active_rms(first) / active_rms(second)
    return pcm(total)


def clipped(sound: bytes, gain_db: float = 20) -> bytes:
    """Return sound recorded far too loud."""
    loud = samples_of(sound)
    full = loud * 32_767 / np.abs(loud).max()
    return pcm(full * 10 ** (gain_db / 20))


def unbroken(parts: Sequence[bytes], edge_s: float = 0.3) -> bytes:
    """Return what was said one after another with no pause, each part without the silence at its ends."""
    edge = int(edge_s * RATE)
    return pcm(np.concatenate([samples_of(part)[edge:-edge] for part in parts]))


def whispered(sound: bytes, *, seed: int = 0) -> bytes:
    """Return sound with its pitch taken out: each 32 ms frame's vocal tract (LPC) driven by noise of the same level."""
    rng = np.random.default_rng(seed)
    voiced = samples_of(sound)
    window = np.hanning(WINDOW)
    total = np.zeros(len(voiced) + WINDOW)
    for start in range(0, len(voiced) - WINDOW, HOP):
        frame = voiced[start : start + WINDOW] * window
        power = np.fft.irfft(np.abs(np.fft.rfft(frame, 2 * WINDOW)) ** 2)[: ORDER + 1]
        if power[0] < 1:
            continue
        lags = power[np.abs(np.subtract.outer(np.arange(ORDER), np.arange(ORDER)))]
        poles = np.linalg.solve(lags + 1e-6 * power[0] * np.eye(ORDER), power[1:])
        tract = 1 / np.abs(np.fft.rfft(np.concatenate(([1.0], -poles)), WINDOW))
        breath = np.fft.irfft(np.fft.rfft(rng.standard_normal(WINDOW)) * tract, WINDOW)
        total[start : start + WINDOW] += unit(breath) * np.sqrt(np.mean(frame**2)) * window
    return pcm(total[: len(voiced)] * 0.5 * active_rms(voiced) / active_rms(total))

"""Sleeping until the wake phrase is heard, then listening until nobody has said anything for a while."""

from collections.abc import Callable, Iterator

from assistant.edges.microphone import Microphone, Partly
from assistant.edges.recognizer import BYTES_PER_SECOND, Heard, Listening, chunks, hear_all

PHRASE = "okay deckhand"
"""Both words are the speech model's. "Deckhand" is no word of load talk, and "okay" opens a sentence as people do."""
AWAKE_S = 20.0
"""Silence after which it sleeps again: long enough to walk round the deck and count the chains it asked about, short
enough that talk with the loader a minute later is not taken for a load."""
_CHUNK = BYTES_PER_SECOND // 4


class Wake:
    """Whether it is awake: set by what is heard, by the clock of the sound, and by "go to sleep".

    Parameters
    ----------
    phrase
        What wakes it, in lower-case words.
    awake_s
        Silence after which it sleeps again [s].
    """

    def __init__(self, phrase: str = PHRASE, awake_s: float = AWAKE_S) -> None:
        self.phrase = phrase
        self.awake_s = awake_s
        self.awake = False

    def sleep(self) -> None:
        """Listen for nothing but the wake phrase from now on."""
        self.awake = False


def after_phrase(heard: Heard, phrase: str) -> bytes | None:
    """Return the sound after the wake phrase, which may be silence; None where the phrase was not said."""
    wanted = phrase.split()
    words = [word.word for word in heard.words]
    for first in range(len(words) - len(wanted), -1, -1):
        if words[first : first + len(wanted)] == wanted:
            end = heard.words[first + len(wanted) - 1].end
            return heard.audio[round(end * BYTES_PER_SECOND / 2) * 2 :]
    return None


def when_woken(
    microphone: Microphone,
    wake: Wake,
    wait: Callable[[], Listening],
    listen: Callable[[], Listening],
    *,
    woken: Callable[[], None] = lambda: None,
    partly: Partly = lambda _: None,
) -> Iterator[Heard]:
    """Yield the utterances after a wake phrase, in the same breath or later, until it sleeps again.

    Parameters
    ----------
    microphone : Microphone
        An open one. A pause throws away what was heard of an unfinished utterance, and silence counts anew after it.
    wake : Wake
        Says whether it is awake.
    wait, listen : callable
        Begin the listening for the wake phrase, and to one utterance.
    woken : callable
        Is called where the phrase came alone: the driver waits to be listened to.
    partly : callable
        Is told the words so far, whenever they change, and an empty text when it falls asleep.

    Raises
    ------
    MicrophoneLost
        The device went away.
    """
    awake, silent_s, before = wake.awake, 0.0, ""
    listening = listen() if awake else wait()
    for block in microphone.blocks():
        heard = listening.feed(block) if block and awake == wake.awake else None
        if block and awake == wake.awake and not heard:
            words = listening.partial() if awake else ""
            silent_s = 0.0 if words else silent_s + len(block) / BYTES_PER_SECOND
            if words != before:
                partly(words)
                before = words
            if not awake or silent_s < wake.awake_s:
                continue
            wake.sleep()
            partly("")
        listening.finish()
        silent_s, before = 0.0, ""
        rest = None
        if heard and not awake:
            rest = after_phrase(heard, wake.phrase)
        elif heard:
            # An "okay" before the name must not stand as a yes.
            again = after_phrase(hear_all(wait(), chunks(heard.audio, _CHUNK)), wake.phrase)
            heard = heard if again is None else hear_all(listen(), chunks(again, _CHUNK))
            if heard.text:
                yield heard
            else:
                woken()
        wake.awake = wake.awake or rest is not None
        awake = wake.awake
        listening = listen() if awake else wait()
        if rest is not None:
            # Into the listening that goes on: what follows the phrase may not have ended with it.
            ended = [part for chunk in chunks(rest, _CHUNK) if (part := listening.feed(chunk))]
            yield from ended
            if not ended and not listening.partial():
                woken()
    listening.finish()

"""Hearing sound files: the ear opened with the user's model, and one file taken as one utterance."""

from pathlib import Path

import assistant
from assistant.edges.ear import Ear
from assistant.edges.model_search import searching_widely
from assistant.edges.model_store import ready_model
from assistant.edges.recognizer import Recognizer
from assistant.edges.session import Session
from assistant.edges.sound_files import read_sound
from assistant.hear.choose import choose
from assistant.kit import Kit
from assistant.say.answer import Answer


def open_ear(kit: Kit, model: Path | None = None) -> Ear:
    """Return an ear with the speech model, fetched first if this machine has none.

    Raises
    ------
    ModelMissing
        There is no model and none could be fetched, or it cannot be loaded.
    """
    understander = kit.understander
    recognizer = Recognizer(
        searching_widely(ready_model(model)),
        understander.number_words,
        lambda alternatives: choose(alternatives, understander),
    )
    return Ear(recognizer, understander)


def hear_file(file: Path, ear: Ear, session: Session) -> Answer:
    """Answer what is said in a sound file.

    Raises
    ------
    SoundFileProblem
        The file cannot be listened to; the session is as it was.
    """
    return session.take(ear.hear(read_sound(file), session.conversation, session.unsettled))


def demo_file() -> Path:
    """Return the spoken demo load: inside the installed package, or among the fixtures of a checkout."""
    here = Path(assistant.__file__).parent
    packed = here / "edges" / "demo.wav"
    return packed if packed.is_file() else here.parent / "audio_fixtures" / "demo.wav"

"""What can go wrong at the rim, in words a user can act on."""


class Problem(Exception):  # noqa: N818 - named for what the user is told; every edge's trouble is one
    """Trouble with a file, a device or the speech model.

    Parameters
    ----------
    trouble : str
        What is wrong, with the value met and what was allowed; one or more whole sentences.
    remedy : str
        What to do about it; one or more whole sentences, empty when there is nothing to do.
    """

    def __init__(self, trouble: str, remedy: str = "") -> None:
        super().__init__(f"{trouble} {remedy}".strip())
        self.trouble = trouble
        self.remedy = remedy


class ModelMissing(Problem):
    """The speech model is not there, not whole, or cannot be loaded."""


class SoundFileProblem(Problem):
    """A sound file cannot be listened to."""


class NoMicrophone(Problem):
    """There is nothing to record with."""


class MicrophoneLost(Problem):
    """The microphone went away, or stopped delivering, while it was listened to."""


class NoLoudspeaker(Problem):
    """There is nothing to play sound on."""


class VoiceProblem(Problem):
    """A voice could not be loaded or could not speak."""

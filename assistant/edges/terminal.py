"""The terminal: talk, type, see. Hands-free listening, hold-a-key listening, and typing, all into one session."""

import asyncio
import contextlib
import queue
import sys
import threading
import time
from dataclasses import dataclass
from enum import StrEnum
from functools import partial

from prompt_toolkit import PromptSession
from prompt_toolkit.application import Application
from prompt_toolkit.formatted_text import StyleAndTextTuples
from prompt_toolkit.key_binding import KeyBindings, KeyPressEvent
from prompt_toolkit.patch_stdout import patch_stdout

from assistant.edges.ear import Ear
from assistant.edges.microphone import Microphone, hands_free, held
from assistant.edges.problem import Problem
from assistant.edges.session import Session
from assistant.edges.sign import State, closing, sign
from assistant.edges.speaker import Speaker
from assistant.edges.voice import Voice
from assistant.edges.wake import Wake, when_woken
from assistant.hear.doubt import Utterance
from assistant.say.answer import Answer, Hush, Pace, Quit, Sleep

_LET_GO_AFTER_S = 0.75
"""A terminal tells only that a key repeats. The first repeat comes after up to half a second, so a key that has not
come again for this long was let go."""
_LOOK_EVERY_S = 0.05
_TRY_AGAIN_S = 3.0
"""A microphone that went away is looked for this often."""


class Mode(StrEnum):
    """How the driver speaks to it."""

    HANDS_FREE = "hands-free"
    HOLD = "hold"
    TYPE = "type"


@dataclass(frozen=True)
class Ways:
    """How the driver speaks to it, and what else was chosen."""

    mode: Mode = Mode.HANDS_FREE
    barge_in: bool = True
    """Whether speaking over an answer stops it, in hands-free mode."""
    wake: bool = False
    """Whether hands-free mode sleeps until the wake phrase."""
    tone: bool = False
    """Whether a soft tone tells that it begins to listen."""


class Terminal:
    """One sitting at the terminal.

    Parameters
    ----------
    session
        Takes utterances and gives answers.
    voice
        Speaks them.
    ear
        Hears them; None where there is no speech model: then everything is typed.
    ways
        How to listen. Without an ear or a microphone it becomes typing, with a notice.
    """

    def __init__(self, session: Session, voice: Voice, ear: Ear | None, ways: Ways) -> None:
        self._session = session
        self._ear = ear
        self._ways = ways
        self._mode = ways.mode if ear else Mode.TYPE
        self._wake = Wake() if ways.wake else None
        self._microphone: Microphone | None = None
        self._speaker = Speaker(
            voice,
            show,
            started=self._deafen,
            ended=self._listen_again,
            sounds=self._sounds,
        )
        self._said: queue.Queue[Utterance | str | None] = queue.Queue()
        self._partly = ""
        self._thinking = False
        self._ended = threading.Event()
        self._held_until = 0.0
        self._app: Application[str] | None = None

    def run(self, first: str = "") -> None:
        """Talk until the driver ends it; `first` is taken as if it had been said already."""
        for notice in self._session.notices:
            show(notice)
        with contextlib.ExitStack() as stack:
            self._open_microphone(stack)
            answering = threading.Thread(target=self._answer_all, name="answers", daemon=True)
            answering.start()
            self._greet()
            if first:
                self._said.put(first)
            if sys.stdin.isatty():
                asyncio.run(self._type_and_talk())
            else:
                self._read_lines(answering)
            self._ended.set()
            self._said.put(None)
            answering.join()
            self._speaker.hush()

    # ---- microphone ----

    def _open_microphone(self, stack: contextlib.ExitStack) -> None:
        """Begin to listen, or begin by typing where there is nothing to listen with."""
        if self._mode is Mode.TYPE or self._ear is None:
            return
        try:
            self._microphone = stack.enter_context(Microphone(deaf=self._mode is Mode.HOLD))
        except Problem as problem:
            show(str(problem))
            self._mode = Mode.TYPE
            return
        self._ear.prepare()
        threading.Thread(target=self._listen, args=(self._ear, self._microphone), name="ear", daemon=True).start()

    def _listen(self, ear: Ear, microphone: Microphone) -> None:
        """Listen until the end; when the microphone goes away, say so and try it again until it is back."""
        listen = self._hear_hands_free if self._mode is Mode.HANDS_FREE else self._hear_held
        try:
            listen(ear, microphone)
        except Problem as problem:
            self._lost(str(problem))
        while not self._ended.wait(_TRY_AGAIN_S):
            try:
                with Microphone(deaf=self._mode is Mode.HOLD) as again:
                    self._microphone = again
                    show(f"Listening again on {again.name}.")
                    listen(ear, again)
            except Problem as problem:
                if self._microphone:
                    self._lost(str(problem))

    def _lost(self, trouble: str) -> None:
        if not self._ended.is_set():
            self._microphone = None
            self._partly = ""
            show(trouble)
            self._redraw()

    def _hear_hands_free(self, ear: Ear, microphone: Microphone) -> None:
        utterances = hands_free(microphone, ear.stream, partly=self._hears)
        if wake := self._wake:
            wait = partial(ear.waiting, wake.phrase)
            utterances = when_woken(microphone, wake, wait, ear.stream, woken=self._woken, partly=self._hears)
        for heard in utterances:
            self._say(ear.settle(heard, self._session.conversation, self._session.unsettled))

    def _hear_held(self, ear: Ear, microphone: Microphone) -> None:
        while not self._ended.is_set():
            if microphone.deaf:
                time.sleep(_LOOK_EVERY_S)
                continue
            heard = held(microphone, ear.stream(), partly=self._hears)
            if heard.words:
                self._say(ear.settle(heard, self._session.conversation, self._session.unsettled))

    def _say(self, utterance: Utterance) -> None:
        self._partly = ""
        if utterance.text:
            show(f"\n» {utterance.text}")
            self._said.put(utterance)

    def _hears(self, words: str) -> None:
        self._partly = words
        self._redraw()

    def _woken(self) -> None:
        """Show, and sound where that was asked for, that the wake phrase was heard."""
        if self._ways.tone:
            self._speaker.sound_tone()
        self._redraw()

    def _deafen(self) -> None:
        """Half duplex: while it speaks it does not listen, and so never hears itself; it may watch the level."""
        if self._microphone and self._mode is Mode.HANDS_FREE:
            if self._ways.barge_in and not self._asleep:
                self._microphone.watch(self._barged_in)
            else:
                self._microphone.pause()
        self._redraw()

    def _sounds(self) -> None:
        if self._microphone:
            self._microphone.sounds()

    def _barged_in(self) -> None:
        self._speaker.cut()
        self._redraw()

    def _tone_is_due(self) -> bool:
        return self._ways.tone and self._microphone is not None and not self._asleep

    @property
    def _asleep(self) -> bool:
        return self._wake is not None and self._microphone is not None and not self._wake.awake

    def _listen_again(self) -> None:
        if self._microphone and self._mode is Mode.HANDS_FREE:
            self._microphone.resume()
        self._redraw()

    # ---- answering ----

    def _answer_all(self) -> None:
        """Answer until told to end; when nobody reads the screen any more, end the sitting."""
        try:
            while (said := self._said.get()) is not None:
                self._answer(said)
        except BrokenPipeError:
            self._end()

    def _answer(self, said: Utterance | str) -> None:
        self._thinking = True
        self._redraw()
        self._speaker.hush()
        try:
            self._give(self._session.take(said))
        except BrokenPipeError:
            raise
        except Exception as error:  # noqa: BLE001 - a fault of ours must not end the sitting in silence
            show(f"Deckside failed on this ({type(error).__name__}: {error}). The load is as it was.")
        self._thinking = False
        self._redraw()
        while self._session.notices:
            show(self._session.notices.pop(0))

    def _end(self) -> None:
        self._ended.set()
        app = self._app
        if app and app.is_running and app.loop:
            app.loop.call_soon_threadsafe(partial(app.exit, result=""))

    def _give(self, answer: Answer) -> None:
        answer = self._follow(answer)
        self._thinking = False
        show(f"\n{answer.show}")
        show(closing(answer, in_color=sys.stdout.isatty()))
        if any(isinstance(effect, Hush) for effect in answer.effects):
            return
        self._speaker.say(answer.say, in_tone=self._tone_is_due)
        if any(isinstance(effect, Quit) for effect in answer.effects):
            self._speaker.wait()
            self._end()

    def _follow(self, answer: Answer) -> Answer:
        """Do what an answer asks of the voice and the ear; say so where it cannot be done."""
        cannot = ""
        for effect in answer.effects:
            if isinstance(effect, Pace) and not self._speaker.change_pace(effect.step):
                cannot = f"I cannot speak {'slower' if effect.step < 0 else 'faster'} than this."
            if isinstance(effect, Sleep):
                if self._wake:
                    self._wake.sleep()
                else:
                    cannot = "I go on listening: only when started with a wake phrase do I sleep."
        return answer.model_copy(update={"say": cannot, "show": f"{cannot}\n"}) if cannot else answer

    # ---- typing ----

    def _greet(self) -> None:
        ways = {
            Mode.HANDS_FREE: self._listens_on(),
            Mode.HOLD: "Hold the space bar and talk, or type.",
            Mode.TYPE: "Type what is on the deck.",
        }
        show(f"{ways[self._mode]} Say help to hear what I know, good bye to end.")
        if self._session.resumed:
            show("Going on with the load from last time; say read that back, or start over.")

    def _listens_on(self) -> str:
        name = self._microphone.name if self._microphone else ""
        if self._wake:
            return f"Asleep on {name}. Say {self._wake.phrase} and what is on the deck, or type."
        return f"Listening on {name}. Talk, or type."

    def _read_lines(self, answering: threading.Thread) -> None:
        """Take lines from a pipe; with a microphone, go on listening after the last one."""
        for line in sys.stdin:
            if self._ended.is_set():
                return
            if line.strip():
                self._said.put(line.strip())
        if self._microphone and answering.is_alive():
            with contextlib.suppress(KeyboardInterrupt):
                while not self._ended.wait(_LOOK_EVERY_S) and self._microphone:
                    pass

    async def _type_and_talk(self) -> None:
        prompt: PromptSession[str] = PromptSession("> ", bottom_toolbar=self._foot, key_bindings=self._keys())
        self._app = prompt.app
        letting_go = asyncio.create_task(self._let_go())
        with patch_stdout(raw=True):
            while not self._ended.is_set():
                try:
                    line = await prompt.prompt_async()
                except (EOFError, KeyboardInterrupt):
                    break
                if line and line.strip():
                    self._said.put(line.strip())
        letting_go.cancel()

    def _keys(self) -> KeyBindings:
        keys = KeyBindings()

        @keys.add("escape", eager=True)
        def _(_: KeyPressEvent) -> None:
            self._speaker.hush()

        if self._mode is Mode.HOLD:

            @keys.add(" ")
            def _(event: KeyPressEvent) -> None:
                if event.current_buffer.text or self._microphone is None:
                    event.current_buffer.insert_text(" ")
                    return
                self._held_until = time.monotonic() + _LET_GO_AFTER_S
                if self._microphone.deaf:
                    self._speaker.hush()
                    self._microphone.resume()

        return keys

    async def _let_go(self) -> None:
        """Close the ear once the held key has stopped repeating."""
        while True:
            await asyncio.sleep(_LOOK_EVERY_S)
            microphone = self._microphone
            holding = self._mode is Mode.HOLD and microphone is not None and not microphone.deaf
            if holding and microphone and time.monotonic() > self._held_until:
                microphone.pause()

    @property
    def _state(self) -> State:
        if self._thinking:
            return State.THINKING
        if self._speaker.speaking:
            return State.SPEAKING
        if self._microphone is None:
            return State.TYPING
        if self._asleep:
            return State.ASLEEP
        return State.LISTENING if self._mode is Mode.HANDS_FREE or not self._microphone.deaf else State.WAITING

    def _foot(self) -> StyleAndTextTuples:
        state = self._state
        hint = f"say {self._wake.phrase}" if self._wake and state is State.ASLEEP else ""
        columns = self._app.output.get_size().columns if self._app else 0
        return sign(state, "" if state is State.ASLEEP else self._partly, columns, hint=hint)

    def _redraw(self) -> None:
        if self._app:
            self._app.invalidate()


def show(text: str) -> None:
    """Put text on the screen."""
    print(text, flush=True)

"""The terminal: talk, type, see. Hands-free listening, hold-a-key listening, and typing, all into one session."""

import asyncio
import contextlib
import queue
import shutil
import sys
import textwrap
import threading
import time
from enum import StrEnum
from functools import partial

from prompt_toolkit import PromptSession
from prompt_toolkit.application import Application
from prompt_toolkit.formatted_text import HTML
from prompt_toolkit.key_binding import KeyBindings, KeyPressEvent
from prompt_toolkit.patch_stdout import patch_stdout

from assistant.edges.ear import Ear, Utterance
from assistant.edges.microphone import Microphone, hands_free, held
from assistant.edges.problem import Problem
from assistant.edges.session import Session
from assistant.edges.speaker import Speaker
from assistant.edges.voice import Voice
from assistant.say.answer import Answer, Hush, Quit
from assistant.securement.finding import Status

_LET_GO_AFTER_S = 0.75
"""A terminal tells only that a key repeats. The first repeat comes after up to half a second, so a key that has not
come again for this long was let go."""
_LOOK_EVERY_S = 0.05
_WIDEST = 100
"""Columns of the closing lines: longer ones are hard to read from two metres."""
_TRY_AGAIN_S = 3.0
"""A microphone that went away is looked for this often."""


class Mode(StrEnum):
    """How the driver speaks to it."""

    HANDS_FREE = "hands-free"
    HOLD = "hold"
    TYPE = "type"


class State(StrEnum):
    """What it is doing, for the line at the foot of the screen."""

    LISTENING = "listening"
    WAITING = "hold the space bar to talk"
    THINKING = "thinking"
    SPEAKING = "speaking"
    TYPING = "type, Enter to ask"


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
    mode
        How to listen. Without an ear or a microphone it becomes typing, with a notice.
    """

    def __init__(self, session: Session, voice: Voice, ear: Ear | None, mode: Mode) -> None:
        self._session = session
        self._ear = ear
        self._mode = mode if ear else Mode.TYPE
        self._microphone: Microphone | None = None
        self._speaker = Speaker(voice, show, started=self._deafen, ended=self._listen_again)
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
        for heard in hands_free(microphone, ear.stream, partly=self._hears):
            self._say(ear.settle(heard, self._session.conversation))

    def _hear_held(self, ear: Ear, microphone: Microphone) -> None:
        while not self._ended.is_set():
            if microphone.deaf:
                time.sleep(_LOOK_EVERY_S)
                continue
            heard = held(microphone, ear.stream(), partly=self._hears)
            if heard.words:
                self._say(ear.settle(heard, self._session.conversation))

    def _say(self, utterance: Utterance) -> None:
        self._partly = ""
        if utterance.text:
            show(f"\n» {utterance.text}")
            self._said.put(utterance)

    def _hears(self, words: str) -> None:
        self._partly = words
        self._redraw()

    def _deafen(self) -> None:
        """Half duplex: while it speaks it does not listen, and so never hears itself."""
        if self._microphone and self._mode is Mode.HANDS_FREE:
            self._microphone.pause()
        self._redraw()

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
        self._thinking = False
        show(f"\n{answer.show}")
        show(closing(answer, in_color=sys.stdout.isatty()))
        if any(isinstance(effect, Hush) for effect in answer.effects):
            return
        self._speaker.say(answer.say)
        if any(isinstance(effect, Quit) for effect in answer.effects):
            self._speaker.wait()
            self._end()

    # ---- typing ----

    def _greet(self) -> None:
        ways = {
            Mode.HANDS_FREE: f"Listening on {self._microphone.name if self._microphone else ''}. Talk, or type.",
            Mode.HOLD: "Hold the space bar and talk, or type.",
            Mode.TYPE: "Type what is on the deck.",
        }
        show(f"{ways[self._mode]} Say help to hear what I know, good bye to end.")
        if self._session.resumed:
            show("Going on with the load from last time; say read that back, or start over.")

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
        return State.LISTENING if self._mode is Mode.HANDS_FREE or not self._microphone.deaf else State.WAITING

    def _foot(self) -> HTML:
        return HTML("<b>{}</b>  {}").format(self._state.value, self._partly)

    def _redraw(self) -> None:
        if self._app:
            self._app.invalidate()


_COLORS = {Status.STOP: 41, Status.SHORT: 43, Status.ASK: 46, Status.OUTSIDE: 45, Status.MEETS: 42}


def closing(answer: Answer, *, in_color: bool) -> str:
    """Return what stays in sight at the foot of a long answer: the verdict and what is being said."""
    verdict = answer.judgement.verdict if answer.judgement else None
    said = textwrap.fill(answer.say, min(shutil.get_terminal_size().columns, _WIDEST) - 1)
    if verdict is None:
        return said
    word = f" {verdict.value.upper()} "
    return f"\033[1;30;{_COLORS[verdict]}m{word}\033[0m\n{said}" if in_color else f"{word.strip()}\n{said}"


def show(text: str) -> None:
    """Put text on the screen."""
    print(text, flush=True)

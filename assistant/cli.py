"""The `deckside` command: a thin line over the session, the ear and the notebook."""

import argparse
import datetime as dt
import json
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.edges.notebook import program_version
from assistant.edges.problem import Problem
from assistant.kit import read_kit
from assistant.say.answer import Answer

if TYPE_CHECKING:
    from assistant.edges.terminal import Ways

NOT_UNDERSTOOD = 1
TROUBLE = 2


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; return its exit code.

    0: all went well. 1: something said was not understood, or a thing looked at is missing. 2: it could not be done,
    and one sentence on standard error says why.
    """
    options = _parser().parse_args(_chat_is_the_default(sys.argv[1:] if arguments is None else list(arguments)))
    try:
        code: int = options.run(options)
    except Problem as problem:
        print(problem, file=sys.stderr)
        return TROUBLE
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:
        # whoever read our lines has had enough; nothing is left to say, not even at exit
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    return code


_COMMANDS = ("chat", "ask", "hear", "demo", "quiz", "log", "check-up", "fetch-model", "phrases")


def _chat_is_the_default(arguments: list[str]) -> list[str]:
    known = {*_COMMANDS, "-h", "--help", "--version"}
    return arguments if arguments and arguments[0] in known else ["chat", *arguments]


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="deckside",
        description="A spoken second opinion on a flatbed load of metal coils. Without a command: talk and type.",
    )
    parser.add_argument("--version", action="version", version=f"deckside {program_version()}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    chat = commands.add_parser("chat", help="talk and type (the default)")
    _listening(chat)
    chat.set_defaults(run=_chat)

    ask = commands.add_parser("ask", help="answer typed utterances, one after another, in a fresh conversation")
    ask.add_argument("words", nargs="+", help="an utterance; - reads lines from standard input")
    _as_json(ask)
    ask.set_defaults(run=_ask)

    hear = commands.add_parser("hear", help="answer spoken utterances from sound files, in a fresh conversation")
    hear.add_argument("files", nargs="+", type=Path, metavar="FILE", help="a WAV or FLAC file")
    hear.add_argument("--aloud", action="store_true", help="speak the answers too")
    hear.add_argument("--model", type=Path, help="folder of the speech model")
    _keep_sound(hear)
    _voice(hear)
    _as_json(hear)
    hear.set_defaults(run=_hear)

    demo = commands.add_parser("demo", help="hear a spoken demo load, answer it aloud, then listen")
    demo.add_argument(
        "--answer",
        type=Path,
        default=Path("deckside-answer.wav"),
        help="WAV file to speak into without a sound device",
    )
    _listening(demo)
    demo.set_defaults(run=_demo)

    quiz = commands.add_parser("quiz", help="five questions from the tables and the engine")
    _listening(quiz)
    quiz.set_defaults(run=_quiz)

    log = commands.add_parser("log", help="list or export the notebook: notes, and answers with their loads")
    log.add_argument("--format", choices=("text", "json", "csv"), default="text", help="(%(default)s)")
    log.add_argument("--since", type=dt.date.fromisoformat, metavar="YYYY-MM-DD", help="from this day on")
    log.set_defaults(run=_log)

    check_up = commands.add_parser("check-up", help="say what is present and what to do about what is not")
    check_up.add_argument("--model", type=Path, help="folder of the speech model")
    check_up.set_defaults(run=_check_up)

    phrases = commands.add_parser("phrases", help="list all that can be said, by theme, or write it as a page")
    phrases.add_argument("--html", type=Path, metavar="FILE", help="write one page to read or print instead")
    phrases.set_defaults(run=_phrases)

    fetch = commands.add_parser("fetch-model", help="fetch the speech model now (41 MB, once)")
    fetch.set_defaults(run=_fetch_model)
    return parser


def _as_json(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="one line of JSON an answer")


def _voice(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--voice", help="hibari, flite, espeak-ng or silent (the best one installed)")
    parser.add_argument("--speed", type=float, default=1.0, help="pace of the voice, 0.5 to 2 (%(default)s)")


def _listening(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--mode",
        choices=("hands-free", "hold", "type"),
        default="hands-free",
        help="listen always, while the space bar is held, or never (%(default)s)",
    )
    parser.add_argument("--no-barge-in", action="store_true", help="hands-free: speak each answer to its end")
    parser.add_argument(
        "--wake", action="store_true", help='hands-free: sleep until "okay deckhand" is said, and after 20 s of silence'
    )
    parser.add_argument("--tone", action="store_true", help="hands-free: a soft tone when it begins to listen")
    parser.add_argument("--model", type=Path, help="folder of the speech model")
    _keep_sound(parser)
    _voice(parser)


def _keep_sound(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--keep-sound", action="store_true", help="keep the sound of spoken notes, one WAV file a note")


def _ways(options: argparse.Namespace) -> "Ways":
    """Return how to listen; refuse what only hands-free listening has."""
    from assistant.edges.terminal import Mode, Ways  # noqa: PLC0415 - as said below

    ways = Ways(Mode(options.mode), barge_in=not options.no_barge_in, wake=options.wake, tone=options.tone)
    if ways.mode is not Mode.HANDS_FREE and (options.no_barge_in or options.wake or options.tone):
        trouble = f"--wake, --tone and --no-barge-in are for hands-free listening, not for --mode {ways.mode}."
        raise Problem(trouble, "Leave them out, or leave --mode out.")
    if ways.mode is Mode.TYPE and options.keep_sound:
        trouble = "--keep-sound is for spoken notes, not for --mode type."
        raise Problem(trouble, "Leave it out, or leave --mode out.")
    return ways


# ---- commands; imports stand inside, as `ask` must be quick and sound, speech and screen libraries cost half a second


def _show(answer: Answer, *, as_json: bool) -> None:
    from assistant.say.machine import as_json as plain  # noqa: PLC0415 - as said above

    if as_json:
        print(json.dumps(plain(answer), ensure_ascii=False), flush=True)
    else:
        print(f"» {answer.heard}\n\n{answer.show}\nSays: {answer.say}\n", flush=True)


def _ask(options: argparse.Namespace) -> int:
    from assistant.edges.lines import lines_from  # noqa: PLC0415 - as said above
    from assistant.edges.session import Session  # noqa: PLC0415 - as said above

    session = Session(read_kit(_today()))
    understood = True
    for line in lines_from(options.words):
        answer = session.take(line)
        understood &= answer.came_to_something
        _show(answer, as_json=options.json)
    _notices(session.notices)
    return 0 if understood else NOT_UNDERSTOOD


def _hear(options: argparse.Namespace) -> int:
    from assistant.edges.hearing import hear_file, open_ear  # noqa: PLC0415 - as said above
    from assistant.edges.session import Session  # noqa: PLC0415 - as said above
    from assistant.edges.speaker import Speaker  # noqa: PLC0415 - as said above
    from assistant.edges.voice import choose_voice  # noqa: PLC0415 - as said above

    session = Session(read_kit(_today()), keep_sound=options.keep_sound)
    ear = open_ear(session.kit, options.model)
    speaker = Speaker(choose_voice(options.voice, speed=options.speed), _warn) if options.aloud else None
    understood = True
    for file in options.files:
        answer = hear_file(file, ear, session)
        understood &= answer.came_to_something
        _show(answer, as_json=options.json)
        if speaker:
            speaker.say(answer.say)
            speaker.wait()
    _notices(session.notices)
    return 0 if understood else NOT_UNDERSTOOD


def _chat(options: argparse.Namespace) -> int:
    return _sit_down(options)


def _demo(options: argparse.Namespace) -> int:
    from assistant.edges.hearing import demo_file, hear_file, open_ear  # noqa: PLC0415 - as said above
    from assistant.edges.session import Session  # noqa: PLC0415 - as said above
    from assistant.edges.speaker import Speaker  # noqa: PLC0415 - as said above
    from assistant.edges.terminal import Terminal  # noqa: PLC0415 - as said above
    from assistant.edges.voice import choose_voice  # noqa: PLC0415 - as said above

    ways = _ways(options)
    session = Session(read_kit(_today()), keep_sound=options.keep_sound)
    voice = choose_voice(options.voice, speed=options.speed)
    ear = open_ear(session.kit, options.model)
    print(f"Hearing {demo_file()}")
    answer = hear_file(demo_file(), ear, session)
    _show(answer, as_json=False)
    speaker = Speaker(voice, _warn, instead=options.answer)
    speaker.say(answer.say)
    speaker.wait()
    Terminal(session, voice, ear, ways).run()
    return 0 if answer.came_to_something else NOT_UNDERSTOOD


def _quiz(options: argparse.Namespace) -> int:
    return _sit_down(options, first="quiz me")


def _sit_down(options: argparse.Namespace, first: str = "") -> int:
    from assistant.edges.hearing import open_ear  # noqa: PLC0415 - as said above
    from assistant.edges.session import Session  # noqa: PLC0415 - as said above
    from assistant.edges.terminal import Mode, Terminal  # noqa: PLC0415 - as said above
    from assistant.edges.voice import choose_voice  # noqa: PLC0415 - as said above

    ways = _ways(options)
    voice = choose_voice(options.voice, speed=options.speed)
    session = Session(read_kit(_today()), lasting=True, keep_sound=options.keep_sound)
    ear = None
    if ways.mode is not Mode.TYPE:
        try:
            ear = open_ear(session.kit, options.model)
        except Problem as problem:
            session.notices.append(str(problem))
    Terminal(session, voice, ear, ways).run(first)
    return 0


def _log(options: argparse.Namespace) -> int:
    from assistant.edges.notebook import Notebook  # noqa: PLC0415 - as said above

    since = dt.datetime.combine(options.since, dt.time()).astimezone() if options.since else None
    with Notebook() as notebook:
        print(notebook.export(options.format, since), end="")
    return 0


def _check_up(options: argparse.Namespace) -> int:
    from assistant.edges.check_up import check_up  # noqa: PLC0415 - as said above

    lines, well = check_up(options.model)
    print("\n".join(lines))
    return 0 if well else NOT_UNDERSTOOD


def _phrases(options: argparse.Namespace) -> int:
    from assistant.phrase.examples import sayings, slots  # noqa: PLC0415 - as said above
    from assistant.phrase.grammar import read_grammar  # noqa: PLC0415 - as said above
    from assistant.say.phrase_list import listed, page  # noqa: PLC0415 - as said above
    from assistant.understand.lexicon import read_lexicon  # noqa: PLC0415 - as said above

    grammar = read_grammar()
    if options.html is None:
        print(listed(sayings(grammar), slots(grammar, read_lexicon().forms)), end="")
        return 0
    try:
        options.html.write_text(page(sayings(grammar), slots(grammar, read_lexicon().forms)), encoding="utf-8")
    except OSError as trouble:
        problem = f"{options.html} cannot be written: {trouble.strerror}."
        raise Problem(problem, "Name another file.") from trouble
    print(f"Written: {options.html}")
    return 0


def _fetch_model(_: argparse.Namespace) -> int:
    from assistant.edges.model_store import fetch_model  # noqa: PLC0415 - as said above

    print(fetch_model())
    return 0


def _today() -> dt.date:
    return dt.datetime.now().astimezone().date()


def _notices(notices: Sequence[str]) -> None:
    for notice in notices:
        _warn(notice)


def _warn(text: str) -> None:
    print(text, file=sys.stderr, flush=True)


if __name__ == "__main__":
    sys.exit(main())

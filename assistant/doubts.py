"""Put a number told in place of one that was read back into what was held: "fifteen, or was it fifty?", "fifty"."""

from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

from assistant.conversation import Conversation
from assistant.kit import Kit
from assistant.phrase.meaning import Question
from assistant.phrase.tokens import words
from assistant.say.answer import Answer
from assistant.talk import OR_WAS_IT, hold_until_yes
from assistant.understand.heard import Fragment, Heard

_FLAT = frozenset({"fix", "no", "yes"})
_ARTICLES = frozenset({"a", "an", "the"})
_FLAT_UNIT = frozenset({"pound", "pounds"})
_SCALE = frozenset({"hundred", "thousand"})


class Instead(NamedTuple):
    """The phrase that was held with the number put right, the part that was put right, and whether it is sure."""

    phrase: str
    part: str
    sure: bool


def instead(heard: Heard, question: Question, kit: Kit, unsure: Sequence[int]) -> Instead | None:
    """Return what was held with a number told in place of the doubted one; None where something else was said."""
    offered = chosen(heard, question, kit)
    if offered:
        return offered._replace(sure=not unsure)
    told = _told(heard)
    if not question.part or len(told) != 1 or heard.left_over or f" {question.part} " not in f" {question.doubted} ":
        return None
    is_number = kit.understander.is_number_word
    spoken = [token.word for token in heard.tokens[told[0].start : told[0].end]]
    old, new = _run(question.part.split(), is_number), _run(spoken, is_number)
    if old is None or new is None:
        return None
    was, words = question.part.split(), spoken[new[0] : new[1]]
    number = was[old[0] : old[1]]
    held, besides = {*was} - {*number}, {*spoken} - {*words}
    if held < besides:
        # told once more in full, and with more to it: "coil weighs twenty six kips" for "coil weighs twenty six six"
        whole = " ".join(spoken)
        return Instead(_put(question, whole), whole, sure=not unsure)
    if besides - held - kit.understander.filler - _FLAT_UNIT:
        return None  # of something else: "four tanks" for "four tons"
    chooses = words != number or OR_WAS_IT in question.text
    twin = _twin(number, words, kit.understander.grammar.twins) if chooses else None
    if twin is not None:
        put, sure = [*number[:twin], words[0], *number[twin + 1 :]], True
    elif _SCALE & {*number} and not _SCALE & {*words}:
        # "sixteen" for "fifteen thousand": likely sixteen thousand, and so asked
        scale = next(place for place, word in enumerate(number) if word in _SCALE)
        put, sure = [*words, *number[scale:]], False
    else:
        # whoever says the number again instead of yes said no, and it was heard the same once more
        put, sure = words, words != number
    part = " ".join([*was[: old[0]], *put, *was[old[1] :]])
    return Instead(_put(question, part), " ".join(put), sure and not unsure)


def chosen(heard: Heard, question: Question, kit: Kit) -> Instead | None:
    """Return what a question offers if somebody says that, or "the other one"; None where something else was said."""
    named = "other_one" in kit.understander.whole(heard)
    if not question.offers or (heard.left_over and not named):
        return None
    told = _told(heard)
    spoken = [token.word for part in told for token in heard.tokens[part.start : part.end]]
    said = named or _without_articles(spoken) == _without_articles(question.offers.split())
    return Instead(question.other, question.offers, sure=True) if said else None


def ask_instead(utterance: str, conversation: Conversation, put: Instead) -> tuple[Answer, Conversation]:
    """Ask once more for what was told in place of what was read back."""
    text = f"Do you mean {put.part}?"
    return hold_until_yes(utterance, conversation, text, doubted=put.phrase, confirm=(put.part,), part=put.part)


def _told(heard: Heard) -> list[Fragment]:
    """Return the parts that tell something besides a yes or a no."""
    return [part for part in heard.fragments if part.name not in _FLAT]


def _without_articles(said: Sequence[str]) -> list[str]:
    return [word for word in said if word not in _ARTICLES]


def _put(question: Question, part: str) -> str:
    """Return the phrase that was held with another part in the place of the doubted one."""
    return f" {question.doubted} ".replace(f" {question.part} ", f" {part} ", 1).strip()


def _run(words: Sequence[str], is_number: Callable[[str], bool]) -> tuple[int, int] | None:
    """Return where the number words stand, if they stand together."""
    places = [place for place, word in enumerate(words) if is_number(word)]
    together = places and places[-1] - places[0] + 1 == len(places)
    return (places[0], places[-1] + 1) if together else None


def _twin(number: Sequence[str], words: Sequence[str], twins: Mapping[str, str]) -> int | None:
    """Return the place of the word that a single number word is the twin of: "fifty" of "fifteen thousand"."""
    if len(words) != 1:
        return None
    alike = [
        place for place, word in enumerate(number) if words[0] in {word, twins.get(word)} or twins.get(words[0]) == word
    ]
    return alike[0] if len(alike) == 1 else None


def heard_again(heard: Heard, conversation: Conversation) -> tuple[Fragment, ...]:
    """Return the parts that were read back and are now heard the same once more: whoever says them again said no."""
    pending, last = conversation.pending, conversation.last
    if last is None or pending is None or pending.settles is None or not pending.settles.doubted:
        return ()
    return tuple(part for part in heard.fragments if words(heard.tokens[part.start : part.end]) in last.confirm)

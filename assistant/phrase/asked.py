"""What a turn of phrase makes of what follows: "will two more chains do it" asks what would be, and tells nothing."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from itertools import pairwise

from assistant.understand.heard import Fragment
from assistant.phrase.tokens import Token

Phrases = Iterable[tuple[str, ...]]
_IF = (Token("what"), Token("if"))
_ENOUGH = ("enough",)
_VERBS = frozenset({"is", "are", "will", "would"})


def as_asked(
    found: tuple[Token, ...],
    fragments: Sequence[Fragment],
    sorts: Mapping[str, str],
    question: Mapping[str, Phrases],
    *,
    marked: bool,
) -> tuple[tuple[Token, ...], bool]:
    """Return a question as the what-if that it asks, or whether something was asked that no phrase is known for.

    Parameters
    ----------
    found, fragments
        The utterance, and what was understood of it as it stands.
    sorts
        The sort of each fragment.
    question
        "lead", "requests", "supposes", "asks" and "endings" of hearing.toml.
    marked
        Whether it was typed with a question mark.

    Returns
    -------
    tuple[tuple[Token, ...], bool]
        The utterance as it is to be parsed (as it was where it is no such question), and whether it must be refused.
    """
    said = [token.word for token in found]
    lead = set(question["lead"])
    start = next((place for place, word in enumerate(said) if (word,) not in lead), len(said))
    if start == len(said):
        return found, False
    request = _longest(question["requests"], said[start:])
    if any(part.start == start + request and _is_ordered(part, sorts) for part in fragments if request):
        return found[start + request :], False
    known = max((part.end - start for part in fragments if part.start <= start and _is_known(part, sorts)), default=0)
    begins = _longest(question["supposes"], said[start:])
    ends = _longest(question["endings"], said[start:], last=True)
    if begins > known:
        kept = found[start + begins :]
        return (*_IF, *(kept[: len(kept) - ends] if ends < len(kept) else kept)), False
    if known:
        return found, False
    facts = any(sorts[part.name] == "fact" for part in fragments)
    others = any(sorts[part.name] in {"ask", "marker"} for part in fragments)
    if facts and ends and not others and (tuple(said[-ends:]) == _ENOUGH or _asks(found, start, fragments)):
        kept = found[start + (said[start] in _VERBS) : len(found) - ends]
        return (*_IF, *(token for token in kept if token.word not in _VERBS)), False
    if _longest(question["asks"], said[start:]):
        return found, True
    return ((*_IF, *found), False) if marked and facts and not others else (found, False)


def corrected(
    found: Sequence[Token],
    fragments: Sequence[Fragment],
    sorts: Mapping[str, str],
    denials: Collection[tuple[str, ...]],
) -> tuple[Fragment, ...]:
    """Return the fragments with each no right before a fact as the correction that it is: "wrong, it's forty one"."""
    parts = list(fragments)
    for place, (first, second) in enumerate(pairwise(fragments)):
        told = sorts[second.name] == "fact" and first.end == second.start
        if told and tuple(token.word for token in found[first.start : first.end]) in denials:
            parts[place] = first._replace(name="fix")
    return tuple(parts)


def _is_known(part: Fragment, sorts: Mapping[str, str]) -> bool:
    return sorts[part.name] in {"ask", "marker", "command"}


def _is_ordered(part: Fragment, sorts: Mapping[str, str]) -> bool:
    return sorts[part.name] in {"ask", "command"} or part.name == "fix"


def _asks(found: Sequence[Token], start: int, fragments: Sequence[Fragment]) -> bool:
    """Return whether it begins with a verb, or one stands between phrases: "forty coil, will four chains do it"."""
    loose = set(range(start, len(found))) - {place for part in fragments for place in range(part.start, part.end)}
    return found[start].word in _VERBS or any(found[place].word in _VERBS for place in loose)


def _longest(phrases: Phrases, said: Sequence[str], *, last: bool = False) -> int:
    """Return how many words of the longest of the phrases stand first, or last."""
    if not said:
        return 0
    edge = -1 if last else 0  # most phrases differ in the word at the edge
    fitting = (
        len(words)
        for words in phrases
        if words[edge] == said[edge] and words == tuple(said[-len(words) :] if last else said[: len(words)])
    )
    return max(fitting, default=0)

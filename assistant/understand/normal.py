"""Text as it is spoken or typed, into tokens of whole words: contractions in full, slips of the keys put right."""

import re
from collections.abc import Iterator, Sequence

from assistant.phrase.tokens import Token, tokens

_WHOLE = {
    "ain't": "is not",
    "won't": "will not",
    "can't": "can not",
    "cannot": "can not",
    "shan't": "shall not",
    "let's": "let us",
    "y'all": "you",
    "i'm": "i am",
    "'em": "them",
    "gimme": "give me",
    "lemme": "let me",
    "dont": "do not",
    "doesnt": "does not",
    "didnt": "did not",
    "isnt": "is not",
    "arent": "are not",
    "wasnt": "was not",
    "werent": "were not",
    "wont": "will not",
    "cant": "can not",
    "havent": "have not",
    "hasnt": "has not",
    "wouldnt": "would not",
    "couldnt": "could not",
    "shouldnt": "should not",
    "aint": "is not",
    "im": "i am",
    "ive": "i have",
    "thats": "that is",
    "theres": "there is",
    "whats": "what is",
    "hows": "how is",
    "theyre": "they are",
    "theyve": "they have",
    "youre": "you are",
    "shes": "she is",
    "hes": "he is",
    "heres": "here is",
    "wheres": "where is",
    "whos": "who is",
    "couldve": "could have",
    "shouldve": "should have",
    "wouldve": "would have",
    "lbs": "pounds",
    "lb": "pounds",
    "fwd": "forward",
    "rwd": "rearward",
    "thru": "through",
    "ths": "",
}
_ENDINGS = (
    ("n't", "not"),
    ("'re", "are"),
    ("'ve", "have"),
    ("'ll", "will"),
    ("'m", "am"),
    ("'d", "would"),
    ("'s", "is"),
)
_HAVE = frozenset({"got", "been", "gone", "come"})
_WRITTEN = (
    (re.compile(r"\bw/o\b", re.IGNORECASE), "without "),
    (re.compile(r"\bw/(?=\s|$|\d|\w)", re.IGNORECASE), "with "),
    (re.compile(r"(\d/\d+)\s?(?:ths|th|s)\b", re.IGNORECASE), r"\1"),
    (re.compile(r"\b(g|gr)-(\d+)", re.IGNORECASE), r"\1 \2"),
    (re.compile(r"(?<=\d)\s?k\b\s?(?=lb|#|pound)", re.IGNORECASE), "k "),
    (re.compile(r"^\s*([^*]*\w)\*+\s*$"), r"no \1"),  # as people type what they mistyped once more
    (re.compile(r"[*_]+"), " "),
    (re.compile(r"(?<=[a-z])/(?=[a-z])", re.IGNORECASE), " "),
)


def normal(text: str) -> tuple[Token, ...]:
    """Split a text into tokens of whole words.

    Raises
    ------
    TooLong
        The text is longer than an utterance can be.
    """
    for written, meant in _WRITTEN:
        text = written.sub(meant, text)
    return tuple(_whole(tokens(text)))


def _whole(found: Sequence[Token]) -> Iterator[Token]:
    for place, token in enumerate(found):
        following = found[place + 1].word if place + 1 < len(found) else ""
        for nth, word in enumerate(_words(token.word, following) if token.word else [""]):
            yield Token(word, token.value, token.breaks and not nth)


def whole_words(word: str) -> list[str]:
    """Return a word as normal text has it: a contraction in full."""
    return _words(word, "")


def _words(word: str, following: str) -> list[str]:
    if word in _WHOLE:
        return _WHOLE[word].split()
    for ending, whole in _ENDINGS:
        if word.endswith(ending) and len(word) > len(ending):
            stem = word[: -len(ending)]
            return [stem, "has" if ending == "'s" and following in _HAVE else whole]
    return [word]

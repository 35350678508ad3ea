"""The list of what can be said: every intent, its forms and an example stand on it, as text and as one page."""

import re
from html import unescape
from html.parser import HTMLParser

import pytest

from assistant.load.model import Load
from assistant.phrase.examples import sayings, slots
from assistant.phrase.grammar import read_grammar
from assistant.say.lines import WIDTH
from assistant.say.phrase_list import listed, page
from assistant.understand.lexicon import read_lexicon
from assistant.understand.understander import Understander

GRAMMAR = read_grammar()
WORDS = read_lexicon().forms
TEXT = listed(sayings(GRAMMAR), slots(GRAMMAR, WORDS))
PAGE = page(sayings(GRAMMAR), slots(GRAMMAR, WORDS))
TOLD = [saying for told in sayings(GRAMMAR).values() for saying in told]


class Tags(HTMLParser):
    """Collects what a page is made of."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: set[str] = set()
        self.attributes: set[str] = set()
        self.ids: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep what begins."""
        self.tags.add(tag)
        self.attributes |= {name for name, _ in attrs}
        self.ids += [value for name, value in attrs if name == "id" and value]
        if tag != "meta":
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        """Hold that what begins ends."""
        assert self.open.pop() == tag


def read() -> Tags:
    tags = Tags()
    tags.feed(PAGE)
    assert tags.open == []
    return tags


def test_page__has_every_intent_once() -> None:
    assert sorted(read().ids) == sorted(saying.fragment for saying in TOLD)
    assert {saying.fragment for saying in TOLD} >= GRAMMAR.rows.keys()


@pytest.mark.parametrize("saying", TOLD, ids=lambda saying: saying.fragment)
def test_intent__stands_in_both_with_its_example_and_every_form(saying: object) -> None:
    plain = unescape(re.sub(r"<[^>]+>", "\n", PAGE))
    joined = re.sub(r"\s+", " ", TEXT)
    for text in (getattr(saying, "about", ""), f"“{getattr(saying, 'example', '')}”", *getattr(saying, "forms", ())):
        assert text
        assert text in plain
        assert text in joined


def test_page__needs_nothing_else() -> None:
    tags = read()
    assert tags.tags <= {"html", "head", "meta", "title", "style", "body", "h1", "h2", "p", "dl", "dt", "dd", "code"}
    assert tags.attributes <= {"lang", "charset", "id", "class"}
    assert "://" not in PAGE
    assert "url(" not in PAGE


def test_text__fits_a_terminal() -> None:
    assert max(len(line) for line in TEXT.splitlines()) <= WIDTH
    assert [theme for theme in sayings(GRAMMAR) if theme.upper() not in TEXT] == []


# ---- what is composed

UNDERSTANDER = Understander(GRAMMAR)
ON_IT = Load.model_validate({
    "coils": [{"weight_lb": 40_000}],
    "tiedowns": [{"kind": "chain", "count": 4}, {"kind": "strap", "count": 1}],
})  # fmt: skip
LEFT_OUT = "Left out, and kept open"


@pytest.mark.parametrize(("theme", "said"), [(entry.theme, said) for entry in GRAMMAR.entries for said in entry.say])
def test_example_of_what_is_composed__is_understood_whole_or_left_out_whole(theme: str, said: str) -> None:
    heard = UNDERSTANDER.hear(said, ON_IT)
    if theme == LEFT_OUT:
        assert heard.left_over == said
        assert {one.why for one in heard.lost} <= {"not now", "not yet", "elsewhere"}
    else:
        assert not heard.lost
        assert heard.fragments or heard.supposed


def test_words_at_the_end__are_those_of_the_sorts_that_the_examples_are_made_of() -> None:
    named = {sort for entry in GRAMMAR.entries for sort in entry.sorts}
    assert {slot.name for slot in slots(GRAMMAR, WORDS)} == named
    assert named <= WORDS.keys()

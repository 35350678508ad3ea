"""All that can be said, as a text to read and as one page to print: made from the grammar, never written by hand."""

import textwrap
from collections.abc import Iterable, Mapping
from html import escape
from typing import Protocol

from assistant.say.lines import WIDTH

_INTRO = (
    "Tell a load in any order, several things in one breath, in words of your own: of that stand examples here. What "
    "is always said alike stands here in full: (a|b) is a choice, [x] may be left out. The words that are known stand "
    "at the end."
)
_STYLE = (
    "body{font-family:sans-serif;line-height:1.4;max-width:60rem;margin:2rem auto;padding:0 1rem;color:#111;"
    "background:#fff}h2{border-bottom:2px solid #111;margin-top:2rem}dt{font-weight:bold;margin-top:.8rem}"
    "dd{margin:.2rem 0 .2rem 1.2rem}code{font-size:.95em}.say{font-size:1.1em}@media print{body{margin:0}}"
)


class Said(Protocol):
    """One thing that can be said."""

    @property
    def fragment(self) -> str:
        """Its name in the grammar."""

    @property
    def about(self) -> str:
        """What it is, in a few words."""

    @property
    def example(self) -> str:
        """One way to say it."""

    @property
    def forms(self) -> tuple[str, ...]:
        """Every way, as templates."""


class Words(Protocol):
    """Words of one sort."""

    @property
    def name(self) -> str:
        """What the sort is called."""

    @property
    def words(self) -> tuple[str, ...]:
        """What is said."""


def listed(themes: Mapping[str, Iterable[Said]], slots: Iterable[Words]) -> str:
    """Return the whole list as plain lines of at most 78 columns."""
    lines = [*textwrap.wrap(_INTRO, WIDTH)]
    for theme, sayings in themes.items():
        lines += ["", theme.upper()]
        for saying in sayings:
            lines += ["", *_wrapped(f"{saying.about}: “{saying.example}”", "  ")]
            lines += [line for form in saying.forms for line in _wrapped(form, "      ")]
    lines += ["", "WORDS THAT ARE KNOWN"]
    for slot in slots:
        lines += ["", f"  {slot.name}", *_wrapped("; ".join(slot.words), "      ")]
    return "\n".join(lines) + "\n"


def page(themes: Mapping[str, Iterable[Said]], slots: Iterable[Words]) -> str:
    """Return the whole list as one HTML page that needs nothing else: no script, no picture, no link outwards."""
    parts = [
        '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>What you can say to Deckside</title>',
        f"<style>{_STYLE}</style></head><body><h1>What you can say to Deckside</h1><p>{escape(_INTRO)}</p>",
    ]
    for theme, sayings in themes.items():
        parts.append(f"<h2>{escape(theme)}</h2><dl>")
        for saying in sayings:
            parts.append(f'<dt id="{escape(saying.fragment)}">{escape(saying.about)}</dt>')
            parts.append(f'<dd class="say">“{escape(saying.example)}”</dd>')
            parts += [f"<dd><code>{escape(form)}</code></dd>" for form in saying.forms]
        parts.append("</dl>")
    parts.append("<h2>Words that are known</h2><dl>")
    for slot in slots:
        parts.append(f"<dt>{escape(slot.name)}</dt><dd>{escape('; '.join(slot.words))}</dd>")
    parts.append("</dl></body></html>")
    return "\n".join(parts) + "\n"


def _wrapped(text: str, indent: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=indent, subsequent_indent=f"{indent}  ", break_on_hyphens=False)

"""How words are written in grammar/: (a|b) chooses, [x] may be left out."""

import re
from collections.abc import Iterator
from itertools import product

_PIECE = re.compile(r"([\w'#\".?]+)|([\[\]()|])|(\s+)|(.)")


class BadTemplate(ValueError):  # noqa: N818 - named like the other refusals of grammar data
    """A template that cannot be read; keeps the template and what is wrong with it."""

    def __init__(self, template: str, problem: str) -> None:
        super().__init__(f"template {template!r}: {problem}")
        self.template = template
        self.problem = problem


def expand(template: str) -> list[tuple[str, ...]]:
    """Return every plain sequence of words that a template stands for, without repeats.

    Raises
    ------
    BadTemplate
        Unclosed brackets, or an unknown sign.
    """
    parts = _Parts(template)
    sequences = parts.choice(inside=False)
    if parts.left():
        raise BadTemplate(template, f"nothing opens before {parts.left()[0]!r}")
    return list(dict.fromkeys(sequence for sequence in sequences if sequence))


class _Parts:
    """A reader over one template's pieces."""

    def __init__(self, template: str) -> None:
        self._template = template
        self._pieces = list(self._split())
        self._at = 0

    def _split(self) -> Iterator[str]:
        for word, bracket, space, other in _PIECE.findall(self._template):
            if other:
                raise BadTemplate(self._template, f"unknown sign {other!r}")
            if not space:
                yield word or bracket

    def left(self) -> list[str]:
        return self._pieces[self._at :]

    def choice(self, *, inside: bool) -> list[tuple[str, ...]]:
        """Read alternatives up to a closing bracket or the end."""
        found = self._sequence()
        while self.left() and self.left()[0] == "|":
            if not inside:
                raise BadTemplate(self._template, "a choice needs brackets round it")
            self._at += 1
            found += self._sequence()
        return found

    def _sequence(self) -> list[tuple[str, ...]]:
        steps: list[list[tuple[str, ...]]] = []
        while self.left() and self.left()[0] not in {"|", ")", "]"}:
            piece = self._pieces[self._at]
            self._at += 1
            if piece in {"(", "["}:
                inner = self.choice(inside=True)
                if self.left()[:1] != [")" if piece == "(" else "]"]:
                    raise BadTemplate(self._template, f"{piece!r} is not closed")
                self._at += 1
                steps.append([*inner, ()] if piece == "[" else inner)
            else:
                steps.append([(piece,)])
        return [tuple(piece for step in combination for piece in step) for combination in product(*steps)]

"""Every question that the engine can put to a driver, read off its source texts."""

import ast
import itertools
import tomllib
from collections.abc import Iterator
from pathlib import Path

from assistant import securement

ENGINE = Path(securement.__file__).parent

# What stands at each place of a question that is put together: the words its expression can give.
WORDS = {
    "article.name": ("crate",),
    "name": ("coil", "crate", "bunk", "timber"),
    "long": ("crate",),
    "held": ("timbers", "wedges"),
    "kinds": ("chains", "straps"),
    "them": ("chains", "tiedowns"),
    "direct": ("", ", or do some hook to the article or come back to the same side"),
    "moving": ("moving forward", "moving back", "moving forward and back"),
    "ways": ("blocking, mats or tiedowns", "blocking or mats"),
    "what": ("7/8 in chain", "5 in strap", "5 in wire rope", "5 in nylon rope", "5 in steel strapping"),
    "many(blank.tiedown.kind)": ("chains", "straps", "wire ropes", "ropes", "steel straps"),
}
# A name that only some questions have: "How long is the crate", but "How many bunks does it rest on".
NAMED = {
    "How long": {"crate"},
    "What does": {"coil", "crate"},
    "Is the": {"crate", "coil"},
    "How many": {"bunk", "timber"},
}


def asked_by_the_engine() -> dict[str, str]:
    """Return every question with the file and line that asks it."""
    found: dict[str, str] = {}
    rows = tomllib.loads((ENGINE / "tables" / "observations.toml").read_text(encoding="utf-8"))["observation"]["values"]
    found |= {row["remedy"]: "observations.toml" for row in rows if row["remedy"].endswith("?")}
    for file in sorted(ENGINE.glob("*.py")):
        for node in _texts(ast.parse(file.read_text(encoding="utf-8"))):
            for text in _spelled(node):
                if text.endswith("?") and " " in text:
                    found.setdefault(text, f"{file.name}:{node.lineno}")
    return found


def _texts(node: ast.AST) -> Iterator[ast.Constant | ast.JoinedStr]:
    """Yield the string literals and f-strings of a module that are no docstring; parts of an f-string are none."""
    if isinstance(node, ast.JoinedStr) or (isinstance(node, ast.Constant) and isinstance(node.value, str)):
        yield node
        return
    for child in ast.iter_child_nodes(node):
        if not (isinstance(child, ast.Expr) and isinstance(child.value, ast.Constant)):
            yield from _texts(child)


def _spelled(node: ast.Constant | ast.JoinedStr) -> Iterator[str]:
    if isinstance(node, ast.Constant):
        yield str(node.value)
        return
    last = node.values[-1]
    if not (isinstance(last, ast.Constant) and str(last.value).endswith("?")):
        return
    lead = str(node.values[0].value) if isinstance(node.values[0], ast.Constant) else ""
    for words in itertools.product(*(_choices(part, lead) for part in node.values)):
        yield "".join(words)


def _choices(part: ast.expr, lead: str) -> tuple[str, ...]:
    if isinstance(part, ast.Constant):
        return (str(part.value),)
    value = part.value if isinstance(part, ast.FormattedValue) else part
    if isinstance(value, ast.IfExp):
        return (*_choices(value.body, lead), *_choices(value.orelse, lead))
    name = ast.unparse(value)
    allowed = (
        next((words for start, words in NAMED.items() if lead.startswith(start)), None) if name == "name" else None
    )
    assert name in WORDS, f"say in WORDS what can stand at {{{name}}} in a question"
    return tuple(word for word in WORDS[name] if allowed is None or word in allowed)

"""How words are told apart by their letters alone, where only an expression for each kind can be had.

The server colors a text that it has read (`tokens.py`). These expressions are for paper, and for an editor
before a server runs; they are made of the grammar, so that they have all its words and units. Of those that
match soonest on a row, the first one counts.
"""

from __future__ import annotations

import re
from typing import Any, Literal, NamedTuple

from wirecheck.drawing.colors import INSULATION
from wirecheck.language.grammar import keywords, parser
from wirecheck.language.words import FORMS

Shade = Literal["comment", "string", "join", "begin", "quantity", "word", "color", "inside", "name", "sign"]

INDENT = r"(^[ \t]*)"
"""What `begin` has before its word, a group of its own: only the first word of a row begins a statement."""
_SIZE = r"\d+(?:[ -]\d+\/\d+)?[ \t]*x[ \t]*\d"
_QUANTITIES = (
    ("", "VOLTAGES", ""),
    (f"(?!{_SIZE})", "AMOUNT", "(?!/)"),
    ("", "CORES", ""),
    ("", "DIMENSIONS", ""),
)
"""In the order in which they are tried, each with what tells it from those after it."""
_ENDS = r"(?![A-Za-z0-9_.-])"
_PIECE = r"[A-Za-z0-9_]+(?:-[A-Za-z0-9_]+)*"
_OF_A_NAME = r"(?![ \t]+(?:--|(?:is|marked|goes|senses|costs)\b))"
"""What follows no word that begins a statement, but a thing that has such a name: `load -- LP.3`."""


class Expression(NamedTuple):
    """What a kind of word looks like; `begin` has two groups, the second of which is the word."""

    shade: Shade
    pattern: str


def words() -> frozenset[str]:
    """The words of the language.

    >>> {"board", "marked", "faults"} <= words(), "black" in words()
    (True, False)
    """
    return frozenset(word for word in keywords().values() if word.isalpha()) | frozenset(FORMS)


def begins() -> frozenset[str]:
    """The words that begin a statement.

    >>> "cable" in begins(), "from" in begins()
    (True, False)
    """
    known = keywords()
    interactive: Any = parser().parse_interactive("")
    accepted = interactive.accepts()
    named = frozenset(known[name] for name in accepted if name in known)
    return (named | frozenset(FORMS)) - {"pigtail"}


def expressions() -> tuple[Expression, ...]:
    """What each kind of word looks like, in the order in which they are tried.

    Examples
    --------
    >>> import re
    >>> [one.shade for one in expressions() if re.match(one.pattern, "15 A")]
    ['quantity', 'name']
    """
    patterns = {terminal.name: terminal.pattern.value for terminal in parser().terminals}
    quantities = "|".join(
        f"{before}(?:{_uncounted(patterns[name])}){after}" for before, name, after in _QUANTITIES
    )
    first = f"{_any(begins())}|{patterns['ARTICLE']}"
    return (
        Expression("comment", r"#[^\n]*"),
        Expression("string", r'"[^"\n]*"?'),
        Expression("join", "--"),
        Expression("begin", f"{INDENT}({first}){_ENDS}{_OF_A_NAME}"),
        Expression("quantity", rf"(?<![\w.])(?:{quantities})"),
        Expression("word", rf"(?<!\.)(?:{_any(words())}){_ENDS}"),
        Expression("color", rf"(?:{_any(INSULATION)}){_ENDS}"),
        Expression("inside", rf"(?<=\.){_PIECE}"),
        Expression("name", _PIECE),
        Expression("sign", r"[,().]"),
    )


def _any(of: frozenset[str] | dict[str, str]) -> str:
    return "|".join(sorted(of))


def _uncounted(pattern: str) -> str:
    """An expression whose groups keep nothing."""
    return re.sub(r"(?<!\\)\((?!\?)", "(?:", pattern)

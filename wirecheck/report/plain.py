"""Text from a file made fit to be shown: a student's file is a stranger's file."""

from __future__ import annotations

import unicodedata
from typing import NamedTuple

from wirecheck.language.syntax import Span

WIDEST = 96
"""Columns of a shown line; a longer one is cut down to the part that matters."""

_HIDDEN = ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")
# Letters by their class that show nothing: the Hangul fillers and the blank of Braille.
_BLANK = "\u115f\u1160\u3164\uffa0\u2800"
# No language puts more marks on a letter; a pile of them covers the lines above and below.
_MOST_MARKS = 3


def plain(text: str) -> str:
    r"""Text in which nothing moves the cursor, hides, covers or runs right to left by command.

    Each such character becomes one visible character, so that columns stay.

    >>> plain("red\x1b[31m\tblack\u202e")
    'red\ufffd[31m black\ufffd'
    """
    if text.isascii() and text.isprintable():
        return text
    shown = []
    marks = 0
    for char in text:
        marks = marks + 1 if unicodedata.combining(char) else 0
        hidden = marks > _MOST_MARKS or _hidden(char)
        shown.append(" " if char == "\t" else "\N{REPLACEMENT CHARACTER}" if hidden else char)
    return "".join(shown)


class Excerpt(NamedTuple):
    """A line of the file, and the marks that go under it."""

    line: str
    marks: str


def excerpt(text: str, span: Span) -> Excerpt | None:
    """The line where a span begins, with a mark under each of its columns there.

    `None` where the file has no such line. Wide characters get two marks.

    >>> excerpt("breaker LP.3 20 A", Span(1, 14, 1, 18))
    Excerpt(line='breaker LP.3 20 A', marks='             ^^^^')
    """
    lines = _lines(text, span.line)
    if lines is None:
        return None
    start = max(span.column - 1, 0)
    stop = span.end_column - 1 if span.end_line == span.line else len(lines.rstrip())
    stop = max(min(stop, len(lines)), start + 1)
    first = 0 if stop <= WIDEST else max(start - WIDEST // 4, 0)
    shown = lines[first : first + WIDEST]
    before, after = ("..." if first else ""), ("..." if first + WIDEST < len(lines) else "")
    gap = len(before) + _columns(plain(shown[: start - first]))
    marks = max(_columns(plain(shown[start - first : stop - first])), 1)
    return Excerpt(before + plain(shown).rstrip() + after, " " * gap + "^" * marks)


def _lines(text: str, number: int) -> str | None:
    """One line of a text, found without splitting the whole of it."""
    start = 0
    for _ in range(number - 1):
        start = text.find("\n", start) + 1
        if start == 0:
            return None
    stop = text.find("\n", start)
    return text[start : stop if stop >= 0 else len(text)].rstrip("\r")


def _hidden(char: str) -> bool:
    return unicodedata.category(char) in _HIDDEN or char in _BLANK


def _columns(text: str) -> int:
    if text.isascii():
        return len(text)
    return sum(
        0 if unicodedata.combining(char) else 2 if unicodedata.east_asian_width(char) in "WF" else 1
        for char in text
    )

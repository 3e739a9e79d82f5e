"""A file laid out in one standard way: `tidy`.

What it says stays the same, and so does every comment. Joins stand under their
place, one space is between words, and lines that hold mistakes are left alone.
"""

from __future__ import annotations

import re
from typing import Any

from wirecheck.language.quantity import spaced
from wirecheck.language.reader import MOST_PROBLEMS, comment_begins, read
from wirecheck.language.saying import saying
from wirecheck.language.syntax import (
    AtStatement,
    BoardTitle,
    CapStatement,
    ExerciseTitle,
    FaultsTitle,
    FoundTitle,
    JoinStatement,
    PartTitle,
    Statement,
)

_INSIDE = "  "
_SPACE = " \t\f"
_FURTHER = "  "

_QUOTED = re.compile(r'("[^"]*")')
_SIGNS = (
    (re.compile(r"[ \t\f]+"), " "),
    (re.compile(r" ?-- ?"), " -- "),
    (re.compile(r" ?,"), ","),
    (re.compile(r",(?! |$)"), ", "),
    (re.compile(r" ?\( ?"), " ("),
    (re.compile(r" \)"), ")"),
    (re.compile(r"\)(?=\w)"), ") "),
)


class NotOurs(ValueError):
    """A text that is no board and no part, or of which something would be lost; the message says which."""


def file_tidied(text: str) -> str:
    r"""What a file holds, in the standard layout, where it may be put in the place of what it held before.

    A board with mistakes may, as long as more of it is understood than not.

    Raises
    ------
    NotOurs
        The file is better left as it is.

    Examples
    --------
    >>> file_tidied('all: test\n\npython -m build')
    Traceback (most recent call last):
    wirecheck.language.tidy.NotOurs: it is no board and no part
    """
    syntax = read(text)
    if text and not syntax.text:
        raise NotOurs(syntax.problems[0].message)
    if len(syntax.problems) > MOST_PROBLEMS:
        raise NotOurs(f"it has more than {MOST_PROBLEMS} mistakes")
    titled = any(
        isinstance(statement, BoardTitle | ExerciseTitle | FaultsTitle | FoundTitle | PartTitle)
        for statement in syntax.statements
    )
    if not syntax.statements or (syntax.problems and not titled):
        raise NotOurs("it is no board and no part")
    if len(syntax.problems) >= len(syntax.statements):
        raise NotOurs("more of it is mistakes than is understood")
    tidied = tidy(text)
    again = read(tidied)
    same = [meaning(each) for each in again.statements] == [meaning(each) for each in syntax.statements]
    if not same or _letters(tidied) != _letters(text):
        raise NotOurs("it cannot be laid out without a change in what it says")
    return tidied


def _letters(text: str) -> str:
    """A text without its spaces, which is all that may change in it."""
    return "".join(text.removeprefix("\ufeff").split())


def tidy(text: str) -> str:
    """A board or part file in the standard layout.

    A line with a mistake is left as it is, and so is a file with more mistakes than are read.

    >>> print(tidy('at  A\\nW1.black--S1.common   #feed\\n\\n\\n   breaker LP.3   15A'), end="")
    at A
      W1.black -- S1.common  #feed
    <BLANKLINE>
    breaker LP.3 15 A
    """
    syntax = read(text)
    if len(syntax.problems) > MOST_PROBLEMS or (text and not syntax.text):
        return text
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    wrong = {problem.span.line for problem in syntax.problems}
    begins = {
        statement.span.line: statement
        for statement in syntax.statements
        if wrong.isdisjoint(range(statement.span.line, statement.span.end_line + 1))
    }
    laid: list[str] = []
    comments: list[str] = []
    number, under_place = 1, False
    while number <= len(lines):
        line = lines[number - 1].strip()
        statement = begins.get(number)
        if statement is None and (not line or line[0] == "#") and number not in wrong:
            comments.append(line)
            number += 1
            continue
        if statement is None:
            laid += [*comments, lines[number - 1]]
            number += 1
        else:
            under_place = _under_place(statement, under_place)
            indent = _INSIDE if under_place and not isinstance(statement, AtStatement) else ""
            last = statement.span.end_line
            laid += [indent + comment if comment else "" for comment in comments]
            laid += _statement(lines[number - 1 : last], indent, statement)
            number = last + 1
        comments = []
    return _blank_lines([*laid, *comments])


def _under_place(statement: Statement, before: bool) -> bool:
    """Whether a statement begins or goes on with the make-up inside a place."""
    if isinstance(statement, AtStatement):
        return True
    return before and isinstance(statement, (JoinStatement, CapStatement))


def _statement(lines: list[str], indent: str, statement: Statement) -> list[str]:
    """The lines of one statement, laid out; as they are, where that would change what they say."""
    for change in (spaced, str):
        laid = [
            (indent if number == 0 else indent + _FURTHER) + _line(line.strip(), change)
            for number, line in enumerate(lines)
        ]
        again = read("\n".join(laid))
        if not again.problems and [meaning(each) for each in again.statements] == [meaning(statement)]:
            return laid
    return lines


def _line(line: str, change: Any) -> str:
    """One line with its spaces in order, and two before its comment."""
    column = comment_begins(line)
    code, comment = line[:column], line[column:]
    pieces = _QUOTED.split(code)
    for place in range(0, len(pieces), 2):
        piece = pieces[place]
        for sign, standard in _SIGNS:
            piece = sign.sub(standard, piece)
        pieces[place] = change(piece)
    for place in range(1, len(pieces), 2):
        # Words in quotes stand between spaces.
        pieces[place - 1] = pieces[place - 1].rstrip() + " "
        pieces[place + 1] = re.sub(r"^(?=[^ ,])", " ", pieces[place + 1])
    code = "".join(pieces).strip()
    return f"{code}  {comment}" if code and comment else code + comment


def _blank_lines(lines: list[str]) -> str:
    """Lines as a text: no blank line at either end, and never two together."""
    kept: list[str] = []
    for line in lines:
        # A character that cannot be seen is a mistake, and no blank line.
        blank = not line.strip(_SPACE)
        if not blank or (kept and kept[-1]):
            kept.append("" if blank else line)
    while kept and not kept[-1]:
        kept.pop()
    return "\n".join([*kept, ""]) if kept else ""


def meaning(value: Any) -> Any:
    """What a statement says, without its places in the text."""
    return saying(value, quantity=lambda one: (one.value, one.dimension, one.text))

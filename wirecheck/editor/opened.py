"""A text that is open in an editor, read as far as it can be."""

from __future__ import annotations

from typing import NamedTuple

from wirecheck.assembly import MOST_STATEMENTS
from wirecheck.language.mentions import Mention, mentions, rows
from wirecheck.language.reader import read
from wirecheck.language.syntax import (
    ExerciseTitle,
    FaultsTitle,
    FoundTitle,
    PartTitle,
    Syntax,
)
from wirecheck.model.board import Board
from wirecheck.model.build import build
from wirecheck.parts.library import Library


class Opened(NamedTuple):
    """`rows` are those of the text as the editor has it, `syntax` what could be read of it.

    `board` is None where the text is of another kind, or larger than a board can be.
    """

    rows: list[str]
    syntax: Syntax
    board: Board | None
    mentions: tuple[Mention, ...]
    library: Library


def opened(text: str, file: str, library: Library) -> Opened:
    """Read a text.

    Examples
    --------
    >>> from wirecheck.assembly import shipped_parts
    >>> shed = opened('board "Shed"\\npanel LP 120 V\\nbreaker', "shed.wire", shipped_parts())
    >>> shed.board.panels["LP"].system, len(shed.syntax.problems)
    ('120', 1)
    """
    syntax = read(text, file)
    first = syntax.statements[0] if syntax.statements else None
    other = isinstance(first, PartTitle | ExerciseTitle | FaultsTitle | FoundTitle)
    board = None if other or len(syntax.statements) > MOST_STATEMENTS else build(syntax, library)
    return Opened(rows(text), syntax, board, mentions(syntax), library)

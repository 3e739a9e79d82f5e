"""wirecheck: a board in text, checked and drawn.

This page is the whole way of a board, from text to report:

>>> report = check('board "Nothing on it yet"')
>>> report.board
'Nothing on it yet'
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from wirecheck.judge.finding import Stage
    from wirecheck.language.syntax import Syntax
    from wirecheck.model.board import Board
    from wirecheck.parts.library import Library
    from wirecheck.report.report import Report

__version__ = "0.1.0"

MOST_STATEMENTS = 120_000
"""The most statements of a board: some 5,000 rooms, and a minute of work."""


class NotABoard(ValueError):
    """A text that holds no board; the message says what was seen."""


def check(
    text: str | bytes, file: str = "-", library: Library | None = None, stage: Stage = "final"
) -> Report:
    """Everything that is wrong with a board, as far as it is built.

    Parameters
    ----------
    text: the board, in the language of grammar/board.lark; bytes are taken as UTF-8.
    file: its name, for the report.
    library: where parts are looked up; the parts that ship, where none is given.
    stage: how far the board is built; what belongs to a later stage is not asked of it.

    Raises
    ------
    NotABoard: the text is of another kind.
    """
    # Imported here, so that `import wirecheck` and the other commands stay quick.
    from wirecheck.findings import findings
    from wirecheck.judge.case import Case
    from wirecheck.report.report import Report

    syntax, board = assemble(text, file, library)
    case = Case(board)
    return Report(file, board.title, syntax.text, findings(case, stage))


def assemble(text: str | bytes, file: str = "-", library: Library | None = None) -> tuple[Syntax, Board]:
    """What a text says, and the board that it describes; what cannot be understood is in their problems.

    Raises
    ------
    NotABoard: the text is of another kind.

    >>> assemble('board "Nothing on it yet"')[1].title
    'Nothing on it yet'
    """
    from wirecheck.language.reader import read
    from wirecheck.model.build import build

    syntax = read(text, file)
    refuse_other_files(syntax)
    if len(syntax.statements) > MOST_STATEMENTS:
        raise NotABoard(
            f"it has {len(syntax.statements)} statements, and a board has {MOST_STATEMENTS} at most: "
            "divide it into several"
        )
    return syntax, build(syntax, library or shipped_parts())


def shipped_parts() -> Library:
    """The library of the parts that travel with the package."""
    from wirecheck import files
    from wirecheck.parts.library import Library

    return Library(files.part_text, files.part_names)


def refuse_other_files(syntax: Syntax) -> None:
    """Raise `NotABoard` where a file is a part, or is mostly something else than this language.

    >>> from wirecheck.language.reader import read
    >>> refuse_other_files(read('part lamp "A lamp"'))
    Traceback (most recent call last):
    wirecheck.NotABoard: it is a part, not a board
    """
    from wirecheck.language.syntax import BoardTitle, PartTitle

    if syntax.statements and isinstance(syntax.statements[0], PartTitle):
        raise NotABoard("it is a part, not a board")
    titled = any(isinstance(statement, BoardTitle) for statement in syntax.statements)
    if not titled and len(syntax.problems) >= len(syntax.statements):
        if not syntax.problems:
            raise NotABoard("there is nothing in it")
        first = syntax.problems[0]
        raise NotABoard(f"no board is begun in it, and on line {first.span.line} {first.message}")

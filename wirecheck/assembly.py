"""From what a caller gives to a board: its text found, held to its bounds, read, and built."""

from __future__ import annotations

import functools
import os
from pathlib import Path
from typing import NamedTuple

from wirecheck import files, inputs
from wirecheck.arguments import WrongArgument
from wirecheck.language import reader
from wirecheck.language.syntax import BoardTitle, ExerciseTitle, FaultsTitle, FoundTitle, PartTitle, Syntax
from wirecheck.model.board import Board
from wirecheck.model.build import build
from wirecheck.parts.folder import PartFolder
from wirecheck.parts.library import Library

MOST_STATEMENTS = 120_000
"""The most statements of a board: some 5,000 rooms, and a minute of work."""


WORD_PROCESSED = ("{\\rtf", "PK\ufffd")
"""What files of rich text begin with, and packed ones, whose next characters cannot be printed."""


class NotABoard(ValueError):
    """A text that holds no board; the message says what was seen."""


class PartlyRead(UserWarning):
    """Not all of a board could be read, and what is worked out of it leaves the rest out."""


class Source(NamedTuple):
    """The text of a board, what its file is called, and where its parts are looked up."""

    text: str | bytes
    file: str
    library: Library


def source(board: str | bytes | os.PathLike[str], file: str | None, library: Library | None) -> Source:
    """The text that a caller means: itself, or what is in the file of a path.

    Raises
    ------
    WrongArgument
        It is a path that looks like a text, or neither.
    OSError
        The file cannot be read.

    Examples
    --------
    >>> source("boards/demo.wire", None, None)
    Traceback (most recent call last):
    wirecheck.arguments.WrongArgument: boards/demo.wire is a path: call check_file, or give it as pathlib.Path
    """
    name = inputs.as_text(file) if file else None
    if isinstance(board, os.PathLike):
        path = os.fspath(board)
        return Source(inputs.read_board(path), name or inputs.shown_path(path), library_beside(path, library))
    if not isinstance(board, str | bytes):
        raise WrongArgument(f"a board is its text, or a pathlib.Path, and this is {board!r}")
    if isinstance(board, str) and _like_a_path(board):
        raise WrongArgument(f"{board} is a path: call check_file, or give it as pathlib.Path")
    return Source(board, name or "-", library or shipped_parts())


def path_of(path: str | os.PathLike[str]) -> Path:
    """The path that a caller means.

    Raises
    ------
    WrongArgument
        It is the text of a board.

    Examples
    --------
    >>> path_of('board "Shed"\\npanel LP 120 V')
    Traceback (most recent call last):
    wirecheck.arguments.WrongArgument: this is the text of a board, not a path: call check
    """
    if not isinstance(path, str | os.PathLike):
        raise WrongArgument(f"a path is a string or a pathlib.Path, and this is {path!r}")
    if isinstance(path, str) and not _like_a_path(path) and ("\n" in path or '"' in path):
        raise WrongArgument("this is the text of a board, not a path: call check")
    return Path(path)


def _like_a_path(text: str) -> bool:
    """Whether a text is one word, or a line that ends like a board's file: no board is so short."""
    line = text.strip()
    return bool(line) and "\n" not in line and (len(line.split()) == 1 or line.endswith(".wire"))


def read(text: str | bytes, file: str = "-") -> Syntax:
    """What a text says, as far as it can be understood; the rest is in its problems.

    Raises
    ------
    NotABoard
        It is a part, mostly something else than this language, or larger than a board can be.

    Examples
    --------
    >>> read('part lamp "A lamp"')
    Traceback (most recent call last):
    wirecheck.assembly.NotABoard: it is a part, not a board
    """
    syntax = reader.read(text, file)
    need_board(syntax)
    return syntax


def need_board(syntax: Syntax) -> None:
    """Nothing, where what was read is a board.

    Raises
    ------
    NotABoard
        As of `read`.
    """
    if syntax.statements and isinstance(syntax.statements[0], PartTitle):
        raise NotABoard("it is a part, not a board")
    if syntax.statements and isinstance(syntax.statements[0], ExerciseTitle):
        raise NotABoard("it is an exercise, not a board: wirecheck grade takes it")
    if syntax.statements and isinstance(syntax.statements[0], FaultsTitle):
        raise NotABoard("it is a list of faults, not a board: --faults takes it")
    if syntax.statements and isinstance(syntax.statements[0], FoundTitle):
        raise NotABoard("it is a report of what was found, not a board: wirecheck diagnose takes it")
    titled = any(isinstance(statement, BoardTitle) for statement in syntax.statements)
    if not titled and len(syntax.problems) >= len(syntax.statements):
        if not syntax.problems:
            raise NotABoard("there is nothing in it")
        if syntax.text.startswith(WORD_PROCESSED):
            raise NotABoard(
                "no board is begun in it: it is the file of a word processor, with more in it than is seen; "
                "save it as plain text"
            )
        first = syntax.problems[0]
        advice = f": {first.help}" if first.help else ""
        raise NotABoard(f"no board is begun in it, and on line {first.span.line} {first.message}{advice}")
    if len(syntax.statements) > MOST_STATEMENTS:
        raise NotABoard(
            f"it has {len(syntax.statements)} statements, and a board has {MOST_STATEMENTS} at most: "
            "divide it into several"
        )


def assemble(text: str | bytes, file: str = "-", library: Library | None = None) -> tuple[Syntax, Board]:
    """What a text says, and the board that it describes; what cannot be understood is in their problems.

    Raises
    ------
    NotABoard
        The text is of another kind.

    Examples
    --------
    >>> assemble('board "Nothing on it yet"')[1].title
    'Nothing on it yet'
    """
    syntax = read(text, file)
    return syntax, build(syntax, library or shipped_parts())


def left_out(board: Board, file: str) -> str:
    r"""The sentence that not all of a board could be read, or nothing where all of it was.

    >>> left_out(assemble('board "Shed"\npanel LP 120')[1], "shed.wire")
    'not all of shed.wire could be read, and the rest is left out. The first mistake is on line 2: ...'
    """
    if not board.problems:
        return ""
    first = board.problems[0]
    return (
        f"not all of {file} could be read, and the rest is left out. The first mistake is on line "
        f"{first.span.line}: {first.message}"
    )


@functools.cache
def shipped_parts() -> Library:
    """The library of the parts that travel with the package."""
    return Library(files.part_text, files.part_names, words=files.part_words)


def parts_of(folder: str | os.PathLike[str]) -> Library:
    """The parts of a folder of one's own, and after them those that ship.

    A part is in the file of its name. It comes before a shipped part of the same name, and every report
    lists it with its file. Give the library to `check` and the others as `library`.

    Raises
    ------
    OSError
        There is no such folder, or it cannot be listed.

    Examples
    --------
    >>> parts_of("boards/no-such-folder")
    Traceback (most recent call last):
    FileNotFoundError: [Errno 2] No such file or directory: 'boards/no-such-folder'
    """
    path = os.fspath(folder)
    inputs.need_folder(path or os.curdir)
    own = PartFolder(path, beside=False, most=inputs.MOST_BYTES)
    return Library(
        lambda name: own.find(name) or files.part_text(name),
        lambda: [*own.names(), *files.part_names()],
        words=files.part_words,
    )


def library_beside(path: str | os.PathLike[str], first: Library | None = None) -> Library:
    """The library of a board in a file: the parts that ship, or those of `first`, and then its folder's own.

    A part beside the board never takes the name of one that comes before it.
    """
    own = PartFolder(os.path.dirname(path), beside=True)
    return Library(own.find, own.names, first or shipped_parts(), own.taken)

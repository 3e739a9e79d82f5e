"""What the user names on the command line: files, folders, standard input."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable
from typing import IO, Any, NamedTuple

import click

from wirecheck import files
from wirecheck.assembly import library_beside
from wirecheck.parts.library import Library


class Unreadable(click.ClickException):
    """A file that cannot be read, written, or taken for what it should be."""

    exit_code = 2

    def show(self, file: IO[Any] | None = None) -> None:
        """Say it where errors are said."""
        from wirecheck.report.plain import plain

        click.echo(f"wirecheck: {plain(self.message)}", err=True)


class Named(NamedTuple):
    """A file to read; `asked` where the user named it, and not just its folder."""

    path: str
    asked: bool


def named(paths: Iterable[str], complain: Callable[[Unreadable], None]) -> list[Named]:
    """The files that paths stand for, each once: a folder is every `.wire` file in it."""
    files_named: dict[str, Named] = {}
    for path in paths:
        if path != "-" and os.path.isdir(path):
            try:
                inside = [str(each) for each in files.boards_in(path)]
            except OSError as error:
                complain(unreadable(path, error))
                continue
            if not inside:
                complain(Unreadable(f"{path} has no .wire file in it."))
            for each in inside:
                files_named.setdefault(os.path.normpath(each), Named(each, asked=False))
        else:
            place = os.path.normpath(path)
            files_named[place] = files_named.get(place, Named(path, asked=True))._replace(asked=True)
    return list(files_named.values())


def content(path: str) -> bytes:
    """A file's bytes, or those of standard input for `-`."""
    try:
        if path == "-":
            return sys.stdin.buffer.read(files.MOST_BYTES + 1)
        return files.read_board(path)
    except (OSError, ValueError) as error:
        raise unreadable(path, error) from error


def write(path: str, data: str | bytes) -> None:
    """Write a file whole or not at all; `-` is standard output."""
    content = data.encode() if isinstance(data, str) else data
    if path == "-":
        sys.stdout.flush()
        sys.stdout.buffer.write(content)
        return
    try:
        files.write_whole(path, content)
    except (OSError, ValueError) as error:
        raise Unreadable(f"{path} cannot be written: {_reason(error)}. Nothing was changed.") from error


class Shelf:
    """The libraries of the folders that boards were read from, each made once."""

    def __init__(self) -> None:
        self._libraries: dict[str, Library] = {}

    def beside(self, path: str) -> Library:
        """The shipped parts, and before them the user's own in the folder of that file; - is read here."""
        folder = os.path.dirname(path) if path != "-" else ""
        if folder not in self._libraries:
            self._libraries[folder] = library_beside(path)
        return self._libraries[folder]


def unreadable(path: str, error: OSError | ValueError) -> Unreadable:
    """The complaint about a file that could not be read."""
    return Unreadable(f"{path} cannot be read: {_reason(error)}.")


def _reason(error: OSError | ValueError) -> str:
    reasons: dict[type, str] = {
        FileNotFoundError: "there is no such file or folder",
        IsADirectoryError: "it is a folder",
        NotADirectoryError: "part of its path is not a folder",
        PermissionError: "you do not have permission",
    }
    return reasons.get(type(error)) or str(getattr(error, "strerror", None) or error)


def shown_path(path: str) -> str:
    r"""A path as text: bytes that are no UTF-8, which a file's name may hold, are replaced.

    >>> shown_path("stair\udcff.wire")
    'stair\ufffd.wire'
    """
    return path.encode("utf-8", "surrogateescape").decode("utf-8", "replace")

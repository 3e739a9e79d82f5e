"""What the user names on the command line: files, folders, standard input."""

from __future__ import annotations

import errno
import functools
import os
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import IO, Any, NamedTuple

import click

from wirecheck import files, whole
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
    """The files that paths stand for, each once: a folder is every `.wire` file in it.

    What is in a folder and not of it, such as a link that leads out, is said and passed over.
    """
    files_named: dict[str, Named] = {}
    for path in paths:
        if path != "-" and os.path.isdir(path):
            refused: list[OSError] = []
            inside = list(files.boards_in(path, refused.append, passed_over))
            for error in refused:
                complain(unreadable(str(error.filename), error))
            if not inside and not refused:
                complain(Unreadable(f"{path} has no .wire file in it."))
            for each in inside:
                files_named.setdefault(os.path.normpath(each), Named(each, asked=False))
        else:
            place = os.path.normpath(path)
            files_named[place] = files_named.get(place, Named(path, asked=True))._replace(asked=True)
    return list(files_named.values())


def passed_over(path: str, why: str) -> None:
    """Say that something in a folder is not read for it."""
    from wirecheck.report.plain import plain

    click.echo(f"wirecheck: {plain(f'{path} is passed over: {why}')}.", err=True)


def content(path: str) -> bytes:
    """A file's bytes, or those of standard input for `-`."""
    try:
        if path == "-":
            return sys.stdin.buffer.read(files.MOST_BYTES + 1)
        return files.read_board(path)
    except (OSError, ValueError) as error:
        raise unreadable(path, error) from error


def spare(output: str | None, inputs: Iterable[str]) -> None:
    """Refuse an output that would land on an input, however it is spelled, or on a part beside one."""
    if output is None or output == "-":
        return
    with _written(output):
        whole.refuse_board(output)
        there = files.identity(output)
    if there and any(there in files.read_with(path) for path in inputs):
        raise Unreadable(
            f"{output} is read by this command, and was left as it is. Name another file for the output."
        )


def write(path: str, data: str | bytes) -> None:
    """Write an output whole or not at all; `-` is standard output."""
    content = data.encode() if isinstance(data, str) else data
    sys.stdout.flush()
    if path == "-":
        sys.stdout.buffer.write(content)
        return
    with _written(path):
        whole.put_out(path, content)


def rewrite(path: str, text: str) -> None:
    """Put a new text in a board's file, whole or not at all."""
    with _written(path):
        whole.write_whole(path, text.encode())


@contextmanager
def _written(path: str) -> Iterator[None]:
    """Say in a sentence what kept a file from being written; a reader that left needs none."""
    try:
        yield
    except BrokenPipeError:
        raise
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


@functools.cache
def shelf() -> Shelf:
    """The libraries of a process that works on many files: it reads the parts of a folder once."""
    return Shelf()


def unreadable(path: str, error: OSError | ValueError) -> Unreadable:
    """The complaint about a file that could not be read."""
    return Unreadable(f"{path} cannot be read: {_reason(error)}.")


_REASONS = {
    errno.ENOENT: "there is no such file or folder",
    errno.EISDIR: "it is a folder",
    errno.ENOTDIR: "part of its path is not a folder",
    errno.EACCES: "you do not have permission",
    errno.EPERM: "you do not have permission",
    errno.EROFS: "it is on a disk that can only be read",
    errno.ENOSPC: "the disk is full",
    errno.ELOOP: "its links lead in a circle",
    errno.ENAMETOOLONG: "its name is too long",
}


def _reason(error: OSError | ValueError) -> str:
    number = error.errno if isinstance(error, OSError) else None
    return _REASONS.get(number or 0) or str(getattr(error, "strerror", None) or error)


def shown_path(path: str) -> str:
    r"""A path as text: bytes that are no UTF-8, which a file's name may hold, are replaced.

    >>> shown_path("stair\udcff.wire")
    'stair\ufffd.wire'
    """
    return path.encode("utf-8", "surrogateescape").decode("utf-8", "replace")

"""What the user names on the command line: files, folders, standard input."""

from __future__ import annotations

import functools
import os
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from itertools import islice
from pathlib import Path
from typing import IO, Any, NamedTuple, TypeVar

import click

from wirecheck import inputs, whole
from wirecheck.assembly import library_beside, parts_of, shipped_parts
from wirecheck.language.words import nearest
from wirecheck.parts.library import Library

Command = TypeVar("Command", bound=Callable[..., Any])


# So many files of a folder are looked at for the one that was meant.
MOST_BESIDE = 1000

PATH = click.Path(readable=False)
"""What names a file or a folder on the command line; what is wrong with it is said when it is opened."""


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


def named(
    paths: Iterable[str],
    complain: Callable[[Unreadable], None],
    other: Callable[[str], None] = lambda path: None,
) -> list[Named]:
    """The files that paths stand for, each once: a folder is every `.wire` file in it.

    What is in a folder and not of it, such as a link that leads out, is said and passed over. `other` is
    told of the files in a folder whose names end in something else.
    """
    files_named: dict[str, Named] = {}
    for path in paths:
        if path != "-" and os.path.isdir(path):
            refused: list[OSError] = []
            inside = list(inputs.boards_in(path, refused.append, passed_over, other))
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
            return sys.stdin.buffer.read(inputs.MOST_BYTES + 1)
        return inputs.read_board(path)
    except (OSError, ValueError) as error:
        raise unreadable(path, error) from error


def spare(output: str | None, read: Iterable[str], own: str | None = None) -> None:
    """Refuse an output that would land on a file that is read, however it is spelled, or on a part."""
    if output is not None and output != "-":
        spare_each([output], read, own)


def spare_each(outputs: Iterable[str], read: Iterable[str], own: str | None = None) -> None:
    """The same for several outputs of one run."""
    places = [*read, *([os.path.join(own, "")] if own else [])]
    known = inputs.read_with(places)
    for output in outputs:
        with _written(output):
            whole.refuse_board(output)
            there = inputs.identity(output)
        if there in known:
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


def make_folder(path: str) -> None:
    """Make the folder that outputs go to, where there is none."""
    try:
        os.makedirs(path, exist_ok=True)
    except OSError as error:
        raise Unreadable(f"{path} cannot be made: {inputs.reason(error)}.") from error


@contextmanager
def _written(path: str) -> Iterator[None]:
    """Say in a sentence what kept a file from being written; a reader that left needs none."""
    try:
        yield
    except BrokenPipeError:
        raise
    except (OSError, ValueError) as error:
        raise Unreadable(f"{path} cannot be written: {inputs.reason(error)}. Nothing was changed.") from error


def parts_option(function: Command) -> Command:
    """The option `--parts`, given to the command as `own`."""
    return click.option(
        "--parts",
        "own",
        metavar="FOLDER",
        type=click.Path(exists=True, file_okay=False),
        help="A folder of your own parts. They come before those that ship.",
    )(function)


class Shelf:
    """Where a run looks parts up: in the folder of `--parts`, among those that ship, beside each board."""

    def __init__(self, own: str | None = None) -> None:
        self._own = own
        self._first: Library | None = None

    def first(self) -> Library:
        """The parts that come first for every board of the run; what is read of them is kept."""
        if self._first is None:
            try:
                self._first = shipped_parts() if self._own is None else parts_of(self._own)
            except OSError as error:
                raise unreadable(str(self._own), error) from error
        return self._first

    def beside(self, path: str) -> Library:
        """The library of the board in a file; that of - lies in the current folder."""
        return library_beside(path if path != "-" else "", self.first())


@functools.cache
def shelf(own: str | None) -> Shelf:
    """Where a process that works on many files looks parts up: it reads those that come first once."""
    return Shelf(own)


def unreadable(path: str, error: OSError | ValueError) -> Unreadable:
    """The complaint about a file that could not be read, with the near one where it is not there."""
    near = _near(path) if isinstance(error, FileNotFoundError) else None
    meant = f" Did you mean {near}?" if near else ""
    return Unreadable(f"{path} cannot be read: {inputs.reason(error)}.{meant}")


def _near(path: str) -> str | None:
    """The file that was meant: of the same name and more, as an editor adds `.txt`, or misspelt."""
    asked = Path(path)
    try:
        with os.scandir(asked.parent) as going:
            there = sorted(one.name for one in islice(going, MOST_BESIDE) if one.name[0] != ".")
    except (OSError, ValueError):
        return None
    begun = {Path(one).stem: one for one in there}
    # A record `stair.db` is not what was meant by `stair.wire`.
    alike = [one for one in there if not asked.suffix or nearest(asked.suffix, [Path(one).suffix])]
    stems = {Path(one).stem: one for one in alike}
    near = begun.get(asked.name) or stems.get(nearest(asked.stem, stems) or "")
    return near and str(asked.with_name(near))

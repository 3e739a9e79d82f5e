"""The one place that opens files: what travels with the package, and what the user names.

Everything else takes text and gives text back, so that it runs in a web page,
an editor or a pool of workers unchanged.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

MOST_BYTES = 16_000_000
"""No board is near this size; a larger file is refused before it is read."""

_HERE = Path(__file__).resolve().parent


class Unreadable(Exception):
    """A file that cannot be read or written; the text says which, why, and what to do."""


def folder(name: str) -> Path:
    """A folder that travels with the package: `grammar`, `boards`, `parts` or `tables`.

    In an installed package it lies inside; in a clone, `grammar` and `boards`
    lie beside it.

    >>> (folder("grammar") / "board.lark").is_file()
    True
    """
    inside = _HERE / name
    return inside if inside.is_dir() else _HERE.parent / name


def shipped(name: str, file: str) -> str:
    """The text of a file that travels with the package.

    >>> shipped("grammar", "board.lark").startswith("//")
    True
    """
    return (folder(name) / file).read_text(encoding="utf-8")


def read(path: str | os.PathLike[str]) -> str:
    """The text of a file that the user names.

    Raises
    ------
    Unreadable: it is missing, a folder, larger than `MOST_BYTES`, or not UTF-8.
    """
    try:
        with open(path, "rb") as source:
            data = source.read(MOST_BYTES + 1)
    except OSError as error:
        raise Unreadable(f"{os.fspath(path)} cannot be read: {_reason(error)}.") from error
    except ValueError as error:
        raise Unreadable(f"{os.fspath(path)!r} cannot be the name of a file.") from error
    return text_of(data, os.fspath(path))


def text_of(data: bytes, name: str) -> str:
    r"""Bytes as text, without a byte-order mark; line ends are left as they are.

    Raises
    ------
    Unreadable: the bytes are too many, or they are not UTF-8.

    >>> text_of(b"\xef\xbb\xbfboard", "stair.wire")
    'board'
    >>> text_of(b"box A\nbox \xff", "stair.wire")
    Traceback (most recent call last):
    wirecheck.files.Unreadable: stair.wire is not plain text: line 2 holds a byte that is not UTF-8. ...
    """
    if len(data) > MOST_BYTES:
        raise Unreadable(
            f"{name} is larger than {MOST_BYTES // 1_000_000} MB, so it was not read. Split the board."
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise Unreadable(
            f"{name} is not plain text: line {line} holds a byte that is not UTF-8. "
            "Save it as UTF-8 text from the editor, and try again."
        ) from error


def boards_in(place: Path) -> Iterator[Path]:
    """Every `.wire` file of a folder and of the folders in it, in order of name.

    Hidden folders are passed over, and links to folders are not followed, so
    that the walk always ends.

    Raises
    ------
    Unreadable: a folder cannot be listed.
    """

    def refuse(error: OSError) -> None:
        raise Unreadable(f"{error.filename} cannot be listed: {_reason(error)}.") from error

    for where, inner, files in os.walk(place, onerror=refuse):
        inner[:] = sorted(name for name in inner if not name.startswith("."))
        for name in sorted(files):
            if name.endswith(".wire") and not name.startswith("."):
                yield Path(where, name)


def write_whole(path: str | os.PathLike[str], data: str | bytes) -> None:
    """Write a file whole or not at all: beside it first, then in its place.

    A link is followed, and the mode of a file that is there is kept. What is
    no regular file, such as a pipe, is written straight.

    Raises
    ------
    Unreadable: it cannot be written; the old file is then as it was.
    """
    target = Path(os.path.realpath(path))
    content = data.encode("utf-8") if isinstance(data, str) else data
    beside = target.with_name(f".{target.name[:100]}.{os.getpid()}.part")
    try:
        if target.exists() and not target.is_file():
            with open(target, "wb") as straight:
                straight.write(content)
            return
        try:
            with open(beside, "xb") as new:
                new.write(content)
                new.flush()
                os.fsync(new.fileno())
            if target.exists():
                os.chmod(beside, target.stat().st_mode & 0o7777)
            os.replace(beside, target)
        except BaseException:
            beside.unlink(missing_ok=True)
            raise
    except (OSError, ValueError) as error:
        raise Unreadable(
            f"{os.fspath(path)} cannot be written: {_reason(error)}. Nothing was changed."
        ) from error


def _reason(error: OSError | ValueError) -> str:
    reasons = {
        "FileNotFoundError": "there is no such file or folder",
        "IsADirectoryError": "it is a folder",
        "NotADirectoryError": "a part of its path is not a folder",
        "PermissionError": "you have no leave to",
    }
    fallback = (getattr(error, "strerror", None) or str(error)).lower()
    return reasons.get(type(error).__name__, fallback)

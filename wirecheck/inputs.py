"""What the user gives: files and folders, which may be anything, and are never taken for more than they are.

Each file is read once and to its bound. Nothing is followed out of a folder, and what is no file, such as
a pipe, is not waited for.
"""

from __future__ import annotations

import errno
import functools
import itertools
import os
import re
import stat
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

MOST_BYTES = 16 * 1024 * 1024
"""The largest board file that is read: 16 MiB, some 400,000 lines."""

MOST_PART_BYTES = 64 * 1024
"""The largest part file that is read: 64 KiB; the largest that ships has 7."""
MOST_ENTRIES = 100_000
"""The most entries of a folder that are looked through for the names of part files."""
MOST_NAME = 1000
"""The longest name of a board in the folders of a folder."""

# A part's file begins so; the name of a part is no longer than the head of its file.
_PART = re.compile(rb"\A(?:\xef\xbb\xbf)?(?:\s+|#[^\n]*\n)*part[ \t]+(?P<name>[\w-]+)")
_TITLED = re.compile(
    rb"\A(?:\xef\xbb\xbf)?(?:\s+|#[^\n]*\n)*(?:board|exercise|faults[ \t]+for)[ \t]+"
    rb"\"(?P<title>[^\"\n]{0,200})\""
)
_EXERCISE = re.compile(rb"\A(?:\xef\xbb\xbf)?(?:\s+|#[^\n]*\n)*exercise[ \t]+\"")
_FAULTS = re.compile(rb"\A(?:\xef\xbb\xbf)?(?:\s+|#[^\n]*\n)*(?:faults[ \t]+for|found[ \t]+on)[ \t]+\"")
_HEAD = 64 * 1024


def shown_path(path: str) -> str:
    r"""A path as text: a file's name is UTF-8, whatever this locale takes it for; what is none is replaced.

    >>> shown_path("stair\udcff.wire")
    'stair\ufffd.wire'
    """
    try:
        return os.fsencode(path).decode("utf-8", "replace")
    except UnicodeEncodeError:
        return as_text(path)


def as_text(name: str) -> str:
    r"""A name in which halves of characters, which no output can hold, are replaced.

    >>> as_text("stair\ud800.wire")
    'stair\ufffd.wire'
    """
    return re.sub("[\ud800-\udfff]", "\ufffd", name)


def read_board(path: str | os.PathLike[str]) -> bytes:
    """A board file's bytes: one more than `MOST_BYTES` of a file that is larger, so that the reader sees it.

    A pipe, a socket or a device is refused and never waited for; but a pipe that has no name, as a shell
    makes it for `<(command)`, is as good as standard input.

    Raises
    ------
    OSError
        Where the file cannot be read, or is none.
    """
    with _opened(path) as file:
        return file.read(MOST_BYTES + 1)


@contextmanager
def _opened(path: str | os.PathLike[str]) -> Iterator[BinaryIO]:
    """A file to read, if it is one."""
    _refuse_other(path, os.stat(path).st_mode)
    with open(path, "rb", opener=_open_at_once) as file:
        # It may have been exchanged in between; what is open now stays what it is.
        _refuse_other(path, os.fstat(file.fileno()).st_mode)
        yield file


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


def reason(error: OSError | ValueError) -> str:
    """Why a file cannot be read or written, in words that follow a colon or "since".

    >>> reason(FileNotFoundError(errno.ENOENT, ""))
    'there is no such file or folder'
    """
    number = error.errno if isinstance(error, OSError) else None
    return _REASONS.get(number or 0) or str(getattr(error, "strerror", None) or error)


def not_of_folder(path: str | os.PathLike[str], folder: str | os.PathLike[str]) -> str:
    """Why what is found in a folder is not read for it, in words that follow "since"; nothing where it is.

    A link that leads out of the folder is not followed, and a pipe, a socket or a device is no file.
    Ask it of every file that the user did not name herself. A broken link that stays in the folder is read
    for it: the reading says what is wrong.

    >>> not_of_folder("wirecheck/inputs.py", "wirecheck"), not_of_folder("README.md", "wirecheck")
    ('', 'it leads out of the folder')
    """
    inside, real = os.path.realpath(folder), os.path.realpath(path)
    try:
        if os.path.commonpath([inside, real]) != inside:
            return "it leads out of the folder"
        _refuse_other(path, os.stat(path).st_mode)
    except ValueError:
        return "it leads out of the folder"  # To another drive.
    except OSError as error:
        return str(error.strerror) if isinstance(error, NotAFile) else ""
    return ""


class NotAFile(OSError):
    """What has a file's name is a pipe, a socket or a device."""


_OTHER = {
    stat.S_IFIFO: "a pipe",
    stat.S_IFSOCK: "a socket",
    stat.S_IFCHR: "a device",
    stat.S_IFBLK: "a device",
}


def _refuse_other(path: str | os.PathLike[str], mode: int) -> None:
    """Refuse what is neither a file nor a folder, which opening refuses with words of its own."""
    what = _OTHER.get(stat.S_IFMT(mode))
    # The name that leads to a pipe without a name leads to nothing that is there.
    if what and (what != "a pipe" or os.path.lexists(os.path.realpath(path))):
        raise NotAFile(errno.EINVAL, f"it is {what}, not a file", os.fspath(path))


def _open_at_once(path: str, flags: int) -> int:
    """Open a file, and never wait for someone to write to it."""
    if os.name == "nt":
        return os.open(path, flags)  # Where no file is a pipe.
    handle = os.open(path, flags | os.O_NONBLOCK)
    os.set_blocking(handle, True)
    return handle


def part_name(data: bytes) -> str | None:
    r"""The name of the part that a file holds, or None where it holds no part.

    >>> part_name(b'# mine\npart chime "A chime"'), part_name(b'board "part of it"')
    ('chime', None)
    """
    found = _PART.match(data[:_HEAD])
    return found["name"].decode("ascii", "replace") if found else None


def is_exercise(data: bytes) -> bool:
    r"""Whether a file holds an exercise.

    >>> is_exercise(b'# ours\nexercise "Hall light"'), is_exercise(b'board "An exercise"')
    (True, False)
    """
    return _EXERCISE.match(data[:_HEAD]) is not None


def is_of_troubles(data: bytes) -> bool:
    r"""Whether a file holds a list of faults, or a report of what was found on a board.

    >>> is_of_troubles(b'faults for "Hall light"\nfault 1 L1 burnt out'), is_of_troubles(b'board "Faults"')
    (True, False)
    """
    return _FAULTS.match(data[:_HEAD]) is not None


def is_beside_boards(data: bytes) -> bool:
    """Whether a file holds what lies beside boards in their folder: a part, an exercise, faults, a report."""
    return part_name(data) is not None or is_exercise(data) or is_of_troubles(data)


def title_of(data: bytes) -> str:
    r"""The title of the board or the exercise that a file holds, or of the board that its faults are for.

    Nothing where it has none in its head.

    >>> title_of(b'# a hall\n\nboard "Hall light"\npanel LP 120 V')
    'Hall light'
    """
    found = _TITLED.match(data[:_HEAD])
    return as_text(found["title"].decode("utf-8", "replace")) if found else ""


def path_in(folder: str, name: str) -> str | None:
    """Where a board lies in a folder or in the folders in it, by its name with `/` between them.

    None for a name that would lead elsewhere, or to what begins with a dot: `boards_in` looks at none of it.

    >>> path_in("work", "hall/ana.wire"), path_in("work", "../ana.wire"), path_in("work", "/etc/ana.wire")
    ('work/hall/ana.wire', None, None)
    """
    steps = name.split("/")
    strange = any(not step or step.startswith(".") or os.path.basename(step) != step for step in steps)
    if strange or "\0" in name or ":" in name or not name.endswith(".wire") or len(name) > MOST_NAME:
        return None
    path = os.path.join(folder, *steps)
    return None if not_of_folder(path, folder) else path


def part_path(folder: str, name: str) -> str | None:
    """Where a part lies in a folder: in the file of its name; None for a name that would lead elsewhere.

    >>> part_path("work", "chime"), part_path("work", "../chime")
    ('work/chime.wire', None)
    """
    if os.path.basename(name) != name or name.startswith(".") or "\0" in name or len(name) > 250:
        return None
    return os.path.join(folder, f"{name}.wire")


def read_part(path: str, folder: str) -> bytes:
    """A part file's bytes, one more than `MOST_PART_BYTES` of a larger one; of what is no part only the head.

    Raises
    ------
    OSError
        Where there is no such file, or it cannot be read, or it is not of that folder.
    """
    if os.path.lexists(path):
        foreign = not_of_folder(path, folder or ".")
        if foreign:
            raise OSError(errno.EINVAL, foreign, path)
    with _opened(path) as file:
        head = file.read(_HEAD)
        return head if part_name(head) is None else head + file.read(MOST_PART_BYTES + 1 - len(head))


def read_head(path: str) -> bytes:
    """The first 64 KiB of a file, which say what it holds.

    Raises
    ------
    OSError
        Where the file cannot be read, or is none.
    """
    with _opened(path) as file:
        return file.read(_HEAD)


def begins_a_part(path: str, folder: str) -> bool:
    """Whether there is such a file in the folder, and it can be read, and holds a part."""
    try:
        if not os.path.lexists(path) or not_of_folder(path, folder or "."):
            return False
        with _opened(path) as file:
            return part_name(file.read(_HEAD)) is not None
    except OSError:
        return False


def same(one: str, other: str) -> bool:
    """Whether two paths lead to one file."""
    return os.path.realpath(one) == os.path.realpath(other)


def need_folder(path: str) -> None:
    """Nothing, where there is a folder that can be listed.

    Raises
    ------
    OSError
        Where there is none.
    """
    with os.scandir(path) as entries:
        next(entries, None)


def part_names_in(folder: str) -> list[str]:
    """The names that the files of a folder could be parts of, in order of the alphabet; none is opened.

    Of a folder with more than `MOST_ENTRIES` there are none: which ones would come first is not known.
    """
    try:
        with os.scandir(folder or ".") as entries:
            names = [entry.name for entry in itertools.islice(entries, MOST_ENTRIES + 1)]
    except OSError:
        return []
    if len(names) > MOST_ENTRIES:
        return []
    return sorted(name[:-5] for name in names if name.endswith(".wire") and name[0] != ".")


Identity = tuple[int, int]
"""What tells a file from every other, whatever it is called: its disk and its number there."""


def identity(path: str | os.PathLike[str]) -> Identity | None:
    """The identity of a file; None where there is none. `-` is the file that standard input comes from."""
    try:
        what = os.fstat(0) if path == "-" else os.stat(path)
    except OSError:
        return None
    return (what.st_dev, what.st_ino) if stat.S_ISREG(what.st_mode) else None


def read_with(paths: Iterable[str]) -> frozenset[Identity]:
    """The files that may be read for boards: their own, and the `.wire` files in their folders."""
    paths = tuple(paths)
    own = (found for path in paths if (found := identity(path)))
    folders = {os.path.dirname(path) if path != "-" else "" for path in paths}
    return frozenset(own).union(*map(_parts_in, folders))


@functools.cache
def _parts_in(folder: str) -> frozenset[Identity]:
    try:
        with os.scandir(folder or ".") as entries:
            named = [entry.path for entry in entries if entry.name.endswith(".wire")]
    except OSError:
        return frozenset()
    return frozenset(found for each in named if (found := identity(each)))


def boards_in(
    place: str | os.PathLike[str],
    refuse: Callable[[OSError], None],
    pass_over: Callable[[str, str], None],
    other: Callable[[str], None] = lambda path: None,
) -> Iterator[str]:
    """Every `.wire` file of a folder and of the folders in it, in order of name.

    What begins with a dot is not looked at. A folder that cannot be listed is refused, with its name in the
    error, and the rest goes on. What is not of the folder is passed over, with its path and the reason; a
    link to a folder inside of it is left out without a word, since its files are found in their place.
    `other` is told of each file whose name ends in something else.
    """
    folders = [os.fspath(place)]
    while folders:
        here = folders.pop()
        try:
            with os.scandir(here) as listed:
                entries = sorted(listed, key=lambda entry: entry.name)
        except OSError as error:
            refuse(error)
            continue
        inner: list[str] = []
        for entry in entries:
            if entry.name.startswith("."):
                continue
            path = str(Path(entry.path))  # Without the ./ that a folder named . would put before it.
            if entry.is_dir(follow_symlinks=False):
                inner.append(path)
                continue
            link_to_folder = entry.is_symlink() and os.path.isdir(path)
            if link_to_folder or entry.name.endswith(".wire"):
                why = not_of_folder(path, place)
                if why:
                    pass_over(path, why)
                elif not link_to_folder:
                    yield path
            else:
                other(path)
        folders += reversed(inner)

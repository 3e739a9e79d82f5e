"""What is written is whole or not there: a file takes its new content at one stroke.

On Linux the content is put in a file without a name, which the system takes back
by itself if the process ends, whatever ends it. A new file is then given its name,
in one step. A file that is replaced takes two: a name beside it, and the exchange.
A process that is killed (SIGKILL, a loss of power) between these two, some
microseconds, leaves a hidden file beside the old one, which is whole. So does one
that is killed while it writes, where the system knows no files without a name:
other systems than Linux, and some network drives. The next file that is written
in the same folder clears it away, once it is an hour old and its process gone.
Signals that ask a process to end are no such case: the commands end in order.
"""

from __future__ import annotations

import contextlib
import errno
import functools
import os
import re
import stat
import time
from pathlib import Path
from typing import BinaryIO

_OLD = 3600.0
"""The seconds after which a file that a process left is cleared away."""

_LEFT = re.compile(r"\.wirecheck-(?P<process>\d{1,10})-[0-9a-f]{16}")
_OPEN = re.compile(r"(?:/dev|/proc/self)/(?:fd/(?P<number>\d{1,6})|stdout|(?P<error>stderr))")
_NO_FILE = {
    stat.S_IFIFO: "it is a pipe, not a file",
    stat.S_IFSOCK: "it is a socket, not a file",
    stat.S_IFBLK: "it is a disk, not a file",
}


class IsABoard(OSError):
    """An output has the name of a board or a part, and is neither."""


def refuse_board(path: str | os.PathLike[str]) -> None:
    """Refuse an output that is named as boards and parts are, or leads to what is.

    Raises
    ------
    IsABoard
        It ends in `.wire`.

    Examples
    --------
    >>> refuse_board("boards/demo.WIRE")
    Traceback (most recent call last):
    wirecheck.whole.IsABoard: ... it ends in .wire, as boards and parts do: 'boards/demo.WIRE'
    """
    for name in (os.fspath(path), os.path.realpath(path)):
        if os.path.splitext(name)[1].lower() == ".wire":
            raise IsABoard(errno.EINVAL, "it ends in .wire, as boards and parts do", os.fspath(path))


def put_out(path: str | os.PathLike[str], data: bytes) -> None:
    """Write an output, such as a report or a picture: never where a board or a part is, or would be.

    A device such as `/dev/null` takes it, and so does what is open already, as `/dev/stdout`.

    Raises
    ------
    OSError
        It cannot be written; what was there before is then still there.
    """
    already = _OPEN.fullmatch(os.path.abspath(path))
    if already:
        with os.fdopen(os.dup(int(already["number"] or (2 if already["error"] else 1))), "wb") as output:
            output.write(data)
        return
    refuse_board(path)
    write_whole(path, data)


def write_whole(path: str | os.PathLike[str], data: bytes, mode: int = 0o666) -> None:
    """Put data in a file, whole or not at all; a link is followed, the file's mode and owner are kept.

    A new file has the mode given, less what the user keeps from others (umask).

    Raises
    ------
    OSError
        Where it cannot be written; what was there before is then still there.
    """
    target = Path(os.path.realpath(path))
    try:
        before: os.stat_result | None = target.stat()
    except FileNotFoundError:
        before = None
    if before and stat.S_ISCHR(before.st_mode):
        target.write_bytes(data)  # A device has nothing to replace.
        return
    if before and stat.S_ISDIR(before.st_mode):
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), os.fspath(path))
    if before and (what := _NO_FILE.get(stat.S_IFMT(before.st_mode))):
        raise OSError(errno.EINVAL, what, os.fspath(path))
    if before and not os.access(target, os.W_OK):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), os.fspath(path))
    _clear_away(target.parent)
    beside = target.parent / f".wirecheck-{os.getpid()}-{os.urandom(8).hex()}"
    try:
        # What fails without a name is tried with one, and what is wrong is then said of that.
        with contextlib.suppress(OSError):
            _write_nameless(target, beside, data, before, mode)
            return
        beside.unlink(missing_ok=True)
        handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, _mode(before, mode))
        with os.fdopen(handle, "wb") as file:
            _fill(file, data, before)
        os.replace(beside, target)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise


def _write_nameless(
    target: Path, beside: Path, data: bytes, before: os.stat_result | None, mode: int
) -> None:
    """Fill a file without a name, and give it that of the target: at once, or in exchange."""
    if not hasattr(os, "O_TMPFILE"):
        raise OSError(errno.ENOTSUP, os.strerror(errno.ENOTSUP))
    with os.fdopen(os.open(target.parent, os.O_WRONLY | os.O_TMPFILE, _mode(before, mode)), "wb") as file:
        _fill(file, data, before)
        with contextlib.suppress(FileExistsError):
            if before is None:
                _name(file, target)
                return
        _name(file, beside)
        os.replace(beside, target)


def _name(file: BinaryIO, path: Path) -> None:
    """Give a name to a file that has none."""
    # Python follows the link there only where a folder is given for it, for which a whole path has no use.
    os.link(f"/proc/self/fd/{file.fileno()}", path, src_dir_fd=file.fileno())


def _mode(before: os.stat_result | None, mode: int) -> int:
    """The mode that a file begins with: nobody else looks in before it has that of the one that was there."""
    return 0o600 if before else mode


def _fill(file: BinaryIO, data: bytes, before: os.stat_result | None) -> None:
    """Write a file to its end and through to the disk, with the owner and the mode of the one before it."""
    file.write(data)
    file.flush()
    if before and os.name != "nt":
        with contextlib.suppress(PermissionError):  # To give a file away takes an administrator.
            os.fchown(file.fileno(), before.st_uid, before.st_gid)
        os.fchmod(file.fileno(), stat.S_IMODE(before.st_mode))
    os.fsync(file.fileno())


@functools.cache
def _clear_away(folder: Path) -> None:
    """Clear away what a process that is gone left in a folder, once for each process that writes there."""
    with contextlib.suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            left = _LEFT.fullmatch(entry.name)
            if left and not _runs(int(left["process"])):
                with contextlib.suppress(OSError):
                    _clear(entry)


def _clear(entry: os.DirEntry[str]) -> None:
    """Remove a file of ours that is old."""
    what = entry.stat(follow_symlinks=False)
    # Where files have no owner to ask for, a file that is still open cannot be removed.
    ours = stat.S_ISREG(what.st_mode) and (os.name == "nt" or what.st_uid == os.geteuid())
    if ours and time.time() - what.st_mtime > _OLD:
        os.unlink(entry.path)


def _runs(process: int) -> bool:
    """Whether there is a process of that number; not asked where asking would end it."""
    if os.name == "nt":
        return False
    try:
        os.kill(process, 0)
    except (ProcessLookupError, OverflowError):
        return False
    except PermissionError:
        pass  # Of another user.
    return True

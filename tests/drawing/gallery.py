"""The twenty best pictures, kept in `boards/gallery` for the README: each drawn from a board that ships.

python -m tests.drawing.gallery     # draws them anew
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import wirecheck
from wirecheck.drawing.page import lean
from wirecheck.picture import Kind

BOARDS = Path(__file__).parents[2] / "boards"
GALLERY = BOARDS / "gallery"
MOST = 1_000_000
"""How many bytes all of it may have: it is in every clone."""
EFFORT = 400


class Shown(NamedTuple):
    """A picture of the gallery: what is said of it, and what `wirecheck.draw` is asked for."""

    says: str
    board: str
    kind: Kind = "wiring"
    calls: tuple[str, ...] = ()
    inside: str | None = None

    @property
    def name(self) -> str:
        """The name of its file."""
        words = (*self.board.split("/"), self.kind, *self.calls, *((self.inside,) if self.inside else ()))
        return "-".join(word for word in words if word not in ("right", "wiring")) + ".svg"

    @property
    def command(self) -> str:
        """How it is drawn."""
        asked = [f"--kind {self.kind}"] if self.kind != "wiring" else []
        asked += [f"--call {call}" for call in self.calls]
        asked += [f"--open {self.inside}"] if self.inside else []
        asked += [f"--effort {EFFORT}"] if "/wrong" in self.board else []
        return " ".join(["wirecheck draw", f"boards/{self.board}.wire", *asked, "-o picture.svg"])


PICTURES = (
    Shown("Two 3-way switches", "stair-light/right"),
    Shown("The same with a mistake: a flag on the wire to move", "stair-light/wrong-traveler-on-common"),
    Shown("How two 3-way switches work", "stair-light/right", "ladder"),
    Shown("Two 3-way switches and a 4-way", "three-switch-hall/right"),
    Shown("The whites of a switch loop, marked", "stair-light-fed-in-the-middle/right"),
    Shown("Two switches in one box", "two-gang-box/right"),
    Shown("A receptacle with one half switched", "half-switched-receptacles/right"),
    Shown("A shared neutral on two legs", "kitchen-multiwire/right"),
    Shown("Line and load exchanged", "gfci-circuit/wrong-line-and-load-exchanged"),
    Shown("A dryer's outlet", "dryer-outlet/right"),
    Shown("A doorbell for two doors", "doorbell/right"),
    Shown("A gas furnace with its thermostat", "condensing-furnace/right"),
    Shown("How the furnace works", "condensing-furnace/right", "ladder"),
    Shown("What is inside the furnace", "condensing-furnace/right", inside="F"),
    Shown("A call for cooling: what is live, what runs", "heat-cool-hookup/right", calls=("cool",)),
    Shown("The same call, rung by rung", "heat-cool-hookup/right", "ladder", ("cool",)),
    Shown("A heat pump", "heat-pump/right"),
    Shown("Two transformers on one thermostat", "two-transformers/right", "ladder"),
    Shown("A walk-in freezer with its defrost clock", "walk-in-freezer/right", "ladder"),
    Shown("A motor with start and stop buttons", "motor-starter/right", "ladder"),
)

_PATH = re.compile(r'(?<= d="M)[^"]*')


def _straight(path: str) -> str:
    """A path whose curves that are straight are lines.

    >>> _straight("0,0C0,0 9,0 9,0 12,0 12,3 12,3")
    '0,0L9,0C12,0 12,3 12,3'
    """
    start, _, rest = path.partition("C")
    points = rest.split()
    drawn = [start]
    for first, second, end in zip(points[::3], points[1::3], points[2::3], strict=True):
        drawn.append(f"L{end}" if (first, second) == (start, end) else f"C{first} {second} {end}")
        start = end
    return "".join(drawn)


def drawn() -> Iterator[tuple[str, str]]:
    """Each file of the gallery with what is in it, the page first."""
    yield "README.md", page()
    for one in PICTURES:
        picture = wirecheck.draw(
            BOARDS / f"{one.board}.wire", kind=one.kind, calls=one.calls, inside=one.inside,
            flags="/wrong" in one.board, effort=EFFORT,
        )  # fmt: skip
        yield one.name, _PATH.sub(lambda path: _straight(path[0]), lean(picture.svg))


def page() -> str:
    """The page with all of them, as the README links it."""
    lines = [
        "# Gallery",
        "",
        "Twenty pictures that wirecheck draws of boards in this folder. Each has the command that draws it.",
    ]
    for number, one in enumerate(PICTURES, 1):
        lines += ["", f"## {number}. {one.says}", "", f"`{one.command}`", "", f"![{one.says}]({one.name})"]
    return "\n".join(lines) + "\n"


def write() -> None:
    """Draw the gallery anew, and take away what is no longer in it."""
    GALLERY.mkdir(exist_ok=True)
    files = dict(drawn())
    for name, text in files.items():
        (GALLERY / name).write_text(text, "utf-8")
    for path in GALLERY.iterdir():
        if path.name not in files:
            path.unlink()


if __name__ == "__main__":
    write()

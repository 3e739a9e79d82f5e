"""A part as a small picture in a list: its signs, as the wiring diagram has them, in the color of the words.

Its strokes are few, so that they are written here as SVG and not laid out by Graphviz.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain
from xml.sax.saxutils import escape

from wirecheck.drawing.colors import PAPER
from wirecheck.drawing.hand import draw_blades, room
from wirecheck.drawing.sheet import Line, Point, Sheet, Words
from wirecheck.drawing.symbols import Pen, signs
from wirecheck.model.board import Device

MOST_SIGNS = 3
"""A machine is known by the first signs inside it."""
APART, SCREWS = 44.0, 16.0
EDGE = 3.0
DASH = "4 3"


def small_picture(device: Device) -> str:
    """A device as SVG of its own, or nothing where it has no sign."""
    sheet = Sheet("", PAPER.ground)
    pen = Pen(sheet, PAPER)
    blades = room(device)
    if blades:
        at = {name: SCREWS * number for number, name in enumerate(device.part.terminals)}
        draw_blades(pen, device, at, -blades, None)
    shown = signs(device)[:MOST_SIGNS]
    for number, sign in enumerate(shown):
        pen.sign(sign, number * APART, 30.0 if blades else 0.0)
    lines = [line for line in sheet.lines if line.kind == "sign"]
    points = list(chain.from_iterable(piece for line in lines for piece in line.pieces))
    if not points:
        return ""
    left, top = (min(point[axis] for point in points) - EDGE for axis in (0, 1))
    wide, high = (
        max(point[axis] for point in points) + EDGE - least for axis, least in ((0, left), (1, top))
    )
    inside = "".join(chain(map(_path, lines), _letters(sheet)))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{left:.1f} {top:.1f} {wide:.1f} {high:.1f}" '
        f'fill="none" stroke="currentColor">{inside}</svg>'
    )


def _path(line: Line) -> str:
    dashed = "" if line.dash == "solid" else f' stroke-dasharray="{DASH}"'
    ways = " ".join(map(_way, line.pieces))
    return f'<path d="{ways}" stroke-width="{line.pen:g}"{dashed}/>'


def _way(piece: tuple[Point, ...]) -> str:
    """The signs' strokes are cubic Beziers throughout."""
    first, *rest = (f"{x:.1f} {y:.1f}" for x, y in piece)
    return f"M {first} C {' '.join(rest)}"


def _letters(sheet: Sheet) -> Iterator[str]:
    for mark in sheet.marks:
        if isinstance(mark, Words) and mark.kind == "letter":
            yield (
                f'<text x="{mark.x:.1f}" y="{mark.y:.1f}" font-size="{mark.size:g}" text-anchor="middle" '
                f'dominant-baseline="central" fill="currentColor" stroke="none">{escape(mark.text)}</text>'
            )

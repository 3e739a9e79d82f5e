"""The keys under a drawing: what its marks mean; of what a state adds, only what is there."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from wirecheck.drawing import colors
from wirecheck.drawing.colors import Page
from wirecheck.drawing.places import SMALL
from wirecheck.drawing.sheet import Frame, Line, Sheet, Spot
from wirecheck.drawing.state import State
from wirecheck.drawing.ticks import TICKS, stroke_color, ticks

LINE = 15.0
SAMPLE = 22.0
GAP = 16.0
NARROWEST = 300.0


class Key:
    """Sets the entries of a key side by side, on as many lines as its width asks for.

    Parameters
    ----------
    sheet : with all else of the drawing on it
    page : the colors of the page
    y : the middle of the first line
    width : of the drawing over it
    kind : what its shapes are called by: `legend` for a state's, `key` for that of a diagram's marks
    left : where its lines begin
    """

    def __init__(
        self, sheet: Sheet, page: Page, y: float, width: float, kind: str = "legend", left: float = 0.0
    ) -> None:
        self.sheet, self.page, self.kind = sheet, page, kind
        self.x, self.y, self.left = left, y, left
        self.width = max(width, NARROWEST)

    def entry(self, name: str, text: str, sample: float) -> tuple[float, float]:
        """Set an entry's words behind its sample; returns where the sample begins."""
        at = self.x
        words = self._write(name, text, at + sample)
        if at > self.left and words > self.left + self.width:
            self.sheet.marks.pop()
            at, self.y = self.left, self.y + LINE
            words = self._write(name, text, at + sample)
        self.x = words + GAP
        return at, self.y

    def _write(self, name: str, text: str, x: float) -> float:
        words = self.sheet.write(
            f"{self.kind}-{name}",
            text,
            x,
            self.y,
            SMALL,
            self.page.ink,
            align="start",
            kind=f"label {self.kind}",
        )
        return words.x + words.width / 2


class Pens(NamedTuple):
    """How wide a drawing draws a wire, what is live around it, and what flows along it, dotted or not."""

    wire: float
    glow: float
    flow: float
    dotted: bool = False


def marks_key(
    sheet: Sheet,
    page: Page,
    y: float,
    width: float,
    pens: Pens,
    insulation: Iterable[str],
    left: float = 0.0,
) -> float:
    """Put the key of a wiring diagram's marks on it; returns where it ends.

    Parameters
    ----------
    insulation : the colors of the wires, in the order in which those that have strokes across are told
    """
    key = Key(sheet, page, y, width, "key", left)
    for name, (words, shape, size, fill) in SPOTS.items():
        at, middle = key.entry(name, words, size[0] + 5)
        spot = (at + size[0] / 2, middle, *size, fill or (page.ink if name == "splice" else page.ground))
        sheet.marks.append(Spot(f"key-{name}-spot", "", *spot, page.ink, shape, kind="key"))
    if any(line.kind == "ticks" for line in sheet.lines):
        for color in (color for color in dict.fromkeys(insulation) if color in TICKS):
            at, middle = key.entry(f"ticks-{color}", color, SAMPLE + 5)
            way = [(at, middle), (at + SAMPLE, middle)]
            paint = colors.insulation(color)
            ink = stroke_color(paint, page.ground)
            sheet.lines += [
                Line(f"key-wire-{color}", "", (tuple(way),), paint, pens.wire, kind="key"),
                Line(f"key-strokes-{color}", "", ticks(way, color), ink, 1.0, curve=True, kind="key"),
            ]
    return key.y


SPOTS = {
    "splice": ("wires joined", "circle", (7.5, 7.5), None),
    "cap": ("capped, not used", "box", (9.0, 8.0), "#e2b33c"),
    "loose": ("joined to nothing", "circle", (6.0, 6.0), None),
    "band": ("tape: marked that color", "box", (9.0, 7.0), colors.INSULATION["red"]),
    "bar": ("neutral or ground bar", "box", (16.0, 8.0), colors.SCREW),
}
"""The marks of wiring diagrams. Each has all, so that a right and a wrong board differ in wires alone."""


def state_key(sheet: Sheet, page: Page, state: State, y: float, width: float, pens: Pens) -> float:
    """Put the key of a state under a drawing, with all that is drawn of it there; returns where it ends."""
    key = Key(sheet, page, y, width)
    kinds = {line.kind for line in sheet.lines}
    for level, what in state.levels().items():
        if f"live {level}" not in kinds:
            continue
        at, middle = key.entry(f"{level}-words", f"live, {what}", SAMPLE + 5)
        sample = (((at, middle), (at + SAMPLE, middle)),)
        dash = colors.LIVE_DASH[level]
        sheet.lines += [
            Line(f"legend-{level}", "", sample, colors.LIVE[level], pens.glow, dash, kind="legend", layer=-1),
            Line(f"legend-{level}-wire", "", sample, page.ink, pens.wire, kind="legend"),
        ]
    if "flow" in kinds:
        at, middle = key.entry("flow-words", "carries current", SAMPLE + 5)
        sample = (((at, middle), (at + SAMPLE, middle)),)
        ink, dash = (page.ground, "dotted") if pens.dotted else (page.ink, "solid")
        sheet.lines += [
            Line("legend-flow-wire", "", sample, page.ink, pens.wire, kind="legend"),
            Line("legend-flow", "", sample, ink, pens.flow, dash, kind="legend"),
        ]
    if any(frame.kind == "lit" for frame in sheet.frames):
        at, middle = key.entry("lit-words", "runs, or has power", 19)
        sheet.frames.append(
            Frame("legend-lit", "", at, middle - 5, 14, 10, page.lit, page.ink, 1.6, True, "legend")
        )
    if any(mark.kind in ("volts", "label volts") for mark in sheet.marks):
        floats = f"; on {state.low} without a ground, to C" if state.circuit.windings else ""
        key.entry("volts", f"volts to ground{floats}", 0)
    return key.y

"""The key under a drawing that shows a state: what its marks mean, and of these only what is there."""

from __future__ import annotations

from typing import NamedTuple

from wirecheck.drawing import colors
from wirecheck.drawing.colors import Page
from wirecheck.drawing.places import SMALL
from wirecheck.drawing.sheet import Frame, Line, Sheet
from wirecheck.drawing.state import State

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
    """

    def __init__(self, sheet: Sheet, page: Page, y: float, width: float) -> None:
        self.sheet, self.page = sheet, page
        self.x, self.y = 0.0, y
        self.width = max(width, NARROWEST)

    def entry(self, name: str, text: str, sample: float) -> tuple[float, float]:
        """Set an entry's words behind its sample; returns where the sample begins."""
        at = self.x
        words = self._write(name, text, at + sample)
        if at and words > self.width:
            self.sheet.marks.pop()
            at, self.y = 0.0, self.y + LINE
            words = self._write(name, text, sample)
        self.x = words + GAP
        return at, self.y

    def _write(self, name: str, text: str, x: float) -> float:
        words = self.sheet.write(
            f"legend-{name}", text, x, self.y, SMALL, self.page.ink, align="start", kind="label legend"
        )
        return words.x + words.width / 2


class Pens(NamedTuple):
    """How wide a drawing draws a wire, what is live around it, and what flows along it, dotted or not."""

    wire: float
    glow: float
    flow: float
    dotted: bool = False


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
        floats = "; on 24 V without a ground, to C" if state.circuit.windings else ""
        key.entry("volts", f"volts to ground{floats}", 0)
    return key.y

"""The keys under a drawing: what its marks mean, of those that are on it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from wirecheck.circuit.meter import INDUCED
from wirecheck.drawing import colors
from wirecheck.drawing.colors import Page
from wirecheck.drawing.contacts import BRIDGE
from wirecheck.drawing.hand import MOVED, PRESSED
from wirecheck.drawing.places import SMALL
from wirecheck.drawing.sheet import Frame, Line, Point, Sheet, Spot, Words
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
    whole: bool = False,
) -> float:
    """Put the key of a wiring diagram's marks on it, of those that it has; returns where it ends.

    Parameters
    ----------
    insulation : the colors of the wires, in the order in which those that have strokes across are told
    whole : whether it has all that another wiring of the board would have in it
    """
    key = Key(sheet, page, y, width, "key", left)
    ticked = any(line.kind == "ticks" for line in sheet.lines)
    for entry in _entries(sheet, page, whole):
        at, middle = key.entry(entry.name, entry.words, entry.wide + 5)
        spot = (at + entry.wide / 2, middle, entry.wide, entry.high, entry.fill, page.ink)
        sheet.marks.append(Spot(f"key-{entry.name}-spot", "", *spot, entry.shape, kind="key"))
        if entry.knob is not None:
            sheet.marks.append(_knob(page, entry, at + entry.wide / 2, middle))
    used = list(dict.fromkeys(insulation))
    if ticked:
        for color in (color for color in used if color in TICKS and color != colors.UNTOLD):
            at, middle = key.entry(f"ticks-{color}", color, SAMPLE + 5)
            _wire(sheet, page, color, (at, middle), pens, f"key-wire-{color}", ticked)
    if whole or colors.UNTOLD in used:
        at, middle = key.entry(colors.UNTOLD, "color not told", SAMPLE + 5)
        _wire(sheet, page, colors.UNTOLD, (at, middle), pens, "key-untold-wire", ticked)
    if whole or any(mark.kind == "loose" for mark in sheet.marks):
        at, middle = key.entry("loose", "joined to nothing", 11)
        spot = (at + 3, middle, 6.0, 6.0, page.ground, page.ink)
        sheet.marks.append(Spot("key-loose-spot", "", *spot, kind="key"))
    return key.y


def _wire(sheet: Sheet, page: Page, color: str, start: Point, pens: Pens, name: str, ticked: bool) -> None:
    """A piece of a wire in the key, with its strokes where the drawing has them."""
    way = [start, (start[0] + SAMPLE, start[1])]
    paint = colors.insulation(color)
    sheet.lines.append(Line(name, "", (tuple(way),), paint, pens.wire, kind="key"))
    if ticked:
        ink = stroke_color(paint, page.ground)
        strokes = ticks(way, color)
        sheet.lines.append(Line(f"key-strokes-{color}", "", strokes, ink, 1.0, curve=True, kind="key"))


class Entry(NamedTuple):
    """A mark of the key: what it is called, its words, its shape; `knob` fills what a hand moves in it."""

    name: str
    words: str
    shape: str
    wide: float
    high: float
    fill: str
    knob: str | None = None


def _knob(page: Page, entry: Entry, x: float, y: float) -> Spot:
    """What is moved on the small face of a switch: its toggle, as where it is off, or its button."""
    round_one = entry.shape == "circle"
    size = (x, y, 6.0, 6.0) if round_one else (x, y + 2.5, 2.6, 4.4)
    return Spot(f"key-{entry.name}-knob", "", *size, entry.knob or "", page.ink, entry.shape, kind="key")


def _entries(sheet: Sheet, page: Page, whole: bool) -> Iterator[Entry]:
    """What the sheet has of screws, bars and joints: first what no wiring of the board changes."""
    spots = [mark for mark in sheet.marks if isinstance(mark, Spot)]
    screws = [spot for spot in spots if spot.kind == "terminal" and spot.shape == "ellipse"]
    for name, words in SCREWS.items():
        fill = colors.SCREWS[name]
        if any(screw.fill == fill for screw in screws):
            yield Entry(f"{name}-screw", words, "circle", 8.5, 8.5, fill)
    if any(screw.fill == colors.SCREW for screw in screws):
        yield Entry("other-screw", "other screw or lead", "circle", 8.5, 8.5, colors.SCREW)
    bars = {spot.fill for spot in spots if spot.kind == "terminal" and spot.shape == "box"}
    green = colors.SCREWS["green"]
    if bars - {green}:
        yield Entry("neutral-bar", "neutral bar", "box", 16.0, 8.0, min(bars - {green}))
    if green in bars:
        yield Entry("grounding-bar", "ground bar", "box", 16.0, 8.0, green)
    faces = {line.title for line in sheet.lines if line.kind == "sign"}
    if any(" tab " in title for title in faces):
        yield Entry("tab", "tab: joins the halves, unless broken out", "box", 3.2, 11.0, page.ink)
    if MOVED in faces:
        yield Entry("plate", MOVED, "box", 7.5, 12.5, page.ground, page.ink)
    if PRESSED in faces:
        yield Entry("button", PRESSED, "circle", 11.5, 11.5, page.ground, page.ground)
    kinds = {spot.kind for spot in spots}
    if whole or "splice" in kinds:
        yield Entry("splice", "wires joined", "circle", 7.5, 7.5, page.ink)
    bands = [line.color for line in sheet.lines if line.kind == "band" and line.title]
    if whole or bands:
        fill = bands[0] if bands else page.ground
        yield Entry("band", "tape: marked that color", "box", 9.0, 7.0, fill)
    if whole or "cap" in kinds:
        yield Entry("cap", "capped, not used", "box", 9.0, 8.0, colors.CAP)


SCREWS = {
    "brass": "brass screw",
    "silver": "silver screw",
    "black": "dark screw",
    "green": "green screw: ground",
}
"""The screws that are known by their color."""


PAINTED = "wire", "conductor", "jumper", "pigtail"
"""The kinds of lines that have a color's name behind them."""


VOLTS = "volts", "label volts"
"""The kinds of words that are volts at a wire or at a screw."""


def marked(sheet: Sheet) -> set[str]:
    """The ids of the words of all entries that a key of a sheet, or of a piece of it, has."""
    kinds = {shape.kind for shape in (*sheet.lines, *sheet.marks)}
    painted = {color for color in TICKS if kinds & {f"{part} {color}" for part in PAINTED}}
    names = {f"key-{entry.name}" for entry in _entries(sheet, colors.PAPER, whole=False)}
    names |= {f"key-ticks-{color}" for color in painted}
    names |= {f"key-{name}" for name in (colors.UNTOLD, "loose") if name in kinds | painted}
    return names | {f"legend-{name}" for name in _shown(sheet)}


def _shown(sheet: Sheet) -> set[str]:
    """The names of the entries that the key of a state has, by what of the state is on a sheet."""
    kinds = {shape.kind for shape in (*sheet.lines, *sheet.marks)}
    # What has no volts to tell has words for them that are empty.
    readings = {mark.text for mark in sheet.marks if isinstance(mark, Words) and mark.kind in VOLTS}
    states = {
        **{f"{level}-words": f"live {level}" in kinds for level in colors.LIVE},
        "flow-words": bool(kinds & {"flow", "flow again"}),
        "flow-again": "flow again" in kinds,
        "bridge-words": any(line.pen == BRIDGE for line in sheet.lines),
        "lit-words": any(frame.kind == "lit" for frame in sheet.frames),
        "volts": any(readings),
        "floating": "" in readings,
        "induced": INDUCED in readings,
    }
    return {name for name, has in states.items() if has}


def state_key(sheet: Sheet, page: Page, state: State, y: float, width: float, pens: Pens) -> float:
    """Put the key of a state under a drawing, with all that is drawn of it there; returns where it ends."""
    key = Key(sheet, page, y, width)
    shown = _shown(sheet)
    for level, what in state.levels().items():
        if f"{level}-words" not in shown:
            continue
        at, middle = key.entry(f"{level}-words", f"live, {what}", SAMPLE + 5)
        sample = (((at, middle), (at + SAMPLE, middle)),)
        dash = colors.LIVE_DASH[level]
        sheet.lines += [
            Line(f"legend-{level}", "", sample, colors.LIVE[level], pens.glow, dash, kind="legend", layer=-1),
            Line(f"legend-{level}-wire", "", sample, page.ink, pens.wire, kind="legend"),
        ]
    if "flow-words" in shown:
        at, middle = key.entry("flow-words", "carries current", SAMPLE + 5)
        sample = (((at, middle), (at + SAMPLE, middle)),)
        ink, dash = (page.ground, "dotted") if pens.dotted else (page.ink, "solid")
        sheet.lines += [
            Line("legend-flow-wire", "", sample, page.ink, pens.wire, kind="legend"),
            Line("legend-flow", "", sample, ink, pens.flow, dash, kind="legend"),
        ]
    if "flow-again" in shown:
        key.entry("flow-again", "a part drawn again: the current of all its lines", 0)
    if "bridge-words" in shown:
        at, middle = key.entry("bridge-words", "bridged: closed now; not bridged: open now", 19)
        bars = tuple(((at + x, middle - 5), (at + x, middle + 5)) for x in (4.0, 10.0))
        sheet.lines += [
            Line("legend-bridge-bars", "", bars, page.ink, 1.3, kind="legend"),
            Line("legend-bridge", "", (((at + 4, middle), (at + 10, middle)),), page.ink, 2.4, kind="legend"),
        ]
    if "lit-words" in shown:
        at, middle = key.entry("lit-words", "runs, or has power", 19)
        sheet.frames.append(
            Frame("legend-lit", "", at, middle - 5, 14, 10, page.lit, page.ink, 1.6, True, "legend")
        )
    if "volts" in shown:
        floating = "low-words" in shown and state.to_common
        floats = f"; on {state.low} without a ground, to its transformer's common" if floating else ""
        key.entry("volts", f"volts to ground{floats}", 0)
    if "floating" in shown:
        key.entry("floating", "no reading: floating, no path to a source now", 0)
    if "induced" in shown:
        key.entry("induced", f"{INDUCED}: from the motor that runs", 0)
    return key.y

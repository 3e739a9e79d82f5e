"""A sheet of shapes in their places, and the sheet as a Graphviz graph.

Lines become edges with their own path, and what stands in a place becomes a
node; Graphviz draws them where they are (engine `nop2`: positions and paths
given), in the order of the sheet: frames, then lines, then spots and words.
Frames are nodes too, since the time for clusters grows with their square. Points are (x, y) in points of
1/72 in, y downwards; Graphviz counts y upwards, and this is the one place
that turns it over.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeVar

from wirecheck.caution import CAUTION
from wirecheck.drawing.letters import BOLD_FAMILY, FAMILY, SMALLEST, printable, shorten, text_width, wrap

Point = tuple[float, float]
_PLAIN = re.compile(r"[A-Za-z0-9 .,:;@/+()%#*=_-]*").fullmatch
CAUTION_SIZE, CAUTION_LINE, CAUTION_WIDTH = SMALLEST, 11.0, 595.0
TITLE, TITLE_LINE, TITLE_WIDTH = 14.0, 17.0, 560.0
BACKSLASH = "\N{SET MINUS}"
"""What stands for a backslash: Graphviz looks for escapes even behind entities, in titles twice."""
_MEANING = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "\\": BACKSLASH})
DASHES = {"dash-dot": "11,3,2,3", "dash-dots": "8,3,1.5,3,1.5,3", "long-dash": "14,4"}
"""Dashes that Graphviz has not: each and each gap, in points. A line of such has their name as a class."""
ALIGN = {"start": "\\l", "middle": "", "end": "\\r"}
"""How Graphviz is told to set a line of text in the width it has."""


@dataclass(frozen=True, slots=True)
class Frame:
    """A rectangle: a room or the body of a device."""

    id: str
    title: str
    x: float
    y: float
    width: float
    height: float
    fill: str
    stroke: str
    pen: float = 1.0
    rounded: bool = False
    kind: str = "frame"


@dataclass(frozen=True, slots=True)
class Line:
    """Paths drawn with one pen, as one thing.

    Each piece goes straight through its points, its corners rounded by
    `radius`; or, with `curve`, its points are those of cubic Beziers. `layer` is how far up it lies
    where one line crosses another.
    """

    id: str
    title: str
    pieces: tuple[tuple[Point, ...], ...]
    color: str
    pen: float = 1.0
    dash: str = "solid"
    radius: float = 0.0
    curve: bool = False
    tail: str = ""
    head: str = ""
    kind: str = "line"
    layer: int = 0


@dataclass(frozen=True, slots=True)
class Spot:
    """A circle or a box around a point."""

    id: str
    title: str
    x: float
    y: float
    width: float
    height: float
    fill: str
    stroke: str
    shape: str = "circle"
    pen: float = 1.0
    kind: str = "spot"


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text around a point: its middle."""

    id: str
    text: str
    x: float
    y: float
    size: float
    color: str
    bold: bool = False
    title: str = ""
    kind: str = "label"
    align: str = "middle"

    @property
    def width(self) -> float:
        """Its width, in points."""
        return text_width(self.text, self.size, self.bold)


@dataclass
class Sheet:
    """What is drawn, from the ground up: frames, then lines, then spots and words.

    `only` holds, by id, the states in which a shape is shown that is not shown in all. `laid_as` is the
    drawing that it is laid on paper as, so that a handout lies on its answer sheet.
    """

    title: str
    ground: str
    width: float = 0.0
    height: float = 0.0
    left: float = 0.0
    top: float = 0.0
    frames: list[Frame] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    marks: list[Spot | Words] = field(default_factory=list)
    only: dict[str, frozenset[int]] = field(default_factory=dict)
    laid_as: Sheet | None = None

    def class_of(self, shape: Frame | Line | Spot | Words) -> str:
        """Its classes: its kind, its dashes where Graphviz has none like them, `state` where not in every."""
        dash = shape.dash if isinstance(shape, Line) and shape.dash in DASHES else ""
        return " ".join(filter(None, (shape.kind, dash, "state" if shape.id in self.only else "")))

    def write(
        self,
        name: str,
        text: str,
        x: float,
        y: float,
        size: float,
        color: str,
        *,
        bold: bool = False,
        align: str = "middle",
        title: str = "",
        kind: str = "label",
    ) -> Words:
        """Set one line of text with its left end, middle or right end at x."""
        text = printable(text)
        width = text_width(text, size, bold)
        shift = {"start": width / 2, "middle": 0.0, "end": -width / 2}[align]
        words = Words(name, text, x + shift, y, size, color, bold, title, kind, align)
        self.marks.append(words)
        return words

    def headline(self, title: str, y: float, color: str) -> list[Words]:
        """Set the drawing's title at its left edge, in two lines where it is long, the last of them at y."""
        first, *more = wrap(title, TITLE_WIDTH, TITLE, bold=True) or [""]
        lines = [first, shorten(" ".join(more), TITLE_WIDTH, TITLE, bold=True)] if more else [first]
        y -= TITLE_LINE * (len(lines) - 1)
        return [
            self.write(
                f"board-title-{number + 1}" if number else "board-title", line, 0, y + TITLE_LINE * number,
                TITLE, color, bold=True, align="start", kind="label title",
            )
            for number, line in enumerate(lines)
        ]  # fmt: skip

    def caution(self, x: float, y: float, color: str) -> list[Words]:
        """Set the caution in lines below one another, the last of them at y."""
        lines = wrap(CAUTION, CAUTION_WIDTH, CAUTION_SIZE)
        y -= CAUTION_LINE * (len(lines) - 1)
        return [
            self.write(
                f"caution-{number + 1}", line, x, y + CAUTION_LINE * number, CAUTION_SIZE, color,
                align="start", kind="caution",
            )
            for number, line in enumerate(lines)
        ]  # fmt: skip


Shape = TypeVar("Shape", Frame, Line, Spot | Words)


def overlaid(sheets: Sequence[Sheet]) -> Sheet:
    """One sheet of several: what they share once, and of the rest which of them it is from (`only`).

    >>> one, other = (Sheet(name, "#ffffff", 9, 9) for name in ("one", "other"))
    >>> for sheet in (one, other):
    ...     _ = sheet.write("name", sheet.title, 0, 0, 9, "#000000")
    >>> overlaid([one, other]).only
    {'name': frozenset({0}), 'name--2': frozenset({1})}
    """
    whole = Sheet(sheets[0].title, sheets[0].ground)
    whole.left, whole.top = min(each.left for each in sheets), min(each.top for each in sheets)
    whole.width = max(each.left + each.width for each in sheets) - whole.left
    whole.height = max(each.top + each.height for each in sheets) - whole.top
    taken: dict[str, int] = {}
    whole.frames = _overlaid([each.frames for each in sheets], whole.only, taken)
    whole.lines = _overlaid([each.lines for each in sheets], whole.only, taken)
    # Words without a letter are not drawn, so no state shows them.
    written = [[m for m in each.marks if isinstance(m, Spot) or m.text.strip()] for each in sheets]
    whole.marks = _overlaid(written, whole.only, taken)
    return whole


def _overlaid(
    layers: Sequence[list[Shape]], only: dict[str, frozenset[int]], taken: dict[str, int]
) -> list[Shape]:
    """The shapes of a layer of each sheet, every one in its place between its neighbors."""
    place: dict[Shape, tuple[int, int, int]] = {}
    states: dict[Shape, list[int]] = {}
    for number, layer in enumerate(layers):
        after = 0
        for step, shape in enumerate(layer):
            place.setdefault(shape, (step if number == 0 else after, number, step))
            after = place[shape][0]
            states.setdefault(shape, []).append(number)
    shapes = []
    for shape in sorted(place, key=place.__getitem__):
        taken[shape.id] = taken.get(shape.id, 0) + 1
        own = shape
        if taken[shape.id] > 1:
            own = replace(shape, id=f"{shape.id}--{taken[shape.id]}")
            if isinstance(own, Line):
                own = replace(own, tail="", head="")
        if len(states[shape]) < len(layers):
            only[own.id] = frozenset(states[shape])
        shapes.append(own)
    return shapes


def dot_source(sheet: Sheet) -> str:
    """The sheet as Graphviz source, for the engine `nop2` (that is `neato -n2`).

    >>> sheet = Sheet("nothing", "#ffffff", 100, 50)
    >>> print(dot_source(sheet))
    graph nothing {
    ...
    """
    import graphviz

    page = Frame(
        "page", sheet.title, sheet.left, sheet.top, sheet.width, sheet.height, sheet.ground, sheet.ground
    )
    body = [_frame(frame, sheet.class_of(frame)) for frame in (page, *sheet.frames)]
    edges = []
    body.append("\t{\n\t\tnode [style=invis width=0 height=0]\n")
    for line in sheet.lines:
        path = [_spline(piece, line) for piece in line.pieces]
        tail, head = line.tail or f"{line.id} from", line.head or f"{line.id} to"
        body.append(f"\t\t{_q(tail)} [pos={_at(*path[0][0])}] {_q(head)} [pos={_at(*path[-1][-1])}]\n")
        tooltip = f" tooltip={_text(line.title)}" if line.title else ""
        style = "dashed" if line.dash in DASHES else line.dash
        dash = f" style={style}" if style != "solid" else ""
        pos = ";".join(" ".join([_xy(x, y) for x, y in spline]) for spline in path)
        edges.append(
            f"\t{_q(tail)} -- {_q(head)} [id={_q(line.id)} class={_q(sheet.class_of(line))}{tooltip}{dash} "
            f'color="{line.color}" penwidth={_n(line.pen)} pos="{pos}"]\n'
        )
    body += ["\t}\n", *edges]
    for mark in sheet.marks:
        classes = sheet.class_of(mark)
        body.append(_spot(mark, classes) if isinstance(mark, Spot) else _words(mark, classes))
    graph = graphviz.Graph(
        name=_entities(printable(sheet.title)) or "board",
        graph_attr={"bgcolor": sheet.ground, "pad": "0", "margin": "0"},
        node_attr={"label": "", "fixedsize": "true", "margin": "0", "fontname": FAMILY, "shape": "none"},
        body=body,
    )
    return str(graph.source)


def _frame(frame: Frame, classes: str) -> str:
    style = '"rounded,filled"' if frame.rounded else "filled"
    return (
        f"\t{_q(frame.id + ' frame')} [id={_q(frame.id)} class={_q(classes)} tooltip={_text(frame.title)} "
        f"shape=box style={style} pos={_at(frame.x + frame.width / 2, frame.y + frame.height / 2)} "
        f"width={_n(frame.width / 72, 5)} height={_n(frame.height / 72, 5)} "
        f'fillcolor="{frame.fill}" color="{frame.stroke}" penwidth={_n(frame.pen)}]\n'
    )


def _spot(spot: Spot, classes: str) -> str:
    tooltip = f" tooltip={_text(spot.title)}" if spot.title else ""
    return (
        f"\t{_q(spot.id + ' spot')} [id={_q(spot.id)} class={_q(classes)}{tooltip} "
        f"shape={spot.shape} style=filled pos={_at(spot.x, spot.y)} "
        f"width={_n(spot.width / 72, 5)} height={_n(spot.height / 72, 5)} "
        f'fillcolor="{spot.fill}" color="{spot.stroke}" penwidth={_n(spot.pen)}]\n'
    )


def _words(words: Words, classes: str) -> str:
    if not words.text.strip():
        return ""
    tooltip = f" tooltip={_text(words.title)}" if words.title else ""
    bold = f' fontname="{BOLD_FAMILY}"' if words.bold else ""
    return (
        f"\t{_q(words.id + ' words')} [id={_q(words.id)} class={_q(classes)}{tooltip}{bold} "
        f"label={_text(words.text, ALIGN[words.align])} pos={_at(words.x, words.y)} "
        f"width={_n(words.width / 72, 5)} height=0 "
        f'fontsize={_n(words.size)} fontcolor="{words.color}"]\n'
    )


def _q(text: str) -> str:
    """A name between quotes, as Graphviz reads it; one of plain letters needs no more."""
    return f'"{text if _PLAIN(text) else _entities(text)}"'


def _text(text: str, end: str = "") -> str:
    """Text that Graphviz prints as it stands: no escapes, no HTML; `end` sets its line."""
    return f'"{text if _PLAIN(text) else _entities(printable(text))}{end}"'


def _entities(text: str) -> str:
    r"""Text with what Graphviz gives a meaning to as entities, which all its outputs know.

    >>> _entities("W1 \\N & <b>")
    'W1 ∖N &amp; &lt;b&gt;'
    """
    return text.translate(_MEANING)


def _xy(x: float, y: float) -> str:
    """A point as Graphviz reads it."""
    return f"{round(x, 2)},{round(-y, 2)}"


def _at(x: float, y: float) -> str:
    """A point as the value of an attribute."""
    return f'"{_xy(x, y)}"'


def _n(value: float, digits: int = 2) -> str:
    text = f"{value:.{digits}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _spline(points: tuple[Point, ...], line: Line) -> tuple[Point, ...]:
    return points if line.curve else _rounded(points, line.radius)


def _rounded(points: Sequence[Point], radius: float) -> tuple[Point, ...]:
    """A path of straight pieces as cubic Bezier points, its corners rounded."""
    corners = list(_without_repeats(points))
    if len(corners) == 1:
        corners.append(corners[0])
    path: list[Point] = [corners[0]]
    for before, corner, after in zip(corners, corners[1:], corners[2:], strict=False):
        reach = min(radius, math.dist(before, corner) / 2, math.dist(corner, after) / 2)
        start, end = _toward(corner, before, reach), _toward(corner, after, reach)
        _straight(path, start)
        path += [_toward(corner, start, reach * 0.45), _toward(corner, end, reach * 0.45), end]
    _straight(path, corners[-1])
    return tuple(path)


def straight(points: Sequence[Point]) -> tuple[Point, ...]:
    """Straight pieces through points, as cubic Bezier points.

    >>> straight([(0, 0), (3, 0)])
    ((0, 0), (1.0, 0.0), (2.0, 0.0), (3, 0))
    """
    path = [points[0]]
    for point in points[1:]:
        _straight(path, point)
    return tuple(path)


def _straight(path: list[Point], to: Point) -> None:
    (x0, y0), (x1, y1) = path[-1], to
    path += [(x0 + (x1 - x0) / 3, y0 + (y1 - y0) / 3), (x0 + (x1 - x0) * 2 / 3, y0 + (y1 - y0) * 2 / 3), to]


def _toward(origin: Point, target: Point, reach: float) -> Point:
    length = math.dist(origin, target)
    if length == 0:
        return origin
    return (
        origin[0] + (target[0] - origin[0]) * reach / length,
        origin[1] + (target[1] - origin[1]) * reach / length,
    )


def _without_repeats(points: Iterable[Point]) -> Iterable[Point]:
    last = None
    for point in points:
        if last is None or math.dist(point, last) > 1e-6:
            yield point
        last = point

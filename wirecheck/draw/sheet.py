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
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from wirecheck.draw.letters import BOLD_FAMILY, FAMILY, printable, text_width

Point = tuple[float, float]
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
    `radius`; or, with `curve`, its points are those of cubic Beziers.
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
    """What is drawn, from the ground up: frames, then lines, then spots and words."""

    title: str
    ground: str
    width: float = 0.0
    height: float = 0.0
    left: float = 0.0
    top: float = 0.0
    frames: list[Frame] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    marks: list[Spot | Words] = field(default_factory=list)

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


def dot_source(sheet: Sheet) -> str:
    """The sheet as Graphviz source, for the engine `nop2` (that is `neato -n2`).

    >>> sheet = Sheet("nothing", "#ffffff", 100, 50)
    >>> print(dot_source(sheet))
    graph nothing {
    ...
    """
    import graphviz

    graph = graphviz.Graph(
        name=printable(sheet.title) or "board",
        graph_attr={"bgcolor": sheet.ground, "pad": "0", "margin": "0"},
        node_attr={"label": "", "fixedsize": "true", "margin": "0", "fontname": FAMILY, "shape": "none"},
        engine="neato",
    )
    page = Frame(
        "page", sheet.title, sheet.left, sheet.top, sheet.width, sheet.height, sheet.ground, sheet.ground
    )
    for frame in (page, *sheet.frames):
        graph.node(
            f"{frame.id} frame",
            id=frame.id,
            tooltip=_plain(frame.title),
            pos=_at(frame.x + frame.width / 2, frame.y + frame.height / 2),
            shape="box",
            width=_n(frame.width / 72, 5),
            height=_n(frame.height / 72, 5),
            style="rounded,filled" if frame.rounded else "filled",
            fillcolor=frame.fill,
            color=frame.stroke,
            penwidth=_n(frame.pen),
            **{"class": frame.kind},
        )
    paths = [[_spline(piece, line) for piece in line.pieces] for line in sheet.lines]
    names = [(line.tail or f"{line.id} from", line.head or f"{line.id} to") for line in sheet.lines]
    with graph.subgraph(node_attr={"style": "invis", "width": "0", "height": "0"}) as anchors:
        for path, (tail, head) in zip(paths, names, strict=True):
            anchors.node(tail, pos=_at(*path[0][0]))
            anchors.node(head, pos=_at(*path[-1][-1]))
    for line, path, (tail, head) in zip(sheet.lines, paths, names, strict=True):
        told = {"tooltip": _plain(line.title)} if line.title else {}
        dash = {"style": line.dash} if line.dash != "solid" else {}
        graph.edge(
            tail,
            head,
            id=line.id,
            pos=";".join(" ".join(_at(x, y) for x, y in spline) for spline in path),
            color=line.color,
            penwidth=_n(line.pen),
            **{"class": line.kind, **told, **dash},
        )
    for mark in sheet.marks:
        if isinstance(mark, Spot):
            told = {"tooltip": _plain(mark.title)} if mark.title else {}
            graph.node(
                f"{mark.id} spot",
                id=mark.id,
                pos=_at(mark.x, mark.y),
                shape=mark.shape,
                width=_n(mark.width / 72, 5),
                height=_n(mark.height / 72, 5),
                style="filled",
                fillcolor=mark.fill,
                color=mark.stroke,
                penwidth=_n(mark.pen),
                **{"class": mark.kind, **told},
            )
        elif mark.text.strip():
            told = {"tooltip": _plain(mark.title)} if mark.title else {}
            bold = {"fontname": BOLD_FAMILY} if mark.bold else {}
            graph.node(
                f"{mark.id} words",
                label=_plain(mark.text) + ALIGN[mark.align],
                id=mark.id,
                pos=_at(mark.x, mark.y),
                width=_n(mark.width / 72, 5),
                height="0",
                fontsize=_n(mark.size),
                fontcolor=mark.color,
                **{"class": mark.kind, **told, **bold},
            )
    return str(graph.source)


def _plain(text: str) -> str:
    """Text that Graphviz prints as it stands: no escapes, no entities, no HTML."""
    import graphviz

    return str(graphviz.escape(printable(text).replace("&", "&amp;")))


def _at(x: float, y: float) -> str:
    """A point as Graphviz reads it."""
    return f"{_n(x)},{_n(-y)}"


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

"""A sheet of shapes in their places, and the sheet as a Graphviz graph.

Frames become clusters, lines become edges with their own path, and everything
that stands at a point becomes a node; Graphviz draws them where they are
(engine `nop2`: positions and paths given). Points are (x, y) in points of
1/72 in, y downwards; Graphviz counts y upwards, and this is the one place
that turns it over.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from wirecheck.draw.letters import BOLD_FAMILY, FAMILY, printable, text_width

Point = tuple[float, float]


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
    """A path through points, its corners rounded by `radius`; or, with `curve`, one cubic Bezier."""

    id: str
    title: str
    points: tuple[Point, ...]
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
        words = Words(name, text, x + shift, y, size, color, bold, title, kind)
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
        graph_attr={"outputorder": "edgesfirst", "bgcolor": sheet.ground, "pad": "0", "margin": "0"},
        node_attr={"label": "", "fixedsize": "true", "margin": "0", "fontname": FAMILY},
        engine="neato",
    )
    page = Frame("page", sheet.title, 0, 0, sheet.width, sheet.height, sheet.ground, sheet.ground)
    for frame in (page, *sheet.frames):
        with graph.subgraph(name=f"cluster {frame.id}") as cluster:
            cluster.attr(
                id=frame.id,
                tooltip=_plain(frame.title),
                bb=f"{_n(frame.x)},{_n(-frame.y - frame.height)},{_n(frame.x + frame.width)},{_n(-frame.y)}",
                style="rounded,filled" if frame.rounded else "filled",
                fillcolor=frame.fill,
                color=frame.stroke,
                penwidth=_n(frame.pen),
                **{"class": frame.kind},
            )
    for line in sheet.lines:
        path = tuple(line.points) if line.curve else _rounded(line.points, line.radius)
        tail, head = line.tail or f"{line.id} from", line.head or f"{line.id} to"
        for name, (x, y) in ((tail, path[0]), (head, path[-1])):
            graph.node(name, pos=f"{_n(x)},{_n(-y)}", style="invis", width="0", height="0")
        graph.edge(
            tail,
            head,
            id=line.id,
            tooltip=_plain(line.title),
            pos=" ".join(f"{_n(x)},{_n(-y)}" for x, y in path),
            color=line.color,
            penwidth=_n(line.pen),
            style=line.dash,
            **{"class": line.kind},
        )
    for mark in sheet.marks:
        if isinstance(mark, Spot):
            graph.node(
                f"{mark.id} spot",
                id=mark.id,
                tooltip=_plain(mark.title),
                pos=f"{_n(mark.x)},{_n(-mark.y)}",
                shape=mark.shape,
                width=_n(mark.width / 72, 5),
                height=_n(mark.height / 72, 5),
                style="filled",
                fillcolor=mark.fill,
                color=mark.stroke,
                penwidth=_n(mark.pen),
                **{"class": mark.kind},
            )
        elif mark.text.strip():
            graph.node(
                f"{mark.id} words",
                label=_plain(mark.text),
                fontname=BOLD_FAMILY if mark.bold else FAMILY,
                id=mark.id,
                tooltip=_plain(mark.title or mark.text),
                pos=f"{_n(mark.x)},{_n(-mark.y)}",
                shape="plain",
                fontsize=_n(mark.size),
                fontcolor=mark.color,
                **{"class": mark.kind},
            )
    return str(graph.source)


def _plain(text: str) -> str:
    """Text that Graphviz prints as it stands: no escapes, no entities, no HTML."""
    import graphviz

    return str(graphviz.escape(printable(text).replace("&", "&amp;")))


def _n(value: float, digits: int = 2) -> str:
    text = f"{value:.{digits}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


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

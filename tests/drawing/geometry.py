"""What a picture shows, read back from its SVG alone."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import reportlab
from PIL import ImageFont

from wirecheck.drawing.sheet import Words

SVG = "{http://www.w3.org/2000/svg}"
FONTS = Path(reportlab.__file__).parent / "fonts"
Point = tuple[float, float]
Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Shape:
    """A group with an id: its classes, its outline, its strokes and fills, its text."""

    id: str
    classes: frozenset[str]
    points: tuple[Point, ...]
    stroke: str
    fill: str
    width: float
    text: str = ""
    box: Box = (0, 0, 0, 0)


@dataclass
class Picture:
    """Everything in a picture that has an id, in the order of drawing."""

    shapes: list[Shape] = field(default_factory=list)

    def of(self, name: str) -> list[Shape]:
        """The shapes of a class."""
        return [shape for shape in self.shapes if name in shape.classes]

    @property
    def texts(self) -> list[Shape]:
        """Every line of text."""
        return [shape for shape in self.shapes if shape.text]

    def words(self, sign: str) -> list[Shape]:
        """The lines of words at a sign."""
        return [text for text in self.texts if text.id.startswith(f"{sign}.words-")]


@lru_cache(maxsize=64)
def _font(bold: bool) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(str(FONTS / ("VeraBd.ttf" if bold else "Vera.ttf")), 1000)


@lru_cache(maxsize=4096)
def _width(text: str, bold: bool) -> float:
    """Width in em, measured by FreeType, which the drawing does not use."""
    return _font(bold).getlength(text) / 1000


def read(svg: str) -> Picture:
    """Read a picture."""
    root = ElementTree.fromstring(svg.encode("utf-8"))
    graph = root.find(f"{SVG}g")
    assert graph is not None
    shift = re.search(r"translate\(([-\d.]+) ([-\d.]+)\)", graph.get("transform", ""))
    assert shift is not None
    dx, dy = float(shift[1]), float(shift[2])
    picture = Picture()
    for group in graph.findall(f"{SVG}g"):
        name = group.get("id", "")
        classes = frozenset(group.get("class", "").split())
        for element in group.iter():
            shape = _shape(element, name, classes, dx, dy)
            if shape is not None:
                picture.shapes.append(shape)
    return picture


def _shape(
    element: ElementTree.Element, name: str, classes: frozenset[str], dx: float, dy: float
) -> Shape | None:
    tag = element.tag.removeprefix(SVG)
    stroke, fill = element.get("stroke", "none"), element.get("fill", "none")
    width = float(element.get("stroke-width", "1"))
    if tag == "text":
        x, y, size = (
            float(element.get("x", 0)) + dx,
            float(element.get("y", 0)) + dy,
            float(element.get("font-size", 0)),
        )
        text = element.text or ""
        width = _width(text, element.get("font-weight") == "bold") * size
        x -= {"start": 0.0, "middle": width / 2, "end": width}[element.get("text-anchor", "start")]
        # Letters of this face reach from 0.76 em over the line to 0.24 em under it.
        box = (x, y - 0.76 * size, x + width, y + 0.24 * size)
        return Shape(name, classes, ((x, y),), stroke, fill, 0, text, box)
    if tag == "path":
        points = _path(element.get("d", ""))
    elif tag in ("polygon", "polyline"):
        pairs = [pair.split(",") for pair in element.get("points", "").split()]
        points = [(float(x), float(y)) for x, y in pairs]
    elif tag == "ellipse":
        cx, cy = float(element.get("cx", 0)), float(element.get("cy", 0))
        rx, ry = float(element.get("rx", 0)), float(element.get("ry", 0))
        points = [(cx - rx, cy - ry), (cx + rx, cy + ry)]
    else:
        return None
    moved = tuple((x + dx, y + dy) for x, y in points)
    xs, ys = [x for x, _ in moved], [y for _, y in moved]
    return Shape(name, classes, moved, stroke, fill, width, "", (min(xs), min(ys), max(xs), max(ys)))


def _path(d: str) -> list[Point]:
    """The points along a path of Bezier pieces, a few for each piece."""
    numbers = [float(number) for number in re.findall(r"-?[\d.]+(?:e-?\d+)?", d)]
    assert set(re.findall(r"[A-Za-z]", d)) <= {"M", "C"}, d
    pairs = list(zip(numbers[::2], numbers[1::2], strict=True))
    points = [pairs[0]]
    for start in range(0, len(pairs) - 1, 3):
        a, b, c, e = pairs[start : start + 4]
        for step in (0.25, 0.5, 0.75, 1.0):
            u = 1 - step
            points.append(
                tuple(
                    u**3 * a[k] + 3 * u * u * step * b[k] + 3 * u * step * step * c[k] + step**3 * e[k]
                    for k in (0, 1)
                )
            )
    return points


def overlap(one: Box, other: Box, slack: float = 0.0) -> bool:
    """Whether two boxes share more than `slack` both ways."""
    return (
        min(one[2], other[2]) - max(one[0], other[0]) > slack
        and min(one[3], other[3]) - max(one[1], other[1]) > slack
    )


def inside(inner: Box, outer: Box, slack: float = 0.1) -> bool:
    """Whether a box lies in another."""
    return (
        inner[0] >= outer[0] - slack
        and inner[1] >= outer[1] - slack
        and inner[2] <= outer[2] + slack
        and inner[3] <= outer[3] + slack
    )


def crosses(shape: Shape, box: Box) -> bool:
    """Whether a path enters a box."""
    if not _meet(shape.box, box):
        return False
    x0, y0, x1, y1 = box
    return any(
        _segment_in(a, b, box)
        for a, b in pairwise(shape.points)
        if not (a[0] < x0 > b[0] or a[0] > x1 < b[0] or a[1] < y0 > b[1] or a[1] > y1 < b[1])
    )


def _meet(one: Box, other: Box) -> bool:
    return one[0] <= other[2] and other[0] <= one[2] and one[1] <= other[3] and other[1] <= one[3]


def _segment_in(a: Point, b: Point, box: Box) -> bool:
    """Liang and Barsky's clipping: whether a piece of the segment lies inside."""
    low, high = 0.0, 1.0
    for axis, least, most in ((0, box[0], box[2]), (1, box[1], box[3])):
        step = b[axis] - a[axis]
        if abs(step) < 1e-9:
            if not least < a[axis] < most:
                return False
            continue
        one, other = (least - a[axis]) / step, (most - a[axis]) / step
        low, high = max(low, min(one, other)), min(high, max(one, other))
    return low < high


def near(points: tuple[Point, ...], spot: Point, reach: float) -> bool:
    """Whether a path comes within `reach` of a point."""
    for (x0, y0), (x1, y1) in pairwise(points):
        length = (x1 - x0) ** 2 + (y1 - y0) ** 2
        t = 0.0 if length == 0 else ((spot[0] - x0) * (x1 - x0) + (spot[1] - y0) * (y1 - y0)) / length
        t = min(1.0, max(0.0, t))
        dx, dy = x0 + t * (x1 - x0) - spot[0], y0 + t * (y1 - y0) - spot[1]
        if dx * dx + dy * dy <= reach * reach:
            return True
    return False


def stands_on(word: Shape | Words) -> str:
    """The wire in whose gap a word stands: that of a wire's end, a jumper, or a breaker's own lead."""
    if word.id.startswith(("jumper-", "lead-")):
        return word.id.removesuffix("-within")
    return f"conductor-{word.id.removeprefix('within-').partition('@')[0]}"


def middle(shape: Shape) -> Point:
    """The middle of a shape's box."""
    x0, y0, x1, y1 = shape.box
    return (x0 + x1) / 2, (y0 + y1) / 2


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colors (WCAG 2.2, relative luminance of sRGB)."""

    def luminance(color: str) -> float:
        value = {"white": "#ffffff", "black": "#000000"}.get(color, color).lstrip("#")
        parts = []
        for place in (0, 2, 4):
            channel = int(value[place : place + 2], 16) / 255
            parts.append(channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4)
        return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]

    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)

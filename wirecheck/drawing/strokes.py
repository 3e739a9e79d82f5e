"""A pen that gathers the strokes of a sign: where it stands, how large, lying along a wire or upright."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field

from wirecheck.drawing.colors import Page
from wirecheck.drawing.sheet import Line, Point, Sheet, straight

PEN = 1.3


@dataclass
class Strokes:
    """Gathers strokes in a page's ink; the strokes of one sign become one line a pen.

    A sign is drawn around (0, 0), its leads to the left and right; `at` puts it where it belongs.
    """

    sheet: Sheet
    page: Page
    strokes: dict[tuple[float, str], list[tuple[Point, ...]]] = field(default_factory=dict)
    letters: list[tuple[str, float, float]] = field(default_factory=list)
    origin: Point = (0.0, 0.0)
    scale: float = 1.0
    upright: int = 0

    @contextmanager
    def at(self, x: float, y: float, scale: float = 1.0, upright: int = 0) -> Iterator[None]:
        """Draw around a point; `upright` has the left lead on top, its upper side right (1), left (-1)."""
        self.origin, self.scale, self.upright = (x, y), scale, upright
        yield
        self.origin, self.scale, self.upright = (0.0, 0.0), 1.0, 0

    def put(self, point: Point) -> Point:
        """Where a point of a sign is on the sheet."""
        x, y = (-self.upright * point[1], point[0]) if self.upright else point
        return self.origin[0] + self.scale * x, self.origin[1] + self.scale * y

    def line(self, *points: Point, pen: float = PEN, dash: str = "solid") -> None:
        """Straight pieces through points."""
        self.curve(*straight(points), pen=pen, dash=dash)

    def curve(self, *points: Point, pen: float = PEN, dash: str = "solid") -> None:
        """Cubic Bezier pieces."""
        self.strokes.setdefault((pen, dash), []).append(tuple(self.put(point) for point in points))

    def circle(self, x: float, y: float, r: float, pen: float = PEN) -> None:
        """A circle, from four Bezier pieces."""
        k = r * 0.5523
        self.curve(
            (x + r, y), (x + r, y + k), (x + k, y + r), (x, y + r),
            (x - k, y + r), (x - r, y + k), (x - r, y),
            (x - r, y - k), (x - k, y - r), (x, y - r),
            (x + k, y - r), (x + r, y - k), (x + r, y),
            pen=pen,
        )  # fmt: skip

    def dot(self, x: float, y: float) -> None:
        """A filled dot: a ring so small that its pen fills it."""
        self.circle(x, y, 1.0, pen=2.0)

    def box(self, wide: float, high: float, x: float = 0.0, y: float = 0.0, pen: float = PEN) -> None:
        """A rectangle around a point, by half its width and half its height."""
        left, right, top, low = x - wide, x + wide, y - high, y + high
        self.line((left, top), (right, top), (right, low), (left, low), (left, top), pen=pen)

    def letter(self, text: str, x: float = 0.0, y: float = 0.0) -> None:
        """A letter in a sign, as M for a motor."""
        self.letters.append((text, *self.put((x, y))))

    def lifted(self, name: str, title: str, color: str, kind: str, size: float, stroke: str = "-") -> None:
        """Put what was drawn since the last time on the sheet, under a name and in one color."""
        for number, ((pen, dash), pieces) in enumerate(self.strokes.items()):
            line = Line(
                f"{name}{stroke}{number + 1}" if number else name, title, tuple(pieces), color, pen, dash,
                curve=True, kind=kind,
            )  # fmt: skip
            self.sheet.lines.append(line)
        mark = f"{name}.letter" if stroke != "-" else f"{name}-letter"
        for text, x, y in self.letters:
            self.sheet.write(mark, text, x, y, size, color, bold=True, kind="letter")
        self.strokes, self.letters = {}, []

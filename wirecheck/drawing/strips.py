"""A drawing pulled apart where it is cut: what goes through has a straight piece on both sheets.

A cut may have to go close over the screws of a device or beside a rail. As nothing on a diagram has a length,
a strip is let in there where a sheet has room for it, and what goes through is so much longer.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import replace
from itertools import accumulate, pairwise

from wirecheck.drawing.boxes import frame_box, mark_box
from wirecheck.drawing.cuts import Cut, is_head
from wirecheck.drawing.sheet import Frame, Line, Point, Sheet, Spot, Words


def pulled(sheet: Sheet, cut: Cut) -> tuple[Sheet, Cut]:
    """A drawing with its strips, and where it is cut then."""
    across, down = (
        Pull(places, strips) for places, strips in zip((cut.across, cut.down), cut.strips, strict=True)
    )
    pull = _Pulled(across, down)
    longer = replace(
        sheet,
        frames=[pull.frame(frame) for frame in sheet.frames],
        lines=[pull.line(line) for line in sheet.lines],
        marks=[mark if is_head(mark) else pull.mark(mark) for mark in sheet.marks],
    )
    return longer, cut._replace(across=across.cuts, down=down.cuts, strips=((), ()))


class Pull:
    """How far what is at a place along an axis is moved.

    Parameters
    ----------
    places : where a drawing begins, is cut, and ends.
    strips : how much each sheet has at each of its cuts; nothing where nothing is let in.

    Examples
    --------
    >>> pull = Pull((0, 50, 90), (20, 10))
    >>> pull.at(49), pull.at(50), pull.cuts
    (49.0, 80, (0, 70.0, 120))
    """

    def __init__(self, places: Sequence[float], strips: Sequence[float]) -> None:
        strips = strips or [0.0] * (len(places) - 1)
        self.inner = places[1:-1]
        self.moved = [0.0, *accumulate(one + other for one, other in pairwise(strips))]
        inner = [at + more + own for at, more, own in zip(self.inner, self.moved, strips, strict=False)]
        self.cuts = (places[0], *inner, places[-1] + self.moved[-1])

    def at(self, place: float) -> float:
        """Where what was at a place is."""
        return place + self.moved[bisect_right(self.inner, place)]


class _Pulled:
    """Moves shapes: what is small goes as a whole, all else is so much longer as is let in on its way."""

    def __init__(self, across: Pull, down: Pull) -> None:
        self.across, self.down = across, down

    def point(self, point: Point) -> Point:
        return self.across.at(point[0]), self.down.at(point[1])

    def frame(self, frame: Frame) -> Frame:
        left, right, top, low = frame_box(frame)
        (x, y), (end, bottom) = self.point((left, top)), self.point((right, low))
        return replace(frame, x=x, y=y, width=end - x, height=bottom - y)

    def line(self, line: Line) -> Line:
        if not line.curve:
            pieces = tuple(tuple(map(self.point, piece)) for piece in line.pieces)
            return replace(line, pieces=pieces)
        return replace(line, pieces=tuple(map(self.whole, line.pieces)))

    def whole(self, piece: tuple[Point, ...]) -> tuple[Point, ...]:
        """A curve, moved with its middle."""
        middle = [(min(each) + max(each)) / 2 for each in zip(*piece, strict=True)]
        x, y = self.point((middle[0], middle[1]))
        return tuple((one + x - middle[0], other + y - middle[1]) for one, other in piece)

    def mark(self, mark: Spot | Words) -> Spot | Words:
        if isinstance(mark, Words) or mark.shape != "box":
            x, y = self.point((mark.x, mark.y))
            return replace(mark, x=x, y=y)
        left, right, top, low = mark_box(mark)
        (x, y), (end, bottom) = self.point((left, top)), self.point((right, low))
        return replace(mark, x=(x + end) / 2, y=(y + bottom) / 2, width=end - x, height=bottom - y)

"""From where to where the shapes of a drawing are."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from wirecheck.drawing.sheet import Frame, Line, Point, Sheet, Spot, Words

Box = tuple[float, float, float, float]
"""From where to where across, and from where to where down."""


def frame_box(frame: Frame) -> Box:
    """Where a frame is.

    >>> frame_box(Frame("room-A", "", 10, 20, 30, 40, "#ffffff", "#000000"))
    (10, 40, 20, 60)
    """
    return frame.x, frame.x + frame.width, frame.y, frame.y + frame.height


def line_box(line: Line) -> Box:
    """Where a line is, with its pen.

    >>> line_box(Line("w", "", (((0, 0), (9, 4)),), "#000000", 2.0))
    (-1.0, 10.0, -1.0, 5.0)
    """
    points: list[Point] = [point for piece in line.pieces for point in piece]
    half = line.pen / 2
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs) - half, max(xs) + half, min(ys) - half, max(ys) + half


def mark_box(mark: Spot | Words) -> Box:
    """Where a spot or words are.

    >>> mark_box(Spot("s", "", 10, 20, 6, 4, "#ffffff", "#000000"))
    (7.0, 13.0, 18.0, 22.0)
    """
    high = mark.size if isinstance(mark, Words) else mark.height
    return mark.x - mark.width / 2, mark.x + mark.width / 2, mark.y - high / 2, mark.y + high / 2


def extent(sheet: Sheet) -> Box:
    """From where to where a drawing has something; its own edges where it has nothing.

    >>> extent(Sheet("nothing", "#ffffff", 90, 50))
    (0.0, 90.0, 0.0, 50.0)
    """
    boxes = [
        *map(frame_box, sheet.frames),
        *(line_box(line) for line in sheet.lines if any(line.pieces)),
        *(mark_box(mark) for mark in sheet.marks if isinstance(mark, Spot) or mark.text.strip()),
    ]
    if not boxes:
        return sheet.left, sheet.left + sheet.width, sheet.top, sheet.top + sheet.height
    left, right, top, bottom = zip(*boxes, strict=True)
    return min(left), max(right), min(top), max(bottom)


def frame_in(frame: Frame, box: Box) -> Frame | None:
    """What of a frame is in a box.

    >>> frame_in(Frame("room-A", "", 10, 20, 30, 40, "#ffffff", "#000000"), (0, 20, 0, 90)).width
    10
    """
    left, right, top, bottom = frame_box(frame)
    x, y, width, height = max(left, box[0]), max(top, box[2]), min(right, box[1]), min(bottom, box[3])
    if x >= width or y >= height:
        return None
    return replace(frame, x=x, y=y, width=width - x, height=height - y)


def mark_in(mark: Spot | Words, box: Box) -> Spot | Words:
    """A mark, of a spot with corners what is in a box.

    >>> mark_in(Spot("s", "", 10, 20, 6, 4, "#ffffff", "#000000", "box"), (0, 11, 0, 90)).width
    4.0
    """
    if isinstance(mark, Words) or mark.shape != "box":
        return mark
    left, right, top, bottom = mark_box(mark)
    left, right, top, bottom = max(left, box[0]), min(right, box[1]), max(top, box[2]), min(bottom, box[3])
    middle = ((left + right) / 2, (top + bottom) / 2)
    return replace(mark, x=middle[0], y=middle[1], width=right - left, height=bottom - top)


def line_in(line: Line, box: Box) -> Line | None:
    """What of a line is in a box; of curves those that begin in it.

    >>> line_in(Line("w", "", (((0, 0), (90, 0), (90, 90)),), "#000000"), (10, 95, -5, 5)).pieces
    (((10.0, 0.0), (90, 0), (90.0, 5.0)),)
    """
    found: list[tuple[Point, ...]] = []
    for piece in line.pieces:
        if line.curve:
            found += [piece] if piece and _is_in(piece[0], box) else []
            continue
        path: list[Point] = []
        for one, other in pairwise(piece):
            part = _part(one, other, box)
            if part and path[-1:] == [part[0]]:
                path.append(part[1])
            elif part:
                found.append(tuple(path))
                path = list(part)
        found.append(tuple(path))
    pieces = tuple(piece for piece in found if piece)
    return replace(line, pieces=pieces) if pieces else None


def _is_in(point: Point, box: Box) -> bool:
    return box[0] <= point[0] <= box[1] and box[2] <= point[1] <= box[3]


def _part(one: Point, other: Point, box: Box) -> tuple[Point, Point] | None:
    """What of a straight line is in a box (the way of Liang and Barsky)."""
    first, last = 0.0, 1.0
    for axis in (0, 1):
        low, high, step = box[2 * axis], box[2 * axis + 1], other[axis] - one[axis]
        if step == 0:
            if not low <= one[axis] <= high:
                return None
            continue
        ends = sorted(((low - one[axis]) / step, (high - one[axis]) / step))
        first, last = max(first, ends[0]), min(last, ends[1])
    if first > last:
        return None

    def at(part: float) -> Point:
        return one[0] + part * (other[0] - one[0]), one[1] + part * (other[1] - one[1])

    return one if first == 0 else at(first), other if last == 1 else at(last)

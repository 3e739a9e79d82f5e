"""Where on a drawing nothing stands, so that its key or the list of its findings may."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from wirecheck.drawing.places import LABEL_LINE, Cable
from wirecheck.drawing.rooms import Room
from wirecheck.drawing.sheet import Point

CLEAR = 14.0
"""How far what is put there is from all else."""
FEW = 200
"""Among more things than these no place is looked for."""

Box = tuple[float, float, float, float]
"""Left, upper, right and lower edge."""


def busy(rooms: Sequence[Room], cables: Sequence[Cable], words: Mapping[str, float]) -> Iterator[Box]:
    """What stands outside of the rooms, and the rooms.

    Parameters
    ----------
    words : how wide the label of each bundle is, by the bundle's name.
    """
    for room in rooms:
        yield room.x, room.y - room.lift, room.x + room.width, room.y + room.height
    for cable in cables:
        one = cable.ports[0]
        if one.inner:
            continue
        wide = words[cable.bundle.name]
        top = one.y - cable.half - 6 - LABEL_LINE * len(cable.bundle.words)
        yield (one.wall - wide if one.left else one.wall), top, one.wall + (0 if one.left else wide), one.y
        for (x0, y0), (x1, y1) in pairwise(cable.path):
            half = cable.half + 1
            yield min(x0, x1) - half, min(y0, y1) - half, max(x0, x1) + half, max(y0, y1) + half


def free_place(taken: Sequence[Box], within: Point, width: float, height: float) -> Point | None:
    """The lowest place of this size where nothing is, and of those the one farthest to the left.

    Parameters
    ----------
    within : how far the drawing reaches to the right and down.

    Returns
    -------
    Its upper left corner, or None where there is no such place.

    Examples
    --------
    >>> free_place([(0, 0, 100, 40), (60, 0, 100, 100)], (100, 100), 40, 20)
    (0.0, 80)
    >>> free_place([(0, 0, 100, 40), (60, 0, 100, 100)], (100, 100), 50, 20) is None
    True
    """
    if len(taken) > FEW:
        return None
    found = []
    for x in sorted({0.0, *(right + CLEAR for _, _, right, _ in taken)}):
        if x + width > within[0]:
            break
        over = [box for box in taken if box[0] - CLEAR < x + width and x < box[2] + CLEAR]
        low = within[1]
        for _, top, _, bottom in sorted(over, key=lambda box: -box[3]):
            if low - bottom - CLEAR >= height:
                break
            low = min(low, top - CLEAR)
        if low >= height:
            found.append((-low, x))
    if not found:
        return None
    low, x = min(found)
    return x, -low - height

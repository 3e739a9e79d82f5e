"""The upright wires of a room: what lies level in it keeps off them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from wirecheck.drawing.copper import screw_top
from wirecheck.drawing.rooms import Room

OFF = 9.0
"""From the middle of an upright wire to the middle of what ends beside it."""


class Upright(NamedTuple):
    """A wire that stands upright: its place, and its upper and lower end."""

    x: float
    top: float
    bottom: float


def uprights(room: Room) -> Iterator[Upright]:
    """Each upright piece of a wire between its row and its screw."""

    def between(x: float, *heights: float) -> Upright:
        return Upright(room.x + x, min(heights), max(heights))

    for tail in room.direct:
        if tail.pin is not None:
            yield between(tail.x, tail.pin.y, screw_top(room, tail))
    for splice in room.splices:
        # Its further pigtails branch off at the height of their link, which may be beyond its wires.
        rows = [*(pin.y for pin in splice.pins), *([room.y + splice.link_y] if splice.tails[1:] else ())]
        yield between(splice.x, *rows, *(screw_top(room, tail) for tail in splice.tails[:1]))
        for tail in splice.tails[1:]:
            yield between(tail.x, room.y + splice.link_y, screw_top(room, tail))
    for ends, level in zip(room.jumpers, room.jumper_at, strict=True):
        for tail in ends:
            yield between(tail.x, room.y + level, screw_top(room, tail))


def clear_end(x: float, y: float, way: int, standing: Sequence[Upright]) -> float:
    """Where a level wire that comes along at y may end at x or beyond it, on no upright wire.

    >>> clear_end(100, 50, 1, [Upright(96, 0, 80), Upright(108, 0, 80), Upright(101, 60, 80)])
    117.0
    """
    for upright in sorted(standing, key=lambda upright: upright.x * way):
        if upright.top - OFF < y < upright.bottom + OFF and abs(upright.x - x) < OFF:
            x = upright.x + OFF * way
    return x


def widest_gap(left: float, right: float, y: float, standing: Sequence[Upright]) -> tuple[float, float]:
    """The widest piece of a level wire at y between its ends, where no upright wire crosses it.

    >>> widest_gap(100, 200, 50, [Upright(130, 0, 80), Upright(150, 60, 80)])
    (130, 200)
    """
    crossing = [each.x for each in standing if each.top <= y <= each.bottom and left < each.x < right]
    return max(pairwise([left, *sorted(crossing), right]), key=lambda gap: gap[1] - gap[0])

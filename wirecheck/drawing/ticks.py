"""Short strokes across a wire that tell its color where all is printed in black and white.

Red, green and blue are nearly one gray, so each color that has no gray of its own has its own strokes.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from wirecheck.drawing.colors import UNTOLD, contrast
from wirecheck.drawing.sheet import Point, straight

TICKS = {
    "red": (1, 0),
    "blue": (2, 0),
    "green": (3, 0),
    "green-yellow": (3, 0),
    "orange": (1, 1),
    "brown": (2, 1),
    "yellow": (3, 1),
    "purple": (1, -1),
    "violet": (1, -1),
    "pink": (2, -1),
    "gray": (3, -1),
    "grey": (3, -1),
    "tan": (4, -1),
    UNTOLD: (4, 1),
}
"""How many strokes, and which way they lean, by insulation; black, white and bare have none."""
HALF = 2.8
"""How far a stroke reaches to either side: conductors in a jacket are 6 points apart."""
BETWEEN, EVERY, CLEAR = 2.6, 42.0, 7.0
LEAN = 1.4


def ticks(path: list[Point], color: str) -> tuple[tuple[Point, ...], ...]:
    """The strokes along a wire's way, clear of its corners; none for a color that has none.

    >>> len(ticks([(0, 0), (30, 0)], "blue")), ticks([(0, 0), (30, 0)], "white")
    (2, ())
    """
    count, lean = TICKS.get(color, (0, 0))
    if not count:
        return ()
    return tuple(
        straight(stroke) for one, other in pairwise(path) for stroke in _along(one, other, count, lean * LEAN)
    )


def _along(one: Point, other: Point, count: int, lean: float) -> Iterator[list[Point]]:
    """Groups of strokes along one straight piece, evenly."""
    length = math.dist(one, other)
    wide = (count - 1) * BETWEEN
    if length < wide + 2 * CLEAR:
        return
    x, y = (other[0] - one[0]) / length, (other[1] - one[1]) / length
    # A wire that is drawn from its other end leans the same way.
    lean = lean if (x, y) > (-y, x) else -lean
    groups = max(1, round(length / EVERY))
    for group in range(groups):
        start = length * (group + 0.5) / groups - wide / 2
        for number in range(count):
            at = start + number * BETWEEN
            a, b = at - lean, at + lean
            yield [
                (one[0] + x * a - y * HALF, one[1] + y * a + x * HALF),
                (one[0] + x * b + y * HALF, one[1] + y * b - x * HALF),
            ]


def stroke_color(paint: str, ground: str) -> str:
    """The color of the strokes: the wire's own where it is dark enough to be seen, else black or white.

    >>> stroke_color("#d01c1f", "#ffffff"), stroke_color("#f5d000", "#ffffff")
    ('#d01c1f', '#1a1a1a')
    """
    if contrast(paint, ground) >= 4.5:
        return paint
    return "#1a1a1a" if contrast("#1a1a1a", ground) > contrast("#ffffff", ground) else "#ffffff"

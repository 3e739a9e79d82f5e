"""At which heights wires lie level that join the screws of a room, so that they cross seldom and turn soon.

Each has a level of its own between the rows of wires and the screws, or one that it shares with another that
lies beside it. What joins screws close by lies close to these, under what reaches farther.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import NamedTuple

APART, MOST_APART = 14.0, 18.0
"""How far levels are from one another: a flag has its room on each."""
EDGE = 9.0
"""How far they are at least from the rows of wires, and from where these meet the screws."""
BESIDE = 14.0
"""How far two wires that share a level are at least from one another."""
MOST_LOOKS = 200_000
"""How often at most one is held against another while they are put in order again and again."""


class Level(NamedTuple):
    """A wire that lies level: where pieces of it go up from there, and where pieces go down."""

    up: tuple[float, ...]
    down: tuple[float, ...]

    @property
    def left(self) -> float:
        """Its left end."""
        return min(self.up + self.down)

    @property
    def right(self) -> float:
        """Its right end."""
        return max(self.up + self.down)

    def passes(self, other: Level) -> tuple[int, int]:
        """How much oftener two wires cross if this one lies under the other, and how much longer they are."""
        left, right, start, end = self.left, self.right, other.left, other.right
        crossed = sum(start < x < end for x in self.up) - sum(start < x < end for x in self.down)
        crossed += sum(left < x < right for x in other.down) - sum(left < x < right for x in other.up)
        return crossed, 2 * (len(self.up) - len(self.down) + len(other.down) - len(other.up))

    def meets(self, other: Level) -> bool:
        """Whether they are too close to one another to share a level."""
        return self.left < other.right + BESIDE and other.left < self.right + BESIDE


def height_of(count: int) -> float:
    """How high the room of so many is, each on a level of its own.

    Fewer levels have it, too: so a wire that is put elsewhere moves nothing but itself.
    """
    return 2 * EDGE + APART * (count - 1) if count else 0.0


def heights(levels: Sequence[Level], top: float, over: bool) -> list[float]:
    """The height of each in their room, which begins at the top; the screws are `over` it or under it."""
    if not levels:
        return []
    places = stacked(levels)
    high, most = height_of(len(levels)) - 2 * EDGE, max(places)
    step = min(high / max(most, 1), MOST_APART)
    lowest = EDGE + (step * most if over else high)
    return [top + lowest - step * place for place in places]


def stacked(levels: Sequence[Level]) -> list[int]:
    """The height of each, counted from the lowest: in an order in which they cross seldom.

    >>> wide, narrow, beside = (Level((), ends) for ends in ((0, 90), (20, 40), (60, 80)))
    >>> stacked([narrow, wide, beside])
    [0, 1, 0]
    >>> stacked([Level((0, 90), ()), Level((20, 40), ())])
    [0, 1]
    """
    numbers = range(len(levels))
    meeting = [
        [other for other in numbers if other != one and levels[one].meets(levels[other])] for one in numbers
    ]
    order = _ordered(levels, meeting)
    heights: dict[int, int] = {}
    for one in reversed(order):
        under = [heights[other] for other in meeting[one] if other in heights]
        heights[one] = max(under, default=-1) + 1
    most = max(heights.values(), default=0)
    place = {one: number for number, one in enumerate(order)}
    for one in order:
        if len(levels[one].up) > len(levels[one].down):
            above = [heights[other] for other in meeting[one] if place[other] < place[one]]
            heights[one] = min(above, default=most + 1) - 1
    return [heights[number] for number in numbers]


def _ordered(levels: Sequence[Level], meeting: Sequence[Collection[int]]) -> list[int]:
    """Their numbers from the top: each is put where it crosses the fewest of those before."""
    passed = [
        {other: levels[one].passes(levels[other]) for other in near} for one, near in enumerate(meeting)
    ]
    order: list[int] = []
    for one in sorted(range(len(levels)), key=lambda one: levels[one].left - levels[one].right):
        order.insert(_best(order, passed[one]), one)
    for _ in range(min(len(levels), MOST_LOOKS // max(len(levels), 1) ** 2)):
        before = list(order)
        for one in before:
            order.remove(one)
            order.insert(_best(order, passed[one]), one)
        if order == before:
            break
    return order


def _best(order: Sequence[int], passed: Mapping[int, tuple[int, int]]) -> int:
    """The place in an order from the top at which one more crosses the fewest.

    Parameters
    ----------
    passed : of each that it meets how much is gained or lost where it lies under that one.
    """
    crossed = longer = best = 0
    least = (0, 0)
    for place, other in enumerate(order, 1):
        if other in passed:
            more = passed[other]
            crossed, longer = crossed + more[0], longer + more[1]
            if (crossed, longer) < least:
                best, least = place, (crossed, longer)
    return best

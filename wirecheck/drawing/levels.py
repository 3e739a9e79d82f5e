"""At which heights wires lie level that join the screws of a room, so that they cross seldom and turn soon.

Each has a level of its own between the rows of wires and the screws, or one that it shares with another that
lies beside it. What joins screws close by lies close to these, under what reaches farther.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

APART, MOST_APART = 14.0, 18.0
"""How far levels are from one another: a flag has its room on each."""
EDGE = 9.0
"""How far they are at least from the rows of wires, and from where these meet the screws."""
BESIDE = 14.0
"""How far two wires that share a level are at least from one another."""


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

    def over(self, other: Level) -> tuple[int, int]:
        """How often two wires cross if this one lies over the other, and how much longer they are by that."""
        crossed = sum(self.left < x < self.right for x in other.up)
        crossed += sum(other.left < x < other.right for x in self.down)
        return crossed, len(self.down) - len(self.up) + len(other.up) - len(other.down)

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
    places = stacked(levels)
    high, most = height_of(len(levels)) - 2 * EDGE, max(places, default=0)
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
    order = _ordered(levels)
    heights: dict[int, int] = {}
    for one in reversed(order):
        under = [height for other, height in heights.items() if levels[one].meets(levels[other])]
        heights[one] = max(under, default=-1) + 1
    most = max(heights.values(), default=0)
    for place, one in enumerate(order):
        if len(levels[one].up) > len(levels[one].down):
            above = [heights[other] for other in order[:place] if levels[one].meets(levels[other])]
            heights[one] = min(above, default=most + 1) - 1
    return [heights[number] for number in range(len(levels))]


def _ordered(levels: Sequence[Level]) -> list[int]:
    """Their numbers from the top: each is put where it crosses the fewest of those before."""
    order: list[int] = []
    for one in sorted(range(len(levels)), key=lambda one: levels[one].left - levels[one].right):
        order.insert(_best(order, one, levels), one)
    for _ in levels:
        before = list(order)
        for one in before:
            order.remove(one)
            order.insert(_best(order, one, levels), one)
        if order == before:
            break
    return order


def _best(order: Sequence[int], one: int, levels: Sequence[Level]) -> int:
    """The place in an order from the top at which one more crosses the fewest."""
    near = [other for other in order if levels[one].meets(levels[other])]
    costs = [(0, 0)]
    for other in order:
        crossed, longer = costs[-1]
        if other in near:
            under, over = levels[other].over(levels[one]), levels[one].over(levels[other])
            crossed, longer = crossed + under[0] - over[0], longer + under[1] - over[1]
        costs.append((crossed, longer))
    return costs.index(min(costs))

"""What hangs together: the pieces that pairs tie things into.

The same as connected components of a graph, for callers that start before a
graph library is worth loading; checked against one in the tests.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from typing import TypeVar

Thing = TypeVar("Thing", bound=Hashable)


def pieces(things: Iterable[Thing], pairs: Iterable[tuple[Thing, Thing]]) -> dict[Thing, Thing]:
    """For each thing, the one that stands for its piece: the first of the piece in order of `things`.

    Things that only appear in pairs are taken in too, after the others.

    Examples
    --------
    >>> pieces("abcd", [("b", "d")])
    {'a': 'a', 'b': 'b', 'c': 'c', 'd': 'b'}
    """
    head: dict[Thing, Thing] = {thing: thing for thing in things}
    order = {thing: place for place, thing in enumerate(head)}

    def find(thing: Thing) -> Thing:
        while head[thing] != thing:
            head[thing] = thing = head[head[thing]]
        return thing

    for a, b in pairs:
        for thing in (a, b):
            if thing not in head:
                head[thing] = thing
                order[thing] = len(order)
        one, other = find(a), find(b)
        if order[other] < order[one]:
            one, other = other, one
        head[other] = one
    return {thing: find(thing) for thing in head}

"""Which rooms at the ends of the wires stand beside the panel rather than beyond all else.

Columns follow the power, so what a box feeds stands in the column after it. Where nothing leads on from
there, it may as well stand in the column before the box, under the panel: the drawing is then narrower.
"""

from __future__ import annotations

from collections.abc import Sequence

from wirecheck.drawing.rooms import Room

BETWEEN = 20.0
MANY = 6
"""Where more rooms than these are at the ends, none is brought back."""


def brought_back(rooms: Sequence[Room]) -> list[frozenset[str]]:
    """The ways to bring rooms back by two columns: all that may be, those of one column, or one of them.

    Or as many as make the columns even.

    Parameters
    ----------
    rooms : with their sizes, and with none brought back.
    """
    column = {room.name: room.column for room in rooms}
    ends = [room for room in rooms if room.column > 1 and _is_end(room, column)]
    if len(ends) > MANY:
        return []
    ways = [frozenset(room.name for room in ends), _evenly(rooms, ends)]
    ways += [
        frozenset(room.name for room in ends if room.column == at) for at in sorted(set(column.values()))
    ]
    ways += [frozenset([room.name]) for room in ends]
    return [way for way in dict.fromkeys(ways) if way]


def _is_end(room: Room, column: dict[str, int]) -> bool:
    """Whether all that leads to a room comes from the column before it."""
    places = {place for port in (*room.left, *room.right) for place in port.bundle.places}
    return bool(places) and {column[place] for place in places - {room.name}} == {room.column - 1}


def _evenly(rooms: Sequence[Room], ends: Sequence[Room]) -> frozenset[str]:
    heights: dict[int, float] = {}
    for room in rooms:
        heights[room.column] = heights.get(room.column, 0.0) + room.height + BETWEEN
    left, back = list(ends), set()

    def higher(room: Room) -> float:
        """How high the higher one of its two columns is once it is brought back."""
        own = room.height + BETWEEN
        return max(heights[room.column] - own, heights[room.column - 2] + own)

    while left:
        room = min(left, key=higher)
        left.remove(room)
        if higher(room) < max(heights[room.column], heights[room.column - 2]):
            heights[room.column] -= room.height + BETWEEN
            heights[room.column - 2] += room.height + BETWEEN
            back.add(room.name)
    return frozenset(back)

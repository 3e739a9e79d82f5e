"""Which devices of a box stand over its wires and which under them, where there are many.

In one row they would make the box so wide that it fits no sheet. So the wires of such a box run between two
rows of devices, as they run in the wireway of a cabinet: the first devices over them, the last ones under
them, each row read from left to right. A device box is not drawn so: its devices stand side by side, as
they do behind their plate.
"""

from __future__ import annotations

from wirecheck.drawing.rooms import Room

WIDE = 640.0
"""How wide a box is, in points, before its devices make two rows, and MANY, of how many devices they are."""
MANY = 3


def over_the_wires(room: Room) -> int:
    """How many of a room's devices may stand over its wires, so that both rows are about as wide; or none.

    The room has its size in one row.
    """
    devices = sum(body.device is not None for body in room.bodies)
    if room.kind != "box" or room.side_by_side or room.width < WIDE or devices < MANY:
        return 0

    def longer(count: int) -> float:
        return max(sum(body.width for body in part) for part in (room.bodies[:count], room.bodies[count:]))

    return min(range(1, len(room.bodies)), key=longer)


def set_sides(room: Room, over: int) -> None:
    """Put so many of a room's devices, the first ones, over its wires."""
    for number, body in enumerate(room.bodies):
        body.over = number < over
        for slot in body.slots:
            slot.over = body.over

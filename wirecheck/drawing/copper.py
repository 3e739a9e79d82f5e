"""The copper of a room that wires are made up of, piece by piece, and what flows through each of them.

A piece leads from one joint to the next: from a row of a splice to another, to where its next pigtail
branches off, to a screw, or, as a jumper, from screw to screw. What wires bring to the joints and what
devices take from their screws is known; so Kirchhoff's current law tells what each piece carries, but where
several make a loop: in copper without ohms nothing tells how they share.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable, Iterator, Mapping
from itertools import pairwise
from typing import NamedTuple, TypeVar

from wirecheck.drawing.rooms import Pin, Room, Splice, Tail
from wirecheck.drawing.sheet import Point
from wirecheck.drawing.state import State

Key = TypeVar("Key", bound=Hashable)
Where = str | Point | Splice
"""A joint: a screw by its name, a place in a splice, or the whole splice."""
Joint = TypeVar("Joint", bound=Hashable)
BEND = 10.0
"""How far a wire is drawn on around a bend, to where the other one of its splice begins."""


class Piece(NamedTuple):
    """A piece of copper: its way, and its joints, each the name of a screw or a place in a splice."""

    path: tuple[Point, ...]
    ends: tuple[str | Point, str | Point]


def screw_top(room: Room, tail: Tail) -> float:
    """The height at which a wire meets its screw: at the end of it that is toward the wires."""
    return room.y + (room.ceiling if tail.slot.over else room.floor)


def in_order(splice: Splice) -> list[Pin]:
    """The ends in a splice from the top; the first one's wire is drawn down to the last one's row."""
    return sorted(splice.pins, key=lambda pin: (pin.y, not pin.left))


def splice_of(pin: Pin) -> Splice | None:
    """The splice that a wire's end is made up in."""
    return next((splice for splice in pin.port.room.splices if pin in splice.pins), None)


def trunk(room: Room, splice: Splice) -> list[Piece]:
    """What joins the rows of a splice, from the lowest one up."""
    x = room.x + splice.x
    heights = sorted({pin.y for pin in splice.pins}, reverse=True)
    return [Piece(((x, low), (x, high)), ((x, low), (x, high))) for low, high in pairwise(heights)]


def pigtail(room: Room, splice: Splice, number: int) -> list[Piece]:
    """A pigtail of a splice, the first one's number being 0, down (or up) to its screw."""
    tail = splice.tails[number]
    screw, end = tail.slot.terminal.name, screw_top(room, tail)
    x, down, y = room.x + splice.x, room.x + tail.x, room.y + splice.link_y
    first, last = branches_at(splice) if splice.pins else (y, y)
    comes_by = comes_by_link(room, splice)
    if not splice.pins and number < 2:
        # Of a row of screws the first one's turns to where the second one's branches off.
        joint = room.x + splice.tails[1].x, y
        way = ((down, y),) if not number else ()
        return [Piece((joint, *way, (down, end)), (joint, screw))]
    if not number:
        if not comes_by or len(splice.tails) == 1:
            return [Piece(((x, first), (x, end)), ((x, first), screw))]
        return [
            Piece(((x, first), (x, y)), ((x, first), (x, y))),
            Piece(((x, y), (x, end)), ((x, y), screw)),
        ]
    before = room.x + splice.tails[number - 1].x
    start: Point = (before, y)
    link: tuple[Point, ...] = (start, (down, y))
    if number == 1 and not comes_by:
        start = (x, last)
        link = (start, *link)
    return [Piece(link, (start, (down, y))), Piece(((down, y), (down, end)), ((down, y), screw))]


def dots(room: Room, splice: Splice, *, alike: bool) -> list[Point]:
    """Where a splice has dots, from the top: where three or more meet, and where two colors do.

    `alike` is whether all of it has one color: then a bend of it is no joint to the eye. One dot stays.
    """
    x = room.x + splice.x
    pieces = [*trunk(room, splice), *(p for n in range(len(splice.tails)) for p in pigtail(room, splice, n))]
    meet = Counter((x, pin.y) for pin in splice.pins)
    meet.update(end for piece in pieces for end in (piece.path[0], piece.path[-1]))
    if splice.spare:
        meet[x, in_order(splice)[0].y] += splice.spare
    rows = [(x, pin.y) for pin in in_order(splice)]
    joints = {at for at, ends in meet.items() if ends > 2}
    if not alike:
        # The first wire is drawn on down to the last row: where it alone turns, one color does.
        turns = len(set(rows)) > 1 and meet[rows[0]] == 2 and not (splice.tails and splice.tails[0].slot.over)
        joints |= set(rows[1:] if turns else rows)
    return sorted(joints or rows[-1:], key=lambda at: (at[1], at[0]))


def bend(room: Room, splice: Splice, joints: Iterable[Point]) -> tuple[Pin, Point] | None:
    """Where two pieces of a splice make one wire with a bend, which has no dot (of `joints`).

    The splice's lowest wire, and where, behind the bend, the second piece begins.
    """
    pins = in_order(splice)
    if not pins:
        return None
    x, y = room.x + splice.x, pins[-1].y
    if (x, y) in joints:
        return None
    if len(pins) > 1:
        reach = min(BEND, (y - pins[-2].y) / 2)
        return pins[-1], (x - reach if _comes_from_left(room, pins[-1]) else x + reach, y)
    end = pigtail(room, splice, 0)[0].path[-1][1]
    reach = min(BEND, abs(end - y) / 2)
    return pins[-1], (x, y + reach if end > y else y - reach)


def _comes_from_left(room: Room, pin: Pin) -> bool:
    """Whether a wire comes to its splice from the left: one that stays in the room, from its other end."""
    for one, other in room.inner:
        for here, there in ((one, other), (other, one)):
            if here.pins[0] is pin:
                return there.pins[0].end < pin.end
    return pin.left


def branches_at(splice: Splice) -> tuple[float, float]:
    """The row of a splice from which its first pigtail comes, and the row at the other end."""
    heights = [pin.y for pin in splice.pins]
    up = bool(splice.tails) and splice.tails[0].slot.over
    return (min(heights), max(heights)) if up else (max(heights), min(heights))


def comes_by_link(room: Room, splice: Splice) -> bool:
    """Whether the first pigtail comes by where the others branch off; else these have the other end."""
    return not splice.pins or not splice.tails[0].slot.over or room.y + splice.link_y < branches_at(splice)[0]


def jumper(room: Room, number: int) -> Piece:
    """A jumper of a room, the first one's number being 0."""
    one, other = room.jumpers[number]
    y = room.y + room.jumper_at[number]
    x0, x1 = room.x + one.x, room.x + other.x
    path = ((x0, screw_top(room, one)), (x0, y), (x1, y), (x1, screw_top(room, other)))
    return Piece(path, (one.slot.terminal.name, other.slot.terminal.name))


def copper(room: Room) -> Iterator[Piece]:
    """Every piece of copper of a room that is no part of a wire between its places."""
    for splice in room.splices:
        yield from trunk(room, splice)
        for number in range(len(splice.tails)):
            yield from pigtail(room, splice, number)
    for number in range(len(room.jumpers)):
        yield jumper(room, number)


def flows(room: Room, state: State) -> dict[Piece, complex | None]:
    """Amperes through each piece of a room, from its first joint to its other; None where not known."""
    return _through({piece: piece.ends for piece in copper(room)}, _landed(room), state)


def taken(rooms: Iterable[Room], state: State) -> dict[str, complex | None]:
    """Amperes that each screw takes from what is under it; None where that is not known.

    A splice is one joint here, however it is drawn: so the rooms need no size yet.
    """
    by_screw: dict[str, list[complex | None]] = {}
    for room in rooms:
        edges: dict[Tail, tuple[Where, Where]] = {}
        landed: list[tuple[Where, Pin]] = list(_direct(room))
        for splice in room.splices:
            edges |= {tail: (splice, tail.slot.terminal.name) for tail in splice.tails}
            landed += [(splice, pin) for pin in splice.pins]
        for one, other in room.jumpers:
            edges[one] = other.slot.terminal.name, one.slot.terminal.name
        through = _through(edges, landed, state)
        for one, other in room.jumpers:
            amps = through[one]
            through[other] = None if amps is None else -amps
        for tail, amps in through.items():
            by_screw.setdefault(tail.slot.terminal.name, []).append(amps)
        for screw, pin in _direct(room):
            by_screw.setdefault(screw, []).append(state.flow_out(pin.conductor, pin.point))
    return {screw: total(amps) for screw, amps in by_screw.items()}


def _through(
    edges: Mapping[Key, tuple[Where, Where]],
    landed: Iterable[tuple[Where, Pin]],
    state: State,
) -> dict[Key, complex | None]:
    """Amperes through each edge, from its first joint to its other: of what wires bring and devices take."""
    behind: dict[Key, tuple[Where, Where]] = {
        key: (_behind(one, state), _behind(other, state)) for key, (one, other) in edges.items()
    }
    brought: dict[Where, complex | None] = {
        joint: state.given.get(joint, 0) if isinstance(joint, str) else 0
        for ends in behind.values()
        for joint in ends
    }
    for where, pin in landed:
        joint = _behind(where, state)
        before = brought.get(joint)
        if before is not None:
            brought[joint] = before + state.flow_out(pin.conductor, pin.point)
    return currents(behind, brought)


def _behind(joint: Where, state: State) -> Where:
    """What stands for a joint: of a screw, all that copper in its device or panel ties to it."""
    return state.behind[joint] if isinstance(joint, str) else joint


def carrying(rooms: Iterable[Room], state: State) -> frozenset[Piece]:
    """The pieces that carry current."""
    return frozenset(
        piece
        for room in rooms
        for piece, amps in flows(room, state).items()
        if amps is not None and abs(amps) >= state.least
    )


def _landed(room: Room) -> Iterator[tuple[Where, Pin]]:
    """Where each wire of a room is made up."""
    for splice in room.splices:
        for pin in splice.pins:
            yield (room.x + splice.x, pin.y), pin
    yield from _direct(room)


def _direct(room: Room) -> Iterator[tuple[str, Pin]]:
    """Each wire that is on a screw itself."""
    for tail in room.direct:
        if tail.pin is not None:
            yield tail.slot.terminal.name, tail.pin


def currents(
    edges: Mapping[Key, tuple[Joint, Joint]], brought: Mapping[Joint, complex | None]
) -> dict[Key, complex | None]:
    """What flows through each edge of a net without ohms, from its first joint to its other.

    Parameters
    ----------
    brought : what comes into the net at each joint; None where that is not known.

    Returns
    -------
    None for an edge in a loop, and where at both of its sides something is not known.

    Examples
    --------
    >>> currents({"tail": ("splice", "a"), "jumper": ("a", "b")}, {"splice": 5, "a": -2, "b": -3})
    {'tail': 5, 'jumper': 3}
    >>> currents({"tail": ("splice", "a"), "jumper": ("a", "b")}, {"splice": None, "a": -2, "b": -3})
    {'tail': 5, 'jumper': 3}
    >>> currents({"one": ("a", "b"), "other": ("a", "b")}, {"a": 2, "b": -2})
    {'one': None, 'other': None}
    """
    near: dict[Joint, list[tuple[Key, Joint]]] = {}
    for key, (a, b) in edges.items():
        near.setdefault(a, []).append((key, b))
        near.setdefault(b, []).append((key, a))

    def side(start: Joint, without: Key) -> set[Joint]:
        found, waiting = {start}, [start]
        while waiting:
            for key, joint in near[waiting.pop()]:
                if key != without and joint not in found:
                    found.add(joint)
                    waiting.append(joint)
        return found

    through: dict[Key, complex | None] = {}
    for key, (a, b) in edges.items():
        through[key] = None
        here = side(a, key)
        if b not in here:
            given = total(brought[joint] for joint in here)
            left = total(brought[joint] for joint in side(b, key))
            through[key] = given if given is not None else None if left is None else -left
    return through


def total(amps: Iterable[complex | None]) -> complex | None:
    """The sum of amperes; None where one of them is not known."""
    there = list(amps)
    known = [each for each in there if each is not None]
    return sum(known) if len(known) == len(there) else None

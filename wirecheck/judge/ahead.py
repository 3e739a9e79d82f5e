"""What hangs on one side of a device's contact, ahead of it, while nothing is on the other side."""

from __future__ import annotations

from typing import NamedTuple

from wirecheck.circuit.circuit import Contact, Load, Protection, Wire
from wirecheck.judge import calls, ways
from wirecheck.judge.case import Case
from wirecheck.judge.made_up import joins
from wirecheck.judge.source import legs
from wirecheck.language.syntax import InPosition
from wirecheck.model.board import Device, Join, Terminal
from wirecheck.parts.part import TRIED


class Ahead(NamedTuple):
    """`loads` that hang on `screw` of a device by `wire`, in `join`."""

    loads: tuple[Load, ...]
    screw: str
    wire: str
    join: Join


def ahead_of(case: Case, device: Device, terminal: Terminal, spliced: bool = False) -> Ahead | None:
    """What does work and hangs on a screw of the device by which the power of a terminal of it comes.

    With `spliced`, in a splice of the wire that comes to that screw, too.
    """
    back = ways.way(case, [terminal.name], legs(case))
    last: str | None = None
    for point, of in zip(back.points[1:], back.elements, strict=True) if back is not None else ():
        screw = case.board.terminals.get(point)
        own = screw is not None and screw.owner == device.name
        last = point if own else last if isinstance(of, Join | Wire) and spliced else None
        for join, member in (
            (one, member) for one, _ in joins(case).get(point, ()) for member in one.members
        ):
            loads = _behind(case, device, join, member.name) if last and member.kind == "end" else ()
            if last and loads:
                return Ahead(loads, last, member.name, join)
    return None


def _behind(case: Case, device: Device, join: Join, wire: str) -> tuple[Load, ...]:
    """What does work beyond a wire in a join, with no source there, and no control but hands and its own."""
    here = {member.point for member in join.members if member.point}
    far = [end for end in case.board.conductors[wire].ends if end not in here]
    if not far or ways.way(case, far, legs(case), stops=here) is not None:
        return ()
    devices = case.circuit.devices
    found = []
    for load in case.circuit.loads:
        outer = devices[load.device].outer

        def passes(of: Contact | Protection, outer: str = outer) -> bool:
            if isinstance(of, Protection) or devices[of.scope].outer == outer:
                return True
            return isinstance(of.when, InPosition) and devices[of.scope].part.moved_by in TRIED

        works = load.kind in calls.WORKING and outer != device.name
        if works and ways.way(case, far, load.ends, passes, here) is not None:
            found.append(load)
    return tuple(found)

"""The screws that larger wire would not go under."""

from __future__ import annotations

from collections.abc import Iterable

from wirecheck.judge.case import Case
from wirecheck.model.board import Conductor, Terminal
from wirecheck.tables.published import NotInTable
from wirecheck.tables.sizes import area, size_at_least


def tight_screws(case: Case, conductors: Iterable[Conductor], size: str) -> tuple[Terminal, ...]:
    """Those that conductors are under now and that do not take them of that size, in the order of the way.

    A conductor that is as large already stays. A screw that does not take what is under it now is left out: a
    tail of its size would be too thin for the circuit.
    """
    screws = (
        case.board.terminals[screw]
        for conductor in conductors
        if area(conductor.size) < area(size)
        for end in conductor.ends
        for screw in case.screws.get(end, ())
        if _takes(case.board.terminals[screw], conductor.size)
    )
    return tuple(screw for screw in dict.fromkeys(screws) if not _takes(screw, size))


def _takes(screw: Terminal, size: str) -> bool:
    """Whether a size is no larger than it takes; one whose part says no sizes may take any."""
    try:
        return screw.spec.sizes is None or size_at_least(screw.spec.sizes[1], size)
    except NotInTable:
        return True

"""Where to put an ohmmeter, with the power off, where no volts tell any more which suspect it is.

An ohmmeter's current goes every way round: a wire is lifted where that shuts the others off.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from wirecheck import arguments
from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.meter import PowerOn, Reading
from wirecheck.circuit.work import WorkEnds
from wirecheck.model.board import Board
from wirecheck.tables.efforts import effort
from wirecheck.troubles.next_reading import LEAST_BITS, effort_of, told
from wirecheck.troubles.probes import across, places
from wirecheck.troubles.trials import Tried

MOST_SUSPECTS = 12
"""So many suspects are looked at: of more, volts are to be told first."""
MOST_READINGS = 400
"""The most readings that are tried."""
# What an ohmmeter shows, as values that lie far apart: copper, the ohms of a load, nothing at all.
COPPER, SOME, OPEN = 0.0, 1e3, 1e9
COPPER_OHMS = 1.0


class Cold(NamedTuple):
    """A reading of ohms between two points of a place, with what is lifted for it.

    `bits` are what it tells, `effort` is what it takes.
    """

    a: str
    b: str
    place: str
    lifted: tuple[str, ...]
    bits: float
    effort: float


def cold(
    left: Sequence[Tried],
    odds: Sequence[float],
    good: Circuit,
    board: Board,
    where: Sequence[str],
    at: str | None,
) -> Cold | None:
    """The reading of ohms that tells most about which suspect it is, for its effort; None where none does.

    Parameters
    ----------
    left : the board with each suspect
    odds : of each of them
    good : the circuit without a fault
    where : the places of the suspects
    at : the place where one stands, if one stands anywhere
    """
    found: Cold | None = None
    if not 1 < len(left) <= MOST_SUSPECTS:
        return None
    tries = 0
    for place, a, b, lifted in _candidates(good, where):
        tries += len(left)
        if tries > MOST_READINGS:
            break
        try:
            shown = [_shown(one, a, b, lifted) for one in left]
        except (PowerOn, WorkEnds):
            continue
        bits = told(shown, odds)
        takes = effort_of(board, place, at) + (effort("lift") if lifted else 0.0)
        if bits > LEAST_BITS and (found is None or bits / takes > found.bits / found.effort * (1 + 1e-9)):
            found = Cold(a, b, place, lifted, bits, takes)
    return found


def _candidates(good: Circuit, where: Sequence[str]) -> Iterator[tuple[str, str, str, tuple[str, ...]]]:
    """Both ends of what is in a place, as it is, and with the wire off that comes to one of them."""
    there = places(good)
    for place in dict.fromkeys(where):
        here = there.get(place, [])
        for a, b in dict.fromkeys(across(good, set(here))):
            yield place, a, b, ()
            for end in here:
                if good.point[end].kind == "end" and good.node[end] in (good.node[a], good.node[b]):
                    yield place, a, b, (end,)
                    break


def _shown(one: Tried, a: str, b: str, lifted: tuple[str, ...]) -> float:
    return _kind(arguments.reading(one.case, "ohms", (a, b), None, (), "off", lifted)[0])


def _kind(reading: Reading) -> float:
    """What an ohmmeter shows, as one of three.

    >>> _kind(Reading(0.02, "ohm")), _kind(Reading(None, "ohm", between=(8.0, 20.0)))
    (0.0, 1000.0)
    """
    ohms = reading.value if reading.most is None else reading.most
    if ohms is not None:
        return COPPER if ohms < COPPER_OHMS else SOME
    return SOME if reading.between is not None or reading.through else OPEN

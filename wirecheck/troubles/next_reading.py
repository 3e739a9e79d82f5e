"""Where to put the meter next: the reading that tells most for its effort.

Each suspect that is left says what the meter would show. A reading parts them by that, and what it tells is
how much less one has to ask afterwards, in bits: Shannon's entropy of the odds before, less what is to be
expected after (J. de Kleer and B. C. Williams, "Diagnosing multiple faults", Artificial Intelligence 32,
1987, from memory).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import log2
from typing import NamedTuple

from wirecheck.judge.state_name import StateName
from wirecheck.model.board import Board
from wirecheck.tables.efforts import HARD_PLACES, effort
from wirecheck.troubles.observed import VOLTS_MORE, VOLTS_SHARE
from wirecheck.troubles.probes import Probe, probes
from wirecheck.troubles.trials import Tried

# Less than this tells nothing.
LEAST_BITS = 1e-9


class Column(NamedTuple):
    """What a meter shows in a state at two points, with each of some suspects in turn."""

    state: StateName
    probe: Probe
    volts: tuple[float, ...]


class Suggestion(NamedTuple):
    """A reading of volts: what it tells, in bits, and what it takes."""

    column: Column
    bits: float
    effort: float

    @property
    def state(self) -> StateName:
        """The state in which it is taken."""
        return self.column.state

    @property
    def probe(self) -> Probe:
        """Where it is taken."""
        return self.column.probe


def columns(suspects: Sequence[Tried], good: Tried, states: Iterable[StateName]) -> tuple[Column, ...]:
    """The readings that part some suspects; of those in one place that show the same, the first.

    Parameters
    ----------
    suspects : the board as it is with each fault that is left
    good : the board without a fault
    states : those in which it may be measured
    """
    found: dict[tuple[str, tuple[float, ...]], Column] = {}
    for state in states:
        standing = [tried.settled(state) for tried in suspects]
        for probe in probes(good.circuit, good.settled(state)):
            volts = tuple(settled.across(probe.a, probe.b) for settled in standing)
            if len(outcomes([min(volts), max(volts)])) > 1:
                shown = tuple(round(each, 1) for each in volts)
                found.setdefault((probe.place, shown), Column(state, probe, volts))
    return tuple(found.values())


def best(
    table: Sequence[Column], odds: Sequence[float], left: Sequence[int], board: Board | None, at: str | None
) -> Suggestion | None:
    """The reading that tells most about which suspect it is, for its effort; None where none tells anything.

    Parameters
    ----------
    table : the readings that there are
    odds : of each suspect
    left : the suspects that are left, by their place in the table
    board : where the places are; None where all of them are as near
    at : the place where one stands, if one stands anywhere
    """
    found: Suggestion | None = None
    weights = [odds[place] for place in left]
    for column in table:
        bits = told([column.volts[place] for place in left], weights)
        takes = effort_of(board, column.probe.place, at) if board is not None else effort("reading")
        if bits > LEAST_BITS and (found is None or bits / takes > found.bits / found.effort * (1 + 1e-9)):
            found = Suggestion(column, bits, takes)
    return found


def told(volts: Sequence[float], odds: Sequence[float]) -> float:
    """What a reading tells, in bits, where each suspect would show these volts.

    >>> told([0.0, 0.1, 120.0, 119.0], [1, 1, 1, 1])
    1.0
    """
    groups = outcomes(volts)
    whole = sum(odds)
    shares = (sum(odds[place] for place in group) / whole for group in groups)
    return -sum(share * log2(share) for share in shares if share > 0)


def outcomes(volts: Sequence[float]) -> list[list[int]]:
    """The suspects, by place, that a meter cannot tell from the one next to them.

    >>> outcomes([120.0, 0.0, 118.0, 0.2])
    [[1, 3], [2, 0]]
    """
    order = sorted(range(len(volts)), key=volts.__getitem__)
    groups: list[list[int]] = []
    for place in order:
        before = volts[groups[-1][-1]] if groups else None
        if before is not None and volts[place] - before <= VOLTS_SHARE * volts[place] + VOLTS_MORE:
            groups[-1].append(place)
        else:
            groups.append([place])
    return groups


def effort_of(board: Board, place: str, at: str | None) -> float:
    """What it takes to read something in a place, from where one stands."""
    if place == at:
        return effort("reading")
    return effort("reading") + effort(kind_of_place(board, place))


def kind_of_place(board: Board, place: str) -> str:
    """What it takes to come to a place, in the words of the table of efforts."""
    room = board.rooms.get(place)
    if room is not None and room.kind in HARD_PLACES:
        return room.kind
    device = board.devices.get(place)
    if device is not None and device.part.outdoors:
        return "outdoors"
    return "place"

"""Flexible metal conduit as the ground of what it leads to: where it is one by itself, and where it is none.

It is so only short, small, behind a small breaker, and where nothing moves or shakes it.

Source: NEC 250.118(A)(5), 250.118(A)(6)
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Literal, NamedTuple

from wirecheck.judge.case import Case
from wirecheck.judge.guards import Guarded, guards
from wirecheck.judge.limit import over
from wirecheck.judge.question import question
from wirecheck.judge.tape import longer
from wirecheck.model.board import Raceway
from wirecheck.tables import raceways

Reason = Literal["size", "amps", "motion", "length"]


class Flexible(NamedTuple):
    """A flexible metal conduit between the ground screws `a` and `b` of two places, and its terms.

    `reason` is why it is no ground by itself, whatever its length; None where it can be one.
    `guard` is what protects its conductors with the most amperes.
    """

    raceway: Raceway
    a: str
    b: str
    terms: raceways.Ground
    guard: Guarded | None
    reason: Reason | None


class Refused(NamedTuple):
    """The conduit on a ground's only way home that is no ground, and why; `length` is of all on the way."""

    flexible: Flexible
    reason: Reason
    length: float


@question
def flexible(case: Case) -> tuple[Flexible, ...]:
    """Every flexible metal conduit that enters a panel, metal box or equipment at both ends."""
    return tuple(_flexible(case))


def _flexible(case: Case) -> Iterator[Flexible]:
    for raceway in case.board.raceways.values():
        terms = raceways.grounds(raceway.kind, raceway.size, code=case.code)
        a, b = (f"{place}.ground" for place in raceway.places)
        screws = case.board.terminals
        if terms is not None and terms.amps is not None and a in screws and b in screws:
            protections = [
                guards(case)[conductor.name]
                for run in raceway.runs
                for conductor in case.board.runs[run].conductors
                if conductor.name in guards(case)
            ]
            guard = max(protections, key=lambda one: one.amps, default=None)
            yield Flexible(raceway, a, b, terms, guard, _reason(case, raceway, terms, guard))


def _reason(case: Case, raceway: Raceway, terms: raceways.Ground, guard: Guarded | None) -> Reason | None:
    if terms.largest is not None and longer(raceway.size, terms.largest):
        return "size"
    if guard is not None and terms.amps is not None and over(guard.amps, terms.amps):
        return "amps"
    return "motion" if _shakes(case, raceway) else None


def _shakes(case: Case, raceway: Raceway) -> bool:
    """Whether a motor stands at one of its ends: it shakes, and is moved for its belt or its service."""
    return any(
        load.kind == "motor" and case.circuit.devices[load.device].place in raceway.places
        for load in case.circuit.loads
    )


def home(case: Case, piece: Mapping[str, str], bars: frozenset[str]) -> frozenset[str]:
    """The pieces of ground that reach a ground bar, through so much flexible conduit as is a ground.

    Parameters
    ----------
    piece : for each ground screw, the piece that rigid metal and grounding conductors make of it.
    bars : the pieces that hold a ground bar.
    """
    sound = [one for one in flexible(case) if one.reason is None]
    most = case.code.limit("flexible conduit as a ground")
    return frozenset(one for one, way in _ways(sound, piece, bars).items() if not longer(_length(way), most))


def refused(case: Case, piece: Mapping[str, str], bars: frozenset[str], lost: str) -> Refused | None:
    """The conduit that is to blame where a piece would be home through flexible conduit of any kind."""
    way = _ways(flexible(case), piece, bars).get(lost)
    if not way:
        return None
    worst = next((one for one in way if one.reason is not None), way[-1])
    return Refused(worst, worst.reason or "length", _length(way))


def _length(way: tuple[Flexible, ...]) -> float:
    return sum(one.raceway.length for one in way)


def _ways(
    through: Iterable[Flexible], piece: Mapping[str, str], bars: frozenset[str]
) -> dict[str, tuple[Flexible, ...]]:
    """The conduits on the shortest way from each piece to a bar, the one at the bar first."""
    ways: dict[str, tuple[Flexible, ...]] = dict.fromkeys(bars, ())
    links = [(near, far, one) for one in through for near, far in ((one.a, one.b), (one.b, one.a))]
    changed = True
    while changed:
        changed = False
        for near, far, one in links:
            back = ways.get(piece[near])
            if back is None:
                continue
            way, before = (*back, one), ways.get(piece[far])
            if before is None or _length(way) < _length(before):
                ways[piece[far]] = way
                changed = True
    return ways

"""What a light or an outlet does in the positions of its switches, in words."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from wirecheck.circuit.series import in_series
from wirecheck.circuit.settle import Settled, copper
from wirecheck.judge.targets import Target, Tried
from wirecheck.judge.voltages import takes_two_hots
from wirecheck.language.listing import listed
from wirecheck.language.quantity import volts

# More positions than this in a sentence tell a reader nothing.
MOST_TOLD = 4


def behavior(rows: Sequence[Tried], target: Target) -> str:
    """What a target does, as a sentence without its full stop."""
    # A switch with a light in it is called as that is.
    name = f"The light in {target.name}" if target.name in rows[0].positions else target.name
    glowing = [row for row in rows if target.glows(row.volts)]
    if glowing:
        worst = max(glowing, key=lambda row: row.volts)
        return (
            f"{name} gets only {volts(worst.volts)}{with_positions(worst.positions)}, and is made for "
            f"{volts(target.rated)}: {_why_so_few(worst.settled, target)}"
        )
    lit = [row for row in rows if row.on]
    if not lit:
        return f"{name} never comes on"
    if len(lit) == len(rows):
        switches = listed(rows[0].positions, most=MOST_TOLD)
        return f"{name} is on in every position of {switches}" if switches else f"{name} is always on"
    fixed = _fixed(lit)
    if fixed and math.prod(_choices(rows, switch) for switch in rows[0].positions.keys() - fixed) == len(lit):
        return f"{name} is on only{with_positions(fixed)}"
    return f"{name} is on{_either([with_positions(row.positions) for row in lit])}"


def _why_so_few(settled: Settled, target: Target) -> str:
    """Why it has too few volts, by what its two sides are on."""
    others = in_series(settled, target.name)
    if others:
        return f"it is in series with {listed(others)}"
    if on_one_hot(settled, target):
        return "only one of its two sides is on a hot"
    given = _given(settled, target)
    if given is None:
        return "something is in series with it"
    return "its source gives no more" if given < target.needs else "the wires on its way lose the rest"


def on_one_hot(settled: Settled, target: Target) -> bool:
    """Whether what takes two hots has one of its sides on one, and the other on the neutral or on ground."""
    circuit, piece_of = settled.circuit, copper(settled)
    hots = {piece_of[circuit.node[leg.point]] for leg in circuit.legs}
    sides = {piece_of[circuit.node[end]] for end in (target.a, target.b)}
    return takes_two_hots(target.rated) and piece_of[0] in sides and not sides.isdisjoint(hots)


def _given(settled: Settled, target: Target) -> float | None:
    """The volts of what its two sides are on by copper; None where one of them is on no source."""
    circuit, piece_of = settled.circuit, copper(settled)
    one, other = (piece_of[circuit.node[end]] for end in (target.a, target.b))
    for winding in circuit.windings:
        if {one, other} == {piece_of[circuit.node[end]] for end in winding.secondary}:
            return winding.secondary_volts
    known = {piece_of[0]: 0j} | {piece_of[circuit.node[leg.point]]: leg.volts for leg in circuit.legs}
    return abs(known[one] - known[other]) if one in known and other in known else None


def with_positions(positions: Mapping[str, str]) -> str:
    """Positions of switches as the end of a sentence: " with S1 up and S2 down"; nothing without any."""
    told = listed(f"{switch} {value}" for switch, value in positions.items())
    return f" with {told}" if told else ""


def _fixed(rows: Sequence[Tried]) -> dict[str, str]:
    """The switches that stand alike in all of some positions."""
    return {
        switch: value
        for switch, value in rows[0].positions.items()
        if all(row.positions[switch] == value for row in rows)
    }


def _choices(rows: Sequence[Tried], switch: str) -> int:
    """In how many positions a switch was tried."""
    return len({row.positions[switch] for row in rows})


def _either(told: Sequence[str]) -> str:
    """Several positions in which it is so, the first of them where they are many."""
    more = [f" in {len(told) - MOST_TOLD} more positions"] if len(told) > MOST_TOLD + 1 else []
    shown = [*told[:MOST_TOLD], *more] if more else list(told)
    return ", or".join([",".join(shown[:-1]), shown[-1]]) if len(shown) > 1 else shown[0]

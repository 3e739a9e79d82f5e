"""What a light or an outlet does in the positions of its switches, in words."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from wirecheck.circuit.series import in_series
from wirecheck.judge.targets import Target, Tried
from wirecheck.language.listing import listed
from wirecheck.language.quantity import volts

# More positions than this in a sentence tell a reader nothing.
MOST_TOLD = 4


def behavior(rows: Sequence[Tried], target: Target) -> str:
    """What a target does, as a sentence without its full stop."""
    name = target.name
    glowing = [row for row in rows if target.glows(row.volts)]
    if glowing:
        worst = max(glowing, key=lambda row: row.volts)
        others = in_series(worst.settled, name)
        why = f"it is in series with {listed(others)}" if others else "something is in series with it"
        return (
            f"{name} gets only {volts(worst.volts)}{with_positions(worst.positions)}, and is made for "
            f"{volts(target.rated)}: {why}"
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

"""What can hurt somebody, in words and as data."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from wirecheck.circuit.circuit import Circuit
from wirecheck.faults.words import said as fault_said
from wirecheck.judge.case import Case
from wirecheck.judge.state_name import StateName
from wirecheck.language.listing import listed
from wirecheck.language.quantity import shown, volts
from wirecheck.tables.heat import watts as least_watts
from wirecheck.troubles.dangers import (
    Danger,
    Heats,
    InSeries,
    LiveMetal,
    LiveThoughOff,
    OverVolts,
    Unlit,
    dangers,
)

KINDS = {
    Heats: "heat",
    OverVolts: "volts",
    InSeries: "series",
    LiveThoughOff: "live",
    LiveMetal: "metal",
    Unlit: "fuel",
}


def said(danger: Danger, circuit: Circuit) -> str:
    """A danger in sentences."""
    match danger:
        case Heats(fault, watts):
            burns = "It can start a fire." if watts >= least_watts("burns") else "It is warm, and gets worse."
            return f"{fault_said(fault, circuit)} gives off {shown(watts, 'power')}. {burns}"
        case OverVolts(name, present, rated):
            return (
                f"{name} has {volts(present, rated)}, and is made for {volts(rated, present)}. It can burn."
            )
        case InSeries(names, present):
            return (
                f"{listed(names)} have two hots and no neutral. What is plugged in shares {volts(present)}: "
                "one thing gets too much, and can burn."
            )
        case LiveThoughOff(names, present):
            are = "does not run and is" if len(names) == 1 else "do not run and are"
            return f"{listed(names)} {are} live: {volts(present)} to ground. Off is not dead."
        case LiveMetal(names, present):
            are = "is" if len(names) == 1 else "are"
            return (
                f"{listed(names)} {are} at {volts(present)} to ground. Do not touch any metal of this board: "
                "turn the power off."
            )
        case Unlit(valve, seconds):
            long = "as long as the call stands" if seconds is None else shown(seconds, "time")
            return f"{valve} lets fuel in for {long} with no flame. It can explode: shut the fuel off."
    raise AssertionError(danger)


def told(case: Case, states: Iterable[StateName], sound: Case | None = None) -> tuple[str, ...]:
    """The dangers of some states, each once, as it is in the first of them; `sound` as in `dangers`."""
    first: dict[object, Danger] = {}
    for state in states:
        for danger in dangers(case, state, sound):
            first.setdefault((type(danger), danger[0]), danger)
    return tuple(f"Danger: {said(danger, case.circuit)}" for danger in first.values())


def as_data(danger: Danger, circuit: Circuit) -> dict[str, Any]:
    """Plain data, for JSON."""
    return {"kind": KINDS[type(danger)], "said": said(danger, circuit)}

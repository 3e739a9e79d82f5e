"""The current that a motor counts with, where wires, breakers and disconnects are sized for it."""

from __future__ import annotations

from collections.abc import Iterable

from wirecheck.circuit.circuit import Circuit, Load, Winding
from wirecheck.tables.code import Code
from wirecheck.tables.motors import full_load_current
from wirecheck.tables.published import NotInTable


def sized_amps(load: Load, *, code: Code) -> float:
    """The amperes of a line that a load counts with: its own, and of a motor those of the code's table.

    A motor whose horsepower its part does not say, or that no table holds, counts with its nameplate.
    """
    return table_amps(load, code=code) or load.amps


def table_amps(load: Load, *, code: Code) -> float | None:
    """What the code's table says of a motor of that horsepower (430.6(A)(1)); None where it does not."""
    if load.horsepower is None:
        return None
    try:
        return full_load_current(load.horsepower, load.volts, 1 if load.c is None else 3, code=code)
    except NotInTable:
        return None


def in_its_motor(circuit: Circuit, drawer: Load | Winding, beside: Iterable[Load | Winding]) -> bool:
    """Whether a motor beside it counts a drawer's current already, as its rated load is all that it takes.

    So it is with a start winding that stays in as the motor runs, and with the capacitors that feed it. A
    start capacitor is in for a second or two: where it is not, that is another rule's.
    """
    if isinstance(drawer, Load) and drawer.kind == "capacitor" and "starting" in drawer.flags:
        return True
    stays = {load.device for load in circuit.loads if {"auxiliary", "starting"} & load.flags == {"auxiliary"}}
    motors = {one.device for one in beside if isinstance(one, Load) and one.kind == "motor"} & stays
    if not isinstance(drawer, Load) or not motors:
        return False
    return drawer.kind == "capacitor" or ("auxiliary" in drawer.flags and drawer.device in motors)

"""The largest breaker or fuse of a motor's circuit, which goes by the motor and not by the wire."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, NamedTuple

from wirecheck.circuit.circuit import Load, Winding
from wirecheck.circuit.routes import equipment
from wirecheck.judge.case import Case
from wirecheck.judge.motor_control import controls
from wirecheck.judge.motor_current import in_its_motor, sized_amps
from wirecheck.tables.motors import motor_protection
from wirecheck.tables.overcurrent import next_standard
from wirecheck.tables.published import NotInTable

# A motor for a circuit of nominal 120 V is rated no more than this (common practice: 115 V to 127 V).
LOW_VOLTS = 130


class MotorLimit(NamedTuple):
    """The `first` amperes that will do for `motor`, which counts `amps`, and the `most` if it does not start.

    `shared` is what a circuit of several outlets may have that it can be on, 0 where it can not.
    """

    motor: Load
    amps: float
    by: Literal["motor", "hermetic"]
    first: float
    most: float
    shared: float
    source: str


def motor_limit(case: Case, drawers: Sequence[Load | Winding], fuse: bool) -> MotorLimit | None:
    """The limit for what is on a circuit; None where that is not one motor, nor led by a compressor.

    What stands in equipment with a nameplate goes by that. What controls the motor, what is in only as it
    starts, and what its own current is already, are not counted beside it.
    """
    drawers = [
        one for one in drawers if is_counted(case, one) and not in_its_motor(case.circuit, one, drawers)
    ]
    if any(equipment(case.circuit, one.device) is not None for one in drawers):
        return None
    largest = max(drawers, key=lambda one: counts(case, one), default=None)
    if not isinstance(largest, Load) or largest.kind != "motor":
        return None
    if "hermetic" in largest.flags:
        return _hermetic(case, largest, sum(counts(case, one) for one in drawers), fuse)
    if len(drawers) > 1:
        return None
    amps, kind = counts(case, largest), "dual_element_fuse" if fuse else "inverse_time_breaker"
    motor = "polyphase" if largest.c is not None else "single-phase"
    try:
        most = motor_protection(amps, kind, motor, code=case.code)
    except NotInTable:  # larger than any standard rating: the table has no answer
        return None
    small = amps <= case.code.limit("small motor on a shared circuit")
    source = case.code.section("protection of one motor")
    return MotorLimit(largest, amps, "motor", most, most, _shared(case, largest) if small else 0.0, source)


def is_counted(case: Case, drawer: Load | Winding) -> bool:
    """Whether it counts beside a motor: it does not control one, and is in for longer than a start.

    What a switch draws itself, as the clock of a timer, is part of what controls.
    """
    starts = isinstance(drawer, Load) and "starting" in drawer.flags
    return drawer.name not in controls(case) and not starts and not _of_a_switch(case, drawer)


def _of_a_switch(case: Case, drawer: Load | Winding) -> bool:
    device = case.board.devices.get(drawer.device)
    own = isinstance(drawer, Load) and drawer.kind == "electronics"
    return own and device is not None and bool(device.part.contacts) and not device.part.children


def counts(case: Case, drawer: Load | Winding) -> float:
    """The amperes of a line that a load, or the primary of a transformer, counts with."""
    if isinstance(drawer, Winding):
        return drawer.capacity / drawer.primary_volts
    return sized_amps(drawer, code=case.code)


def _hermetic(case: Case, motor: Load, together: float, fuse: bool) -> MotorLimit:
    """A compressor by its rated load, and with it the ratings of what else is there (440.22(B)(1)).

    Whether the next standard rating up may serve for the 175 % is read both ways; here it may.
    """
    code, matter = case.code, "protection of a hermetic compressor"
    others = together - motor.amps
    least = code.limit("least protection of a hermetic compressor")
    first = max(least, motor.amps * code.limit(matter) + others)
    first = next_standard(first, fuse, code=code) or first
    most = max(first, motor.amps * code.limit("protection of a hermetic compressor that needs more") + others)
    return MotorLimit(motor, motor.amps, "hermetic", first, most, _shared(case, motor), code.section(matter))


def _shared(case: Case, motor: Load) -> float:
    """430.53(A) and 440.54: circuits of 20 A at 120 V, and of 15 A above."""
    if motor.volts <= LOW_VOLTS:
        return case.code.limit("shared circuit of motors at 120 V")
    return case.code.limit("shared circuit of motors above 120 V")

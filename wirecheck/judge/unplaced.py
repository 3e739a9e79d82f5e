"""Where something takes power and no `room` line says what kind of place that is.

What is asked of kitchens, baths, bedrooms and the like is not judged there.
"""

from __future__ import annotations

from wirecheck.judge.case import Case
from wirecheck.judge.question import question
from wirecheck.judge.voltages import is_line


@question
def unplaced(case: Case) -> tuple[str, ...]:
    """The places of receptacles and of what takes line voltage, in order of the board."""
    told: dict[str, None] = {}
    for system in case.systems:
        outer = {name: one.outer for name, one in system.circuit.devices.items()}
        drawing = [(one.device, one.volts) for one in system.circuit.outlets]
        drawing += [(one.device, one.volts) for one in system.circuit.loads]
        for name, volts in drawing:
            place = system.board.devices[outer[name]].place
            if place not in case.board.rooms and is_line(system, volts):
                told[place] = None
    return tuple(told)

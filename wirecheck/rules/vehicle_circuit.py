"""Something else is on the circuit that a vehicle is charged from.

A vehicle draws all that its charger is set to for hours on end. What shares its circuit trips it, or is warm
all night with it. Only where a listed control shares out what there is may several be on one.

Source: NEC 625.40
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.guards import Guarded, copper, guarded
from wirecheck.judge.inside import loads_of, outlets_of
from wirecheck.judge.limit import over
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.serving import on_circuit
from wirecheck.language.listing import listed
from wirecheck.model.board import Device

# How many things one message names.
MOST_NAMED = 4


class Shared(Problem):
    """`strangers` are on the circuit of `unit`, which a vehicle is charged from."""

    guard: Guarded
    unit: Device
    strangers: tuple[Device, ...]


def find(case: Case) -> Iterator[Shared]:
    """Each circuit with such an outlet or charger and anything besides."""
    for guard in guarded(case):
        there = on_circuit(case, guard)
        unit = next((one for one in there if one.part.serves == "vehicle-charging"), None)
        if unit is None or not _large(case, unit):
            continue
        strangers = tuple(one for one in there if one is not unit)
        if strangers:
            yield Shared(
                at=spot(strangers[0]),
                about=strangers[0],
                severity="violation",
                stage="trim",
                copper=copper(case, guard),
                guard=guard,
                unit=unit,
                strangers=strangers,
            )


def _large(case: Case, unit: Device) -> bool:
    """Whether it is for more volts, or more amperes, than an ordinary receptacle."""
    most_amps = case.code.limit("vehicle charging on a shared circuit")
    most_volts = case.code.limit("vehicle charging at the volts of a shared circuit")
    drawn = [(load.volts, load.amps) for load in loads_of(case, unit)]
    drawn += [(outlet.volts, outlet.amps or 0.0) for outlet in outlets_of(case, unit)]
    return any(over(volts, most_volts) or over(amps, most_amps) for volts, amps in drawn)


def words(problem: Shared, case: Case) -> Words:
    """What is on the circuit, and that it wants another."""
    names = listed((one.name for one in problem.strangers), MOST_NAMED)
    unit, guard = problem.unit.name, problem.guard.name
    are = "are" if len(problem.strangers) > 1 else "is"
    return Words(
        message=f"{names} {are} on {guard}, the circuit of {unit}. A vehicle draws for hours, and is charged "
        "from a circuit of its own.",
        help=f"Feed {names} from another circuit.",
        stands=True,
        source=case.code.section("vehicle charging on a shared circuit"),
        also=(Note(f"{unit} is here", problem.unit.span),),
    )


RULE = rule(__name__, "trim", severities=("violation",), find=find, words=words)

"""Which conductors belong to the control circuit of a motor: they bring a contactor's coil its power."""

from __future__ import annotations

from wirecheck.circuit.circuit import Contact, Load, Wire
from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.judge.currents import drawers
from wirecheck.judge.question import question
from wirecheck.language.conditions import each_fact
from wirecheck.language.syntax import Condition, Runs
from wirecheck.model.board import Conductor, Terminal
from wirecheck.tables.motors import motor_control_protection
from wirecheck.tables.sizes import area


@question
def control_conductors(case: Case) -> frozenset[str]:
    """The conductors, by name, that serve the coils of contactors and relays and nothing else.

    That is told by the way back of every load, transformer and outlet with all contacts closed, and
    held to what flows: no more than the coils draw as they pull in. Of two ways that a coil is fed by, as by
    a start button and by its own holding contact, one alone is a load's way back: the other hangs on it.
    """
    coils = _coils(case)
    if not coils:
        return frozenset()
    serves: dict[str, set[str]] = {}
    points = [(of.name, point) for of, _, a, b in drawers(case) for point in (a, b)]
    points += [(one.name, point) for one in case.circuit.outlets for point in (one.hot, one.neutral)]
    for name, point in points:
        for step in case.routes.back(case.circuit.node[point]):
            if isinstance(step.of, Wire):
                serves.setdefault(step.name, set()).add(name)
    told = {
        name
        for name, served in serves.items()
        if served <= coils.keys() and _carries(case, name) <= sum(_most(coils[one]) for one in served)
    }
    for wire in case.circuit.wires:
        name, back = wire.conductor.name, case.routes.back(case.circuit.node[wire.a])
        along = told.intersection(step.name for step in back)
        if name not in serves and along and _carries(case, name) <= sum(map(_most, coils.values())):
            told.add(name)
    return frozenset(told)


@question
def controls(case: Case) -> frozenset[str]:
    """What controls motors, by name: coils of contactors, and transformers that feed only those."""
    coils = frozenset(_coils(case))
    fed: dict[str, set[str]] = {}
    for of, _, a, b in drawers(case):
        for point in (a, b):
            origin = case.routes.origins.get(case.circuit.node[point])
            if origin is not None and origin.kind == "winding":
                fed.setdefault(origin.name, set()).add(of.name)
    return coils | frozenset(name for name, served in fed.items() if served <= coils)


def _coils(case: Case) -> dict[str, Load]:
    """The coils that move contacts of their own device, by name."""
    moving = {f"{contact.scope}.{name}" for contact in case.circuit.contacts for name in _runs(contact.when)}
    return {
        load.name: load for name in moving if (load := case.circuit.load.get(name)) and load.kind == "coil"
    }


def _runs(condition: Condition) -> tuple[str, ...]:
    """The loads whose running a condition asks for, or denies."""
    return tuple(fact.load.text for fact in each_fact(condition) if isinstance(fact, Runs))


def _most(coil: Load) -> float:
    """What a coil draws as it pulls in, in amperes."""
    return max(coil.apparent, coil.inrush or 0.0) / coil.volts


def _carries(case: Case, name: str) -> float:
    """The most that a conductor carries in any state, in amperes."""
    state: Settled | None = case.most.get(name)
    return abs(state.amps[name]) if state is not None else 0.0


def tapped_limit(case: Case, conductor: Conductor) -> float | None:
    """The largest protection of the motor's circuit that a control conductor may be tapped from (430.72(B)).

    None for a conductor of another circuit, or one larger than the table has.
    """
    if conductor.name not in control_conductors(case):
        return None
    beyond = conductor.places[0] != conductor.places[1]
    return motor_control_protection(conductor.size, conductor.material, beyond, code=case.code)


def tail_limit(case: Case, terminal: Terminal, size: str, motor: bool) -> float | None:
    """The largest protection that a tail to a screw may have in its box, where that serves coils alone.

    None where it serves anything else, and for a size that the table does not hold. In a circuit without a
    `motor`, as of heat by a contactor, 14 AWG or larger may have three times its ampacity, which is what the
    table has beyond the enclosure (NEC 724.45, from memory).
    """
    ends = [(of.name, of.device, points) for of, _, *points in drawers(case)]
    ends += [(one.name, one.device, [one.hot, one.neutral]) for one in case.circuit.outlets]
    served = {name for name, device, points in ends if device == terminal.owner and terminal.name in points}
    served |= {name for name, _, points in ends if any(_through(case, point, terminal) for point in points)}
    if not served or not served <= _coils(case).keys():
        return None
    if not motor and area(size) < area("14"):
        return None
    return motor_control_protection(size, beyond=not motor, code=case.code)


def _through(case: Case, point: str, terminal: Terminal) -> bool:
    """Whether the way back of a point leads over a contact at a screw."""
    return any(
        isinstance(step.of, Contact) and terminal.name in (step.of.a, step.of.b)
        for step in case.routes.back(case.circuit.node[point])
    )

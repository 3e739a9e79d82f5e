"""What each conductor must be able to carry: its loads by their ratings, and a quarter more for some."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from wirecheck.circuit.circuit import Load, Winding
from wirecheck.circuit.routes import equipment, nameplate
from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.judge.currents import Share, shares
from wirecheck.judge.drawing import draws
from wirecheck.judge.motor_current import in_its_motor, sized_amps
from wirecheck.judge.own_circuit import own_circuit
from wirecheck.judge.question import question
from wirecheck.model.board import Device

# The shares of a conductor's current may miss it by so much of it, and so many amperes beside; where they
# miss by more, it takes more than one way.
APART = 0.05
APART_AMPS = 0.01


class Nameplate(NamedTuple):
    """Equipment on a conductor, and the current that its nameplate asks conductors for."""

    equipment: Device
    amps: float


class Demand(NamedTuple):
    """What a conductor must be able to carry, and what makes it so much.

    `amps` counts what runs for hours a quarter more: that is held against the ampacity before heat and
    bunching take from it; `lasting` counts it once, against what they leave (210.19(A)(1)). `flows` is
    what it does carry in `state`, where it carries most; `rated` what the loads on it beside those of the
    `plates` are rated, None where its current cannot be told apart by loads. Of that,
    `continuous` counts a quarter more, and so do the `motor_amps` of its largest motor.
    """

    amps: float
    lasting: float
    flows: float
    state: Settled | None
    plates: tuple[Nameplate, ...]
    rated: float | None
    continuous: float
    motor: Load | None
    motor_amps: float


@question
def demands(case: Case) -> dict[str, Demand]:
    """What each conductor that carries anything must be able to carry, by name."""
    marked = _plates(case)
    told: dict[str, Demand] = {}
    for wire in case.circuit.wires:
        name = wire.conductor.name
        state = case.most.get(name)
        if state is not None or name in marked:
            told[name] = _demand(case, name, state, marked.get(name, {}))
    return told


def _demand(case: Case, name: str, state: Settled | None, plates: Mapping[str, Nameplate]) -> Demand:
    flows = state.amps[name] if state is not None else 0j
    there = parts(case, name, state, flows) if state is not None else ()
    beside = [part.of for part in there]
    others = [
        (part.of, rated(case, part))
        for part in there
        if ((around := equipment(case.circuit, part.of.device)) is None or around.name not in plates)
        and not in_its_motor(case.circuit, part.of, beside)
    ]
    loads = [(of, current) for of, current in others if isinstance(of, Load)]
    steady = sum((current for load, current in loads if "continuous" in load.flags), 0j)
    motors = [one for one in loads if one[0].kind == "motor" and "continuous" not in one[0].flags]
    motor, turns = max(motors, key=lambda one: abs(one[1]), default=(None, 0j))
    rest = sum((current for _, current in others), 0j) if there or plates else flows
    lasting = rest + case.code.limit("extra for the largest motor") * turns
    more = case.code.limit("extra for continuous loads on wire") * steady
    marked = sum(plate.amps for plate in plates.values())
    return Demand(
        amps=abs(lasting + more) + marked,
        lasting=abs(lasting) + marked,
        flows=abs(flows),
        state=state,
        plates=tuple(plates.values()),
        rated=abs(rest) if there or plates else None,
        continuous=abs(steady),
        motor=motor,
        motor_amps=abs(turns),
    )


def parts(case: Case, name: str, state: Settled, flows: complex) -> Sequence[Share]:
    """Whose current flows in a conductor, contact or pole; nobody's where it takes more than one way."""
    there = shares(case, state).get(name, ())
    missing = abs(sum(part.amps for part in there) - flows)
    return there if missing <= APART * abs(flows) + APART_AMPS else ()


def rated(case: Case, part: Share) -> complex:
    """A load's current as its nameplate states it, and a motor's as the code's table does.

    The code counts that, and not what low volts make of it.
    """
    if isinstance(part.of, Winding) or part.of.kind == "capacitor" or not draws(part.of, abs(part.amps)):
        return part.amps
    return part.amps / abs(part.amps) * sized_amps(part.of, code=case.code)


def _plates(case: Case) -> dict[str, dict[str, Nameplate]]:
    """For each conductor, the equipment that it feeds at line voltage with a minimum circuit ampacity.

    That is what its circuit must carry (440.4(B)), and not the wires of a control.
    """
    return {
        conductor: {
            name: Nameplate(around, least)
            for name, around in there.items()
            if (least := nameplate(around, "mca")) is not None
        }
        for conductor, there in own_circuit(case).feeds.items()
    }

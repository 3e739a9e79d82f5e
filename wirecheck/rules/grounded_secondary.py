"""A transformer's secondary is grounded nowhere, though the code asks for it.

Below 50 V that is so where the primary is on more than 150 V to ground: where the insulation between
the windings fails, the control wires have the volts of the supply. On a grounded secondary that trips a
breaker or blows a fuse; on one that floats nobody knows, until a hand finds out. From 50 V to 150 V it is
so whatever feeds it: a first wire that touches metal trips nothing, and a second one can start a motor by
itself, or keep it from stopping.

Source: NEC 250.20(A)(1), 250.20(B)(1), 250.21(A)(3) (from memory)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Winding
from wirecheck.judge.case import Case
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.quantity import volts


class Floating(Problem):
    """No side of the secondary is on ground; `to_ground` is what its supply has, in V.

    It is None where the volts of the secondary ask for it by themselves.
    """

    winding: Winding
    to_ground: float | None


def find(case: Case) -> Iterator[Floating]:
    """Each transformer that has to be grounded and is not. Inside equipment that is the maker's business."""
    most = case.code.limit("supply of a secondary that may float")
    highest = case.code.limit("system that is grounded")
    low = case.code.limit("secondary that is grounded by its supply")
    legs = {leg.name: abs(leg.volts) for leg in case.circuit.legs}
    for winding in case.circuit.windings:
        node, copper = case.circuit.node, case.circuit.copper()
        origins = [case.routes.origins.get(node[end]) for end in winding.primary]
        to_ground = max((legs.get(one.name, 0.0) for one in origins if one is not None), default=0.0)
        outermost = len(case.circuit.around[winding.device]) == 1
        grounded = any(copper[node[end]] == copper[0] for end in winding.secondary)
        by_itself = low <= winding.secondary_volts <= highest
        by_supply = winding.secondary_volts < low and to_ground > most
        if outermost and not grounded and (by_itself or by_supply):
            yield Floating(
                at=spot(case.circuit.around[winding.device][0]),
                about=winding,
                severity="violation",
                stage="trim",
                copper=frozenset(case.uses.piece[end] for end in winding.secondary),
                winding=winding,
                to_ground=None if by_itself else to_ground,
            )


def words(problem: Floating, case: Case) -> Words:
    """What is not grounded, and why it has to be."""
    winding = problem.winding
    if problem.to_ground is None:
        return Words(
            message=f"The {volts(winding.secondary_volts)} side of {winding.name} is grounded nowhere. Where "
            "one of its wires touches metal, nothing trips and nobody knows.",
            help=f"Bring one side of it, {winding.secondary[1]}, to ground. It may float only where control "
            "power must not be lost and qualified people alone service it, and then with ground detectors.",
            stands=True,
            source=case.code.section("system that is grounded", "control circuits that may float"),
        )
    return Words(
        message=f"The {volts(winding.secondary_volts)} side of {winding.name} is grounded nowhere, and its "
        f"supply has {volts(problem.to_ground)} to ground.",
        help=f"Bring one side of it, {winding.secondary[1]}, to ground.",
        stands=True,
        source=case.code.section("supply of a secondary that may float"),
        value=problem.to_ground,
        limit=case.code.limit("supply of a secondary that may float"),
        unit="V",
    )


RULE = rule(__name__, "trim", severities=("violation",), find=find, words=words)

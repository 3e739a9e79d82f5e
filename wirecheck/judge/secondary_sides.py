"""What lies on either side of a transformer, up to what it feeds."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from wirecheck.circuit.circuit import Contact, Protection, Winding, Wire
from wirecheck.circuit.routes import OVERCURRENT
from wirecheck.judge import purpose
from wirecheck.judge.case import Case
from wirecheck.judge.question import question

MOMENTARY = "momentary"


class Side(NamedTuple):
    """One side of a winding, from its screw `end`: the wires there, and the points that it comes to.

    `opened` is whether a button or a fuse is in its way, as it should be in a hot alone.
    """

    end: str
    wires: frozenset[str]
    points: frozenset[int]
    opened: bool


@question
def sides(case: Case) -> Mapping[str, tuple[Side, Side]]:
    """The two sides of each winding, by its name."""
    near = _near(case)
    return {one.name: (_side(case, one, 0, near), _side(case, one, 1, near)) for one in case.circuit.windings}


Beside = Mapping[int, list[tuple[int, Wire | Contact | Protection]]]


def _near(case: Case) -> Beside:
    """What each node is joined to by wires that are no grounds, by contacts, and by breakers and fuses."""
    circuit = case.circuit
    pairs: list[tuple[Wire | Contact | Protection, str, str]] = [
        (wire, wire.a, wire.b) for wire in circuit.wires if not purpose.is_grounding(wire.conductor)
    ]
    pairs += [(one, one.a, one.b) for one in circuit.contacts]
    pairs += [(one, *pair) for one in circuit.protections for pair in one.pairs]
    near: dict[int, list[tuple[int, Wire | Contact | Protection]]] = {}
    for of, *ends in pairs:
        a, b = (circuit.node[end] for end in ends)
        near.setdefault(a, []).append((b, of))
        near.setdefault(b, []).append((a, of))
    return near


def _side(case: Case, winding: Winding, which: int, near: Beside) -> Side:
    """It ends where a panel begins, and at the winding's other screw."""
    circuit = case.circuit
    end, other = winding.secondary[which], winding.secondary[1 - which]
    stops = {0, circuit.node[other], *(circuit.node[leg.point] for leg in circuit.legs)}
    reached, wires, opened = [circuit.node[end]], set[str](), False
    for node in reached:
        for on, of in near.get(node, ()) if node not in stops else ():
            if isinstance(of, Wire):
                wires.add(of.conductor.name)
            elif isinstance(of, Contact):
                opened |= MOMENTARY in of.flags
            else:
                opened |= of.kind in OVERCURRENT
            if on not in reached:
                reached.append(on)
    return Side(end, frozenset(wires), frozenset(reached), opened)

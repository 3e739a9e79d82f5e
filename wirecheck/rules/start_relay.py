"""The coil of a start relay is on its start capacitor, and not on the start winding.

A potential relay feels the volts that the start winding makes as its motor comes up to speed. With the wires
on the two screws of its contact swapped, the coil is left on the capacitor as the contact opens. It feels the
line by way of the capacitor, which does not fall off with the motor's speed, and holds or chatters.

Source: common practice: contact 1 to the start capacitor, 2 with the coil to the start winding, 5 to common
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from wirecheck.circuit.circuit import Contact, Load
from wirecheck.circuit.settle import Settled, copper
from wirecheck.judge.case import Case
from wirecheck.judge.lasting import lasting
from wirecheck.judge.made_up import join_at
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule


class OnTheCapacitor(Problem):
    """A coil that is on `capacitor` where its contact is open, and `winding` on the contact's other side.

    `here` is the screw that the coil shares with the contact, `there` the contact's other one.
    """

    coil: Load
    winding: Load
    capacitor: Load
    here: str
    there: str


def find(case: Case) -> Iterator[OnTheCapacitor]:
    """Each coil that has a screw in common with a contact of its own, where calls and buttons end."""
    windings = [load for load in case.circuit.loads if "auxiliary" in load.flags]
    capacitors = [one for one in case.circuit.loads if one.kind == "capacitor" and "starting" in one.flags]
    if not windings or not capacitors:
        return
    for coil in case.circuit.loads:
        if coil.kind != "coil" or "senses" not in coil.flags or "winding" in coil.flags:
            continue
        pairs = itertools.product(_contacts(case, coil), windings, capacitors, lasting(case))
        for (contact, here, there), winding, capacitor, state in pairs:
            if _is_swapped(case, contact, (here, there), winding, capacitor, state.first or state):
                yield OnTheCapacitor(
                    at=spot(join_at(case, here) or case.circuit.around[coil.device][0]),
                    about=coil,
                    severity="fault",
                    stage="final",
                    copper=frozenset(case.uses.piece[end] for end in (here, there)),
                    coil=coil,
                    winding=winding,
                    capacitor=capacitor,
                    here=here,
                    there=there,
                )
                break


def _contacts(case: Case, coil: Load) -> Iterator[tuple[Contact, str, str]]:
    """The contacts of its relay that have a screw in common with a coil: that screw, and the other."""
    for contact in case.circuit.contacts:
        for here, there in ((contact.a, contact.b), (contact.b, contact.a)):
            if contact.scope == coil.device and here in coil.ends and there not in coil.ends:
                yield contact, here, there


def _is_swapped(
    case: Case,
    contact: Contact,
    screws: tuple[str, str],
    winding: Load,
    capacitor: Load,
    state: Settled,
) -> bool:
    """Whether an open contact parts a coil with a capacitor from a winding that is not on the coil's side."""
    if contact.name in state.closed:
        return False
    piece, node = copper(state), case.circuit.node
    here, there = (piece[node[screw]] for screw in screws)
    on_winding, on_capacitor = ({piece[node[end]] for end in load.ends} for load in (winding, capacitor))
    return there in on_winding and here in on_capacitor and here not in on_winding


def words(problem: OnTheCapacitor, case: Case) -> Words:
    """What is on which screw, and where each belongs."""
    here, there = problem.here, problem.there
    return Words(
        message=f"{problem.capacitor.name} is on {here}, where the coil of {problem.coil.name} is, and "
        f"{problem.winding.name} on {there}. As the contact opens the coil is left on the capacitor, and "
        "does not feel the start winding.",
        help=f"Swap them: the start winding belongs on {here}, and the start capacitor on {there}.",
        source="common practice: the coil of a potential relay goes from start to common",
    )


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words, of_ties=True)

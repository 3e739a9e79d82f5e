"""The wires of a start relay are on the wrong screws: its coil or its capacitor is not on the start winding.

A potential relay feels the volts that the start winding makes as its motor comes up to speed. With the wires
on the two screws of its contact swapped, the coil is left on the capacitor as the contact opens. It feels the
line by way of the capacitor, which does not fall off with the motor's speed, and holds or chatters. With the
wires on the two ends of its coil swapped, the contact puts the capacitor straight across the line as the
motor starts, and none of its current goes through the start winding.

Source: common practice: contact 1 to the start capacitor, 2 with the coil to the start winding, 5 to common
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

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


class AcrossTheLine(Problem):
    """A `capacitor` that a relay puts on `here`, while `winding` is on the `other` end of its coil."""

    coil: Load
    winding: Load
    capacitor: Load
    here: str
    other: str


def find(case: Case) -> Iterator[OnTheCapacitor | AcrossTheLine]:
    """Each coil that has a screw in common with a contact of its own, where calls and buttons end."""
    windings = [load for load in case.circuit.loads if "auxiliary" in load.flags]
    capacitors = [one for one in case.circuit.loads if one.kind == "capacitor" and "starting" in one.flags]
    if not windings or not capacitors:
        return
    for coil in case.circuit.loads:
        if coil.kind != "coil" or "senses" not in coil.flags or "winding" in coil.flags:
            continue
        yield from _across_the_line(case, coil, windings, capacitors)
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


def _across_the_line(
    case: Case, coil: Load, windings: Sequence[Load], capacitors: Sequence[Load]
) -> Iterator[AcrossTheLine]:
    """A coil with a start winding on its far end, whose contact puts a start capacitor on its near one."""
    piece = case.uses.piece
    for _, here, there in _contacts(case, coil):
        (other,) = (end for end in coil.ends if end != here)
        for winding, capacitor in itertools.product(windings, capacitors):
            if (
                piece[there] in {piece[end] for end in capacitor.ends}
                and piece[other] in _own_ends(case, winding)
                and piece[here] not in {piece[end] for end in winding.ends}
                and piece[here] not in _own_ends(case, winding)
            ):
                yield AcrossTheLine(
                    at=spot(join_at(case, here) or case.circuit.around[coil.device][0]),
                    about=coil,
                    severity="fault",
                    stage="final",
                    copper=frozenset((piece[here], piece[other])),
                    coil=coil,
                    winding=winding,
                    capacitor=capacitor,
                    here=here,
                    other=other,
                )
                return


def _own_ends(case: Case, winding: Load) -> set[int]:
    """The copper at the ends of a start winding that its motor's other windings are not on."""
    others = [one for one in case.circuit.loads if one.device == winding.device and one.name != winding.name]
    shared = {case.uses.piece[end] for one in others for end in one.ends}
    return {case.uses.piece[end] for end in winding.ends} - shared


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


def words(problem: OnTheCapacitor | AcrossTheLine, case: Case) -> Words:
    """What is on which screw, and where each belongs."""
    if isinstance(problem, AcrossTheLine):
        winding, capacitor = problem.winding.name, problem.capacitor.name
        return Words(
            message=f"The contact of {problem.coil.device} puts {capacitor} on {problem.here}, and {winding} "
            f"is on {problem.other}. As the motor starts, the capacitor is straight across the line, and the "
            "start winding gets nothing of it.",
            help=f"Swap them: the start winding belongs on {problem.here}, the common on {problem.other}.",
            source="common practice: the coil of a potential relay goes from start to common",
        )
    here, there = problem.here, problem.there
    return Words(
        message=f"{problem.capacitor.name} is on {here}, where the coil of {problem.coil.name} is, and "
        f"{problem.winding.name} on {there}. As the contact opens the coil is left on the capacitor, and "
        "does not feel the start winding.",
        help=f"Swap them: the start winding belongs on {here}, and the start capacitor on {there}.",
        source="common practice: the coil of a potential relay goes from start to common",
    )


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words, of_ties=True)

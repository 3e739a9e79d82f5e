"""All that can be wrong on a board, one thing at a time: each with its kind and its place."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import NamedTuple

from wirecheck.circuit.circuit import Circuit, Contact
from wirecheck.circuit.fault import (
    Broken,
    Exchanged,
    Fault,
    Held,
    LeadOff,
    LeadsExchanged,
    Off,
    Open,
    PoorJoint,
    Short,
    StuckContacts,
)
from wirecheck.circuit.machine import speeds
from wirecheck.faults.ends import at_end
from wirecheck.faults.listed import FUSES, POOR_OHMS
from wirecheck.judge.purpose import is_grounding
from wirecheck.parts.part import TRIED

TWO = 2
"""The values of a state that is an answer of the machine: there, or not."""


class Suspect(NamedTuple):
    """A fault that a board can have, its kind in the table of odds, and the place where it is."""

    fault: Fault
    kind: str
    place: str


def suspects(good: Circuit) -> tuple[Suspect, ...]:
    """Every single fault that can come to a board, each once.

    What is not joined cannot come off, and of two faults that no meter tells apart, as a wire that is
    broken and one that is off at its end, both are here.
    """
    listed = dict.fromkeys(
        (
            *_of_wires(good),
            *_of_cables(good),
            *_of_places(good),
            *_of_contacts(good),
            *_of_controls(good),
            *_burnt(good),
        )
    )
    return tuple(listed)


def _joined(good: Circuit) -> frozenset[str]:
    """The conductors' ends that are joined to something."""
    members = (member.point for join in good.board.joins for member in join.members)
    return frozenset(members)


def _carrying(good: Circuit) -> Iterator[tuple[str, tuple[tuple[str, str], ...]]]:
    """Each conductor that is joined at both ends and is no ground, with its ends and their places."""
    joined = _joined(good)
    for conductor in good.board.conductors.values():
        if joined.issuperset(conductor.ends) and not is_grounding(conductor):
            yield conductor.name, tuple(zip(conductor.ends, conductor.places, strict=True))


def _of_wires(good: Circuit) -> Iterator[Suspect]:
    for name, ends in _carrying(good):
        yield Suspect(Broken(name), "wire broken", ends[0][1])
        wire = good.board.conductors[name]
        # Where nothing tells two ends in one place from each other, a line names the first alone.
        for end, place in {
            at_end(end, wire, good.board): (end, where) for end, where in reversed(ends)
        }.values():
            yield Suspect(Off(end), "wire off", place)
            yield Suspect(PoorJoint(end, POOR_OHMS), "poor joint", place)


def _of_cables(good: Circuit) -> Iterator[Suspect]:
    """A short between two wires of a cable."""
    carrying = {name for name, _ in _carrying(good)}
    for run in good.board.runs.values():
        there = [one for one in run.conductors if one.name in carrying]
        for one, other in combinations(there, 2):
            if good.node[one.ends[0]] != good.node[other.ends[0]]:
                yield Suspect(Short(one.ends[0], other.ends[0], 0.0), "short", one.places[0])


def _of_places(good: Circuit) -> Iterator[Suspect]:
    """Two wires of a cable that are in each other's place at one of its ends."""
    carrying = dict(_carrying(good))
    for run in good.board.runs.values():
        there = [one for one in run.conductors if one.name in carrying]
        for one, other in combinations(there, 2):
            pairs = list(zip(carrying[one.name], carrying[other.name], strict=True))
            # Of a cable that comes back to where it began, a line names its first end alone.
            for here, there_too in pairs[: 1 if one.stays else 2]:
                if good.node[here[0]] != good.node[there_too[0]]:
                    yield Suspect(Exchanged((here[0], there_too[0])), "wires swapped", here[1])


def _of_contacts(good: Circuit) -> Iterator[Suspect]:
    """Each contact that a hand or a coil moves, burnt open and welded."""
    for contact in good.contacts:
        if contact.name in good.unbroken or "in-electronics" in contact.flags or _is_control(contact, good):
            continue
        place = good.devices[contact.scope].place
        yield Suspect(StuckContacts((contact.name,), closed=False), "contact open", place)
        yield Suspect(StuckContacts((contact.name,), closed=True), "contact welded", place)


def _is_control(contact: Contact, good: Circuit) -> bool:
    """Whether the contact is of what senses, which is stuck as a whole."""
    variable = good.variables.get(contact.scope)
    return variable is not None and variable.moved_by not in (*TRIED, "state", "overcurrent")


def _of_controls(good: Circuit) -> Iterator[Suspect]:
    """Each control that senses something, in each position in which it stays; each answer that does not come.

    An answer is a state of two values, as a flame that is off or on, and stays at the first.
    """
    for name, variable in good.variables.items():
        if variable.moved_by == "state" and len(variable.values) == TWO:
            yield Suspect(Held(name, variable.values[0]), "no answer", good.devices[variable.device].place)
        if variable.moved_by in (*TRIED, "state", "overcurrent"):
            continue
        place = good.devices[variable.device].place
        for number, position in enumerate(variable.values):
            tripped = variable.safety and number > 0
            yield Suspect(Held(name, position), "safety tripped" if tripped else "control stuck", place)


def _burnt(good: Circuit) -> Iterator[Suspect]:
    for protection in good.protections:
        if protection.kind in FUSES:
            yield Suspect(Open(protection.name), "fuse blown", good.devices[protection.device].place)
    for winding in good.windings:
        yield Suspect(Open(winding.name), "winding open", good.devices[winding.device].place)
    told = {one.name for loads in speeds(good).values() for one in loads[1:]}
    for load in good.loads:
        if load.name in told:
            continue
        yield Suspect(Open(load.name), load.kind, good.devices[load.device].place)


def point_of(fault: Fault, good: Circuit) -> str:
    """A point, a load, a control or a wire that a fault is at."""
    match fault:
        case Off(name) | PoorJoint(name, _) | Broken(name) | Held(name, _) | Open(name) | LeadOff(name):
            return name
        case Short(name, _, _):
            return name
        case Exchanged((name, _)) | LeadsExchanged((name, _)):
            return name
        case StuckContacts(contacts, _):
            return next(one.scope for one in good.contacts if one.name in contacts)
    raise AssertionError(fault)

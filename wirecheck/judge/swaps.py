"""Which two wires a hand would swap so that every call does what it should."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, replace

from wirecheck.judge.calls import all_right
from wirecheck.judge.case import Case
from wirecheck.judge.control_wires import Crossing, crossings
from wirecheck.judge.made_up import join_at
from wirecheck.judge.question import question
from wirecheck.model.board import Join, Terminal


@dataclass(frozen=True, slots=True)
class Swapped:
    """The wires on two screws are on each other's; `join` is where `one` is made up."""

    one: Terminal
    other: Terminal
    join: Join


@dataclass(frozen=True, slots=True)
class Misplaced:
    """The wire that belongs on `meant`, which has none, is on `here`, made up in `join`."""

    here: Terminal
    meant: Terminal
    join: Join


Swap = Crossing | Swapped | Misplaced


@question
def mending_swap(case: Case) -> Swap | None:
    """The swap that would put every call right, if there is one.

    A wire whose ends say different things is looked at first, then every two screws of each thermostat.
    """
    for crossed in crossings(case):
        if crossed.meant is not None and _would_do(case, crossed.here, crossed.meant):
            return crossed
    terminals = case.board.terminals
    for device in case.board.devices.values():
        screws = [terminals[f"{device.name}.{name}"] for name in device.part.terminals if device.part.calls]
        for one, other in itertools.combinations(screws, 2):
            here, there = join_at(case, one.name), join_at(case, other.name)
            if (here is None and there is None) or not _would_do(case, one, other):
                continue
            if here is not None and there is not None:
                return Swapped(one, other, here)
            if here is not None:
                return Misplaced(one, other, here)
            if there is not None:
                return Misplaced(other, one, there)
    return None


def tells(case: Case, one: Terminal, other: Terminal) -> bool:
    """Whether anything would run otherwise, in any call or in none, with the wires on two screws swapped."""
    swapped = _swapped(case, one, other)
    return any(
        before.rest.running != after.rest.running or before.started().keys() != after.started().keys()
        for calls in ([], *([call] for call in case.calls))
        for before, after in [(case.played(calls), swapped.played(calls))]
    )


def _would_do(case: Case, one: Terminal, other: Terminal) -> bool:
    """Whether every call would be right with the wires on two screws swapped."""
    node = case.circuit.node
    return node[one.name] != node[other.name] and all_right(_swapped(case, one, other))


def _swapped(case: Case, one: Terminal, other: Terminal) -> Case:
    """The board with what is on one screw on the other, and the other way round."""
    node = case.circuit.node
    swapped = node | {one.name: node[other.name], other.name: node[one.name]}
    return case.with_circuit(replace(case.circuit, node=swapped))

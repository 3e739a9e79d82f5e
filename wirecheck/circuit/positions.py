"""Which switches can influence what, so that twenty rooms cost twenty small tables.

Two switches belong to one group when a load or a wire between the rails can
feel both. Rails are what no switch can change: the legs behind their closed
breakers, and earth. Groups are independent, so their positions are listed one
group at a time.
"""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.pieces import pieces
from wirecheck.circuit.work import allowed
from wirecheck.language.syntax import (
    AllOf,
    AnyOf,
    Called,
    Condition,
    HasVoltage,
    InPosition,
    IsState,
    Negation,
    Runs,
)
from wirecheck.parts.part import TRIED

# The most states of one group that are listed one by one; beyond it they are sampled.
MOST_STATES = 4096
# The most of a board's work that is meant for one group, in all its states: large boards are sampled sooner.
SHARE = 0.25
# So many are listed on a board of any size: six switches of two positions.
LEAST_STATES = 64


class Group(NamedTuple):
    """Switches that can influence each other, with the loads, devices and nodes that feel them."""

    switches: tuple[str, ...]
    loads: frozenset[str]
    outlets: frozenset[str]
    devices: frozenset[str]
    nodes: frozenset[int]


def groups(circuit: Circuit) -> tuple[Group, ...]:
    """The groups of a circuit's hand-moved switches and its loads, in order of appearance."""
    piece = _pieces(circuit)
    lists_of: dict[str, dict[str, list[str]]] = {}

    def file(item: str, kind: str, name: str, device: str) -> None:
        lists = lists_of.setdefault(piece[item], {"switches": [], "loads": [], "outlets": [], "devices": []})
        lists["devices"].append(circuit.devices[device].outer)
        if kind:
            lists[kind].append(name)

    for name, variable in circuit.variables.items():
        if variable.moved_by != "overcurrent":
            file(f"variable {name}", "switches" if variable.moved_by in TRIED else "", name, variable.device)
    for load in circuit.loads:
        file(f"load {load.name}", "loads", load.name, load.device)
    for outlet in circuit.outlets:
        file(f"outlet {outlet.name}", "outlets", outlet.name, outlet.device)
    nodes: dict[str, set[int]] = {}
    for node, net in circuit.copper().items():
        if f"net {net}" in piece:
            nodes.setdefault(piece[f"net {net}"], set()).add(node)
    return tuple(
        Group(
            tuple(lists["switches"]),
            frozenset(lists["loads"]),
            frozenset(lists["outlets"]),
            frozenset(lists["devices"]),
            frozenset(nodes.get(first, ())),
        )
        for first, lists in lists_of.items()
    )


def _pieces(circuit: Circuit) -> dict[str, str]:
    """What each contact, load, outlet and variable hangs together with, the rails left out."""
    ties: list[tuple[str, str]] = []
    net = circuit.copper()
    rails = {net[0]} | {net[circuit.node[leg.point]] for leg in circuit.legs}
    members: list[tuple[str, tuple[int, ...]]] = []
    for contact in circuit.contacts:
        item = f"contact {contact.name}"
        members.append((item, (circuit.node[contact.a], circuit.node[contact.b])))
        ties += ((item, name) for name in _felt(contact.when, contact.scope, circuit))
    for load in circuit.loads:
        members.append((f"load {load.name}", tuple(circuit.node[end] for end in load.ends)))
    for winding in circuit.windings:
        ends = (*winding.primary, *winding.secondary)
        members.append((f"winding {winding.name}", tuple(circuit.node[end] for end in ends)))
    for move in circuit.moves:
        ties.append((f"variable {move.variable}", f"variable {move.scope}"))
        if move.when is not None:
            ties += ((f"variable {move.variable}", name) for name in _felt(move.when, move.scope, circuit))
    for device in circuit.devices.values():
        if device.part.states:
            for terminal in device.part.terminals:
                node = circuit.node[f"{device.name}.{terminal}"]
                if net[node] not in rails:
                    ties.append((f"variable {device.name}", f"net {net[node]}"))
    for outlet in circuit.outlets:
        members.append((f"outlet {outlet.name}", (circuit.node[outlet.hot], circuit.node[outlet.neutral])))
    for item, nodes in members:
        ties += ((item, f"net {net[node]}") for node in nodes if net[node] not in rails)
    items = [item for item, _ in members] + [f"variable {name}" for name in circuit.variables]
    return pieces(items, ties)


def _felt(condition: Condition, scope: str, circuit: Circuit) -> Iterator[str]:
    """The variables and loads that a condition looks at."""
    match condition:
        case InPosition():
            yield f"variable {scope}"
        case Called():
            yield f"variable {scope}"
        case IsState(name, _):
            yield f"variable {scope}.{name.text}"
        case Runs():
            load = circuit.meant(condition, scope)
            if load is not None:
                yield f"load {load.name}"
        case HasVoltage():
            yield f"variable {scope}"
        case Negation(fact):
            yield from _felt(fact, scope, circuit)
        case AllOf(facts) | AnyOf(facts):
            for fact in facts:
                yield from _felt(fact, scope, circuit)
        case _:
            yield f"variable {scope}"


def all_listed(circuit: Circuit, group: Group) -> bool:
    """Whether a group's positions are few enough to be listed one by one."""
    every = math.prod(len(circuit.variables[name].values) for name in group.switches)
    return every <= _most(circuit)


def _most(circuit: Circuit) -> int:
    steps = SHARE * allowed(circuit.board.length)
    return min(MOST_STATES, max(LEAST_STATES, int(steps / (circuit.solving + circuit.look))))


def combinations(circuit: Circuit, group: Group) -> tuple[tuple[Mapping[str, str], ...], bool]:
    """Every position of a group's switches, and whether they are all there.

    Beyond `MOST_STATES`, or a `SHARE` of the board's work, what is listed is a
    sample: the resting state, each switch moved alone (or as many as that holds),
    and random states (always the same ones).
    """
    values = [circuit.variables[name].values for name in group.switches]
    most = _most(circuit)
    if all_listed(circuit, group):
        return tuple(
            dict(zip(group.switches, state, strict=True)) for state in itertools.product(*values)
        ), True
    rest = [choice[0] for choice in values]
    states = [tuple(rest)]
    chance = random.Random(len(values))
    alone = [(index, value) for index, choice in enumerate(values) for value in choice[1:]]
    if len(alone) >= most:
        # A state of a thousand switches is as long as their number: not each of them is moved alone.
        alone = sorted(chance.sample(alone, most - 1))
    states += [(*rest[:index], value, *rest[index + 1 :]) for index, value in alone]
    while len(states) < most:
        states.append(tuple(chance.choice(choice) for choice in values))
    return tuple(dict(zip(group.switches, state, strict=True)) for state in dict.fromkeys(states)), False

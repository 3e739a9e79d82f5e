"""The two wires in one box whose swap would make a target do what is asked, if there are two."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import replace

from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.positions import Group
from wirecheck.circuit.work import WorkEnds
from wirecheck.judge.case import Case
from wirecheck.judge.targets import Target, group_of, targets, tried, turned_by, turned_in
from wirecheck.language.syntax import ExpectFrom
from wirecheck.model.board import Terminal

# How many states are worked out at most to find two wires that are swapped between devices in one box.
MOST_TRIALS = 500
# The most that one search may take of the work that is left.
SHARE = 0.25
# With more switches than this that feel each other the search takes too long.
MOST_SWITCHES = 6


def swap(
    case: Case, target: Target, group: Group, switches: tuple[str, ...]
) -> tuple[Terminal, Terminal] | None:
    """The two screws of one box whose wires are swapped, in order of their names.

    With them back in place the switches turn the target on and off as they should, and what
    other switches did rightly they still do.
    """
    circuit = case.circuit
    known = [name for name in switches if name in circuit.variables]
    group = group._replace(switches=tuple(dict.fromkeys((*group.switches, *known))))
    if len(group.switches) > MOST_SWITCHES:
        return None
    try:
        with case.work.reason(SHARE):
            return _first(case, target, group, switches)
    except WorkEnds:
        return None


def _first(
    case: Case, target: Target, group: Group, switches: tuple[str, ...]
) -> tuple[Terminal, Terminal] | None:
    circuit = case.circuit
    for one, other in _pairs(case, target, group):
        if circuit.node[one.name] != circuit.node[other.name]:
            node = circuit.node | {
                one.name: circuit.node[other.name],
                other.name: circuit.node[one.name],
            }
            changed = replace(circuit, node=node)
            if turned_in(changed, target, group, switches) and _stays(case, changed):
                return (one, other) if one.name < other.name else (other, one)
    return None


def _stays(case: Case, changed: Circuit) -> bool:
    """Whether what its switches turned on and off before is still turned by them in a changed circuit."""
    for expectation in case.board.expectations:
        if isinstance(expectation, ExpectFrom):
            switches = [word.text for word in expectation.switches]
            for target in targets(case.circuit, expectation.load.text):
                group = group_of(case, target)
                if (
                    group is not None
                    and turned_by(tried(case, target, group), switches)
                    and not turned_in(changed, target, group, switches)
                ):
                    return False
    return True


def _pairs(case: Case, target: Target, group: Group) -> list[tuple[Terminal, Terminal]]:
    """The pairs of screws that a hand may have swapped: on one device, then between two in one place."""
    devices = case.circuit.devices
    named = dict.fromkeys(devices[name].outer for name in (*group.switches, *_on_it(case.circuit, target)))
    screws = [
        terminal
        for device in named
        for terminal in case.board.terminals.values()
        if terminal.owner == device and terminal.spec.role not in ("ground", "neutral")
    ]
    pairs = list(itertools.combinations(screws, 2))
    near = [(one, other) for one, other in pairs if one.owner == other.owner]
    far = [(one, other) for one, other in pairs if one.owner != other.owner and one.place == other.place]
    # Every pair is tried in every position: with many switches in one box, one device at a time must do.
    return near + far if len(far) << len(group.switches) < MOST_TRIALS else near


def _on_it(circuit: Circuit, target: Target) -> Iterator[str]:
    """The devices of what has the target's two points."""
    yield from (one.device for one in circuit.outlets if (one.hot, one.neutral) == (target.a, target.b))
    yield from (one.device for one in circuit.loads if (one.a, one.b) == (target.a, target.b))

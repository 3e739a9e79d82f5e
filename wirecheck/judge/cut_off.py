"""What cannot have power while something stands in one of its positions, as the copper alone shows."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import NamedTuple

from wirecheck.circuit.circuit import LOOKS_A_STEP, Circuit, Contact
from wirecheck.circuit.pieces import pieces
from wirecheck.language.syntax import AllOf, AnyOf, Condition, InPosition, IsState, Runs


def cut_off(circuit: Circuit, variable: str, position: str) -> frozenset[str]:
    """The loads without a way to a source while a variable stands at a position, by name.

    Each contact counts as closed that may close, and each load as a way through. So a load that is
    named has no current in any state in which the variable stands there. A coil that is named
    pulls nothing in: the contacts that wait for it stay open.

    >>> from wirecheck.circuit.circuit import circuit
    >>> from wirecheck.assembly import assemble
    >>> _, board = assemble('''board "Lamp"
    ... panel LP 120 V
    ... breaker LP.1 15 A
    ... box A junction 40 cu in
    ... cable W1 14/2 NM-B 10 ft from LP to A
    ... S1 is single-pole-switch in A
    ... L1 is lampholder 60 W in A
    ... at LP
    ...   W1.black -- LP.1
    ...   W1.white -- LP.neutral
    ... at A
    ...   W1.black -- S1.line
    ...   S1.load -- L1.hot
    ...   W1.white -- L1.neutral''')
    >>> cut_off(circuit(board), "S1", "off"), cut_off(circuit(board), "S1", "on")
    (frozenset({'L1'}), frozenset())
    """
    dead: frozenset[str] = frozenset()
    while True:
        stands = _Stands(circuit, variable, position, dead)
        closed = [one for one in circuit.contacts if not _barred(one.when, one.scope, stands)]
        more = _dead(circuit, closed)
        if more == dead:
            return dead
        dead = more


class _Stands(NamedTuple):
    """A variable at a position, and the loads that are known to be dead then."""

    circuit: Circuit
    variable: str
    position: str
    dead: frozenset[str]


def _dead(circuit: Circuit, closed: list[Contact]) -> frozenset[str]:
    circuit.work.spend(1 + len(circuit.loads) ** 2 // LOOKS_A_STEP)
    node = circuit.node
    piece = circuit.copper(frozenset(contact.name for contact in closed))
    sources = {piece[0], *(piece[node[leg.point]] for leg in circuit.legs)}
    ties = [(piece[a], piece[b]) for a, b in _through(circuit)]
    ends = {name: (piece[node[a]], piece[node[b]]) for name, a, b in circuit.drawn}
    fed = {circuit.load_of[name].name for name in ends if _fed(name, ends, ties, sources)}
    return frozenset(load.name for load in circuit.loads if load.name not in fed)


def _through(circuit: Circuit) -> Iterator[tuple[int, int]]:
    """The ways through what is no load: windings, and what controls draw where they look for volts."""
    node = circuit.node
    for winding in circuit.windings:
        points = [node[point] for point in (*winding.primary, *winding.secondary)]
        yield from itertools.pairwise(points)
    yield from ((node[a], node[b]) for a, b in circuit.inputs)


def _fed(name: str, ends: dict[str, tuple[int, int]], ties: list[tuple[int, int]], sources: set[int]) -> bool:
    """Whether both ends of a load have a way to a source that is not through the load itself."""
    others = (pair for other, pair in ends.items() if other != name)
    joined = pieces(ends[name], [*ties, *others])
    reached = {joined.get(source, source) for source in sources}
    return all(joined[end] in reached for end in ends[name])


def _barred(condition: Condition, scope: str, stands: _Stands) -> bool:
    """Whether a condition cannot be true then."""
    match condition:
        case InPosition(where):
            return scope == stands.variable and where.text != stands.position
        case IsState(name, state):
            return f"{scope}.{name.text}" == stands.variable and state.text != stands.position
        case Runs():
            load = stands.circuit.meant(condition, scope)
            return load is not None and load.name in stands.dead
        case AllOf(facts):
            return any(_barred(fact, scope, stands) for fact in facts)
        case AnyOf(facts):
            return all(_barred(fact, scope, stands) for fact in facts)
    return False

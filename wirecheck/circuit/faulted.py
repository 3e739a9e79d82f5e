"""The circuit of a board with faults in it.

What a hand could do as well, a wire off or two exchanged, is done to the board; the rest to its circuit.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from wirecheck.circuit.circuit import CONTACT_OHMS, Circuit, Resistor, circuit
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
from wirecheck.circuit.work import Work
from wirecheck.language.syntax import AllOf, AnyOf, HasVoltage, Negation
from wirecheck.model.board import Altered, Board
from wirecheck.model.devices import every_device
from wirecheck.model.lifted import exchanged, lifted

# What welded contacts make on, and burnt ones.
ALWAYS, NEVER = AllOf(()), AnyOf(())


def faulted(
    board: Board, faults: Iterable[Fault], work: Work | None = None, good: Circuit | None = None
) -> Circuit:
    """The circuit of a board that has these faults.

    Parameters
    ----------
    faults : by the names that the board's circuit has without them
    work : as in `circuit`
    good : the board's circuit without them, where it is at hand: most faults leave the board as it is

    Examples
    --------
    >>> from wirecheck.assembly import assemble
    >>> _, shed = assemble('board "Shed"\\npanel LP 120 V\\nbreaker LP.1 15 A')
    >>> faulted(shed, [Short("LP.1", "LP.neutral", 0.5)]).resistors
    (Resistor(name='fault 1', a=1, b=0, ohms=0.5),)
    """
    known = tuple(faults)
    changed = board
    for fault in known:
        changed = _rewired(changed, fault)
    if good is not None and changed is board:
        bad = replace(good, work=work) if work is not None else good
    else:
        bad = circuit(changed, work)
    for number, fault in enumerate(known, 1):
        bad = _with(bad, fault, path_of(number))
    return bad


def path_of(number: int) -> str:
    """What the path that a fault makes is called in a solution; `number` counts the faults from 1."""
    return f"fault {number}"


def _rewired(board: Board, fault: Fault) -> Board:
    """A board with a fault that a hand could make."""
    match fault:
        case Off(end):
            return lifted(board, {end})
        case Exchanged(ends):
            return exchanged(board, *ends)
        case LeadOff(terminal):
            return _altered(board, "lift", (terminal,))
        case LeadsExchanged(terminals):
            return _altered(board, "swap", terminals)
    return board


def _altered(board: Board, act: str, points: tuple[str, ...]) -> Board:
    owners = (
        device
        for device in every_device(board.devices)
        if any(f"{device.name}.{screw}" == points[0] for screw in device.part.terminals)
    )
    device = next(owners)
    return board._replace(altered=(*board.altered, Altered(act, device.outer, points, device.span)))


def _with(good: Circuit, fault: Fault, name: str) -> Circuit:
    """A circuit with a fault that its copper, contacts or windings have; another changes nothing here."""
    match fault:
        case Broken(conductor):
            return replace(good, wires=tuple(one for one in good.wires if one.conductor.name != conductor))
        case Short(a, b, ohms):
            return _bridged(good, Resistor(name, good.node[a], good.node[b], ohms))
        case PoorJoint(end, ohms):
            # The end has a node of its own, and the ohms lie between it and what it was one with.
            apart = replace(good, node={**good.node, end: good.nodes})
            return _bridged(apart, Resistor(name, apart.node[end], good.node[end], ohms))
        case StuckContacts(contacts, closed):
            when = ALWAYS if closed else NEVER
            stuck = (one._replace(when=when) if one.name in contacts else one for one in good.contacts)
            return replace(good, contacts=tuple(stuck))
        case Held(variable, position):
            return _held(good, variable, position)
        case Open(burnt):
            # The electronics of a motor have all its speeds.
            whole = {one.name for one in speeds(good).get(burnt, ())}
            bad = replace(good, dead=good.dead | {burnt} | whole)
            for variable, position in _lives_on(burnt, good):
                bad = _held(bad, variable, position)
            return bad
    return good


def _held(good: Circuit, variable: str, position: str) -> Circuit:
    """A circuit in which a control or a state stays in one position."""
    held = good.variables[variable]._replace(values=(position,))
    return replace(
        good,
        variables={**good.variables, variable: held},
        moves=tuple(move for move in good.moves if move.variable != variable),
    )


def _lives_on(name: str, good: Circuit) -> Iterator[tuple[str, str]]:
    """What electronics decide, with how it stands without them: what falls back when their supply is gone."""
    load = good.load.get(name)
    if load is None or load.kind != "electronics":
        return
    ends = {good.node[load.a], good.node[load.b]}
    for move in good.moves:
        match move.when:
            case Negation(HasVoltage(one, _, other)) if not move.origins:
                points = (f"{move.scope}.{one.text}", f"{move.scope}.{other.text}")
                if {good.node.get(point) for point in points} == ends:
                    yield move.variable, move.target


def _bridged(good: Circuit, path: Resistor) -> Circuit:
    """A circuit with one path more; of metal on metal it has what a closed contact has."""
    real = path._replace(ohms=max(path.ohms, CONTACT_OHMS))
    return replace(good, resistors=(*good.resistors, real)) if real.a != real.b else good

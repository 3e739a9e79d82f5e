"""What stands behind the contacts of which device, by copper alone, and what goes past them."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import NamedTuple

from wirecheck.circuit.circuit import Contact, Load
from wirecheck.circuit.pieces import pieces
from wirecheck.judge import calls
from wirecheck.judge.buttons import Button, buttons
from wirecheck.judge.case import Case
from wirecheck.judge.question import question
from wirecheck.judge.unfed import sources_without
from wirecheck.language.syntax import InPosition, Runs
from wirecheck.parts.part import TRIED, Carried

# What a hand, an overcurrent or a control of its own moves is no safety.
MOVED = (*TRIED, "state", "overcurrent")
# What a screw carries that calls for something that runs.
CALLS: tuple[Carried, ...] = ("heat", "second-heat", "cool", "second-cool", "fan")

Sources = Callable[[str], frozenset[int]]
"""To which sources a point can be tied, as pieces of copper."""


def bridged(case: Case) -> frozenset[str]:
    """The contacts that open nothing, since wires join their two sides."""
    wired, node = case.circuit.wired, case.circuit.node
    return frozenset(one.name for one in case.circuit.contacts if wired[node[one.a]] == wired[node[one.b]])


@question
def behind(case: Case) -> dict[tuple[str, str], int]:
    """How many sides of what does work are fed by the contacts of a device alone, by load and device.

    A control that opens by itself is none of these: it may be in the wrong wire.
    """
    every, without = sources_without(case, ()), _without(case)
    told: dict[tuple[str, str], int] = {}
    for load in (one for one in case.circuit.loads if one.kind in calls.WORKING):
        fed = [end for end in load.ends if every(end)]
        for device, sources in without.items():
            if count := sum(not sources(end) for end in fed):
                told[load.name, device] = count
    return told


def hung(case: Case) -> Iterator[tuple[str, str]]:
    """What takes power and is fed by the contacts of a control alone that opens by itself, by load and it."""
    every, circuit = sources_without(case, ()), case.circuit
    for name in dict.fromkeys(one.device for one in circuit.variables.values() if one.moved_by not in MOVED):
        contacts = tuple(one.name for one in circuit.contacts_in.get(name, ()))
        sources = sources_without(case, contacts) if contacts else every
        yield from (
            (load.name, name)
            for load in circuit.loads
            if contacts and any(every(end) and not sources(end) for end in load.ends)
        )


def stopping(case: Case) -> Iterator[str]:
    """The stop buttons that open the only way of some load, a coil too, to a source."""
    every = sources_without(case, ())
    for button in _stops(case):
        sources = sources_without(case, (button.contact.name,))
        if any(every(end) and not sources(end) for load in case.circuit.loads for end in load.ends):
            yield button.name


def defeated(case: Case) -> Iterator[tuple[str, str]]:
    """The stop buttons that a start button's contact lies around, with that: leant on, it lets none stop.

    The contact of a coil that has pulled in may be a part of the way.
    """
    stops = list(_stops(case))
    by_coil = [one for one in case.circuit.contacts if isinstance(one.when, Runs)]
    starts = [one.contact for one in buttons(case.circuit).values() if one.closes]
    for stop, start in itertools.product(stops, starts):
        others = [*by_coil, *(one.contact for one in stops if one is not stop)]
        if _lie_around(case, stop.contact, [*others, start]) and not _lie_around(case, stop.contact, others):
            yield stop.name, start.scope


def _lie_around(case: Case, contact: Contact, others: Iterable[Contact]) -> bool:
    """Whether others join both sides of a contact while they are closed."""
    wired, node = case.circuit.wired, case.circuit.node
    together = pieces(
        dict.fromkeys(wired.values()), ((wired[node[one.a]], wired[node[one.b]]) for one in others)
    )
    return together[wired[node[contact.a]]] == together[wired[node[contact.b]]]


def _stops(case: Case) -> Iterator[Button]:
    return (one for one in buttons(case.circuit).values() if not one.closes)


def called_for_good(case: Case) -> Iterator[str]:
    """The screws for a call that copper ties to one that carries power: nothing ends that call.

    What a safety alone parts from power is called as long as nothing has gone wrong.
    """
    circuit, terminals = case.circuit, case.board.terminals.values()
    safe = {one.device for one in circuit.variables.values() if one.safety}
    net = circuit.copper(frozenset(one.name for one in circuit.contacts if one.scope in safe))
    power = {net[circuit.node[one.name]] for one in terminals if one.spec.carries == "power"}
    return (
        one.name for one in terminals if one.spec.carries in CALLS and net[circuit.node[one.name]] in power
    )


def disconnected(case: Case) -> Iterator[str]:
    """What takes power and has a side that a hand's switch of several poles alone feeds: a disconnect.

    A clock of its own belongs ahead of it.
    """
    every, circuit = sources_without(case, ()), case.circuit
    for name, sources in _without(case).items():
        contacts = circuit.contacts_in[name]
        ends = {end for one in contacts for end in (one.a, one.b)}
        if len(ends) >= 4 and all(isinstance(one.when, InPosition) for one in contacts):
            for load in circuit.loads:
                own = circuit.devices[load.device].outer == name
                if not own and any(every(end) and not sources(end) for end in load.ends):
                    yield load.name


def sheltered(case: Case) -> Iterator[tuple[str, str]]:
    """The controls that open by themselves and get power by the contacts of a device alone, with that."""
    every, circuit = sources_without(case, ()), case.circuit
    for name in dict.fromkeys(one.device for one in circuit.variables.values() if one.moved_by not in MOVED):
        ends = [end for one in circuit.contacts_in.get(name, ()) for end in (one.a, one.b)]
        for device, sources in _without(case).items():
            if any(map(every, ends)) and not any(map(sources, ends)):
                yield name, device


def across_calls(case: Case) -> Iterator[tuple[str, frozenset[str]]]:
    """The controls between the screws of a thermostat for two calls, with these: one call makes both then."""
    circuit, net = case.circuit, case.circuit.copper()
    screws: dict[int, set[str]] = {}
    for device in case.board.devices.values():
        for terminal, spec in device.part.terminals.items():
            if device.part.calls and spec.carries is not None:
                screws.setdefault(net[circuit.node[f"{device.name}.{terminal}"]], set()).add(spec.carries)
    for variable in circuit.variables.values():
        if variable.moved_by not in MOVED:
            for one in circuit.contacts_in.get(variable.device, ()):
                sides = [screws.get(net[circuit.node[end]], set()) for end in (one.a, one.b)]
                if all(sides) and sides[0].isdisjoint(sides[1]):
                    yield variable.device, frozenset().union(*sides)


def fed_back(case: Case) -> Iterator[str]:
    """The load screws of what a hand or a call moves that copper alone ties to a source: live for good.

    To that of a contactor a disconnect ahead of it ties the source as well.
    """
    circuit = case.circuit
    alone = sources_without(case, tuple(one.name for one in circuit.contacts))
    by_hand = sources_without(case, tuple(one.name for one in circuit.contacts if not _by_hand(case, one)))
    for name in _without(case):
        by_coil = all(isinstance(one.when, Runs) for one in circuit.contacts_in[name])
        for terminal, spec in circuit.devices[name].part.terminals.items():
            point = f"{name}.{terminal}"
            if (
                spec.role == "switched"
                and point in case.board.terminals
                and (by_hand if by_coil else alone)(point)
            ):
                yield point


def _by_hand(case: Case, contact: Contact) -> bool:
    """Whether a hand moves a contact."""
    return isinstance(contact.when, InPosition) and case.circuit.devices[contact.scope].part.moved_by in TRIED


class Past(NamedTuple):
    """What a call runs that has one hot by the contacts of `device`, and one past them, at `point`.

    `pole` is that of its contacts which could open it, too. `called` is whether a call runs it, and not a
    coil alone that a button may call for.
    """

    load: Load
    device: str
    point: str
    pole: Contact
    called: bool


@question
def past(case: Case) -> tuple[Past, ...]:
    """What a call or a coil runs that has a hot by the contacts of a device, and one that goes past them.

    It is live with no call. Where one leg has no contact on its way, as past a contactor of one pole, it is
    live for good, and that is as it should be.
    """
    counted, circuit = behind(case), case.circuit
    found = []
    for load, called in _called(case):
        points = _points(case, load)
        for device, sources in _without(case).items():
            if (load.name, device) in counted and circuit.devices[device].outer != _outer(case, load):
                poles = [(one, _opens(case, one, sources)) for one in circuit.contacts_in[device]]
                by = ((point, one) for point in points for one, opens in poles if sources(point) & opens)
                found += [Past(load, device, *first, called) for first in itertools.islice(by, 1)]
    return tuple(found)


def _opens(case: Case, contact: Contact, sources: Sources) -> frozenset[int]:
    """The sources, but earth, that a contact has on one of its sides."""
    earth = {case.circuit.copper()[0]}
    return (sources(contact.a) | sources(contact.b)) - earth


def _called(case: Case) -> Iterator[tuple[Load, bool]]:
    """What a line wants of a call, or one runs, or a coil's contacts feed, and does not run without one.

    With each is whether a call runs it.
    """
    lines = [line for line in calls.asked(case) if calls.made(line)]
    wanted = {load.name for line in lines for load in calls.wanted(case, line)}
    wanted.update(*(case.standing({}, [call]).running for call in case.heard))
    by_coil = {one.scope for one in case.circuit.contacts if isinstance(one.when, Runs)}
    moved = {load for load, device in behind(case) if device in by_coil}
    moved |= wanted
    moved -= case.standing({}).running
    for one in case.circuit.loads:
        if one.name in moved and one.kind in calls.WORKING:
            yield one, one.name in wanted


def _points(case: Case, load: Load) -> list[str]:
    """Where a load takes power in: by its ends, those of its start winding, and the capacitors on them.

    A capacitor is on an end by way of contacts, too, that do not switch the load itself, as a start relay's.
    The relay's coil is on the end of the start winding alone.
    """
    circuit = case.circuit
    windings = [one for one in circuit.loads if one.device == load.device and "winding" in one.flags]
    own = [end for one in (load, *windings) for end in one.ends]
    near = {circuit.wired[circuit.node[end]] for end in own}
    others = (each for name, each in circuit.contacts_in.items() if (load.name, name) not in behind(case))
    for contact in itertools.chain.from_iterable(others):
        ends = {circuit.wired[circuit.node[end]] for end in (contact.a, contact.b)}
        if ends & near:
            near |= ends
    run = {circuit.wired[circuit.node[end]] for end in load.ends}
    starts = {circuit.wired[circuit.node[end]] for one in windings for end in one.ends} - run
    beside = {"capacitor": near, "coil": starts}
    by_them = (
        end
        for one in circuit.loads
        if not beside.get(one.kind, run).isdisjoint(circuit.wired[circuit.node[end]] for end in one.ends)
        for end in (one.ends if one.kind in beside else ())
    )
    return [*own, *by_them]


def _outer(case: Case, load: Load) -> str:
    return case.circuit.devices[load.device].outer


@question
def _without(case: Case) -> Mapping[str, Sources]:
    """The sources of each point without the contacts of a device, of those that a hand or a call moves."""
    devices = case.circuit.devices
    return {
        name: sources_without(case, tuple(one.name for one in contacts))
        for name, contacts in case.circuit.contacts_in.items()
        if devices[name].part.moved_by in TRIED or devices[name].part.calls
    }

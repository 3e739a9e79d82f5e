"""What has not its volts in any state, and cannot have them, however contacts and protection stand.

A state is looked at first: what has its volts in one of them works. Of the rest, copper tells whether
any position of everything that opens and closes, by hand or by itself, could bring them: then no
wire is missing, and it only waits for heat, for time or for a call.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from typing import Literal, NamedTuple

from wirecheck.circuit.circuit import COILS, LOOKS_A_STEP
from wirecheck.circuit.pieces import pieces
from wirecheck.judge import made_up
from wirecheck.judge.case import Case
from wirecheck.judge.continuity import Wanted
from wirecheck.judge.question import question
from wirecheck.judge.targets import LIVE
from wirecheck.judge.voltages import is_line
from wirecheck.model.board import Terminal

# Below this an outlet is dead, and no meter says otherwise (common practice).
DEAD_VOLTS = 5.0
# A transformer that is fed a lesser share of its volts than this is not fed: from there on its tap is judged.
FED = 0.2
# What only listens on a wire, or sends over it.
LISTENS = frozenset(("standby", "senses"))
# What carries no call.
FEEDS = ("power", "common")

Side = Literal["hot", "neutral"]


class Supplied(NamedTuple):
    """What takes power from the wiring, its outermost device, and the volts that it needs."""

    device: str
    wanted: Wanted
    needs: float


class Unfed(NamedTuple):
    """What cannot have its volts, its outermost device, and the most that it has in any state.

    `both` is what its two sides both lie on, one leg or the neutral, and nothing else; None
    where a side lies on nothing.
    """

    device: str
    wanted: Wanted
    present: float
    both: Side | None


@question
def unfed(case: Case) -> tuple[Unfed, ...]:
    """All outlets, loads and transformers of the board, also inside parts, that cannot have their volts."""
    if not case.board.panels:
        return ()
    states = [state.first or state for state in case.states]
    found = []
    for device, wanted, needs in supplied(case):
        present = 0.0
        for state in states:
            present = max(present, state.across(wanted.a, wanted.b))
            if present >= needs:
                break
        else:
            if not may_have(case, wanted.a, wanted.b, needs) and not _left_out(case, device, wanted):
                found.append(Unfed(device, wanted, present, _both(case, wanted)))
    return tuple(found)


@question
def supplied(case: Case) -> tuple[Supplied, ...]:
    """All that takes power from the wiring: outlets, loads and the primaries of transformers.

    What stands by on low voltage is left out: a display may have batteries, a sensor waits. So are
    a capacitor, and what has its volts by what it feeds or by what it hears.
    """
    around = case.circuit.devices
    found = []
    for outlet in case.circuit.outlets:
        wanted = Wanted(outlet, outlet.hot, outlet.neutral, outlet.volts)
        found.append(Supplied(around[outlet.device].outer, wanted, outlet.volts * LIVE))
    for load in case.circuit.loads:
        if load.kind == "capacitor" or "in-series" in load.flags or load.flags >= LISTENS:
            continue
        if "standby" not in load.flags or is_line(case, load.volts):
            needs = load.pulls_in if load.kind in COILS else load.works
            outer = around[load.device].outer
            found += (Supplied(outer, Wanted(load, a, b, load.volts), needs) for a, b in load.pairs)
    for winding in case.circuit.windings:
        wanted = Wanted(winding, *winding.primary, winding.primary_volts)
        found.append(Supplied(around[winding.device].outer, wanted, winding.primary_volts * FED))
    return tuple(found)


# ------------------------------------------------------------------ what may be


class _Copper(NamedTuple):
    """Each node's net, the volts of each net of a leg or of earth, and those between the ends of windings."""

    net: Mapping[int, int]
    volts: Mapping[int, complex]
    pairs: Mapping[frozenset[int], float]


@question
def _copper(case: Case) -> _Copper:
    circuit = case.circuit
    net = circuit.copper()
    volts = {net[0]: 0j} | {net[circuit.node[leg.point]]: leg.volts for leg in circuit.legs}
    pairs = {
        frozenset(net[circuit.node[end]] for end in winding.secondary): winding.secondary_volts
        for winding in circuit.windings
    }
    return _Copper(net, volts, pairs)


def sources_without(case: Case, opened: Collection[str]) -> Callable[[str], frozenset[int]]:
    """To which sources a point can be tied while some contacts stand open, as nets; all others close."""
    circuit, known = case.circuit, _copper(case)
    case.work.spend(1 + len(circuit.contacts) // LOOKS_A_STEP)
    near: dict[int, set[int]] = {}
    for contact in circuit.contacts:
        if contact.name not in opened:
            one, other = (known.net[circuit.node[end]] for end in (contact.a, contact.b))
            near.setdefault(one, set()).add(other)
            near.setdefault(other, set()).add(one)
    sources: dict[int, set[int]] = {}
    origins = {*known.volts, *(end for pair in known.pairs for end in pair)}
    for origin in origins:
        reached = [origin]
        for one in reached:
            if origin in sources.setdefault(one, set()):
                continue
            sources[one].add(origin)
            # What another source stands on has the volts of that.
            if one == origin or one not in origins:
                reached += (other for other in near.get(one, ()) if origin not in sources.get(other, ()))

    return lambda point: frozenset(sources.get(known.net[circuit.node[point]], ()))


@question
def _all_sources(case: Case) -> Callable[[str], frozenset[int]]:
    return sources_without(case, ())


def _sources(case: Case, point: str) -> frozenset[int]:
    """The nets of sources that contacts can tie a point to."""
    return _all_sources(case)(point)


def may_have(case: Case, a: str, b: str, needs: float) -> bool:
    """Whether some position of all contacts can bring so many volts between two points by copper alone."""
    known = _copper(case)
    return any(
        known.pairs.get(frozenset((one, other)), 0.0) >= needs
        or (
            one in known.volts
            and other in known.volts
            and abs(known.volts[one] - known.volts[other]) >= needs
        )
        for one in _sources(case, a)
        for other in _sources(case, b)
    )


def _both(case: Case, wanted: Wanted) -> Side | None:
    """The one source that both sides lie on, if there is one."""
    one, other = _sources(case, wanted.a), _sources(case, wanted.b)
    if one != other or len(one) != 1:
        return None
    volts = _copper(case).volts.get(*one)
    return None if volts is None else "hot" if volts else "neutral"


# ------------------------------------------------------------ what is left out


def _left_out(case: Case, device: str, wanted: Wanted) -> bool:
    """Whether it is part of a machine that the board does not use, and was left out of the hookup.

    One of its sides then comes to a terminal of the machine that is optional and has no wire, or
    that waits for a call which nothing on the board makes; or to the capped lead of a hot, while
    something else of the machine is used, as a fan without its light.
    """
    outer = case.circuit.devices[device].outer
    terminals = [
        terminal
        for name in case.board.devices[outer].part.terminals
        if (terminal := case.board.terminals[f"{outer}.{name}"])
    ]
    net, node = _copper(case).net, case.circuit.node
    here = net[node[wanted.a]]
    if here == net[node[wanted.b]]:
        # A jumper may tie an optional terminal to the machine's own common: no wire comes to it all the same.
        return any(net[node[one.name]] == here and _unused(case, one) for one in terminals)
    for point in (wanted.a, wanted.b):
        if not _sources(case, point):
            here = _piece(case, point)
            if any(_unused(case, one) for one in terminals if _piece(case, one.name) == here):
                return True
            capped = {
                _piece(case, one.name)
                for one in terminals
                if one.spec.role == "hot" and one.name in case.board.capped
            }
            if here in capped:
                others = (one.wanted for one in supplied(case) if one.device == outer)
                return any(not _on(case, one, capped) for one in others)
    return False


def _on(case: Case, wanted: Wanted, pieces: Collection[int]) -> bool:
    """Whether one of its sides is on some pieces of copper."""
    return _piece(case, wanted.a) in pieces or _piece(case, wanted.b) in pieces


def _unused(case: Case, terminal: Terminal) -> bool:
    """Whether a terminal is left empty by choice, or hears a call that nothing makes."""
    if "optional" in terminal.spec.flags:
        join = made_up.join_at(case, terminal.name)
        return join is None or all(member.kind == "terminal" for member in join.members)
    return terminal.spec.carries not in (None, *FEEDS) and terminal.spec.carries not in _called(case)


@question
def _called(case: Case) -> frozenset[str | None]:
    """What the terminals of the board's thermostats carry."""
    return frozenset(
        spec.carries
        for device in case.board.devices.values()
        if device.part.calls
        for spec in device.part.terminals.values()
    )


@question
def _pieces(case: Case) -> Mapping[int, int]:
    """What holds together with every contact closed, by net."""
    circuit, net = case.circuit, _copper(case).net
    ties = ((net[circuit.node[one.a]], net[circuit.node[one.b]]) for one in circuit.contacts)
    return pieces(dict.fromkeys(net.values()), ties)


def _piece(case: Case, point: str) -> int:
    return _pieces(case)[_copper(case).net[case.circuit.node[point]]]

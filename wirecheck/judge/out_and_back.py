"""Whether what goes out in a cable or a raceway comes back in it, for each load and each outlet by itself.

Alternating current that goes out one way and comes home another makes a field around both, which
heats steel between them. Currents of several loads can cancel by chance, as those of two equal lamps
do, so each load and each outlet is first given a current that no other has, and then tried alone.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from wirecheck.circuit.circuit import Load, Outlet, Protection, Winding, Wire
from wirecheck.circuit.network import Impedance, Network
from wirecheck.circuit.opening import difference
from wirecheck.circuit.routes import OVERCURRENT
from wirecheck.circuit.settle import Settled, network, solved
from wirecheck.judge.bundles import Bundle, bundle_of, in_loops
from wirecheck.judge.case import Case
from wirecheck.judge.made_up import join_at
from wirecheck.judge.question import question
from wirecheck.model.board import Conductor, Join

# The part of a current that must be missing before it is called astray: the error of a clamp-on meter, and
# more than the contacts of switches and breakers turn aside in a loop (common practice).
ASTRAY = 0.05
# Where every load draws at once, each 1 to 2 A, so many amperes are more than what a control's input draws.
SUSPECT = 0.005
# Its multiples' parts after the point lie far from each other.
GOLDEN = (1 + math.sqrt(5)) / 2

# What draws a current of its own from a panel's leg.
Taker = Load | Outlet | Winding


class Stray(NamedTuple):
    """A load or outlet whose current does not come back in the bundles that it goes out in.

    `bundles` are those in which its currents do not add up to nothing, by `share` of its current at
    most; `amps` is that much of what it draws at its rating. `left` is the last conductor of the one
    side, and `gone` the conductor of the other side that parts from it, at `place`; `outward` is whether
    that is the side of the hot. `beside` lies with `left`, the only one there that is used as `gone` is.
    `join` is where they part, or None where `gone` leads to the same two places as `left`.
    `trips` are the ground-fault devices that miss the current.
    """

    taker: Taker
    settled: Settled
    bundles: tuple[Bundle, ...]
    share: float
    amps: float
    gone: Conductor
    place: str
    outward: bool
    left: Conductor | None
    beside: Conductor | None
    join: Join | None
    trips: tuple[Protection, ...]


@question
def strays(case: Case) -> tuple[Stray, ...]:
    """Every load and outlet whose current goes astray, in the first state in which it does."""
    loops = in_loops(case)
    if not loops:
        return ()
    found: dict[str, Stray] = {}
    for settled in _states(case):
        odd = _unbalanced(loops, _amps(case, settled, _takers(case)), SUSPECT)
        if odd:
            for taker in _concerned(case, odd):
                if taker.name not in found:
                    stray = _stray(case, settled, taker, loops)
                    if stray is not None:
                        found[taker.name] = stray
    return tuple(found.values())


@question
def _takers(case: Case) -> tuple[Taker, ...]:
    """What draws from a panel; what lies behind a transformer draws through its primary."""

    def behind(load: Load) -> bool:
        origins = (case.routes.origins.get(end) for end in _ends(case, load))
        return any(origin is not None and origin.kind == "winding" for origin in origins)

    loads = (load for load in case.circuit.loads if not behind(load))
    return (*loads, *case.circuit.outlets, *case.circuit.windings)


def _states(case: Case) -> Iterator[Settled]:
    """The states of the board in which different contacts are closed, before a leak opens anything."""
    seen: set[tuple[frozenset[str], frozenset[str]]] = set()
    for state in case.states:
        tripped = all(opening.kind == "ground-fault" for opening in state.opened)
        settled = (state.first or state) if tripped else state
        conducting = (settled.closed, frozenset(opening.name for opening in settled.opened))
        if conducting not in seen:
            seen.add(conducting)
            yield settled


def _amps(case: Case, settled: Settled, takers: Sequence[Taker]) -> Mapping[str, complex]:
    """The currents in a state with these alone drawing, each 1 to 2 A that no other draws."""
    idle = {load.name for load in case.circuit.loads} | {one.name for one in case.circuit.windings}
    branches = [branch for branch in network(settled).branches if branch.name not in idle]
    for number, taker in enumerate(takers):
        a, b = _ends(case, taker)
        if a != b:
            branches.append(Impedance(taker.name, a, b, _volts(taker) / (1 + number * GOLDEN % 1)))
    return solved(Network(case.circuit.nodes, tuple(branches))).amps


def _ends(case: Case, taker: Taker) -> tuple[int, int]:
    if isinstance(taker, Outlet):
        a, b = taker.hot, taker.neutral
    else:
        a, b = taker.primary if isinstance(taker, Winding) else (taker.a, taker.b)
    return case.circuit.node[a], case.circuit.node[b]


def _volts(taker: Taker) -> float:
    return taker.primary_volts if isinstance(taker, Winding) else taker.volts


def _unbalanced(
    loops: Iterable[Bundle], amps: Mapping[str, complex], least: float
) -> dict[str, tuple[Bundle, float]]:
    """The bundles whose currents add up to more than so many amperes, each with how many."""
    nets = {
        bundle.name: (bundle, abs(sum(one.sense * amps.get(one.conductor.name, 0j) for one in bundle.lying)))
        for bundle in loops
    }
    return {name: (bundle, net) for name, (bundle, net) in nets.items() if net > least}


def _concerned(case: Case, odd: Mapping[str, tuple[Bundle, float]]) -> Iterator[Taker]:
    """The loads and outlets of the circuits that have a conductor in one of these bundles."""
    names = {one.conductor.name for bundle, _ in odd.values() for one in bundle.lying}
    told = {
        one.name
        for zone in case.zones
        if not names.isdisjoint(wire.name for wire in (*zone.hots, *zone.returns))
        for drawing in (zone.loads, zone.outlets, zone.windings)
        for one in drawing
    }
    yield from (one for one in _takers(case) if one.name in told)


def _stray(case: Case, settled: Settled, taker: Taker, loops: Iterable[Bundle]) -> Stray | None:
    """What becomes of the current of one load or outlet, with all others idle."""
    amps = _amps(case, settled, (taker,))
    drawn = abs(amps.get(taker.name, 0j))
    odd = _unbalanced(loops, amps, ASTRAY * drawn)
    if not odd or not drawn:
        return None
    neutral, hot = _sides(case, settled, taker, amps)
    for here, there, outward in ((neutral, hot, False), (hot, neutral, True)):
        beside = {_bundle(case, flow) for flow in there}
        for flow in here:
            bundle = _bundle(case, flow)
            if bundle in odd and bundle not in beside:
                share = max(net for _, net in odd.values()) / drawn
                left = _left(case, flow, odd, there)
                return Stray(
                    taker=taker,
                    settled=settled,
                    bundles=tuple(one for one, _ in odd.values()),
                    share=share,
                    amps=share * _rated(case, taker),
                    gone=flow.conductor,
                    place=flow.place,
                    outward=outward,
                    left=left,
                    beside=_beside(case, flow, left),
                    join=_join(case, flow, left),
                    trips=tuple(_missing(case, settled, amps, drawn)),
                )
    return None


class _Flow(NamedTuple):
    """A conductor that carries a load's current, and which of its ends is nearer to the load."""

    conductor: Conductor
    end: int

    @property
    def place(self) -> str:
        """Where that end is."""
        return self.conductor.places[self.end]


def _bundle(case: Case, of: _Flow | Conductor) -> str | None:
    """The name of the bundle that a conductor lies in."""
    bundle = bundle_of(case).get(of.conductor.name if isinstance(of, _Flow) else of.name)
    return None if bundle is None else bundle.name


def _sides(
    case: Case, settled: Settled, taker: Taker, amps: Mapping[str, complex]
) -> tuple[tuple[_Flow, ...], tuple[_Flow, ...]]:
    """The wires that carry a load's current on the neutral's side and on the other, the nearest first."""
    a, b = _ends(case, taker)
    one, other = (_followed(case, settled, node, amps, abs(amps[taker.name])) for node in (a, b))
    return (one[0], other[0]) if one[1] else (other[0], one[0])


def _followed(
    case: Case, settled: Settled, start: int, amps: Mapping[str, complex], drawn: float
) -> tuple[tuple[_Flow, ...], bool]:
    """The wires that carry current on one side of a load, and whether they come to the earth of a panel."""
    circuit = case.circuit
    near: dict[int, list[tuple[int, Wire | None, int]]] = {}
    ties: list[tuple[str, str, str, Wire | None]] = [
        (wire.conductor.name, wire.a, wire.b, wire) for wire in circuit.wires
    ]
    ties += ((one.name, one.a, one.b, None) for one in circuit.contacts if one.name in settled.closed)
    ties += (
        (protection.pole(pole), a, b, None)
        for protection in circuit.protections
        for pole, (a, b) in enumerate(protection.pairs)
    )
    for name, first, second, wire in ties:
        if abs(amps.get(name, 0j)) > ASTRAY * drawn:
            near.setdefault(circuit.node[first], []).append((circuit.node[second], wire, 0))
            near.setdefault(circuit.node[second], []).append((circuit.node[first], wire, 1))
    sources = {0, *(circuit.node[leg.point] for leg in circuit.legs)}
    flows: dict[str, _Flow] = {}
    seen, waiting = {start}, [start]
    for node in waiting:
        if node in sources:
            continue
        for target, wire, end in near.get(node, ()):
            if wire is not None:
                flows.setdefault(wire.conductor.name, _Flow(wire.conductor, end))
            if target not in seen:
                seen.add(target)
                waiting.append(target)
    return tuple(flows.values()), 0 in seen


def _missing(case: Case, settled: Settled, amps: Mapping[str, complex], drawn: float) -> Iterator[Protection]:
    """The ground-fault devices through which a current goes one way alone."""
    alone = settled._replace(amps=amps)
    for protection in case.circuit.protections:
        if protection.trips is not None and difference(alone, protection) > ASTRAY * drawn:
            yield protection


def _left(
    case: Case, gone: _Flow, odd: Mapping[str, tuple[Bundle, float]], there: Iterable[_Flow]
) -> Conductor | None:
    """The other side's conductor, in an odd bundle, that comes to where the two part; else the nearest."""
    apart = [flow.conductor for flow in there if _bundle(case, flow) in odd]
    return next((one for one in apart if gone.place in one.places), next(iter(apart), None))


def _beside(case: Case, gone: _Flow, left: Conductor | None) -> Conductor | None:
    """The one conductor that lies with the other side and is used as the one that goes away is."""
    bundle = None if left is None else bundle_of(case)[left.name]
    use = case.uses.of(gone.conductor.ends[0])
    alike = [
        one.conductor
        for one in (bundle.lying if bundle is not None else ())
        if one.conductor is not left
        and gone.place in one.conductor.places
        and case.uses.of(one.conductor.ends[0]) == use
    ]
    return alike[0] if len(alike) == 1 else None


def _join(case: Case, gone: _Flow, left: Conductor | None) -> Join | None:
    """The join at which the two part; None for a single wire that goes to the same place by another way."""
    single = not case.board.runs[gone.conductor.run].jacketed
    if single and left is not None and {*left.places} == {*gone.conductor.places}:
        return None
    return join_at(case, gone.conductor.ends[gone.end])


def _rated(case: Case, taker: Taker) -> float:
    """What a load draws at its rating; what the breaker of an outlet lets a cord take."""
    if isinstance(taker, Load):
        return taker.amps
    if isinstance(taker, Winding):
        return taker.capacity / taker.primary_volts
    guards = [
        step.of.amps
        for end in _ends(case, taker)
        for step in case.routes.back(end)
        if isinstance(step.of, Protection) and step.of.kind in OVERCURRENT
    ]
    return min(guards, default=taker.amps or 0.0)

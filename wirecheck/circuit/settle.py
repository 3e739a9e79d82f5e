"""The circuit in one state: contacts closed, coils pulled in, protection opened, solved.

Contacts move coils and coils move contacts, so a state is a fixed point of the
network. A state that comes round again has none: a relay that buzzes. It is
reported by name and never looped on.
"""

from __future__ import annotations

import cmath
from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType
from typing import NamedTuple

from wirecheck.circuit.circuit import (
    COILS,
    CONTACT_OHMS,
    INPUT_OHMS,
    MOST_REMEMBERED,
    Circuit,
    Conducting,
    Contact,
    Load,
    number,
    wire_ohms,
)
from wirecheck.circuit.network import (
    Branch,
    ConstantCurrent,
    ConstantPower,
    Impedance,
    Network,
    Solution,
    Source,
    Transformer,
)
from wirecheck.circuit.opening import Opening, next_opening
from wirecheck.circuit.phasor import MAGNETIZING, NoSolution, solve
from wirecheck.language.syntax import (
    AllOf,
    AnyOf,
    Called,
    Carries,
    Condition,
    HasVoltage,
    InPosition,
    IsState,
    Negation,
    Runs,
    WasState,
)

# Where a hand leaves a breaker or a fuse that does not conduct.
OUT = ("off", "out")
# More passes than this never settle anything that settles.
MOST_PASSES = 60
# What opens beyond so many in one state is not followed: the board is one short, and the first ones say so.
MOST_OPENINGS = 24
# Below this share of rated volts a motor or a supply draws as an impedance does.
FLOOR = 0.7


class Settled(NamedTuple):
    """A solved state.

    `volts` are RMS phasors to earth by node; `amps` flow from a to b by the
    name of a conductor, contact, load, leg or transformer (its primary). `islands`
    gives each node the first node of what it conducts to, 0 for earth.
    `running` holds the loads that have the volts they work at; `closed` the
    contacts; `chattering` the loads that find no rest.
    """

    circuit: Circuit
    positions: Mapping[str, str]
    calls: frozenset[str]
    volts: tuple[complex, ...]
    amps: Mapping[str, complex]
    floating: frozenset[int]
    islands: tuple[int, ...]
    running: frozenset[str]
    closed: frozenset[str]
    opened: tuple[Opening, ...] = ()
    chattering: tuple[str, ...] = ()
    first: Settled | None = None

    def across(self, a: str, b: str) -> float:
        """Volts between two points.

        Points of two parts that share no path, such as a 24 V secondary that
        is not grounded and earth, have no definite volts between them; 0 is returned.
        """
        one, other = self.circuit.node[a], self.circuit.node[b]
        if self.islands[one] != self.islands[other]:
            return 0.0
        return abs(self.volts[one] - self.volts[other])

    def load_volts(self, load: Load) -> float:
        """Volts across a load; on three phases, the least between two of its lines."""
        return min([self.across(a, b) for a, b in load.pairs])

    def plug_volts(self, load: Load) -> float:
        """Volts that a meter finds at a load: at one with electronics in it, whether it runs or not."""
        return min([self.across(a, b) for a, b in load.plug])

    def load_amps(self, load: Load) -> float:
        """Amperes through a load; on three phases, those of the line that carries the most."""
        return max([abs(amps) for amps in self.line_amps(load)])

    def pair_volts(self, load: Load) -> tuple[float, ...]:
        """Volts across each of its windings, in the order of `Load.pairs`."""
        return tuple([self.across(a, b) for a, b in load.pairs])

    def line_amps(self, load: Load) -> tuple[complex, ...]:
        """What flows into a load at each of its ends but the last of two."""
        if load.c is None:
            return (self.amps.get(load.name, 0j),)
        through = [self.amps.get(load.winding(position), 0j) for position in range(len(load.pairs))]
        return tuple(through[position] - through[position - 1] for position in range(len(through)))

    @property
    def starts(self) -> bool:
        """Whether a motor stands still and starts: a winding draws what it does for a moment only."""
        return not self.circuit.windings_at_start.isdisjoint(self.running)

    @property
    def view(self) -> View:
        """What a condition may look at in this state; how often something was so is not known in it."""
        return View(
            self.circuit, self.positions, self.calls, self.running, self.volts, self.floating, {}, self.amps
        )


class View(NamedTuple):
    """What a condition may look at."""

    circuit: Circuit
    positions: Mapping[str, str]
    calls: frozenset[str]
    running: frozenset[str]
    volts: tuple[complex, ...]
    floating: frozenset[int]
    counts: Mapping[tuple[str, str], int]
    amps: Mapping[str, complex] = MappingProxyType({})


def holds(condition: Condition, scope: str, view: View) -> bool:
    """Whether a condition of the device at `scope` is true."""
    match condition:
        case InPosition(position):
            return view.positions.get(scope) == position.text
        case Called(call):
            return call.text in view.calls or f"{scope}.{call.text}" in view.calls
        case IsState(name, state):
            return view.positions.get(f"{scope}.{name.text}") == state.text
        case Runs():
            load = view.circuit.meant(condition, scope)
            return load is not None and load.name in view.running
        case HasVoltage(terminal, volts, reference):
            least = number(volts, view.circuit.devices[scope].values)
            one = view.circuit.node.get(f"{scope}.{terminal.text}")
            other = view.circuit.node.get(f"{scope}.{reference.text}")
            if least is None or one is None or other is None or not view.volts:
                return False
            # Of two points, one of which hangs on nothing, no volts can be told.
            if (one in view.floating) != (other in view.floating):
                return False
            return abs(view.volts[one] - view.volts[other]) >= least.value
        case Carries(terminal, amps, other):
            least = number(amps, view.circuit.devices[scope].values)
            contact = view.circuit.between(scope, terminal.text, other.text)
            if least is None or contact is None:
                return False
            return abs(view.amps.get(contact.name, 0)) >= least.value
        case WasState(name, state, times):
            return view.counts.get((f"{scope}.{name.text}", state.text), 0) >= times
        case Negation(fact):
            return not holds(fact, scope, view)
        case AllOf(facts):
            return all(holds(fact, scope, view) for fact in facts)
        case AnyOf(facts):
            return any(holds(fact, scope, view) for fact in facts)


def resting(circuit: Circuit, moved: Mapping[str, str] | None = None) -> dict[str, str]:
    """Where everything stands when nothing has moved it, with `moved` over it."""
    return {name: variable.values[0] for name, variable in circuit.variables.items()} | dict(moved or {})


def settle(
    circuit: Circuit,
    positions: Mapping[str, str],
    calls: Iterable[str] = (),
    before: Settled | None = None,
    counts: Mapping[tuple[str, str], int] | None = None,
    temperatures: Mapping[str, float] | None = None,
) -> Settled:
    """The circuit at rest with every variable in the given position.

    Parameters
    ----------
    positions : a value for every variable (`resting` gives one).
    calls : the calls that are made, as `cool` or `Z1.heat`.
    before : the state that it comes from: coils that are in stay in until they
        drop out, and what has opened stays open.
    counts : how often a state was entered, for `was ... times`.
    temperatures : conductors that are not at the board's ambient, in C.

    Returns
    -------
    The settled state. Where protection opened, `first` is the state before it did. Where much opened, the
    rest of what would is not followed, and the circuit's work is `bounded`.
    """
    made = frozenset(calls)
    running = before.running if before else frozenset()
    opened = before.opened if before else ()
    settled = _fixed_point(
        circuit, positions, made, before, running, opened, counts or {}, temperatures or {}
    )
    first = settled
    for opened_so_far in range(len(circuit.protections) + len(circuit.windings)):
        opening = next_opening(settled)
        if opening is None:
            break
        if opened_so_far >= MOST_OPENINGS:
            circuit.work.bounded = True
            break
        settled = _fixed_point(
            circuit,
            positions,
            made,
            settled,
            settled.running,
            (*settled.opened, opening),
            counts or {},
            temperatures or {},
        )
    return settled if settled is first else settled._replace(first=first)


def _fixed_point(
    circuit: Circuit,
    positions: Mapping[str, str],
    calls: frozenset[str],
    before: Settled | None,
    running: frozenset[str],
    opened: tuple[Opening, ...],
    counts: Mapping[tuple[str, str], int],
    temperatures: Mapping[str, float],
) -> Settled:
    broken = not_conducting(circuit, positions, opened)
    view = View(circuit, positions, calls, running, (), frozenset(), counts)
    if before is not None:
        view = view._replace(volts=before.volts, floating=before.floating, amps=before.amps)
    steady, moving = circuit.steady
    still = _closed(view, steady)
    closed = still | _closed(view, moving)
    passed: dict[tuple[frozenset[str], frozenset[str]], int] = {}
    chattering: tuple[str, ...] = ()
    begun, racing = (view, closed), False
    while True:
        circuit.work.spend(circuit.look)
        state = (closed, view.running)
        passed[state] = len(passed)
        solution = _solution(circuit, temperatures, Conducting(closed, view.running & circuit.moving, broken))
        running = _running(circuit, view.running, solution)
        view = view._replace(
            running=_first_to_move(circuit, view.running, running) if racing else running,
            volts=solution.volts,
            floating=solution.floating,
            amps=solution.amps,
        )
        closed = still | _closed(view, moving)
        settled = (closed, view.running & circuit.moving) == (state[0], state[1] & circuit.moving)
        if settled and view.running == running:
            break
        again = passed.get((closed, view.running))
        if again is not None and not racing:
            # Coils that open each other's contacts race, and one is first; only what moves itself chatters.
            (view, closed), racing = begun, True
            passed.clear()
        elif again is not None or len(passed) >= MOST_PASSES:
            chattering = _differing(list(passed)[again or 0 :])
            break
    return Settled(
        circuit,
        positions,
        calls,
        solution.volts,
        solution.amps,
        solution.floating,
        solution.islands,
        view.running,
        state[0],
        opened,
        chattering,
    )


def _first_to_move(circuit: Circuit, before: frozenset[str], after: frozenset[str]) -> frozenset[str]:
    """What runs once one coil has moved, and the others have not had the time to."""
    moved = [one.name for one in circuit.loads if one.kind in COILS and one.name in before ^ after]
    return (after - frozenset(moved[1:])) | (before & frozenset(moved[1:]))


def _solution(circuit: Circuit, temperatures: Mapping[str, float], conducting: Conducting) -> Solution:
    """The circuit solved; many states of the same contacts are asked for, and are solved once."""
    known = None if temperatures else circuit.solutions.get(conducting)
    if known is not None:
        return known
    circuit.work.spend(circuit.solving)
    branches = (*_wires(circuit, temperatures), *_branches(circuit, conducting))
    solution = solved(Network(circuit.nodes, branches))
    circuit.left_out.update(solution.left_out)
    if not temperatures and len(circuit.solutions) * circuit.nodes < MOST_REMEMBERED:
        circuit.solutions[conducting] = solution
    return solution


def solved(network: Network) -> Solution:
    """The solution of a network, whatever it is.

    A load with no volts at which it settles draws as an impedance: where the wiring cannot carry
    what a motor or a supply wants, it starves, and draws as it does below the volts that it needs.
    Windings whose currents cancel get what real ones take to be magnetized. Where there is no answer
    all the same, what stands in its way is taken as open, and the solution names it.
    """
    for lesser in _lesser(network):
        try:
            solution = _fed(lesser)
        except NoSolution:
            continue
        kept = {branch.name for branch in lesser.branches}
        return solution._replace(
            amps=dict.fromkeys((branch.name for branch in network.branches), 0j) | solution.amps,
            left_out=frozenset(branch.name for branch in network.branches if branch.name not in kept),
        )
    raise NoSolution("sources and wires alone have no answer")


def _lesser(network: Network) -> Iterator[Network]:
    """A network, and what is left of it with less and less that can stand in the way of an answer."""
    yield network
    yield network._replace(branches=tuple(map(_magnetized, network.branches)))
    for kinds in (Transformer, Transformer | ConstantPower | ConstantCurrent):
        yield network._replace(
            branches=tuple(branch for branch in network.branches if not isinstance(branch, kinds))
        )
    yield network._replace(branches=())


def _magnetized(branch: Branch) -> Branch:
    """A transformer with the current that magnetizes it; others as they are."""
    if isinstance(branch, Transformer) and branch.magnetizing_ohms is None:
        return branch._replace(magnetizing_ohms=branch.ratio**2 * branch.ohms / MAGNETIZING)
    return branch


def _fed(network: Network) -> Solution:
    """The solution with each load that has none starved."""
    while True:
        try:
            return solve(network)
        except NoSolution as failure:
            starved = tuple(_starved(one) if one.name == failure.branch else one for one in network.branches)
            if starved == network.branches:
                raise
            network = Network(network.nodes, starved)


def _starved(branch: Branch) -> Branch:
    """A constant load as the impedance that it is below its floor; others as they are."""
    match branch:
        case ConstantPower(name, a, b, power, floor):
            return Impedance(name, a, b, floor**2 / power.conjugate())
        case ConstantCurrent(name, a, b, amps, angle, floor):
            return Impedance(name, a, b, cmath.rect(floor / amps, angle))
    return branch


def starting(settled: Settled, motors: Iterable[str] | None = None) -> Settled:
    """The moment at which motors start: they stand still, and draw their locked-rotor current.

    Parameters
    ----------
    settled : the state that they are on their way to. Contacts and coils stand
        as they do there, and nothing has had the time to open.
    motors : those that start; all that run, where none are given.

    Returns
    -------
    The state of that moment. `running` holds the loads that have the volts they
    work at then, and the coils that hold: one that is missing lets go.
    """
    circuit = settled.circuit
    names = settled.running if motors is None else frozenset(motors)
    moment = solved(
        Network(
            circuit.nodes,
            tuple(
                Impedance(branch.name, branch.a, branch.b, circuit.load_of[branch.name].inrush_ohms)
                if isinstance(branch, ConstantCurrent) and circuit.load_of[branch.name].name in names
                else branch
                for branch in network(settled).branches
            ),
        )
    )
    circuit.left_out.update(moment.left_out)
    return settled._replace(
        volts=moment.volts,
        amps=moment.amps,
        floating=moment.floating,
        islands=moment.islands,
        running=_running(circuit, settled.running, moment),
        first=None,
    )


def without(settled: Settled, load: Load) -> Settled:
    """A settled state with a load taken out of the circuit; contacts stand as they do with it."""
    circuit = settled.circuit
    left = [one for one in network(settled).branches if circuit.load_of.get(one.name) is not load]
    solution = solved(Network(circuit.nodes, tuple(left)))
    return settled._replace(
        volts=solution.volts,
        amps=solution.amps,
        floating=solution.floating,
        islands=solution.islands,
        running=settled.running - {load.name},
        first=None,
    )


def network(settled: Settled, extra: Iterable[Branch] = ()) -> Network:
    """The network of a settled state, with more branches beside it, such as a meter's."""
    circuit = settled.circuit
    broken = not_conducting(circuit, settled.positions, settled.opened)
    branches = _branches(circuit, Conducting(settled.closed, settled.running, broken))
    return Network(circuit.nodes, (*circuit.cold_wires, *branches, *extra))


def copper(settled: Settled) -> Mapping[int, int]:
    """For each node, the piece of copper that it belongs to: wires, closed contacts and protection."""
    opened = settled.circuit.dead.union(opening.name for opening in settled.opened)
    return settled.circuit.copper(settled.closed, opened)


def not_conducting(
    circuit: Circuit, positions: Mapping[str, str], opened: tuple[Opening, ...]
) -> frozenset[str]:
    """What protection and transformers are out: opened by themselves, by a hand, or by a fault."""
    by_hand = (each.name for each in circuit.protections if positions.get(each.name) in OUT)
    return circuit.dead.union((opening.name for opening in opened), by_hand)


def _differing(states: list[tuple[frozenset[str], frozenset[str]]]) -> tuple[str, ...]:
    """What is not the same in all of them: the loads, or else the contacts."""
    for part in (1, 0):
        sets = [state[part] for state in states]
        differing = frozenset().union(*sets) - sets[0].intersection(*sets)
        if differing:
            return tuple(sorted(differing))
    return ()


def _closed(view: View, contacts: Iterable[Contact]) -> frozenset[str]:
    return frozenset(contact.name for contact in contacts if holds(contact.when, contact.scope, view))


def _running(circuit: Circuit, running: frozenset[str], solution: Solution) -> frozenset[str]:
    """The loads that have the volts they work at; a coil that is in stays in until it drops out."""
    able = set()
    for load in circuit.loads:
        node, there = circuit.node, solution.volts
        volts = min([abs(there[node[a]] - there[node[b]]) for a, b in load.pairs])
        if load.kind in COILS:
            needs = load.drops_out if load.name in running else load.pulls_in
        else:
            needs = load.works
        if volts >= needs and load.name not in circuit.dead:
            able.add(load.name)
    return frozenset(able)


def _wires(circuit: Circuit, temperatures: Mapping[str, float]) -> tuple[Branch, ...]:
    """The conductors as impedances, at the board's ambient but for those in `temperatures`."""
    if not temperatures:
        return circuit.cold_wires
    ambient = circuit.board.ambient
    return tuple(
        Impedance(
            wire.conductor.name,
            circuit.node[wire.a],
            circuit.node[wire.b],
            wire_ohms(wire.conductor, circuit.board, temperatures.get(wire.conductor.name, ambient)),
        )
        for wire in circuit.wires
    )


def input_branches(circuit: Circuit) -> Iterator[Impedance]:
    """What controls draw where they look for volts."""
    for index, (a, b) in enumerate(circuit.inputs):
        yield Impedance(f"input/{index}", circuit.node[a], circuit.node[b], INPUT_OHMS)


def _branches(circuit: Circuit, conducting: Conducting) -> Iterator[Branch]:
    node, closed, broken = circuit.node, conducting.closed, conducting.broken
    for leg in circuit.legs:
        yield Source(leg.name, node[leg.point], 0, leg.volts, leg.ohms)
    for contact in circuit.contacts:
        if contact.name in closed:
            yield Impedance(contact.name, node[contact.a], node[contact.b], CONTACT_OHMS)
    for protection in circuit.protections:
        if protection.name not in broken:
            for pole, (a, b) in enumerate(protection.pairs):
                yield Impedance(protection.pole(pole), node[a], node[b], CONTACT_OHMS)
    for load in circuit.loads:
        if load.name not in circuit.dead:
            for position, (a, b) in enumerate(load.pairs):
                yield _load(load, load.winding(position), node[a], node[b], load.name in conducting.pulled_in)
    for path in circuit.resistors:
        yield Impedance(path.name, path.a, path.b, path.ohms)
    yield from input_branches(circuit)
    for winding in circuit.windings:
        if winding.name not in broken:
            (p1, p2), (s1, s2) = winding.primary, winding.secondary
            ratio = winding.primary_volts / winding.open_volts
            yield Transformer(winding.name, node[p1], node[p2], node[s1], node[s2], ratio, winding.ohms)


def _load(load: Load, name: str, a: int, b: int, running: bool) -> Branch:
    if load.kind in COILS:
        return Impedance(name, a, b, load.ohms if running else load.inrush_ohms)
    apparent = load.apparent / len(load.pairs)
    if load.model == "constant-power":
        return ConstantPower(name, a, b, cmath.rect(apparent, load.angle), load.volts * FLOOR)
    if load.model == "constant-current":
        return ConstantCurrent(name, a, b, apparent / load.volts, load.angle, load.volts * FLOOR)
    return Impedance(name, a, b, load.ohms)

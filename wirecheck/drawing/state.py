"""What a picture shows of a state: what is live, what carries current, what runs, what is open."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from itertools import combinations
from typing import NamedTuple

from wirecheck.circuit.begun import begun
from wirecheck.circuit.circuit import Circuit, Load, Move, Winding, own_bonds
from wirecheck.circuit.idle_taps import idle_taps
from wirecheck.circuit.machine import speeds, windings_again
from wirecheck.circuit.meter import INDUCED
from wirecheck.circuit.network import Transformer
from wirecheck.circuit.pieces import pieces
from wirecheck.circuit.settle import OUT, Settled, holds, input_branches, network, resting
from wirecheck.judge.state_name import StateName
from wirecheck.judge.voltages import LIVE_VOLTS
from wirecheck.language.quantity import amps, volts
from wirecheck.language.syntax import Carries, Negation
from wirecheck.model.board import Conductor
from wirecheck.tables.signs import half_working
from wirecheck.tables.signs import sign as shows

# Less than this on a control wire is no signal: no 24 V coil does anything on a fifth of its volts.
LOW_VOLTS = 5.0
# Less than this flows through inputs of controls that only look for volts; 1 VA at 240 V is more.
LEAST_AMPS = 0.004
# Less than this share of its volts at a load is none.
NONE = 0.02
# So much of what a load draws is what its wires carry, whatever its figure is rounded to.
NEARLY = 0.9
# More switches than these say nothing in the heading of a picture.
MOST_MOVED = 4

SUPPLIED = ("hot", "neutral", "line")
"""The roles of the screws that line voltage comes to."""

LEVELS = {
    "a": "leg a",
    "b": "leg b",
    "c": "leg c",
    "low": "24 V",
    "derived": "made by a transformer",
    "apart": "not tied to ground",
}
"""What is live, by where its volts come from."""


class Blade(NamedTuple):
    """A contact, or a pole of protection: whether it is closed, and a word for why it is not."""

    closed: bool
    word: str = ""


class State:
    """A settled state, asked by the names that stand on a picture."""

    def __init__(self, settled: Settled) -> None:
        self.settled = settled
        self.circuit = settled.circuit

    @cached_property
    def words(self) -> str:
        """Which state it is: what has been moved, but for what moves by itself, and what is called.

        What a call has begun in the device that makes it, and that device will end, is told with it.
        Where a call has come to its end and nothing runs but what always does, what has moved by itself says
        so.
        """
        rest = resting(self.circuit)
        by_itself = {move.variable for move in self.circuit.moves}
        moved = tuple(
            (name, value)
            for name, value in self.settled.positions.items()
            if value != rest.get(name) and name not in by_itself
        )
        name = StateName(moved, tuple(sorted(self.settled.calls)))
        if name == StateName():
            return self._untouched
        ended = [
            f"{variable} {value}"
            for variable, value in self.settled.positions.items()
            if variable in by_itself and value != rest.get(variable)
        ]
        over = self.settled.calls and ended and self.settled.running <= self._standby
        begins = [move for _, move in begun(self.circuit, self.settled.calls)]
        at_work = [
            f"{move.variable} {move.target}"
            for move in begins
            if self.settled.positions.get(move.variable) == move.target and _ends(self.circuit, move)
        ]
        if at_work:
            return f"with {name.words(MOST_MOVED)}: {', '.join(at_work[:MOST_MOVED])}"
        last = f", in the end: {', '.join(ended[:MOST_MOVED])}" if over else ""
        return f"with {name.words(MOST_MOVED)}{last}"

    @property
    def _untouched(self) -> str:
        """What nobody has moved: at rest, or on a board that no call begins with what a hand has on."""
        devices = self.circuit.devices.values()
        if any(device.part.calls for device in devices) or not self._at_work:
            return "at rest"
        hand = [each.name for each in devices if each.part.positions and each.part.moved_by == "hand"]
        on = [(name, self.position(name)) for name in hand]
        return f"with {StateName(tuple(on)).words(MOST_MOVED)}" if on else "with the power on"

    @property
    def _at_work(self) -> bool:
        """Whether anything runs but what always does, or a half of an outlet that is switched is live."""
        return bool(self.settled.running - self._standby) or any(map(self.on, self._outlets))

    @property
    def _standby(self) -> frozenset[str]:
        """The loads that always run."""
        return frozenset(load.name for load in self.circuit.loads if "standby" in load.flags)

    @cached_property
    def _references(self) -> dict[int, int | None]:
        """For each node without a path to earth, what its volts are told from: its transformer's common."""
        floating = self.settled.floating
        pairs: list[tuple[int, int]] = []
        for branch in network(self.settled).branches:
            if isinstance(branch, Transformer):
                pairs += ((branch.p1, branch.p2), (branch.s1, branch.s2))
            else:
                pairs.append((branch.a, branch.b))
        piece = pieces(sorted(floating), [pair for pair in pairs if floating.issuperset(pair)])
        common: dict[int, int] = {}
        for winding in self.circuit.windings:
            node = self.circuit.node[winding.secondary[1]]
            if node in floating:
                common.setdefault(piece[node], node)
        return {node: common.get(piece[node]) for node in floating}

    @property
    def to_common(self) -> bool:
        """Whether volts of the board are told to the common of a transformer that is not grounded."""
        return any(common is not None for common in self._references.values())

    def _phasor(self, point: str) -> complex | None:
        """Volts to ground, or to the common of a transformer that is not grounded; None where neither is."""
        node = self.circuit.node.get(point)
        if node is None:
            return None
        phasors = self.settled.volts
        if node not in self.settled.floating:
            return phasors[node]
        common = self._references[node]
        return None if common is None else phasors[node] - phasors[common]

    def level(self, point: str) -> str:
        """A key of `LEVELS` where the point is live, else nothing; an idle tap is, as the one that runs."""
        runs = self._idle_taps.get(self.circuit.node.get(point, 0))
        if runs is not None:
            return self.level(runs.a) or self.level(runs.b)
        phasor = self._phasor(point)
        if phasor is None or abs(phasor) < LOW_VOLTS:
            return ""
        if abs(phasor) <= LIVE_VOLTS:
            return "low"
        if self.circuit.node[point] in self.settled.floating:
            return "apart"
        if self.circuit.node[point] in self._derived:
            return "derived"
        legs = self.circuit.legs
        return min(legs, key=lambda leg: abs(leg.volts - phasor)).letter if legs else "apart"

    def levels(self) -> dict[str, str]:
        """Every level that something of the board can be live at, in words."""
        legs = [leg.letter for leg in self.circuit.legs]
        volts_of = {leg.letter: volts(abs(leg.volts)) for leg in self.circuit.legs}
        levels = {leg: volts_of[leg] if len(set(legs)) == 1 else f"leg {leg}" for leg in sorted(set(legs))}
        if self.circuit.windings:
            levels["low"] = self.low
        there = {self.level(point) for point in self.circuit.board.terminals}
        if "derived" in there:
            made = {f"{volts(each.secondary_volts)} of {each.device}" for each in self._line_windings}
            levels["derived"] = " or ".join(sorted(made))
        if "apart" in there:
            levels["apart"] = LEVELS["apart"]
        return levels

    @cached_property
    def _line_windings(self) -> tuple[Winding, ...]:
        """The windings whose secondary is a supply of its own, and no low voltage (NEC 100)."""
        return tuple(each for each in self.circuit.windings if each.secondary_volts > LIVE_VOLTS)

    @cached_property
    def _derived(self) -> frozenset[int]:
        """The nodes that a transformer gives line voltage, and no leg of a panel does."""
        if not self._line_windings:
            return frozenset()
        node = self.circuit.node
        joined = [
            (branch.a, branch.b)
            for branch in network(self.settled).branches
            if not isinstance(branch, Transformer) and branch.a and branch.b
        ]
        piece = pieces(sorted(set(node.values())), joined)
        made = {piece[node[end]] for each in self._line_windings for end in each.secondary if node[end]}
        made -= {piece[node[leg.point]] for leg in self.circuit.legs}
        return frozenset(one for one, first in piece.items() if first in made)

    @property
    def low(self) -> str:
        """The low voltage of the board, as its transformers have it: 24 V, or 16 V of a doorbell."""
        made = {winding.secondary_volts for winding in self.circuit.windings}
        return " or ".join(volts(each) for each in sorted(made) if each <= LIVE_VOLTS) or LEVELS["low"]

    def reading(self, point: str) -> str:
        """Volts there, to ground or to the transformer's common; nothing where it hangs in the air.

        An idle tap of a motor that runs has volts from its own windings, how many is not known.
        """
        phasor = self._phasor(point)
        if phasor is None:
            return ""
        if self.circuit.node[point] in self._idle_taps:
            return INDUCED
        level = self.level(point)
        leg = f" {level}" if level in ("a", "b", "c") and len(self.circuit.legs) > 1 else ""
        # Of less than a volt, as is lost in a neutral that others load, a tenth says all.
        present = abs(phasor) if abs(phasor) >= 1 else round(abs(phasor), 1)
        return f"{volts(present)}{leg}"

    @cached_property
    def _idle_taps(self) -> Mapping[int, Load]:
        return idle_taps(self.settled)

    def carries(self, conductor: str) -> bool:
        """Whether a conductor carries current."""
        return abs(self.settled.amps.get(conductor, 0)) >= self.least

    @cached_property
    def least(self) -> float:
        """The least amperes that are shown to flow: those of inputs are not, those of a pilot light are."""
        drawn = [self.settled.load_amps(self.circuit.load_of[name]) for name in self.settled.running]
        return min((LEAST_AMPS, *(NEARLY * amps for amps in drawn if amps)))

    @cached_property
    def again(self) -> Mapping[str, tuple[str, ...]]:
        """What else a load is that a picture shows once: its winding while its rotor stands, other speeds."""
        return {**self._windings_again, **self._other_speeds}

    @cached_property
    def _other_speeds(self) -> Mapping[str, tuple[str, ...]]:
        """What else a motor with electronics in it is, by the first of its speeds."""
        return {name: tuple(one.name for one in loads[1:]) for name, loads in speeds(self.circuit).items()}

    @cached_property
    def _windings_again(self) -> Mapping[str, tuple[str, ...]]:
        return windings_again(self.circuit)

    def flow_out(self, conductor: Conductor, end: str) -> complex:
        """Amperes that come out of a conductor at one of its ends."""
        flow = self.settled.amps.get(conductor.name, 0)
        return flow if end == conductor.ends[1] else -flow

    @cached_property
    def behind(self) -> Mapping[str, str]:
        """For each screw, the point that stands for all that copper inside its device or panel ties to it."""
        ties = own_bonds(self.circuit.board, self.circuit.devices)
        return pieces(self.circuit.board.terminals, [(a, b) for a, b, _ in ties])

    @cached_property
    def given(self) -> Mapping[str, complex | None]:
        """Amperes that come out of a device at each point of `behind`; None at the bars of a source."""
        given: dict[str, complex | None] = {}
        for a, b, flow in self._branches():
            for point, out in ((a, -flow), (b, flow)):
                at = self.behind.get(point, point)
                given[at] = (given.get(at) or 0) + out
        for terminal in self.circuit.board.terminals.values():
            if terminal.owner in self.circuit.board.sources:
                given[self.behind[terminal.name]] = None
        return given

    def _branches(self) -> Iterator[tuple[str, str, complex]]:
        """What carries current inside devices, with its amperes from the first point to the second."""
        flows = self.settled.amps
        for contact in self.circuit.contacts:
            yield contact.a, contact.b, flows.get(contact.name, 0)
        for name, a, b in self.circuit.drawn:
            yield a, b, flows.get(name, 0)
        for branch, (a, b) in zip(input_branches(self.circuit), self.circuit.inputs, strict=True):
            yield a, b, flows.get(branch.name, 0)
        for protection in self.circuit.protections:
            for pole, (a, b) in enumerate(protection.pairs):
                yield a, b, flows.get(protection.pole(pole), 0)
        for winding in self.circuit.windings:
            primary = flows.get(winding.name, 0)
            yield *winding.primary, primary
            s1, s2 = winding.secondary
            yield s2, s1, primary * winding.primary_volts / winding.open_volts

    # ------------------------------------------------------------------ devices

    def _runs_as(self, name: str) -> str:
        """The load that a sign stands for now: of a motor that is drawn once, one of its speeds."""
        speeds = (name, *self._other_speeds.get(name, ()))
        running = (one for one in speeds if one in self.settled.running)
        fed = (one for one in speeds[1:] if self.starved(one) is not None)
        return next(running, next(fed, name))

    def on(self, name: str) -> str:
        """What a sign that works is said to do, as `runs` or `has power`; nothing where it does not."""
        load = self.circuit.load.get(self._runs_as(name))
        if load is not None:
            return "runs" if load.name in self.settled.running else self._weakly(load)
        if name in self._pulled_in:
            return "pulled in"
        outlet = self._outlets.get(name)
        if outlet is not None:
            return "live" if self.settled.across(*outlet) > LIVE_VOLTS else ""
        winding = self._windings.get(name)
        if winding is not None:
            return "has power" if self.settled.across(*winding) > LOW_VOLTS else ""
        return ""

    def turned_by(self, name: str) -> str:
        """What the winding of a motor that runs is said to do; nothing of any other.

        With the rotor at speed what flows through it is the motor's current, and no load of its own.
        """
        windings = self._windings_again
        runs = any(name in windings[motor] for motor in windings.keys() & self.settled.running)
        return "carries what its motor draws" if runs else ""

    def _weakly(self, load: Load) -> str:
        """What is said of a load that does some of its work on too few volts; nothing of any other."""
        present = self.starved(load.name)
        weak = present is not None and shows(load.kind, present / load.volts, False) in half_working()
        return "on too few volts" if weak else ""

    @cached_property
    def _pulled_in(self) -> frozenset[str]:
        """The coils in the line to a load, as of a current relay, that pull in on what it draws."""
        found = set()
        for move in self.circuit.moves:
            match move.when:
                case Carries(terminal, _, other):
                    coil = self.circuit.between(move.scope, terminal.text, other.text)
                    if coil is not None and holds(move.when, move.scope, self.settled.view):
                        found.add(coil.name)
        return frozenset(found)

    def called(self, device: str) -> str:
        """`called` for a device that makes one of the calls of the state; else nothing.

        The control of a machine on line voltage does nothing without that; a thermostat moves by itself.
        """
        calls = self.circuit.devices[device].part.calls
        made = {f"{device}.{call}" for call in calls} | set(calls)
        return "called" if made & self.settled.calls and self._powered(device) else ""

    def _powered(self, device: str) -> bool:
        """Whether a device has volts between its line screws, if it is a machine that works on them."""
        terminals = self.circuit.devices[device].part.terminals
        screws = [f"{device}.{name}" for name, spec in terminals.items() if spec.role in SUPPLIED]
        machine = any(self.circuit.point[load.a].outer == device for load in self.circuit.loads)
        pairs = combinations(screws, 2)
        return not (machine and screws) or any(self.settled.across(*pair) > LOW_VOLTS for pair in pairs)

    def figure(self, name: str) -> str:
        """What a load draws where it works, and the volts it gets where they are too few; else nothing.

        Of one that works on these it says how many it should have, since it looks as if nothing were wrong.
        """
        load = self.circuit.load.get(self._runs_as(name))
        if load is None:
            return ""
        if load.name in self.settled.running:
            return amps(self.settled.load_amps(load))
        starved = self.starved(load.name)
        if starved is None:
            return ""
        return f"{volts(starved)} of {volts(load.volts)}" if self._weakly(load) else volts(starved)

    def starved(self, name: str) -> float | None:
        """The volts of a load that gets some and does not work on them; else None."""
        load: Load | None = self.circuit.load.get(name)
        if load is None or load.name in self.settled.running:
            return None
        present = self.settled.load_volts(load)
        return present if present > NONE * load.volts else None

    @cached_property
    def _windings(self) -> Mapping[str, tuple[str, str]]:
        """Secondaries by the names of their signs."""
        secondaries: dict[str, tuple[str, str]] = {}
        count: dict[str, int] = {}
        for winding in self.circuit.windings:
            count[winding.device] = count.get(winding.device, 0) + 1
            secondaries[f"{winding.device}.winding-{count[winding.device]}"] = winding.secondary
        return secondaries

    @cached_property
    def _outlets(self) -> Mapping[str, tuple[str, str]]:
        return {outlet.name: (outlet.hot, outlet.neutral) for outlet in self.circuit.outlets}

    def contact(self, name: str) -> Blade:
        """A contact by its name in the circuit."""
        return Blade(name in self.settled.closed)

    def device_contact(self, device: str) -> Blade:
        """The first contact of a device that is moved, as a limit's."""
        for contact in self.circuit.contacts:
            if contact.scope == device:
                return self.contact(contact.name)
        return Blade(True)

    def protection(self, name: str) -> Blade:
        """A breaker or a fuse: closed, or the word for what opened it."""
        opening = next((each for each in self.settled.opened if each.name == name), None)
        if opening is not None:
            fuse = any(each.name == name and each.kind == "fuse" for each in self.circuit.protections)
            return Blade(False, "burned out" if opening.kind == "burned" else "blown" if fuse else "tripped")
        position = self.settled.positions.get(name, "")
        return Blade(False, position) if position in OUT else Blade(True)

    def position(self, device: str) -> str:
        """Where a switch stands."""
        return self.settled.positions.get(device, "")


def _ends(circuit: Circuit, begin: Move) -> bool:
    """Whether something else than the end of the call, as time, ends what a call has begun."""
    ends = [
        move for move in circuit.moves if move.variable == begin.variable and begin.target in move.origins
    ]
    return any(not isinstance(move.when, Negation) for move in ends)

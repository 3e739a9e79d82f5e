"""The circuit of a board: what conducts, what opens and closes, what draws current.

Points are the places a meter's lead can touch: a terminal (`S1.common`, and
inside a part `F.limit.a`), a conductor's end (`W1.black@A`) and a panel's legs
(`LP.leg-a`). Points that copper holds together without a length of wire between
them share a node. Node 0 is earth: the neutral and ground bars of every panel
that is a source, bonded there. A subpanel's bars and legs have what its feeder
brings. `wirecheck.circuit.settle` closes the contacts and solves.
"""

from __future__ import annotations

import cmath
import itertools
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from wirecheck.circuit import sensing
from wirecheck.circuit.network import Impedance, Solution
from wirecheck.circuit.pieces import pieces
from wirecheck.circuit.work import Work, allowed
from wirecheck.language.conditions import each_fact, facts, filled
from wirecheck.language.quantity import HORSEPOWER
from wirecheck.language.syntax import (
    AllOf,
    AnyOf,
    Carries,
    Condition,
    HasVoltage,
    InPosition,
    IsState,
    Negation,
    Quantity,
    Runs,
    Span,
    Word,
)
from wirecheck.model.board import Board, Breaker, Conductor, Device, Point
from wirecheck.model.devices import every_device
from wirecheck.parts import part as parts
from wirecheck.parts.part import WATCHERS, LoadSpec, ProtectionSpec, TransformerSpec, Value
from wirecheck.tables.resistance import impedance

if TYPE_CHECKING:
    from wirecheck.circuit.settle import Settled

# A sound closed contact, screw to screw: a few milliohms at most (common practice).
CONTACT_OHMS = 1e-3
# What a panel has behind it where the board does not say (common practice for a dwelling).
AVAILABLE_AMPS = 10_000.0
# What a load is taken to need where its part does not say: 80 % of its rated volts (common practice).
WORKS_FRACTION = 0.8
# Power factors where the part does not say (common practice).
POWER_FACTOR = {"motor": 0.8, "coil": 0.5, "valve": 0.5, "electronics": 1.0}
# The model that fits a kind of load where its part does not say otherwise.
MODEL = {"motor": "constant-current", "electronics": "constant-power"}
# What a control's input draws a little current through, so that an open wire reads nothing (common practice).
INPUT_OHMS = 100e3
# The most points of solved circuits, and of pieces of copper, that are remembered.
MOST_REMEMBERED = 100_000
# Steps of work: what a node or a branch takes to be solved, and how many glances make one.
STEPS_A_NODE = 3
LOOKS_A_STEP = 4
MODELS = ("constant-impedance", "constant-current", "constant-power")
# The difference current in amperes at which a ground-fault device opens: 4 to 6 mA (UL 943 Class A), and
# an arc-fault breaker that has a neutral screw: 30 to 50 mA (common practice; UL 1699 asks for no number).
GROUND_FAULT = 0.005
ARC_FAULT = 0.05
# A capacitor that has less than this share of its volts is out of the circuit (common practice).
CHARGED = 0.05
# The supply's frequency in Hz: that of North America.
FREQUENCY = 60.0
# What is moved by its current: it draws more until it has pulled in, and holds on to less.
COILS = ("coil", "valve")


class Wire(NamedTuple):
    """A conductor between the points of its two ends."""

    conductor: Conductor
    a: str
    b: str


class Contact(NamedTuple):
    """Closed while `when` holds in `scope`, the path of the device it belongs to.

    `amps` is what it carries without end, or None where its part does not say; `overload` what makes an
    overload relay trip in the end whose heater it is, None where it is none; `waits` for how many seconds
    what opens it must last, None where it opens at once; `flags` as in the part.
    """

    name: str
    a: str
    b: str
    when: Condition
    scope: str
    amps: float | None
    flags: frozenset[str]
    span: Span
    overload: float | None = None
    waits: float | None = None


class Protection(NamedTuple):
    """A fuse, a breaker, a ground-fault or an arc-fault device: all its pairs open together.

    `device` is the breaker, or the device that it is in; `amps` is its rating; `trips` the
    difference current in amperes above which a ground-fault device opens, or None.
    """

    name: str
    device: str
    pairs: tuple[tuple[str, str], ...]
    amps: float
    kind: str
    trips: float | None
    span: Span

    def pole(self, position: int) -> str:
        """The name of one pair's branch in a solution."""
        return self.name if position == 0 else f"{self.name}/{position + 1}"


class Load(NamedTuple):
    """What draws current between `a` and `b`, and on three phases between each two of `a`, `b` and `c`.

    `apparent` is in VA at `volts`, `angle` its power factor's angle in radians
    (lagging positive). It works from `works` to `works_to` volts. A coil that
    has not pulled in draws `inrush` VA (at `volts`, `inrush_angle`), pulls in at
    `pulls_in` and lets go below `drops_out`. Of a motor, `horsepower`, `service_factor` and `rise` (of its
    temperature, in C) are those of its nameplate, None where its part does not say. `gate` is the contact of
    electronics in it that switch it, which no meter comes behind; `speeds` are all the loads that it is where
    a picture shows one motor for them.
    """

    name: str
    device: str
    kind: str
    a: str
    b: str
    volts: float
    apparent: float
    angle: float
    model: str
    works: float
    works_to: float
    pulls_in: float
    drops_out: float
    inrush: float | None
    inrush_angle: float
    flags: frozenset[str]
    span: Span
    c: str | None = None
    horsepower: float | None = None
    service_factor: float | None = None
    rise: float | None = None
    gate: Contact | None = None
    speeds: tuple[Load, ...] = ()

    @property
    def plug(self) -> tuple[tuple[str, str], ...]:
        """The points between which a meter finds its volts: in front of the electronics that are in it."""
        if self.gate is None:
            return self.pairs
        inner = {self.gate.a: self.gate.b, self.gate.b: self.gate.a}
        return tuple((inner.get(a, a), inner.get(b, b)) for a, b in self.pairs)

    @property
    def ends(self) -> tuple[str, ...]:
        """The points that it is wired to: two, or three on three phases."""
        return (self.a, self.b) if self.c is None else (self.a, self.b, self.c)

    @property
    def pairs(self) -> tuple[tuple[str, str], ...]:
        """The points between which it draws: its windings, in delta on three phases."""
        if self.c is None:
            return ((self.a, self.b),)
        return ((self.a, self.b), (self.b, self.c), (self.c, self.a))

    def winding(self, position: int) -> str:
        """The name of one pair's branch in a solution."""
        return self.name if position == 0 else f"{self.name}/{position + 1}"

    @property
    def gives_light(self) -> bool:
        """Whether it is a light, with a lamp or with electronics of its own."""
        return self.kind == "lamp" or "light" in self.flags

    @property
    def ohms(self) -> complex:
        """Its impedance at rated volts, or that of each of its windings.

        >>> span = Span(1, 1, 1, 1)
        >>> lamp = Load("L1", "L1", "lamp", "a", "b", 120, 60, 0, "constant-impedance", 90, 132,
        ...             0, 0, None, 0, frozenset(), span)
        >>> lamp.ohms
        (240+0j)
        """
        return cmath.rect(len(self.pairs) * self.volts**2 / self.apparent, self.angle)

    @property
    def inrush_ohms(self) -> complex:
        """Its impedance before it has pulled in."""
        if self.inrush is None:
            return self.ohms
        return cmath.rect(len(self.pairs) * self.volts**2 / self.inrush, self.inrush_angle)

    @property
    def farads(self) -> float:
        """The capacitance of a capacitor."""
        return self.apparent / (self.volts**2 * math.tau * FREQUENCY)

    @property
    def amps(self) -> float:
        """What it draws at rated volts; on three phases, in each line."""
        return self.apparent / (self.volts * self.phases)

    @property
    def phases(self) -> float:
        """How many times volts times amperes of a line its volt-amperes are: 1, or the root of 3."""
        return 1.0 if self.c is None else math.sqrt(3)


class Outlet(NamedTuple):
    """Where a cord is plugged in, with the `volts` it is made for between hot and neutral.

    `amps` is its rating, or None where its part does not say.
    """

    name: str
    device: str
    hot: str
    neutral: str
    ground: str | None
    volts: float
    amps: float | None
    span: Span


class Winding(NamedTuple):
    """A transformer: primary p1 p2, secondary s1 s2, `capacity` in VA, `ohms` on the secondary side.

    `secondary_volts` stand at full load; `open_volts` with none, higher by the
    impedance, as IEC 61558-1 rates small transformers (from memory).
    """

    name: str
    device: str
    primary: tuple[str, str]
    secondary: tuple[str, str]
    primary_volts: float
    secondary_volts: float
    open_volts: float
    capacity: float
    ohms: complex
    flags: frozenset[str]
    span: Span


class Leg(NamedTuple):
    """One leg of a panel's source; `letter` tells it from the others (`a`)."""

    name: str
    panel: str
    letter: str
    point: str
    volts: complex
    ohms: complex


class Variable(NamedTuple):
    """Something that stands in one of several positions: a switch, a sensing device, a state.

    `device` is the breaker, or the device that it is in. `moved_by` is `hand`, `state` (moved
    only by its own control), `overcurrent` (breakers and fuses, which a hand can take out too)
    or what the part says (`temperature`, `pressure`, ...).
    """

    name: str
    device: str
    values: tuple[str, ...]
    moved_by: str
    safety: bool
    span: Span


class Move(NamedTuple):
    """`control goes from A to B after T when ...`; `after` in seconds."""

    variable: str
    origins: tuple[str, ...]
    target: str
    after: float
    when: Condition | None
    scope: str
    span: Span


class Ending(NamedTuple):
    """`cool ends after T when ...`: the room that the thermostat at `scope` senses ends its call."""

    call: str
    after: float
    when: Condition
    scope: str


class Resistor(NamedTuple):
    """A path between two nodes that no wire, contact or load of the board is."""

    name: str
    a: int
    b: int
    ohms: float


class Conducting(NamedTuple):
    """What the currents depend on: contacts that are closed, coils that are in, what does not conduct."""

    closed: frozenset[str]
    pulled_in: frozenset[str]
    broken: frozenset[str]


@dataclass(frozen=True)
class Circuit:
    """Everything electrical of a board, in no particular state."""

    board: Board
    node: dict[str, int]
    wires: tuple[Wire, ...]
    contacts: tuple[Contact, ...]
    protections: tuple[Protection, ...]
    loads: tuple[Load, ...]
    outlets: tuple[Outlet, ...]
    windings: tuple[Winding, ...]
    legs: tuple[Leg, ...]
    variables: dict[str, Variable]
    moves: tuple[Move, ...]
    endings: tuple[Ending, ...]
    devices: dict[str, Device]
    bonds: tuple[tuple[str, str, Span], ...]
    inputs: tuple[tuple[str, str], ...]
    work: Work = field(repr=False, compare=False)
    # What a fault adds, and what it leaves open inside: loads, windings and fuses by name.
    resistors: tuple[Resistor, ...] = ()
    dead: frozenset[str] = frozenset()

    @cached_property
    def look(self) -> int:
        """What it takes to look at every condition and every load once, in steps of work."""
        conditions = [contact.when for contact in self.contacts]
        conditions += [move.when for move in self.moves if move.when is not None]
        seen = len(self.loads) + len(self.moves) + len(self.variables) + len(self.protections)
        return 1 + (sum(map(facts, conditions)) + seen) // LOOKS_A_STEP

    @cached_property
    def solving(self) -> int:
        """What it takes to solve it once, in steps of work."""
        branches = len(self.wires) + len(self.contacts) + len(self.protections) + len(self.loads)
        return STEPS_A_NODE * (self.nodes + branches)

    @cached_property
    def load(self) -> dict[str, Load]:
        """Loads by name, and by every other name that a board may use for them."""
        named: dict[str, Load] = {}
        for load in self.loads:
            named[load.name] = load
            device = self.devices[load.device]
            if len(device.part.loads) == 1:
                named[f"{load.device}.{device.part.loads[0].name}"] = load
        return named

    @cached_property
    def drawn(self) -> tuple[tuple[str, str, str], ...]:
        """What draws between two points: the name of its branch in a solution, and the points."""
        return tuple(
            (load.winding(position), *pair) for load in self.loads for position, pair in enumerate(load.pairs)
        )

    @cached_property
    def load_of(self) -> dict[str, Load]:
        """The load of each branch that draws, by the branch's name in a solution."""
        return {load.winding(position): load for load in self.loads for position, _ in enumerate(load.pairs)}

    @cached_property
    def own_neutrals(self) -> dict[str, frozenset[str]]:
        """For each breaker with a neutral screw of its own, the points that joins tie to that screw."""
        screws = {name: f"{name}.neutral" for name in self.board.breakers}
        joined = [[one.point for one in join.members if one.kind != "pigtail"] for join in self.board.joins]
        piece = pieces(screws.values(), (pair for points in joined for pair in itertools.pairwise(points)))
        there: dict[str, set[str]] = {}
        for point, first in piece.items():
            there.setdefault(first, set()).add(point)
        return {
            name: frozenset(there[piece[screw]])
            for name, screw in screws.items()
            if screw in self.board.terminals
        }

    @cached_property
    def ends(self) -> tuple[tuple[str, str, str], ...]:
        """Every conductor, load and primary by name, with the points of its two ends."""
        wires = ((wire.conductor.name, wire.a, wire.b) for wire in self.wires)
        return (*wires, *self.drawn, *((winding.name, *winding.primary) for winding in self.windings))

    @cached_property
    def wound(self) -> frozenset[str]:
        """The devices of which a winding has a lead of its own."""
        return frozenset(load.device for load in self.loads if "winding" in load.flags)

    @cached_property
    def heard(self) -> tuple[tuple[str, str], ...]:
        """The inputs that a control has: no lead on which its own device feeds something else.

        That a circulator has volts there is how its part tells that water flows, and that a motor with its
        windings on leads of their own has, that its rotor turns: nothing listens to it.
        """
        terminals = self.board.terminals
        return tuple(
            pair
            for pair in self.inputs
            if self.point[pair[0]].owner not in self.wound
            and (pair[0] not in terminals or terminals[pair[0]].spec.role != "switched")
        )

    def meant(self, fact: Runs, scope: str) -> Load | None:
        """The load that a condition of the device at `scope` asks to run, if there is one."""
        return self.load.get(fact.named(scope))

    def outlets_of(self, name: str) -> tuple[Outlet, ...]:
        """The outlets that a name means: one by its own name, all by their device's."""
        return tuple(outlet for outlet in self.outlets if name in (outlet.name, outlet.device))

    @cached_property
    def around(self) -> dict[str, tuple[Device, ...]]:
        """For each device by name, the devices that it is in, the outermost first, and itself last."""
        paths: dict[str, tuple[Device, ...]] = {}
        waiting: list[tuple[Device, tuple[Device, ...]]]
        waiting = [(device, (device,)) for device in self.board.devices.values()]
        while waiting:
            device, path = waiting.pop()
            paths[device.name] = path
            waiting += ((child, (*path, child)) for child in device.children)
        return paths

    @cached_property
    def unbroken(self) -> frozenset[str]:
        """The contacts that are closed however they stand: the coil of a relay that closes on current."""
        return frozenset(one.name for one in self.contacts if self._in_all(one.when, one.scope))

    def _in_all(self, condition: Condition, scope: str) -> bool:
        """Whether a condition names every position of one thing, with "or" between them."""
        facts = condition.facts if isinstance(condition, AnyOf) else ()
        names = {f"{scope}.{fact.name.text}" for fact in facts if isinstance(fact, IsState)}
        variable = self.variables.get(names.pop()) if len(names) == 1 else None
        stood = {fact.state.text for fact in facts if isinstance(fact, IsState)}
        return variable is not None and stood == set(variable.values)

    def between(self, scope: str, a: str, b: str) -> Contact | None:
        """The contact of a device between two of its terminals: what a condition about current looks at."""
        names = (f"{scope}.{a}--{b}", f"{scope}.{b}--{a}")
        return next((one for one in self.contacts_in.get(scope, ()) if one.name in names), None)

    @cached_property
    def windings_at_start(self) -> frozenset[str]:
        """The windings that carry current only as long as their motor stands still."""
        return frozenset(one.name for one in self.loads if one.kind == "coil" and "starting" in one.flags)

    @cached_property
    def moving(self) -> frozenset[str]:
        """The loads whose running changes the network: coils that draw an inrush."""
        return frozenset(load.name for load in self.loads if load.kind in COILS and load.inrush)

    @cached_property
    def contacts_in(self) -> dict[str, tuple[Contact, ...]]:
        """The contacts of each device that has some."""
        told: dict[str, list[Contact]] = {}
        for contact in self.contacts:
            told.setdefault(contact.scope, []).append(contact)
        return {scope: tuple(contacts) for scope, contacts in told.items()}

    @cached_property
    def contacts_of(self) -> dict[str, tuple[Contact, ...]]:
        """For each variable by name, the contacts that look where it stands."""
        told: dict[str, dict[str, Contact]] = {}
        for contact in self.contacts:
            waiting = [contact.when]
            while waiting:
                match waiting.pop():
                    case InPosition():
                        told.setdefault(contact.scope, {})[contact.name] = contact
                    case IsState(name):
                        told.setdefault(f"{contact.scope}.{name.text}", {})[contact.name] = contact
                    case Negation(fact):
                        waiting.append(fact)
                    case AllOf(facts) | AnyOf(facts):
                        waiting.extend(facts)
        return {name: tuple(contacts.values()) for name, contacts in told.items()}

    @cached_property
    def steady(self) -> tuple[tuple[Contact, ...], tuple[Contact, ...]]:
        """The contacts that look at positions and calls alone, and those that look at what has volts too."""
        told: tuple[list[Contact], list[Contact]] = [], []
        for contact in self.contacts:
            told[_looks_at_volts(contact.when)].append(contact)
        return tuple(told[0]), tuple(told[1])

    def copper(
        self, closed: frozenset[str] = frozenset(), opened: frozenset[str] = frozenset()
    ) -> Mapping[int, int]:
        """For each node, the first of its piece: what wires, these contacts and protection hold together.

        Parameters
        ----------
        closed : the contacts that are closed, by name.
        opened : the protection that is open, by name.
        """
        known = self._pieces.get((closed, opened))
        if known is not None:
            return known
        self.work.spend(1 + self.nodes // LOOKS_A_STEP)
        wired, node = self.wired, self.node
        pairs = [(contact.a, contact.b) for contact in self.contacts if contact.name in closed]
        for protection in self.protections:
            if protection.name not in opened:
                pairs += protection.pairs
        found = pieces(dict.fromkeys(wired.values()), ((wired[node[a]], wired[node[b]]) for a, b in pairs))
        told = {each: found[head] for each, head in wired.items()}
        if len(self._pieces) * self.nodes < MOST_REMEMBERED:
            self._pieces[closed, opened] = told
        return told

    @cached_property
    def _pieces(self) -> dict[tuple[frozenset[str], frozenset[str]], Mapping[int, int]]:
        return {}

    @cached_property
    def wired(self) -> Mapping[int, int]:
        """For each node, the first one that conductors alone tie it to."""
        return pieces(range(self.nodes), ((self.node[wire.a], self.node[wire.b]) for wire in self.wires))

    @cached_property
    def solutions(self) -> dict[Conducting, Solution]:
        """The solutions that were worked out so far, at the board's ambient."""
        return {}

    @cached_property
    def answers(self) -> dict[tuple[int, str, str], tuple[Settled, tuple[Settled, ...]]]:
        """What came of a state, which is kept with it, once something had moved to a value in it."""
        return {}

    @cached_property
    def left_out(self) -> set[str]:
        """What was taken as open in some state, since with it there was no answer."""
        return set()

    @cached_property
    def cold_wires(self) -> tuple[Impedance, ...]:
        """The conductors as impedances at the board's ambient."""
        return tuple(
            Impedance(
                wire.conductor.name,
                self.node[wire.a],
                self.node[wire.b],
                wire_ohms(wire.conductor, self.board, self.board.ambient),
            )
            for wire in self.wires
        )

    @cached_property
    def nodes(self) -> int:
        """How many nodes there are, earth among them."""
        ends = [end for path in self.resistors for end in (path.a, path.b)]
        return max([*self.node.values(), *ends], default=0) + 1

    @cached_property
    def points(self) -> dict[int, tuple[str, ...]]:
        """The points of each node, in order of appearance."""
        lists: dict[int, list[str]] = {}
        for point, node in self.node.items():
            lists.setdefault(node, []).append(point)
        return {node: tuple(points) for node, points in lists.items()}

    @cached_property
    def point(self) -> dict[str, Point]:
        """Every point by its name."""
        points: dict[str, Point] = {}
        for device in self.devices.values():
            for screw in device.part.terminals:
                name = f"{device.name}.{screw}"
                points[name] = Point(name, "terminal", device.name, device.outer, screw, device.place)
        for terminal in self.board.terminals.values():
            screw = terminal.spec.name
            points[terminal.name] = Point(
                terminal.name, "terminal", terminal.owner, terminal.owner, screw, terminal.place
            )
        for panel in self.board.panels.values():
            for leg in panel.legs:
                name = panel.on_bus(leg)
                points[name] = Point(name, "leg", panel.name, panel.name, name, panel.name)
        for conductor in self.board.conductors.values():
            for end, place in zip(conductor.ends, conductor.places, strict=True):
                points[end] = Point(end, "end", conductor.name, conductor.run, "", place)
        return points


def _looks_at_volts(condition: Condition) -> bool:
    """Whether a condition is about what the wiring brings, or has brought."""
    return any(isinstance(fact, Runs | HasVoltage | Carries) for fact in each_fact(condition))


def circuit(board: Board, work: Work | None = None) -> Circuit:
    """The circuit of a board.

    Parameters
    ----------
    work : what may be spent on it, where it is a board that stands for another; its own if None.
    """
    devices = {device.name: device for device in every_device(board.devices)}
    bonds = list(_bonds(board, devices))
    wires = tuple(Wire(conductor, *conductor.ends) for conductor in board.conductors.values())
    contacts = tuple(_contacts(board, devices))
    protections = (*_breakers(board), *_protections(devices))
    loads = tuple(_gated(_loads(devices), contacts))
    windings = tuple(_windings(devices))
    legs = tuple(_legs(board))
    moves = tuple(_moves(board, devices))
    points = list(board.terminals)
    for wire in wires:
        points += (wire.a, wire.b)
    points += (panel.on_bus(leg) for panel in board.panels.values() for leg in panel.legs)
    for device in devices.values():
        points += (f"{device.name}.{terminal}" for terminal in device.part.terminals)
    for contact in contacts:
        points += (contact.a, contact.b)
    points += _leads(board).values()
    return Circuit(
        board=board,
        node=_nodes(
            points, bonds, [f"{panel}.{bar}" for panel in board.sources for bar in ("neutral", "ground")]
        ),
        wires=wires,
        contacts=contacts,
        protections=protections,
        loads=loads,
        outlets=tuple(_outlets(devices)),
        windings=windings,
        legs=legs,
        variables=dict(_variables(devices, protections)),
        moves=moves,
        endings=tuple(_endings(board, devices)),
        devices=devices,
        bonds=tuple(bonds),
        inputs=tuple(dict.fromkeys(_inputs(devices, contacts, moves))),
        work=work or Work(allowed(board.length)),
    )


def wire_ohms(conductor: Conductor, board: Board, temperature: float) -> complex:
    """The impedance of a conductor of the board at a temperature in C."""
    raceway = board.raceways.get(conductor.raceway or "")
    around = raceway.kind if raceway else conductor.insulation
    ohms = impedance(conductor.size, conductor.material, around, temperature, code=board.code)
    return ohms * conductor.length


# ------------------------------------------------------------------ nodes


def _nodes(points: list[str], bonds: list[tuple[str, str, Span]], earthed: list[str]) -> dict[str, int]:
    """A number for what copper holds together; 0 for earth."""
    tied = [(a, b) for a, b, _ in bonds] + [("", bar) for bar in earthed]
    piece = pieces(["", *points], tied)
    numbers = {"": 0}
    node: dict[str, int] = {}
    for point, first in piece.items():
        if point:
            node[point] = numbers.setdefault(first, len(numbers))
    return node


def _bonds(board: Board, devices: dict[str, Device]) -> Iterator[tuple[str, str, Span]]:
    for join in board.joins:
        points = [member.point for member in join.members if member.kind != "pigtail"]
        for a, b in itertools.pairwise(points):
            yield a, b, join.span
    yield from own_bonds(board, devices)


def own_bonds(board: Board, devices: dict[str, Device]) -> Iterator[tuple[str, str, Span]]:
    """What panels, breakers and devices join themselves, with no wire of the board."""
    for panel in board.panels.values():
        if panel.bonded:
            yield f"{panel.name}.neutral", f"{panel.name}.ground", panel.span
    for panel in board.subpanels.values():
        if panel.main is None:
            yield from ((panel.lug(leg), panel.on_bus(leg), panel.span) for leg in panel.legs)
    for breaker in board.breakers.values():
        # A ground-fault breaker's own neutral screw leads through it to the neutral bar.
        if f"{breaker.name}.neutral" in board.terminals:
            yield f"{breaker.name}.neutral", f"{breaker.panel}.neutral", breaker.span
    yield from inner_bonds(board, devices)


def inner_bonds(board: Board, devices: dict[str, Device]) -> Iterator[tuple[str, str, Span]]:
    """What wires inside some devices join, as somebody left them."""
    leads = _leads(board)
    for device in devices.values():
        for contact in device.part.contacts:
            if contact.when is None:
                yield *_landed(device, contact, leads), device.span
    for one in board.altered:
        if one.act == "jumper" and one.device in devices:
            a, b = one.points
            yield a, b, one.span


def _leads(board: Board) -> dict[str, str]:
    """Where the leads inside cabinets are that their maker put on a terminal, and somebody elsewhere."""
    leads: dict[str, str] = {}
    for one in board.altered:
        if one.act == "lift":
            leads[one.points[0]] = f"{one.points[0]}-lead"
        elif one.act == "swap":
            a, b = one.points
            leads[a], leads[b] = leads.get(b, b), leads.get(a, a)
    return leads


def _landed(device: Device, contact: parts.Contact, leads: Mapping[str, str]) -> tuple[str, str]:
    """The points of a contact or a wire of a part.

    A lead comes from outside of the part that it goes to; the screws of a cabinet have theirs inside.
    """
    a, b = f"{device.name}.{contact.a}", f"{device.name}.{contact.b}"
    outermost, own = device.name == device.outer, device.part.terminals
    if not leads:
        return a, b
    return (
        leads.get(a, a) if outermost or contact.a not in own else a,
        leads.get(b, b) if outermost or contact.b not in own else b,
    )


# --------------------------------------------------------------- elements


def _legs(board: Board) -> Iterator[Leg]:
    for panel in board.sources.values():
        available = panel.available or AVAILABLE_AMPS
        for leg, volts in panel.legs.items():
            name = panel.on_bus(leg)
            yield Leg(name, panel.name, leg, name, volts, complex(abs(volts) / available))


def _breakers(board: Board) -> Iterator[Protection]:
    for breaker in board.breakers.values():
        yield Protection(
            name=breaker.name,
            device=breaker.name,
            pairs=tuple((board.panels[breaker.panel].on_bus(leg), at) for at, leg in breaker.poles),
            amps=breaker.amps,
            kind="breaker",
            trips=_trips(breaker, board),
            span=breaker.span,
        )


def _trips(breaker: Breaker, board: Board) -> float | None:
    """The difference current at which a breaker opens."""
    if "gfci" in breaker.flags:
        return GROUND_FAULT
    return ARC_FAULT if f"{breaker.name}.neutral" in board.terminals else None


def _contacts(board: Board, devices: dict[str, Device]) -> Iterator[Contact]:
    leads = _leads(board)
    for device in devices.values():
        seen: dict[str, int] = {}
        for contact in device.part.contacts:
            if contact.when is not None:
                a, b = _landed(device, contact, leads)
                name = f"{device.name}.{contact.a}--{contact.b}"
                seen[name] = seen.get(name, 0) + 1
                if seen[name] > 1:
                    name = f"{name}/{seen[name]}"
                rated = number(contact.rated, device.values)
                overload = number(contact.overload, device.values)
                waits = number(contact.waits, device.values)
                yield Contact(
                    name,
                    a,
                    b,
                    filled(contact.when, device.values),
                    device.name,
                    rated.value if rated else None,
                    contact.flags,
                    device.span,
                    overload.value if overload else None,
                    waits.value if waits else None,
                )


def number(value: Value | None, values: Mapping[str, Quantity | Word]) -> Quantity | None:
    """A value in figures: its own, or that of the rating it names."""
    seen = 0
    while isinstance(value, Word) and seen < 8:
        value = values.get(value.text)
        seen += 1
    return value if isinstance(value, Quantity) else None


def _protections(devices: dict[str, Device]) -> Iterator[Protection]:
    for device in devices.values():
        for position, spec in enumerate(device.part.protections):
            rating = number(spec.rating, device.values)
            if rating is None:
                continue
            yield _protection(device, spec, rating.value, position)


def _protection(device: Device, spec: ProtectionSpec, amps: float, position: int) -> Protection:
    known = ("fuse", "breaker", "supplementary", "thermal", *WATCHERS)
    kinds = [flag for flag in known if flag in spec.flags]
    trips = number(spec.options.get("trips"), device.values)
    return Protection(
        name=device.part.protection_name(device.name, position),
        device=device.name,
        pairs=tuple((f"{device.name}.{a}", f"{device.name}.{b}") for a, b in spec.pairs),
        amps=amps,
        kind=kinds[0] if kinds else "breaker",
        trips=trips.value if trips else GROUND_FAULT if "gfci" in spec.flags else None,
        span=device.span,
    )


def _loads(devices: dict[str, Device]) -> Iterator[Load]:
    for device in devices.values():
        for spec in device.part.loads:
            load = _load(device, spec)
            if load is not None:
                yield load


def _gated(loads: Iterator[Load], contacts: tuple[Contact, ...]) -> Iterator[Load]:
    """The loads, each with the contact of the electronics that are in it."""
    gates = {end: each for each in contacts if "in-electronics" in each.flags for end in (each.a, each.b)}
    for load in loads:
        inner = {gates[end] for end in load.ends if end in gates}
        yield load._replace(gate=inner.pop()) if len(inner) == 1 else load


def _load(device: Device, spec: LoadSpec) -> Load | None:
    rated = number(spec.volts, device.values) or number(device.values.get("voltage"), device.values)
    draws = number(spec.draws, device.values)
    if rated is None or draws is None or rated.value <= 0 or draws.value <= 0:
        return None
    volts = rated.value
    figures = {
        name: quantity for name, value in spec.options.items() if (quantity := number(value, device.values))
    }
    if draws.dimension == "capacitance":
        return _capacitor(device, spec, volts, draws.value)
    factor = figures["power-factor"].value if "power-factor" in figures else POWER_FACTOR.get(spec.kind, 1.0)
    line_volts = volts if spec.c is None else volts * math.sqrt(3)
    times = figures["times"].value if "times" in figures else 1.0
    apparent = _apparent(draws, line_volts, factor) * times
    levels = {name: one.value * (volts if one.dimension == "percent" else 1) for name, one in figures.items()}
    works = levels.get("works", volts * WORKS_FRACTION)
    inrush = figures.get("inrush") or figures.get("locked-rotor")
    inrush_factor = figures["inrush-power-factor"].value if "inrush-power-factor" in figures else factor
    pulls_in = levels.get("pulls-in", works)
    return Load(
        name=device.name if len(device.part.loads) == 1 else f"{device.name}.{spec.name}",
        device=device.name,
        kind=spec.kind,
        a=f"{device.name}.{spec.a}",
        b=f"{device.name}.{spec.b}",
        volts=volts,
        apparent=apparent,
        angle=math.acos(min(1.0, factor)),
        model=next((model for model in MODELS if model in spec.flags), MODEL.get(spec.kind, MODELS[0])),
        works=works,
        works_to=levels.get("works-to", volts * 1.1),
        pulls_in=pulls_in,
        drops_out=levels.get("drops-out", pulls_in * 0.6),
        inrush=_apparent(inrush, line_volts, inrush_factor, apparent) if inrush else None,
        inrush_angle=math.acos(min(1.0, inrush_factor)),
        flags=spec.flags,
        span=device.span,
        c=f"{device.name}.{spec.c}" if spec.c is not None else None,
        horsepower=figures["horsepower"].value / HORSEPOWER if "horsepower" in figures else None,
        service_factor=figures["service-factor"].value if "service-factor" in figures else None,
        rise=figures["rise"].value if "rise" in figures else None,
    )


def _capacitor(device: Device, spec: LoadSpec, volts: float, farads: float) -> Load:
    """A capacitor: it draws 2 pi f C times its volts, a quarter of a turn ahead of them."""
    return Load(
        name=device.name if len(device.part.loads) == 1 else f"{device.name}.{spec.name}",
        device=device.name,
        kind=spec.kind,
        a=f"{device.name}.{spec.a}",
        b=f"{device.name}.{spec.b}",
        volts=volts,
        apparent=volts**2 * math.tau * FREQUENCY * farads,
        angle=-math.pi / 2,
        model=MODELS[0],
        works=volts * CHARGED,
        works_to=volts * 1.1,
        pulls_in=volts * CHARGED,
        drops_out=volts * CHARGED,
        inrush=None,
        inrush_angle=-math.pi / 2,
        flags=spec.flags,
        span=device.span,
    )


def _apparent(draws: Quantity, volts: float, factor: float, running: float = 0.0) -> float:
    """VA at rated volts from whatever the part states."""
    if draws.dimension == "current":
        return draws.value * volts
    if draws.dimension == "power":
        return draws.value / factor
    if draws.dimension == "horsepower":
        return draws.value / factor
    if draws.dimension == "resistance":
        return volts**2 / draws.value
    if draws.dimension == "ratio":
        return draws.value * running
    return draws.value


def _outlets(devices: dict[str, Device]) -> Iterator[Outlet]:
    for device in devices.values():
        for spec in device.part.outlets:
            volts, rated = number(spec.volts, device.values), number(spec.rated, device.values)
            yield Outlet(
                name=f"{device.name}.{spec.name}",
                device=device.name,
                hot=f"{device.name}.{spec.hot}",
                neutral=f"{device.name}.{spec.neutral}",
                ground=f"{device.name}.{spec.ground}" if spec.ground else None,
                volts=volts.value if volts else 120.0,
                amps=rated.value if rated else None,
                span=device.span,
            )


def _windings(devices: dict[str, Device]) -> Iterator[Winding]:
    for device in devices.values():
        for position, spec in enumerate(device.part.transformers):
            winding = _winding(device, spec, position)
            if winding is not None:
                yield winding


def _winding(device: Device, spec: TransformerSpec, position: int) -> Winding | None:
    primary = number(spec.primary_volts, device.values)
    secondary = number(spec.secondary_volts, device.values)
    capacity = number(spec.options.get("capacity"), device.values)
    impedance = number(spec.options.get("impedance"), device.values)
    if primary is None or secondary is None or capacity is None or impedance is None:
        return None
    base = secondary.value**2 / capacity.value
    # A small control transformer's impedance is mostly its copper (common practice).
    return Winding(
        name=device.part.winding_name(device.name, position),
        device=device.name,
        primary=(f"{device.name}.{spec.primary[0]}", f"{device.name}.{spec.primary[1]}"),
        secondary=(f"{device.name}.{spec.secondary[0]}", f"{device.name}.{spec.secondary[1]}"),
        primary_volts=primary.value,
        secondary_volts=secondary.value,
        open_volts=secondary.value * (1 + impedance.value),
        capacity=capacity.value,
        ohms=complex(base * impedance.value),
        flags=spec.flags,
        span=device.span,
    )


# ------------------------------------------------------------------ states


def _variables(
    devices: dict[str, Device], protections: tuple[Protection, ...]
) -> Iterator[tuple[str, Variable]]:
    for protection in protections:
        values = ("in", "out") if protection.kind == "fuse" else ("on", "off")
        name = protection.name
        yield name, Variable(name, protection.device, values, "overcurrent", False, protection.span)
    for device in devices.values():
        name, part = device.name, device.part
        if part.positions:
            yield name, Variable(name, name, part.positions, part.moved_by, part.safety, device.span)
        for state in part.states:
            inside = f"{name}.{state.name}"
            yield inside, Variable(inside, name, state.values, "state", False, device.span)


def _moves(board: Board, devices: dict[str, Device]) -> Iterator[Move]:
    for device in devices.values():
        for transition, when in sensing.moved(device, board):
            after = number(transition.after, device.values)
            if transition.after is not None and after is None:
                continue
            variable = device.name if transition.name == "" else f"{device.name}.{transition.name}"
            yield Move(
                variable=variable,
                origins=transition.origins,
                target=transition.target,
                after=after.value if after else 0.0,
                when=when and filled(when, device.values),
                scope=device.name,
                span=device.span,
            )


def _endings(board: Board, devices: dict[str, Device]) -> Iterator[Ending]:
    for device in devices.values():
        for end, when in sensing.ended(device, board):
            after = number(end.after, device.values)
            if after is not None or end.after is None:
                yield Ending(end.call, after.value if after else 0.0, when, device.name)


def _inputs(
    devices: dict[str, Device], contacts: tuple[Contact, ...], moves: tuple[Move, ...]
) -> Iterator[tuple[str, str]]:
    """The pairs of points between which some condition looks at the volts, and draws a little current.

    What senses a flame to ground draws far less: it gives no metal the volts of the hot.
    """
    conditions = [(contact.when, contact.scope) for contact in contacts]
    conditions += [(move.when, move.scope) for move in moves if move.when is not None]
    for condition, scope in conditions:
        waiting = [condition]
        while waiting:
            match waiting.pop():
                case HasVoltage(terminal, _, reference):
                    known = devices[scope].part.terminals
                    ends = [known[name] for name in (terminal.text, reference.text) if name in known]
                    if all(end.role != "ground" for end in ends):
                        yield f"{scope}.{terminal.text}", f"{scope}.{reference.text}"
                case Negation(fact):
                    waiting.append(fact)
                case AllOf(facts) | AnyOf(facts):
                    waiting.extend(facts)

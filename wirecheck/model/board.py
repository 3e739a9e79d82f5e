"""The board as built: places, conductors, devices and the joins between them.

Plain values, every one with its span in the text. Lengths are meters, volumes
cubic meters, currents amperes, temperatures degrees Celsius, angles radians.
`wirecheck.model.build` makes a `Board` from a `Syntax`.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from wirecheck.language.names import NEXT, of_end, second_end
from wirecheck.language.syntax import (
    ExpectEnd,
    ExpectFrom,
    ExpectLive,
    ExpectRuns,
    ExpectStarts,
    ExpectStops,
    Problem,
    Quantity,
    Sight,
    Some,
    Span,
    Word,
)
from wirecheck.parts.part import Part, TerminalSpec
from wirecheck.tables.code import Code


class Terminal(NamedTuple):
    """A screw of a device, a breaker, a panel or a metal box: `S1.common`.

    `label` is what its owner calls it (`common`; `a` on a breaker of two poles), and nothing
    where the owner has it alone and it bears the owner's name (`LP.3`).
    """

    name: str
    owner: str
    label: str
    place: str
    spec: TerminalSpec


class Point(NamedTuple):
    """Where a meter's lead can touch: a conductor's end, a screw, or a leg of a panel.

    `name` is how it is written (`W1.black@A`, `S1.common`, `F.limit.a`, `LP.leg-a`). `kind` is
    `end`, `terminal` or `leg`; `owner` the conductor, device, breaker, box or panel that it
    belongs to (`W1.black`, `S1`, `F.limit`), `outer` the outermost thing on the board around
    that (`W1`, `S1`, `F`), `screw` the terminal's own name, and nothing for an end.
    """

    name: str
    kind: str
    owner: str
    outer: str
    screw: str
    place: str


class Panel(NamedTuple):
    """An enclosure with bars and breakers; a source, unless a breaker of another panel feeds it.

    `legs` maps a leg to its volts as a phasor; of a subpanel, which is `fed`, to what it should have.
    `system` is as written (`120/240`, `120`, `240`, `208Y/120`, `480Y/277`, `120/240 delta`); `available` is
    the fault current at its lugs, or None where the board does not say. `main` is the rating of its main
    breaker and `bus` that of its bus, or None. `bonded` is whether its neutral is tied to its enclosure,
    `detached` whether it stands in another building.
    """

    name: str
    system: str
    legs: dict[str, complex]
    available: float | None
    span: Span
    main: float | None = None
    bus: float | None = None
    fed: bool = False
    bonded: bool = True
    detached: bool = False

    def on_bus(self, leg: str) -> str:
        """The point of a leg behind its breakers: `LP.leg-a`."""
        return f"{self.name}.leg-{leg}"

    def leg_at(self, space: int) -> str:
        """The leg behind a space: those of one side follow each other, and so do the legs."""
        legs = list(self.legs)
        return legs[(space - 1) // NEXT % len(legs)]

    def lug(self, leg: str) -> str:
        """The terminal where the feeder of a subpanel brings a leg: `SP.a`."""
        return f"{self.name}.{leg}"


class Breaker(NamedTuple):
    """`poles` pairs each terminal's name with its leg: (("LP.3", "b"),).

    The main breaker of a subpanel (`SP.main`) has the lugs as its terminals. `sights` are what its line
    says of what can be seen from where it is. `spaces` are those that it fills; the main breaker fills none.
    """

    name: str
    panel: str
    amps: float
    poles: tuple[tuple[str, str], ...]
    flags: frozenset[str]
    tied: str | None
    span: Span
    rating_span: Span
    sights: tuple[Sight, ...] = ()
    spaces: tuple[int, ...] = ()


class Addition(NamedTuple):
    """What is put on a box: `kind` is ring, extension or cover. One with no volume marked on it has none."""

    kind: str
    volume: float | None
    trade_size: str | None
    span: Span


class Box(NamedTuple):
    """An enclosure. `volume` and `gangs` are None where the board gives none.

    `accessible` is whether a cable can be added to it without opening a finished wall. `added` is what is put
    on it.
    """

    name: str
    kind: str
    volume: float | None
    trade_size: str | None
    metal: bool
    clamps: bool
    wet: bool
    accessible: bool
    gangs: int | None
    span: Span
    added: tuple[Addition, ...] = ()


class Altered(NamedTuple):
    """What somebody did to the wires inside a piece of equipment: `act` is jumper, lift or swap.

    `points` are terminals of `device` or of what is inside it: the two that a jumper joins, the one whose
    lead is off, or the two whose leads are exchanged.
    """

    act: str
    device: str
    points: tuple[str, ...]
    span: Span


class Sensed(NamedTuple):
    """What acts on a control of the board: devices, by name, and their `loads` by what those are to it."""

    things: tuple[str, ...]
    loads: Mapping[str, tuple[str, ...]]
    span: Span


class Bundle(NamedTuple):
    """Cables that lie together without a gap for a length, outside of any raceway."""

    runs: tuple[str, ...]
    length: float
    span: Span


class Room(NamedTuple):
    """A kind of place of a dwelling, as `kitchen`, and what of the board is there, as one line says.

    `receptacles` are those of its devices into which a cord is plugged.
    """

    kind: str
    places: tuple[str, ...]
    receptacles: tuple[str, ...]
    span: Span


class RunEnd(NamedTuple):
    """One end of a cable, wire or raceway; a measure that was not taken is None.

    `free` is the conductor beyond the jacket, `jacket` what enters the box,
    `secured` the distance to the first support, `every` the widest spacing; `bend` the
    radius inside of the tightest bend on that side, `diameter` that of the cable.
    """

    place: str
    free: float | None
    jacket: float | None
    secured: float | None
    every: float | None
    spans: dict[str, Span]
    span: Span
    bend: float | None = None
    diameter: float | None = None


class Conductor(NamedTuple):
    """One conductor from place to place. `size` is a trade size, as `14`, `4/0`, `2.5 mm2`.

    `ends` are the names of its two ends, `W1.black@LP` and `W1.black@A`;
    where both ends are in one place, the second is `W1.black@A'`.
    """

    name: str
    size: str
    material: str
    insulation: str
    color: str
    length: float
    places: tuple[str, str]
    ends: tuple[str, str]
    run: str
    raceway: str | None
    span: Span

    @property
    def stays(self) -> bool:
        """Whether both its ends are in one place, as of the wires within a control panel."""
        return self.places[0] == self.places[1]

    @property
    def by_place(self) -> tuple[str, str]:
        """The names of its two ends in their places: its own, but of the second where both are in one."""
        return self.name, second_end(self.name) if self.stays else self.name

    def end_in(self, place: str) -> str | None:
        """The point of its end in a place, the first where both are there; None where neither is."""
        return self.ends[self.places.index(place)] if place in self.places else None


class Run(NamedTuple):
    """A cable or a single wire: its conductors and its two ends."""

    name: str
    kind: str
    jacketed: bool
    conductors: tuple[Conductor, ...]
    length: float
    ends: tuple[RunEnd, RunEnd]
    raceway: str | None
    span: Span


class Raceway(NamedTuple):
    """A conduit with the names of the runs in it; `size` is the trade size in meters."""

    name: str
    kind: str
    size: float
    size_text: str
    length: float
    ends: tuple[RunEnd, RunEnd]
    runs: tuple[str, ...]
    span: Span

    @property
    def places(self) -> tuple[str, str]:
        """The two places that it joins."""
        return self.ends[0].place, self.ends[1].place


class Device(NamedTuple):
    """A part in its place, with its settings; children are the parts inside it.

    `name` is its whole path (`F.limit`), `outer` the device on the board that it is in, itself
    where it is in none (`F`), and `inside` the path from there (`limit`, or nothing); `values`
    holds every rating by name, the board's settings over the part's defaults. `sights` are what its line says
    of what can be seen from where it is.
    """

    name: str
    part: Part
    place: str
    values: dict[str, Quantity | Word]
    children: tuple[Device, ...]
    span: Span
    outer: str
    inside: str
    sights: tuple[Sight, ...] = ()


class Member(NamedTuple):
    """One member of a join: a conductor's end, a terminal or a pigtail.

    `kind` is `end`, `terminal` or `pigtail`; `point` its point in the circuit
    (`W1.black@A`, `S1.common`); `marked` the color it was re-identified with. Where it sits under
    one of several screws of a terminal and the line says which, `screw` is that one (`R1.hot-1`).
    `size` is that of a pigtail, where the line says it.
    """

    kind: str
    name: str
    point: str
    marked: str | None
    span: Span
    screw: str | None = None
    size: str | None = None

    @property
    def by_place(self) -> str:
        """Its name in its place: that of its screw, of its terminal, or of its end (`Conductor.by_place`)."""
        second = self.kind == "end" and of_end(self.point) != self.point
        return self.screw or (second_end(self.name) if second else self.name)


class Connector(NamedTuple):
    """A wire connector, and what it is listed to hold: each combination says how many wires of which size.

    `metals` is whether it is listed for aluminum and copper together.
    """

    name: str
    combinations: tuple[tuple[Some, ...], ...]
    metals: bool
    span: Span


class Join(NamedTuple):
    """What one line joins in one place.

    `under` maps a terminal to the members whose copper sits under that screw;
    `splice` holds the conductors under one connector (empty without one); `connector` is the
    one that the line names, or `AL-CU` for any that is listed for aluminum with copper. What is `pushed` in
    is in the holes of the devices, and not under their screws.
    """

    place: str
    members: tuple[Member, ...]
    splice: tuple[Member, ...]
    under: dict[str, tuple[Member, ...]]
    span: Span
    connector: Connector | None = None
    pushed: bool = False


Expectation = ExpectFrom | ExpectLive | ExpectRuns | ExpectStops | ExpectStarts | ExpectEnd


class Board(NamedTuple):
    """A whole board.

    `code` is the edition that it is judged by: the nearest held here to the one it names.
    `bundles` gives a cable the bundle that it is in, and `rooms` a place its room, where a line says so;
    `sensed` gives a control what acts on it.
    `screws` gives each of several screws of a terminal that terminal (`R1.hot-1`: `R1.hot`).
    `capped` maps the point of a conductor's end, or of a device's lead, to its span. `outermost` devices are
    in `devices`; `wirecheck.model.devices.every_device` walks into their children.
    `problems` may hide a part of the board from the checks, `remarks` never do; `unread` are the places where
    something is joined that could not be read. `own_parts` are the parts on
    it, at any depth, that do not ship, in the order in which it asks for them. Where it is a part of another
    board, `made_by_several` are the calls that several thermostats of that one make. `length` is
    that of its text in characters.
    """

    title: str
    code: Code
    ambient: float
    panels: dict[str, Panel]
    breakers: dict[str, Breaker]
    boxes: dict[str, Box]
    runs: dict[str, Run]
    conductors: dict[str, Conductor]
    raceways: dict[str, Raceway]
    devices: dict[str, Device]
    terminals: dict[str, Terminal]
    screws: dict[str, str]
    joins: tuple[Join, ...]
    capped: dict[str, Span]
    expectations: tuple[Expectation, ...]
    problems: tuple[Problem, ...]
    span: Span
    remarks: tuple[Problem, ...] = ()
    own_parts: tuple[Part, ...] = ()
    made_by_several: frozenset[str] = frozenset()
    length: int = 0
    rooms: Mapping[str, Room] = MappingProxyType({})
    bundles: Mapping[str, Bundle] = MappingProxyType({})
    altered: tuple[Altered, ...] = ()
    sensed: Mapping[str, Sensed] = MappingProxyType({})
    unread: frozenset[str] = frozenset()

    @property
    def sources(self) -> dict[str, Panel]:
        """The panels that stand for the supply: their neutral and ground are tied to earth."""
        return {name: panel for name, panel in self.panels.items() if not panel.fed}

    @property
    def handle_ties(self) -> list[tuple[str, str]]:
        """The breakers of which one line says that its handle is tied to the other's."""
        named = ((breaker.name, breaker.tied) for breaker in self.breakers.values())
        return [(name, other) for name, other in named if other is not None and other in self.breakers]

    @property
    def subpanels(self) -> dict[str, Panel]:
        """The panels that a breaker of another panel feeds."""
        return {name: panel for name, panel in self.panels.items() if panel.fed}

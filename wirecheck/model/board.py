"""The board as built: places, conductors, devices and the joins between them.

Plain values, every one with its span in the text. Lengths are meters, volumes
cubic meters, currents amperes, temperatures degrees Celsius, angles radians.
`wirecheck.model.build` makes a `Board` from a `Syntax`.
"""

from __future__ import annotations

from typing import NamedTuple

from wirecheck.language.syntax import (
    ExpectFrom,
    ExpectLive,
    ExpectRuns,
    ExpectStops,
    Problem,
    Quantity,
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
    """A source and an enclosure. `legs` maps a leg to its volts as a phasor.

    `system` is as written (`120/240`, `120`, `240`, `208Y/120`); `available`
    is the fault current at its lugs, or None where the board does not say.
    """

    name: str
    system: str
    legs: dict[str, complex]
    available: float | None
    span: Span


class Breaker(NamedTuple):
    """`poles` pairs each terminal's name with its leg: (("LP.3", "b"),)."""

    name: str
    panel: str
    amps: float
    poles: tuple[tuple[str, str], ...]
    flags: frozenset[str]
    tied: str | None
    span: Span
    rating_span: Span


class Box(NamedTuple):
    """An enclosure. `volume` and `gangs` are None where the board gives none."""

    name: str
    kind: str
    volume: float | None
    trade_size: str | None
    metal: bool
    clamps: bool
    wet: bool
    gangs: int | None
    span: Span


class RunEnd(NamedTuple):
    """One end of a cable, wire or raceway; a measure that was not taken is None.

    `free` is the conductor beyond the jacket, `jacket` what enters the box,
    `secured` the distance to the first support, `every` the widest spacing.
    """

    place: str
    free: float | None
    jacket: float | None
    secured: float | None
    every: float | None
    spans: dict[str, Span]
    span: Span


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
    holds every rating by name, the board's settings over the part's defaults.
    """

    name: str
    part: Part
    place: str
    values: dict[str, Quantity | Word]
    children: tuple[Device, ...]
    span: Span
    outer: str
    inside: str


class Member(NamedTuple):
    """One member of a join: a conductor's end, a terminal or a pigtail.

    `kind` is `end`, `terminal` or `pigtail`; `point` its point in the circuit
    (`W1.black@A`, `S1.common`); `marked` the color it was re-identified with. Where it sits under
    one of several screws of a terminal and the line says which, `screw` is that one (`R1.hot-1`).
    """

    kind: str
    name: str
    point: str
    marked: str | None
    span: Span
    screw: str | None = None


class Join(NamedTuple):
    """What one line joins in one place.

    `under` maps a terminal to the members whose copper sits under that screw;
    `splice` holds the conductors under one connector (empty without one); `connector` is the
    kind that the line names, `AL-CU` for one that is listed for aluminum with copper.
    """

    place: str
    members: tuple[Member, ...]
    splice: tuple[Member, ...]
    under: dict[str, tuple[Member, ...]]
    span: Span
    connector: str | None = None


Expectation = ExpectFrom | ExpectLive | ExpectRuns | ExpectStops


class Board(NamedTuple):
    """A whole board.

    `code` is the edition that it is judged by: the nearest held here to the one it names.
    `screws` gives each of several screws of a terminal that terminal (`R1.hot-1`: `R1.hot`).
    `capped` maps the point of a conductor's end, or of a device's lead, to its span. `outermost` devices are
    in `devices`; `wirecheck.model.devices.every_device` walks into their children.
    `problems` may hide a part of the board from the checks, `remarks` never do. `own_parts` are the parts on
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

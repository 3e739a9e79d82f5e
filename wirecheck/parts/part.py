"""A part of the library: what a part file says, with its names checked.

Quantities are SI (temperatures in C, percent as a fraction). A `Value` is a
quantity or the name of a rating of the same part; `wirecheck.model` puts the
device's own settings in its place.

Every name in a `Part` is known: what named something that is not there has
been left out, and a `Problem` says so. `wirecheck.parts.read` makes parts.

What belongs on a terminal is its role, one of `ROLES`:

hot             the ungrounded conductor of a line-voltage circuit, switched or not
neutral         the grounded conductor: white or gray, never switched
ground          the equipment grounding conductor: bare or green
switched        what leaves a switch: a traveler or a switched leg, never a neutral
line            either side of a line-voltage circuit: a hot, or the neutral
class-2         24 V power-limited control wiring: R, W, Y, G and the like
class-2-common  the common side of that wiring: C
contact         either side of a coil, contact or fuse that takes whatever it is wired for
signal          only its like on other devices: the interconnect of smoke alarms

What a terminal of thermostat wiring carries is one of `CARRIES`. Makers letter their terminals
each in their own way; a wire is the same where it carries the same.

power            24 V from the transformer
common           the other side of the transformer
heat             the call for heat, its first stage
second-heat      its second stage, and the auxiliary heat of a heat pump
cool             the call for the compressor: cooling, its first stage, and heat from a heat pump
second-cool      its second stage
fan              the call for the blower alone
changeover-cool  the reversing valve of a heat pump, energized to cool
changeover-heat  the reversing valve of a heat pump, energized to heat

A load of kind `coil` only moves contacts: that it runs is no work done for a
call. A `standby` load runs whenever there is power, call or none; an `unswitched` one must
have it in every position of the switches. A `capacitor` is no work either: it draws a current that leads its
volts. A capacitor or a winding that is `starting` may be in for seconds only. A coil that `senses` volts
waits for the right ones, and takes no harm from less. What stands `in-series` takes a part of the volts of
what it feeds, as a dropping resistor or a diode does: the way of a call goes on through it. A load of another
kind than `lamp` that gives light all the same, as an LED light with its driver, is a `light`.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal, NamedTuple, get_args

from wirecheck.language.syntax import Condition, Problem, Quantity, Setting, Span, Word

Value = Quantity | Word
Role = Literal[
    "hot", "neutral", "ground", "switched", "line", "class-2", "class-2-common", "contact", "signal"
]
Carried = Literal[
    "power",
    "common",
    "heat",
    "second-heat",
    "cool",
    "second-cool",
    "fan",
    "changeover-cool",
    "changeover-heat",
]
Kind = Literal["lamp", "heater", "igniter", "motor", "coil", "valve", "bell", "electronics", "capacitor"]

ROLES: tuple[Role, ...] = get_args(Role)
CARRIES: tuple[Carried, ...] = get_args(Carried)
KINDS: tuple[Kind, ...] = get_args(Kind)
TERMINAL_FLAGS = ("lead", "copper", "bar", "spare", "optional", "electrode", "push-in")
MOVERS = (
    "hand",
    "motion",
    "daylight",
    "temperature",
    "pressure",
    "water",
    "flow",
    "door",
    "smoke",
    "light",
    "time",
    "machine",
)
WATCHERS = ("gfci", "afci")
"""Protections that open on a fault of what is behind them, and not on too much current."""
TRIED = ("hand", "motion", "daylight")
"""What may stand in any position at any time, so that a board is judged in each of them: a switch, a sensor
of who is in the room, and one of day and night. `light` is that of a flame."""
SENSED = ("compressor", "valve", "heater", "motor")
"""What of its board a control may sense, by the kind of load; a motor is that of a fan or of a pump."""
MISSING = "missing"
"""How a kind of load stands that a control may sense, where its board names none for it."""
FLAME = "flame"
"""The state of a burner that stands in its first position while nothing burns."""
LOCKED_OUT = "locked-out"
"""Where a state of a control stands that has given up, and shows it."""
SENSES = ("opens-on-rise", "closes-on-rise", "opens-on-fall", "closes-on-fall", "held-closed", "held-open")
WHERE = ("outdoors",)
SERVES = (
    "water-heating",
    "dishwashing",
    "microwave-cooking",
    "water-pumping",
    "sump-pumping",
    "bathing",
    "vehicle-charging",
    "motor-control",
    "three-wire-cooking-or-drying",
)
"""What a machine or an outlet is for, where the code asks something of just that."""
FILLINGS = ("yoke", "fitting")


class TerminalSpec(NamedTuple):
    """A screw, lug or lead: what belongs on it, and what it takes.

    `screws` counts the screws that are one side, held together by a plate or a tab, and
    `holds` the conductors under one of them; `sizes` is (smallest, largest) as
    written, such as ("14", "10"); `rated` is in C. `flags` may hold `lead` (a
    wire to splice, no screw), `copper` (copper only), `bar` (many screws: each
    join takes one of its own), `spare`, `optional` (works with nothing on it),
    `electrode` (what it belongs to stands in the earth), `push-in` (a hole for a wire beside each screw).
    `carries` is what it carries in a thermostat's wiring; None where that is not said.
    """

    name: str
    role: str
    screw: str | None
    screws: int
    holds: int
    sizes: tuple[str, str] | None
    rated: float | None
    carries: Carried | None
    flags: frozenset[str]
    text: str


class Rating(NamedTuple):
    """A named value that a board may set; the first of `values` is the default.

    With more than one value, a setting must be one of them.
    """

    name: str
    values: tuple[Value, ...]
    text: str


class Contact(NamedTuple):
    """`line -- load when on`, or inner wiring (no condition). Terminals may be a child's: `limit.a`.

    `rated` is what it carries without end, where the part says so; `overload` the current in this heater of
    an overload relay that makes the relay trip in the end, `waits` how long what opens it must last before it
    does. `flags`: hand-reset (once open it stays so until a hand resets it), snap-switch (a wall switch
    of general use, which carries motors only up to a share of its rating), disconnect (what a motor is
    cut off with, which must be rated above it), momentary (closed or open only while a hand presses it),
    dims-lights or slows-fans (it lowers the volts, of lights that are wired in or of a fan), electronic (for
    what is wired in), and one of `SENSES`: what it does as the temperature, the pressure, the level or the
    flow that moves it rises or falls; or that what moves it holds it against its spring, as a shut door does.
    """

    a: str
    b: str
    when: Condition | None
    rated: Value | None
    flags: frozenset[str]
    span: Span
    overload: Value | None = None
    waits: Value | None = None


class StateSpec(NamedTuple):
    """A named state of a control; the first of `values` is where it begins."""

    name: str
    values: tuple[str, ...]


class Transition(NamedTuple):
    """`control goes from purging to warming after 15 s when pressure is closed`.

    `name` is a state of this part, a child that has positions, or empty for
    the part's own positions; no `origins` stands for any other value. It moves
    when it has stood in an origin and the condition has held, both for `after`
    without a break. Of several that fall due at once the first written moves.
    """

    name: str
    origins: tuple[str, ...]
    target: str
    after: Value | None
    when: Condition | None
    span: Span


class LoadSpec(NamedTuple):
    """What draws current; `kind` is one of `KINDS`.

    One on three phases has a third end `c`: it draws between each two of them, and `draws` is what each
    line carries where that is a current. `options` holds values by name: works (low), works-to (high),
    inrush, locked-rotor, power-factor, inrush-power-factor, pulls-in, drops-out, and what a motor's nameplate
    says beside: horsepower, service-factor, rise (of its temperature, in C); times, how many of it there are;
    `flags`: continuous, standby, unswitched, light, pilot (a small light that tells whether something is
    on), winding (of a motor, though its kind is coil), hermetic (a compressor sealed with its motor), spark
    and spark-transformer (an igniter that makes a spark, with electronics or with an ignition transformer),
    constant-impedance, constant-current, constant-power.
    """

    name: str
    kind: str
    a: str
    b: str
    draws: Value
    volts: Value | None
    options: dict[str, Value]
    flags: frozenset[str]
    span: Span
    c: str | None = None


def sensed_as(load: LoadSpec) -> str | None:
    """What a load is to a control that senses it; None for what no control senses.

    What has power all the time, as a crankcase heater, moves nothing.
    """
    if "standby" in load.flags:
        return None
    if load.kind == "motor":
        return "compressor" if "hermetic" in load.flags else "motor"
    return load.kind if load.kind in SENSED else None


class CallEnd(NamedTuple):
    """`cool ends after 20 min when compressor runs`: when a thermostat's room has come to it."""

    call: str
    after: Value | None
    when: Condition | None
    span: Span


class TransformerSpec(NamedTuple):
    """Two windings; `options` may hold capacity (VA) and impedance (fraction of its own base).

    `secondary_volts` are what it gives at its full capacity, as rated output is
    defined by IEC 61558-1; with no load it gives more, by its impedance.
    `flags`: inherently-limited (a short on the secondary cannot burn it).
    """

    primary_volts: Value
    primary: tuple[str, str]
    secondary_volts: Value
    secondary: tuple[str, str]
    options: dict[str, Value]
    flags: frozenset[str]
    span: Span


class ProtectionSpec(NamedTuple):
    """What opens by itself above a current; all `pairs` open together.

    `flags`: fuse, breaker, slow, gfci, afci, supplementary, thermal. With `gfci` or `afci`,
    `options` holds `trips` (amps of difference between the pairs' currents);
    without `breaker` or `fuse` it opens on that difference alone.
    """

    pairs: tuple[tuple[str, str], ...]
    rating: Value
    options: dict[str, Value]
    flags: frozenset[str]
    span: Span


class OutletSpec(NamedTuple):
    """Where a cord is plugged in: hot slot, neutral slot, ground hole.

    `volts` is None for 120 V; a 240 V outlet has its second hot as `neutral`.
    """

    name: str
    hot: str
    neutral: str
    ground: str | None
    rated: Value | None
    span: Span
    volts: Value | None = None


class Child(NamedTuple):
    """A smaller part inside: `limit is limit-switch`.

    A setting whose value is a word takes the value of that rating of the part around it.
    """

    name: str
    part: str
    settings: tuple[Setting, ...]
    span: Span


class Part(NamedTuple):
    """A part as the library gives it.

    `serves` is one of `SERVES`, or nothing. `senses` are those of `SENSED` that may act on it, where a line
    of its board names them, and `ends` how that ends its calls.
    `uses` tells of each rating what its value is used for (`wirecheck.language.ranges`).
    `file` is where it was read, and None for a part that ships; `beside` is whether that file lies beside
    the board, and not in a folder that the instructor named.
    """

    name: str
    title: str
    sources: tuple[str, ...]
    ratings: dict[str, Rating]
    terminals: dict[str, TerminalSpec]
    positions: tuple[str, ...]
    moved_by: str
    safety: bool
    calls: tuple[str, ...]
    states: tuple[StateSpec, ...]
    transitions: tuple[Transition, ...]
    contacts: tuple[Contact, ...]
    loads: tuple[LoadSpec, ...]
    transformers: tuple[TransformerSpec, ...]
    protections: tuple[ProtectionSpec, ...]
    outlets: tuple[OutletSpec, ...]
    fills: dict[str, float]
    children: tuple[Child, ...]
    problems: tuple[Problem, ...]
    outdoors: bool = False
    serves: str = ""
    senses: tuple[str, ...] = ()
    ends: tuple[CallEnd, ...] = ()
    uses: Mapping[str, tuple[str, ...]] = MappingProxyType({})
    file: str | None = None
    beside: bool = False

    def winding_name(self, device: str, position: int) -> str:
        """What one of its transformers is called: by its device alone, where nothing else in it is.

        >>> from wirecheck.assembly import shipped_parts
        >>> shipped_parts().part("class-2-transformer").winding_name("T", 0)
        'T'
        """
        alone = len(self.transformers) == 1 and not self.loads
        return device if alone else f"{device}.winding-{position + 1}"

    def protection_name(self, device: str, position: int) -> str:
        """What one of its protections is called: by its device alone, where nothing else in it is.

        >>> from wirecheck.assembly import shipped_parts
        >>> shipped_parts().part("fuse").protection_name("F", 0)
        'F'
        """
        alone = len(self.protections) == 1 and not (self.loads or self.transformers or self.positions)
        return device if alone else f"{device}.protection-{position + 1}"

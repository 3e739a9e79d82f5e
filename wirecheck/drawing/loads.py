"""The signs of loads, of protection and of transformers, each lying between its two leads.

Both pictures draw a thing by the same sign: the ladder on its rungs, the wiring diagram on the devices.
Loads follow IEEE 315 and, where that leaves it open, JIC ladder diagrams and IEC 60617. All fit within
15 points to either side of their middle.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from itertools import product

from wirecheck.drawing.contacts import REACH, Contacts
from wirecheck.drawing.faces import SIZES, slots_of, two_hots
from wirecheck.drawing.sheet import Point
from wirecheck.parts.part import WATCHERS

APART = 14.5
"""How far from the middle lead of three the others are."""
SMALL = 0.62
"""How large the slots of a receptacle are, beside those of its face."""
ARC = 8.1
"""How high over the wire the arc of a breaker is."""
TALL = {
    "fuse": (6.0, 5.0),
    "breaker": (9.0, 4.0),
    "thermal": (9.0, 9.0),
    "gfci": (7.5, 7.5),
    "afci": (7.5, 7.5),
    "dual": (7.5, 7.5),
    "secondary": (8.0, 8.0),
    "primary": (8.0, 8.0),
    "windings": (8.0, 3.0),
    "heater": (7.0, 7.0),
    "capacitor": (9.5, 9.5),
    "igniter": (7.0, 7.0),
    "electronics": (10.0, 10.0),
    "input": (8.0, 8.0),
    "gap": (0.0, 0.0),
    "valve": (8.0, 15.0),
    "bell": (12.0, 3.0),
    "spark": (8.0, 8.0),
    "spark-transformer": (8.0, 21.0),
    "motor-on-three-phases": (15.0, 15.0),
    "load-on-three-phases": (15.0, 15.0),
}
"""How far each sign reaches over and under the wire; 12.5 points where it is not told."""


SIGN_OF = {
    "light": "lamp",
    "pilot": "lamp",
    "damper": "motor",
    "clock": "motor",
    "spark": "spark",
    "spark-transformer": "spark-transformer",
    "winding": "windings",
}
"""The sign of a load of which its part says this, whatever its kind."""


def load_reach(kind: str) -> tuple[float, float]:
    """How far a sign reaches over and under the wire, in points.

    >>> load_reach("motor"), load_reach("valve")
    ((12.5, 12.5), (8.0, 15.0))
    """
    return TALL.get(kind, (12.5, 12.5))


def load_sign(kind: str, flags: frozenset[str]) -> str:
    """The sign of a load, by its kind and by what its part says of it: what makes a spark does not glow.

    What listens to a signal moves nothing, and is no coil.

    >>> load_sign("igniter", frozenset()), load_sign("igniter", frozenset(["spark"]))
    ('igniter', 'spark')
    >>> load_sign("electronics", frozenset(["light"])), load_sign("coil", frozenset(["senses"]))
    ('lamp', 'input')
    """
    listens = kind == "coil" and "senses" in flags
    return next((SIGN_OF[flag] for flag in sorted(flags & SIGN_OF.keys())), "input" if listens else kind)


def outlet_sign(volts: float, amps: float, grounded: bool, hots: int = 1) -> str:
    """The sign of a receptacle, by its volts, its amperes, its ground, and how many hots its plug has.

    >>> outlet_sign(120, 15, True), outlet_sign(240, 50, False), outlet_sign(240, 30, True, hots=2)
    ('outlet-120-15', 'outlet-240-50-ungrounded', 'outlet-both-30')
    """
    size = next((size for size in SIZES if amps <= size), SIZES[-1])
    kind = "both" if hots > 1 else "240" if volts > 200 else "120"
    return _outlet(kind, size, grounded)


def _outlet(volts: str, size: int, grounded: bool) -> str:
    return f"outlet-{volts}-{size}{'' if grounded else '-ungrounded'}"


OUTLETS = {_outlet(*each): each for each in product(("120", "240", "both"), SIZES, (True, False))}
"""The volts, the amperes and the ground of each sign of a receptacle."""


def protection_sign(flags: frozenset[str]) -> str:
    """The sign of what protects: a fuse, what watches for a fault alone, or a breaker.

    >>> protection_sign(frozenset(["gfci"])), protection_sign(frozenset(["breaker", "gfci"]))
    ('gfci', 'breaker')
    >>> protection_sign(frozenset(["gfci", "afci"]))
    'dual'
    """
    if flags.isdisjoint(("fuse", "breaker")):
        if flags.issuperset(WATCHERS):
            return "dual"
        return next((flag for flag in WATCHERS if flag in flags), "breaker")
    return "fuse" if "fuse" in flags else "breaker"


class Signs(Contacts):
    """Draws what draws current, what protects it and what feeds it, and what opens and closes."""

    def load(self, kind: str) -> None:
        """The sign of a load, of protection or of a transformer's winding, with its leads."""
        if kind in OUTLETS:
            self.outlet(*OUTLETS[kind])
        else:
            SIGNS.get(kind, Signs.breaker)(self)

    def lamp(self) -> None:
        """A lamp: a circle with a cross in it (IEC 60617)."""
        arm = 11 * math.sqrt(0.5)
        self.leads(11)
        self.line((-arm, -arm), (arm, arm))
        self.line((-arm, arm), (arm, -arm))
        self.circle(0, 0, 11)

    def motor(self) -> None:
        """A motor: a circle with an M (IEEE 315)."""
        self.leads(11.5)
        self.circle(0, 0, 11.5)
        self.letter("M")

    def three_phase_motor(self) -> None:
        """A motor on three phases: three leads from one side (IEEE 315, from memory), as on the ladder."""
        self.on_three_phases("M")

    def three_phase_load(self) -> None:
        """What else draws on three phases."""
        self.on_three_phases("3~")

    def on_three_phases(self, letter: str) -> None:
        """A circle, and three leads from one side: over it, to it and under it."""
        for way in (-1, 1):
            self.line((-REACH, way * APART), (0, way * APART), (0, way * 11.5))
        self.line((-REACH, 0), (-11.5, 0))
        self.circle(0, 0, 11.5)
        self.letter(letter)

    def coil(self) -> None:
        """The coil of a relay or contactor: a circle, as JIC ladders have it."""
        self.leads(11)
        self.circle(0, 0, 11)

    def valve(self) -> None:
        """A solenoid over the two triangles of its valve."""
        self.leads(9)
        self.box(9, 7)
        self.line((0, 7), (0, 11.5), pen=1)
        self.line((-8, 8.5), (-8, 14.5), (8, 8.5), (8, 14.5), (-8, 8.5), pen=1)

    def heater(self) -> None:
        """A heating element: the zigzag of a resistor (IEEE 315)."""
        points: list[Point] = [(-12, 0)]
        points += [(-10 + 4 * step, -6.5 if step % 2 == 0 else 6.5) for step in range(6)]
        self.line(*points, (12, 0))
        self.leads(12)

    def spark(self) -> None:
        """What makes a spark with electronics: a box, and in it a gap between two points (IEEE 315)."""
        self.leads(12)
        self.box(12, 7.5)
        self.gap(0)

    def spark_transformer(self) -> None:
        """An ignition transformer: two windings on one core, and a gap between two points on the second."""
        self.winding(1)
        points: list[Point] = [(-12, 10.8)]
        for turn in range(4):
            at = -12 + turn * 6
            points += [(at, 16), (at + 6, 16), (at + 6, 10.8)]
        self.curve(*points)
        self.line((-12, 10.8), (-12, 19))
        self.line((12, 10.8), (12, 19))
        self.gap(19)

    def gap(self, y: float) -> None:
        """Two points that face each other, and lines to them from either side."""
        for side in (-1, 1):
            self.line((side * 12, y), (side * 2, y))
            self.line((side * 5.5, y - 2.6), (side * 2, y), (side * 5.5, y + 2.6))

    def capacitor(self) -> None:
        """A capacitor: a straight plate and a curved one (IEEE 315)."""
        self.leads(3)
        self.line((-3, -9), (-3, 9), pen=1.6)
        self.curve((6, -9), (2, -4), (2, 4), (6, 9), pen=1.6)

    def electronics(self) -> None:
        """A circuit board: a box with a wave in it."""
        self.leads(12)
        self.box(12, 9)
        self.curve((-8, 0), (-5, -7), (-3, -7), (0, 0), (3, 7), (5, 7), (8, 0), pen=1)

    def bell(self) -> None:
        """A bell: a half circle on its leads (IEC 60617)."""
        self.line((-REACH, 0), (-5, 0), (-5, -1.5))
        self.line((REACH, 0), (5, 0), (5, -1.5))
        self.curve((-10, -1.5), (-10, -15), (10, -15), (10, -1.5))
        self.line((-10, -1.5), (10, -1.5))

    def input(self) -> None:
        """An input of a control: a box with an arrow into it."""
        self.leads(10)
        self.box(10, 7)
        self.line((-6, 0), (4, 0), pen=1)
        self.line((0.5, -3.2), (4.5, 0), (0.5, 3.2), pen=1)

    def missing(self) -> None:
        """Where a wire is missing: the two ends that it would join, and nothing between."""
        self.line((-10, 0), (-9, 0))
        self.line((9, 0), (10, 0))

    def outlet(self, volts: str, size: int, grounded: bool) -> None:
        """A receptacle: a circle with its slots as on its face, and the ground's hole under them."""
        self.leads(11.5)
        self.circle(0, 0, 11.5)
        for strip in two_hots(size, grounded) if volts == "both" else slots_of(size, volts == "240"):
            self.line(*((SMALL * x, SMALL * y) for x, y in strip), pen=1.5)
        if grounded:
            self.circle(0, 7.0, 1.4, pen=1)

    def windings(self) -> None:
        """A motor's winding: turns without a core (IEEE 315)."""
        points: list[Point] = [(-12, 0)]
        for turn in range(4):
            at = -12 + turn * 6
            points += [(at, -8), (at + 6, -8), (at + 6, 0)]
        self.curve(*points)
        self.leads(12)

    def primary(self) -> None:
        """The half of a transformer that is fed."""
        self.winding(1)

    def secondary(self) -> None:
        """The half of a transformer that feeds."""
        self.winding(-1)

    def winding(self, side: int) -> None:
        """Half of a transformer: its turns, and the two lines of its core on the other half's side."""
        points: list[Point] = [(-12, 0)]
        for turn in range(4):
            at = -12 + turn * 6
            points += [(at, -side * 8), (at + 6, -side * 8), (at + 6, 0)]
        self.curve(*points)
        self.leads(12)
        for away in (4.0, 6.8):
            self.line((-12, side * away), (12, side * away), pen=1)

    def fuse(self) -> None:
        """A fuse: a box with the conductor through it (IEEE 315, IEC 60617)."""
        self.box(11, 4.5)
        self.line((-REACH, 0), (REACH, 0))

    def breaker(self) -> None:
        """A circuit breaker: an arc over two terminals (IEEE 315)."""
        self.leads(9)
        self.curve((-10, -2.5), (-6, -10), (6, -10), (10, -2.5), pen=1.6)
        self.dot(-9, 0)
        self.dot(9, 0)

    def thermal(self) -> None:
        """A thermal protector: two hooks back to back (IEEE 315)."""
        self.leads(10)
        self.curve((-10, 0), (-10, -9), (0, -9), (0, 0), pen=1.6)
        self.curve((0, 0), (0, 9), (10, 9), (10, 0), pen=1.6)

    def gfci(self) -> None:
        """What opens on a ground fault."""
        self.box(11, 7)
        self.leads(11)
        self.letter("GF")

    def afci(self) -> None:
        """What opens on an arc."""
        self.box(11, 7)
        self.leads(11)
        self.letter("AF")

    def dual(self) -> None:
        """What opens on a ground fault and on an arc: of dual function, as the trade calls it."""
        self.box(11, 7)
        self.leads(11)
        self.letter("DF")


SIGNS: Mapping[str, Callable[[Signs], None]] = {
    "lamp": Signs.lamp,
    "motor": Signs.motor,
    "motor-on-three-phases": Signs.three_phase_motor,
    "load-on-three-phases": Signs.three_phase_load,
    "coil": Signs.coil,
    "valve": Signs.valve,
    "heater": Signs.heater,
    "capacitor": Signs.capacitor,
    "igniter": Signs.heater,
    "spark": Signs.spark,
    "spark-transformer": Signs.spark_transformer,
    "electronics": Signs.electronics,
    "bell": Signs.bell,
    "input": Signs.input,
    "gap": Signs.missing,
    "windings": Signs.windings,
    "primary": Signs.primary,
    "secondary": Signs.secondary,
    "fuse": Signs.fuse,
    "breaker": Signs.breaker,
    "thermal": Signs.thermal,
    "gfci": Signs.gfci,
    "afci": Signs.afci,
    "dual": Signs.dual,
}
"""How each kind of sign is drawn; a protection of any other kind is a breaker."""

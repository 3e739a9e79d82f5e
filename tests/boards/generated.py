"""Right boards made at random: rooms wired in every legal arrangement, as text in the board language.

`right_board(pick)` asks `pick(n)` for a number below n whenever there is a choice; 0 is always the plainest
one. `seeded(n)` takes the numbers from a seed, `boards()` from hypothesis, which can then shrink a board.

Every wire and screw is put on a net (the hot ahead of the switch, a traveler, a switched leg); what meets in
a box on one net is joined there as the trade does it, with a tail to each screw. So a board is right by how
it is made: whoever reads `ARRANGEMENTS` can compare them with a textbook's figures.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from random import Random

from hypothesis import strategies as st

Pick = Callable[[int], int]

# NEC 2023 Table 314.16(B)(1), from memory, as in the shop's handbook: cu in a conductor.
ROOM = {"14": 2.0, "12": 2.25, "10": 2.5, "8": 3.0, "6": 5.0}
COLORS = {2: ("black", "white"), 3: ("black", "red", "white")}
TALL = {"range-receptacle": 2, "dryer-receptacle": 2, "vehicle-receptacle": 2}
NO_YOKE = {
    *("lampholder", "luminaire", "ceiling-fan", "bath-fan", "smoke-alarm", "baseboard-heater", "photocell"),
    *("disposal", "dishwasher", "microwave", "whole-house-fan", "water-heater"),
}
NO_GROUND = {"smoke-alarm", "photocell"}
# What lives on a neutral of its own.
ON_NEUTRAL = {"occupancy-sensor", "digital-timer", "pilot-light-switch"}


@dataclass
class Place:
    name: str
    kind: str = "device"
    gangs: int = 1
    metal: bool = False
    clamps: bool = False


@dataclass
class Run:
    name: str
    size: str
    count: int
    places: tuple[str, str]
    nets: dict[str, str]
    feet: int
    kind: str = "NM-B"


@dataclass
class Fitting:
    name: str
    part: str
    settings: str
    place: str
    nets: dict[str, str]


@dataclass
class Circuit:
    """What is known while a circuit is built: its size, rating and letters for its names."""

    amps: int
    size: str
    hot: str
    neutral: str


@dataclass
class Builder:
    pick: Pick
    places: dict[str, Place] = field(default_factory=dict)
    runs: list[Run] = field(default_factory=list)
    fittings: list[Fitting] = field(default_factory=list)
    breakers: list[str] = field(default_factory=list)
    poles: dict[str, str] = field(default_factory=dict)
    expects: list[str] = field(default_factory=list)
    hot_nets: set[str] = field(default_factory=set)
    row: int = 0
    nets: int = 0

    def one_of(self, *things: str) -> str:
        return things[self.pick(len(things))]

    def net(self, word: str) -> str:
        """A new net; a neutral is a white's own, everything else is a hot."""
        self.nets += 1
        name = f"{word}-{self.nets}"
        if word != "neutral":
            self.hot_nets.add(name)
        return name

    def place(self, kind: str = "device", gangs: int = 1) -> str:
        name = f"B{len(self.places) + 1}"
        metal = kind != "octagon" and self.pick(6) == 5
        clamps = metal or (kind == "octagon" and self.pick(2) == 1)
        self.places[name] = Place(name, kind, gangs, metal, clamps)
        return name

    def own_place(self, word: str) -> str:
        """A device in a box of its own, which the wires come into: its name, and that of the place."""
        name = f"{word}{1 + sum(one.name.startswith(word) for one in self.fittings)}"
        self.places[name] = Place(name, "own")
        return name

    def run(self, size: str, one: str, other: str, **nets: str) -> None:
        """A cable with its conductors' nets by color; a color without a net is a spare."""
        count = 3 if "red" in nets else 2
        length = 4 + self.pick(18)
        self.runs.append(Run(f"W{len(self.runs) + 1}", size, count, (one, other), nets, length))

    def device(self, word: str, part: str, settings: str, place: str, **nets: str) -> str:
        name = f"{word}{1 + sum(one.name.startswith(word) for one in self.fittings)}"
        named = {terminal.replace("_", "-"): net for terminal, net in nets.items()}
        self.fittings.append(Fitting(name, part, settings, place, named))
        return name

    def breaker(self, amps: int, options: str = "") -> list[str]:
        """A breaker in the next free row of the panel, or rows; returns its terminals."""
        name = f"LP.{2 * self.row + 1}"
        poles = [f"{name}.a", f"{name}.b"] if "2-pole" in options else [name]
        self.row += len(poles)
        self.breakers.append(f"breaker {name} {amps} A{options}")
        return poles

    def circuit(self, amps: int | None = None, options: str = "") -> Circuit:
        """A new branch circuit of 120 V, its wire no smaller than its breaker asks for."""
        amps = amps or (15, 20)[self.pick(2)]
        size = "12" if amps == 20 or self.pick(3) == 2 else "14"
        pole = self.breaker(amps, options)[0]
        circuit = Circuit(amps, size, self.net("hot"), self.net("neutral"))
        self.poles[pole] = circuit.hot
        if "gfci" in options or "afci" in options:
            self.poles[f"{pole}.neutral"] = circuit.neutral
        return circuit

    def feed(self, circuit: Circuit, place: str, source: str = "LP") -> None:
        self.run(circuit.size, source, place, black=circuit.hot, white=circuit.neutral)

    def lamp(self, circuit: Circuit, place: str, hot: str, beside: int = 0) -> str:
        part = self.one_of("lampholder", "luminaire")
        watts = ("60 W", "100 W", "40 W") if part == "lampholder" else ("14 W", "9 W")
        settings = self.one_of(*watts)
        return self.device("L", part, settings, place, hot=hot, neutral=circuit.neutral)

    def more_lamps(self, circuit: Circuit, place: str, hot: str) -> list[str]:
        """Up to two more lights on the same switched leg, each fed from the one before."""
        names = []
        for _ in range(self.pick(3)):
            nearest = self.place("octagon")
            self.run(circuit.size, place, nearest, black=hot, white=circuit.neutral)
            names.append(self.lamp(circuit, nearest, hot))
            place = nearest
        return names

    def light_expected(self, lights: list[str], switches: list[str]) -> None:
        self.expects += [f"expect {light} from {', '.join(switches)}" for light in lights]


# ---------------------------------------------------------------- lights


def single_pole_feed_at_switch(b: Builder) -> None:
    """Feed to the switch, switched leg and neutral on to the light; perhaps a receptacle ahead of it."""
    c = b.circuit()
    at, light, leg = b.place(), b.place("octagon"), b.net("switched")
    b.feed(c, at)
    b.run(c.size, at, light, black=leg, white=c.neutral)
    switch = _control(b, c, at, leg, "single-pole-switch", "timer-switch", "dimmer", *sorted(ON_NEUTRAL))
    lights = [b.lamp(c, light, leg), *b.more_lamps(c, light, leg)]
    b.light_expected(lights, [switch])
    string(b, c, at, b.pick(3))


def _control(b: Builder, c: Circuit, at: str, leg: str, *parts: str) -> str:
    """One of some controls of a load from one place, in its hot."""
    part = b.one_of(*parts)
    nets = {"line": c.hot, "load": leg} | ({"neutral": c.neutral} if part in ON_NEUTRAL else {})
    return b.device("S", part, "", at, **nets)


def single_pole_feed_at_light(b: Builder) -> None:
    """Feed to the light, a loop down to the switch: its marked white is the feed, its black comes back."""
    c = b.circuit()
    light, at, leg = b.place("octagon"), b.place(), b.net("switched")
    b.feed(c, light)
    if b.pick(2):
        # With a neutral for what may come: 404.2(C).
        b.run(c.size, light, at, black=c.hot, red=leg, white=c.neutral)
    else:
        b.run(c.size, light, at, white=c.hot, black=leg)
    switch = _control(b, c, at, leg, "single-pole-switch", "dimmer", "occupancy-sensor-no-neutral")
    b.light_expected([b.lamp(c, light, leg), *b.more_lamps(c, light, leg)], [switch])


def two_switches_two_lights(b: Builder) -> None:
    """Two switches in a box of two gangs, each with a light of its own."""
    c = b.circuit()
    at = b.place("device", 2)
    b.feed(c, at)
    for _ in range(2):
        light, leg = b.place("octagon"), b.net("switched")
        b.run(c.size, at, light, black=leg, white=c.neutral)
        switch = b.device("S", "single-pole-switch", "", at, line=c.hot, load=leg)
        b.light_expected([b.lamp(c, light, leg), *b.more_lamps(c, light, leg)], [switch])


def _switch(b: Builder, at: str, common: str, pair: tuple[str, str]) -> str:
    """A three-way switch; which traveler is on which of its two screws does not matter."""
    one, other = pair if b.pick(2) == 0 else pair[::-1]
    return b.device("S", "3-way-switch", "", at, common=common, traveler_1=one, traveler_2=other)


def _four_way(b: Builder, at: str, pair: tuple[str, str], onward: tuple[str, str]) -> str:
    one, other = (pair, onward) if b.pick(2) == 0 else (onward, pair)
    one = one if b.pick(2) == 0 else one[::-1]
    other = other if b.pick(2) == 0 else other[::-1]
    return b.device("S", "4-way-switch", "", at, in_1=one[0], in_2=one[1], out_1=other[0], out_2=other[1])


def _pair(b: Builder) -> tuple[str, str]:
    return b.net("traveler"), b.net("traveler")


def three_way_in_line(b: Builder) -> None:
    """Feed, switch, switch (any four-ways between), light: the neutral goes along in each cable."""
    c = b.circuit()
    at, pair, leg = b.place(), _pair(b), b.net("switched")
    b.feed(c, at)
    switches = [_switch(b, at, c.hot, pair)]
    for _ in range(b.pick(3)):
        middle, onward = b.place(), _pair(b)
        b.run(c.size, at, middle, black=pair[0], red=pair[1], white=c.neutral)
        switches.append(_four_way(b, middle, pair, onward))
        at, pair = middle, onward
    last, light = b.place(), b.place("octagon")
    b.run(c.size, at, last, black=pair[0], red=pair[1], white=c.neutral)
    switches.append(_switch(b, last, leg, pair))
    b.run(c.size, last, light, black=leg, white=c.neutral)
    b.light_expected([b.lamp(c, light, leg), *b.more_lamps(c, light, leg)], switches)


def _dead_end(b: Builder, c: Circuit, at: str, pair: tuple[str, str], leg: str) -> list[str]:
    """From the first switch on: two travelers out, the marked white one of them, and black coming back."""
    switches = []
    for _ in range(b.pick(3)):
        middle, onward = b.place(), _pair(b)
        b.run(c.size, at, middle, white=pair[0], red=pair[1], black=leg)
        switches.append(_four_way(b, middle, pair, onward))
        at, pair = middle, onward
    last = b.place()
    b.run(c.size, at, last, white=pair[0], red=pair[1], black=leg)
    switches.append(_switch(b, last, leg, pair))
    return switches


def three_way_dead_end(b: Builder) -> None:
    """Feed and light at the first switch; the second is a dead end."""
    c = b.circuit()
    at, light, pair, leg = b.place("device"), b.place("octagon"), _pair(b), b.net("switched")
    b.feed(c, at)
    b.run(c.size, at, light, black=leg, white=c.neutral)
    switches = [_switch(b, at, c.hot, pair), *_dead_end(b, c, at, pair, leg)]
    b.light_expected([b.lamp(c, light, leg), *b.more_lamps(c, light, leg)], switches)


def three_way_feed_at_light(b: Builder) -> None:
    """Feed at the light, a two-wire loop to the first switch (white marked, the feed), on as a dead end."""
    c = b.circuit()
    light, at, pair, leg = b.place("octagon"), b.place(), _pair(b), b.net("switched")
    b.feed(c, light)
    b.run(c.size, light, at, white=c.hot, black=leg)
    switches = [_switch(b, at, c.hot, pair), *_dead_end(b, c, at, pair, leg)]
    b.light_expected([b.lamp(c, light, leg), *b.more_lamps(c, light, leg)], switches)


def three_way_light_between(b: Builder) -> None:
    """The light between the switches; the feed at the first switch, or at the light."""
    c = b.circuit()
    first, light, last = b.place(), b.place("octagon"), b.place()
    pair, leg = _pair(b), b.net("switched")
    if b.pick(2):
        b.feed(c, light)
        b.run(c.size, light, first, white=c.hot, black=pair[0], red=pair[1])
    else:
        b.feed(c, first)
        b.run(c.size, first, light, white=c.neutral, black=pair[0], red=pair[1])
    b.run(c.size, light, last, white=pair[0], red=pair[1], black=leg)
    switches = [_switch(b, first, c.hot, pair), _switch(b, last, leg, pair)]
    b.light_expected([b.lamp(c, light, leg), *b.more_lamps(c, light, leg)], switches)


def fan_and_light(b: Builder) -> None:
    """A ceiling fan and its light on two switches: three wires up, red to the light."""
    c = b.circuit()
    at, fan = b.place("device", 2), b.place("octagon")
    turning, shining = b.net("switched"), b.net("switched")
    b.feed(c, at)
    b.run(c.size, at, fan, black=turning, red=shining, white=c.neutral)
    one = _control(b, c, at, turning, "single-pole-switch", "fan-control")
    other = _control(b, c, at, shining, "single-pole-switch", "dimmer")
    name = b.device("CF", "ceiling-fan", "", fan, fan_hot=turning, light_hot=shining, neutral=c.neutral)
    b.expects += [f"expect {name}.motor from {one}", f"expect {name}.light from {other}"]


def bath(b: Builder) -> None:
    """A bathroom: a ground-fault receptacle, and ahead of it a switched light and a fan."""
    c = b.circuit(20)
    at, light, fan = b.place("device", 3), b.place("octagon"), b.place("octagon")
    lit, blown = b.net("switched"), b.net("switched")
    b.feed(c, at)
    b.run(c.size, at, light, black=lit, white=c.neutral)
    b.run(c.size, at, fan, black=blown, white=c.neutral)
    one = b.device("S", "single-pole-switch", "", at, line=c.hot, load=lit)
    other = b.device("S", "single-pole-switch", "", at, line=c.hot, load=blown)
    outlet = b.device("G", "gfci-receptacle", "with current 15 A", at, line_hot=c.hot, line_neutral=c.neutral)
    b.light_expected([b.lamp(c, light, lit)], [one])
    name = b.device("BF", "bath-fan", "", fan, hot=blown, neutral=c.neutral)
    b.expects += [f"expect {name} from {other}", f"expect {outlet} live"]


def porch_light(b: Builder) -> None:
    """A light that a photocell in its own box turns on, and receptacles on the way."""
    c = b.circuit()
    at, leg = b.place("octagon"), b.net("switched")
    b.feed(c, at)
    eye = b.device("PC", "photocell", "", at, line=c.hot, neutral=c.neutral, load=leg)
    b.light_expected([b.lamp(c, at, leg), *b.more_lamps(c, at, leg)], [eye])
    string(b, c, at, b.pick(2))


def attic_fan(b: Builder) -> None:
    """A whole-house fan on a timer that a hand winds, or one with buttons."""
    c = b.circuit(20, " lockable")
    at, fan, leg = b.place(), b.place("junction"), b.net("switched")
    b.feed(c, at)
    b.run(c.size, at, fan, black=leg, white=c.neutral)
    switch = _control(b, c, at, leg, "timer-switch", "single-pole-switch", "digital-timer")
    name = b.device("HF", "whole-house-fan", "", fan, hot=leg, neutral=c.neutral)
    b.expects.append(f"expect {name}.motor from {switch}")


# ------------------------------------------------------------ receptacles


def string(b: Builder, c: Circuit, at: str, count: int, neutral: str | None = None) -> None:
    """Receptacles one after the other, each on tails so that it can be taken out."""
    hot, neutral = c.hot, neutral or c.neutral
    for _ in range(count):
        box = b.place()
        b.run(c.size, at, box, black=hot, white=neutral)
        rating = "20 A" if c.amps == 20 and b.pick(2) else "15 A"
        name = b.device("R", "duplex-receptacle", rating, box, hot=hot, neutral=neutral)
        b.expects.append(f"expect {name} live")
        at = box


def receptacles(b: Builder) -> None:
    """A string of duplex receptacles; one alone may be of 15 A on 20 A, since a duplex is two."""
    string(b, b.circuit(), "LP", 1 + b.pick(4))


def half_switched(b: Builder) -> None:
    """A split receptacle with its top half on a switch, and others beyond it that are always live."""
    c = b.circuit()
    at, wall, leg = b.place(), b.place(), b.net("switched")
    b.feed(c, at)
    b.run(c.size, at, wall, black=c.hot, red=leg, white=c.neutral)
    # What is plugged in may draw all that the breaker gives: 404.14(F).
    switch = b.device("S", "single-pole-switch", f"{c.amps} A", at, line=c.hot, load=leg)
    name = b.device("R", "split-receptacle", "15 A", wall, hot_top=leg, hot_bottom=c.hot, neutral=c.neutral)
    b.expects += [f"expect {name}.top from {switch}", f"expect {name}.bottom live"]
    string(b, c, wall, b.pick(3))


def switch_over_receptacle(b: Builder) -> None:
    """A switch over a receptacle on one yoke, its tab in place or broken out; others beyond it."""
    c = b.circuit()
    at, light, leg = b.place(), b.place("octagon"), b.net("switched")
    b.feed(c, at)
    b.run(c.size, at, light, black=leg, white=c.neutral)
    nets = {"hot": c.hot, "load": leg, "neutral": c.neutral}
    part = b.one_of("switch-and-receptacle", "split-switch-and-receptacle")
    name = b.device("SR", part, "", at, **nets | ({"line": c.hot} if part.startswith("split") else {}))
    b.expects.append(f"expect {name}.face live")
    b.light_expected([b.lamp(c, light, leg), *b.more_lamps(c, light, leg)], [name])
    string(b, c, at, b.pick(3))


def guarded_by_breaker(b: Builder) -> None:
    """Receptacles behind a breaker that guards against shock, arcs or both: the white on its own screw."""
    string(b, b.circuit(options=b.one_of(" gfci", " afci", " afci gfci")), "LP", 1 + b.pick(3))


def kitchen(b: Builder) -> None:
    """A disposal on its switch, a dishwasher behind a device without slots, or a microwave on its breaker."""
    which = b.pick(3)
    if which == 0:
        c, leg = b.circuit(20), b.net("switched")
        at, sink = b.place(), b.place("junction")
        b.feed(c, at)
        b.run(c.size, at, sink, black=leg, white=c.neutral)
        switch = b.device("S", "single-pole-switch", "20 A", at, line=c.hot, load=leg)
        name = b.device("DP", "disposal", "", sink, hot=leg, neutral=c.neutral)
        b.expects.append(f"expect {name}.motor from {switch}")
    elif which == 1:
        c = b.circuit(15, " lockable")
        at, below, hot, neutral = b.place(), b.place("junction"), b.net("protected"), b.net("neutral")
        b.feed(c, at)
        nets = {"line_hot": c.hot, "line_neutral": c.neutral, "load_hot": hot, "load_neutral": neutral}
        b.device("G", "gfci-blank", "", at, **nets)
        b.run(c.size, at, below, black=hot, white=neutral)
        name = b.device("DW", "dishwasher", "", below, hot=hot, neutral=neutral)
        b.expects += [f"expect {name}.motor live", f"expect {name}.element live"]
    else:
        c = b.circuit(20, " gfci")
        oven = b.place("junction")
        b.feed(c, oven)
        name = b.device("MW", "microwave", "", oven, hot=c.hot, neutral=c.neutral)
        b.expects.append(f"expect {name}.oven live")


def ground_fault_string(b: Builder) -> None:
    """A ground-fault receptacle first; what follows hangs on its load screws, with a neutral of its own."""
    c = b.circuit()
    first = b.place()
    b.feed(c, first)
    rating = "15 A" if c.amps == 15 else b.one_of("15 A", "20 A")
    nets = {"line_hot": c.hot, "line_neutral": c.neutral}
    beyond = b.pick(4)
    if beyond:
        nets |= {"load_hot": b.net("protected"), "load_neutral": b.net("neutral")}
    parts = ["gfci-receptacle", "afci-gfci-receptacle", "afci-receptacle", *["gfci-blank"] * bool(beyond)]
    part = b.one_of(*parts)
    settings = f"with current {rating}" if part != "gfci-blank" else ""
    name = b.device("G", part, settings, first, **nets)
    if part != "gfci-blank":
        b.expects.append(f"expect {name} live")
    if beyond:
        protected = Circuit(c.amps, c.size, nets["load_hot"], nets["load_neutral"])
        string(b, protected, first, beyond)


def multiwire(b: Builder) -> None:
    """Two hots of different legs with one neutral, opened together; receptacles on one and the other."""
    amps = (15, 20)[b.pick(2)]
    size = "12" if amps == 20 else "14"
    if b.pick(2):
        poles = b.breaker(amps, " 2-pole")
    else:
        poles = b.breaker(amps)
        poles += b.breaker(amps, f" tied to {poles[0]}")
    one, other, neutral = b.net("hot"), b.net("hot"), b.net("neutral")
    b.poles |= {poles[0]: one, poles[1]: other}
    at = "LP"
    for index in range(2 + b.pick(3)):
        box = b.place()
        b.run(size, at, box, black=one, red=other, white=neutral)
        if index == 1 and b.pick(2):
            nets = {"hot_top": one, "hot_bottom": other, "neutral": neutral}
            name = b.device("R", "split-receptacle", f"{amps} A", box, **nets)
        else:
            hot = (one, other)[index % 2]
            name = b.device("R", "duplex-receptacle", f"{amps} A", box, hot=hot, neutral=neutral)
        b.expects.append(f"expect {name} live")
        at = box


def smoke_alarms(b: Builder) -> None:
    """Alarms that sound together: the red of each three-wire cable ties their interconnect leads."""
    c = b.circuit(15)
    at, signal = b.place("octagon"), b.net("signal")
    b.feed(c, at)
    nets = {"hot": c.hot, "neutral": c.neutral, "interconnect": signal}
    names = [b.device("A", "smoke-alarm", "", at, **nets)]
    for _ in range(1 + b.pick(4)):
        box = b.place("octagon")
        b.run(c.size, at, box, black=c.hot, white=c.neutral, red=signal)
        names.append(b.device("A", "smoke-alarm", "", box, **nets))
        at = box
    b.expects += [f"expect {name} live" for name in names]


# ------------------------------------------------------------------ 240 V


def _two_pole(b: Builder, amps: int, options: str = "") -> tuple[str, str]:
    poles = b.breaker(amps, f" 2-pole{options}")
    one, other = b.net("hot"), b.net("hot")
    b.poles |= {poles[0]: one, poles[1]: other}
    return one, other


def heater(b: Builder) -> None:
    """A 240 V heater behind a two-pole switch: the cable's white is marked at every end."""
    watts, amps, size = ((1500, 15, "14"), (2000, 15, "12"), (3500, 20, "12"))[b.pick(3)]
    one, other = _two_pole(b, amps)
    at, wall, first, second = b.place(), b.place("junction"), b.net("switched"), b.net("switched")
    b.run(size, "LP", at, black=one, white=other)
    b.run(size, at, wall, black=first, white=second)
    nets = {"line_1": one, "line_2": other, "load_1": first, "load_2": second}
    switch = b.device("S", "double-pole-switch", "", at, **nets)
    name = b.device("H", "baseboard-heater", f"{watts} W 240 V", wall, L1=first, L2=second)
    b.expects.append(f"expect {name}.element from {switch}")


def appliance(b: Builder) -> None:
    """A range, a dryer or a 240 V receptacle, alone on its circuit."""
    part, amps, size = (
        ("single-receptacle-240", 20, "12"),
        ("dryer-receptacle", 30, "10"),
        ("range-receptacle", 40, "8"),
        ("range-receptacle", 50, "6"),
        ("vehicle-receptacle", 50, "6"),
    )[b.pick(5)]
    guarded = part == "vehicle-receptacle"
    one, other = _two_pole(b, amps, " gfci" if guarded else "")
    box = b.place("square" if part != "single-receptacle-240" else "device")
    if part == "single-receptacle-240":
        b.run(size, "LP", box, black=one, white=other)
        name = b.device("R", part, "20 A", box, hot_1=one, hot_2=other)
    else:
        neutral = b.net("neutral")
        if guarded:
            b.poles[f"{b.breakers[-1].split()[1]}.neutral"] = neutral
        b.run(size, "LP", box, black=one, red=other, white=neutral)
        name = b.device("R", part, "", box, hot_1=one, hot_2=other, neutral=neutral)
    b.expects.append(f"expect {name} live")


def water_heater(b: Builder) -> None:
    """A water heater on a time clock or a disconnect, which opens both of its hots."""
    one, other = _two_pole(b, 30, " lockable")
    first, second = b.net("switched"), b.net("switched")
    part = b.one_of("time-clock", "disconnect-2-pole")
    word = "TC" if part == "time-clock" else "D"
    at = b.own_place(word)
    nets = {"line_1": one, "line_2": other, "load_1": first, "load_2": second}
    switch = b.device(word, part, "", at, **nets)
    tank = b.place("junction")
    b.run("10", "LP", at, black=one, white=other)
    b.run("10", at, tank, black=first, white=second)
    name = b.device("WH", "water-heater", "4500 W", tank, L1=first, L2=second)
    b.expects.append(f"expect {name}.upper from {switch}" if word == "TC" else f"expect {name}.upper live")


def well_pump(b: Builder) -> None:
    """A well's pump on its pressure switch, behind a ground-fault breaker; the cable to it may be wet."""
    one, other = _two_pole(b, 15, " gfci lockable")
    first, second = b.net("switched"), b.net("switched")
    at = b.own_place("PS")
    nets = {"line_1": one, "line_2": other, "load_1": first, "load_2": second}
    b.device("PS", "pump-pressure-switch", "", at, **nets)
    pump = b.own_place("WP")
    b.device("WP", "well-pump", "", pump, L1=first, L2=second)
    b.run("12", "LP", at, black=one, white=other)
    b.run("12", at, pump, black=first, white=second)
    b.runs[-1].kind = "UF-B"


ARRANGEMENTS = (
    single_pole_feed_at_switch,
    single_pole_feed_at_light,
    two_switches_two_lights,
    three_way_in_line,
    three_way_dead_end,
    three_way_feed_at_light,
    three_way_light_between,
    receptacles,
    half_switched,
    ground_fault_string,
    multiwire,
    fan_and_light,
    bath,
    smoke_alarms,
    heater,
    appliance,
    porch_light,
    attic_fan,
    switch_over_receptacle,
    guarded_by_breaker,
    kitchen,
    water_heater,
    well_pump,
)

# --------------------------------------------------------------- make-up


def right_board(pick: Pick, most: int = 3) -> str:
    """A board of one to `most` circuits, right in every way."""
    builder = Builder(pick)
    names = []
    for _ in range(1 + pick(most)):
        arrangement = ARRANGEMENTS[pick(len(ARRANGEMENTS))]
        if arrangement is smoke_alarms and "smoke alarms" in names:
            # All alarms of a dwelling sound together: one string of them is enough.
            arrangement = receptacles
        names.append(arrangement.__name__.replace("_", " "))
        arrangement(builder)
    return _written(builder, "; ".join(names))


def arranged(index: int, pick: Pick) -> str:
    """A board of one arrangement alone."""
    builder = Builder(pick)
    ARRANGEMENTS[index](builder)
    return _written(builder, ARRANGEMENTS[index].__name__.replace("_", " "))


def seeded(seed: int, most: int = 3) -> str:
    """The right board of a number."""
    return right_board(Random(seed).randrange, most)


@st.composite
def boards(draw: st.DrawFn, most: int = 3) -> str:
    """Right boards for hypothesis."""
    return right_board(lambda n: draw(st.integers(0, n - 1)), most)


def _written(b: Builder, title: str) -> str:
    lines = [f'board "{title[0].upper()}{title[1:]}"', "code nec 2023", "panel LP 120/240 V, 10 kA available"]
    lines += b.breakers
    lines += [_box(b, place) for place in b.places.values() if place.kind != "own"]
    lines += [_cable(b, run) for run in b.runs]
    for one in b.fittings:
        where = f"in {one.place}" if one.place != one.name else ""
        lines.append(" ".join(f"{one.name} is {one.part} {one.settings} {where}".split()))
    lines += ["at LP", *_panel_joins(b)]
    for place in b.places.values():
        lines += [f"at {place.name}", *_joins(b, place)]
    return "\n".join([*lines, *b.expects]) + "\n"


def _volume_needed(b: Builder, place: Place) -> float:
    """314.16(B) by hand: wires, all grounds as one up to four, clamps as one, devices as two a gang."""
    runs = [run for run in b.runs if place.name in run.places]
    need = sum(ROOM[run.size] * run.count for run in runs)
    largest = max(ROOM[run.size] for run in runs)
    need += largest * (1 + max(0, len(runs) - 4) / 4)
    need += largest if place.clamps else 0
    for one in b.fittings:
        if one.place == place.name and one.part not in NO_YOKE:
            # Every size in a box of a circuit is the same here, so the device's is too.
            need += 2 * largest * TALL.get(one.part, 1)
    return need


def _box(b: Builder, place: Place) -> str:
    volume = math.ceil(_volume_needed(b, place) * 4) / 4 + b.pick(5)
    flags = [f"{place.gangs}-gang"] if place.gangs > 1 else []
    flags += ["metal"] if place.metal else []
    flags += ["clamps"] if place.clamps else []
    return " ".join([f"box {place.name} {place.kind} {volume:g} cu in", *flags])


def _cable(b: Builder, run: Run) -> str:
    ends = []
    for name in run.places:
        place = b.places.get(name)
        measures = {"free": 6 + b.pick(6), "jacket": "1/4" if b.pick(2) else "1/2"}
        strict = place is not None and place.kind == "device" and place.gangs == 1 and not place.clamps
        measures["secured"] = 8 - b.pick(4) if strict else 12 - b.pick(6)
        measures["every"] = 54 - b.pick(12)
        kept = [f"{word} {value} in" for word, value in measures.items() if b.pick(3) < 2]
        ends.append(f"{name} ({', '.join(kept)})" if kept else name)
    return f"cable {run.name} {run.size}/{run.count} {run.kind} {run.feet} ft from {ends[0]} to {ends[1]}"


def _marked(b: Builder, run: Run, color: str) -> str:
    """A conductor's name, its white marked where its net is a hot."""
    mark = " marked black" if color == "white" and run.nets[color] in b.hot_nets else ""
    return f"{run.name}.{color}{mark}"


def _panel_joins(b: Builder) -> list[str]:
    lines = []
    pole_of = {net: pole for pole, net in b.poles.items()}
    for run in b.runs:
        if "LP" in run.places:
            for color in (*COLORS[run.count], "bare"):
                if color == "bare":
                    lines.append(f"  {run.name}.bare -- LP.ground")
                elif color in run.nets:
                    screw = pole_of.get(run.nets[color], "LP.neutral")
                    lines.append(f"  {_marked(b, run, color)} -- {screw}")
    return lines


def _joins(b: Builder, place: Place) -> list[str]:
    nets: dict[str, tuple[list[str], list[str]]] = {}
    spares = []
    for run in b.runs:
        if place.name not in run.places:
            continue
        for color in COLORS[run.count]:
            if color in run.nets:
                nets.setdefault(run.nets[color], ([], []))[0].append(_marked(b, run, color))
            else:
                spares.append(f"{run.name}.{color}")
        nets.setdefault("ground", ([], []))[0].append(f"{run.name}.bare")
    for one in b.fittings:
        if one.place == place.name:
            for terminal, net in one.nets.items():
                nets.setdefault(net, ([], []))[1].append(f"{one.name}.{terminal}")
            if one.part not in NO_GROUND:
                nets["ground"][1].append(f"{one.name}.ground")
    if place.metal:
        nets["ground"][1].append(f"{place.name}.ground")
    lines = []
    for ends, screws in nets.values():
        if len(ends) == 1 and not screws:
            spares.append(ends[0])
        elif not ends:
            lines.append("  " + " -- ".join(screws))
        elif len(ends) == 1 and len(screws) == 1:
            lines.append(f"  {ends[0]} -- {screws[0]}")
        else:
            lines.append("  " + " -- ".join(ends) + "".join(f" -- pigtail -- {screw}" for screw in screws))
    return lines + [f"  cap {spare}" for spare in spares]

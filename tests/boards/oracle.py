"""What is wrong with a board, judged by other means than the rules': an oracle for the mutants.

It shares no code with `wirecheck.model`, `wirecheck.circuit` or `wirecheck.rules`: it reads `Work` (made by
the language's reader alone), has its own table of what the screws of each device are and what its switch
joins, stands the switches in every combination, finds what is one piece of copper with scipy, and solves for
the volts with numpy. Limits are those of the NEC's tables and of a shop's handbook, from memory.

`judge` returns `Verdict`: `hazards` (it can shock or burn, or is against the code or good work) and `faults`
(it does not do what is expected of it). With neither, it works as well as before and is legal.
"""

from __future__ import annotations

import itertools
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

import networkx
import numpy
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from tests.boards.work import Box, Cable, Device, Join, Work

NEUTRAL_MARKS = {"white", "gray", "grey"}
GROUND_COLORS = {"bare", "green"}
# The bare wire around the two others of a service-entrance cable.
BARE_NEUTRAL = "bare neutral"
# Copper with NM insulation: the largest breaker (240.4(D), 310.16 at 60 C, 240.4(B)).
LARGEST = {"18": 7.0, "16": 10.0, "14": 15.0, "12": 20.0, "10": 30.0, "8": 40.0, "6": 60.0}
LARGEST_ALUMINUM = {"14": 0.0, "12": 15.0, "10": 25.0, "8": 35.0, "6": 40.0, "4": 60.0}
# Table 314.16(B)(1), cu in a conductor; 3 x 2 and octagon trade sizes of 314.16(A).
ROOM = {"18": 1.5, "16": 1.75, "14": 2.0, "12": 2.25, "10": 2.5, "8": 3.0, "6": 5.0}
# Chapter 9 Table 8, ohms a thousand feet at 75 C.
OHMS = {"18": 7.77, "16": 4.89, "14": 3.07, "12": 1.93, "10": 1.21, "8": 0.764, "6": 0.491}
# Table 250.122: the copper ground of a breaker.
GROUND_OF = ((15, "14"), (20, "12"), (60, "10"), (100, "8"), (200, "6"))
# Which receptacles a circuit may have where it has several (Table 210.21(B)(3)).
RECEPTACLES = {15: {15}, 20: {15, 20}, 30: {30}, 40: {40, 50}, 50: {50}}
# Table 240.6(A), as far as a house goes.
STANDARD = (10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0)
THICKNESS = ["18", "16", "14", "12", "10", "8", "6", "4"]


@dataclass(frozen=True)
class Load:
    """Between two screws: volts it is made for, its watts, the share of the volts that it needs."""

    name: str
    a: str
    b: str
    volts: float
    watts: float
    needs: float
    continuous: bool = False


@dataclass(frozen=True)
class Kind:
    """What a device is. Roles: h wants a hot, s is a switch's screw, n neutral, g ground, i signal.

    `made_for` is what a control may feed: light, fan, or what is wired in. One that `lives` closes only while
    its own load has power, and a contactor closes what is `pulled` while its own coil has. What is to be
    `guarded` is so by a ground-fault device, and what is to be `alone` has a circuit to itself. `wet` stands
    outdoors. The breaker of an appliance is at most `most` times its current, or the next standard one. A
    `light` has a label: its largest lamp, the heat of its wires in C. `thin` are screws of other sizes than
    the rest, and `push_in` those with a hole beside them. What is `old` is left as it was found.
    """

    roles: dict[str, str]
    sizes: tuple[str, str]
    positions: dict[str, tuple[tuple[str, str], ...]] = field(default_factory=dict)
    loads: tuple[Load, ...] = ()
    outlets: tuple[tuple[str, str, str, float], ...] = ()
    through: tuple[tuple[str, str], ...] = ()
    yokes: int = 0
    amps: float = 0.0
    copper: bool = True
    contacts: float = 15
    call: str | None = None
    leads: frozenset[str] = frozenset()
    screws: dict[str, int] = field(default_factory=dict)
    clamps: int = 1
    grounds: int = 1
    made_for: str = ""
    lives: bool = False
    guarded: bool = False
    alone: bool = False
    wet: bool = False
    most: float | None = None
    pulled: tuple[tuple[str, str], ...] = ()
    light: tuple[float, float] | None = None
    thin: dict[str, tuple[str, str]] = field(default_factory=dict)
    push_in: frozenset[str] = frozenset()
    old: bool = False


def _roles(text: str) -> dict[str, str]:
    return {name: role for role, name in (one.split(":") for one in text.split())}


def _load(name: str, a: str, b: str, volts: float, watts: float, needs: float, steady: bool = False) -> Load:
    return Load(name, a, b, volts, watts, needs, steady)


SWITCH = ("14", "10")
LEADS = ("18", "12")
# A metal box has room for a second ground screw.
METAL_BOX = Kind({"ground": "g"}, SWITCH, screws={"ground": 2})
KINDS: dict[str, Kind] = {
    "single-pole-switch": Kind(
        _roles("s:line s:load g:ground"),
        SWITCH,
        {"on": (("line", "load"),), "off": ()},
        yokes=1,
        push_in=frozenset(("line", "load")),
    ),
    "timer-switch": Kind(
        _roles("s:line s:load g:ground"), SWITCH, {"off": (), "on": (("line", "load"),)}, yokes=1
    ),
    "3-way-switch": Kind(
        _roles("s:common s:traveler-1 s:traveler-2 g:ground"),
        SWITCH,
        {"up": (("common", "traveler-1"),), "down": (("common", "traveler-2"),)},
        yokes=1,
    ),
    "4-way-switch": Kind(
        _roles("s:in-1 s:in-2 s:out-1 s:out-2 g:ground"),
        SWITCH,
        {"up": (("in-1", "out-1"), ("in-2", "out-2")), "down": (("in-1", "out-2"), ("in-2", "out-1"))},
        yokes=1,
    ),
    "double-pole-switch": Kind(
        _roles("s:line-1 s:line-2 s:load-1 s:load-2 g:ground"),
        SWITCH,
        {"on": (("line-1", "load-1"), ("line-2", "load-2")), "off": ()},
        yokes=1,
        contacts=20,
    ),
    "line-voltage-thermostat": Kind(
        _roles("s:line-1 s:line-2 s:load-1 s:load-2 g:ground"),
        SWITCH,
        {"idle": (), "heat": (("line-1", "load-1"), ("line-2", "load-2"))},
        yokes=1,
        call="heat",
        contacts=22,
        copper=False,
        leads=frozenset(["line-1", "line-2", "load-1", "load-2"]),
    ),
    "duplex-receptacle": Kind(
        _roles("h:hot n:neutral g:ground"),
        SWITCH,
        outlets=(("top", "hot", "neutral", 120), ("bottom", "hot", "neutral", 120)),
        yokes=1,
        amps=15,
        screws={"hot": 2, "neutral": 2},
    ),
    "split-receptacle": Kind(
        _roles("h:hot-top h:hot-bottom n:neutral g:ground"),
        SWITCH,
        outlets=(("top", "hot-top", "neutral", 120), ("bottom", "hot-bottom", "neutral", 120)),
        yokes=1,
        amps=15,
        screws={"neutral": 2},
    ),
    "gfci-receptacle": Kind(
        _roles("h:line-hot n:line-neutral h:load-hot n:load-neutral g:ground"),
        SWITCH,
        outlets=(("top", "load-hot", "load-neutral", 120), ("bottom", "load-hot", "load-neutral", 120)),
        through=(("line-hot", "load-hot"), ("line-neutral", "load-neutral")),
        yokes=1,
        amps=15,
        clamps=2,
    ),
    "single-receptacle": Kind(
        _roles("h:hot n:neutral g:ground"),
        ("14", "6"),
        outlets=(("face", "hot", "neutral", 120),),
        yokes=1,
        amps=15,
    ),
    "single-receptacle-240": Kind(
        _roles("h:hot-1 h:hot-2 g:ground"),
        ("14", "6"),
        outlets=(("face", "hot-1", "hot-2", 240),),
        yokes=1,
        amps=20,
    ),
    "range-receptacle": Kind(
        _roles("h:hot-1 h:hot-2 n:neutral g:ground"),
        ("8", "4"),
        outlets=(("oven", "hot-1", "hot-2", 240), ("controls", "hot-1", "neutral", 120)),
        yokes=2,
        amps=50,
        copper=False,
    ),
    "dryer-receptacle": Kind(
        _roles("h:hot-1 h:hot-2 n:neutral g:ground"),
        ("10", "6"),
        outlets=(("heat", "hot-1", "hot-2", 240), ("motor", "hot-1", "neutral", 120)),
        yokes=2,
        amps=30,
        copper=False,
    ),
    "range-receptacle-3-wire": Kind(
        _roles("h:hot-1 h:hot-2 n:neutral"),
        ("8", "4"),
        outlets=(("oven", "hot-1", "hot-2", 240), ("controls", "hot-1", "neutral", 120)),
        yokes=2,
        amps=50,
        copper=False,
        old=True,
    ),
    "dryer-receptacle-3-wire": Kind(
        _roles("h:hot-1 h:hot-2 n:neutral"),
        ("10", "6"),
        outlets=(("heat", "hot-1", "hot-2", 240), ("motor", "hot-1", "neutral", 120)),
        yokes=2,
        amps=30,
        copper=False,
        old=True,
    ),
    "lampholder": Kind(
        _roles("h:hot n:neutral g:ground"),
        ("14", "12"),
        loads=(_load("lamp", "hot", "neutral", 120, 60, 100 / 120),),
    ),
    "luminaire": Kind(
        _roles("h:hot n:neutral g:ground"),
        LEADS,
        loads=(_load("lamp", "hot", "neutral", 120, 14, 0.9),),
        copper=False,
        leads=frozenset(["hot", "neutral", "ground"]),
    ),
    "multi-lamp-luminaire": Kind(
        _roles("h:hot n:neutral g:ground"),
        LEADS,
        loads=(_load("lamps", "hot", "neutral", 120, 180, 100 / 120),),
        copper=False,
        leads=frozenset(["hot", "neutral", "ground"]),
        light=(60, 60),
    ),
    "recessed-luminaire": Kind(
        _roles("h:hot n:neutral g:ground"),
        LEADS,
        loads=(_load("lamp", "hot", "neutral", 120, 65, 100 / 120),),
        copper=False,
        leads=frozenset(["hot", "neutral", "ground"]),
        light=(75, 90),
    ),
    "contactor-2-pole": Kind(
        _roles("s:L1 s:L2 s:T1 s:T2 s:A1 s:A2 g:ground"),
        ("14", "4"),
        loads=(_load("coil", "A1", "A2", 120, 5, 0.85),),
        pulled=(("L1", "T1"), ("L2", "T2")),
        contacts=30,
        clamps=2,
        thin={"A1": ("18", "12"), "A2": ("18", "12")},
    ),
    "heater": Kind(
        _roles("h:a h:b g:ground"),
        ("14", "8"),
        loads=(_load("heater", "a", "b", 240, 1500, 0.85, True),),
    ),
    "bath-fan": Kind(
        _roles("h:hot n:neutral g:ground"),
        LEADS,
        loads=(_load("motor", "hot", "neutral", 120, 60, 0.85),),
        copper=False,
        leads=frozenset(["hot", "neutral", "ground"]),
    ),
    "ceiling-fan": Kind(
        _roles("h:fan-hot h:light-hot n:neutral g:ground"),
        LEADS,
        loads=(
            _load("motor", "fan-hot", "neutral", 120, 72, 0.85),
            _load("light", "light-hot", "neutral", 120, 60, 100 / 120),
        ),
        copper=False,
        leads=frozenset(["fan-hot", "light-hot", "neutral", "ground"]),
    ),
    "smoke-alarm": Kind(
        _roles("h:hot n:neutral i:interconnect"),
        LEADS,
        loads=(_load("alarm", "hot", "neutral", 120, 1.5, 0.85),),
        copper=False,
        leads=frozenset(["hot", "neutral", "interconnect"]),
    ),
    "dimmer": Kind(
        _roles("s:line s:load g:ground"),
        LEADS,
        {"off": (), "full": (("line", "load"),)},
        yokes=1,
        copper=False,
        contacts=5,
        leads=frozenset(["line", "load", "ground"]),
        made_for="light",
    ),
    "fan-control": Kind(
        _roles("s:line s:load g:ground"),
        LEADS,
        {"off": (), "high": (("line", "load"),)},
        yokes=1,
        copper=False,
        contacts=1.5,
        leads=frozenset(["line", "load", "ground"]),
        made_for="fan",
    ),
    "occupancy-sensor": Kind(
        _roles("s:line s:load n:neutral g:ground"),
        LEADS,
        {"vacant": (), "occupied": (("line", "load"),)},
        loads=(_load("sensor", "line", "neutral", 120, 0.5, 0.85),),
        yokes=1,
        copper=False,
        contacts=5,
        leads=frozenset(["line", "load", "neutral", "ground"]),
        made_for="wired",
        lives=True,
    ),
    "occupancy-sensor-no-neutral": Kind(
        _roles("s:line s:load g:ground"),
        LEADS,
        {"vacant": (), "occupied": (("line", "load"),)},
        yokes=1,
        copper=False,
        contacts=5,
        leads=frozenset(["line", "load", "ground"]),
        made_for="wired",
    ),
    "digital-timer": Kind(
        _roles("s:line s:load n:neutral g:ground"),
        LEADS,
        {"off": (), "on": (("line", "load"),)},
        loads=(_load("clock", "line", "neutral", 120, 0.5, 0.85),),
        yokes=1,
        copper=False,
        leads=frozenset(["line", "load", "neutral", "ground"]),
        made_for="wired",
        lives=True,
    ),
    "photocell": Kind(
        _roles("s:line n:neutral s:load"),
        LEADS,
        {"day": (), "night": (("line", "load"),)},
        loads=(_load("eye", "line", "neutral", 120, 1, 0.85),),
        copper=False,
        contacts=4.2,
        leads=frozenset(["line", "load", "neutral"]),
        made_for="wired",
        lives=True,
    ),
    "pilot-light-switch": Kind(
        _roles("s:line s:load n:neutral g:ground"),
        SWITCH,
        {"on": (("line", "load"),), "off": ()},
        loads=(_load("pilot", "load", "neutral", 120, 0.2, 0.75),),
        yokes=1,
    ),
    "switch-and-receptacle": Kind(
        _roles("h:hot s:load n:neutral g:ground"),
        SWITCH,
        {"on": (("hot", "load"),), "off": ()},
        outlets=(("face", "hot", "neutral", 120),),
        yokes=1,
        amps=15,
        screws={"hot": 2},
    ),
    "split-switch-and-receptacle": Kind(
        _roles("s:line h:hot s:load n:neutral g:ground"),
        SWITCH,
        {"on": (("line", "load"),), "off": ()},
        outlets=(("face", "hot", "neutral", 120),),
        yokes=1,
        amps=15,
    ),
    "afci-receptacle": Kind(
        _roles("h:line-hot n:line-neutral h:load-hot n:load-neutral g:ground"),
        SWITCH,
        outlets=(("top", "load-hot", "load-neutral", 120), ("bottom", "load-hot", "load-neutral", 120)),
        through=(("line-hot", "load-hot"), ("line-neutral", "load-neutral")),
        yokes=1,
        amps=15,
        clamps=2,
    ),
    "afci-gfci-receptacle": Kind(
        _roles("h:line-hot n:line-neutral h:load-hot n:load-neutral g:ground"),
        SWITCH,
        outlets=(("top", "load-hot", "load-neutral", 120), ("bottom", "load-hot", "load-neutral", 120)),
        through=(("line-hot", "load-hot"), ("line-neutral", "load-neutral")),
        yokes=1,
        amps=15,
        clamps=2,
    ),
    "gfci-blank": Kind(
        _roles("h:line-hot n:line-neutral h:load-hot n:load-neutral g:ground"),
        SWITCH,
        through=(("line-hot", "load-hot"), ("line-neutral", "load-neutral")),
        yokes=1,
        clamps=2,
    ),
    "time-clock": Kind(
        _roles("s:line-1 s:load-1 s:line-2 s:load-2 g:ground"),
        ("14", "8"),
        {"on": (("line-1", "load-1"), ("line-2", "load-2")), "off": ()},
        loads=(_load("clock", "line-1", "line-2", 240, 3, 0.85),),
        contacts=40,
        grounds=2,
    ),
    "disconnect-2-pole": Kind(
        _roles("s:line-1 s:line-2 s:load-1 s:load-2 g:ground"),
        ("14", "4"),
        {"on": (("line-1", "load-1"), ("line-2", "load-2")), "off": ()},
        contacts=60,
        copper=False,
        grounds=4,
    ),
    "pump-pressure-switch": Kind(
        _roles("s:line-1 s:load-1 s:load-2 s:line-2 g:ground"),
        ("14", "10"),
        {"closed": (("line-1", "load-1"), ("line-2", "load-2")), "open": ()},
        contacts=12,
        grounds=2,
    ),
    "water-heater": Kind(
        _roles("h:L1 h:L2 g:ground"),
        ("14", "8"),
        loads=(_load("upper", "L1", "L2", 240, 4500, 0.85, True),),
        copper=False,
        leads=frozenset(["L1", "L2"]),
        most=1.5,
    ),
    "dishwasher": Kind(
        _roles("h:hot n:neutral g:ground"),
        ("18", "12"),
        loads=(
            _load("motor", "hot", "neutral", 120, 144, 0.85),
            _load("element", "hot", "neutral", 120, 900, 0.85),
        ),
        copper=False,
        leads=frozenset(["hot", "neutral"]),
        guarded=True,
    ),
    "disposal": Kind(
        _roles("h:hot n:neutral g:ground"),
        ("18", "12"),
        loads=(_load("motor", "hot", "neutral", 120, 720, 0.85),),
        copper=False,
        leads=frozenset(["hot", "neutral"]),
    ),
    "microwave": Kind(
        _roles("h:hot n:neutral g:ground"),
        LEADS,
        loads=(_load("oven", "hot", "neutral", 120, 1500, 104 / 120),),
        copper=False,
        leads=frozenset(["hot", "neutral", "ground"]),
        guarded=True,
        most=1.5,
    ),
    "whole-house-fan": Kind(
        _roles("h:hot n:neutral g:ground"),
        LEADS,
        loads=(_load("motor", "hot", "neutral", 120, 864, 0.85),),
        copper=False,
        leads=frozenset(["hot", "neutral", "ground"]),
    ),
    "well-pump": Kind(
        _roles("h:L1 h:L2 g:ground"),
        ("14", "8"),
        loads=(_load("motor", "L1", "L2", 240, 1176, 0.85),),
        copper=False,
        leads=frozenset(["L1", "L2", "ground"]),
        guarded=True,
        wet=True,
    ),
    "pump-float": Kind(
        _roles("s:line s:load"),
        LEADS,
        {"idle": (), "water": (("line", "load"),)},
        call="water",
        copper=False,
        contacts=13,
        leads=frozenset(["line", "load"]),
    ),
    "sump-pump": Kind(
        _roles("h:hot n:neutral g:ground"),
        LEADS,
        loads=(_load("motor", "hot", "neutral", 120, 696, 0.85),),
        copper=False,
        leads=frozenset(["hot", "neutral", "ground"]),
        guarded=True,
    ),
    "spa": Kind(
        _roles("h:L1 n:neutral h:L2 g:ground"),
        ("10", "4"),
        loads=(
            _load("element", "L1", "L2", 240, 5500, 0.85, True),
            _load("jets", "L1", "L2", 240, 2400, 0.85),
            _load("controls", "L1", "neutral", 120, 60, 104 / 120),
        ),
        guarded=True,
        wet=True,
    ),
    "vehicle-receptacle": Kind(
        _roles("h:hot-1 h:hot-2 n:neutral g:ground"),
        ("8", "4"),
        outlets=(("charger", "hot-1", "hot-2", 240), ("half", "hot-1", "neutral", 120)),
        yokes=2,
        amps=50,
        guarded=True,
        alone=True,
    ),
    "crankcase-heater": Kind(
        _roles("h:a h:b"),
        ("18", "14"),
        loads=(_load("heater", "a", "b", 240, 40, 0.85, True),),
        copper=False,
        leads=frozenset(("a", "b")),
    ),
    "vehicle-charger": Kind(
        _roles("h:L1 h:L2 g:ground"),
        ("12", "4"),
        loads=(_load("charger", "L1", "L2", 240, 9600, 0.85, True),),
        alone=True,
    ),
    "baseboard-heater": Kind(
        _roles("h:L1 h:L2 g:ground"),
        SWITCH,
        loads=(_load("element", "L1", "L2", 240, 1500, 0.85, True),),
        copper=False,
        leads=frozenset(("L1", "L2")),
    ),
}


@dataclass
class Verdict:
    """What is wrong, in a few words each."""

    hazards: set[str] = field(default_factory=set)
    faults: set[str] = field(default_factory=set)
    unsure: bool = False

    @property
    def kind(self) -> str:
        if self.hazards:
            return "dangerous or against the code"
        return "does not work" if self.faults else "works the same and is legal"


def knows(work: Work) -> bool:
    """Whether every device of a board is in the table above."""
    return all(device.part in KINDS for device in work.devices)


def judge(work: Work) -> Verdict:
    """The oracle's verdict on a board."""
    reading = Reading(work)
    verdict = Verdict()
    _made_up(reading, verdict)
    _grounds(reading, verdict)
    _sizes(reading, verdict)
    _measures(reading, verdict)
    _rooms(reading, verdict)
    _places(reading, verdict)
    _held(reading, verdict)
    _labels(reading, verdict)
    _old_work(reading, verdict)
    _neutrals(reading, verdict)
    _own_neutrals(reading, verdict)
    states = [State(reading, chosen) for chosen in reading.choices()]
    for state in states:
        _powered(reading, state, verdict)
        if state.restless:
            verdict.hazards.add("a contactor buzzes")
    _switched(reading, states, verdict)
    _out_and_back(reading, states, verdict)
    _contacts(reading, states, verdict)
    _controls(reading, states, verdict)
    _guarded(reading, verdict)
    _colors(reading, states, verdict)
    _ground_fault(reading, verdict)
    _clocks(reading, states, verdict)
    _expected(reading, states, verdict)
    _long(reading, states, verdict)
    return verdict


# ----------------------------------------------------------------- reading


class Reading:
    """A board as points and what always joins them."""

    def __init__(self, work: Work) -> None:
        self.work = work
        self.devices = {device.name: device for device in work.devices}
        self.conductors = work.conductors()
        self.role: dict[str, str] = {}
        self.place: dict[str, str] = {}
        self.switches: dict[str, dict[str, tuple[tuple[str, str], ...]]] = {}
        self.coils_of: dict[str, Load] = {}
        for device in work.devices:
            kind = KINDS[device.part]
            for name, role in kind.roles.items():
                self.role[f"{device.name}.{name}"] = role
                self.place[f"{device.name}.{name}"] = device.place or device.name
            if kind.positions:
                self.switches[device.name] = kind.positions
            if kind.pulled:
                self.coils_of[device.name] = next(load for load in kind.loads if load.name == "coil")
        for box in work.boxes:
            if "metal" in box.flags:
                self.role[f"{box.name}.ground"] = "g"
                self.place[f"{box.name}.ground"] = box.name
        self.sources: dict[str, complex] = {}
        self.breaker_of: dict[str, str] = {}
        self.ratings = {breaker.name: breaker.amps for breaker in work.breakers}
        self.bars = {f"{panel}.{bar}" for panel in work.panels for bar in ("neutral", "ground")}
        for panel in work.panels:
            for bar in ("neutral", "ground"):
                self.place[f"{panel}.{bar}"] = panel
                if panel in work.subpanels:
                    self.role[f"{panel}.{bar}"] = bar[0]
                else:
                    self.sources[f"{panel}.{bar}"] = 0
        # The poles of a subpanel's breakers have what its lugs have.
        self.lugs = {f"{panel}.{leg}": panel for panel in work.subpanels for leg in "ab"}
        self.place |= self.lugs
        self.lug_of: dict[str, str] = {}
        coils = []
        for breaker in work.breakers:
            panel = breaker.name.rpartition(".")[0]
            for pole, leg in zip(breaker.poles, breaker.legs(), strict=True):
                if panel in work.subpanels:
                    self.lug_of[pole] = f"{panel}.{leg}"
                else:
                    self.sources[pole] = 120 if leg == "a" else -120
                self.breaker_of[pole] = breaker.name
                self.place[pole] = panel
            if {"gfci", "afci"} & set(breaker.flags):
                self.place[f"{breaker.name}.neutral"] = panel
                coils.append((f"{breaker.name}.neutral", f"{panel}.neutral"))
        self.coils = set(coils)
        self.pairs: list[tuple[str, str]] = list(coils)
        for join in work.joins:
            points = [self.point(name, join.place) for name, _ in join.members if name is not None]
            self.pairs += itertools.pairwise(points)
        self.wires = {
            name: tuple(f"{name}@{place}" for place in cable.places())
            for name, (cable, _) in self.conductors.items()
        }
        points = list(dict.fromkeys([*self.place, *(end for ends in self.wires.values() for end in ends)]))
        self.index = {point: number for number, point in enumerate(points)}
        self.loads = [(device, load) for device in work.devices for load in KINDS[device.part].loads]
        self.through = [
            (f"{device.name}.{a}", f"{device.name}.{b}")
            for device in work.devices
            for a, b in KINDS[device.part].through
        ]
        self.home = list(self.sources)
        self.fed: dict[str, complex] = {}
        if work.subpanels:
            self._feed()

    def _feed(self) -> None:
        """What the feeders bring to each lug, and so to the poles behind it."""
        piece = self.pieces()
        volts: dict[int, set[complex]] = {}
        for point, own in self.sources.items():
            volts.setdefault(piece[point], set()).add(own)
        for lug in self.lugs:
            there = volts.get(piece[lug], set()) - {0}
            if there:
                self.fed[lug] = next(iter(there))
        self.sources |= {pole: self.fed[lug] for pole, lug in self.lug_of.items() if lug in self.fed}

    def feeding(self, pole: str) -> set[str]:
        """The poles of the panel ahead that feed the lugs of a pole's own panel."""
        piece = self.pieces()
        lugs = [lug for lug, panel in self.lugs.items() if panel == self.place[pole]]
        return {one for one in self.breaker_of if one in self.home and piece[one] in map(piece.get, lugs)}

    def point(self, name: str, place: str) -> str:
        return f"{name}@{place}" if name in self.conductors else name

    def pieces(self, *more: list[tuple[str, str]], wires: bool = True) -> dict[str, int]:
        """Which piece of copper each point belongs to, with some more pairs joined."""
        pairs = [*self.pairs, *itertools.chain(*more)]
        if wires:
            pairs += [(ends[0], ends[1]) for ends in self.wires.values()]
        return self.grouped(pairs)

    def grouped(self, pairs: list[tuple[str, str]]) -> dict[str, int]:
        size = len(self.index)
        rows = [self.index[a] for a, _ in pairs]
        columns = [self.index[b] for _, b in pairs]
        matrix = coo_array((numpy.ones(len(rows)), (rows, columns)), shape=(size, size))
        _, labels = connected_components(matrix, directed=False)
        return {point: int(labels[number]) for point, number in self.index.items()}

    def choices(self) -> list[dict[str, str]]:
        """Every combination of the switches' positions."""
        names = list(self.switches)
        return [
            dict(zip(names, values, strict=True))
            for values in itertools.product(*(self.switches[name] for name in names))
        ]

    def lives(self, chosen: dict[str, str]) -> set[str]:
        """The switches that close only while they have power themselves."""
        return {name for name in chosen if KINDS[self.devices[name].part].lives}

    def contacts(self, chosen: dict[str, str], pulled: Iterable[str] = ()) -> list[tuple[str, str]]:
        """What some positions of the switches join, with some contactors in."""
        joined = [(name, pairs) for name in pulled for pairs in KINDS[self.devices[name].part].pulled]
        joined += [
            (name, pair) for name, position in chosen.items() for pair in self.switches[name][position]
        ]
        return [(f"{name}.{a}", f"{name}.{b}") for name, (a, b) in joined]

    def standing(self) -> Iterator[list[tuple[str, str]]]:
        """What every combination of the switches joins, with no contactor in and with all."""
        for chosen in self.choices():
            yield self.contacts(chosen)
            if self.coils_of:
                yield self.contacts(chosen, self.coils_of)

    def watts(self, device: Device, load: Load) -> float:
        """What a load takes; the first setting of a lamp or heater is its watts."""
        if load.name == "charger" and device.values:
            return device.values[0] * load.volts
        if load.name == "lamps":
            return said(device, "lamps", 3) * said(device, "power", 60)
        return (
            device.values[0] if device.values and load.name in ("lamp", "element", "heater") else load.watts
        )

    def made_for(self, device: Device, load: Load) -> float:
        if load.name == "coil":
            return said(device, "coil", load.volts)
        if load.name in ("element", "heater"):
            return next((value for value in device.values[1:] if value in (120, 208, 240)), load.volts)
        return load.volts


def said(device: Device, name: str, otherwise: float) -> float:
    """The number of a setting that has a name."""
    told = re.search(rf"\b{name} ([\d.]+)", device.settings)
    return float(told[1]) if told else otherwise


class State:
    """One combination of the switches: pieces of copper, and the volts of each."""

    def __init__(self, reading: Reading, chosen: dict[str, str], held: set[str] | None = None) -> None:
        self.chosen = chosen
        self.alive: set[str] = set()
        self.pulled: set[str] = held or set()
        self.restless = False
        self._wake(reading)
        if held is not None:
            return
        for _ in range(6):
            pulled = {name for name, coil in reading.coils_of.items() if self._pulls(reading, name, coil)}
            if pulled == self.pulled:
                return
            self.pulled = pulled
            self._wake(reading)
        self.restless = True

    def _wake(self, reading: Reading) -> None:
        """What lives on power of its own closes once it has that, and may give it to another."""
        self._solve(reading)
        asleep = reading.lives(self.chosen)
        while woken := {name for name in asleep if self._wakes(reading, name)} - self.alive:
            self.alive |= woken
            self._solve(reading)

    def _pulls(self, reading: Reading, name: str, coil: Load) -> bool:
        made_for = reading.made_for(reading.devices[name], coil)
        return self.across(f"{name}.{coil.a}", f"{name}.{coil.b}") >= coil.needs * made_for

    def _wakes(self, reading: Reading, name: str) -> bool:
        (load,) = KINDS[reading.devices[name].part].loads
        return self.across(f"{name}.{load.a}", f"{name}.{load.b}") >= load.needs * load.volts

    def _solve(self, reading: Reading) -> None:
        asleep = reading.lives(self.chosen) - self.alive
        awake = {name: value for name, value in self.chosen.items() if name not in asleep}
        self.piece = reading.pieces(reading.contacts(awake, self.pulled), reading.through)
        self.fixed: dict[int, set[complex]] = {}
        self.named: dict[int, set[str]] = {}
        for point, volts in reading.sources.items():
            self.fixed.setdefault(self.piece[point], set()).add(volts)
            self.named.setdefault(self.piece[point], set()).add(point)
        self.volts = self._solved(reading)

    def _solved(self, reading: Reading) -> dict[int, float]:
        """Each piece's volts to earth; pieces that hang on nothing are left out."""
        known = {piece: float(next(iter(volts)).real) for piece, volts in self.fixed.items()}
        edges = []
        for device, load in reading.loads:
            a, b = (self.piece[f"{device.name}.{end}"] for end in (load.a, load.b))
            if a != b:
                edges.append((a, b, reading.watts(device, load) / reading.made_for(device, load) ** 2))
        graph = networkx.Graph()
        graph.add_nodes_from(known)
        graph.add_edges_from((a, b) for a, b, _ in edges)
        reached = set().union(*(networkx.node_connected_component(graph, one) for one in known), set())
        unknown = {piece: number for number, piece in enumerate(sorted(reached - set(known)))}
        if unknown:
            matrix = numpy.zeros((len(unknown), len(unknown)))
            right = numpy.zeros(len(unknown))
            for a, b, siemens in edges:
                for here, there in ((a, b), (b, a)):
                    if here in unknown:
                        row = unknown[here]
                        matrix[row, row] += siemens
                        if there in unknown:
                            matrix[row, unknown[there]] -= siemens
                        else:
                            right[row] += siemens * known[there]
            solved = numpy.linalg.solve(matrix, right)
            known |= {piece: float(solved[number]) for piece, number in unknown.items()}
        return known

    def hot(self, point: str) -> bool:
        """Whether a point is one piece of copper with a hot."""
        return any(self.fixed.get(self.piece[point], ()))

    def bars(self, point: str) -> set[str]:
        """`neutral` and `ground`, where a point is one piece of copper with that bar."""
        names = self.named.get(self.piece[point], set())
        return {name.rpartition(".")[2] for name in names} & {"neutral", "ground"}

    def across(self, a: str, b: str) -> float:
        one, other = self.volts.get(self.piece[a]), self.volts.get(self.piece[b])
        return 0.0 if one is None or other is None else abs(one - other)


# ----------------------------------------------------------------- make-up


def _under(join: Join) -> dict[str, list[str | None]]:
    """What lies under each screw of a join: names of wires, None for a tail."""
    names = [name for name, _ in join.members]
    screws: dict[str, list[str | None]] = {}
    tails = None in names
    for number, name in enumerate(names):
        if name is None or _is_wire(name, join):
            continue
        if number and names[number - 1] is None:
            screws[name] = [None]
        elif tails:
            screws[name] = []
            for before in reversed(names[:number]):
                if before is None or not _is_wire(before, join):
                    break
                screws[name].append(before)
            if None not in names[:number] and names[number + 1 : number + 2] == [None]:
                # The first tail begins under the screw that stands before it.
                screws[name].append(None)
        else:
            screws[name] = [one for one in names if one is not None and _is_wire(one, join)]
    if len(screws) > 1 and not tails:
        _jumpers(names, screws)
    return screws


def _jumpers(names: list[str | None], screws: dict[str, list[str | None]]) -> None:
    """Screws in a row without tails: the wire is under the first, a jumper goes from each to the next."""
    row = [name for name in names if name in screws]
    for number, screw in enumerate(row):
        wires = screws[screw] if number == 0 else []
        jumpers: list[str | None] = [None] * ((number > 0) + (number < len(row) - 1))
        screws[screw or ""] = [*wires, *jumpers]


def _is_wire(name: str | None, join: Join) -> bool:
    return name is not None and name in join.__dict__.get("wires", ())


def _made_up(reading: Reading, verdict: Verdict) -> None:
    work = reading.work
    joined: set[str] = set()
    for join in work.joins:
        join.__dict__["wires"] = set(reading.conductors)
        if len([name for name, _ in join.members if name is not None]) > 1:
            joined |= {reading.point(name, join.place) for name, _ in join.members if name is not None}
    capped = {f"{name}@{place}" for place, name in work.caps}
    for name, ends in reading.wires.items():
        for end in ends:
            if end not in joined and end not in capped:
                verdict.hazards.add(f"{name} is loose")
    under: dict[str, list[int]] = {}
    for join in work.joins:
        for screw, things in _under(join).items():
            bar = screw in reading.bars
            if bar:
                holds = 2 if screw.endswith(".ground") else 1
                if len(things) > holds:
                    verdict.hazards.add(f"{len(things)} under one screw of {screw}")
            else:
                under.setdefault(screw, []).append(len(things))
            _fits(reading, join, screw, things, verdict)
        _metals(reading, join, verdict)
    for screw, lines in under.items():
        device = reading.devices.get(screw.partition(".")[0])
        kind, label = KINDS[device.part] if device else METAL_BOX, screw.partition(".")[2]
        # A lead is spliced with the wires, under their connector.
        if label in kind.leads:
            continue
        # Each line takes a screw of its own, and what is left over goes under the last; a clamp plate is on a
        # hot or neutral screw.
        last = kind.screws.get(label, 1) - 1
        most = max([*lines[:last], sum(lines[last:])])
        if most > (kind.grounds if kind.roles.get(label, "g") == "g" else kind.clamps):
            verdict.hazards.add(f"{most} under {screw}")


def _metals(reading: Reading, join: Join, verdict: Verdict) -> None:
    """Aluminum and copper in one splice, or under one screw of a bar; tails and leads are copper."""
    names = [name for name, _ in join.members if name is not None]
    aluminum = {reading.conductors[name][0].aluminum for name in names if name in reading.conductors}
    tailed = any(name is None for name, _ in join.members)
    copper = False
    for name in names:
        device = reading.devices.get(name.partition(".")[0])
        if device is not None and name not in reading.conductors:
            kind = KINDS[device.part]
            copper |= (tailed and kind.copper) or name.partition(".")[2] in kind.leads
    if True in aluminum and (False in aluminum or copper):
        verdict.hazards.add(f"aluminum and copper meet in {join.place}")


def _fits(reading: Reading, join: Join, screw: str, things: list[str | None], verdict: Verdict) -> None:
    device = reading.devices.get(screw.partition(".")[0])
    if device is None:
        return
    kind = KINDS[device.part]
    sizes = kind.thin.get(screw.partition(".")[2], kind.sizes)
    least, most = (THICKNESS.index(size) for size in sizes)
    if device.part in ("range-receptacle", "vehicle-receptacle") and screw.endswith(".ground"):
        least = THICKNESS.index("10")
    for name in things:
        if name is None:
            continue
        cable = reading.conductors[name][0]
        if not least <= THICKNESS.index(cable.size) <= most:
            verdict.hazards.add(f"{name} does not fit {screw}")
        if cable.aluminum and kind.copper:
            verdict.hazards.add(f"aluminum under {screw}")


def _grounds(reading: Reading, verdict: Verdict) -> None:
    """Every green screw and metal box goes back to the ground bar by bare and green wire alone.

    The frame of a switch or a lampholder that no wire is on is held to a metal box by its fasteners.
    """
    wires = [
        (ends[0], ends[1])
        for name, ends in reading.wires.items()
        if reading.conductors[name][1] in GROUND_COLORS
    ]
    joined = {name for join in reading.work.joins for name, _ in join.members}
    fastened = [
        (f"{device.name}.ground", f"{device.place}.ground")
        for device in reading.work.devices
        for kind in (KINDS[device.part],)
        if f"{device.place}.ground" in reading.role and f"{device.name}.ground" in reading.role
        if not kind.outlets and "ground" not in kind.leads and f"{device.name}.ground" not in joined
    ]
    piece = reading.grouped([*reading.pairs, *wires, *fastened])
    home = {piece[point] for point in reading.home if point.endswith(".ground")}
    for screw, role in reading.role.items():
        if role == "g" and piece[screw] not in home:
            verdict.hazards.add(f"{screw} is not grounded")
    local = reading.pieces(wires=False)
    for box in reading.work.boxes:
        ends = [
            f"{name}@{box.name}"
            for name, (cable, color) in reading.conductors.items()
            if color in GROUND_COLORS and box.name in cable.places()
        ]
        if len({local[end] for end in ends}) > 1:
            verdict.hazards.add(f"the grounds in {box.name} are not joined")
    for name, ends in reading.wires.items():
        if reading.conductors[name][1] in GROUND_COLORS and piece[ends[0]] not in home:
            verdict.hazards.add(f"{name} does not lead to ground")


# ------------------------------------------------------------------- sizes


def _circuits(reading: Reading, back: bool = True) -> dict[str, set[str]]:
    """The conductors and screws that hang on each breaker: by contacts, loads and outlets, not by the bars.

    Without the way `back`, what shares no more than a neutral with it is not there: each leg of a
    multiwire circuit may count as a circuit of its own (210.4(A)).
    """
    pairs = [pair for pair in reading.pairs if not any(_is_bar(point) for point in pair)]
    for device in reading.work.devices:
        kind = KINDS[device.part]
        name = device.name
        for contacts in (*kind.positions.values(), kind.pulled):
            pairs += [(f"{name}.{a}", f"{name}.{b}") for a, b in contacts]
        if back:
            pairs += [(f"{name}.{load.a}", f"{name}.{load.b}") for load in kind.loads]
            pairs += [(f"{name}.{hot}", f"{name}.{neutral}") for _, hot, neutral, _ in kind.outlets]
    power = {
        name: ends for name, ends in reading.wires.items() if reading.conductors[name][1] not in GROUND_COLORS
    }
    pairs += [*reading.through, *((ends[0], ends[1]) for ends in power.values())]
    piece = reading.grouped(pairs)
    screws = [f"{device.name}.{name}" for device in reading.work.devices for name in KINDS[device.part].roles]
    return {
        pole: {name for name, ends in power.items() if piece[ends[0]] == piece[pole]}
        | {screw for screw in screws if piece[screw] == piece[pole]}
        for pole in reading.breaker_of
    }


def _is_bar(point: str) -> bool:
    return point.count(".") == 1 and point.rpartition(".")[2] in ("neutral", "ground") and "@" not in point


def _sizes(reading: Reading, verdict: Verdict) -> None:
    hots = _circuits(reading, back=False)
    for pole, names in _circuits(reading).items():
        rating = reading.ratings[reading.breaker_of[pole]]
        cables = {
            reading.conductors[name][0].name: reading.conductors[name][0]
            for name in names
            if name in reading.conductors
        }
        motor = _motor_alone(_working(_there(reading, names, pole)))
        for cable in cables.values():
            warm = cable.raceway is not None or cable.kind == "SEU"
            table = LARGEST_75 if warm else LARGEST
            if cable.aluminum:
                table = LARGEST_ALUMINUM_75 if warm else LARGEST_ALUMINUM
            largest = table.get(cable.size, 0)
            if rating > _by_motor(reading, motor, largest):
                verdict.hazards.add(f"{cable.name}, {cable.size} AWG, on {rating:g} A")
            ground = _ground_of(rating)
            thin = THICKNESS.index(cable.size) < THICKNESS.index(ground)
            # The ground of a cable of 10 AWG and larger is 10 AWG: always enough up to 60 A.
            # Nor is it larger than the wires beside it, which a motor alone may have thinner: 250.122(A).
            if cable.kind == "SEU":
                continue
            if motor is None and thin and THICKNESS.index(cable.size) < THICKNESS.index("10"):
                verdict.hazards.add(f"the ground of {cable.name} is too thin for {rating:g} A")
        _grown(reading, list(cables.values()), rating, verdict)
        devices = _there(reading, names, pole)
        fed = [
            device
            for device in devices.values()
            if any(
                role != "g" and _on(reading, f"{device.name}.{screw}", hots[pole], pole)
                for screw, role in KINDS[device.part].roles.items()
            )
        ]
        _receptacles(reading, fed, rating, verdict)
        _loaded(reading, list(devices.values()), rating, verdict)
        _alone(reading, list(devices.values()), rating, verdict)


# 310.16 at 75 C: the largest breaker that single wires with insulation for it may have.
LARGEST_75 = {"14": 15.0, "12": 20.0, "10": 30.0, "8": 50.0, "6": 70.0}
LARGEST_ALUMINUM_75 = {"12": 15.0, "10": 25.0, "8": 40.0, "6": 50.0, "4": 70.0}


def _ground_of(rating: float) -> str:
    return next((size for amps, size in GROUND_OF if rating <= amps), "6")


def _grown(reading: Reading, cables: list[Cable], rating: float, verdict: Verdict) -> None:
    """The green wire in a raceway is as the table says, and grows with the hots beside it: 250.122(B).

    Up to 100 A wires may have their size by the 60 C column: 110.14(C)(1)(a).
    """
    singles = [cable for cable in cables if cable.color is not None and cable.raceway is not None]
    needed = next((size for size, most in LARGEST.items() if rating <= most), "6")
    for raceway in {cable.raceway for cable in singles}:
        for one in reading.work.cables:
            if one.raceway == raceway and one.color in NEUTRAL_MARKS and rating > LARGEST_75.get(one.size, 0):
                verdict.hazards.add(f"{one.name}, {one.size} AWG, on {rating:g} A")
        grounds = [
            one for one in reading.work.cables if one.raceway == raceway and one.color in GROUND_COLORS
        ]
        hot = min(OHMS[one.size] for one in singles if one.raceway == raceway)
        share = max(1.0, OHMS[needed] / hot)
        for one in grounds:
            if OHMS[one.size] > 1.01 * OHMS[_ground_of(rating)] / share:
                verdict.hazards.add(f"the ground {one.name} is too thin beside what is in {raceway}")


def _there(reading: Reading, names: set[str], pole: str) -> dict[str, Device]:
    """The devices that a wire of a circuit is on."""
    return {
        device.name: device
        for device in reading.work.devices
        for screw, role in KINDS[device.part].roles.items()
        if role != "g" and _on(reading, f"{device.name}.{screw}", names, pole)
    }


def _working(devices: dict[str, Device]) -> list[Device]:
    """Those that draw something to speak of, or that cords are plugged into."""
    kinds = [(device, KINDS[device.part]) for device in devices.values()]
    return [
        device
        for device, kind in kinds
        if kind.outlets or any(load.name not in ("sensor", "clock", "eye", "coil") for load in kind.loads)
    ]


def _motor_alone(devices: list[Device]) -> Load | None:
    """The motor that a circuit is for, where it is for nothing else."""
    kinds = [KINDS[device.part] for device in devices]
    alone = len(kinds) == 1 and len(kinds[0].loads) == 1 and not kinds[0].outlets
    return kinds[0].loads[0] if alone and kinds[0].loads[0].name == "motor" else None


def _next_standard(amps: float) -> float:
    return next(one for one in STANDARD if one >= amps - 1e-9)


def _by_motor(reading: Reading, motor: Load | None, by_wire: float) -> float:
    """The largest breaker of a circuit: that of its wire, or of its motor alone (430.52(C)(1), 430.53(A))."""
    if motor is None:
        return by_wire
    amps = motor.watts / motor.volts
    shared = (20.0 if motor.volts < 200 else 15.0) if amps <= 6 else 0.0
    most = _next_standard(2.5 * amps)
    if most > min(by_wire, shared):
        return most
    return min(by_wire, shared)


def _alone(reading: Reading, devices: list[Device], rating: float, verdict: Verdict) -> None:
    """What has a circuit to itself; an appliance without a motor has 150 % of its current: 422.11(E)."""
    working = _working({device.name: device for device in devices})
    if len(working) > 1 and any(KINDS[device.part].alone for device in working):
        verdict.hazards.add(f"a vehicle shares its circuit: {' and '.join(one.name for one in working)}")
    if len(working) != 1 or KINDS[working[0].part].most is None:
        return
    kind = KINDS[working[0].part]
    amps = sum(reading.watts(working[0], load) / load.volts for load in kind.loads)
    if rating > (20 if amps <= 13.3 else _next_standard(kind.most * amps)):
        verdict.hazards.add(f"{working[0].name} draws {amps:.1f} A, and its breaker is {rating:g} A")


def _on(reading: Reading, screw: str, names: set[str], pole: str) -> bool:
    """Whether a wire of a circuit, or what hangs on one, is joined to a screw."""
    if screw in names:
        return True
    for join in reading.work.joins:
        here = [name for name, _ in join.members]
        if screw in here:
            return bool(names & {name for name in here if name}) or pole in here
    return False


ONE_FACE = ("single", "range", "dryer", "vehicle", "switch-and", "split-switch")


def _receptacles(reading: Reading, devices: list[Device], rating: float, verdict: Verdict) -> None:
    outlets = [device for device in devices if KINDS[device.part].outlets]
    faces = sum(1 if device.part.startswith(ONE_FACE) else 2 for device in outlets)
    # One that shares its circuit with what is wired in is not alone: 210.21(B)(1) is of individual circuits.
    alone = faces == 1 and not any(KINDS[device.part].loads for device in devices)
    for device in outlets:
        amps = next((value for value in device.values if value < 100), KINDS[device.part].amps)
        fits = amps >= rating if alone else amps in RECEPTACLES.get(int(rating), {amps})
        if not fits:
            verdict.hazards.add(f"{device.name}, {amps:g} A, on {rating:g} A")
        elif device.part.startswith(("range", "dryer", "vehicle")) and amps not in RECEPTACLES.get(
            int(rating), set()
        ):
            verdict.faults.add(f"{device.name} trips {rating:g} A")


def _loaded(reading: Reading, devices: list[Device], rating: float, verdict: Verdict) -> None:
    needed = 0.0
    for device in devices:
        for load in KINDS[device.part].loads:
            amps = reading.watts(device, load) / reading.made_for(device, load)
            needed += amps * (1.25 if load.continuous else 1)
    if needed > rating * (1 + 1e-9):
        verdict.hazards.add(f"{needed:.1f} A of load on {rating:g} A")


def _measures(reading: Reading, verdict: Verdict) -> None:
    boxes = {box.name: box for box in reading.work.boxes}
    for cable in reading.work.cables:
        if cable.low:
            continue
        for place, measures in cable.ends:
            box = boxes.get(place)
            free = measures.get("free")
            if free is not None and place not in reading.work.panels and free < 6:
                verdict.hazards.add(f"{cable.name} has {free:g} in of free wire in {place}")
            if cable.color is not None:
                continue
            if measures.get("jacket", 1) < 0.25:
                verdict.hazards.add(f"the jacket of {cable.name} ends outside {place}")
            single = (
                box is not None
                and box.kind == "device"
                and not {"metal", "clamps", "2-gang", "3-gang", "4-gang"} & set(box.flags)
                and ("1-gang" in box.flags or _one_gang(reading, box))
            )
            across = next((one["diameter"] for _, one in cable.ends if "diameter" in one), None)
            if across is not None and measures.get("bend", 1e9) < 5 * across:
                verdict.hazards.add(f"{cable.name} is bent too tightly near {place}")
            if measures.get("secured", 0) > (8 if single else 12):
                verdict.hazards.add(f"{cable.name} is held too far from {place}")
            if measures.get("every", 0) > 54:
                verdict.hazards.add(f"the staples of {cable.name} are too far apart")


def _one_gang(reading: Reading, box: Box) -> bool:
    """No box of one gang is larger than 22.5 cu in (common practice), and two yokes need two."""
    yokes = sum(KINDS[one.part].yokes for one in reading.work.devices if one.place == box.name)
    return (box.room or 0) <= 22.5 and yokes < 2


def _rooms(reading: Reading, verdict: Verdict) -> None:
    """Box fill, 314.16(B)."""
    work = reading.work
    for box in work.boxes:
        if box.room is None:
            continue
        cables = [cable for cable in work.cables if box.name in cable.places()]
        if not cables:
            continue
        wires = [(_size(cable, color), color) for cable in cables for color in cable.conductors().values()]
        grounds = [ROOM[size] for size, color in wires if color in GROUND_COLORS]
        need = sum(ROOM[size] for size, color in wires if color not in GROUND_COLORS)
        largest = max(ROOM[size] for size, _ in wires)
        if grounds:
            need += max(grounds) * (1 + max(0, len(grounds) - 4) / 4)
        need += largest if "clamps" in box.flags else 0
        for device in work.devices:
            if device.place == box.name and KINDS[device.part].yokes:
                need += 2 * KINDS[device.part].yokes * _on_device(reading, device, largest)
        if need > box.room + 1e-6:
            verdict.hazards.add(f"{box.name} needs {need:.2f} cu in and has {box.room:.2f}")


# The bare wire of a cable of these sizes, as cables are made (UL 719, from memory); else it is as thick.
GROUND_IN_CABLE = {"8": "10", "6": "10", "4": "8"}


def _size(cable: Cable, color: str) -> str:
    """The size of a conductor: of a cable's ground, as cables are made."""
    inside = cable.color is None and color in GROUND_COLORS
    return GROUND_IN_CABLE.get(cable.size, cable.size) if inside else cable.size


def _on_device(reading: Reading, device: Device, otherwise: float) -> float:
    """The room of the largest wire on a device.

    A tail is as thick as the thickest wire of its splice, and a ground's as thin as the thinnest.
    """
    roles = KINDS[device.part].roles
    found = []
    for join in reading.work.joins:
        there = [
            roles[name.split(".")[1]]
            for name, _ in join.members
            if (name or "").startswith(f"{device.name}.")
        ]
        if not there:
            continue
        rooms = [
            ROOM[_size(*reading.conductors[name])] for name, _ in join.members if name in reading.conductors
        ]
        if rooms:
            found.append(min(rooms) if set(there) == {"g"} else max(rooms))
    return max(found, default=otherwise)


# ------------------------------------------------- connectors, labels, old work


def _held(reading: Reading, verdict: Verdict) -> None:
    """What is under a connector, pushed into a hole, and how thick a tail is."""
    listed = {
        words[1]: [(int(least), int(most), size) for least, most, size in COMBINATION.findall(line)]
        for line in reading.work.head
        if (words := line.split())[:1] == ["connector"]
    }
    circuits = _circuits(reading)
    for join in reading.work.joins:
        wires = [name for name, _ in join.members if name in reading.conductors]
        ratings = [
            reading.ratings[reading.breaker_of[pole]]
            for pole, names in circuits.items()
            if names & {one for name in wires for one in _beside(reading, name)}
        ]
        for option in join.options:
            if option == "push-in":
                _pushed_in(reading, join, max(ratings, default=0), verdict)
            elif option.split()[1] in listed:
                _under_connector(reading, join, option.split()[1], listed[option.split()[1]], verdict)
        for name, mark in join.members:
            needed = _ground_of(max(ratings, default=0))
            if name is None and mark is not None and OHMS[mark] > 1.01 * OHMS[needed]:
                verdict.hazards.add(f"a tail of {mark} AWG in {join.place}")


COMBINATION = re.compile(r"(\d+) to (\d+) of (\d+) AWG")


def _beside(reading: Reading, name: str) -> dict[str, str]:
    """The conductors of a wire's own cable: a ground serves the circuit that they are of."""
    return reading.conductors[name][0].conductors()


def _under_connector(
    reading: Reading, join: Join, connector: str, listed: list[tuple[int, int, str]], verdict: Verdict
) -> None:
    """So many wires of one size; of sizes that it is listed for apart, as many as it ever holds."""
    under = _under(join)
    direct = {name for screw, things in under.items() if not _is_lead(reading, screw) for name in things}
    spliced = [name for name, _ in join.members if name in reading.conductors and name not in direct]
    sizes = [reading.conductors[name][0].size for name in spliced]
    sizes += [mark for name, mark in join.members if name is None and mark is not None]
    count = len(spliced) + sum(name is None for name, _ in join.members)
    leads = sum(_is_lead(reading, screw) and None not in things for screw, things in under.items())
    held = [(least, most) for least, most, size in listed if {size} == set(sizes)]
    if not sizes:
        return
    if held and not leads:
        fits = any(least <= count <= most for least, most in held)
    else:
        known = {size for _, _, size in listed}
        between = range(
            min(THICKNESS.index(size) for size in known), max(THICKNESS.index(size) for size in known) + 1
        )
        fits = all(THICKNESS.index(size) in between for size in sizes)
        fits &= count + leads <= max(most for _, most, _ in listed)
    if not fits:
        told = " and ".join(f"{number} of {size}" for size, number in Counter(sizes).items())
        verdict.hazards.add(f"{connector} is on {told} in {join.place}")


def _is_lead(reading: Reading, screw: str) -> bool:
    device = reading.devices.get(screw.partition(".")[0])
    return device is not None and screw.partition(".")[2] in KINDS[device.part].leads


def _pushed_in(reading: Reading, join: Join, rating: float, verdict: Verdict) -> None:
    """A hole takes 14 AWG copper on a circuit of 15 A: 406.3(D)(3), and so the sheets of switches."""
    for screw, things in _under(join).items():
        device = reading.devices.get(screw.partition(".")[0])
        holes = KINDS[device.part].push_in if device is not None else frozenset()
        tails = {mark or "14" for name, mark in join.members if name is None}
        wires = {
            "aluminum" if reading.conductors[name][0].aluminum else reading.conductors[name][0].size
            for name in things
            if name is not None
        }
        fits = screw.partition(".")[2] in holes and rating <= 15 and (wires | tails) <= {"14"}
        if not fits or (device is not None and any(value == 20 for value in device.values)):
            verdict.hazards.add(f"a wire is pushed in at {screw}")


# The heat that the wires of a cable are made for: 334.112, 340.112.
MADE_FOR = {"NM-B": 90.0, "UF-B": 60.0}


def _labels(reading: Reading, verdict: Verdict) -> None:
    """No lamp is larger than a light's label says, and no wire made for less heat: 410.117(A), 410.120."""
    for device in reading.work.devices:
        light = KINDS[device.part].light
        if light is None:
            continue
        lamps = KINDS[device.part].loads[0].name == "lamps"
        there = said(device, "power", 60) if lamps else reading.watts(device, KINDS[device.part].loads[0])
        if there > said(device, "largest-lamp", light[0]):
            verdict.hazards.add(f"{device.name} has a lamp of {there:g} W")
        asked = said(device, "supply", light[1])
        for join in reading.work.joins:
            if any((name or "").startswith(f"{device.name}.") for name, _ in join.members):
                for name, _ in join.members:
                    cable, color = reading.conductors.get(name or "", (None, ""))
                    if cable and color not in GROUND_COLORS and MADE_FOR.get(cable.kind, 90) < asked:
                        verdict.hazards.add(f"{name}, {cable.kind}, comes to {device.name}")


def _old_work(reading: Reading, verdict: Verdict) -> None:
    """Three wires to a range or dryer: only as they were found, of a cable from the service: 250.140."""
    piece = reading.pieces()
    for device in reading.work.devices:
        if not KINDS[device.part].old:
            continue
        if "existing" not in device.settings.split():
            verdict.hazards.add(f"{device.name} is new work on three wires")
        for name, ends in reading.wires.items():
            cable, color = reading.conductors[name]
            if piece[ends[0]] != piece[f"{device.name}.neutral"]:
                continue
            least = "8" if cable.aluminum else "10"
            if THICKNESS.index(cable.size) < THICKNESS.index(least):
                verdict.hazards.add(f"{name}, {cable.size} AWG, grounds the frame of {device.name}")
            if color == BARE_NEUTRAL and set(cable.places()) & set(reading.work.subpanels):
                verdict.hazards.add(f"{name}, bare, comes from a subpanel")


# ---------------------------------------------------------------- neutrals


# What may lie where it is wet: UF by 340.10(3), W in the letters of a wire by 310.10(C).
# Service-entrance cable hangs in the rain on any house: its wires have a W too.
WET = ("UF", "USE", "SE", "THWN", "THW", "XHHW", "RHW", "TW")


def _places(reading: Reading, verdict: Verdict) -> None:
    """NM cable and wires without a W do not go where it is wet: 334.12(B)(4), 310.10(C)."""
    wet = {box.name for box in reading.work.boxes if "wet" in box.flags}
    wet |= {device.place or device.name for device in reading.work.devices if KINDS[device.part].wet}
    for cable in reading.work.cables:
        if wet & set(cable.places()) and not cable.low and not cable.kind.startswith(WET):
            verdict.hazards.add(f"{cable.name}, {cable.kind}, is in a wet place")


def _neutrals(reading: Reading, verdict: Verdict) -> None:
    """No wire beside another; a neutral of two circuits only where they are of two legs and tied."""
    graph = networkx.MultiGraph()
    local = reading.pieces(wires=False)
    power = {
        name: (local[ends[0]], local[ends[1]])
        for name, ends in reading.wires.items()
        if reading.conductors[name][1] not in GROUND_COLORS
    }
    for name, (a, b) in power.items():
        graph.add_edge(a, b, name=name)
    for device in reading.work.devices:
        for line, load in KINDS[device.part].through:
            if KINDS[device.part].roles[line] == "n":
                graph.add_edge(local[f"{device.name}.{line}"], local[f"{device.name}.{load}"])
    simple = networkx.Graph(graph)
    bridges = set(networkx.bridges(simple)) if simple.number_of_edges() else set()
    for name, (a, b) in power.items():
        one_of_several = graph.number_of_edges(a, b) > 1 or ((a, b) not in bridges and (b, a) not in bridges)
        if one_of_several and a != b:
            verdict.hazards.add(f"{name} is in parallel with another wire")
    for panel in reading.work.panels:
        bar = local[f"{panel}.neutral"]
        if bar in graph:
            _shared(reading, graph, local, bar, verdict)


def _shared(
    reading: Reading, graph: networkx.MultiGraph, local: dict[str, int], bar: int, verdict: Verdict
) -> None:
    fed = _feeders(reading)
    opened_together = {breaker.name: breaker.tied for breaker in reading.work.breakers}
    for a, b, key in list(graph.edges(bar, keys=True)):
        pruned = graph.copy()
        pruned.remove_edge(a, b, key)
        far = networkx.node_connected_component(pruned, b)
        if bar in far:
            continue
        if any(local[point] in far for point in reading.home if point in reading.bars):
            continue  # it is the feeder of this panel, seen from its far end
        poles = {pole for screw, found in fed.items() if local[screw] in far for pole in found}
        for panel in reading.work.subpanels:
            if local[f"{panel}.neutral"] in far:
                behind = {pole for pole in poles if reading.place[pole] == panel}
                poles = (poles - behind).union(*map(reading.feeding, behind))
        poles &= reading.sources.keys()
        if len(poles) > 1:
            _through_a_device(reading, {point for point, piece in local.items() if piece in far}, verdict)
        for one, other in itertools.combinations(sorted(poles), 2):
            if reading.sources[one] == reading.sources[other]:
                verdict.hazards.add(f"{one} and {other}, of one leg, share a neutral")
                continue
            names = reading.breaker_of[one], reading.breaker_of[other]
            tied = opened_together.get(names[0]) == names[1] or opened_together.get(names[1]) == names[0]
            if names[0] != names[1] and not tied:
                verdict.hazards.add(f"{one} and {other} share a neutral and are not tied")


def _through_a_device(reading: Reading, neutrals: set[str], verdict: Verdict) -> None:
    """A shared neutral goes on by a splice, and not by the screw of a device: 300.13(B)."""
    for join in reading.work.joins:
        names = [name for name, _ in join.members]
        wires = [name for name in names if name in reading.conductors]
        if None not in names and len(wires) > 1 and reading.point(wires[0], join.place) in neutrals:
            for name in names:
                device = reading.devices.get((name or "").partition(".")[0])
                if device and (name or "").partition(".")[2] not in KINDS[device.part].leads:
                    verdict.hazards.add(f"the shared neutral goes on through {name}")


def _own_neutrals(reading: Reading, verdict: Verdict) -> None:
    """What a ground- or arc-fault breaker feeds comes back to that breaker's own neutral screw."""
    guarded = {breaker.name for breaker in reading.work.breakers if {"gfci", "afci"} & set(breaker.flags)}
    pairs = [pair for pair in reading.pairs if pair not in reading.coils]
    pairs += [*reading.through, *((ends[0], ends[1]) for ends in reading.wires.values())]
    piece = reading.grouped(pairs)
    for screw, poles in _feeders(reading).items():
        own = {reading.breaker_of[pole] for pole in poles} & guarded
        back = {name for name in guarded if piece[f"{name}.neutral"] == piece[screw]}
        to_bar = any(piece[f"{panel}.neutral"] == piece[screw] for panel in reading.work.panels)
        if (own != back or (own and to_bar)) and poles and (back or to_bar):
            verdict.hazards.add(f"{screw} does not come back to {' and '.join(own) or 'the bar'}")


def _feeders(reading: Reading) -> dict[str, set[str]]:
    """For each neutral screw, the poles whose current comes back there, in any position of the switches."""
    told: dict[str, set[str]] = {}
    for contacts in reading.standing():
        piece = reading.pieces(contacts, reading.through)
        poles: dict[int, set[str]] = {}
        for pole in reading.breaker_of:
            poles.setdefault(piece[pole], set()).add(pole)
        for device in reading.work.devices:
            kind = KINDS[device.part]
            ends = [(load.a, load.b) for load in kind.loads]
            ends += [(hot, neutral) for _, hot, neutral, _ in kind.outlets]
            # A coil's sides are alike: the neutral may be on either.
            ends += [(load.b, load.a) for load in kind.loads if load.name == "coil"]
            for hot, neutral in ends:
                if kind.roles[neutral] == "n" or (kind.pulled and neutral in kind.thin):
                    found = poles.get(piece[f"{device.name}.{hot}"], set())
                    told.setdefault(f"{device.name}.{neutral}", set()).update(found)
    return told


# ------------------------------------------------------------------- power


def _powered(reading: Reading, state: State, verdict: Verdict) -> None:
    for piece, volts in state.fixed.items():
        names = state.named[piece]
        if len(volts) > 1:
            verdict.hazards.add(f"short circuit between {' and '.join(sorted(names))}")
        breakers = {reading.breaker_of[name] for name in names if name in reading.breaker_of}
        if len(breakers) > 1:
            verdict.hazards.add(f"{' and '.join(sorted(breakers))} feed one another")
        if {name.rpartition(".")[2] for name in names} >= {"neutral", "ground"}:
            verdict.hazards.add("neutral and ground are joined")
    for screw, role in reading.role.items():
        if role == "g" and (state.hot(screw) or abs(state.volts.get(state.piece[screw], 0)) > 30):
            verdict.hazards.add(f"{screw} is live")
        if role == "n" and state.hot(screw):
            verdict.hazards.add(f"the hot is on {screw}")
        if role in "ns" and "ground" in state.bars(screw):
            verdict.hazards.add(f"{screw} is on the ground")
        if role == "i" and (state.bars(screw) or state.hot(screw)):
            verdict.hazards.add(f"the signal {screw} is on power")
    for name, ends in reading.wires.items():
        color = reading.conductors[name][1]
        volts = abs(state.volts.get(state.piece[ends[0]], 0))
        if color in GROUND_COLORS and (state.hot(ends[0]) or volts > 30):
            verdict.hazards.add(f"{name}, a ground, is live")
        if color == BARE_NEUTRAL and (state.hot(ends[0]) or volts > 30):
            verdict.hazards.add(f"{name}, bare, is live")
        if color in GROUND_COLORS and "neutral" in state.bars(ends[0]):
            verdict.hazards.add(f"{name}, a ground, is a neutral")


def _switched(reading: Reading, states: list[State], verdict: Verdict) -> None:
    """No switch in the neutral; nothing at more volts than it is made for."""
    for screw, role in reading.role.items():
        if role == "n" and len({"neutral" in state.bars(screw) for state in states}) > 1:
            verdict.hazards.add(f"the neutral of {screw} is switched")
    _hot_to_hot(reading, states, verdict)
    _both_poles(reading, states, verdict)
    for device, load in reading.loads:
        volts = 1.1 * reading.made_for(device, load)
        if any(
            state.across(f"{device.name}.{load.a}", f"{device.name}.{load.b}") > volts for state in states
        ):
            verdict.hazards.add(f"{device.name} has more volts than it is made for")


TWO_POLE = ("double-pole-switch", "line-voltage-thermostat", "time-clock", "disconnect-2-pole")


def _both_poles(reading: Reading, states: list[State], verdict: Verdict) -> None:
    """What a two-pole switch turns off between two hots is then live on neither side: 424.20(A), 404.2."""
    by_choice = {tuple(state.chosen.items()): state for state in states}
    two_pole = [name for name, device in reading.devices.items() if device.part in TWO_POLE]
    for name in two_pole:
        off = next(value for value, pairs in reading.switches[name].items() if not pairs)
        for state in states:
            dark = by_choice[tuple({**state.chosen, name: off}.items())]
            for device, load in reading.loads:
                a, b = f"{device.name}.{load.a}", f"{device.name}.{load.b}"
                turned = state.across(a, b) > 150 and dark.across(a, b) < 1
                if turned and (dark.hot(a) or dark.hot(b)):
                    verdict.hazards.add(f"{device.name} is off and live: {name} opens one pole only")


def _hot_to_hot(reading: Reading, states: list[State], verdict: Verdict) -> None:
    """What hangs between two hots is opened by breakers that open together: 240.15(B)(2)."""
    tied = {breaker.name: breaker.tied for breaker in reading.work.breakers}
    for device in reading.work.devices:
        kind = KINDS[device.part]
        ends = [(load.a, load.b) for load in kind.loads] + [(a, b) for _, a, b, _ in kind.outlets]
        for state in states:
            for a, b in ends:
                one, other = (_breakers(reading, state, f"{device.name}.{end}") for end in (a, b))
                apart = one and other and not one & other
                if apart and not any(tied[x] == y or tied[y] == x for x in one for y in other):
                    verdict.hazards.add(f"{device.name} is between two breakers that are not tied")


def _contacts(reading: Reading, states: list[State], verdict: Verdict) -> None:
    """No switch carries more than its rating: 404.14(A), nor outlets of a larger breaker: 404.14(F).

    It carries what goes dark when it is taken out.
    """
    for state in states:
        on = [name for name, position in state.chosen.items() if reading.switches[name][position]]
        for name in (*on, *state.pulled):
            device = reading.devices[name]
            rated = next((value for value in device.values if value < 100), KINDS[device.part].contacts)
            contacts = reading.contacts(state.chosen, state.pulled)
            kept = [pair for pair in contacts if pair[0].partition(".")[0] != name]
            piece = reading.pieces(kept, reading.through)
            live = {piece[point] for point in reading.sources}
            amps = 0.0
            for other, load in reading.loads:
                ends = [f"{other.name}.{end}" for end in (load.a, load.b)]
                made_for = reading.made_for(other, load)
                if state.across(*ends) > 0.5 * made_for and any(piece[end] not in live for end in ends):
                    amps += reading.watts(other, load) / made_for
            if amps > rated * (1 + 1e-9):
                verdict.hazards.add(f"{name}, {rated:g} A, switches {amps:.1f} A")
            for other in reading.work.devices:
                for _, hot, neutral, volts in KINDS[other.part].outlets:
                    ends = [f"{other.name}.{hot}", f"{other.name}.{neutral}"]
                    dark = state.across(*ends) > 0.5 * volts and any(piece[end] not in live for end in ends)
                    behind = [reading.ratings[one] for end in ends for one in _breakers(reading, state, end)]
                    if dark and max(behind, default=0) > rated:
                        verdict.hazards.add(f"{name}, {rated:g} A, switches the outlets of a larger breaker")


def _controls(reading: Reading, states: list[State], verdict: Verdict) -> None:
    """A dimmer feeds lights alone, a speed control fans, an electronic switch no receptacles: 404.14(E)."""
    for state in states:
        for name, position in state.chosen.items():
            made_for = KINDS[reading.devices[name].part].made_for
            if not made_for or not reading.switches[name][position]:
                continue
            contacts = reading.contacts(state.chosen, state.pulled)
            kept = [pair for pair in contacts if pair[0].partition(".")[0] != name]
            piece = reading.pieces(kept, reading.through)
            live = {piece[point] for point in reading.sources}

            def dark(a: str, b: str, volts: float, piece=piece, live=live, state=state) -> bool:
                return state.across(a, b) > 0.5 * volts and (piece[a] not in live or piece[b] not in live)

            for other, load in reading.loads:
                kind = {"lamp": "light", "lamps": "light", "light": "light", "motor": "fan"}.get(
                    load.name, ""
                )
                ends = (f"{other.name}.{load.a}", f"{other.name}.{load.b}")
                if made_for != "wired" and kind != made_for and dark(*ends, reading.made_for(other, load)):
                    verdict.hazards.add(f"{name} is for a {made_for}, and feeds {other.name}.{load.name}")
            for other in reading.work.devices:
                for label, hot, neutral, volts in KINDS[other.part].outlets:
                    if dark(f"{other.name}.{hot}", f"{other.name}.{neutral}", volts):
                        verdict.hazards.add(f"{name} is for what is wired in, and feeds {other.name}.{label}")


def _guarded(reading: Reading, verdict: Verdict) -> None:
    """Equipment in and near water, and a vehicle's outlet, behind a ground-fault device: 210.8, 680.44."""
    plain = {pole for pole, name in reading.breaker_of.items() if not _is_gfci(reading, name)}
    piece = reading.pieces(_every_contact(reading))
    bare = {piece[pole] for pole in plain}
    for device in reading.work.devices:
        kind = KINDS[device.part]
        ends = [end for load in kind.loads for end in (load.a, load.b)]
        ends += [end for _, hot, neutral, _ in kind.outlets for end in (hot, neutral)]
        if kind.guarded and any(piece[f"{device.name}.{end}"] in bare for end in ends):
            verdict.hazards.add(f"no ground-fault device guards {device.name}")


def _is_gfci(reading: Reading, name: str) -> bool:
    return any(breaker.name == name and "gfci" in breaker.flags for breaker in reading.work.breakers)


def _out_and_back(reading: Reading, states: list[State], verdict: Verdict) -> None:
    """What goes out through a cable or a raceway comes back through the same: 300.3(B).

    An ampere through each load and outlet, from one of its screws to the other, flows in the wires as
    their lengths share it, with every bar and breaker of the panel taken as one point.
    """
    ends = [(f"{device.name}.{load.a}", f"{device.name}.{load.b}") for device, load in reading.loads]
    for device in reading.work.devices:
        faces = KINDS[device.part].outlets
        ends += [(f"{device.name}.{hot}", f"{device.name}.{neutral}") for _, hot, neutral, _ in faces]
    panel = next(iter(reading.home), None)
    if panel is None:
        return
    home = [(panel, point) for point in reading.home] + [*reading.lug_of.items()]
    for state in states:
        joined = [*reading.pairs, *home, *reading.contacts(state.chosen, state.pulled), *reading.through]
        _add_stray(reading, reading.grouped(joined), panel, ends, verdict)


def _add_stray(
    reading: Reading, node: dict[str, int], panel: str, ends: list[tuple[str, str]], verdict: Verdict
) -> None:
    """The cables and raceways in which an ampere through some load does not come back, as hazards."""
    wires = [
        (reading.conductors[name][0], name, node[one], node[other])
        for name, (one, other) in reading.wires.items()
    ]
    size = max(node.values()) + 1
    matrix = numpy.zeros((size, size))
    for cable, _, one, other in wires:
        siemens = 1 / cable.feet
        matrix[one, one] += siemens
        matrix[other, other] += siemens
        matrix[one, other] -= siemens
        matrix[other, one] -= siemens
    _, part = connected_components(coo_array(matrix), directed=False)
    reached = [
        number for number in range(size) if part[number] == part[node[panel]] and number != node[panel]
    ]
    place = {number: at for at, number in enumerate(reached)}
    known = [
        (a, b) for a, b in ends if part[node[a]] == part[node[b]] == part[node[panel]] and node[a] != node[b]
    ]
    if not known:
        return
    injected = numpy.zeros((len(reached), len(known)))
    for column, (a, b) in enumerate(known):
        for screw, amps in ((a, -1.0), (b, 1.0)):
            if node[screw] in place:
                injected[place[node[screw]], column] += amps
    volts = numpy.zeros((size, len(known)))
    volts[reached] = numpy.linalg.solve(matrix[numpy.ix_(reached, reached)], injected)
    sums: dict[tuple[str, str], numpy.ndarray] = {}
    for cable, _, one, other in wires:
        if cable.low or (cable.color is not None and cable.raceway is None):
            continue
        run = (cable.raceway or cable.name, min(cable.places()))
        amps = (volts[one] - volts[other]) / cable.feet
        sums[run] = sums.get(run, 0) + (amps if cable.places()[0] == run[1] else -amps)
    for (run, _), total in sums.items():
        if numpy.abs(total).max() > 1e-6:
            verdict.hazards.add(f"what goes out through {run} does not come back through it")


def _breakers(reading: Reading, state: State, screw: str) -> set[str]:
    names = state.named.get(state.piece[screw], set())
    return {reading.breaker_of[name] for name in names if name in reading.breaker_of}


def _colors(reading: Reading, states: list[State], verdict: Verdict) -> None:
    marks: dict[str, list[str | None]] = {}
    for join in reading.work.joins:
        for name, mark in join.members:
            if name in reading.conductors:
                marks.setdefault(name, []).append(mark)
    fixed = reading.pieces()
    feeding = {
        fixed[f"{device.name}.{hot}"]
        for device in reading.work.devices
        for hot, volts in [
            *((load.a, reading.made_for(device, load)) for load in KINDS[device.part].loads),
            *((hot, volts) for _, hot, _, volts in KINDS[device.part].outlets),
        ]
        if volts < 200
    }
    for name, ends in reading.wires.items():
        cable, color = reading.conductors[name]
        if cable.low or color in GROUND_COLORS:
            continue
        hot = [state.hot(ends[0]) for state in states]
        bars = set().union(*(state.bars(ends[0]) for state in states))
        said = marks.get(name, [])
        if color in NEUTRAL_MARKS:
            _white(name, cable, hot, said, fixed[ends[0]] in feeding, verdict)
            if "ground" in bars:
                verdict.hazards.add(f"{name}, white, is on the ground")
            if bars and any(mark and mark not in NEUTRAL_MARKS for mark in said):
                verdict.hazards.add(f"{name}, a neutral, is marked as a hot")
        elif bars and not any(hot) and color != BARE_NEUTRAL:
            verdict.hazards.add(f"{name} is {color} and serves as {' and '.join(sorted(bars))}")


def _white(
    name: str, cable: Cable, hot: list[bool], said: list[str | None], feeds: bool, verdict: Verdict
) -> None:
    if not any(hot):
        return
    if cable.color is not None:
        verdict.hazards.add(f"{name}, a single white wire, is a hot")
    if any(mark is None or mark in NEUTRAL_MARKS | {"green"} for mark in said):
        verdict.hazards.add(f"{name}, white and not marked, is a hot")
    if feeds and not all(hot):
        verdict.hazards.add(f"{name}, a marked white, comes back from the switch")


def _ground_fault(reading: Reading, verdict: Verdict) -> None:
    """With the device open, nothing behind it may have a way to the source."""
    for device in reading.work.devices:
        through = KINDS[device.part].through
        if not through:
            continue
        own = [(f"{device.name}.{a}", f"{device.name}.{b}") for a, b in through]
        others = [pair for pair in reading.through if pair not in own]
        for contacts in reading.standing():
            piece = reading.pieces(contacts, others)
            live = {piece[point] for point in reading.sources}
            for _, load in own:
                if piece[load] in live:
                    verdict.hazards.add(f"{load} has a way around {device.name}")
        closed = reading.pieces(_every_contact(reading), others)
        behind = {closed[load] for _, load in own}
        for other in reading.work.devices:
            kind = KINDS[other.part]
            ends = [(load.a, load.b) for load in kind.loads]
            ends += [(hot, neutral) for _, hot, neutral, _ in kind.outlets]
            for a, b in ends:
                sides = [closed[f"{other.name}.{end}"] in behind for end in (a, b)]
                joined = [_reaches(reading, f"{other.name}.{end}") for end in (a, b)]
                if sides[0] != sides[1] and all(joined) and other is not device:
                    verdict.faults.add(f"{device.name} trips on {other.name}")


def _reaches(reading: Reading, screw: str) -> bool:
    """Whether a screw has a way to a source with every contact and protection closed."""
    piece = reading.pieces(_every_contact(reading), reading.through)
    return piece[screw] in {piece[point] for point in reading.sources}


def _every_contact(reading: Reading) -> list[tuple[str, str]]:
    return [
        *reading.contacts({}, reading.coils_of),
        *(
            (f"{name}.{a}", f"{name}.{b}")
            for name, positions in reading.switches.items()
            for pairs in positions.values()
            for a, b in pairs
        ),
    ]


# Volt-amperes that the coil of a small contactor takes as it pulls in (common practice).
COIL_INRUSH = 60


def _long(reading: Reading, states: list[State], verdict: Verdict) -> None:
    """What a very long cable leaves of the volts: surely enough, surely not, or too near to say.

    A load gets at most V R / (R + r) through r ohms out and back, if nothing else draws through them, and
    at least that with all the watts of the board in place of its own.
    """
    for cable in reading.work.cables:
        if cable.feet < 500 or cable.low:
            continue
        ohms = 2 * OHMS[cable.size] * cable.feet / 1000
        cut = reading.work.copy()
        cut.cables = [one for one in cut.cables if one.name != cable.name]
        for join in cut.joins:
            join.members = [one for one in join.members if one[0] not in cable.conductors()]
        after = Reading(cut)
        # What a contactor feeds is dark where its coil is: how that fares is judged at the coil.
        held = {tuple(state.chosen.items()): state.pulled for state in states}
        without = [State(after, chosen, held[tuple(chosen.items())]) for chosen in after.choices()]
        every = sum(reading.watts(device, load) for device, load in reading.loads)
        for device, load in reading.loads:
            a, b, volts = f"{device.name}.{load.a}", f"{device.name}.{load.b}", reading.made_for(device, load)
            lit = any(state.across(a, b) > 0.9 * volts for state in states)
            if not lit or any(state.across(a, b) > 0.9 * volts for state in without):
                continue
            most, least = (
                1 / (1 + ohms * watts / volts**2) for watts in (reading.watts(device, load), every)
            )
            if load.name == "motor":
                # The wire takes less from a motor than from a heater, since their currents are out of step.
                share = ohms * load.watts / volts**2
                most = 1 / abs(1 + share * (0.6 - 0.8j))
            if load.name == "coil":
                # It must pull in, and takes some 60 VA until it has, a third of them out of step.
                share = ohms * COIL_INRUSH / volts**2
                most = least = 1 / abs(1 + share * (0.7 - 0.7j))
            if most < 0.97 * load.needs:
                verdict.faults.add(f"{device.name} has {most * volts:.0f} V at the end of {cable.name}")
            elif least < 1.03 * load.needs:
                verdict.unsure = True


# ---------------------------------------------------------------- expected


def _targets(reading: Reading, name: str) -> list[tuple[str, str, float]]:
    """What a name in an `expect` line stands for: two screws, and the volts needed between them."""
    owner, _, inner = name.partition(".")
    device = reading.devices[owner]
    kind = KINDS[device.part]
    told = [
        (f"{owner}.{load.a}", f"{owner}.{load.b}", load.needs * reading.made_for(device, load))
        for load in kind.loads
        if inner in ("", load.name)
    ]
    told += [
        (f"{owner}.{hot}", f"{owner}.{neutral}", 0.85 * volts)
        for label, hot, neutral, volts in kind.outlets
        if inner in ("", label)
    ]
    return told


def _clocks(reading: Reading, states: list[State], verdict: Verdict) -> None:
    """What a clock turns off is not the clock."""
    by_choice = {tuple(state.chosen.values()): state for state in states}
    clocks = [device.name for device, load in reading.loads if load.name == "clock"]
    for name, state in itertools.product(clocks, states):
        (a, b, needs), *_ = _targets(reading, f"{name}.clock")
        moved = ({**state.chosen, name: position} for position in reading.switches[name])
        turned = [by_choice[tuple(chosen.values())] for chosen in moved]
        if len({one.across(a, b) >= needs for one in turned}) > 1:
            verdict.faults.add(f"{name} stops its own clock")


def _expected(reading: Reading, states: list[State], verdict: Verdict) -> None:
    named: set[str] = set()
    by_choice = {tuple(state.chosen.values()): state for state in states}
    for one in reading.work.expects:
        if hasattr(one, "switches"):
            named.add(one.load.text)
            switches = {word.text for word in one.switches}
            for a, b, needs in _targets(reading, one.load.text):
                on = {key: state.across(a, b) >= needs for key, state in by_choice.items()}
                if not _turns(reading, on, switches):
                    verdict.faults.add(f"{one.load.text} does not answer to its switches")
        elif hasattr(one, "outlet"):
            named.add(one.outlet.text)
            for a, b, needs in _targets(reading, one.outlet.text):
                if not all(state.across(a, b) >= needs for state in states if _in_service(reading, state)):
                    verdict.faults.add(f"{one.outlet.text} is not live")
        elif hasattr(one, "calls"):
            _runs(reading, states, one, verdict)
            named |= {word.text for word, _ in one.steps}
    for device in reading.work.devices:
        kind = KINDS[device.part]
        for inner in [load.name for load in kind.loads] + [label for label, *_ in kind.outlets]:
            if {device.name, f"{device.name}.{inner}"} & named:
                continue
            for a, b, needs in _targets(reading, f"{device.name}.{inner}"):
                if not any(state.across(a, b) >= needs for state in states):
                    verdict.faults.add(f"{device.name}.{inner} is dead")
    _signals(reading, verdict)
    _lugs(reading, verdict)


def _in_service(reading: Reading, state: State) -> bool:
    """Whether every disconnect stands on: off is for those who work on what it serves."""
    return all(
        reading.switches[name][position]
        for name, position in state.chosen.items()
        if reading.devices[name].part == "disconnect-2-pole"
    )


def _lugs(reading: Reading, verdict: Verdict) -> None:
    """A subpanel has both legs where a breaker of its own needs them, and no bond: 250.142(B).

    In a building of its own it has an electrode, 250.32(A), which no part that is known here is.
    """
    verdict.hazards |= {f"{panel} is bonded" for panel in reading.work.bonded}
    verdict.hazards |= {f"{panel} has no electrode" for panel in reading.work.detached}
    for panel in reading.work.subpanels:
        here = {lug for pole, lug in reading.lug_of.items() if reading.place[pole] == panel}
        if any(lug not in reading.fed for lug in here):
            verdict.faults.add(f"a leg of {panel} is dead")
        both = [
            reading.fed[lug] for lug, owner in reading.lugs.items() if owner == panel and lug in reading.fed
        ]
        if len(both) == 2 and both[0] == both[1]:
            verdict.faults.add(f"both lugs of {panel} are on one leg")


def _turns(reading: Reading, on: dict[tuple[str, ...], bool], switches: set[str]) -> bool:
    """Whether each named switch turns it over from every position, and no other does."""
    names = list(reading.switches)
    for key, lit in on.items():
        for number, name in enumerate(names):
            for value in reading.switches[name]:
                other = (*key[:number], value, *key[number + 1 :])
                if other != key and (on[other] != lit) != (name in switches):
                    return False
    return True


def _runs(reading: Reading, states: list[State], one: object, verdict: Verdict) -> None:
    """`expect heat runs H1.element`: with thermostats calling, and the switches at rest, these run alone."""
    calls = {word.text for word in one.calls} - {"idle"}
    wanted = {word.text for word, _ in one.steps}
    for state in states:
        right = all(
            (position != "idle") == bool(calls)
            if KINDS[reading.devices[name].part].call
            else position == next(iter(reading.switches[name]))
            for name, position in state.chosen.items()
        )
        if not right:
            continue
        for device, load in reading.loads:
            (a, b, needs), *_ = _targets(reading, f"{device.name}.{load.name}")
            running = state.across(a, b) >= needs
            if running != bool({device.name, f"{device.name}.{load.name}"} & wanted):
                verdict.faults.add(f"{device.name} on {' and '.join(calls) or 'idle'}")


def _signals(reading: Reading, verdict: Verdict) -> None:
    """Alarms sound together only where their signal leads are one piece."""
    piece = reading.pieces()
    leads = {piece[screw] for screw, role in reading.role.items() if role == "i"}
    if len(leads) > 1:
        verdict.faults.add("the alarms are not all interconnected")

"""Random boards as networks, in a form that hypothesis can shrink.

A board is a handful of circuits, and a circuit a run of taps that repeats its
few loads; so a small description makes up to 2,000 nodes, and a failing one
shrinks to the circuit, the tap and the load that matter.
"""

from __future__ import annotations

from cmath import rect
from dataclasses import dataclass
from math import acos, radians

from hypothesis import strategies as st

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
from wirecheck.circuit.phasor import load_amps

MOST_NODES = 2000

# Volts of each hot leg against the neutral.
SYSTEMS = {
    "120": (120 + 0j,),
    "120/240": (120 + 0j, -120 + 0j),
    "208Y/120": (120 + 0j, rect(120, radians(-120)), rect(120, radians(120))),
}


@dataclass(frozen=True)
class Load:
    """What hangs on a tap; `size` is watts, or ohms of a meter or a leak."""

    kind: str
    size: float
    power_factor: float


@dataclass(frozen=True)
class Circuit:
    """A run of `taps` from a breaker, each after `ohms` of wire out and back.

    `kind` says what feeds the taps: `single` a leg and the neutral, `multiwire`
    two legs in turn over one neutral, `two-pole` two legs, `three-phase` all
    legs in turn, `control` the secondary of a transformer. At tap `open_hot` or
    `open_neutral` that conductor is open; `loop` closes the run into a ring.
    """

    kind: str
    leg: int
    taps: int
    ohms: complex
    loads: tuple[Load, ...]
    open_hot: int | None
    open_neutral: int | None
    loop: bool
    meter: bool
    volt_amperes: float
    earthed: bool


@dataclass(frozen=True)
class RandomBoard:
    """A source of `system` with `source_ohms` a leg, and its circuits."""

    system: str
    source_ohms: complex
    circuits: tuple[Circuit, ...]


class _Wiring:
    def __init__(self) -> None:
        self.nodes = 1
        self.branches: list[Branch] = []

    def node(self) -> int:
        self.nodes += 1
        return self.nodes - 1

    def name(self, kind: str) -> str:
        return f"{kind}{len(self.branches)}"

    def wire(self, a: int, ohms: complex) -> int:
        b = self.node()
        self.branches.append(Impedance(self.name("w"), a, b, ohms))
        return b

    def join(self, a: int, b: int, ohms: complex) -> None:
        self.branches.append(Impedance(self.name("j"), a, b, ohms))

    def load(self, load: Load, a: int, b: int, volts: float, linear: bool) -> None:
        name = self.name(load.kind)
        angle = acos(load.power_factor)
        if load.kind in ("meter", "leak"):
            self.branches.append(Impedance(name, a, b, load.size))
        elif load.kind == "heater":
            self.branches.append(Impedance(name, a, b, volts**2 / load.size))
        elif load.kind == "motor" or linear:
            size = volts**2 / (load.size / load.power_factor)
            self.branches.append(Impedance(name, a, b, rect(size, angle)))
        elif load.kind == "power":
            power = rect(load.size / load.power_factor, angle)
            self.branches.append(ConstantPower(name, a, b, power, 0.75 * volts))
        else:
            amps = load.size / load.power_factor / volts
            self.branches.append(ConstantCurrent(name, a, b, amps, angle, 0.75 * volts))


def network_of(board: RandomBoard, linear: bool = False) -> Network:
    """The board as a network; `linear` makes every load an impedance."""
    wiring = _Wiring()
    legs = []
    for volts in SYSTEMS[board.system]:
        legs.append(wiring.node())
        wiring.branches.append(Source(wiring.name("v"), legs[-1], 0, volts, board.source_ohms))
    for circuit in board.circuits:
        if wiring.nodes + 4 * circuit.taps + 8 <= MOST_NODES:
            _add(wiring, circuit, legs, linear)
    return Network(wiring.nodes, tuple(wiring.branches))


def _add(wiring: _Wiring, circuit: Circuit, legs: list[int], linear: bool) -> None:
    first = legs[circuit.leg % len(legs)]
    second = legs[(circuit.leg + 1) % len(legs)]
    volts, neutral = 120.0, 0
    two_leg_volts = 120.0 if first == second else 240.0 if len(legs) == 2 else 208.0
    match circuit.kind:
        case "multiwire":
            hots = [first] if first == second else [first, second]
        case "three-phase":
            hots = list(legs)
        case "two-pole" if first != second:
            hots, neutral, volts = [first], second, two_leg_volts
        case "control":
            one, other = wiring.node(), wiring.node()
            p2 = 0 if first == second else second
            volts = 24.0
            ratio = two_leg_volts / volts
            ohms = 0.05 * volts**2 / circuit.volt_amperes
            magnetizing = two_leg_volts**2 / (0.1 * circuit.volt_amperes)
            wiring.branches.append(
                Transformer(
                    wiring.name("t"), wiring.wire(first, circuit.ohms), p2, one, other,
                    ratio, complex(ohms, ohms / 2), complex(magnetizing / 4, magnetizing),
                )
            )  # fmt: skip
            hots, neutral = [one], other
            if circuit.earthed:
                wiring.join(other, 0, 0.01)
        case _:
            hots = [first]
    contact = 1e-3
    hots = [wiring.wire(hot, contact) for hot in hots]
    starts = list(hots)
    for tap in range(circuit.taps):
        for index, hot in enumerate(hots):
            if circuit.open_hot == tap:
                hots[index] = wiring.node()
                if circuit.meter:
                    wiring.join(hot, hots[index], 1e7)
            else:
                hots[index] = wiring.wire(hot, circuit.ohms)
        neutral = wiring.node() if circuit.open_neutral == tap else wiring.wire(neutral, circuit.ohms)
        load = circuit.loads[tap % len(circuit.loads)]
        hot = hots[tap % len(hots)]
        if load.kind == "leak":
            wiring.load(load, hot, 0, volts, linear)
        elif load.kind == "line-to-line" and len(hots) > 1:
            other = hots[(tap + 1) % len(hots)]
            wiring.load(Load("heater", load.size, 1), hot, other, two_leg_volts, linear)
        elif load.kind != "line-to-line":
            scale = circuit.volt_amperes / 1500 if circuit.kind == "control" else 1.0
            sized = load if load.kind == "meter" else Load(load.kind, load.size * scale, load.power_factor)
            wiring.load(sized, hot, neutral, volts, linear)
    if circuit.loop and circuit.taps > 1:
        for start, end in zip(starts, hots, strict=True):
            wiring.join(start, end, circuit.ohms)


def as_impedances(network: Network, solution: Solution) -> Network:
    """Every load of constant power or current as the impedance that it is in the solution."""
    branches: list[Branch] = []
    for branch in network.branches:
        if isinstance(branch, ConstantPower | ConstantCurrent):
            volts = solution.volts[branch.a] - solution.volts[branch.b]
            if abs(volts) < branch.floor:  # below it, the load is one impedance; and where it is dead, 0 / 0
                ohms = branch.floor / load_amps(branch, branch.floor)
            else:
                ohms = volts / solution.amps[branch.name]
            branch = Impedance(branch.name, branch.a, branch.b, ohms)
        branches.append(branch)
    return Network(network.nodes, tuple(branches))


watts = st.sampled_from([5.0, 40.0, 100.0, 250.0, 600.0, 1500.0])
factors = st.sampled_from([1.0, 0.95, 0.8, 0.6, 0.35])
loads = st.one_of(
    st.builds(Load, st.sampled_from(["heater", "motor", "power", "current", "line-to-line"]), watts, factors),
    st.builds(Load, st.just("meter"), st.just(1e7), st.just(1.0)),
    st.builds(Load, st.just("leak"), st.sampled_from([2.4e4, 1e6]), st.just(1.0)),
)
wire_ohms = st.sampled_from(
    [1e-3 + 0j, 5e-3 + 0j, 0.02 + 0j, 0.02 + 0.004j, 0.05 + 0.01j, 0.2 + 0.05j, 0.96 + 0j]
)


def circuits(taps: int) -> st.SearchStrategy[Circuit]:
    """A circuit of up to so many taps."""
    opened = st.one_of(st.none(), st.none(), st.integers(0, taps - 1))
    return st.builds(
        Circuit,
        kind=st.sampled_from(["single", "multiwire", "two-pole", "three-phase", "control"]),
        leg=st.integers(0, 2),
        taps=st.integers(1, taps),
        ohms=wire_ohms,
        loads=st.lists(loads, min_size=1, max_size=4).map(tuple),
        open_hot=opened,
        open_neutral=opened,
        loop=st.booleans(),
        meter=st.booleans(),
        volt_amperes=st.sampled_from([20.0, 40.0, 75.0, 500.0]),
        earthed=st.booleans(),
    )


def boards(taps: int = 100, most_circuits: int = 12) -> st.SearchStrategy[RandomBoard]:
    """A random board; as called, of up to 2,000 nodes."""
    return st.builds(
        RandomBoard,
        system=st.sampled_from(sorted(SYSTEMS)),
        source_ohms=st.sampled_from([0.012 + 0j, 0.005 + 0.012j, 0.2 + 0.1j]),
        circuits=st.lists(circuits(taps), min_size=1, max_size=most_circuits).map(tuple),
    )


def secondary_amps(transformer: Transformer, solution: Solution) -> complex:
    """Amps that a transformer delivers out of `s1`."""
    amps = solution.amps[transformer.name]
    if transformer.magnetizing_ohms is not None:
        primary = solution.volts[transformer.p1] - solution.volts[transformer.p2]
        amps -= primary / transformer.magnetizing_ohms
    return amps * transformer.ratio

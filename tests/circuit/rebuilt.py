"""A board's network built a second time, from the board and from values typed here.

It shares nothing with `wirecheck/circuit/circuit.py`, the tables or the parts
library: copper that is joined is found with networkx, a conductor's ohms are
NEC 2023 Chapter 9 Tables 8 and 9 by plain arithmetic, and what each part is
stands below. Taken over from the settled state are only what cannot be told
without solving: which coils are in, what has opened, and the volts at which a
load of constant power or current stands; and those are held to what the part
promises.
"""

from __future__ import annotations

from cmath import phase, rect
from math import acos
from typing import NamedTuple

import networkx

from wirecheck.circuit.network import Branch, Impedance, Network, Source, Transformer
from wirecheck.circuit.settle import Settled
from wirecheck.model.board import Board, Conductor, Device

# Table 8, ohm per 1,000 ft at 75 C: solid up to 10 AWG, stranded from 8 AWG on. (copper, aluminum)
TABLE_8 = {
    "18": (7.77, 12.8), "14": (3.07, 5.06), "12": (1.93, 3.18), "10": (1.21, 2.00), "8": (0.778, 1.28),
    "6": (0.491, 0.808), "2": (0.194, 0.319),
}  # fmt: skip
# Table 9, ohm per 1,000 ft: reactance in PVC and in steel.
REACTANCE = {
    "14": (0.058, 0.073), "12": (0.054, 0.068), "10": (0.050, 0.063), "8": (0.052, 0.065),
    "6": (0.051, 0.064), "2": (0.045, 0.057), "1/0": (0.044, 0.055), "4/0": (0.041, 0.051),
}  # fmt: skip
# Table 9, ohm per 1,000 ft at 75 C: copper in PVC and steel, aluminum in PVC and steel.
TABLE_9 = {"1/0": ((0.12, 0.12), (0.20, 0.20)), "4/0": ((0.062, 0.063), (0.10, 0.10))}
# Note 2 to Table 8: change per C.
PER_DEGREE = (0.00323, 0.00330)

CLOSED = 1e-3  # ohm of a closed contact (common practice)

# What is closed in each position of a switch.
SWITCHES = {
    "single-pole-switch": {"on": [("line", "load")], "off": []},
    "3-way-switch": {"up": [("common", "traveler-1")], "down": [("common", "traveler-2")]},
    "4-way-switch": {
        "up": [("in-1", "out-1"), ("in-2", "out-2")],
        "down": [("in-1", "out-2"), ("in-2", "out-1")],
    },
    "disconnect-2-pole": {"on": [("line-1", "load-1"), ("line-2", "load-2")], "off": []},
}
# What a coil closes when it is in, and when it is out.
RELAYS = {
    "contactor": ([("line-1", "load-1"), ("line-2", "load-2")], []),
    "relay-spdt": ([("common", "no")], [("common", "nc")]),
}
# VA and power factor of a 24 V coil: in, and before it is. It pulls in at 19.2 V and lets go at 10 V.
COILS = {"contactor": ((8, 0.5), (35, 0.7)), "relay-spdt": ((4, 0.5), (8, 0.7))}
PULLS_IN, DROPS_OUT = 19.2, 10.0
# Below 70 % of its volts a motor or a driver is an impedance.
FLOOR = 0.7


class Rebuilt(NamedTuple):
    """The network, and each point's node in it."""

    network: Network
    node: dict[str, int]


def ohms_of(conductor: Conductor, board: Board) -> complex:
    """Its impedance at the board's ambient."""
    metal = ("copper", "aluminum").index(conductor.material)
    raceway = board.raceways.get(conductor.raceway or "")
    steel = int(raceway is not None and raceway.kind == "EMT")
    warm = 1 + PER_DEGREE[metal] * (board.ambient - 75)
    if conductor.size in TABLE_9:
        # Table 9 gives the skin effect in its own figures; Table 8 carries one more digit below 1/0.
        per_thousand = TABLE_9[conductor.size][metal][steel] * warm
    else:
        per_thousand = TABLE_8[conductor.size][metal] * warm
    reactance = REACTANCE.get(conductor.size, (0.0, 0.0))[steel]
    return complex(per_thousand, reactance) * conductor.length / 0.3048 / 1000


def rebuild(board: Board, settled: Settled) -> Rebuilt:
    """The board's network in the state that was settled."""
    copper = networkx.Graph()
    copper.add_node("earth")
    for panel in board.panels.values():
        if not panel.fed:
            copper.add_edges_from(("earth", f"{panel.name}.{bar}") for bar in ("neutral", "ground"))
        elif panel.bonded:
            copper.add_edge(f"{panel.name}.neutral", f"{panel.name}.ground")
    for join in board.joins:
        points = [member.point for member in join.members if member.kind != "pigtail"]
        networkx.add_path(copper, points)
    branches = _Branches(board, settled)
    copper.add_nodes_from(branches.points())
    copper.add_edges_from(branches.inner)
    node = dict.fromkeys(networkx.node_connected_component(copper, "earth"), 0)
    number = 0
    for piece in networkx.connected_components(copper):
        if "earth" not in piece:
            number += 1
            node.update(dict.fromkeys(piece, number))
    return Rebuilt(Network(number + 1, tuple(branches.numbered(node))), node)


class _Branches:
    def __init__(self, board: Board, settled: Settled) -> None:
        self.settled = settled
        self.opened = {opening.name for opening in settled.opened}
        # (name, its points, and what makes a branch of their nodes)
        self.found: list[tuple[str, tuple[str, ...], object]] = []
        self.inner: list[tuple[str, str]] = []
        for conductor in board.conductors.values():
            self.impedance(conductor.name, *conductor.ends, ohms_of(conductor, board))
        for panel in board.panels.values():
            amperes = panel.available or 10_000.0
            for leg, volts in panel.legs.items():
                name = f"{panel.name}.leg-{leg}"
                if panel.fed:
                    self.inner += [] if panel.main else [(name, f"{panel.name}.{leg}")]
                    continue
                self.found.append((name, (name, "earth"), (volts, complex(120 / amperes))))
        for breaker in board.breakers.values():
            if breaker.name not in self.opened:
                for pole, (terminal, leg) in enumerate(breaker.poles):
                    name = breaker.name if pole == 0 else f"{breaker.name}/{pole + 1}"
                    self.impedance(name, f"{breaker.panel}.leg-{leg}", terminal, CLOSED)
        for device in board.devices.values():
            self.device(device)

    def points(self) -> list[str]:
        return [point for _, points, _ in self.found for point in points]

    def impedance(self, name: str, a: str, b: str, ohms: complex) -> None:
        self.found.append((name, (a, b), complex(ohms)))

    def contact(self, device: str, a: str, b: str) -> None:
        self.impedance(f"{device}.{a}--{b}", f"{device}.{a}", f"{device}.{b}", CLOSED)

    def device(self, device: Device) -> None:
        name, part = device.name, device.part.name
        value = {key: getattr(quantity, "value", None) for key, quantity in device.values.items()}
        if part in SWITCHES:
            for a, b in SWITCHES[part][self.settled.positions[name]]:
                self.contact(name, a, b)
        elif part in RELAYS:
            self.relay(name, part)
        elif part == "lampholder":
            self.impedance(name, f"{name}.hot", f"{name}.neutral", 120**2 / value["power"])
        elif part == "heater":
            self.impedance(name, f"{name}.a", f"{name}.b", value["voltage"] ** 2 / value["power"])
        elif part == "motor":
            self.constant(name, "a", "b", value["voltage"], value["current"], 0.75, "current")
        elif part == "bath-fan":
            self.constant(name, "hot", "neutral", 120, value["current"], 0.6, "current")
        elif part == "luminaire":
            self.constant(name, "hot", "neutral", 120, value["power"] / 0.9 / 120, 0.9, "power")
        elif part in ("class-2-transformer", "fused-class-2-transformer"):
            self.transformer(name, part, value["primary"], value["capacity"])
        else:
            assert part == "duplex-receptacle", part

    def relay(self, name: str, part: str) -> None:
        # A load alone in its part goes by the part's name.
        runs = name in self.settled.running
        volts = self.settled.across(f"{name}.coil-a", f"{name}.coil-b")
        assert volts >= DROPS_OUT if runs else volts < PULLS_IN
        apparent, factor = COILS[part][0 if runs else 1]
        self.impedance(name, f"{name}.coil-a", f"{name}.coil-b", rect(24**2 / apparent, acos(factor)))
        for a, b in RELAYS[part][0 if runs else 1]:
            self.contact(name, a, b)

    def constant(
        self, name: str, one: str, other: str, volts: float, amps: float, factor: float, kind: str
    ) -> None:
        """A load of constant current or power as the impedance that it is, held to what it draws."""
        a, b = f"{name}.{one}", f"{name}.{other}"
        below = rect(FLOOR * volts / (amps if kind == "current" else amps / FLOOR), acos(factor))
        node, flows = self.settled.circuit.node, self.settled.amps[name]
        across = self.settled.volts[node[a]] - self.settled.volts[node[b]]
        if abs(across) < FLOOR * volts:
            self.impedance(name, a, b, below)
            return
        ohms = across / flows
        drawn, rated = (abs(flows), amps) if kind == "current" else (abs(across * flows), volts * amps)
        assert abs(drawn - rated) < 1e-8 * rated, (name, drawn, rated)
        assert abs(phase(ohms) - acos(factor)) < 1e-8
        self.impedance(name, a, b, ohms)

    def transformer(self, name: str, part: str, primary: float, capacity: float) -> None:
        """24 V at full load behind 15 % of impedance; open, 15 % more."""
        source = f"{name}.secondary-r"
        if part == "fused-class-2-transformer":
            self.inner.append((f"{name}.fuse.load", source))
            if f"{name}.fuse" not in self.opened:
                self.impedance(f"{name}.fuse", f"{name}.fuse.line", f"{name}.fuse.load", CLOSED)
            source = f"{name}.fuse.line"
        if name not in self.opened:
            ends = (f"{name}.primary-hot", f"{name}.primary-neutral", source, f"{name}.secondary-c")
            self.found.append((name, ends, (primary / (24 * 1.15), 0.15 * 24**2 / capacity)))

    def numbered(self, node: dict[str, int]) -> list[Branch]:
        told: list[Branch] = []
        for name, points, what in self.found:
            ends = [node[point] for point in points]
            if isinstance(what, complex):
                told.append(Impedance(name, ends[0], ends[1], what))
            elif len(ends) == 2:
                told.append(Source(name, ends[0], ends[1], *what))
            else:
                told.append(Transformer(name, *ends, *what))
        return told

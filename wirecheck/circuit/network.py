"""The network that is solved: nodes by number, branches by kind, in phasors.

A network is what a circuit looks like in one state: conductors and closed
contacts are impedances, a source is an ideal voltage behind its impedance.
Volts and amperes are RMS phasors; a branch's current flows from `a` to `b`
through it. Node 0 is earth, where every panel's neutral and ground meet.
"""

from __future__ import annotations

from typing import NamedTuple


class Impedance(NamedTuple):
    """A conductor, a closed contact, a lamp: `ohms` > 0 in magnitude."""

    name: str
    a: int
    b: int
    ohms: complex


class Source(NamedTuple):
    """Volts at `a` over `b` behind `ohms`; its current flows from `a` to `b` through it."""

    name: str
    a: int
    b: int
    volts: complex
    ohms: complex


class Transformer(NamedTuple):
    """Two windings. With no load, V(s1, s2) = V(p1, p2) / ratio; `ohms` is in series on the secondary side.

    Its current in `Solution.amps` is the primary's, from p1 to p2; the
    secondary delivers `ratio` times that out of s1.
    """

    name: str
    p1: int
    p2: int
    s1: int
    s2: int
    ratio: float
    ohms: complex
    magnetizing_ohms: complex | None = None


class ConstantPower(NamedTuple):
    """Draws `watts + j vars` at any voltage from `floor` volts up; an impedance below it."""

    name: str
    a: int
    b: int
    power: complex
    floor: float


class ConstantCurrent(NamedTuple):
    """Draws `amps` at power factor angle `angle` from `floor` volts up; an impedance below it.

    The angle is in radians, positive where the current lags.
    """

    name: str
    a: int
    b: int
    amps: float
    angle: float
    floor: float


Branch = Impedance | Source | Transformer | ConstantPower | ConstantCurrent


class Network(NamedTuple):
    """`nodes` counts them, 0 to nodes - 1; 0 is earth."""

    nodes: int
    branches: tuple[Branch, ...]


class Solution(NamedTuple):
    """Volts to earth by node, amps by branch; `floating` nodes have no path to earth.

    The volts within a floating part are right against each other, and its
    first node stands at 0. `islands` gives each node the first node of its
    part (0 for what has a path to earth): volts between two parts mean nothing.
    `left_out` names the branches that were taken as open, since with them there is no answer.
    """

    volts: tuple[complex, ...]
    amps: dict[str, complex]
    floating: frozenset[int]
    islands: tuple[int, ...]
    left_out: frozenset[str] = frozenset()

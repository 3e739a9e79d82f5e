"""Which way a motor on three phases turns: by the order in which the volts of its lines follow each other.

Source: NEMA MG 1: on lines 1, 2, 3 in their order at T1, T2, T3 it turns forward (from memory)
"""

from __future__ import annotations

from wirecheck.circuit.circuit import Circuit, Load
from wirecheck.circuit.settle import Settled


def motors(circuit: Circuit) -> list[Load]:
    """The motors on three phases."""
    return [load for load in circuit.loads if load.c is not None and load.kind == "motor"]


def forward(state: Settled, motor: Load) -> bool:
    """Whether a motor that runs in a state turns forward."""
    (a, b), (_, c), _ = motor.pairs
    one, two, three = (state.volts[state.circuit.node[end]] for end in (a, b, c))
    return follow(one, two, three)


def follow(one: complex, two: complex, three: complex) -> bool:
    """Whether the volts of the second pair of three points come after those of the first.

    Examples
    --------
    >>> from cmath import rect
    >>> from math import radians
    >>> a, b, c = (rect(120, radians(degrees)) for degrees in (0, -120, 120))
    >>> follow(a, b, c), follow(a, c, b)
    (True, False)
    """
    return ((one - two).conjugate() * (two - three)).imag < 0

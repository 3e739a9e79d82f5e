"""Builds a ladder of n rungs, solves it and prints the volts at its far end: `python ladder.py 10000`.

A source, and a rung a time: a series wire, a wire and an R-L load. Run as a
whole process beside ngspice by test_ladder.py.
"""

from __future__ import annotations

import sys
from math import pi
from pathlib import Path

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[2]))

from wirecheck.circuit.network import Branch, Impedance, Network, Source
from wirecheck.circuit.phasor import solve

SERIES = 0.003
WIRE = 0.01


def load(rungs: int) -> complex:
    """So light that the far end keeps volts whatever the length."""
    return (100 + 40j) * rungs


def ladder(rungs: int) -> Network:
    """Nodes 1 to n + 1 along the rail, n + 2 on at the loads."""
    ohms = load(rungs)
    branches: list[Branch] = [Source("LP", 1, 0, 120, 0.012)]
    for k in range(1, rungs + 1):
        branches += (
            Impedance(f"s{k}", k, k + 1, SERIES),
            Impedance(f"w{k}", k + 1, rungs + 1 + k, WIRE),
            Impedance(f"l{k}", rungs + 1 + k, 0, ohms),
        )
    return Network(2 * rungs + 2, tuple(branches))


def ladder_netlist(rungs: int) -> str:
    """The same for ngspice, which writes out.raw.

    The coil comes before its resistor: the other way round, ngspice 39 takes minutes.
    """
    ohms = load(rungs)
    henries = ohms.imag / (2 * pi * 60)
    lines = ["* ladder", "v1 x 0 dc 0 ac 120", "r0 x 1 0.012"]
    for k in range(1, rungs + 1):
        lines.append(f"rs{k} {k} {k + 1} {SERIES}")
        lines.append(f"rw{k} {k + 1} a{k} {WIRE}")
        lines.append(f"ll{k} a{k} b{k} {henries!r}")
        lines.append(f"rl{k} b{k} 0 {ohms.real}")
    lines += [".control", "ac lin 1 60 60", f"write out.raw v({rungs + 1})", "quit", ".endc", ".end"]
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    size = int(sys.argv[1])
    volts = solve(ladder(size)).volts[size + 1]
    sys.stdout.write(f"{volts.real!r} {volts.imag!r}\n")

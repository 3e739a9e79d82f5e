"""Networks as ngspice reads them, and its answers."""

from __future__ import annotations

import struct
import subprocess
from cmath import phase
from collections.abc import Sequence
from math import degrees, pi
from pathlib import Path

from tests.circuit.tableau import reference_nodes
from wirecheck.circuit.network import Impedance, Network, Source, Transformer

HERTZ = 60


def _impedance(name: str, meter: str, a: str, b: str, ohms: complex) -> list[str]:
    """A resistor, and a coil in series or a capacitor across as the reactance asks.

    A wire's resistor is written as a voltage that its ammeter's current makes (an H source). As an R,
    ngspice would add its siemens up with a 10 megohm meter's, and lose the meter's last digits.
    """
    lines = []
    if ohms.imag > 0:
        lines.append(f"l{name} x{name} {b} {ohms.imag / (2 * pi * HERTZ)!r}")
        b = f"x{name}"
    elif ohms.imag < 0:
        siemens = 1 / ohms
        lines.append(f"c{name} {a} {b} {siemens.imag / (2 * pi * HERTZ)!r}")
        ohms = 1 / siemens.real
    if ohms.real < 1:
        lines.append(f"h{name} {a} {b} {meter} {ohms.real!r}")
    else:
        lines.append(f"r{name} {a} {b} {ohms.real!r}")
    return lines


def netlist(network: Network) -> str:
    """The network with an ammeter in every branch; only impedances, sources and transformers.

    Branch number k is read as the current of `vm<k>`.
    """
    lines = ["* a board"]
    for k, branch in enumerate(network.branches):
        match branch:
            case Impedance(a=a, b=b, ohms=ohms):
                lines.append(f"vm{k} {a} m{k} dc 0")
                lines += _impedance(str(k), f"vm{k}", f"m{k}", str(b), complex(ohms))
            case Source(a=a, b=b, volts=volts, ohms=ohms):
                lines.append(f"vm{k} {a} m{k} dc 0")
                lines += _impedance(str(k), f"vm{k}", f"m{k}", f"n{k}", complex(ohms))
                lines.append(f"v{k} n{k} {b} dc 0 ac {abs(volts)!r} {degrees(phase(volts))!r}")
            case Transformer(p1=p1, p2=p2, s1=s1, s2=s2, ratio=ratio, ohms=ohms):
                lines.append(f"vm{k} {p1} m{k} dc 0")
                lines.append(f"e{k} n{k} {s2} m{k} {p2} {1 / ratio!r}")
                lines.append(f"vs{k} n{k} o{k} dc 0")
                lines.append(f"f{k} m{k} {p2} vs{k} {1 / ratio!r}")
                lines += _impedance(str(k), f"vs{k}", f"o{k}", str(s1), complex(ohms))
                if branch.magnetizing_ohms is not None:
                    lines.append(f"vg{k} m{k} g{k} dc 0")
                    lines += _impedance(f"g{k}", f"vg{k}", f"g{k}", str(p2), complex(branch.magnetizing_ohms))
    lines += [f"rpin{node} {node} 0 1" for node in reference_nodes(network) if node]
    lines += [f".ac lin 1 {HERTZ} {HERTZ}", ".end"]
    return "\n".join(lines) + "\n"


def run_spice(networks: Sequence[Network], folder: Path) -> list[tuple[list[complex], dict[str, complex]]]:
    """Volts by node and amps by branch of each network, from one run of ngspice."""
    script = ["* all boards", ".control"]
    for index, network in enumerate(networks):
        (folder / f"{index}.cir").write_text(netlist(network))
        script += [f"source {index}.cir", "run", f"write {index}.raw", "destroy all", "remcirc"]
    script += ["quit", ".endc", ".end"]
    (folder / "all.cir").write_text("\n".join(script) + "\n")
    subprocess.run(["ngspice", "-b", "all.cir"], cwd=folder, check=True, capture_output=True, timeout=300)
    answers = []
    for index, network in enumerate(networks):
        values = read_raw(folder / f"{index}.raw")
        volts = [0j] + [values[f"v({node})"] for node in range(1, network.nodes)]
        amps = {branch.name: values[f"i(vm{k})"] for k, branch in enumerate(network.branches)}
        answers.append((volts, amps))
    return answers


def read_raw(path: Path) -> dict[str, complex]:
    """Every variable of a raw file with one complex point (ngspice manual, "write")."""
    head, _, body = path.read_bytes().partition(b"Binary:\n")
    lines = head.decode().splitlines()
    names = [line.split()[1] for line in lines[lines.index("Variables:") + 1 :]]
    numbers = struct.unpack(f"<{2 * len(names)}d", body[: 16 * len(names)])
    return {name: complex(*numbers[2 * k : 2 * k + 2]) for k, name in enumerate(names)}

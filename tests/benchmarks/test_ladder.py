"""What a solution costs: small networks, long ladders, and beside ngspice."""

from __future__ import annotations

import resource
import subprocess
import sys
from math import log
from pathlib import Path

import pytest

from tests.benchmarks.ladder import ladder, ladder_netlist
from tests.circuit.spice import read_raw
from wirecheck.circuit.phasor import solve

PROGRAM = Path(__file__).with_name("ladder.py")


@pytest.mark.parametrize("rungs", [30, 1000])
def test_ladder(benchmark, rungs: int) -> None:
    network = ladder(rungs)
    solution = benchmark(solve, network)
    assert 60 < abs(solution.volts[rungs + 1]) < 120


def seconds(command: list[str], folder: Path, runs: int) -> tuple[float, str]:
    """The least processor time of some runs of a whole process, and what it printed.

    Processor time, so that what else the machine does weighs on neither side.
    """
    best, printed = float("inf"), ""
    for _ in range(runs):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        printed = subprocess.run(command, cwd=folder, check=True, capture_output=True, text=True).stdout
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        best = min(best, after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime)
    return best, printed


def ours(rungs: int, folder: Path, runs: int) -> tuple[float, complex]:
    took, printed = seconds([sys.executable, str(PROGRAM), str(rungs)], folder, runs)
    return took, complex(*map(float, printed.split()))


@pytest.mark.slow
def test_cost_grows_with_the_rungs(tmp_path: Path) -> None:
    short, _ = ours(1_000, tmp_path, 4)
    long, volts = ours(40_000, tmp_path, 2)
    assert 60 < abs(volts) < 120
    exponent = log(long / short) / log(40)
    assert exponent <= 1.15, f"1,000 rungs {short:.3f} s, 40,000 rungs {long:.3f} s: n^{exponent:.2f}"


@pytest.mark.slow
@pytest.mark.ngspice
def test_five_times_as_fast_as_ngspice(tmp_path: Path) -> None:
    rungs = 10_000
    (tmp_path / "ladder.cir").write_text(ladder_netlist(rungs))
    took, volts = ours(rungs, tmp_path, 4)
    spice, _ = seconds(["ngspice", "-b", "ladder.cir"], tmp_path, 2)
    other = read_raw(tmp_path / "out.raw")[f"v({rungs + 1})"]
    assert abs(volts - other) <= 1e-6 * abs(other)
    sys.stdout.write(f"{rungs} rungs: {took:.3f} s, ngspice {spice:.3f} s: {spice / took:.1f} times\n")
    assert spice >= 5 * took, f"{rungs} rungs: {took:.3f} s, ngspice {spice:.3f} s"

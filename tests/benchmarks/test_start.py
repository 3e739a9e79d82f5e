"""What a whole `wirecheck check` costs beside starting Python with the libraries it stands on."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

import pytest

STAIR = Path(__file__).parents[1] / "language" / "samples" / "stair-light.wire"
CHECK = [sys.executable, "-m", "wirecheck", "check", str(STAIR)]
IMPORTS = [sys.executable, "-c", "import lark, networkx, click"]
# An installed package is compiled once; so is a clone, after its first run.
COMPILED = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
MOST = 1.5


def run(command: list[str]) -> float:
    """Seconds of one whole process."""
    start = time.perf_counter()
    subprocess.run(command, check=True, capture_output=True, env=COMPILED)
    return time.perf_counter() - start


@pytest.mark.parametrize("command", [CHECK, IMPORTS], ids=["check", "imports"])
def test_process(benchmark, command: list[str]) -> None:
    benchmark.group = "one whole process"
    benchmark.pedantic(run, args=(command,), rounds=7, warmup_rounds=1)


@pytest.mark.slow
def test_a_check_costs_no_more_than_half_as_much_again_as_the_imports() -> None:
    """In turn, A B A B, so that a busy machine weighs on both; the median of the pairs counts."""
    for command in (CHECK, IMPORTS):
        run(command)
    ratios = [run(CHECK) / run(IMPORTS) for _ in range(9)]
    ratio = statistics.median(ratios)
    assert ratio <= MOST, f"median {ratio:.2f}, from {min(ratios):.2f} to {max(ratios):.2f}"

"""That a board of many thermostats costs what its systems cost, and no more: from one to five hundred."""

from __future__ import annotations

import gc
import sys
import time
from math import log

import pytest

from tests.circuit.repeated import repeated
from wirecheck import check, files

KINDS = ("heating-call", "cooling-call", "heat-pump", "boiler-two-zones", "packaged-unit")
MOST_EXPONENT = 1.15


def texts(kinds: tuple[str, ...]) -> list[str]:
    return [(files.folder("boards") / kind / "right.wire").read_text() for kind in kinds]


def seconds(kinds: tuple[str, ...], count: int, runs: int = 1) -> float:
    """The least processor time of some checks of a board on which all is right."""
    text = repeated(texts(kinds), count)
    best = float("inf")
    for _ in range(runs):
        gc.collect()
        start = time.process_time()
        report = check(text)
        best = min(best, time.process_time() - start)
        assert not report.findings
    return best


def exponent(kinds: tuple[str, ...], few: int, many: int) -> tuple[float, str]:
    """How the cost grows between two counts of systems, and what it is."""
    seconds(kinds, len(kinds))
    one, other = seconds(kinds, few, 3), seconds(kinds, many)
    told = log(other / one) / log(many / few)
    return told, f"{few} systems {one:.3f} s, {many} systems {other:.3f} s: n^{told:.2f}"


@pytest.mark.slow
@pytest.mark.parametrize("kinds", [KINDS[:1], KINDS], ids=["of one kind", "of five kinds"])
def test_sixty_thermostats_cost_sixty_times_one(kinds: tuple[str, ...]) -> None:
    few = len(kinds)
    seconds(kinds, few)
    # Both as often: the least of three against one of one is a measure of the machine's moods.
    one, sixty = seconds(kinds, few, 3) / few, seconds(kinds, 60, 3)
    # By the exponent that is aimed at, from the systems that one of them was timed with.
    most = 60 * (60 / few) ** (MOST_EXPONENT - 1)
    assert sixty <= most * one, f"one {one:.3f} s, sixty {sixty:.3f} s: {sixty / one:.1f} times"


@pytest.mark.slow
@pytest.mark.parametrize("kinds", [KINDS[:1], KINDS], ids=["of one kind", "of five kinds"])
def test_cost_grows_with_the_systems(kinds: tuple[str, ...]) -> None:
    few = len(kinds)
    grows, told = exponent(kinds, few, 500)
    sys.stdout.write(f"{told}\n")
    assert grows <= MOST_EXPONENT, told


@pytest.mark.slow
def test_ten_thermostats(benchmark) -> None:
    text = repeated(texts(KINDS), 10)
    assert not benchmark.pedantic(check, args=(text,), rounds=3, warmup_rounds=1).findings

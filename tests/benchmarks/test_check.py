"""What a check costs beside the sum of its parts, and the search for a mistake beside a check.

Ratios of processor time, in one process and in turn: a busy machine weighs on both sides.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from time import process_time

import pytest

import wirecheck
from wirecheck import files
from wirecheck.assembly import read, shipped_parts
from wirecheck.circuit.circuit import circuit
from wirecheck.circuit.settle import resting, settle
from wirecheck.model.build import build

BOARDS = files.folder("boards")
EFFORT = 400


def least(works: Sequence[Callable[[], object]], rounds: int) -> list[float]:
    """The least processor time of each, in turn."""
    best = [float("inf")] * len(works)
    for _ in range(rounds):
        for index, work in enumerate(works):
            begun = process_time()
            work()
            best[index] = min(best[index], process_time() - begun)
    return best


def text_of(name: str) -> str:
    return (BOARDS / f"{name}.wire").read_text("utf-8")


@pytest.mark.parametrize(
    ("name", "most"),
    [("stair-light/right", 4.0), ("heat-pump/right", 12.0)],
    ids=["stair light", "heat pump"],
)
def test_a_check_beside_the_sum_of_its_parts(benchmark, name: str, most: float) -> None:
    """Every state and every rule, beside reading, building and solving once."""
    text, parts = text_of(name), shipped_parts()

    def once() -> None:
        board = circuit(build(read(text, name), parts))
        settle(board, resting(board))

    whole, sum_of_parts = least([lambda: wirecheck.check(text), once], 5)
    ratio = whole / sum_of_parts
    benchmark.extra_info["ratio"] = ratio
    sys.stdout.write(f"{name}: {whole * 1e3:.1f} ms, {ratio:.1f} times its parts\n")
    assert ratio < most
    benchmark.pedantic(wirecheck.check, args=(text,), rounds=5)


@pytest.mark.parametrize(
    ("name", "most"),
    [
        ("stair-light/wrong-traveler-on-common", 20.0),
        pytest.param("heat-pump/wrong-o-left-off", 8.0, marks=pytest.mark.slow),
        pytest.param("float-switch-in-y/wrong-in-g", 90.0, marks=pytest.mark.slow),
    ],
    ids=["stair light", "heat pump", "float switch"],
)
def test_the_search_for_a_mistake_beside_a_check(benchmark, name: str, most: float) -> None:
    text = text_of(name)
    report = wirecheck.check(text, effort=EFFORT)
    assert any(finding.mends for finding in report.findings)
    search, check = least([lambda: wirecheck.check(text, effort=EFFORT), lambda: wirecheck.check(text)], 3)
    ratio = search / check
    benchmark.extra_info["ratio"] = ratio
    sys.stdout.write(f"{name}: {search * 1e3:.0f} ms, {ratio:.1f} times a check\n")
    assert ratio < most
    benchmark.pedantic(wirecheck.check, args=(text,), kwargs={"effort": EFFORT}, rounds=1)

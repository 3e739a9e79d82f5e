"""What every position of the switches costs: six of one light, forty of forty, 150 stair lights."""

from __future__ import annotations

import time

import pytest

from tests.circuit.houses import hall, rooms, stairs
from tests.samples import board
from wirecheck.findings import findings
from wirecheck.judge.case import Case


@pytest.mark.parametrize(
    ("text", "most"),
    [(hall(6), 1.0), (rooms(40), 5.0), (stairs(150), 8.0)],
    ids=["six switches of one light", "forty rooms", "150 stair lights"],
)
def test_every_position_checked(benchmark, text: str, most: float) -> None:
    def checked() -> float:
        start = time.perf_counter()
        assert not [one for one in findings(Case(board(text))) if one.rule == "switching"]
        return time.perf_counter() - start

    assert benchmark.pedantic(checked, rounds=1) < most


@pytest.mark.slow
def test_time_grows_no_faster_than_the_rooms() -> None:
    """Four times the stairs: less than eight times the time; every state solved alone would cost 16."""

    def seconds(count: int) -> float:
        made = board(stairs(count))
        start = time.process_time()
        case = Case(made)
        assert len(case.states) == 4
        assert case.most
        return time.process_time() - start

    seconds(10)
    short = min(seconds(30) for _ in range(3))
    assert min(seconds(120) for _ in range(2)) < 8 * short

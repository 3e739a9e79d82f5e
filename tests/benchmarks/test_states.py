"""What every position of the switches costs: six of one light, forty of forty, 150 stair lights."""

from __future__ import annotations

import time
import timeit

import pytest

from tests.circuit.houses import hall, rooms, stairs
from tests.samples import board
from wirecheck.findings import findings
from wirecheck.judge.case import Case


@pytest.mark.slow
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

        def solved() -> None:
            case = Case(made)
            assert len(case.states) == 4
            assert case.most

        # timeit keeps the rubbish of other tests from being looked through meanwhile.
        return min(timeit.repeat(solved, timer=time.process_time, number=1, repeat=3))

    seconds(10)
    assert seconds(120) < 8 * seconds(30)

"""Which loads run, by what they draw."""

from __future__ import annotations

from tests.rules.circuits import one_load, two_loads
from tests.rules.hands import case
from wirecheck.judge.drawing import drawing, draws


def test_half_of_its_rating_is_the_least_that_a_load_runs_on() -> None:
    (load,) = case(one_load(part="baseboard-heater 1200 W 120 V")).circuit.loads
    assert draws(load, 5.0)
    assert not draws(load, 4.99)


def test_what_opened_is_asked_of_the_state_before() -> None:
    board = case(two_loads("baseboard-heater 1800 W 120 V", "baseboard-heater 1800 W 120 V", breaker="20 A"))
    (settled,) = board.states
    assert settled.opened
    assert all(settled.load_amps(load) == 0 for load in board.circuit.loads)
    assert [load.name for load in drawing(board.circuit.loads, settled)] == ["H1.element", "H2.element"]


def test_a_load_on_a_third_of_its_volts_stands_still() -> None:
    # A 240 V element on 120 V draws half of its current, one on 80 V of a long run less.
    half = case(one_load(part="baseboard-heater 960 W 240 V", cable="14/2 NM-B 1 ft"))
    assert not drawing(half.circuit.loads, half.states[0])
    full = case(one_load(part="baseboard-heater 960 W 120 V", cable="14/2 NM-B 1 ft"))
    assert len(drawing(full.circuit.loads, full.states[0])) == 1

"""What transformers feed."""

from __future__ import annotations

import pytest

from tests.judge.test_bunching import CALLED
from tests.rules.circuits import valves
from tests.rules.hands import COOLING, case
from wirecheck.judge.transformers import is_class_2, most_drawn, on_secondary


def test_the_loads_of_a_secondary_are_those_between_its_two_ends() -> None:
    board = case(CALLED)
    (winding,) = board.circuit.windings
    assert [load.name for load in on_secondary(board, winding)] == ["K"]


def test_what_draws_at_once_is_added_by_its_rating() -> None:
    board = case(valves("class-2-transformer 40 VA", 10, 15))
    (winding,) = board.circuit.windings
    drawn = most_drawn(board, winding)
    assert drawn.apparent == pytest.approx(25)
    assert {load.name for load in drawn.loads} == {"V0", "V1"}


def test_it_is_the_state_in_which_most_draws() -> None:
    board = case(CALLED)
    (winding,) = board.circuit.windings
    drawn = most_drawn(board, winding)
    assert ({load.name for load in drawn.loads}, drawn.settled.calls) == ({"K"}, {"heat"})
    # A call for heat draws the gas valve beside what the controls draw all the time.
    board = case(COOLING)
    (winding,) = board.circuit.windings
    drawn = most_drawn(board, winding)
    assert ({load.name for load in drawn.loads}, drawn.settled.calls) == (
        {"F", "F.gas-valve", "TS"},
        {"heat"},
    )


@pytest.mark.parametrize(("capacity", "class_2"), [(100, True), (101, False)])
def test_up_to_100_va_it_can_be_class_2(capacity: float, class_2: bool) -> None:
    board = case(valves(f"class-2-transformer {capacity} VA", 10))
    assert is_class_2(board, board.circuit.windings[0]) is class_2


@pytest.mark.parametrize(("volts", "class_2"), [(30, True), (31, False)])
def test_up_to_30_v_it_can_be_class_2(volts: float, class_2: bool) -> None:
    (winding,) = case(valves("class-2-transformer 40 VA", 10)).circuit.windings
    assert (
        is_class_2(case(valves("class-2-transformer", 1)), winding._replace(secondary_volts=volts)) is class_2
    )

"""Whether a load is fed, and whether it gets more than it can take."""

from __future__ import annotations

import pytest

from tests.rules.circuits import one_load
from tests.rules.hands import LIGHT, case
from wirecheck.judge.supply import is_fed, too_much


@pytest.mark.parametrize(("volts", "much"), [(138.5, False), (138.7, True)])
def test_a_twentieth_above_what_it_works_at_is_too_much(volts: float, much: bool) -> None:
    # 120 V within 10 % (132 V), and 5 % above that: 138.6 V.
    (load,) = case(one_load()).circuit.loads
    assert load.works_to == pytest.approx(132)
    assert too_much(load, volts) is much


def test_a_load_is_fed_while_its_switch_is_on() -> None:
    board = case(LIGHT)
    (load,) = board.circuit.loads
    assert [is_fed(load, board.settled({"S1": position})) for position in ("off", "on")] == [False, True]


@pytest.mark.parametrize(("power", "fed"), [("0.000126 W", True), ("0.000114 W", False)])
def test_a_leak_feeds_nothing(power: str, fed: bool) -> None:
    # At 120 V: 1.05 and 0.95 microamperes.
    board = case(one_load(part=f"baseboard-heater {power} 120 V"))
    assert is_fed(board.circuit.loads[0], board.states[0]) is fed

"""Whether a load is fed, and whether it gets more than it can take."""

from __future__ import annotations

import pytest

from tests.rules.circuits import one_load
from tests.rules.hands import LIGHT, case
from wirecheck.judge.supply import is_fed, too_much


@pytest.mark.parametrize(("volts", "much"), [(138.5, False), (138.7, True)])
def test_a_twentieth_above_what_it_works_at_is_too_much(volts: float, much: bool) -> None:
    # 120 V within 10 % (132 V), and 5 % above that: 138.6 V.
    (load,) = case(LIGHT).circuit.loads
    assert load.works_to == pytest.approx(132)
    assert too_much(load, volts) is much


@pytest.mark.parametrize(("volts", "much"), [(131.9, False), (132.1, True)])
def test_what_heats_takes_nothing_above_what_it_works_at(volts: float, much: bool) -> None:
    (load,) = case(one_load()).circuit.loads
    assert load.kind == "heater"
    assert load.works_to == pytest.approx(132)
    assert too_much(load, volts) is much


def test_a_load_is_fed_while_its_switch_is_on() -> None:
    board = case(LIGHT)
    (load,) = board.circuit.loads
    assert [is_fed(load, board.settled({"S1": position})) for position in ("off", "on")] == [False, True]


@pytest.mark.parametrize(("amps", "fed"), [(1.05e-6, True), (0.95e-6, False)])
def test_a_leak_feeds_nothing(amps: float, fed: bool) -> None:
    board = case(one_load())
    (load,) = board.circuit.loads
    leaking = board.states[0]._replace(amps={load.name: amps})
    assert is_fed(load, leaking) is fed

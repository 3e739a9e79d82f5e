"""Whose current flows where."""

from __future__ import annotations

import pytest

from tests.rules.circuits import MULTIWIRE, two_loads, valves
from tests.rules.hands import LIGHT, case
from wirecheck.judge.currents import drawers, shares

TWO = two_loads("baseboard-heater 600 W 120 V", "baseboard-heater 480 W 120 V")


def test_loads_and_primaries_draw() -> None:
    board = case(valves("class-2-transformer 40 VA", 10))
    assert [(one.of.name, one.a, one.b) for one in drawers(board)] == [
        ("V0", "V0.a", "V0.b"),
        ("T1", "T1.primary-hot", "T1.primary-neutral"),
    ]


def test_a_shared_wire_carries_each_loads_current() -> None:
    board = case(TWO)
    (settled,) = board.states
    told = shares(board, settled)
    assert {one.of.name: abs(one.amps) for one in told["W1.black"]} == pytest.approx(
        {"H1.element": 5, "H2.element": 4}, rel=0.02
    )
    assert [one.of.name for one in told["W2.black"]] == ["H2.element"]
    assert sum(one.amps for one in told["W1.black"]) == pytest.approx(settled.amps["W1.black"])
    assert sum(one.amps for one in told["W1.white"]) == pytest.approx(settled.amps["W1.white"])
    assert sum(one.amps for one in told["LP.3"]) == pytest.approx(settled.amps["LP.3"])


def test_in_a_shared_neutral_the_shares_take_from_each_other() -> None:
    board = case(MULTIWIRE)
    (settled,) = board.states
    one, other = shares(board, settled)["W1.white"]
    assert abs(one.amps) == pytest.approx(abs(other.amps)) == pytest.approx(9.7, rel=0.02)
    assert one.amps + other.amps == pytest.approx(settled.amps["W1.white"], abs=1e-6)


def test_a_contact_carries_what_its_load_draws_and_nothing_where_that_is_off() -> None:
    board = case(LIGHT)
    on, off = board.settled({"S1": "on"}), board.settled({"S1": "off"})
    (share,) = shares(board, on)["S1.line--load"]
    assert share.of.name == "L1"
    assert "S1.line--load" not in shares(board, off)
    assert shares(board, on) is shares(board, on)

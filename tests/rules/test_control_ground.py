"""Control circuits of motors that are grounded, or should be: NEC 250.20(A)(1), 430.74."""

from __future__ import annotations

import pytest

from tests.rules.hands import changed, seen
from wirecheck import files
from wirecheck.rules import control_ground, grounded_secondary, resting_heater

PUMP = files.rule_board("control-ground", "right")
COLD = files.rule_board("resting-heater", "right")
SIZE = "primary 480 V, secondary 24 V"


def test_the_right_boards_are_right() -> None:
    assert not seen(control_ground.RULE, PUMP)
    assert not seen(grounded_secondary.RULE, PUMP)
    assert not seen(resting_heater.RULE, COLD)


def test_buttons_on_the_grounded_side_are_told_together() -> None:
    (one,) = seen(control_ground.RULE, files.rule_board("control-ground", "wrong"))
    assert [button.name for button in one.buttons] == ["STOP", "START"]
    assert (one.coil.name, one.severity) == ("K", "hazard")


def test_one_button_on_the_grounded_side_is_told() -> None:
    text = changed(
        PUMP,
        ("  F3.load -- STOP.a\n  STOP.b -- START.a\n", "  F3.load -- START.a\n"),
        ("  K.A2 -- CT.X2 -- CT.ground\n", "  K.A2 -- STOP.a\n  STOP.b -- CT.X2 -- CT.ground\n"),
    )
    (one,) = seen(control_ground.RULE, text)
    assert [button.name for button in one.buttons] == ["STOP"]


@pytest.mark.parametrize(
    ("system", "size", "found"),
    [
        # 250.20(A)(1): below 50 V, where the supply has more than 150 V to ground.
        ("480Y/277 V", SIZE, 1),
        ("208Y/120 V", SIZE.replace("480 V", "208 V"), 0),
        ("480Y/277 V", SIZE.replace("24 V", "120 V"), 0),
    ],
)
def test_a_secondary_that_floats(system: str, size: str, found: int) -> None:
    text = changed(
        PUMP,
        ("  K.A2 -- CT.X2 -- CT.ground\n", "  K.A2 -- CT.X2\n"),
        ("480Y/277 V", system),
        (SIZE, size),
    )
    assert len(seen(grounded_secondary.RULE, text)) == found


def test_a_heater_behind_the_contactor_is_cold_at_rest() -> None:
    (one,) = seen(resting_heater.RULE, files.rule_board("resting-heater", "wrong"))
    assert (one.load.name, one.call, one.severity) == ("CH", "cool", "fault")

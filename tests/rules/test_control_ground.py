"""Control circuits of motors that are grounded, or should be: NEC 250.20(A)(1), 250.20(B)(1), 430.74."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import case, changed, own, reported, seen
from wirecheck import check, files
from wirecheck.findings import problems
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


HOT_SIDE = (Path(__file__).parents[1] / "mend" / "boards" / "ground-on-the-hot-side.wire").read_text("utf-8")


@pytest.mark.slow
def test_the_ground_of_the_side_that_the_buttons_are_in_belongs_on_the_other_one() -> None:
    """NEC 430.74: what the buttons open is the hot. The fuse is in the hot then, too (240.22)."""
    (told,) = check(HOT_SIDE, effort=400).findings
    assert told.rule == "control-ground"
    assert not told.follows
    mends = [one.mistake for one in told.mends]
    assert mends == ["At E, the jumper to GB.ground is on TX.X1, and belongs on TX.X2."]


def test_a_ground_on_the_wrong_side_is_one_mistake_and_told_where_it_is() -> None:
    """The fuse and the colors are right once the other side is on ground: NEC 240.22, 200.6(A), 200.7(A)."""
    text = changed(HOT_SIDE, ("  K.A2 -- pigtail 14 -- TX.X2\n", "  K.A2 -- W1\n  W1 -- TX.X2\n"))
    text = changed(text, ("\nat SP\n", "\nwire W1 14 THHN white 1 ft from E to E\n\nat SP\n"))
    assert {rule.name for rule, _ in problems(case(text))} == {
        "control-ground",
        "conductor-color",
        "switched-neutral",
    }
    (told,) = check(text).findings
    assert (told.rule, told.help) == (
        "control-ground",
        "Ground the other side: take what grounds TX.X1 off it, and put it on TX.X2. Then STOP and START are "
        "in the hot.",
    )
    assert text.splitlines()[told.line - 1] == "  TX.X1 -- pigtail 14 -- GB.ground"
    # With a fuse in the other side that is the hot, and what is in this one has to leave it.
    fused = changed(text, ("  W1 -- TX.X2\n", "  W1 -- F4.line\n  F4.load -- TX.X2\n"))
    fused = changed(fused, ("F3 is fuse", "F4 is fuse 1 A in E\nF3 is fuse"))
    told = reported(fused)
    assert "switched-neutral" in told and "conductor-color" in told
    (one,) = seen(control_ground.RULE, fused)
    assert one.turned is None


@pytest.mark.parametrize(
    ("system", "size", "found"),
    [
        # 250.20(A)(1): below 50 V, where the supply has more than 150 V to ground.
        ("480Y/277 V", SIZE, 1),
        ("208Y/120 V", SIZE.replace("480 V", "208 V"), 0),
        # 250.20(B)(1): what can have no more than 150 V to ground, whatever its supply.
        ("480Y/277 V", SIZE.replace("24 V", "120 V"), 1),
        ("208Y/120 V", SIZE.replace("480 V", "208 V").replace("24 V", "120 V"), 1),
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


def test_a_control_circuit_of_120_volts_that_floats() -> None:
    text = own("grounded-secondary", "control-of-120-volts")
    (one,) = seen(grounded_secondary.RULE, text)
    assert (one.subject, one.severity, one.stage) == ("T", "violation", "trim")
    assert reported(text) == ["grounded-secondary"]
    # Grounded on either side it is right; which side is another rule's matter.
    for side in ("K4 -- T.X2", "T.X1 -- F3.line"):
        assert not seen(grounded_secondary.RULE, changed(text, (f"  {side}\n", f"  {side} -- T.ground\n")))


def test_a_secondary_of_more_volts_than_can_be_grounded() -> None:
    """250.20(B)(1): one of two wires at 240 V would have 240 V to ground."""
    part = files.part_text("control-transformer").replace("120 V or 24 V", "240 V or 150 V or 151 V")
    floats = changed(PUMP, ("  K.A2 -- CT.X2 -- CT.ground\n", "  K.A2 -- CT.X2\n"))
    for size, found in (("240 V", 0), ("151 V", 0), ("150 V", 1)):
        text = changed(floats, (SIZE, SIZE.replace("24 V", size)), ("is control-transformer", "is own-one"))
        board = case(text, **{"own-one": part.replace("part control-transformer", "part own-one")})
        assert len(list(grounded_secondary.RULE.find(board))) == found


def test_a_start_button_that_its_holding_contact_goes_around() -> None:
    """The way through the holding contact is the shorter one; START is on the grounded side too."""
    text = own("control-ground", "held-around-start")
    (one,) = seen(control_ground.RULE, text)
    assert [button.name for button in one.buttons] == ["STOP", "START"]
    # Without its holding contact there the motor would only jog.
    assert one.holds
    # With STOP alone moved to the side of the fuse, START is told still.
    moved = changed(
        text,
        ("  F3.load -- OL.96\n", "  F3.load -- C1\n"),
        ("  C1 -- K4\n  K4", "  C4 -- OL.96\n  K4 -- C2\n  K4"),
        ("  STOP.b -- C2 -- START.a\n", "  STOP.b -- C4\n  C2 -- START.a\n"),
        ("wire CG", "wire C4 14 THHN yellow 13 ft from E to B in R3\nwire CG"),
        ("wire C2 14 THHN red", "wire C2 14 THHN white"),
    )
    (one,) = seen(control_ground.RULE, moved)
    assert [button.name for button in one.buttons] == ["START"]

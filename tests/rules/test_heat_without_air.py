"""Elements that stay on when their blower has stopped; NEC 2023 424.63."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import COOLING, LIGHT, STAIR, at, changed, seen
from wirecheck.rules.heat_without_air import RULE

ROOT = Path(__file__).parents[2]
BOARDS = ROOT / "boards" / "rules" / "heat-without-air"
RIGHT, WRONG = (BOARDS.joinpath(f"{name}.wire").read_text(encoding="utf-8") for name in ("right", "wrong"))
TWO = (ROOT / "tests/rules/boards/heat-without-air/two-blowers.wire").read_text(encoding="utf-8")


@pytest.mark.parametrize("text", [RIGHT, STAIR, COOLING, LIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_the_element_on_the_contact_that_opens_last() -> None:
    (found,) = seen(RULE, WRONG)
    assert (found.severity, found.stage, found.subject, found.call) == ("fault", "final", "HT", "heat")
    assert [blower.name for blower in found.blowers] == ["BL"]
    # Off after 30 s and 60 s.
    assert found.alone == pytest.approx(30)
    assert at(WRONG, found) == "SQ.m2 -- LS.a  # finds: heat-without-air"
    assert len(found.copper) == 2


def test_without_a_line_that_asks_it_is_found_too() -> None:
    assert len(seen(RULE, "".join(f"{line}\n" for line in WRONG.splitlines() if "expect" not in line))) == 1


def test_two_blowers_are_both_last() -> None:
    (found,) = seen(RULE, TWO)
    assert [blower.name for blower in found.blowers] == ["BL", "B2"]
    # One of them that is first is air.
    first = changed(
        TWO,
        ("  SQ.m2 -- LS.a\n", "  SQ.m2 -- LS.a -- B2.a\n"),
        ("SQ.m4 -- BL.a -- B2.a", "SQ.m4 -- BL.a"),
    )
    assert not seen(RULE, first)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        # Both on one contact stop together.
        ("  SQ.m4 -- BL.a\n", "  BL.a -- SQ.m2\n"),
        # A blower that runs in any case is not the element's.
        ("  SQ.m4 -- BL.a\n", "  PF.black -- BL.a\n"),
        # The element runs in any case.
        ("  SQ.m2 -- LS.a  # finds: heat-without-air\n", "  PF.black -- LS.a\n"),
    ],
)
def test_where_the_two_do_not_belong_together_nothing_is_said(old: str, new: str) -> None:
    assert not seen(RULE, changed(WRONG, (old, new)))


def test_where_the_motor_stands_elsewhere_the_element_may_need_none() -> None:
    text = changed(
        WRONG,
        ("voltage 240 V in CP\nHT is", "voltage 240 V in M\nHT is"),
        ("box CP", "box M junction 30 cu in\nbox CP"),
        ("at LP\n", "cable WM 14/2 NM-B 9 ft from CP to M\nat LP\n"),
        ("at CP\n", "at M\n  WM.black -- BL.a\n  WM.white -- BL.b\nat CP\n"),
        ("SQ.m4 -- BL.a", "SQ.m4 -- WM.black"),
        ("T1.primary-neutral -- BL.b", "T1.primary-neutral -- WM.white"),
    )
    assert not seen(RULE, text)


def test_a_heater_in_a_part_of_its_own_needs_no_blower() -> None:
    text = changed(
        WRONG,
        ("HT is heater with power 1500 W, voltage 240 V in CP", "HT is baseboard-heater 1500 W 240 V in CP"),
        ("LS.b -- HT.a", "LS.b -- HT.L1"),
        ("HT.b", "HT.L2"),
        ("expect heat runs BL, HT\nexpect LS stops HT\n", ""),
    )
    assert not seen(RULE, text)


def test_a_heater_of_24_volts_is_none_to_glow() -> None:
    text = changed(WRONG, ("power 1500 W, voltage 240 V in CP", "power 5 W, voltage 24 V in CP"))
    assert not seen(RULE, text)

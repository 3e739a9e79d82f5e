"""Contactors with coils of every usual voltage, and two that lock each other out."""

from __future__ import annotations

import pytest

from tests.rules.hands import case, changed, seen
from wirecheck import files
from wirecheck.rules import coil_voltage, motor_rotation, short_circuit

BOARDS = files.folder("boards")
RIGHT = (BOARDS / "heater-contactor" / "right.wire").read_text(encoding="utf-8")
REVERSING = (BOARDS / "reversing-starter" / "right.wire").read_text(encoding="utf-8")
WITHOUT = (BOARDS / "reversing-starter" / "wrong-interlocks-left-out.wire").read_text(encoding="utf-8")
STRAIGHT = (BOARDS / "reversing-starter" / "wrong-lines-not-exchanged.wire").read_text(encoding="utf-8")
BOTH = {"FWD": "pressed", "REV": "pressed"}


@pytest.mark.parametrize("volts", [24, 120, 208, 240, 277, 480])
@pytest.mark.parametrize("part", ["contactor-2-pole", "contactor-3-pole"])
def test_each_usual_coil_pulls_in_at_85_percent(part: str, volts: int) -> None:
    board = case(f'board "A coil"\npanel LP 120 V\nC is {part} with coil {volts} V\n')
    assert board.circuit.load["C"].volts == volts
    assert board.circuit.load["C"].pulls_in == pytest.approx(0.85 * volts)


@pytest.mark.parametrize(("volts", "severity"), [(24, ["hazard"]), (120, []), (240, ["fault"])])
def test_a_coil_on_120_volts(volts: int, severity: list[str]) -> None:
    text = changed(RIGHT, ("with coil 120 V in E", f"with coil {volts} V in E"))
    assert [one.severity for one in seen(coil_voltage.RULE, text)] == severity


def test_of_two_that_lock_each_other_out_one_is_in() -> None:
    """With both buttons pressed the coils race: one pulls in, and the other's circuit is open."""
    state = case(REVERSING).settled(BOTH)
    assert len(state.running & {"F", "R"}) == 1
    assert state.chattering == () and state.opened == ()


def test_without_interlocks_both_are_in_and_short_two_lines() -> None:
    state = case(WITHOUT).settled(BOTH)
    assert state.first is not None and {"F", "R"} <= state.first.running
    assert [one.severity for one in seen(short_circuit.RULE, WITHOUT)] == ["hazard"]


def test_a_motor_that_is_meant_to_reverse_turns_both_ways() -> None:
    assert seen(motor_rotation.RULE, REVERSING) == []


def test_a_starter_that_reverses_nothing_is_found() -> None:
    (found,) = seen(motor_rotation.RULE, STRAIGHT)
    assert (found.one, found.other.name, found.severity) == ("F", "R", "fault")


def test_two_contactors_that_do_not_lock_each_other_out_are_no_reversing_starter() -> None:
    """One beside the other, as where one takes over from the other, may bring the lines in one order."""
    text = changed(
        STRAIGHT,
        ("  R.22 -- F.A1\n", "  C3 -- F.A1\n"),
        ("  C3 -- pigtail -- F.14 -- pigtail -- R.21\n", "  C3 -- pigtail -- F.14 -- pigtail -- F.A1\n"),
    ).replace("  C3 -- F.A1\n", "")
    assert seen(motor_rotation.RULE, text) == []

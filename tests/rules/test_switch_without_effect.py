"""Switches that nothing feels, and loads that are always on beside a switched wire."""

from __future__ import annotations

import pytest

from tests.rules.hands import (
    COOLING,
    LIGHT,
    LOOP,
    STAIR,
    at,
    case,
    changed,
    own,
    reported,
    said,
    seen,
    shipped,
)
from wirecheck import files
from wirecheck.rules.switch_without_effect import RULE, AlwaysOn, Idle, OpenForGood

FOLDER = files.folder("boards") / "rules" / "switch-without-effect"
RIGHT = (FOLDER / "right.wire").read_text(encoding="utf-8")
WRONG = (FOLDER / "wrong.wire").read_text(encoding="utf-8").replace("  # finds: switch-without-effect", "")


@pytest.mark.parametrize("text", [RIGHT, STAIR, LOOP, LIGHT, COOLING])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_a_light_that_is_always_on_with_its_switched_wire_capped() -> None:
    idle, on = seen(RULE, WRONG)
    assert isinstance(idle, Idle) and isinstance(on, AlwaysOn)
    assert (on.subject, on.wire.name, on.severity, on.stage) == ("L1", "W2.red", "fault", "final")
    assert at(WRONG, on) == "cap W2.red"
    assert (idle.subject, idle.severity, idle.stage) == ("S1", "fault", "final")
    assert idle.nowhere is not None and idle.nowhere.name == "S1.load"
    assert at(WRONG, idle) == "W2.red -- S1.load"
    assert reported(WRONG) == ["switch-without-effect"]


@pytest.mark.parametrize(
    ("change", "on"),
    [
        # What an expect line names is judged by that.
        (("  W2.bare -- L1.ground\n", "  W2.bare -- L1.ground\nexpect L1 live\n"), []),
        # What must have power always is meant to be on; so is a receptacle.
        (("L1 is lampholder 60 W in B", "L1 is smoke-alarm in B"), []),
        # In another place the wire says nothing of this light.
        (("  cap W2.red\n",
          "  W2.red -- W3.red\nbox C octagon 15.5 cu in\ncable W3 14/3 NM-B 9 ft from B to C\n"
          "at C\n  cap W3.red\nat B\n  cap W3.black\n  cap W3.white\n  cap W3.bare\n"), []),
    ],
)  # fmt: skip
def test_what_may_be_always_on(change: tuple[str, str], on: list[str]) -> None:
    text = changed(WRONG, change).replace("  W2.bare -- L1.ground\n", "  cap W2.bare\n")
    assert [one.subject for one in seen(RULE, text) if isinstance(one, AlwaysOn)] == on


def test_a_switch_that_is_passed_by() -> None:
    text = changed(
        RIGHT, ("W2.red -- S1.load", "W2.red -- S1.line"), ("pigtail -- S1.line -- ", "S1.load -- ")
    )
    text = changed(
        text, ("  W1.black -- S1.load -- W2.black\n", "  W1.black -- W2.black -- pigtail -- S1.load\n")
    )
    text = changed(text, ("  W2.red -- S1.line\n", "  W2.red -- pigtail -- S1.line -- pigtail -- S1.load\n"))
    (one,) = seen(RULE, text)
    assert (one.subject, one.nowhere, at(text, one)) == ("S1", None, "S1 is single-pole-switch in A")


def test_a_switch_without_wires_is_not_tried() -> None:
    spare = "S9 is single-pole-switch in A\nL1 is"
    assert not seen(RULE, changed(RIGHT, ("L1 is", spare)))
    grounded = changed(
        RIGHT, ("L1 is", spare), ("pigtail -- S1.ground", "pigtail -- S1.ground -- pigtail -- S9.ground")
    )
    assert not seen(RULE, grounded)


def test_a_switch_beside_another_is_felt_while_that_is_off() -> None:
    text = changed(
        RIGHT,
        ("L1 is", "TM is timer-switch in A\nL1 is"),
        ("  W1.black -- pigtail -- S1.line -- W2.black\n",
         "  W1.black -- W2.black -- pigtail -- S1.line -- pigtail -- TM.line\n"),
        ("  W2.red -- S1.load\n", "  W2.red -- pigtail -- S1.load -- pigtail -- TM.load\n"),
    )  # fmt: skip
    assert not seen(RULE, text)


def test_a_disconnect_of_a_unit_that_nothing_calls_is_felt() -> None:
    """The unit does not run, and yet the disconnect decides whether it could."""
    text = changed(
        COOLING,
        ("  OW.red -- CU.Y\n  OW.white -- CU.C\n", "  cap OW.red\n  cap OW.white\n"),
        ("TW.yellow -- OW.red -- F.Y", "TW.yellow -- F.Y"),
        ("TW.blue -- OW.white -- F.C", "TW.blue -- F.C"),
        ("at TS\n", "  cap OW.red\n  cap OW.white\nat TS\n"),
    )
    assert not seen(RULE, text)


def test_what_only_a_call_shows_is_felt() -> None:
    """The switch stands beside a contact that cooling closes, behind one that heat closes."""
    part = (
        'part room-control "Two contacts"\n'
        + "".join(f"terminal {name} contact, holds 2\n" for name in "abcd")
        + "calls heat, cool\na -- b when call heat\nc -- d when call cool\n"
    )
    text = changed(
        RIGHT,
        ("L1 is", "RC is room-control in A\nL1 is"),
        ("pigtail -- S1.line -- W2.black", "pigtail -- RC.a -- W2.black"),
        ("  W2.red -- S1.load\n", "  RC.b -- pigtail -- RC.c -- pigtail -- S1.line\n"
         "  W2.red -- pigtail -- RC.d -- pigtail -- S1.load\n"),
    )  # fmt: skip
    assert not list(RULE.find(case(text, **{"room-control": part})))
    # Where no call closes that contact, the switch changes nothing.
    never = part.replace("a -- b when call heat", "a -- b when call heat and not call heat")
    assert [one.subject for one in RULE.find(case(text, **{"room-control": never}))] == ["S1"]


@pytest.mark.parametrize("line", ["expect L1 from S1\n", ""])
def test_what_an_expect_line_asks_says_it(line: str) -> None:
    text = (
        changed(WRONG, ("  cap W2.red\n", "  cap W2.red\n  cap W3.red\n")).replace("  cap W3.red\n", "")
        + line
    )
    assert reported(text) == (["switching"] if line else ["switch-without-effect"])


@pytest.mark.parametrize(
    ("change", "rules"),
    [
        # A dead light feels no switch; nor does one whose wire is loose.
        (("  W2.white -- L1.neutral\n", "  cap W2.white\n"), ["dead-outlet"]),
        (("  W2.red -- S1.load\n", ""), ["loose-conductor"]),
    ],
)
def test_what_is_told_in_place_of_it(change: tuple[str, str], rules: list[str]) -> None:
    assert [one for one in reported(changed(RIGHT, change)) if one != "neutral-at-switch"] == rules


STARTS = own("switch-without-effect", "starts-by-itself")


def test_a_motor_that_starts_by_itself_is_named() -> None:
    """Its holding contact is past the start button: with power it runs, and a press changes nothing."""
    (idle,) = seen(RULE, STARTS)
    assert isinstance(idle, Idle)
    assert (idle.subject, [load.name for load in idle.runs]) == ("START", ["M"])
    (told,) = said(RULE, STARTS)
    assert told.message.endswith(
        "M runs as soon as there is power, and starts again by itself after a power cut, and as soon as the "
        "stop button is let go: whoever has a hand in the machine can be hurt."
    )
    # OSHA 29 CFR 1910.213(b)(3), from memory: no restart by itself where it could injure.
    assert (idle.severity, told.severity) == ("hazard", "hazard")


@pytest.mark.slow
def test_where_nothing_runs_a_start_button_that_does_nothing_starts_nothing() -> None:
    (idle,) = seen(RULE, changed(STARTS, ("  S3 -- KM.13", "  cap S3"), ("  S2 -- KM.14", "  S2 -- KM.13")))
    assert idle.runs == ()


AHEAD = own("switch-without-effect", "valve-ahead-of-its-thermostat")


def test_a_thermostat_with_its_valve_ahead_of_it_is_told_as_advice() -> None:
    """The ground on its case is nothing that its call could reach."""
    (idle,) = seen(RULE, AHEAD)
    assert isinstance(idle, Idle) and idle.nowhere is not None
    assert (idle.subject, idle.nowhere.name, idle.severity) == ("TH", "TH.b", "advice")
    (told,) = said(RULE, AHEAD)
    assert "LLS hangs on the wire of TH.a, ahead of it." in told.message
    assert told.help == "Take the hot of LLS off the wire of TH.a, and bring it to TH.b."
    behind = changed(
        AHEAD, ("-- TC.black -- LC.black --", "-- TC.black --"), ("cap TC.white", "TC.white -- LC.black")
    )
    assert not seen(RULE, behind)


# ------------------------------------------------------- valves on for good

WET = own("switch-without-effect", "humidifier-on-power").replace("  # finds: switch-without-effect", "")


def test_a_humidifier_that_hangs_on_power_runs_for_good() -> None:
    (found,) = seen(RULE, WET)
    assert isinstance(found, OpenForGood)
    assert (found.subject, found.severity, found.stage, found.machine) == ("H", "fault", "final", "F")
    assert at(WET, found) == "TW.red -- MW.red -- F.R"
    assert reported(WET) == ["switch-without-effect"]


def test_a_humidifier_on_what_has_power_with_the_flame_is_right() -> None:
    text = changed(WET, ("  TW.red -- MW.red -- F.R\n", "  TW.red -- F.R\n  MW.red -- F.HUM\n"))
    assert not seen(RULE, text)


@pytest.mark.parametrize("line", ["expect H live\n", "expect idle runs nothing\n"])
def test_what_lines_say_of_a_valve_at_rest_is_judged_by_them(line: str) -> None:
    assert not seen(RULE, WET + line)
    # A line for a call says nothing of what runs without it.
    assert seen(RULE, WET + "expect fan runs F.blower.low-speed\n")


def test_what_is_no_valve_may_have_its_power_for_good() -> None:
    part = files.part_text("humidifier").replace("part humidifier", "part own-one")
    board = case(
        changed(WET, ("H is humidifier", "H is own-one")),
        **{"own-one": part.replace("load water valve", "load water motor")},
    )
    assert not list(RULE.find(board))


def test_a_bare_transformer_may_be_there_for_its_valve_alone() -> None:
    assert not seen(RULE, shipped("transformer-load"))

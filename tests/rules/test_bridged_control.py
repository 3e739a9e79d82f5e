"""A control that both its wires go around."""

from __future__ import annotations

from tests.rules.hands import at, changed, said, seen
from wirecheck import files
from wirecheck.rules.bridged_control import RULE

BOARDS = files.folder("boards") / "rules" / "bridged-control"
RIGHT = (BOARDS / "right.wire").read_text(encoding="utf-8")
WRONG = (BOARDS / "wrong.wire").read_text(encoding="utf-8")


def test_a_jumper_over_a_control_is_named_where_it_is() -> None:
    (problem,) = seen(RULE, WRONG)
    assert (problem.device.name, problem.contact.a, problem.contact.b) == ("LPC", "LPC.a", "LPC.b")
    assert "LPC.a -- pigtail -- LPC.b" in at(WRONG, problem)
    (finding,) = said(RULE, WRONG)
    assert finding.message.startswith("LPC does nothing: LPC.a and LPC.b are one piece of copper")
    assert seen(RULE, RIGHT) == []


def test_one_that_is_wired_to_nothing_is_not_bridged() -> None:
    assert seen(RULE, RIGHT + "L2 is low-pressure-control in CP\n") == []


def test_a_safety_is_asked_what_it_stops_and_a_switch_what_it_changes() -> None:
    for part in ("low-pressure", "flow-switch", "single-pole-switch"):
        a, b = ("line", "load") if part == "single-pole-switch" else ("a", "b")
        other = changed(
            WRONG, ("LPC is low-pressure-control", f"LPC is {part}"), ("LPC senses COMP, LLS\n", "")
        )
        assert (
            seen(
                RULE,
                other.replace("LPC.a", f"LPC.{a}")
                .replace("LPC.b", f"LPC.{b}")
                .replace(" -- pigtail -- LPC.ground", ""),
            )
            == []
        )


def test_one_side_of_a_changeover_may_be_bridged_alone() -> None:
    """Both throws on one wire: on either the contact has its other side."""
    both = changed(
        RIGHT,
        ("TH is cooling", "FD is termination-thermostat in CP\nTH is cooling"),
        ("LPC.a\n", "LPC.a -- pigtail -- FD.common -- pigtail -- FD.cold-side\n"),
    )
    assert [problem.contact.b for problem in seen(RULE, both)] == ["FD.cold-side"]


def test_one_pole_of_two_is_told_apart_from_all_of_a_control() -> None:
    """With the other pole it still stops the motor, and one line stays live."""
    text = (files.folder("boards") / "air-compressor" / "wrong-pressure-switch-wired-around.wire").read_text(
        "utf-8"
    )
    (finding,) = said(RULE, text)
    assert finding.message == (
        "PS does not open this line: PS.line-1 and PS.load-1 are one piece of copper, which stays live "
        "when PS opens PS.line-2."
    )

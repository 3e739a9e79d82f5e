"""Start windings on the line, and what keeps them from it."""

from __future__ import annotations

import pytest

from tests.rules.hands import at, case, changed, reported, said, seen
from wirecheck import files
from wirecheck.rules.start_winding import RULE, DropsOut, Straight

RIGHT = (files.folder("boards") / "rules" / "start-winding" / "right.wire").read_text(encoding="utf-8")
REACH_IN = (files.folder("boards") / "reach-in-cooler" / "right.wire").read_text(encoding="utf-8")
SAME_SCREW = ("  RC.b -- CP.S\n", ""), ("-- RC.a -- CP.R\n", "-- RC.a -- pigtail -- CP.S -- CP.R\n")
EXCHANGED = ("-- RC.a -- CP.R\n", "-- RC.a -- CP.S\n"), ("  RC.b -- CP.S\n", "  RC.b -- CP.R\n")
# A start relay and no capacitor.
BY_RELAY = (
    ("CP is capacitor-compressor in E\n", "CP is capacitor-compressor in E\nPR is potential-relay in E\n"),
    ("-- RC.a -- CP.R\n", "-- PR.1 -- CP.R\n"),
    ("RC is run-capacitor in E\n", ""),
    ("  C.load-2 -- CP.C\n  RC.b -- CP.S\n", "  C.load-2 -- pigtail -- PR.5 -- CP.C\n  PR.2 -- CP.S\n"),
)
NO_CAPACITOR = (
    ("SC is start-capacitor 160 uF with voltage 125 V in E\n", ""),
    ("  CR.S -- SC.a\n  SC.b -- CP.S\n", "  CR.S -- CP.S\n"),
)
# A switch that is not on at rest, in place of a thermostat.
BY_HAND = (
    ("TH is cooling-thermostat in E\n", "TH is 3-way-switch in E\n"),
    ("-- TH.a\n", "-- TH.common\n"),
    ("TH.b --", "TH.traveler-2 --"),
    ("expect cool runs CP.compressor\nexpect idle runs nothing\n", ""),
)
# A motor whose centrifugal switch is closed until it turns.
SPLIT_PHASE = """\
part split-phase-motor "Motor with a centrifugal switch"
terminal C line, sizes 18 to 8, rated 75 C
terminal R line, sizes 18 to 8, rated 75 C
terminal ground ground, sizes 18 to 8, rated 75 C
inner is junction
R -- inner.a when rotor is standing
load motor motor from R to C, 5 A at 240 V
load start coil from inner.a to C, 3 kVA at 240 V, power-factor 90 %, works 20 % to 110 %, starting, winding,
  auxiliary
state rotor standing, turning
rotor goes from standing to turning after 0.5 s when start runs
rotor goes from turning to standing when not R has 120 V to C
"""
BY_ITSELF = (
    ("CP is capacitor-compressor in E\n", "CP is split-phase-motor in E\n"),
    ("RC is run-capacitor in E\n", ""),
    ("-- RC.a -- CP.R\n", "-- CP.R\n"),
    ("  RC.b -- CP.S\n", ""),
)


def test_the_right_one() -> None:
    assert seen(RULE, RIGHT) == []


def test_one_past_its_capacitor() -> None:
    text = changed(RIGHT, *SAME_SCREW)
    (one,) = seen(RULE, text)
    assert isinstance(one, Straight) and one.severity == "hazard"
    assert at(text, one) == "C.load-1 -- pigtail -- RC.a -- pigtail -- CP.S -- CP.R"
    assert one.state.load_volts(one.winding) == pytest.approx(239, abs=1)


@pytest.mark.slow
def test_start_and_run_exchanged() -> None:
    """The capacitor is in series with the run winding, and the motor does not turn."""
    text = changed(RIGHT, *EXCHANGED)
    (one,) = seen(RULE, text)
    assert at(text, one) == "C.load-1 -- pigtail -- RC.a -- CP.S"
    assert [line.split()[0] for line in reported(text)] == ["start-winding"]


def test_a_potential_relay_does_not_take_it_out() -> None:
    """It picks up on more than the line's volts, which a start winding has behind a capacitor alone."""
    (one,) = seen(RULE, changed(RIGHT, *BY_RELAY))
    assert one.state.load_volts(one.winding) < 255


def test_a_switch_in_a_hand() -> None:
    """No call is made: the positions of the switch are tried, and played out."""
    assert seen(RULE, changed(RIGHT, *BY_HAND)) == []
    (told,) = said(RULE, changed(RIGHT, *BY_HAND, *SAME_SCREW))
    assert told.message.startswith("CP.start has 239 V with TH down, straight from the line")


def test_a_current_relay_takes_it_out() -> None:
    assert seen(RULE, changed(REACH_IN, *NO_CAPACITOR)) == []


def test_one_past_the_contact_of_its_relay() -> None:
    past = ("  CR.M -- CP.R\n  CR.S -- CP.S\n", "  CR.M -- CP.R -- CP.S\n")
    (one,) = seen(RULE, changed(REACH_IN, *NO_CAPACITOR, past))
    assert one.state.load_volts(one.winding) == pytest.approx(119, abs=2)


def test_a_centrifugal_switch_takes_it_out() -> None:
    """In the first moment it is straight on the line, in the end not: what lasts is looked at."""
    text = changed(RIGHT, *BY_HAND, *BY_ITSELF)
    assert list(RULE.find(case(text, **{"split-phase-motor": SPLIT_PHASE}))) == []


def test_a_centrifugal_switch_that_sticks() -> None:
    stuck = changed(SPLIT_PHASE, ("after 0.5 s when start runs", "after 0.5 s when not start runs"))
    (one,) = RULE.find(case(changed(RIGHT, *BY_HAND, *BY_ITSELF), **{"split-phase-motor": stuck}))
    assert one.winding.name == "CP.start"


@pytest.mark.slow
def test_a_run_capacitor_that_a_start_relay_takes_out() -> None:
    """The relay's contact is for the start capacitor alone; with no run capacitor there is none to lose."""
    rules = files.folder("boards") / "rules"
    right = (rules / "start-capacitor" / "right.wire").read_text(encoding="utf-8")
    assert not seen(RULE, right)
    text = changed(
        right,
        ("  RC.b -- pigtail -- PR.2 -- CP.S\n", "  RC.b -- pigtail -- PR.2 -- SC.b\n"),
        ("  SC.b -- PR.1\n", "  PR.1 -- CP.S\n"),
    )
    (found,) = seen(RULE, text)
    assert isinstance(found, DropsOut)
    assert (found.subject, found.motor.name, found.capacitor.name) == ("CP.start", "CP.compressor", "RC")
    assert (found.severity, found.stage, at(text, found)) == (
        "fault",
        "final",
        "RC.b -- pigtail -- PR.2 -- SC.b",
    )
    alone = changed(
        text, ("RC is run-capacitor in E\n", ""), ("-- RC.a", ""), ("  RC.b -- pigtail -- PR.2", "  PR.2")
    )
    assert not seen(RULE, alone)

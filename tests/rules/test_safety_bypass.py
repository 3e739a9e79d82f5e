"""Safeties that stop nothing: wired around, out of the way, or in a wire that nothing needs."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import at, changed, own, seen
from tests.rules.hookups import BENCH, HOOKUP, hooked, made
from wirecheck import check, files
from wirecheck.language.syntax import ExpectStops
from wirecheck.rules.safety_bypass import RULE, BurnsOn, Calls, GuardsNothing, RunsOn

BOARDS = files.folder("boards")
# A float switch in the white wire.
SWITCHED = changed(
    HOOKUP,
    ("TS is stat\n", "TS is stat\nFS is float-switch\n"),
    ("at LP\n", "cable FW 18/2 CL2 5 ft from F to FS\nat LP\n"),
    ("  TW.white -- F.W\n", "  TW.white -- FW.red\n  FW.white -- F.W\n"),
    ("at TS\n", "at FS\n  FW.red -- FS.a\n  FW.white -- FS.b\nat TS\n"),
)
STOPS = SWITCHED + "expect FS stops F.heating\n"


def right(board: str) -> str:
    return (BOARDS / board / "right.wire").read_text(encoding="utf-8")


def found(text: str, **parts: str) -> list[RunsOn | GuardsNothing]:
    return list(RULE.find(hooked(text, **parts)))


@pytest.mark.parametrize("board", ["condensing-furnace", "float-switch-in-y", "boiler-two-zones"])
def test_right_boards_are_right(board: str) -> None:
    # A pressure switch stands open at rest; opening it is its trip.
    assert seen(RULE, right(board)) == []
    assert found(STOPS) == found(SWITCHED) == []


# ------------------------------------------------------------------ burns on


PAST, CROSSED, BESIDE = (
    (Path(__file__).parent / "boards" / "safety-bypass" / f"{name}.wire").read_text(encoding="utf-8")
    for name in ("burner-past-the-limit", "burner-and-circulator-swapped", "heater-beside-its-limit")
)
ON_ITS_SCREW = ("  BU.black -- AQ.L1", "  BU.black -- AQ.B1")


def test_a_burner_goes_past_the_limit_in_a_control_and_no_line_names_it() -> None:
    (one,) = seen(RULE, PAST)
    assert isinstance(one, BurnsOn)
    assert (one.subject, one.severity, one.device.name) == ("AQ.high-limit", "hazard", "AQ")
    assert {load.name for load in one.burners} == {"OB.burner-motor", "OB.ignition", "OB.oil-valve"}
    assert at(PAST, one).startswith("BU.black -- AQ.L1")
    assert seen(RULE, changed(PAST, ON_ITS_SCREW)) == []


@pytest.mark.slow
def test_a_burner_beside_a_limit_that_is_the_pumps() -> None:
    lines = "".join(line for line in CROSSED.splitlines(keepends=True) if not line.startswith("expect"))
    assert [type(one) for one in seen(RULE, lines)] == [BurnsOn]
    named = seen(RULE, CROSSED)
    assert {type(one) for one in named} == {RunsOn}
    assert {at(CROSSED, one).split("  ")[0] for one in named} == {"BU.black -- AQ.C1"}
    for text in (lines, CROSSED):
        mends = check(text, effort=400).mends
        assert [one.mistake for one in mends] == ["At AQ, BU.black and CR.black are swapped."]


@pytest.mark.slow
def test_what_stops_by_itself_as_it_opens_is_not_stopped_by_it() -> None:
    """The clock ends the defrost in one moment of it, and the limit stops nothing in any."""
    (one,) = (one for one in seen(RULE, BESIDE) if one.subject == "HS")
    assert isinstance(one, GuardsNothing)
    through = changed(
        BESIDE, ("E1.red -- HC.black --", "E1.red --"), ("at EV\n", "at EV\n  HS.b -- HC.black\n")
    )
    assert seen(RULE, through) == []


@pytest.mark.slow
@pytest.mark.parametrize("machine", ["circulator", "oil-furnace"])
def test_what_burns_nothing_or_has_its_own_limit_is_not_asked(machine: str) -> None:
    """Without a flame on the board, or with the limit inside the machine that burns."""
    text = "".join(
        line for line in PAST.splitlines(keepends=True) if "BU" not in line and not line.startswith("at OB")
    )
    assert seen(RULE, text.replace("OB is oil-burner", f"OB is {machine}")) == []


# ------------------------------------------------------------------ runs on


def test_a_jumper_around_it_is_the_line() -> None:
    text = changed(
        STOPS, ("  TW.white -- FW.red\n  FW.white -- F.W\n", "  TW.white -- FW.red -- FW.white -- F.W\n")
    )
    (one,) = found(text)
    assert isinstance(one, RunsOn)
    assert at(text, one) == "TW.white -- FW.red -- FW.white -- F.W"
    assert (one.subject, one.severity, one.stage, one.call) == ("FS", "hazard", "final", "heat")
    assert one.load.name == "F.heating" and one.around is one.at.of and one.copper


def test_a_join_of_its_two_screws_goes_around_it() -> None:
    text = changed(STOPS, ("  FW.red -- FS.a\n", "  FW.red -- FS.a\n  FS.a -- FS.b\n"))
    (one,) = found(text)
    assert one.around is not None and one.at.of is one.around


def test_of_the_joins_that_go_around_it_the_one_that_holds_most_is_shown() -> None:
    text = changed(
        STOPS,
        ("  TW.white -- FW.red\n  FW.white -- F.W\n", "  TW.white -- FW.red -- FW.white -- F.W -- F.X\n"),
    )
    (one,) = found(text)
    assert at(text, one) == "TW.white -- FW.red -- FW.white -- F.W -- F.X"


def test_it_is_in_another_wire() -> None:
    text = changed(
        made(STOPS, "F: FW.white -- F.G"),
        ("  TW.white -- FW.red\n", "  TW.white -- F.W\n"),
        ("  TW.green -- F.G\n", "  TW.green -- FW.red\n"),
    )
    (one,) = found(text)
    assert one.around is None
    # The join where the wire from its first side ends.
    assert at(text, one) == "TW.green -- FW.red"


def test_both_its_wires_are_on_one_side() -> None:
    text = changed(STOPS, ("  FW.red -- FS.a\n  FW.white -- FS.b\n", "  FW.red -- FW.white -- FS.a\n"))
    (one,) = found(text)
    assert one.around is None and at(text, one) == "FW.red -- FW.white -- FS.a"


def test_one_wire_on_one_side_leads_to_its_other_end() -> None:
    text = changed(
        STOPS,
        ("  FW.red -- FS.a\n  FW.white -- FS.b\n", "  FW.white -- FS.b\n  cap FW.red\n"),
        ("  TW.white -- FW.red\n  FW.white -- F.W\n", "  TW.white -- FW.white -- F.W\n  cap FW.red\n"),
    )
    (one,) = found(text)
    assert at(text, one) == "TW.white -- FW.white -- F.W"


def test_no_wire_comes_to_it() -> None:
    text = own("safety-bypass", "not-wired")
    (one,) = seen(RULE, text)
    assert at(text, one) == "expect FS stops F.gas-valve" and isinstance(one.at.of, ExpectStops)


def test_what_runs_with_no_call_has_no_call() -> None:
    (one,) = seen(RULE, own("safety-bypass", "no-call"))
    assert one.call == ""


def test_each_load_is_told_once_in_the_first_call_in_which_it_runs_on() -> None:
    text = changed(
        STOPS,
        ("  TW.white -- FW.red\n  FW.white -- F.W\n", "  TW.white -- FW.red -- FW.white -- F.W\n"),
        ("expect FS stops F.heating\n", "expect FS stops F.heating, F.cooling\n"),
    )
    assert [(one.load.name, one.call) for one in found(text)] == [
        ("F.heating", "heat"),
        ("F.cooling", "cool"),
    ]


def test_a_control_that_needs_a_moment_to_see_it_is_given_one() -> None:
    """In the moment in which the switch opens it runs on; with it open from the start it never runs."""
    slow = BENCH.replace(
        "load heating lamp from W to C, 5 VA at 24 V",
        "state duty off, on\nduty goes from off to on when W has 18 V to C\n"
        "duty goes from on to off after {seconds} when not W has 18 V to C\n"
        "heating is small\nheating.b -- C\nR -- heating.a when duty is on",
    )
    small = """part small "A motor of 24 V"
terminal a contact
terminal b contact
load motor motor from a to b, 5 VA at 24 V
"""
    assert found(STOPS, bench=slow.replace("{seconds}", "5 s"), small=small) == []


# ------------------------------------------------------------ guards nothing


def test_a_safety_that_no_line_names_must_stop_something() -> None:
    text = changed(
        SWITCHED,
        ("  TW.white -- FW.red\n  FW.white -- F.W\n", "  TW.white -- FW.red -- FW.white -- F.W\n"),
    )
    (one,) = found(text)
    assert isinstance(one, GuardsNothing)
    assert at(text, one) == "TW.white -- FW.red -- FW.white -- F.W"
    assert (one.subject, one.severity, one.stage) == ("FS", "hazard", "final") and one.copper
    assert one.around is one.at.of


def test_out_of_the_way_it_is_told_at_its_own_line() -> None:
    text = own("safety-bypass", "unnamed-in-no-way")
    (one,) = seen(RULE, text)
    assert at(text, one) == "FS is float-switch" and one.around is None


def test_where_nothing_runs_nothing_can_be_said() -> None:
    text = changed(
        SWITCHED,
        ("  FW.red -- FS.a\n", "  FW.red -- FS.a\n  FS.a -- FS.b\n"),
        ("  TW.red -- TS.Rh\n", "  cap TW.red\n"),
    )
    assert found(text) == []


def test_what_steers_and_does_no_work_does_not_count() -> None:
    """A relay that the switch drops is nothing that it guards."""
    text = made(SWITCHED, "F: FW.white -- F.X")
    assert [type(one) for one in found(text)] == [GuardsNothing]


def test_safeties_inside_equipment_and_other_switches_are_not_asked() -> None:
    furnace = "".join(
        line for line in right("condensing-furnace").splitlines(keepends=True) if " stops " not in line
    )
    assert seen(RULE, furnace) == []


# ------------------------------------------- behind what only a machine closes


BEHIND = own("safety-bypass", "behind-a-pressure-switch")
SERIES = changed(BEHIND, ("  JX.c -- RO.b\n", ""), ("  JX.d -- pigtail -- PS.a", "  RO.b -- PS.a"))


def test_what_waits_behind_an_open_pressure_switch_is_guarded_too() -> None:
    # No draft closes it on the board: at rest another valve runs alone, which it does not guard.
    assert [one.safety.name for one in found(BEHIND)] == ["RO"]
    text = changed(SERIES, ("  RO.b -- PS.a -- pigtail -- SV.a", "  JX.d -- SV.a\n  RO.b -- PS.a"))
    assert found(SERIES) == found(text) == []


def test_a_line_is_held_to_what_waits_there() -> None:
    assert found(SERIES + "expect RO stops GV\n") == []
    (one,) = found(BEHIND + "expect RO stops GV\n")
    assert isinstance(one, RunsOn) and (one.safety.name, one.load.name, one.call) == ("RO", "GV", "heat")


def test_the_two_wires_of_a_safety_joined_with_each_other_are_said_to_be_so() -> None:
    """It stands in nobody's way, and its third screw, for an alarm, changes nothing of that."""
    text = (BOARDS / "condensate-pump" / "wrong-safety-leads-joined.wire").read_text(encoding="utf-8")
    (one,) = check(text, effort=0).findings
    assert one.message == (
        "The two wires of CP.overflow are joined with each other at F: it opens during a call for cool, "
        "and CU.compressor runs on."
    )
    assert text.splitlines()[one.line - 1].startswith("  FW.red -- FW.white")


@pytest.mark.parametrize(
    ("board", "line"),
    [
        # The coil's hot comes from ahead of both pressure switches: it is told where that hot comes.
        ("water-chiller/wrong-past-both-pressure-switches", "FS.b -- pigtail -- HP.a -- pigtail -- C.A1"),
        # A switch that stands open at rest has both of its sides on one splice.
        (
            "water-chiller/wrong-flow-switch-jumpered",
            "P1.hot -- pigtail -- TH.b -- pigtail -- FS.a -- pigtail -- FS.b -- pigtail -- HP.a",
        ),
    ],
)
def test_what_goes_past_a_safety_is_told_at_its_own_join(board: str, line: str) -> None:
    text = (BOARDS / f"{board}.wire").read_text(encoding="utf-8")
    told = seen(RULE, text)
    assert told
    assert {at(text, one).partition("#")[0].strip() for one in told} == {line}


def test_two_wires_on_one_screw_of_an_overloads_contact_are_told_there() -> None:
    """Its heaters are contacts of it too, and the line of one of them is not where it is passed by."""
    text = changed(
        own("grounding-conductor-size", "thin-bond"),
        ("  x4 -- OL.95\n", "  x4 -- OL.96\n"),
        ("expect idle", "expect ST starts MT\nexpect idle"),
    )
    (problem,) = seen(RULE, text)
    assert (problem.subject, problem.around) == ("OL", None)
    # Of the two lines the one that comes last: the other wire is there already.
    assert at(text, problem) == "x2 -- OL.96"


ACROSS = own("safety-bypass", "beside-the-thermostat")


def test_a_float_switch_beside_the_thermostat_calls_until_it_opens() -> None:
    """No line names it: that it runs at rest what it does not stop in its call is enough."""
    (problem,) = seen(RULE, ACROSS)
    assert isinstance(problem, Calls)
    loads = ["CU.compressor", "CU.fan"]
    assert (problem.subject, problem.call, [one.name for one in problem.loads]) == ("FS", "cool", loads)
    # In series it is right, and where no call runs what it runs, nothing tells that one should.
    series = changed(
        ACROSS,
        ("  TW.red -- FW.red -- F.R  # finds: safety-bypass\n", "  TW.red -- F.R\n"),
        (
            "  TW.yellow -- FW.white -- OW.red -- pigtail -- F.Y\n",
            "  TW.yellow -- FW.red\n  FW.white -- OW.red -- pigtail -- F.Y\n",
        ),
    )
    assert not seen(RULE, series)
    alone = changed(ACROSS, ("  TW.yellow -- FW.white --", "  cap TW.yellow\n  FW.white --"))
    assert not seen(RULE, alone)


@pytest.mark.slow
def test_what_is_beside_the_thermostat_is_put_in_series_and_not_alone() -> None:
    """With the thermostat's wire taken off, the float switch would call for good."""
    (told,) = check(ACROSS, effort=400).findings
    assert [mend.mistake for mend in told.mends] == [
        "At F, FW.red and FW.white lie across F.R and F.Y, and belong in series with TW.yellow: FW.white "
        "with TW.yellow, and FW.red with OW.red."
    ]

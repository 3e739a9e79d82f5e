"""What a meter shows on a board with a fault in it, against what troubleshooting texts say that it shows.

Common practice, by the voltmeter with the power on: an open shows the source's volts across itself,
what is behind it shows nothing across the load, a good closed contact shows next to nothing, and a bad
joint shows the volts that it takes from the load.
"""

from __future__ import annotations

import pytest

from tests.samples import board
from tests.troubles.shed import SHED, good, state
from wirecheck import files
from wirecheck.circuit import meter
from wirecheck.circuit.circuit import circuit
from wirecheck.circuit.faulted import faulted
from wirecheck.circuit.settle import Settled, resting, settle
from wirecheck.faults.listed import fault
from wirecheck.faults.words import said
from wirecheck.judge import stop_words
from wirecheck.judge.case import Case
from wirecheck.judge.continuity import why_not
from wirecheck.report import position_table

FURNACE = (files.folder("boards") / "condensing-furnace" / "right.wire").read_text()


def volts(settled: Settled, a: str, b: str) -> float:
    return meter.volts(settled, a, b).value


def test_the_board_without_a_fault_lights_its_lamp() -> None:
    settled = state("", S1="on")
    assert settled.running == {"L1"}
    assert volts(settled, "L1.hot", "L1.neutral") == pytest.approx(120, rel=0.01)


def test_a_wire_off_its_screw_shows_the_source_from_its_end_to_the_screw() -> None:
    settled = state("open W2.black at L1", S1="on")
    assert not settled.running
    assert volts(settled, "W2.black@L1", "L1.neutral") == pytest.approx(120, rel=0.01)
    assert volts(settled, "L1.hot", "L1.neutral") == pytest.approx(0, abs=0.5)
    assert volts(settled, "W2.black@L1", "L1.hot") == pytest.approx(120, rel=0.01)


def test_an_open_neutral_shows_the_source_at_both_screws_of_the_lamp_and_nothing_across_it() -> None:
    settled = state("open W1.white at LP", S1="on")
    assert volts(settled, "L1.hot", "L1.neutral") == pytest.approx(0, abs=0.5)
    assert volts(settled, "L1.hot", "L1.ground") == pytest.approx(120, rel=0.01)
    assert volts(settled, "L1.neutral", "L1.ground") == pytest.approx(120, rel=0.01)


def test_a_wire_broken_on_its_way_is_dead_behind_the_break() -> None:
    settled = state("open W2.black", S1="on")
    assert volts(settled, "W2.black@A", "S1.ground") == pytest.approx(120, rel=0.01)
    assert volts(settled, "L1.hot", "L1.neutral") == pytest.approx(0, abs=0.5)


def test_a_poor_joint_takes_its_share_of_the_volts() -> None:
    """By hand: 60 W at 120 V are 240 ohm; 60 ohm before them take a fifth of 120 V."""
    settled = state("poor W2.black at L1, 60 ohm", S1="on")
    assert volts(settled, "W2.black@L1", "L1.hot") == pytest.approx(24, rel=0.01)
    assert volts(settled, "L1.hot", "L1.neutral") == pytest.approx(96, rel=0.01)


def test_contacts_stuck_open_and_closed_do_not_heed_the_hand() -> None:
    assert not state("S1 stuck open", S1="on").running
    assert state("S1 stuck closed", S1="off").running == {"L1"}
    held = state("S1 stuck on")
    assert held.running == {"L1"} and held.circuit.variables["S1"].values == ("on",)


def test_a_burnt_out_lamp_has_its_volts_and_draws_nothing() -> None:
    settled = state("L1 burnt out", S1="on")
    assert volts(settled, "L1.hot", "L1.neutral") == pytest.approx(120, rel=0.01)
    assert meter.amps(settled, "L1").value == 0
    off = state("L1 burnt out", **{"S1": "on", "LP.3": "off"})
    assert meter.ohms(off, "L1.hot", "L1.neutral").text == "OL"


def test_a_short_opens_the_breaker() -> None:
    """By hand: 20 ft and back of 14 AWG are some 0.1 ohm, so that hundreds of amperes flow."""
    settled = state("short W1.black to W1.white at A")
    assert [one.name for one in settled.opened] == ["LP.3"]
    assert settled.opened[0].amps > 500


def test_a_short_through_ohms_draws_what_they_let_through() -> None:
    """By hand: 24 ohm on 120 V draw 5 A with the lamp off, and a 15 A breaker holds."""
    settled = state("short W1.black to W1.white at A through 24 ohm", S1="off")
    assert not settled.opened
    assert meter.amps(settled, "W1.black").value == pytest.approx(5, rel=0.01)


def test_two_wires_swapped_are_each_in_the_others_place() -> None:
    settled = state("W1.black and W1.white swapped at A", S1="on")
    assert volts(settled, "S1.line", "S1.ground") == pytest.approx(0, abs=0.5)
    assert volts(settled, "L1.neutral", "L1.ground") == pytest.approx(120, rel=0.01)
    assert settled.running == {"L1"}


FURNACE_STATES = {
    # What is wrong, and what of the three can have run then in the end of a heat call.
    "F.fuse blown": set(),
    "F.transformer burnt out": set(),
    "F.inducer burnt out": set(),
    "F.pressure-switch stuck open": {"F.inducer"},
    "F.gas-valve burnt out": set(),
    "F.limit stuck open": set(),
    "F.blower burnt out": {"F.inducer", "F.gas-valve"},
    "open TW.white at TS": set(),
    "open F.limit.b": set(),
}


@pytest.mark.parametrize("said", FURNACE_STATES)
def test_a_furnace_runs_up_to_what_is_wrong(said: str) -> None:
    """By its sequence of operation (common practice): inducer, pressure switch, gas valve, blower."""
    case = Case(board(FURNACE))
    bad = Case(case.board, None, (fault(said, case.circuit),))
    whole, part = case.standing({}, ["heat"]).running, bad.standing({}, ["heat"]).running
    four = {"F.inducer", "F.gas-valve", "F.blower"}
    assert whole & four == four
    assert not (part & four) - FURNACE_STATES[said], part


def test_a_lead_inside_is_off_and_two_are_exchanged() -> None:
    made = board(FURNACE)
    whole = circuit(made)
    off = faulted(made, [fault("open F.limit.b", whole)])
    assert [one.act for one in off.board.altered] == ["lift"]
    turned = faulted(made, [fault("F.limit.b and F.rollout.a swapped", whole)])
    assert [(one.act, one.points) for one in turned.board.altered] == [("swap", ("F.limit.b", "F.rollout.a"))]


def test_several_faults_stand_together() -> None:
    whole = good()
    bad = faulted(whole.board, [fault("L1 burnt out", whole), fault("poor W2.black at L1, 60 ohm", whole)])
    settled = settle(bad, resting(bad, {"S1": "on"}))
    assert not settled.running
    assert volts(settled, "W2.black@L1", "L1.hot") == pytest.approx(0, abs=0.01)


def test_a_circuit_without_faults_is_the_boards() -> None:
    assert SHED and faulted(good().board, []) == good()


def test_a_control_board_that_is_burnt_out_moves_nothing() -> None:
    """Its states stay as they are without power, though R and C have their 24 V (common practice)."""
    whole = circuit(board(FURNACE))
    burnt = fault("F.control-board burnt out", whole)
    assert said(burnt, whole) == "F.control-board burnt out"
    bad = Case(whole.board, None, (burnt,))
    play = bad.played(["heat"])
    assert bad.circuit.variables["F.control"].values == ("idle",) and set(play.started()) == {"TS"}
    assert bad.standing({}, ["heat"]).across("F.W", "F.C") > 24


def test_what_is_burnt_and_what_is_stuck_is_said_where_a_path_is_followed() -> None:
    """A burnt coil gets its volts and is not short of them; a dead contact waits for nothing."""
    shed = board(SHED)
    burnt = Case(shed, None, (fault("L1 burnt out", circuit(shed)),))
    (lamp,) = burnt.circuit.loads
    there = why_not(burnt, burnt.settled({"S1": "on"}), lamp)
    assert stop_words.said(there, burnt) == "L1 gets 120 V, and is open inside."
    stuck = Case(shed, None, (fault("S1 stuck open", circuit(shed)),))
    ends = why_not(stuck, stuck.settled({"S1": "on"}), lamp)
    assert "S1.line to S1.load does not close any more" in stop_words.said(ends, stuck)
    assert "burnt out" in position_table.render(burnt)

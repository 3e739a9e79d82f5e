"""Worst cases on purpose: each is computed, and a rule says it."""

from __future__ import annotations

import pytest

from tests.samples import board, fed
from wirecheck.circuit.settle import starting
from wirecheck.findings import findings
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Finding


def case_of(text: str) -> Case:
    made = board(text)
    assert not made.problems, made.problems
    return Case(made)


def said(case: Case, rule: str) -> list[Finding]:
    return [finding for finding in findings(case) if finding.rule == rule]


MULTIWIRE = (
    "breaker LP.2 20 A leg a",
    "breaker LP.4 20 A leg {leg}",
    "box B junction 40 cu in",
    "cable W1 12/3 NM-B 30 ft from LP to B",
    "S1 is single-pole-switch in B",
    "S2 is single-pole-switch in B",
    "H1 is heater with power 1800 W, voltage 120 V in B",
    "H2 is heater with power 1500 W, voltage 120 V in B",
    "at LP",
    "W1.black -- LP.2",
    "W1.red -- LP.4",
    "W1.white -- LP.neutral",
    "W1.bare -- LP.ground",
    "at B",
    "W1.black -- S1.line",
    "S1.load -- H1.a",
    "W1.red -- S2.line",
    "S2.load -- H2.a",
    "W1.white -- H1.b -- H2.b",
)


def multiwire(leg: str) -> Case:
    return case_of(fed(*(line.format(leg=leg) for line in MULTIWIRE)))


def test_the_most_that_a_shared_neutral_carries_is_one_leg_alone() -> None:
    """Opposite legs take from each other: the worst is the larger load by itself (15 A, not 2.5 A)."""
    case = multiwire("b")
    both = abs(case.states[0].amps["W1.white"])
    assert both == pytest.approx(1800 / 120 - 1500 / 120, rel=0.05)
    assert abs(case.most["W1.white"].amps["W1.white"]) == pytest.approx(1800 / 120, rel=0.02)


def test_both_hots_on_one_leg_add_up_in_the_neutral_and_are_said() -> None:
    """27.5 A on a 12 AWG neutral that no breaker sees."""
    case = multiwire("a")
    assert abs(case.most["W1.white"].amps["W1.white"]) == pytest.approx(3300 / 120, rel=0.02)
    assert any(
        "W1" in finding.message and finding.severity == "hazard"
        for finding in said(case, "multiwire-circuit")
    )


def test_voltage_drop_is_that_of_all_loads_at_once() -> None:
    """Two lamps with a switch each on one long run: the drop told is with both on, I = 10 A, not with one."""
    text = fed(
        "box B junction 40 cu in",
        "cable W1 14/2 NM-B 120 ft from LP to B",
        "S1 is single-pole-switch in B",
        "S2 is 3-way-switch in B",
        "H1 is heater with power 600 W, voltage 120 V in B",
        "H2 is heater with power 600 W, voltage 120 V in B",
        "at LP",
        "W1.black -- LP.3",
        "W1.white -- LP.neutral",
        "W1.bare -- LP.ground",
        "at B",
        "W1.black -- S1.line -- S2.common",
        "S1.load -- H1.a",
        "S2.traveler-2 -- H2.a",
        "W1.white -- H1.b -- H2.b",
    )
    case = case_of(text)
    assert {"H1", "H2"} <= case.heaviest.running and "H2" not in case.states[0].running
    (told, *_) = said(case, "voltage-drop")
    # 2 K I L / CM at 10 A less what the drop takes, 120 ft and 4,110 circular mils; K is 10.37 at 20 C
    # and 12.9 at 75 C, and the copper is warm between the two.
    least, most = (100 * 2 * k * amps * 120 / 4110 / 120 for k, amps in ((10.37, 9.4), (12.9, 10)))
    assert least < told.value < most
    assert "S2 down" in told.message


def test_a_current_on_a_grounding_conductor_is_computed_and_said() -> None:
    """The neutral brought back on the bare wire: all of 5 A is on the ground."""
    case = case_of(
        fed(
            "box B junction 40 cu in",
            "cable W1 14/2 NM-B 30 ft from LP to B",
            "H1 is heater with power 600 W, voltage 120 V in B",
            "at LP",
            "W1.black -- LP.3",
            "W1.white -- LP.neutral",
            "W1.bare -- LP.ground",
            "at B",
            "W1.black -- H1.a",
            "W1.bare -- H1.b",
            "cap W1.white",
        )
    )
    (told,) = said(case, "ground-as-neutral")
    assert told.value == pytest.approx(5, rel=0.02)


def transformers(second: str) -> str:
    lines = ["box B junction 60 cu in", "cable W1 14/2 NM-B 10 ft from LP to B"]
    lines += ["T1 is class-2-transformer 40 VA in B", "T2 is class-2-transformer 40 VA in B"]
    lines += ["at LP", "W1.black -- LP.3", "W1.white -- LP.neutral", "W1.bare -- LP.ground", "at B"]
    lines += ["W1.black -- T1.primary-hot -- T2.primary-hot"]
    lines += ["W1.white -- T1.primary-neutral -- T2.primary-neutral", second]
    return fed(*lines)


def test_two_transformers_in_parallel_out_of_phase_drive_their_current_around() -> None:
    """Twice the open volts over the two impedances: 2 x 27.6 / (2 x 2.16) = 12.8 A, by Ohm's law."""
    case = case_of(transformers("T1.secondary-r -- T2.secondary-c\nT1.secondary-c -- T2.secondary-r"))
    around = 24 * 1.15 / (0.15 * 24**2 / 40)
    state = case.states[0].first
    ratio = 120 / (24 * 1.15)
    assert abs(state.amps["T1"]) * ratio == pytest.approx(around, rel=0.02)
    (told,) = said(case, "transformer-phase")
    assert told.severity == "hazard" and told.value == pytest.approx(around, rel=0.02)
    in_phase = case_of(transformers("T1.secondary-r -- T2.secondary-r\nT1.secondary-c -- T2.secondary-c"))
    assert not in_phase.states[0].opened
    assert abs(in_phase.states[0].amps["T1"]) < 1e-6
    assert "backward" in said(in_phase, "transformer-phase")[0].message


def test_a_circuit_fed_twice_stays_live_with_one_breaker_off_and_is_said() -> None:
    text = fed(
        "breaker LP.7 15 A",
        "box A junction 40 cu in",
        "cable W1 14/2 NM-B 30 ft from LP to A",
        "cable W2 14/2 NM-B 30 ft from LP to A",
        "L1 is lampholder 60 W in A",
        "at LP",
        "W1.black -- LP.3",
        "W2.black -- LP.7",
        "W1.white -- W2.white -- LP.neutral",
        "at A",
        "W1.black -- W2.black -- L1.hot",
        "W1.white -- W2.white -- L1.neutral",
    )
    case = case_of(text)
    assert case.board.breakers["LP.3"].poles[0][1] == case.board.breakers["LP.7"].poles[0][1]
    off = case.settled({"LP.3": "off"})
    assert "L1" in off.running and abs(off.volts[case.circuit.node["LP.3"]]) > 119
    assert said(case, "backfeed")


def contactor_far_away(feet: int) -> str:
    """A contactor whose coil is fed through a long thin run."""
    return fed(
        "breaker LP.2 40 A 2-pole",
        "T1 is class-2-transformer 40 VA",
        "K1 is contactor",
        "cable P 14/2 NM-B 6 ft from LP to T1",
        f"cable Q 18/2 CL2 {feet} ft from T1 to K1",
        "at LP",
        "P.black -- LP.3",
        "P.white -- LP.neutral",
        "P.bare -- LP.ground",
        "at T1",
        "P.black -- T1.primary-hot",
        "P.white -- T1.primary-neutral",
        "P.bare -- T1.ground",
        "Q.red -- T1.secondary-r",
        "Q.white -- T1.secondary-c",
        "at K1",
        "Q.red -- K1.coil-a",
        "Q.white -- K1.coil-b",
    )


def test_pull_in_is_at_the_worst_inrush_and_is_said() -> None:
    """The holding current leaves enough, the inrush does not: so it never pulls in (19.2 V)."""
    near, far = case_of(contactor_far_away(50)), case_of(contactor_far_away(600))
    assert "K1" in near.states[0].running and not said(near, "coil-voltage")
    stuck = far.states[0]
    assert "K1" not in stuck.running
    load = far.circuit.load["K1"]
    # Were it in, it would stay: what it holds with loses little.
    held = stuck._replace(running=stuck.running | {"K1"})
    assert far.circuit.load["K1"].inrush == 35
    assert starting(held, []).load_volts(load) > 20
    (told,) = said(far, "coil-voltage")
    assert told.value == pytest.approx(stuck.load_volts(load), abs=0.06) and told.limit == 19.2


def test_a_coil_that_lets_go_as_the_motor_starts_is_said() -> None:
    """A large motor far away, on the run that feeds the transformer too."""
    text = fed(
        "breaker LP.1 40 A",
        "box B junction 60 cu in",
        "T1 is class-2-transformer 40 VA in B",
        "K1 is contactor in B",
        "M1 is motor with current 16 A, voltage 120 V, locked-rotor 10 x in B",
        "cable W1 14/2 NM-B {feet} ft from LP to B",
        "at LP",
        "W1.black -- LP.1",
        "W1.white -- LP.neutral",
        "W1.bare -- LP.ground",
        "at B",
        "W1.black -- T1.primary-hot -- K1.line-1",
        "W1.white -- T1.primary-neutral -- M1.b",
        "T1.secondary-r -- K1.coil-a",
        "T1.secondary-c -- K1.coil-b",
        "K1.load-1 -- M1.a",
    )
    far, near = case_of(text.format(feet=270)), case_of(text.format(feet=20))
    assert not [one for one in said(near, "coil-voltage") if "lets go" in one.message]
    (told,) = [one for one in said(far, "coil-voltage") if "lets go" in one.message]
    assert told.subject == "K1" and told.value < told.limit == 10.0

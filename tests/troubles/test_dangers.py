"""What can hurt somebody on a board with a fault is told from its solution, and what is by design is not."""

from __future__ import annotations

import pytest

from tests.samples import board
from tests.troubles.shed import SHED
from tests.troubles.test_faulted import FURNACE
from tests.troubles.test_signs import TWO_LEGS
from wirecheck import files
from wirecheck.circuit.call import play_call
from wirecheck.circuit.fault import PoorJoint
from wirecheck.faults.listed import fault
from wirecheck.judge.case import Case
from wirecheck.judge.state_name import StateName
from wirecheck.model.board import Board
from wirecheck.report import sequence
from wirecheck.report.dangers import as_data, said
from wirecheck.report.energized import energized
from wirecheck.troubles.dangers import (
    Danger,
    Heats,
    InSeries,
    LiveMetal,
    LiveThoughOff,
    OverVolts,
    Unlit,
    dangers,
)

ON = StateName((("S1", "on"),))
OFF = StateName((("S1", "off"),))
HEAT = StateName(calls=("heat",))
SHED_BOARD = board(SHED)
FURNACE_BOARD = board(FURNACE)


def with_fault(made: Board, wrong: str) -> Case:
    return Case(made, None, (fault(wrong, Case(made).circuit),))


def found(made: Board, wrong: str, state: StateName) -> tuple[Danger, ...]:
    return dangers(with_fault(made, wrong), state)


def test_a_joint_that_takes_watts_can_start_a_fire() -> None:
    """By hand: 60 ohm in series with the 240 ohm of 60 W carry 0.4 A, and I^2 R is 9.6 W."""
    (heats,) = found(SHED_BOARD, "poor W2.black at L1, 60 ohm", ON)
    assert isinstance(heats, Heats) and heats.fault == PoorJoint("W2.black@L1", 60.0)
    assert heats.watts == pytest.approx(9.6, rel=0.01)
    assert not found(SHED_BOARD, "poor W2.black at L1, 60 ohm", OFF)
    # By hand: 4 ohm take 0.24 W/ohm x 4 ohm, 1 W: a little warm.
    assert not found(SHED_BOARD, "poor W2.black at L1, 4 ohm", ON)


def test_a_lamp_with_its_neutral_off_is_live_though_it_is_off() -> None:
    (live,) = found(SHED_BOARD, "open W1.white at LP", ON)
    assert isinstance(live, LiveThoughOff) and live.names == ("L1",)
    assert live.volts == pytest.approx(120, rel=0.01)
    assert not found(SHED_BOARD, "open W1.white at LP", OFF)
    assert not found(SHED_BOARD, "open W1.black at LP", ON)


def test_a_welded_pole_leaves_the_machine_live_though_it_is_off() -> None:
    made = board((files.folder("boards") / "split-air-conditioner" / "right.wire").read_text())
    welded = "CU.contactor.line-1 to CU.contactor.load-1 stuck closed"
    (live,) = found(made, welded, StateName())
    assert isinstance(live, LiveThoughOff) and live.names == ("CU.compressor", "CU.fan")


def test_an_open_neutral_of_two_legs_gives_a_lamp_more_than_it_is_made_for() -> None:
    """By hand: 60 W and 100 W in series on 240 V get 150 V and 90 V."""
    (over,) = found(board(TWO_LEGS), "open W1.white at LP", StateName())
    assert over == OverVolts("L1", pytest.approx(150, rel=0.01), 120.0)


SPLIT = """board "Split"
panel LP 120/240 V, 10 kA available
breaker LP.1 15 A 2-pole
R1 is split-receptacle 15 A
cable W1 14/3 NM-B 20 ft from LP to R1
at LP
  W1.black -- LP.1.a
  W1.red -- LP.1.b
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at R1
  W1.black -- R1.hot-top
  W1.red -- R1.hot-bottom
  W1.white -- R1.neutral
  W1.bare -- R1.ground
"""


@pytest.mark.parametrize("told", [True, False])
def test_an_open_neutral_of_two_legs_puts_what_is_plugged_in_in_series(told: bool) -> None:
    """Two legs of 120 V are 240 V apart, and two wires of one leg are at the same volts."""
    one_leg = SPLIT.replace("W1.red -- LP.1.b", "cap W1.red").replace(
        "  W1.red -- R1.hot-bottom", "  R1.hot-top -- pigtail -- R1.hot-bottom\n  cap W1.red"
    )
    dangerous = found(board(SPLIT if told else one_leg), "open W1.white at LP", StateName())
    assert [one.names for one in dangerous if isinstance(one, LiveThoughOff)] == [("R1.top", "R1.bottom")]
    series = [one for one in dangerous if isinstance(one, InSeries)]
    assert series == ([InSeries(("R1.top", "R1.bottom"), pytest.approx(240, rel=0.01))] if told else [])


def test_metal_that_a_fault_makes_live_is_told() -> None:
    no_ground = board(SHED.replace("  W1.bare -- LP.ground\n", ""))
    told = found(no_ground, "short W2.black to W2.bare at L1", ON)
    metal = [one for one in told if isinstance(one, LiveMetal)]
    assert len(metal) == 1 and {"S1.ground", "L1.ground"} <= set(metal[0].names)


def test_fuel_before_the_flame_is_told_and_a_trial_that_fails_is_not() -> None:
    """Its control purges for 15 s and warms for 17 s: so long the gas flows where its contact is welded."""
    welded = "F.pressure-switch.b to F.gas-valve.a stuck closed"
    (unlit,) = found(FURNACE_BOARD, welded, HEAT)
    assert isinstance(unlit, Unlit) and unlit.valve == "F.gas-valve"
    assert unlit.seconds == pytest.approx(32, abs=3)
    assert not any(isinstance(one, Unlit) for one in found(FURNACE_BOARD, "F.igniter burnt out", HEAT))


def test_fuel_that_never_lights_flows_as_long_as_the_call_stands() -> None:
    welded = "F.pressure-switch.b to F.gas-valve.a stuck closed"
    good = Case(FURNACE_BOARD).circuit
    both = Case(FURNACE_BOARD, None, (fault(welded, good), fault("F.igniter burnt out", good)))
    fuel = [one for one in dangers(both, HEAT) if isinstance(one, Unlit)]
    assert len(fuel) == 1 and (fuel[0].seconds is None or fuel[0].seconds > 60)


@pytest.mark.parametrize("state", [ON, OFF])
def test_a_board_as_it_should_be_has_none(state: StateName) -> None:
    assert not dangers(Case(SHED_BOARD), state)


def test_a_state_tells_its_dangers_in_words_and_as_data() -> None:
    case = with_fault(SHED_BOARD, "open W1.white at LP")
    one = energized(case, {"S1": "on"})
    assert "Danger: L1 does not run and is live: 120 V to ground. Off is not dead." in one.render()
    assert one.as_data()["dangers"] == [as_data(one.dangers[0], case.circuit)]


def test_the_sequence_of_a_call_tells_its_dangers() -> None:
    case = with_fault(FURNACE_BOARD, "F.pressure-switch.b to F.gas-valve.a stuck closed")
    told = sequence.text(case, play_call(case.circuit, ["heat"]))
    assert "Danger: F.gas-valve lets fuel in for 32 s with no flame." in told
    sound = Case(FURNACE_BOARD)
    assert "Danger" not in sequence.text(sound, play_call(sound.circuit, ["heat"]))


@pytest.mark.parametrize(
    ("danger", "words"),
    [
        (Heats(PoorJoint("W2.black@L1", 60.0), 9.61), "poor W2.black at L1, 60 ohm gives off 9.61 W."),
        (Heats(PoorJoint("W2.black@L1", 60.0), 5.0), "poor W2.black at L1, 60 ohm gives off 5 W. It can"),
        (Heats(PoorJoint("W2.black@L1", 15.0), 4.9), "poor W2.black at L1, 15 ohm gives off 4.9 W. It is w"),
        (OverVolts("L1", 150.2, 120.0), "L1 has 150 V, and is made for 120 V."),
        (
            InSeries(("R1.top", "R1.bottom"), 240.0),
            "R1.top and R1.bottom have two hots and no neutral. What is plugged in shares 240 V: "
            "one thing gets too much, and can burn.",
        ),
        (LiveThoughOff(("L1", "L2"), 119.9), "L1 and L2 do not run and are live: 120 V to ground."),
        (LiveMetal(("S1.ground",), 119.9), "S1.ground is at 120 V to ground."),
        (Unlit("F.gas-valve", 34.0), "F.gas-valve lets fuel in for 34 s with no flame."),
        (
            Unlit("F.gas-valve", None),
            "F.gas-valve lets fuel in for as long as the call stands with no flame.",
        ),
    ],
)
def test_each_danger_is_said(danger: Danger, words: str) -> None:
    assert said(danger, Case(SHED_BOARD).circuit).startswith(words)

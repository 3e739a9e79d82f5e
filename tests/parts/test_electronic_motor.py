"""An electronic motor has its line always on, and is told its airflow by a 24 V signal (common practice)."""

from __future__ import annotations

import pytest

import wirecheck
from tests.drawing import geometry
from tests.drawing.test_ladder import in_order, meant, noted, signs
from tests.rules.hands import case
from tests.samples import board, shipped
from wirecheck import files
from wirecheck.circuit import meter
from wirecheck.circuit.circuit import circuit
from wirecheck.circuit.machine import speeds
from wirecheck.circuit.rungs import ladder
from wirecheck.circuit.settle import Settled
from wirecheck.drawing.picture import draw
from wirecheck.drawing.state import State
from wirecheck.faults.listed import fault
from wirecheck.faults.suspects import suspects
from wirecheck.faults.words import said
from wirecheck.judge.case import Case
from wirecheck.judge.state_name import StateName
from wirecheck.report.energized import energized
from wirecheck.troubles.dangers import LiveThoughOff, dangers
from wirecheck.troubles.probes import places

FURNACE = Case(shipped("variable-speed-furnace"))
AIRFLOWS = ("low", "medium", "high")
RUNS = [((), ""), (("heat",), "medium"), (("cool",), "high"), (("fan",), "low")]


def volts(settled: Settled, a: str, b: str) -> float:
    return meter.volts(settled, a, b).value


@pytest.mark.parametrize(("calls", "airflow"), RUNS)
def test_a_meter_finds_the_line_at_its_plug_and_24_volts_on_one_signal(
    calls: tuple[str, ...], airflow: str
) -> None:
    settled = FURNACE.standing({}, calls)
    assert volts(settled, "F.blower.line", "F.blower.neutral") == pytest.approx(120, abs=2)
    for each in AIRFLOWS:
        there = volts(settled, f"F.blower.{each}-airflow", "F.blower.common")
        assert there == pytest.approx(26.8 if each == airflow else 0, abs=0.5)
        load = FURNACE.circuit.load[f"F.blower.{each}-speed"]
        assert (load.name in settled.running) == (each == airflow)
        assert settled.plug_volts(load) == pytest.approx(120, abs=2)


def test_a_motor_that_waits_for_its_signal_is_off_and_not_on_too_few_volts() -> None:
    told = energized(FURNACE).loads["F.blower.high-speed"]
    assert (told.does, told.amps) == ("off", 0) and told.volts == pytest.approx(120, abs=2)


def test_the_ladder_has_one_motor_on_the_line_and_its_signals_at_24_volts() -> None:
    rungs = in_order(ladder(FURNACE.circuit))
    assert [rung for rung in rungs if "F.blower.low-speed" in rung] == [
        ["TP.1", "F.door.a--b", "F.blower.low-speed"]
    ]
    assert [rung for rung in rungs if rung[-1].endswith("-airflow")] == [
        ["F.fuse", f"F.R--blower.{each}-airflow", f"F.blower.{each}-airflow"] for each in reversed(AIRFLOWS)
    ]
    picture = geometry.read(draw(FURNACE.board, kind="ladder"))
    drawn = [meant(sign) for sign in signs(picture)]
    assert [name for kind, name in drawn if kind == "load" and "blower" in name] == ["F.blower.low-speed"]
    assert noted(picture).count("motor: line 4") == len(AIRFLOWS)


@pytest.mark.parametrize(("calls", "airflow"), RUNS)
def test_the_motor_is_lit_and_its_line_live_inside_the_furnace(calls: tuple[str, ...], airflow: str) -> None:
    settled = FURNACE.standing({}, calls)
    picture = geometry.read(draw(FURNACE.board, inside="F", state=settled))
    assert ("lit-load-F.blower.low-speed" in {shape.id for shape in picture.of("lit")}) == bool(airflow)
    assert [shape for shape in picture.of("live") if "F.blower.low-speed" in shape.id]
    assert not [text.text for text in picture.texts if "line" in text.text.split()]


def test_nothing_is_measured_or_welded_within_its_electronics() -> None:
    points = [point for there in places(FURNACE.circuit).values() for point in there]
    assert "F.blower.line" in points and not [point for point in points if point.startswith("F.blower.low.")]
    faults = [str(one.fault) for one in suspects(FURNACE.circuit)]
    assert [each for each in faults if "F.blower.low-speed" in each]
    assert not [each for each in faults if "F.blower.line--" in each]


def test_a_signal_that_is_missing_is_told_from_its_screws() -> None:
    text = (files.folder("boards") / "variable-speed-furnace" / "wrong-g-left-off.wire").read_text("utf-8")
    message = wirecheck.check(text).findings[0].message
    assert "F.blower.high-airflow has less than 15 V to F.blower.common. F.G has less than 18 V" in message


OWN = """\
part plug-fan "A fan with its electronics in it, and one speed"
source "invented"
terminal line hot, lead, sizes 18 to 12, rated 75 C "its line"
terminal neutral neutral, lead, sizes 18 to 12, rated 75 C "its neutral"
terminal signal class-2, lead, sizes 22 to 18, rated 60 C "24 V to run"
terminal common class-2-common, lead, sizes 22 to 18, rated 60 C "common"
inner is junction
line -- inner.a when signal has 15 V to common, in-electronics
load fan motor from inner.a to neutral, 60 W at 120 V, constant-power
"""


def test_a_load_of_one_speed_has_its_electronics_in_it_too() -> None:
    told = circuit(board('board "Fan"\nM is plug-fan\n', {"plug-fan": OWN}))
    (load,) = told.loads
    assert load.plug == (("M.line", "M.neutral"),) and speeds(told) == {"M": (load,)}
    assert in_order(ladder(told))[0] == ["M"]


@pytest.mark.parametrize("name", ["F.blower", "F.blower.medium-speed"])
def test_its_electronics_burn_out_with_all_its_airflows(name: str) -> None:
    """One module turns one motor: there is no airflow that is left (common practice)."""
    good = FURNACE.circuit
    burnt = fault(f"{name} burnt out", good)
    assert said(burnt, good) == "F.blower burnt out"
    assert [one.fault for one in suspects(good)].count(burnt) == 1
    assert sum("F.blower" in said(one.fault, good) for one in suspects(good) if one.kind == "motor") == 1
    bad = Case(FURNACE.board, faults=(burnt,))
    for calls, _ in RUNS:
        assert not [each for each in bad.standing({}, calls).running if each.startswith("F.blower.")]


def test_a_motor_that_no_signal_starts_is_live_though_off() -> None:
    """With the fan's wire off its screw the line is at its plug all the same: off is not dead."""
    good = FURNACE.circuit
    bad = Case(FURNACE.board, faults=(fault("open TW.green at F", good),))
    (told,) = [
        each for each in dangers(bad, StateName(calls=frozenset(["cool"]))) if isinstance(each, LiveThoughOff)
    ]
    assert told.names == ("F.blower.high-speed",) and told.volts == pytest.approx(120, abs=2)
    assert not list(dangers(FURNACE, StateName(calls=frozenset(["cool"]))))


def test_on_too_few_volts_it_says_so_at_the_airflow_that_is_called() -> None:
    """Its sign stands for the speed that has volts, be they too few to run."""
    own = files.part_text("variable-speed-furnace") or ""
    made = own.replace("with high blower", "with high blower, voltage 240 V")
    assert made != own
    text = (files.folder("boards") / "variable-speed-furnace" / "right.wire").read_text("utf-8")
    furnace = case(
        text.replace("is variable-speed-furnace", "is weak-furnace"),
        **{"weak-furnace": made.replace("part variable-speed-furnace", "part weak-furnace")},
    )
    shown = State(furnace.standing({}, ("heat",)))
    assert shown.figure("F.blower.low-speed") == shown.figure("F.blower.medium-speed") == "120 V"

"""What each load of a machine waits for, and which others of its sequence a line need not name."""

from __future__ import annotations

import pytest

from tests.rules.hands import case, changed
from wirecheck import check, files
from wirecheck.judge import calls
from wirecheck.judge.sequences import needs, of_one_sequence, waits_for

BOARDS = files.folder("boards")


def right(board: str) -> str:
    return (BOARDS / board / "right.wire").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("board", "load", "waits"),
    [
        ("heat-cool-hookup", "F.inducer", {"F.W"}),
        ("heat-cool-hookup", "F.gas-valve", {"F.W"}),
        ("heat-cool-hookup", "F.blower", {"F.W", "F.G"}),
        ("heat-cool-hookup", "CU.compressor", {"CU.Y"}),
        ("oil-furnace", "F.blower", {"F.T-2"}),
        ("heat-pump", "HP.reversing-valve", {"HP.O", "HP.Y"}),
        ("boiler-two-zones", "B.gas-valve", {"B.T-2"}),
        ("ice-machine", "M.hot-gas", {"ice"}),
        ("walk-in-freezer", "W.compressor", {"W.T-2"}),
        ("walk-in-freezer", "W.heater", {"defrost"}),
        # What runs whenever there is power waits for no call.
        ("heat-cool-hookup", "F", set()),
    ],
)
def test_what_a_load_waits_for(board: str, load: str, waits: set[str]) -> None:
    told = case(right(board))
    assert waits_for(told, told.circuit.load[load]) == waits


@pytest.mark.parametrize(
    ("board", "called", "wanted", "load", "belongs"),
    [
        ("heat-cool-hookup", "heat", "F.blower", "F.inducer", True),
        ("heat-cool-hookup", "heat", "F.inducer", "F.blower", True),
        # In a call for the fan no burner belongs, though the blower runs for both.
        ("heat-cool-hookup", "fan", "F.blower", "F.inducer", False),
        ("heat-cool-hookup", "cool", "F.blower", "F.gas-valve", False),
        ("packaged-unit", "heat", "P.blower", "P.compressor", False),
        # Of another machine.
        ("heat-cool-hookup", "cool", "F.blower", "CU.compressor", False),
        # One of two thermostats makes it.
        ("boiler-two-zones", "Z1.heat", "B.spark", "B.gas-valve", True),
        # A reversing valve that runs in a call for heat is on the wrong wire.
        ("heat-pump", "heat", "HP.compressor", "HP.reversing-valve", False),
        ("heat-pump", "cool", "HP.compressor", "HP.fan", True),
        # A second stage that is not called is no step of the first one.
        ("two-stage-furnace", "heat", "F.gas-valve.low-fire", "F.inducer.low-speed", True),
        ("two-stage-furnace", "heat", "F.gas-valve.low-fire", "F.gas-valve.high-fire", False),
        ("two-stage-furnace", "heat", "F.gas-valve.low-fire", "F.inducer.high-speed", False),
        ("two-stage-furnace", "second-heat", "F.gas-valve.high-fire", "F.gas-valve.low-fire", True),
        # A valve that is energized to heat does not belong in cooling, whatever gives it power there.
        ("heat-pump-b", "cool", "HP.compressor", "HP.reversing-valve", False),
        ("heat-pump-b", "heat", "HP.compressor", "HP.reversing-valve", False),
        # Its screws carry no letter.
        ("walk-in-freezer", "cool", "W.compressor", "W.condenser-fan", True),
        ("walk-in-freezer", "cool", "W.compressor", "W.heater", False),
        ("ice-machine", "ice", "M.compressor", "M.pump", True),
    ],
)
def test_which_belongs_to_the_sequence_of_a_call(
    board: str, called: str, wanted: str, load: str, belongs: bool
) -> None:
    told = case(right(board))
    load_of = told.circuit.load
    assert of_one_sequence(told, load_of[load], load_of[wanted], (called,)) is belongs


@pytest.mark.parametrize(
    ("board", "load", "needed"),
    [
        # It begins on its low stage, for which nothing has to come.
        ("two-stage-furnace", "F.inducer.low-speed", {"F.W1"}),
        ("two-stage-furnace", "F.gas-valve.high-fire", {"F.W1", "F.W2"}),
        # Several calls run it, and none of them must be made.
        ("two-stage-furnace", "F.blower.high-speed", set()),
        ("heat-pump", "HP.reversing-valve", {"HP.Y"}),
        ("packaged-unit", "P.igniter", {"P.W"}),
    ],
)
def test_what_a_load_needs_in_every_way(board: str, load: str, needed: set[str]) -> None:
    told = case(right(board))
    assert needs(told, told.circuit.load[load]) == needed


def test_high_fire_is_no_step_of_a_line_for_the_first_stage() -> None:
    text = right("two-stage-furnace").replace("TW.brown -- F.W2", "TW.brown -- F.W2\n  F.W1 -- F.W2")
    lines = [line for line in text.splitlines() if not line.startswith(("expect", "  then"))]
    report = check("\n".join([*lines, "expect heat runs F.gas-valve.low-fire", ""]))
    (found,) = report.findings
    assert found.rule == "call-crosstalk" and "F.gas-valve.high-fire" in found.message


@pytest.mark.parametrize(
    ("board", "line", "shorter"),
    [
        ("condensing-furnace", "F.inducer, then F.igniter, then F.gas-valve, then F.blower", "F.blower"),
        ("condensing-furnace", "F.inducer, then F.igniter, then F.gas-valve, then F.blower", "F.inducer"),
        ("oil-furnace", "F.burner-motor, F.ignition, then F.oil-valve, then F.blower", "F.burner-motor"),
        ("boiler-two-zones", "ZV1, then P, then B.spark, B.gas-valve", "ZV1, then P, then B.spark"),
    ],
)
def test_a_line_may_name_some_steps(board: str, line: str, shorter: str) -> None:
    text = right(board)
    assert f"runs {line}\n" in text
    report = check(text.replace(f"runs {line}\n", f"runs {shorter}\n"))
    assert report.passes, report


def test_with_nothing_called_each_load_is_held_against_its_line() -> None:
    text = "".join(
        f"{line}\n" for line in right("condensing-furnace").splitlines() if not line.startswith("expect")
    )
    told = case(text.replace("TW.green -- F.G", "TW.green -- F.G -- F.R") + "expect idle runs nothing\n")
    (idle,) = calls.asked(told)
    assert [load.name for load in calls.extra(told, idle)] == ["F.blower"]


@pytest.mark.parametrize("load", ["F.ignition", "F.burner-motor", "F.oil-valve", "F.blower"])
def test_with_hot_and_neutral_swapped_a_load_waits_for_the_same(load: str) -> None:
    text = changed(
        right("oil-furnace"), ("PF.black -- F.L1", "PF.white -- F.L1"), ("PF.white -- F.N", "PF.black -- F.N")
    )
    told = case(text)
    assert waits_for(told, told.circuit.load[load]) == {"F.T-2"}
    # So a line that names the blower alone needs not name what comes before it.
    assert not any(calls.extra(told, line) for line in calls.asked(told))

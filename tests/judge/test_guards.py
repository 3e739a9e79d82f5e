"""What breakers and fuses protect, and how large they may be."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.circuits import HEATER, LAMP, MOTOR, MULTIWIRE, PANEL, one_load, outdoor_unit, outlet
from tests.rules.hands import CHAIN, COOLING, STAIR, case, changed
from wirecheck.judge.case import Case
from wirecheck.judge.guards import Guarded, allowed, copper, fits, guarded, guards, holder, largest, plate
from wirecheck.tables.ampacity import conductor_ampacity
from wirecheck.tables.code import LATEST

BY_HAND = Path(__file__).parents[1] / "boards" / "by_hand" / "subpanels"
FUSED = f"""board "A fused disconnect"
{PANEL}breaker LP.2 40 A 2-pole
D is fused-disconnect with fuse 25 A
CU is condensing-unit with mocp 25 A
cable PC 8/2 NM-B 38 ft from LP to D
cable PD 10/2 NM-B 6 ft from D to CU
at LP
  PC.black -- LP.2.a
  PC.white marked red -- LP.2.b
  PC.bare -- LP.ground
at D
  PC.black -- D.line-1
  PC.white marked red -- D.line-2
  PC.bare -- PD.bare -- D.ground
  PD.black -- D.load-1
  PD.white marked red -- D.load-2
at CU
  PD.black -- CU.L1
  PD.white marked red -- CU.L2
  PD.bare -- CU.ground
"""
UNIT = """\
part unit "A unit whose nameplate names no breaker"
rating mca 10 A
terminal a hot
terminal b hot
load motor motor from a to b, 8 A at 120 V
"""
RANGE = f"""board "A range"
{PANEL}breaker LP.2 50 A 2-pole
box B junction 99 cu in
R1 is range-receptacle in B
cable W1 6/3 NM-B 20 ft from LP to B
at LP
  W1.black -- LP.2.a
  W1.red -- LP.2.b
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at B
  W1.black -- R1.hot-1
  W1.red -- R1.hot-2
  W1.white -- R1.neutral
  W1.bare -- R1.ground
"""


def only(board: Case) -> Guarded:
    (guard,) = guarded(board)
    return guard


def test_a_breaker_protects_its_hots_and_their_neutrals_and_no_ground() -> None:
    guard = only(case(STAIR))
    assert (guard.name, guard.amps, guard.fuse) == ("LP.3", 15, False)
    assert {one.name for one in guard.conductors} == {
        *("W1.black", "W1.white", "W2.black", "W2.red", "W2.white", "W3.black", "W3.white")
    }
    assert {run: len(conductors) for run, conductors in guard.runs.items()} == {"W1": 2, "W2": 3, "W3": 2}
    assert [load.name for load in guard.drawers] == ["L1"]
    assert guard.outlets == ()


def test_class_2_wires_and_transformers_secondaries_are_no_part_of_it() -> None:
    names = {one.run for guard in guarded(case(COOLING)) for one in guard.conductors}
    assert names == {"PF", "PC", "K1", "K2"}
    assert [guard.name for guard in guarded(case(COOLING))] == ["LP.1", "LP.2"]


def test_both_poles_are_one_guard() -> None:
    guard = only(case(MULTIWIRE))
    assert len(guard.zones) == 2
    assert [one.name for one in guard.drawers] == ["H1.element", "H2.element"]


def test_each_conductor_has_its_guard() -> None:
    board = case(FUSED)
    told = guards(board)
    assert (told["PC.black"].name, told["PC.black"].amps) == ("LP.2", 40)
    assert (told["PD.black"].amps, told["PD.black"].fuse) == (25, True)
    assert "PC.bare" not in told


def test_a_fuse_is_held_by_the_device_on_the_board_that_it_is_in() -> None:
    board = case(FUSED)
    assert {guard.name: guard.holder.name for guard in guarded(board)} == {
        "LP.2": "LP.2",
        "D.fuse-1": "D",
        "D.fuse-2": "D",
    }
    for protection in board.circuit.protections:
        assert holder(board, protection).span == protection.span


def test_the_copper_of_a_guard_is_that_of_its_conductors() -> None:
    board = case(FUSED)
    piece = board.uses.piece
    by_name = {guard.name: copper(board, guard) for guard in guarded(board)}
    assert {piece["D.line-1"], piece["D.line-2"]} == by_name["LP.2"]
    assert by_name["D.fuse-1"] == {piece["D.load-1"]}


# ------------------------------------------------------------------ outlets


@pytest.mark.parametrize(
    ("text", "faces"),
    [
        (outlet("single-receptacle 15 A", "15 A"), 1),
        (outlet("duplex-receptacle 15 A", "15 A"), 2),
        (RANGE, 1),
        (CHAIN, 4),
        (STAIR, 0),
    ],
)
def test_a_face_is_what_one_plug_goes_into(text: str, faces: int) -> None:
    assert only(case(text)).faces == faces


def test_outlets_are_listed_once_though_two_poles_feed_them() -> None:
    assert [one.name for one in only(case(RANGE)).outlets] == ["R1.oven", "R1.controls"]


# ---------------------------------------------------------------- nameplates


def test_equipment_alone_on_a_circuit_goes_by_its_nameplate() -> None:
    board = case(outdoor_unit(30, mocp=35))
    found = plate(board, only(board))
    assert found is not None
    assert (found.equipment.name, found.most) == ("CU", 35)


def test_with_something_beside_it_the_nameplate_does_not_settle_it() -> None:
    text = outdoor_unit(30)
    lamp = text.replace("at CU\n", "L1 is heater in CU\nat CU\n  CU.L1 -- L1.a\n  CU.L2 -- L1.b\n")
    board = case(lamp)
    assert plate(board, only(board)) is None


def test_with_an_outlet_beside_it_it_does_not_either() -> None:
    more = "R1 is duplex-receptacle in CU\nat CU\n  CU.L1 -- R1.hot\n  CU.L2 -- R1.neutral\n"
    board = case(outdoor_unit(30).replace("at CU\n", more))
    assert plate(board, only(board)) is None


def test_a_nameplate_without_a_largest_breaker_settles_nothing() -> None:
    board = case(one_load(part="unit", screws=MOTOR), unit=UNIT)
    assert plate(board, only(board)) is None


def test_no_load_no_nameplate() -> None:
    board = case(outlet("single-receptacle 15 A", "15 A"))
    assert plate(board, only(board)) is None
    lamp = case(one_load(part="lampholder 60 W", screws=LAMP))
    assert plate(lamp, only(lamp)) is None


# ------------------------------------------------------------------ largest

STEPS = conductor_ampacity("NM-B", "14", code=LATEST)


@pytest.mark.parametrize(
    ("text", "amps", "by"),
    [
        # Table 430.52(C)(1), inverse-time breaker: 250 % of 7.2 A is 18 A, the next standard rating 20 A.
        (one_load(part="motor with voltage 120 V", screws=MOTOR), 20, "motor"),
        # 250 % of 5.9 A is 14.75 A: 15 A, no more than the wire has by itself.
        (one_load(part="motor with current 5.9 A, voltage 120 V", screws=MOTOR), 15, "small conductor"),
        (one_load(part="baseboard-heater 1200 W 120 V", screws=HEATER), 15, "small conductor"),
    ],
)
def test_one_motor_and_nothing_else_goes_by_the_motor(text: str, amps: float, by: str) -> None:
    board = case(text)
    limit = largest(board, only(board), STEPS)
    assert (limit.amps, limit.by) == (amps, by)


def test_a_motor_beside_something_else_does_not() -> None:
    text = one_load(part="motor with voltage 120 V", screws=MOTOR)
    two = text.replace(
        "at B\n", "H2 is motor with voltage 120 V in B\nat B\n  H1.a -- H2.a\n  H1.b -- H2.b\n"
    )
    plug = text.replace(
        "at B\n", "R1 is single-receptacle in B\nat B\n  H1.a -- R1.hot\n  H1.b -- R1.neutral\n"
    )
    for beside in (two, plug):
        board = case(beside)
        assert largest(board, only(board), STEPS).by == "small conductor"


def test_a_fuse_ahead_of_a_motor_goes_by_the_fuse() -> None:
    # Table 430.52(C)(1), dual-element fuse: 175 % of 7.2 A is 12.6 A; 15 A.
    text = one_load(part="motor with voltage 120 V", screws=MOTOR, breaker="40 A")
    fused = text.replace(
        "at B\n  W1.black -- H1.a\n", "F is fuse 15 A in B\nat B\n  W1.black -- F.line\n  F.load -- H1.a\n"
    )
    board = case(fused)
    by_name = {guard.name: guard for guard in guarded(board)}
    assert largest(board, by_name["F"], STEPS)[:2] == (15, "motor")
    # It is the fuse that protects the motor; the breaker ahead of it protects the wire.
    assert by_name["LP.3"].drawers == ()
    # 175 % of 9 A is 15.75 A: 20 A; 250 %, by a breaker, is 22.5 A: 25 A.
    for board, name, amps in (
        (case(fused.replace("motor with", "motor with current 9 A,")), "F", 20),
        (case(text.replace("motor with", "motor with current 9 A,")), "LP.3", 25),
    ):
        (guard,) = (one for one in guarded(board) if one.name == name)
        assert largest(board, guard, STEPS).amps == amps


@pytest.mark.parametrize(("part", "amps"), [("single-receptacle 50 A", 60), ("duplex-receptacle 20 A", 55)])
def test_where_several_cords_go_in_the_next_size_up_will_not_do(part: str, amps: float) -> None:
    # 240.4(B)(1): 6 AWG NM-B has 55 A.
    board = case(outlet(part, "60 A", "6/2 NM-B 20 ft"))
    assert largest(board, only(board), conductor_ampacity("NM-B", "6", code=LATEST)).amps == amps


def test_wire_fits_its_breaker_or_the_nameplate() -> None:
    board = case(one_load(breaker="20 A"))
    assert not fits(board, only(board), STEPS)
    assert fits(board, only(board), conductor_ampacity("NM-B", "12", code=LATEST))
    unit = case(outdoor_unit(30))
    assert fits(unit, only(unit), STEPS)


# ------------------------------------------------------------------ allowed


def test_each_run_is_allowed_what_its_least_conductor_is() -> None:
    text = STAIR.replace("cable W3 14/2", "cable W3 12/2")
    board = case(text)
    told = {one.conductor.run: one.limit.amps for one in allowed(board, only(board))}
    assert told == {"W1": 15, "W2": 15, "W3": 20}


def test_what_no_table_holds_is_left_out() -> None:
    board = case(changed(STAIR, ("cable W3 14/2 NM-B", "cable W3 14/2 NM-B aluminum")))
    assert [one.conductor.run for one in allowed(board, only(board))] == ["W1", "W2"]


STUDIO = (BY_HAND / "small-neutral-aluminum.wire").read_text(encoding="utf-8")


def neutral_of_feeder(*edits: tuple[str, str]) -> list[str]:
    """The wires of the studio's feeder that its 90 A breaker is too large for."""
    board = case(changed(STUDIO, *edits))
    (guard,) = (one for one in guarded(board) if one.name == "LP.2")
    return [one.conductor.name for one in allowed(board, guard) if one.limit.amps < guard.amps]


NEUTRAL = "wire FN 4 XHHW-2"
BREAKER = "breaker SP.7 15 A\n"


@pytest.mark.parametrize(
    ("edits", "thin"),
    [
        # 6 AWG aluminum carries 50 A at 75 C, and 20 A come back at most; its ground is 6 AWG too.
        (((NEUTRAL, "wire FN 6 XHHW-2"),), []),
        # No smaller than the ground (215.2(B)).
        (((NEUTRAL, "wire FN 8 XHHW-2"),), ["FN"]),
        # 20 A and twice 30 A on leg a are 80 A, and 4 AWG aluminum carries 65 A.
        (((BREAKER, BREAKER + "breaker SP.6 30 A\nbreaker SP.9 30 A leg a\n"),), ["FN"]),
        (((BREAKER, BREAKER + "breaker SP.6 20 A\nbreaker SP.9 20 A leg a\n"),), []),
        # A breaker of two poles with nothing on it yet may come to have a neutral.
        (((BREAKER, BREAKER + "breaker SP.6 50 A 2-pole\n"),), ["FN"]),
        # The hots have no such leave.
        ((("wire FA 2 XHHW-2", "wire FA 4 XHHW-2"),), ["FA"]),
    ],
)
def test_the_neutral_of_a_feeder_carries_what_comes_back(
    edits: tuple[tuple[str, str], ...], thin: list[str]
) -> None:
    assert neutral_of_feeder(*edits) == thin

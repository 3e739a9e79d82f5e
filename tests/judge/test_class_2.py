"""Which Class 2 cable a transformer feeds, and behind which protection."""

from __future__ import annotations

import pytest

from tests.rules.hands import case
from wirecheck.judge.class_2 import fed_from, on_power, power_conductors, secondary_protection

TWO = """\
board "Two valves, each on a fuse or on none"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
box A junction 42 cu in
box B junction 42 cu in
T1 is class-2-transformer 40 VA in A
F1 is fuse 2 A in A
F2 is fuse 3 A in A
V1 is solenoid-valve in B
V2 is solenoid-valve in B
cable W1 14/2 NM-B 11 ft from LP to A
cable C1 18/2 CL2 20 ft from A to B
cable C2 18/2 CL2 20 ft from A to B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- T1.primary-hot
  W1.white -- T1.primary-neutral
  T1.secondary-r -- F1.line -- F2.line
  {first}
  {second}
  {common}
at B
  C1.red -- V1.a
  C1.white -- V1.b
  C2.red -- V2.a
  C2.white -- V2.b
"""
FIRST, SECOND, COMMON = "C1.red -- F1.load", "C2.red -- F2.load", "C1.white -- C2.white -- T1.secondary-c"


@pytest.mark.parametrize(
    ("first", "second", "common", "amps"),
    [
        (FIRST, SECOND, COMMON, 3),
        (FIRST, "C2.red -- F1.load", COMMON, 2),
        # One hot without a fuse: with the bare common that is a way without any.
        (FIRST, "C2.red -- T1.secondary-r", COMMON, None),
        ("C1.red -- T1.secondary-r", "C2.red -- T1.secondary-r", COMMON, None),
        # The common is earthed: it still has no fuse, and the hots have.
        (FIRST, SECOND, COMMON + " -- W1.bare", 3),
        (FIRST, "C2.red -- T1.secondary-r", COMMON + " -- W1.bare", None),
        # Nothing is made up on the common yet, and the one hot has no fuse.
        ("C1.red -- T1.secondary-r", "cap C2.red", "C1.white -- C2.white", None),
    ],
)
def test_the_largest_protection_of_a_secondary(
    first: str, second: str, common: str, amps: float | None
) -> None:
    board = case(TWO.format(first=first, second=second, common=common))
    (winding,) = board.circuit.windings
    assert secondary_protection(board, winding) == amps


def test_a_cable_beyond_another_has_the_protection_of_that() -> None:
    text = TWO.format(first=FIRST, second=SECOND, common=COMMON)
    text = text.replace(
        "  C2.red -- V2.a\n  C2.white -- V2.b\n", "  C2.red -- C3.red\n  C2.white -- C3.white\n"
    )
    board = case(text.replace("at LP", "cable C3 18/2 CL2 20 ft from B to A\nat LP"))
    (winding,) = board.circuit.windings
    assert len(fed_from(board, winding)) == 6
    assert secondary_protection(board, winding) == 3


def test_what_a_secondary_feeds() -> None:
    board = case(TWO.format(first=FIRST, second=SECOND, common=COMMON))
    (winding,) = board.circuit.windings
    assert {wire.conductor.name for wire in fed_from(board, winding)} == {
        "C1.red",
        "C1.white",
        "C2.red",
        "C2.white",
    }


def test_what_is_earthed_in_the_panel_is_fed_by_nobody() -> None:
    text = """board "A transformer in the panel"
panel LP 120/240 V, 10 kA available
T1 is class-2-transformer 40 VA in LP
V1 is solenoid-valve
cable C1 18/3 CL2 20 ft from LP to V1
at LP
  C1.red -- T1.secondary-r
  C1.white -- T1.secondary-c -- LP.ground
  C1.green -- LP.ground
"""
    board = case(text)
    (winding,) = board.circuit.windings
    assert [wire.conductor.name for wire in fed_from(board, winding)] == ["C1.red"]
    assert secondary_protection(board, winding) is None


def test_what_is_on_power() -> None:
    board = case(TWO.format(first=FIRST, second=SECOND, common=COMMON))
    assert on_power(board) == ()
    assert set(power_conductors(board)) == {"W1.black", "W1.white"}


def test_a_ground_that_brings_current_back_is_no_power_conductor() -> None:
    text = TWO.format(first=FIRST, second=SECOND, common=COMMON)
    text = text.replace("W1.white -- T1.primary-neutral", "W1.bare -- T1.primary-neutral")
    assert set(power_conductors(case(text))) == {"W1.black"}

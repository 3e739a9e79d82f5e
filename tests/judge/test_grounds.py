"""What is grounded, by copper and by metal, and what waits to be landed."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, STAIR, case, changed, own
from tests.samples import fed
from wirecheck.judge.grounds import grounding, landed, unlanded


def test_grounds_are_home_by_their_own_copper() -> None:
    board = case(STAIR)
    known = grounding(board)
    assert not known.lost
    assert known.home == {known.piece["LP.ground"]}
    assert all(known.is_grounded(screw) for screw in ("S1.ground", "S2.ground", "L1.ground", "W3.bare@B"))
    assert not known.is_grounded("LP.neutral")
    assert not known.is_grounded("L1.neutral")


def test_what_comes_home_by_another_wire_or_by_the_neutral_bar_is_not_grounded() -> None:
    black = changed(STAIR, ("  W1.bare -- LP.ground\n", "  W1.bare -- LP.neutral\n"))
    assert [[one.name for one in lost] for lost in grounding(case(black)).lost.values()] == [
        ["S1.ground", "S2.ground", "L1.ground"]
    ]
    white = changed(
        STAIR,
        ("  W3.bare -- L1.ground\n", "  cap W3.bare\n"),
        ("W3.white -- L1.neutral", "W3.white -- L1.neutral -- L1.ground"),
    )
    assert [[one.name for one in lost] for lost in grounding(case(white)).lost.values()] == [["L1.ground"]]


def test_green_in_a_thermostats_cable_grounds_nothing() -> None:
    text = changed(
        COOLING,
        ("  K3 -- CU.ground\n", "  cap K3\n"),
        ("cable OW 18/2", "cable OW 18/5"),
        ("  OW.red -- CU.Y\n", "  OW.red -- CU.Y\n  OW.green -- CU.ground\n"),
        ("  PF.bare -- F.ground\n", "  PF.bare -- OW.green -- F.ground\n"),
    )
    assert [[one.name for one in lost] for lost in grounding(case(text)).lost.values()] == [["CU.ground"]]


CONDUIT = (
    "box A junction 21 cu in {a}",
    "box B junction 21 cu in {b}",
    "raceway R1 {one} 1/2 in 10 ft from LP to A",
    "raceway R2 {other} 1/2 in 10 ft from A to B",
    "wire H1 14 THHN black 12 ft from LP to A in R1",
    "wire H2 14 THHN black 12 ft from A to B in R2",
    "at LP",
    "H1 -- LP.3",
    "at A",
    "H1 -- H2",
)


@pytest.mark.parametrize(
    ("a", "b", "one", "other", "lost"),
    [
        ("metal", "metal", "EMT", "EMT", []),
        ("metal", "metal", "RMC", "IMC", []),
        ("metal", "metal", "EMT", "PVC", ["B.ground"]),
        ("metal", "metal", "PVC", "EMT", ["A.ground", "B.ground"]),
        # A plastic box between two conduits bonds neither.
        ("", "metal", "EMT", "EMT", ["B.ground"]),
        ("metal", "", "EMT", "EMT", []),
    ],
)
def test_metal_raceways_ground_what_they_enter(a: str, b: str, one: str, other: str, lost: list[str]) -> None:
    """NEC 2023 250.118(A)."""
    board = case(fed(*(each.format(a=a, b=b, one=one, other=other) for each in CONDUIT)))
    assert [terminal.name for piece in grounding(board).lost.values() for terminal in piece] == lost


def test_it_does_not_matter_from_which_end_a_raceway_is_written() -> None:
    lines = [each.format(a="", b="metal", one="EMT", other="EMT") for each in CONDUIT]
    text = changed(
        fed(*lines),
        ("raceway R2 EMT 1/2 in 10 ft from A to B", "raceway R2 EMT 1/2 in 10 ft from B to A"),
        ("wire H2 14 THHN black 12 ft from A to B", "wire H2 14 THHN black 12 ft from B to A"),
    )
    assert [terminal.name for piece in grounding(case(text)).lost.values() for terminal in piece] == [
        "B.ground"
    ]


def test_conduit_grounds_equipment_that_it_ends_at() -> None:
    """The liquidtight of COOLING does not: its green wire does."""
    text = changed(COOLING, ("  K3 -- CU.ground\n", "  cap K3\n"))
    assert [[one.name for one in lost] for lost in grounding(case(text)).lost.values()] == [["CU.ground"]]
    assert not grounding(case(changed(text, ("LFNC", "EMT")))).lost


def test_what_waits_to_be_landed() -> None:
    text = own("open-ground", "left-in-the-panel")
    board = case(text)
    assert [(conductor.name, which) for conductor, which in unlanded(board)] == [("W1.bare", 0)]
    known = grounding(board)
    assert {known.piece["S1.ground"], *known.home} <= landed(board)
    cut = case(changed(text, ("W1.bare -- W2.bare -- pigtail", "W1.bare -- pigtail")))
    assert grounding(cut).piece["S1.ground"] in landed(cut)
    assert grounding(cut).piece["L1.ground"] not in landed(cut)
    assert not unlanded(case(STAIR))
    # What is capped in a box waits for nothing.
    assert not unlanded(case(changed(STAIR, ("  W3.bare -- L1.ground\n", "  cap W3.bare\n"))))
    # The other wires of a panel are no grounds.
    assert not unlanded(case(changed(STAIR, ("  W1.white -- LP.neutral\n", ""))))


def test_it_is_answered_once() -> None:
    board = case(STAIR)
    assert grounding(board) is grounding(board)

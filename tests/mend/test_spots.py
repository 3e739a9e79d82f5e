"""What of a board each edit changes, by the names that a picture knows."""

from __future__ import annotations

import pytest

from wirecheck import assemble, check
from wirecheck.mend.edits import (
    Abreast,
    Behind,
    Cap,
    Change,
    Divide,
    Edit,
    Exchange,
    ExchangeAll,
    ExchangeSides,
    ExchangeThroughout,
    Gather,
    IntoWire,
    Jumper,
    Land,
    Mark,
    MarkThroughout,
    Meet,
    Move,
    Part,
    Pigtail,
    Renew,
    Rotate,
    Tail,
    Together,
    ToSpace,
    TwoPole,
)
from wirecheck.mend.spots import point, spots

TEXT = """board "Spots"
panel LP 120/240 V
breaker LP.1 15 A
box A device
box B octagon
cable W1 14/2 NM-B 9 ft from LP to A
cable W2 14/3 NM-B 9 ft from A to B
wire H1 14 THHN black 9 ft from A to B
wire H2 14 THHN red 2 ft from A to A
S1 is single-pole-switch in A
R1 is duplex-receptacle in B
at A
  W1.black -- S1.line
  H2 -- S1.load
  H2 -- W2.black
at B
  W2.black -- R1.hot-1
  H1 -- R1.hot-2
"""
BOARD = assemble(TEXT)[1]
SIZE = Change(5, "W1", "size", "14/2", "12/2", "cable W1 12/2 NM-B 9 ft from LP to A")
OTHER = SIZE._replace(number=6, subject="W2")


@pytest.mark.parametrize(
    ("edit", "at"),
    [
        (Exchange("A", "W1.black", "W1.white"), ("W1.black@A", "W1.white@A")),
        (Exchange("A", "S1.line", "S1.load"), ("S1.line", "S1.load")),
        (Abreast("A", "S1.line", "S1.load", "W2.black", "W1.white"), ("S1.load", "W2.black@A")),
        (Behind("A", ("S1.ground",), "S1.line", "S1.load"), ("S1.ground", "S1.line", "S1.load")),
        (Rotate("A", ("W1.black", "W2.black", "W1.white")), ("W1.black@A", "W2.black@A", "W1.white@A")),
        (TwoPole("LP.1", "LP.3", "LP", "15 A", (), (), 3), ("LP.1", "LP.3")),
        (ToSpace("LP.5", 3, "b", "LP.1", "", ()), ("LP.5",)),
        (Renew("R1", "old", "new", (), "W2", "10/3 NM-B", ()), ("R1", "W2")),
        (Exchange("B", "R1.hot-1", "R1.hot-2"), ("R1.hot",)),
        (
            ExchangeThroughout("W2.black", "W2.red", ("A", "B")),
            ("W2.black@A", "W2.red@A", "W2.black@B", "W2.red@B"),
        ),
        (ExchangeSides("S1", "A", (("S1.line", "S1.load"),)), ("S1.line", "S1.load")),
        (Move("B", "W2.red", "R1.hot"), ("W2.red@B",)),
        (Gather("A", ("W1.bare", "W2.bare"), ("S1.ground",)), ("W1.bare@A", "W2.bare@A")),
        (Tail("A", "W1.bare", "S1.ground"), ("S1.ground",)),
        (Pigtail("A", "S1.load"), ("S1.load",)),
        (Part("A", "S1.load", "H2"), ("S1.load",)),
        (Part("A", "S1.load", "S1.line"), ("S1.load", "S1.line")),
        (Jumper("A", "S1.load", "S1.line"), ("S1.load", "S1.line")),
        (Meet("A", "W1.white", "W2.white"), ("W1.white@A", "W2.white@A")),
        (
            ExchangeAll("A", (("W1.black", "W2.black"), ("W1.white", "W2.white"))),
            ("W1.black@A", "W2.black@A", "W1.white@A", "W2.white@A"),
        ),
        (Divide("A", ("W1.bare", "W2.bare")), ("W1.bare@A", "W2.bare@A")),
        (Land("B", (("W2.red", "R1.hot-1"), ("H1", "R1.neutral"))), ("W2.red@B", "H1@B")),
        (IntoWire("A", "W2.black", "W2.red", "W1.black"), ("W2.black@A", "W2.red@A", "W1.black@A")),
        (Cap("B", "W2.red"), ("W2.red@B",)),
        (Mark("A", "H1", "white"), ("H1@A",)),
        (MarkThroughout("W2.white", ("A", "B"), "black"), ("W2.white@A", "W2.white@B")),
        (SIZE, ("W1",)),
        (Together((SIZE, OTHER, SIZE)), ("W1", "W2")),
    ],
    ids=lambda value: type(value).__name__,
)
def test_an_edit_changes_what_it_names_in_its_place(edit: Edit, at: tuple[str, ...]) -> None:
    assert spots(edit, BOARD) == at


@pytest.mark.parametrize(
    ("joined", "at"),
    [
        ("W1.black -- W2.black -- W2.red -- S1.line", ("W2.black@A", "W2.red@A")),
        # On a tail of the splice: the one wire leaves it, and goes on the screw.
        ("W1.black -- W2.black -- W2.red -- pigtail -- S1.line", ("W1.black@A",)),
        ("W1.black -- W2.black -- S1.load -- S1.line", ("W1.black@A",)),
    ],
)
def test_a_join_is_parted_by_the_wires_that_leave_its_screw(joined: str, at: tuple[str, ...]) -> None:
    lines = "".join(f"  {each}\n" for each in ("W1.black -- S1.line", "H2 -- S1.load", "H2 -- W2.black"))
    board = assemble(TEXT.replace(lines, f"  {joined}\n"))[1]
    assert spots(Divide("A", ("W1.black", "S1.line")), board) == at


def test_a_wire_with_both_ends_in_one_place_has_the_end_that_is_joined() -> None:
    assert point(BOARD, "A", "H2") == BOARD.conductors["H2"].ends[0]


def test_a_mend_carries_what_it_changes() -> None:
    wrong = """board "Closet"
panel LP 120 V
breaker LP.1 30 A
box A device
cable W1 14/2 NM-B 9 ft from LP to A
R1 is duplex-receptacle in A
at LP
  W1.black -- LP.1
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- R1.hot
  W1.white -- R1.neutral
  W1.bare -- R1.ground
"""
    (finding,) = (one for one in check(wrong, effort=100).findings if one.severity != "advice")
    assert [mend.at for mend in finding.mends] == [("LP.1",)]

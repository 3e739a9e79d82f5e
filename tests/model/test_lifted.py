"""A board with wires' ends off their screws."""

from __future__ import annotations

from tests.samples import board, fed
from wirecheck.model.lifted import lifted

LINES = (
    "box A device 20 cu in",
    "cable W1 14/2 NM-B 9 ft from LP to A",
    "cable W2 14/2 NM-B 9 ft from A to LP",
    "S1 is single-pole-switch in A",
    "at A",
    "W1.black -- W2.black -- pigtail -- S1.line",
    "W1.white -- S1.load",
    "W1.bare -- W2.bare",
)


def test_an_end_leaves_its_splice_and_its_screw() -> None:
    whole = board(fed(*LINES))
    splice, _, grounds = lifted(whole, {"W1.black@A"}).joins
    assert [one.name for one in splice.members] == ["W2.black", "pigtail", "S1.line"]
    assert [one.name for one in splice.splice] == ["W2.black", "pigtail"]
    assert grounds == whole.joins[2]
    under = lifted(whole, {"W1.white@A"}).joins
    assert len(under) == 2
    assert lifted(whole, {"W1.bare@LP"}) == whole


def test_what_sat_with_it_under_a_screw_stays_there() -> None:
    whole = board(fed(*LINES[:-3], "W1.black -- W2.black -- S1.line"))
    (join,) = lifted(whole, {"W2.black@A"}).joins
    assert [one.name for one in join.under["S1.line"]] == ["W1.black"]

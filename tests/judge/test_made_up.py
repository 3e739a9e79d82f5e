"""What is joined to what, and what to nothing."""

from __future__ import annotations

from tests.rules.hands import HALVES, LIGHT, STAIR, case, changed
from wirecheck.judge import made_up


def test_joins_by_point_in_order_of_the_text() -> None:
    board = case(HALVES)
    there = made_up.joins(board)["R1.hot"]
    assert [[member.name for member in join.members] for join, _ in there] == [
        ["W2.black", "R1.hot"],
        ["W2.red", "R1.hot"],
    ]
    assert [member.point for _, member in there] == ["R1.hot", "R1.hot"]
    assert made_up.join_at(board, "R1.hot") is there[0][0]
    assert (
        made_up.join_at(case(changed(LIGHT, ("  W2.bare -- L1.ground\n", "  cap W2.bare\n"))), "L1.ground")
        is None
    )


def test_loose_is_what_is_neither_joined_nor_capped() -> None:
    loose = case(changed(STAIR, ("  W3.black -- L1.hot\n", "")))
    assert [(one.name, which) for one, which in made_up.loose_ends(loose)] == [("W3.black", 1)]
    assert made_up.is_loose(loose, "W3.black@B")
    assert not made_up.is_loose(loose, "W3.black@C")
    capped = case(changed(STAIR, ("  W3.black -- L1.hot\n", "  cap W3.black\n")))
    assert not made_up.is_loose(capped, "W3.black@B")
    assert not made_up.loose_ends(capped)
    conductor = loose.board.conductors["W3.black"]
    assert [made_up.run_end(loose, conductor, which).place for which in (0, 1)] == ["C", "B"]


def test_a_screw_is_at_its_join_or_at_what_it_belongs_to() -> None:
    text = changed(LIGHT, ("octagon 15.5 cu in", "octagon 15.5 cu in metal"), ("LP.3 15 A", "LP.3 15 A gfci"))
    board = case(text)
    screws = board.board.terminals
    owners = {
        name: made_up.owner_of(board, screws[name])
        for name in ("LP.ground", "LP.3.neutral", "B.ground", "L1.hot")
    }
    assert {name: type(owner).__name__ for name, owner in owners.items()} == {
        "LP.ground": "Panel",
        "LP.3.neutral": "Breaker",
        "B.ground": "Box",
        "L1.hot": "Device",
    }
    lines = text.splitlines()
    assert lines[made_up.at_screw(board, screws["L1.hot"]).span.line - 1].strip() == "W2.black -- L1.hot"
    assert lines[made_up.at_screw(board, screws["B.ground"]).span.line - 1].startswith("box B")
    assert lines[made_up.at_screw(board, screws["LP.3.neutral"]).span.line - 1].startswith("breaker LP.3")

"""Which size of raceway holds what is in it."""

from __future__ import annotations

import pytest

from tests.rules.hands import case
from tests.rules.test_raceway_fill import conduit
from wirecheck.judge.raceway import conductors_in, filling, size_that_holds
from wirecheck.tables.raceways import SQUARE_INCH


# NEC Annex C Table C.1 (from memory): EMT holds 9 of 12 THHN in 1/2 in, 16 in 3/4 in, 26 in 1 in.
@pytest.mark.parametrize(("count", "size"), [(9, "1/2"), (10, "3/4"), (16, "3/4"), (17, "1"), (26, "1")])
def test_the_next_size(count: int, size: str) -> None:
    board = case(conduit("EMT 1/2 in 30 ft", *["12 THHN black"] * count))
    raceway = board.board.raceways["R1"]
    assert len(conductors_in(board, raceway)) == count
    assert filling(board, raceway).area == pytest.approx(count * 0.0133 * SQUARE_INCH)
    assert size_that_holds(board, raceway) == size


def test_there_may_be_none() -> None:
    board = case(conduit("LFNC 2 in 30 ft", *["500 kcmil THHN black"] * 4))
    assert size_that_holds(board, board.board.raceways["R1"]) is None

"""What copper is used for while a ground-fault device is open."""

from __future__ import annotations

from tests.rules.hands import CHAIN, case
from wirecheck.judge.opened import uses_opened


def test_the_two_sides_are_told_apart() -> None:
    board = case(CHAIN)
    apart = uses_opened(board, "G1")
    assert (apart.of("G1.line-hot"), apart.of("G1.load-hot"), apart.of("R1.neutral")) == (
        "hot",
        "none",
        "none",
    )
    assert board.uses.of("R1.neutral") == "neutral"
    assert uses_opened(board, "G1") is apart
    assert uses_opened(board, "LP.3").of("G1.line-hot") == "none"

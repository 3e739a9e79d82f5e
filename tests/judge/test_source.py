"""The legs and the bars of the panels."""

from __future__ import annotations

from tests.rules.hands import COOLING, case
from wirecheck.judge.source import bars, legs


def test_legs_and_bars() -> None:
    board = case(COOLING)
    assert {point: leg.panel for point, leg in legs(board).items()} == {"LP.leg-a": "LP", "LP.leg-b": "LP"}
    assert bars(board, "neutral") == {"LP.neutral"}
    assert bars(board, "ground") == {"LP.ground"}
    assert bars(board, "neutral", "ground") == {"LP.neutral", "LP.ground"}

"""Several mistakes on one board: each is named with its own mend, though neither alone makes it work."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import changed
from wirecheck import check

BOARD = (Path(__file__).parent / "boards" / "hot-on-ground-and-white-loose.wire").read_text("utf-8")
LINES = "expect G1 live\nexpect R1 live\nexpect V1 from S1\n"


@pytest.mark.slow
@pytest.mark.parametrize("lines", [LINES, ""], ids=["with lines", "without"])
def test_a_hot_on_the_ground_bar_and_a_loose_white_are_two(lines: str) -> None:
    """With the white put right first, both sides of the lamp are on ground, until the hot is put right."""
    report = check(changed(BOARD, (LINES, lines)), effort=400)
    assert [(one.rule, [mend.remedy for mend in one.mends]) for one in report.findings] == [
        ("loose-conductor", ["Put it on MP.neutral."]),
        ("conductor-color", ["Take it out, and put it on MP.3."]),
    ]
    again = check(report.mended(2), effort=400)
    assert check(again.mended(1)).findings == ()

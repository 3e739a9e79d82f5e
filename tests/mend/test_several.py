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


def test_what_one_mistake_kept_from_being_seen_does_not_forbid_the_mend_of_another() -> None:
    """On the wrong tap no heat comes that the limit, which is passed, would have to stop."""
    text = (Path(__file__).parent / "boards" / "limit-passed-on-the-wrong-tap.wire").read_text("utf-8")
    report = check(text, effort=400)
    assert [mend.mistake for mend in report.mends] == [
        "At J, TW.white is with LW.red and WW.red, and belongs with LW.white.",
        "T is on its tap for 240 V, and should be on 120 V.",
    ]
    assert report.mends[1].remedy == "First put the other mistake right. Use its tap for 120 V."
    assert [one for one in check(report.mended(2)).findings if one.severity != "advice"] == []

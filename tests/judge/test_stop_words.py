"""Where a path stops, in words: each thing that waits is told once."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import changed
from wirecheck import check

BOILER = (Path(__file__).parents[1] / "mend" / "boards" / "neutral-out-of-the-splice.wire").read_text("utf-8")


@pytest.mark.slow
def test_a_switch_that_waits_is_told_by_what_it_waits_for() -> None:
    """That it closes when it is closed says nothing."""
    text = changed(
        BOILER,
        ("  M2.white -- XF.primary-neutral\n", "  M2.white -- M3.white -- XF.primary-neutral\n"),
        ("TA.white -- V1.motor-1", "TA.white -- V1.end-1"),
        ("EA.red -- V1.end-1", "EA.red -- V1.motor-1"),
    )
    said = [one.message for one in check(text, effort=0).findings if one.rule == "call-continuity"]
    assert any(" B.damper.end is open, and stays so until B.damper.damper runs." in one for one in said)
    assert not any("closes when B.damper.end" in one for one in said)

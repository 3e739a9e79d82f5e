"""What hangs on the far side of a run capacitor."""

from __future__ import annotations

import pytest

from tests.rules.hands import STAIR, at, changed, reported, seen
from wirecheck import files
from wirecheck.rules.capacitor_feed import RULE

BOARDS = files.folder("boards")
RIGHT, WRONG = (
    (BOARDS / "rules" / "capacitor-feed" / f"{name}.wire").read_text(encoding="utf-8")
    for name in ("right", "wrong")
)
START_KIT, REACH_IN = (
    (BOARDS / name / "right.wire").read_text(encoding="utf-8")
    for name in ("capacitor-compressor", "reach-in-cooler")
)


@pytest.mark.parametrize("text", [STAIR, RIGHT, START_KIT, REACH_IN])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_a_fan_beyond_the_run_capacitor() -> None:
    (found,) = seen(RULE, WRONG)
    assert (found.subject, found.capacitor.name, found.winding.name) == ("CF", "RC", "CP.start")
    assert (found.severity, found.stage) == ("fault", "final")
    assert at(WRONG, found).startswith("RC.b -- CP.S -- CF.a")


@pytest.mark.slow
def test_it_is_the_only_one_there() -> None:
    assert reported(WRONG) == ["capacitor-feed"]


@pytest.mark.slow
@pytest.mark.parametrize(("screw", "found"), [("CP.R", 0), ("CP.S", 1)])
def test_either_lead_of_it(screw: str, found: int) -> None:
    """With its other lead on the line, by which of the compressor's leads it is."""
    text = changed(RIGHT, ("-- CP.R -- CF.a", "-- CP.R"), ("-- CP.C -- CF.b", "-- CP.C -- CF.a"))
    assert len(seen(RULE, text.replace("at E\n", f"at E\n  CF.b -- {screw}\n", 1))) == found

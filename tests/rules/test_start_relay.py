"""The coil of a start relay, and on which side of its contact it is."""

from __future__ import annotations

import pytest

from tests.rules.hands import STAIR, at, changed, reported, seen
from wirecheck import files
from wirecheck.rules.start_relay import RULE

BOARDS = files.folder("boards")
RIGHT, WRONG = (
    (BOARDS / "rules" / "start-relay" / f"{name}.wire").read_text(encoding="utf-8")
    for name in ("right", "wrong")
)
REACH_IN = (BOARDS / "reach-in-cooler" / "right.wire").read_text(encoding="utf-8")


@pytest.mark.parametrize("text", [STAIR, RIGHT, REACH_IN])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_the_two_screws_of_its_contact_swapped() -> None:
    (found,) = seen(RULE, WRONG)
    assert (found.coil.name, found.winding.name, found.capacitor.name) == ("PR", "CP.start", "SC")
    assert (found.here, found.there, found.severity, found.stage) == ("PR.2", "PR.1", "fault", "final")
    assert at(WRONG, found).startswith("SC.b -- PR.2")


def test_the_two_ends_of_its_coil_swapped() -> None:
    """The contact puts the capacitor on the common: it takes the line, and the start winding none of it."""
    swap = (
        ("C.load-2 -- pigtail -- PR.5", "C.load-2 -- pigtail -- PR.2"),
        ("-- PR.2 -- CP.S", "-- PR.5 -- CP.S"),
    )
    board = changed((BOARDS / "capacitor-compressor" / "right.wire").read_text(encoding="utf-8"), *swap)
    (found,) = seen(RULE, board)
    assert (found.winding.name, found.capacitor.name) == ("CP.start", "SC")
    assert (found.here, found.other) == ("PR.2", "PR.5")
    assert not seen(RULE, changed(board, ("  SC.b -- PR.1\n", "  SC.b -- CP.S\n")))


@pytest.mark.slow
def test_it_is_one_mistake_and_the_only_one() -> None:
    assert reported(WRONG) == ["start-relay"]


@pytest.mark.slow
@pytest.mark.parametrize(
    "edits",
    [
        # The coil off its screw, on the line, or on the run winding: others find these.
        (("  SC.b -- PR.2", "  SC.b -- PR.5"),),
        # Past the relay its contact parts nothing.
        (("-- pigtail -- PR.1", "-- pigtail -- PR.2"),),
    ],
)
def test_what_is_no_swap(edits: tuple[tuple[str, str], ...]) -> None:
    assert not seen(RULE, changed(WRONG, *edits))

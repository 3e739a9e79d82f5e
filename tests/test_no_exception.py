"""No text ends a command with an exception: each text that once did, kept in `found`, and others of its kind.

A file in `found/parts` is the part `p` of one small board, and one in `found/boards` is a board.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.everything import failures
from tests.parts.shelf import SHIPPED
from wirecheck import files
from wirecheck.parts.library import Library

FOUND = Path(__file__).parent / "found"
WITH_PART = """board "A part of one's own"
panel LP 120/240 V
breaker LP.3 15 A
X is p
cable W1 14/2 NM-B 9 ft from LP to X
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
at X
  W1.black -- X.a
  W1.white -- X.b
expect X from X
expect X live
expect heat runs X
expect X stops X
"""


def library(text: str) -> Library:
    """The shipped parts, and one called p."""
    return Library(
        lambda name: text if name == "p" else files.part_text(name), lambda: [*files.part_names(), "p"]
    )


@pytest.mark.parametrize("file", sorted(FOUND.glob("boards/*")), ids=lambda file: file.stem)
def test_no_board_ends_a_command(file: Path) -> None:
    assert failures(file.read_bytes(), SHIPPED) == {}


@pytest.mark.parametrize("file", sorted(FOUND.glob("parts/*")), ids=lambda file: file.stem)
def test_no_part_ends_a_command(file: Path) -> None:
    assert failures(WITH_PART, library(file.read_text())) == {}

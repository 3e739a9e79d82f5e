"""Lines of text are as long as their column lets them be."""

from __future__ import annotations

from itertools import pairwise

import pytest

from wirecheck.drawing.letters import text_width, wrap

WORDS = "W1.black is loose at A, and all that lies beyond it on the way to the far box is dead with it"


@pytest.mark.parametrize("width", [44.0, 61.5, 90.0, 200.0, text_width("W1.black is loose", 8)])
@pytest.mark.parametrize("bold", [False, True])
def test_no_line_has_room_for_the_next_word(width: float, bold: bool) -> None:
    lines = wrap(WORDS, width, 8, bold)
    assert " ".join(lines) == WORDS
    assert all(text_width(line, 8, bold) <= width for line in lines)
    for line, after in pairwise(lines):
        assert text_width(f"{line} {after.split()[0]}", 8, bold) > width

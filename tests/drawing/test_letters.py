"""Lines of text are as long as their column lets them be."""

from __future__ import annotations

from itertools import pairwise

import pytest

from wirecheck.drawing.letters import evenly, text_width, wrap

WORDS = "W1.black is loose at A, and all that lies beyond it on the way to the far box is dead with it"


@pytest.mark.parametrize("width", [44.0, 61.5, 90.0, 200.0, text_width("W1.black is loose", 8)])
@pytest.mark.parametrize("bold", [False, True])
def test_no_line_has_room_for_the_next_word(width: float, bold: bool) -> None:
    lines = wrap(WORDS, width, 8, bold)
    assert " ".join(lines) == WORDS
    assert all(text_width(line, 8, bold) <= width for line in lines)
    for line, after in pairwise(lines):
        assert text_width(f"{line} {after.split()[0]}", 8, bold) > width


@pytest.mark.parametrize(
    "text",
    ["cutout out-1 to lower a", "YG has 18 V to C and not R has 4 V to YG", "high or medium or low", WORDS],
)
@pytest.mark.parametrize("width", [90.0, 120.0])
def test_lines_are_about_as_long_as_one_another_and_no_more_for_that(text: str, width: float) -> None:
    lines, greedy = evenly(text, width, 8.5), wrap(text, width, 8.5)
    assert " ".join(lines) == text and len(lines) == len(greedy)
    longest = max(text_width(line, 8.5) for line in lines)
    assert longest <= max(text_width(line, 8.5) for line in greedy) <= width
    assert min(len(line) for line in lines) > 2


def test_a_long_word_is_cut_behind_its_hyphens_and_else_into_pieces_that_are_as_long() -> None:
    for word in ("power-vent-water-heater", "compressorprotectoroverload", "a-overloadoverloadoverload"):
        for width in (30.0, 60.0, 90.0):
            pieces = wrap(word, width, 8.5)
            assert "".join(pieces) == word and all(text_width(piece, 8.5) <= width for piece in pieces)
            assert word[0] == "a" or min(map(len, pieces)) > 2

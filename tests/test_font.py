"""The widths of letters are those that two other readers of fonts find."""

from __future__ import annotations

import pytest
from PIL import ImageFont
from reportlab.pdfbase.ttfonts import TTFontFace

from wirecheck import files, font

EM = 2048
"""The units to the em of Bitstream Vera: at that size a letter is as wide as its file says."""


@pytest.mark.parametrize("bold", [False, True])
def test_widths_are_those_that_reportlab_and_freetype_find(bold: bool) -> None:
    path = str(font.paths()[bold])
    found = font.widths(bold)
    reportlab = TTFontFace(path).charWidths
    assert len(found) > 250 and found == {letter: reportlab[letter] for letter in found}
    freetype = ImageFont.truetype(path, EM)
    for letter in map(ord, "Wm.1 é×Ω–”"):
        assert found[letter] * EM / 1000 == pytest.approx(freetype.getlength(chr(letter)), abs=1e-6)


def test_what_reportlab_has_beside_them_has_no_letter_in_the_font() -> None:
    """It gives each of them the box that stands for a letter that is not there."""
    face = TTFontFace(str(font.paths()[False]))
    beside = set(face.charWidths) - set(font.widths(False))
    assert beside and {face.charToGlyph[letter] for letter in beside} == {0}


def test_a_file_that_is_cut_or_no_font_is_refused() -> None:
    whole = files.font(bold=False)
    for size in (0, 3, 12, 200, 1000, len(whole) // 2):
        with pytest.raises(font.NotAFont):
            font.widths_in(whole[:size])
    with pytest.raises(font.NotAFont):
        font.widths_in(bytes(len(whole)))

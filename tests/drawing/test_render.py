"""SVG, PNG and PDF of one picture, with no font of the machine."""

from __future__ import annotations

import re
from io import BytesIO

import pytest
from PIL import Image

import wirecheck
from wirecheck.drawing.picture import draw, sheet
from wirecheck.drawing.render import SIZES, to_pdf, to_png
from wirecheck.drawing.sheet import dot_source

BOARD = wirecheck.assemble(
    """board "One lamp"
panel LP 120 V
breaker LP.1 15 A
box B octagon
cable W1 14/2 NM-B 10 ft from LP to B
L1 is lampholder 60 W in B
at LP
  W1.black -- LP.1
at B
  W1.black -- L1.hot
"""
)[1]


def test_text_shows_in_png_without_system_fonts() -> None:
    """resvg is told to pass over the machine's fonts; letters must appear all the same."""
    family = re.search(r'font-family="([^"]*)"', draw(BOARD))
    assert family is not None
    blank = '<svg xmlns="http://www.w3.org/2000/svg" width="90" height="30">{}</svg>'
    words = f'<text x="5" y="20" font-family="{family[1]}" font-size="14">common</text>'
    image = Image.open(BytesIO(to_png(blank.format(words), 1)))
    assert image.getchannel("A").getextrema()[1] > 200


def test_png_grows_with_zoom() -> None:
    picture = draw(BOARD)
    small, large = (Image.open(BytesIO(to_png(picture, zoom))) for zoom in (1, 2))
    assert abs(large.width - 2 * small.width) <= 2


def test_pdf_keeps_text_as_text() -> None:
    """The page's stream sets glyphs of an embedded face (PDF 32000-1, 9.4.3: the Tj operator)."""
    pdf = to_pdf(draw(BOARD))
    assert b"/FontFile2" in pdf
    assert b"Vera" in pdf
    assert pdf == to_pdf(draw(BOARD))


@pytest.mark.parametrize("page", SIZES)
def test_one_page(page: str) -> None:
    picture = draw(BOARD, page=page)
    size = re.search(r'<svg width="([\d.]+)pt" height="([\d.]+)pt"', picture)
    assert size is not None
    assert sorted((float(size[1]), float(size[2]))) == sorted(round(side, 2) for side in SIZES[page])
    box = re.search(rb"/MediaBox \[ 0 0 ([\d.]+) ([\d.]+) \]", to_pdf(picture))
    assert box is not None
    assert sorted((float(box[1]), float(box[2]))) == pytest.approx(sorted(SIZES[page]), abs=1)


def test_dot_needs_no_layout() -> None:
    """Every node and edge of the source has its place, so that any Graphviz draws the same picture."""
    for statement in re.findall(r"^\t+\"?[^\n]*\[.*\]$", dot_source(sheet(BOARD)), re.MULTILINE):
        if not statement.strip().startswith(("graph ", "node ", "edge ")):
            assert "pos=" in statement, statement

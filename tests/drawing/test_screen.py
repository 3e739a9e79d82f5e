"""Drawings on a screen of 1440 pixels: no words too small to be read, and nothing beyond its right edge."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from PIL import ImageFont

import wirecheck
from tests.drawing import geometry
from wirecheck import files, font
from wirecheck.drawing.area import LEAST_ON_SCREEN, SCREEN
from wirecheck.drawing.cuts import smallest
from wirecheck.drawing.picture import KINDS, draw, sheet
from wirecheck.drawing.screen import scale_of
from wirecheck.findings import findings
from wirecheck.judge.case import Case
from wirecheck.model.board import Board

FOLDER = Path(str(files.folder("boards")))
ALL = sorted(
    path.relative_to(FOLDER).as_posix()
    for path in FOLDER.rglob("*.wire")
    if path.name not in ("exercise.wire", "faults.wire")
)
LARGE = ["two-transformers/right.wire", "boiler-two-zones/wrong-end-switch-left-off.wire"]
PIXEL = 0.75
"""A pixel of CSS in points."""


def of(name: str) -> Board:
    return wirecheck.assemble((FOLDER / name).read_text("utf-8"))[1]


def is_read_on_a_screen(board: Board, kind: str) -> None:
    """No words under the least, with the whole width of the drawing in the window."""
    drawn = sheet(board, findings(Case(board)) if kind == "wiring" else (), kind)
    scale = scale_of(drawn)
    assert drawn.width * scale <= SCREEN.width + 0.01, (drawn.width, scale)
    assert smallest(drawn) * scale >= 9 * PIXEL - 0.01, (drawn.width, scale)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", LARGE)
def test_large_boards_on_a_screen(name: str, kind: str) -> None:
    is_read_on_a_screen(of(name), kind)


@pytest.mark.slow
@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", ALL)
def test_every_board_on_a_screen(name: str, kind: str) -> None:
    is_read_on_a_screen(of(name), kind)


def test_a_drawing_has_the_size_in_which_it_is_read() -> None:
    board = of(LARGE[1])
    svg = draw(board)
    found = re.search(
        r'<svg width="([\d.]+)pt" height="([\d.]+)pt"\s+viewBox="0.00 0.00 ([\d.]+) ([\d.]+)"', svg
    )
    assert found is not None
    wide, high, inner_wide, inner_high = map(float, found.groups())
    assert wide <= SCREEN.width + 0.01
    assert high / inner_high == pytest.approx(wide / inner_wide, abs=1e-3)
    sizes = [float(size) for size in re.findall(r'font-size="([\d.]+)"', svg)]
    assert min(sizes) * wide / inner_wide >= LEAST_ON_SCREEN - 0.01
    assert geometry.read(svg).of("room")


def test_letters_of_the_least_size_have_the_pixels_that_an_e_takes() -> None:
    regular = ImageFont.truetype(str(font.paths()[0]), round(LEAST_ON_SCREEN / PIXEL))
    _, top, _, low = regular.getbbox("e")
    assert low - top >= 5

"""A picture that is shown on a dark page is printed as one on paper: each color of it has its rule."""

import re

import pytest

from tests.samples import board
from wirecheck import files
from wirecheck.drawing.colors import DARK, INSULATION, JACKET, JACKETS, PAPER, RACEWAY, casing, on_page
from wirecheck.drawing.picture import sheet
from wirecheck.drawing.sheet import dot_source

COLOR = re.compile("#[0-9a-f]{6}")
RULE = re.compile(r'\.picture \[(fill|stroke)="(#\w{6})"\]')


def printed():
    """What each color of a fill and a stroke becomes in print."""
    css = files.page_file("page.css").decode().partition("@media print")[2]
    found = {"fill": {}, "stroke": {}}
    for selectors, paint, color in re.findall(
        r"^  (\.picture \[.*) \{ (\w+): (#\w{6}); \}$", css, re.MULTILINE
    ):
        for what, dark in RULE.findall(selectors):
            assert what == paint
            found[what][dark] = color
    return found


def test_each_color_of_a_dark_page_is_printed_as_on_paper():
    inks = dict(zip(vars_of(DARK), vars_of(PAPER), strict=True))
    jackets = {on_page(color, DARK): color for color in (*JACKETS.values(), JACKET, RACEWAY)}
    assert printed() == {"fill": inks, "stroke": inks | jackets}


def test_a_wire_that_stands_out_from_paper_is_printed_with_a_light_casing():
    light = re.findall(
        r"\.casing:has\(\+ \.([\w-]+)\) \[stroke=\"#1a1a1a\"\] \{ stroke: #ffffff",
        files.page_file("page.css").decode(),
    )
    on_dark, on_paper = (
        {name: casing(color, page.room) for name, color in INSULATION.items()} for page in (DARK, PAPER)
    )
    assert light == [name for name in INSULATION if on_dark[name] != on_paper[name]]


def vars_of(page):
    return [page.ground, page.ink, page.faint, page.room, page.device, page.lit]


@pytest.mark.slow
@pytest.mark.parametrize("name", ["stair-light", "heat-pump", "motor-starter"])
def test_a_dark_picture_has_no_other_colors_of_its_own(name):
    built = board((files.folder("boards") / name / "right.wire").read_text())
    dark, paper = (
        COLOR.findall(dot_source(sheet(built, (), "wiring", colors, None, None, listed=False)))
        for colors in ("dark", "paper")
    )
    # But for the thin casing that sets a wire off.
    other = {(one, printed()["stroke"].get(one, one), was) for one, was in zip(dark, paper, strict=True)}
    assert {(one, now, was) for one, now, was in other if now != was} <= {("#1a1a1a", "#1a1a1a", "#ffffff")}

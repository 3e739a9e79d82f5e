"""What a board's text says stands in its picture as it was written, whatever it means to Graphviz."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

import wirecheck

SVG = "{http://www.w3.org/2000/svg}"
ODD = [
    "ends in a backslash\\",
    "\\",
    "\\N \\G \\E \\T \\H \\L \\l \\r \\n \\\\ \\\\\\",
    "<b>bold</b> &amp; &#60;",
    "</svg>]]> <!-- -->",
    "%s %d {0} ${HOME}",
    "strict",
    "graph",
]


@pytest.mark.parametrize("title", ODD)
def test_a_title_is_drawn_as_it_is_written(title: str) -> None:
    picture = wirecheck.draw(f'board "{title}"\nbox A device 20 cu in')
    root = ElementTree.fromstring(picture.svg)
    assert title in [each.text for each in root.iter(f"{SVG}title")]
    assert title in [each.text for each in root.iter(f"{SVG}text")]
    for ending in (".png", ".pdf", ".dot"):
        assert picture.data(ending)

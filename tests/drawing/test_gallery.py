"""The gallery that the README links: it is what is drawn now, and small."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from tests.drawing.gallery import BOARDS, GALLERY, MOST, PICTURES, drawn, page


def test_the_gallery_has_its_twenty_pictures() -> None:
    files = {path.name: path for path in GALLERY.iterdir()}
    assert files.keys() == {"README.md", *(one.name for one in PICTURES)} and len(files) == 21
    assert sum(path.stat().st_size for path in files.values()) < MOST
    assert files["README.md"].read_text("utf-8") == page()
    assert "(boards/gallery)" in (BOARDS.parent / "README.md").read_text("utf-8")
    for one in PICTURES:
        ElementTree.fromstring(files[one.name].read_bytes())


@pytest.mark.slow
def test_the_gallery_is_what_is_drawn() -> None:
    for name, text in drawn():
        assert text == (GALLERY / name).read_text("utf-8"), "draw it anew: python -m tests.drawing.gallery"

"""A drawing on a screen: no wider than a window, as far as its words can be read there."""

from __future__ import annotations

import re

from wirecheck.drawing.area import LEAST_ON_SCREEN, SCREEN
from wirecheck.drawing.cuts import smallest
from wirecheck.drawing.render import to_svg
from wirecheck.drawing.sheet import Sheet, dot_source

_SIZE = re.compile(r'<svg width="[^"]*" height="[^"]*"')


def scale_of(sheet: Sheet) -> float:
    """How large a drawing is shown: as drawn, or as small as its words allow where it is wider than a window.

    >>> scale_of(Sheet("wide", "#ffffff", 1100, 50))
    0.9409...
    """
    return min(1.0, max(SCREEN.width / sheet.width, LEAST_ON_SCREEN / smallest(sheet)))


def on_screen(sheet: Sheet) -> str:
    """The drawing as SVG, in the size in which a screen shows it."""
    svg, scale = to_svg(dot_source(sheet)), scale_of(sheet)
    if scale == 1.0:
        return svg
    size = f'<svg width="{sheet.width * scale:.2f}pt" height="{sheet.height * scale:.2f}pt"'
    return _SIZE.sub(size, svg, count=1)

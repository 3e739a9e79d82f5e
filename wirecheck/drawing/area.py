"""The area that a drawing is laid out for, on a screen or on paper, and how large it is shown there."""

from __future__ import annotations

from typing import NamedTuple

from wirecheck.drawing.letters import SMALLEST

LEAST_ON_SCREEN = 6.75
"""Words smaller than this, in points, are not read on a screen. It is 9 pixels of CSS: small letters are then
5 pixels high, and an e has three strokes and the two gaps between them."""
LEAST_ON_PAPER = 6.0
"""Words smaller than this, in points, are not read on paper (common practice)."""


class Shown(NamedTuple):
    """How a drawing is shown in an area: whether its words can be read there, and its scale."""

    readable: bool
    scale: float

    def beats(self, other: Shown, by: float = 1.0) -> bool:
        """Whether it is read where the other is not, or is larger by more than a factor."""
        if self.readable != other.readable:
            return self.readable
        return self.scale > other.scale * by


NOT_SHOWN = Shown(False, 0.0)


class Area(NamedTuple):
    """A width and a height, in points, and the least scale at which words are read.

    `scrolls` is whether what is too high is moved up and down, as a page on a screen is; then the width
    alone decides whether the words can be read.
    """

    width: float
    height: float
    least: float = 0.0
    scrolls: bool = False

    def shows(self, width: float, height: float, most: float = 1.0) -> Shown:
        """How a drawing of this size is shown, at most at a scale.

        >>> Area(1000, 600, 0.8, scrolls=True).shows(1200, 1500)
        Shown(readable=True, scale=0.4)
        >>> Area(1000, 600, 0.8).shows(1200, 1500)
        Shown(readable=False, scale=0.4)
        """
        across, down = self.width / width, self.height / height
        readable = (across if self.scrolls else min(across, down)) >= self.least - 1e-6
        decides = (across,) if self.scrolls and not readable else (across, down)
        return Shown(readable, min(most, *decides))

    def less(self, height: float) -> Area:
        """What is left of it under a head."""
        return self._replace(height=self.height - height)


SCREEN = Area(1035.0, 592.0, LEAST_ON_SCREEN / SMALLEST, scrolls=True)
"""A window of 1440 by 900 pixels, without what a browser and a page have around a picture."""

"""The two rails of a ladder, at full height, with what all its rungs hang on in them.

A breaker, a fuse or a disconnect in front of a whole ladder is no part of any rung: it stands in the rail,
upright, where the current comes in. The poles of one device in both rails are linked by dashes, since one
handle moves them (IEEE 315: a dashed line is a mechanical link).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from wirecheck.drawing.captions import NAME, SMALL, Caption, Captions
from wirecheck.drawing.cells import Grid
from wirecheck.drawing.contacts import REACH
from wirecheck.drawing.letters import text_width

STEP, LONGER = 58.0, 63.0
"""From one sign in a rail to the next, in points: LONGER, where two lines of words are over a middle."""
LOW = 12.0
"""Room for the words on a rail under its last sign."""
ASIDE = 16.5
"""From a rail to the words beside a sign in it."""
NAMES, TOP = 21.0, 28.0
"""Where a rail's name is and where it begins, from the top of its ladder."""


class Segment(NamedTuple):
    """A piece of a rail: its node, which rail, from where to where; `head` is what stands at its low end."""

    node: int
    side: int
    start: float
    end: float
    head: str


class Head(NamedTuple):
    """A sign in a rail: the element's name, which rail, its middle; `linked` where one is across from it."""

    name: str
    side: int
    y: float
    caption: Caption
    linked: bool


class Rails:
    """The rails of a grid; nothing where it has none."""

    def __init__(self, grid: Grid, captions: Captions) -> None:
        self.grid = grid
        self.captions = [[captions.head(step, grid) for step in head] for head in grid.heads]
        self.tied = captions.tied
        self.owners = [[captions.whose(step.element) for step in head] for head in grid.heads]
        self.steps = max(len(head) for head in grid.heads)
        worded = [caption for captions in self.captions for caption in captions[1:]]
        self.step = LONGER if any(len(caption.under) > 1 for caption in worded) else STEP
        self.high = self.steps * self.step + LOW if self.steps else 0.0
        self.zone = 0.0

    def width(self, marks: float) -> float:
        """How far apart the rails must be for the words at what stands in them, and those under it."""
        told = [
            max((_width(head.caption) + ASIDE for head in self.heads(side) if _told(head)), default=0.0)
            for side in (0, 1)
        ]
        return max(sum(told), 2 * (marks + 5) if self.steps else 0.0) + 12

    def heads(self, side: int) -> Iterator[Head]:
        """What stands in one rail, from the top."""
        for place, step in enumerate(self.grid.heads[side]):
            linked = self.owners[0][place : place + 1] == self.owners[1][place : place + 1]
            y = self.zone + self.step * (place + 0.5)
            yield Head(step.element.name, side, y, self.captions[side][place], linked)

    def links(self) -> Iterator[float]:
        """The heights at which one handle moves what stands in both rails."""
        for place, head in enumerate(self.heads(0)):
            one, other = self.owners[0][place], self.owners[1][place : place + 1]
            if other and other[0] in (one, self.tied.get(one)):
                yield head.y

    def segments(self, lowest: float) -> Iterator[Segment]:
        """The pieces of both rails from the top to the lowest row."""
        for side in (0, 1) if not self.grid.mesh else ():
            node, start = self.grid.rails[side], TOP
            for step, head in zip(self.grid.heads[side], self.heads(side), strict=True):
                yield Segment(node, side, start, head.y - REACH, head.name)
                node, start = (step.left if side else step.right), head.y + REACH
            yield Segment(node, side, start, lowest, "")


def _told(head: Head) -> bool:
    """Whether a sign has words of its own: of two that are linked the left one has them."""
    return not (head.linked and head.side)


def head_words(head: Head) -> Iterator[tuple[str, float, bool]]:
    """The lines at a sign in a rail: each with how far it is under the sign's middle, and if it is bold.

    One is under the middle, where dashes may go, and the others over it: so none comes to the wire's number.
    """
    if _told(head):
        lines = [("".join(head.caption.over), True), *((text, False) for text in head.caption.under[:2])]
        over = max(len(lines) - 1, 1)
        for place, (text, bold) in enumerate(lines):
            yield text, 7.0 if place == over else -7.0 - 9.6 * (over - 1 - place), bold


def _width(caption: Caption) -> float:
    under = max((text_width(text, SMALL) for text in caption.under), default=0.0)
    return max(text_width("".join(caption.over), NAME, True), under)

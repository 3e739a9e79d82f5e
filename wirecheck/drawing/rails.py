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
from wirecheck.drawing.contacts import REACH, blade_middle
from wirecheck.drawing.letters import text_width
from wirecheck.drawing.loads import ARC

STEP, CLEAR = 58.0, 52.0
"""From one sign in a rail to the next, in points: CLEAR is enough where a name alone is over dashes."""
LOW = 12.0
"""Room for the words on a rail under its last sign."""
LEADING = 9.6
"""From one line of words beside a sign to the next."""
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
    """A sign in a rail: the element's name, which rail, its middle.

    It is `linked` where one of its device is across from it, and `dashed` where dashes lead to another.
    """

    name: str
    side: int
    y: float
    caption: Caption
    linked: bool
    dashed: bool


class Rails:
    """The rails of a grid; nothing where it has none."""

    def __init__(self, grid: Grid, captions: Captions) -> None:
        self.grid = grid
        self.captions = [[captions.head(step, grid) for step in head] for head in grid.heads]
        self.tied = captions.tied
        self.owners = [[captions.whose(step.element) for step in head] for head in grid.heads]
        self.steps = max(len(head) for head in grid.heads)
        self.zone = 0.0
        over = [
            len(caption.under[:2])
            for side in (0, 1)
            for place, caption in enumerate(self.captions[side])
            if place and self._dashed(side, place)
        ]
        self.step = max(STEP, CLEAR + LEADING * max(over, default=0))
        self.high = self.steps * self.step + LOW if self.steps else 0.0

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
            y = self.zone + self.step * (place + 0.5)
            linked, dashed = self._linked(place), self._dashed(side, place)
            yield Head(step.element.name, side, y, self.captions[side][place], linked, dashed)

    def _linked(self, place: int) -> bool:
        """Whether what stands at a place in one rail is of the device that stands there in the other."""
        return self.owners[0][place : place + 1] == self.owners[1][place : place + 1]

    def _dashed(self, side: int, place: int) -> bool:
        return self._linked(place) or self.owners[side][place] in self.tied

    def links(self) -> Iterator[tuple[Head, Head]]:
        """What stands in both rails and is moved by one handle: left and right."""
        for place, (head, across) in enumerate(zip(self.heads(0), self.heads(1), strict=False)):
            one, other = self.owners[0][place], self.owners[1][place]
            if other in (one, self.tied.get(one)):
                yield head, across

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

    All are over the dashes that begin at its middle. Where none do they are beside it, but so high that
    the last doesn't come to the wire's number.
    """
    if _told(head):
        lines = [("".join(head.caption.over), True), *((text, False) for text in head.caption.under[:2])]
        high = LEADING * (len(lines) - 1)
        low = -8.0 if head.dashed else min(high / 2, 7.0)
        for place, (text, bold) in enumerate(lines):
            yield text, low - high + LEADING * place, bold


def dashes_start(caption: Caption, closed: bool) -> float:
    """How far from a rail the dashes begin at a sign in it: at its arc, its box, or half-way its blade."""
    if caption.sign == "breaker":
        return ARC
    if caption.switch is not None and caption.switch.form == "blade":
        return blade_middle(closed)
    return caption.reach[0]


def _width(caption: Caption) -> float:
    under = max((text_width(text, SMALL) for text in caption.under), default=0.0)
    return max(text_width("".join(caption.over), NAME, True), under)

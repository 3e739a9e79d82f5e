"""The faces of receptacles, as they are seen on the wall: what is plugged in where, and which tabs are whole.

One plug has one face, however many circuits it takes: that of a dryer has 240 V for the heat and 120 V for
the motor. A duplex has two, one over the other, with the plates of its screws beside them: hot on the right,
neutral on the left, as NEMA 5-15R is seen with its ground hole down. Where the tab between two plates is
whole, both halves are one; where it is broken out, they are two. The volts are said of what is not for 120 V
alone, since the slots of 50 A at 240 V stand as those of 15 A at 120 V do.

Source: NEMA WD 6, 5-15R to 5-50R, 6-15R to 6-50R, 10-30R, 10-50R, 14-30R, 14-50R (from memory). Checked:
that the slots of 6-15R lie in one line, that one of 6-20R is a T, as of 5-20R, and the other one turned
(http://www.electrical-contractor.net/forums/ubbthreads.php/posts/25523.html); that the neutral of 5-30R is
L-shaped (https://facilities.soe.ucsc.edu/node/27); that the two blades of 6-50 are parallel
(https://engineerfix.com/what-is-a-6-50p-plug-specifications-and-wiring); that all of 10-50R are straight, and
one of 10-30R is L-shaped
(https://life-improver.com/diy/electrical-is-it-wrong-that-the-dryer-plug-has-one-l-shaped-prong); that the
neutral of 14-30R is L-shaped and that of 14-50R straight
(https://acworks.com/blogs/ac-works-library/ac-works-wisdom-differences-between-1430-and-1450). Which of the
two slots of 6-30R is the L: from memory.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from wirecheck.drawing.sheet import Point
from wirecheck.drawing.strokes import Strokes
from wirecheck.language.quantity import rounded
from wirecheck.language.syntax import Quantity
from wirecheck.model.board import Device
from wirecheck.parts.part import WATCHERS, OutletSpec

SINGLE = 44.0
"""The height of one face."""
PITCH = 36.0
SMALLER = 0.8
"""How large each face of a duplex is beside a single one, and PITCH, how far apart their middles are."""
BUTTONS = 12.0
"""How much further they are where there are buttons between them."""
PLATE = 20.0
"""How far to either side the plates of the screws are."""
SLOT = 2.4

Strip = tuple[Point, ...]
"""A slot or a part of one, from point to point."""
UPRIGHT: tuple[Strip, Strip] = (((-5, -8), (-5, 2)), ((5, -7), (5, 1)))
LEVEL: tuple[Strip, Strip] = (((-10, -4), (-4, -4)), ((4, -4), (10, -4)))
APART: tuple[Strip, Strip] = (((-8, -9), (-8, 2)), ((8, -9), (8, 2)))
SLOTS: tuple[tuple[float, tuple[Strip, ...], tuple[Strip, ...]], ...] = (
    (15, UPRIGHT, LEVEL),
    (20, (*UPRIGHT, ((-10, -3), (-5, -3))), (*LEVEL, ((-4, -9), (-4, 1)))),
    (30, (*APART, ((-8, 2), (-4, 2))), (*APART, ((8, 2), (4, 2)))),
    (math.inf, APART, APART),
)
"""The slots of a plug of two wires and a ground by its amperes, at most so many: at 120 V, and at 240 V."""
SIZES = (15, 20, 30, 50)
"""The amperes by which faces differ."""


def slots_of(amps: float, at_240: bool) -> tuple[Strip, ...]:
    """The slots of a plug of two wires, by its amperes and its volts.

    >>> slots_of(15, True) == LEVEL, slots_of(50, False) == APART
    (True, True)
    """
    low, high = next((low, high) for most, low, high in SLOTS if amps <= most)
    return high if at_240 else low


def two_hots(amps: float, grounded: bool) -> tuple[Strip, ...]:
    """The slots of two hots to the sides, and of the neutral between them: L-shaped up to 30 A.

    With a ground the neutral is over its hole. Without one it is under the hots, which lean together.
    """
    top, lean = (-13, 0) if grounded else (3, 3)
    hots: list[Strip] = [((side * (10 - lean), -5), (side * (10 + lean), 5)) for side in (-1, 1)]
    foot: list[Strip] = [((0, top), (-5, top))] if amps <= 30 else []
    return (*hots, ((0, top), (0, top + 9)), *foot)


class Face(NamedTuple):
    """One receptacle: its plugs from the top down, each with the outlets that it takes, and its tabs.

    `hot_tab` and `neutral_tab` tell whether the two halves are joined on that side; None where there are no
    two halves, or where what is between them has no tabs, as in a GFCI. `buttons` tells whether it opens by
    itself, and has the buttons that try it and close it again.
    """

    plugs: tuple[tuple[OutletSpec, ...], ...]
    amps: float
    buttons: bool = False
    hot_tab: bool | None = None
    neutral_tab: bool | None = None

    @property
    def height(self) -> float:
        """The height that its drawing takes, in points."""
        if len(self.plugs) == 1:
            return SINGLE
        return (len(self.plugs) - 1) * self.pitch + PITCH + 4

    @property
    def said(self) -> str:
        """The volts of its plugs; nothing where all are for 120 V."""
        volts = sorted({_volts(outlet) for plug in self.plugs for outlet in plug})
        return "" if volts == [120.0] else f"{'/'.join(map(rounded, volts))} V"

    @property
    def pitch(self) -> float:
        """How far the middles of two of its plugs are apart."""
        return PITCH + (BUTTONS if self.buttons else 0.0)


def face_of(device: Device) -> Face | None:
    """The face of a receptacle; None for what is none."""
    part = device.part
    if not part.outlets:
        return None
    plugs: list[tuple[OutletSpec, ...]] = []
    for outlet in part.outlets:
        same = next((plug for plug in plugs if _one_plug(plug[0], outlet)), None)
        if same is None:
            plugs.append((outlet,))
        else:
            plugs[plugs.index(same)] = (*same, outlet)
    amps = max((_amps(device, outlet) for outlet in part.outlets), default=0.0)
    buttons = any(not protection.flags.isdisjoint(WATCHERS) for protection in part.protections)
    if len(plugs) != 2 or buttons:
        return Face(tuple(plugs), amps, buttons)
    (top, *_), (bottom, *_) = plugs
    return Face(tuple(plugs), amps, False, top.hot == bottom.hot, top.neutral == bottom.neutral)


def _one_plug(one: OutletSpec, other: OutletSpec) -> bool:
    """Whether two outlets are two circuits of one plug: they share a hot, and differ in their volts."""
    return one.hot == other.hot and _volts(one) != _volts(other)


def _volts(outlet: OutletSpec) -> float:
    return outlet.volts.value if isinstance(outlet.volts, Quantity) else 120.0


def _amps(device: Device, outlet: OutletSpec) -> float:
    rated = outlet.rated
    value = device.values.get(rated.text) if rated is not None and not isinstance(rated, Quantity) else rated
    return value.value if isinstance(value, Quantity) else 0.0


def draw_face(pen: Strokes, face: Face, x: float, y: float, tripped: bool = False) -> list[float]:
    """Draw a face around a point; returns the height of each plug's middle.

    Where it has `tripped`, the button that closes it again stands out: it is dark.
    """
    if len(face.plugs) == 1:
        with pen.at(x, y):
            _plug(pen, face.plugs[0], face.amps)
        return [y]
    first = y - face.pitch * (len(face.plugs) - 1) / 2
    middles = [first + face.pitch * number for number in range(len(face.plugs))]
    for middle, plug in zip(middles, face.plugs, strict=True):
        with pen.at(x, middle, SMALLER):
            _plug(pen, plug, face.amps)
    if face.buttons:
        with pen.at(x, y):
            pen.box(6, 3.2, -8, 0, pen=1)
            pen.box(6, 3.2, 8, 0, pen=1)
            if tripped:
                pen.line((2.5, 0), (13.5, 0), pen=5.6)
    for side, tab in ((PLATE, face.hot_tab), (-PLATE, face.neutral_tab)):
        if tab is not None:
            _plates(pen, x + side, middles, tab)
    return middles


def _plates(pen: Strokes, x: float, middles: Sequence[float], whole: bool) -> None:
    """The two plates of one side, and the tab between them: whole, or broken out, with what is left of it."""
    top, bottom = middles
    pen.line((x, top - 11), (x, top + 9), pen=3)
    pen.line((x, bottom - 9), (x, bottom + 11), pen=3)
    if whole:
        pen.line((x, top + 9), (x, bottom - 9), pen=3)
        return
    for end, way in ((top + 9, 1), (bottom - 9, -1)):
        pen.line(
            (x - 2.5, end + way),
            (x - 0.8, end + 2.6 * way),
            (x + 0.8, end + way),
            (x + 2.5, end + 2.6 * way),
            pen=0.9,
        )


def _plug(pen: Strokes, outlets: Sequence[OutletSpec], amps: float) -> None:
    """The slots of one plug, and its outline."""
    grounded = outlets[0].ground is not None
    if len(outlets) > 1:
        _two_hots(pen, amps, grounded)
        return
    pen.curve((-12, -12), (-6, -19), (6, -19), (12, -12), (17, -5), (17, 5), (12, 12),
        (6, 19), (-6, 19), (-12, 12), (-17, 5), (-17, -5), (-12, -12),
    )  # fmt: skip
    if grounded:
        pen.curve((-3, 11), (-3, 5), (3, 5), (3, 11))
        pen.line((-3, 11), (3, 11))
    for strip in slots_of(amps, _volts(outlets[0]) > 200):
        pen.line(*strip, pen=SLOT)


def _two_hots(pen: Strokes, amps: float, grounded: bool) -> None:
    """A plug of two hots and a neutral, and its outline."""
    pen.circle(0, 0, 19)
    for strip in two_hots(amps, grounded):
        pen.line(*strip, pen=2.6)
    if grounded:
        pen.curve((-3, 13), (-3, 7), (3, 7), (3, 13))
        pen.line((-3, 13), (3, 13))

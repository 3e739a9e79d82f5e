"""The signs on a rung, each lying between its two leads.

Contacts are the pair of bars of JIC and NEMA ladder diagrams (a bar across
where they are closed at rest); hand and pilot switches are a blade between two
terminals with the sign of what moves it under it (IEEE 315: dome for pressure,
step for temperature, ball for a float, wedge for a limit); loads follow IEC
60617 and IEEE 315. All fit within 15 points to either side of their middle.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from wirecheck.drawing.sheet import Line, Point
from wirecheck.drawing.symbols import Pen

REACH = 15.0
"""From a sign's middle to the ends of its leads, in points."""
TALL = {
    "contact": (9.0, 9.0),
    "blade": (10.0, 4.0),
    "fuse": (5.0, 5.0),
    "breaker": (9.0, 4.0),
    "thermal": (9.0, 9.0),
    "gfci": (7.5, 7.5),
    "secondary": (8.0, 8.0),
    "primary": (8.0, 8.0),
    "heater": (7.0, 7.0),
    "igniter": (7.0, 7.0),
    "electronics": (10.0, 10.0),
    "input": (8.0, 8.0),
    "valve": (8.0, 15.0),
    "bell": (12.0, 3.0),
}
"""How far each sign reaches over and under the wire; 12.5 points where it is not told."""
ACTUATOR = 15.0


@dataclass
class RungPen(Pen):
    """Draws the signs of a ladder."""

    color: str = ""

    def lift_as(self, name: str, title: str, kind: str) -> None:
        """Put what was drawn on the sheet under a name, in one color."""
        ink = self.color or self.page.ink
        for number, ((pen, dash), pieces) in enumerate(self.strokes.items()):
            line = Line(
                f"{name}.stroke-{number + 1}" if number else name, title, tuple(pieces), ink, pen, dash,
                curve=True, kind=kind,
            )  # fmt: skip
            self.sheet.lines.append(line)
        for text, x, y in self.letters:
            self.sheet.write(f"{name}.letter", text, x, y, 11, ink, bold=True, kind="letter")
        self.strokes, self.letters = {}, []

    def leads(self, x: float, y: float, half: float) -> None:
        """The two leads, from the sign's own edges out."""
        self.line((x - REACH, y), (x - half, y))
        self.line((x + half, y), (x + REACH, y))

    def pair(self, x: float, y: float, rests_closed: bool, closed: bool | None) -> None:
        """A contact: two bars; a bar across where it rests closed, a bridge where it is closed now."""
        self.leads(x, y, 4.5)
        for side in (-4.5, 4.5):
            self.line((x + side, y - 8.5), (x + side, y + 8.5), pen=1.6)
        if rests_closed:
            self.line((x - 8, y + 8), (x + 8, y - 8))
        if closed:
            self.line((x - 4.5, y), (x + 4.5, y), pen=3.0)

    def blade(self, x: float, y: float, closed: bool, mover: str) -> None:
        """A switch: its blade on or off its terminal, over the sign of what moves it."""
        self.leads(x, y, 11.5)
        self.circle(x - 10, y, 1.5, pen=1.1)
        self.circle(x + 10, y, 1.5, pen=1.1)
        tip = y - 2.2 if closed else y - 9.5
        self.line((x - 8.7, y - 0.8), (x + 11, tip), pen=1.8)
        middle = (y - 0.8 + tip) / 2
        draw = {
            "temperature": self._step,
            "pressure": self._dome,
            "water": self._float,
            "door": self._wedge,
            "machine": self._wedge,
            "time": self._clock,
            "light": self._ray,
            "smoke": self._cloud,
        }.get(mover)
        if draw is not None:
            draw(x + 1, y, middle)

    def _step(self, x: float, y: float, top: float) -> None:
        self.line((x, top), (x, y + 5), (x + 5, y + 5), (x + 5, y + 9), (x, y + 9), (x, y + 14), pen=1)

    def _dome(self, x: float, y: float, top: float) -> None:
        self.line((x, top), (x, y + 7), pen=1)
        self.curve((x - 6, y + 14), (x - 6, y + 4.7), (x + 6, y + 4.7), (x + 6, y + 14), pen=1)
        self.line((x - 6, y + 14), (x + 6, y + 14), pen=1)

    def _float(self, x: float, y: float, top: float) -> None:
        self.line((x, top), (x, y + 7), pen=1)
        self.circle(x, y + 10.5, 3.5, pen=1)

    def _wedge(self, x: float, y: float, top: float) -> None:
        self.line((x, top + 0.5), (x + 5, y + 9), (x - 5, y + 9), (x, top + 0.5), pen=1)

    def _clock(self, x: float, y: float, top: float) -> None:
        self.line((x, top), (x, y + 6), pen=1)
        self.circle(x, y + 10, 4, pen=1)
        self.line((x, y + 7.5), (x, y + 10), (x + 2.2, y + 10), pen=0.9)

    def _ray(self, x: float, y: float, top: float) -> None:
        for side in (-3, 3):
            self.line((x + side + 4, y + 14), (x + side, y + 7), pen=1)
            self.line((x + side, y + 10.5), (x + side, y + 7), (x + side + 3.2, y + 8.4), pen=1)
        self.line((x, top), (x, y + 4), pen=1)

    def _cloud(self, x: float, y: float, top: float) -> None:
        self.line((x, top), (x, y + 5), pen=1)
        self.curve((x - 6, y + 9), (x - 3, y + 4), (x, y + 14), (x + 6, y + 8), pen=1)

    # ---------------------------------------------------------------- loads

    def rung_sign(self, kind: str, x: float, y: float) -> None:
        """The sign of a load, of protection or of a transformer's winding, with its leads."""
        draw = {
            "lamp": self._lamp,
            "motor": self._motor,
            "coil": self._coil,
            "valve": self._valve,
            "heater": self._heater,
            "igniter": self._heater,
            "electronics": self._board,
            "bell": self._bell,
            "input": self._input,
            "outlet": self._outlet,
            "primary": self._primary,
            "secondary": self._secondary,
            "fuse": self._fuse,
            "breaker": self._breaker,
            "thermal": self._thermal,
            "gfci": self._gfci,
        }.get(kind, self._breaker)
        draw(x, y)

    def _lamp(self, x: float, y: float) -> None:
        arm = 11 * math.sqrt(0.5)
        self.leads(x, y, 11)
        self.line((x - arm, y - arm), (x + arm, y + arm))
        self.line((x - arm, y + arm), (x + arm, y - arm))
        self.circle(x, y, 11)

    def _motor(self, x: float, y: float) -> None:
        self.leads(x, y, 11.5)
        self.circle(x, y, 11.5)
        self.letter("M", x, y)

    def _coil(self, x: float, y: float) -> None:
        """The coil of a relay or contactor: a circle, as JIC ladders have it."""
        self.leads(x, y, 11)
        self.circle(x, y, 11)

    def _valve(self, x: float, y: float) -> None:
        """A solenoid over the two triangles of its valve."""
        self.leads(x, y, 9)
        self._box(x, y, 9, 7)
        self.line((x, y + 7), (x, y + 11.5), pen=1)
        self.line((x - 8, y + 8.5), (x - 8, y + 14.5), (x + 8, y + 8.5), (x + 8, y + 14.5), (x - 8, y + 8.5),
            pen=1,
        )  # fmt: skip

    def _heater(self, x: float, y: float) -> None:
        """A heating element: a box in bars (IEC 60617)."""
        self.leads(x, y, 12)
        self._box(x, y, 12, 6)
        for at in (-6, 0, 6):
            self.line((x + at, y - 6), (x + at, y + 6), pen=1)

    def _board(self, x: float, y: float) -> None:
        self.leads(x, y, 12)
        self._box(x, y, 12, 9)
        self.curve((x - 8, y), (x - 5, y - 7), (x - 3, y - 7), (x, y),
            (x + 3, y + 7), (x + 5, y + 7), (x + 8, y), pen=1,
        )  # fmt: skip

    def _bell(self, x: float, y: float) -> None:
        """A bell: a half circle on its leads (IEC 60617)."""
        self.line((x - REACH, y), (x - 5, y), (x - 5, y - 1.5))
        self.line((x + REACH, y), (x + 5, y), (x + 5, y - 1.5))
        self.curve((x - 10, y - 1.5), (x - 10, y - 15), (x + 10, y - 15), (x + 10, y - 1.5))
        self.line((x - 10, y - 1.5), (x + 10, y - 1.5))

    def _input(self, x: float, y: float) -> None:
        """An input of a control: a box with an arrow into it."""
        self.leads(x, y, 10)
        self._box(x, y, 10, 7)
        self.line((x - 6, y), (x + 4, y), pen=1)
        self.line((x + 0.5, y - 3.2), (x + 4.5, y), (x + 0.5, y + 3.2), pen=1)

    def _outlet(self, x: float, y: float) -> None:
        """A receptacle: a circle with its two slots, and the ground's hole under them."""
        self.leads(x, y, 11.5)
        self.circle(x, y, 11.5)
        self.line((x - 4, y - 5.5), (x - 4, y + 2.5), pen=2)
        self.line((x + 4, y - 4.5), (x + 4, y + 1.5), pen=2)
        self.circle(x, y + 6.5, 1.4, pen=1)

    def _primary(self, x: float, y: float) -> None:
        self._winding(x, y, 1)

    def _secondary(self, x: float, y: float) -> None:
        self._winding(x, y, -1)

    def _winding(self, x: float, y: float, side: int) -> None:
        """Half of a transformer: its turns, and the two lines of its core on the other half's side."""
        points: list[Point] = [(x - 12, y)]
        for turn in range(4):
            at = x - 12 + turn * 6
            points += [(at, y - side * 8), (at + 6, y - side * 8), (at + 6, y)]
        self.curve(*points)
        self.leads(x, y, 12)
        for away in (4.0, 6.8):
            self.line((x - 12, y + side * away), (x + 12, y + side * away), pen=1)

    def _fuse(self, x: float, y: float) -> None:
        self._box(x, y, 11, 4.5)
        self.line((x - REACH, y), (x + REACH, y))

    def _breaker(self, x: float, y: float) -> None:
        """A circuit breaker: an arc over two terminals (IEEE 315)."""
        self.leads(x, y, 9)
        self.curve((x - 10, y - 2.5), (x - 6, y - 10), (x + 6, y - 10), (x + 10, y - 2.5), pen=1.6)
        self.dot(x - 9, y)
        self.dot(x + 9, y)

    def _thermal(self, x: float, y: float) -> None:
        """A thermal protector: two hooks back to back (IEEE 315)."""
        self.leads(x, y, 10)
        self.curve((x - 10, y), (x - 10, y - 9), (x, y - 9), (x, y), pen=1.6)
        self.curve((x, y), (x, y + 9), (x + 10, y + 9), (x + 10, y), pen=1.6)

    def _gfci(self, x: float, y: float) -> None:
        self._box(x, y, 11, 7)
        self.leads(x, y, 11)
        self.letters.append(("GF", x, y))

    def _box(self, x: float, y: float, wide: float, high: float) -> None:
        self.line((x - wide, y - high), (x + wide, y - high), (x + wide, y + high), (x - wide, y + high),
            (x - wide, y - high),
        )  # fmt: skip


def reach(kind: str, mover: str) -> tuple[float, float]:
    """How far a sign reaches over and under the wire, in points.

    >>> reach("blade", "hand"), reach("blade", "pressure"), reach("motor", "")
    ((10.0, 4.0), (10.0, 15.0), (12.5, 12.5))
    """
    up, down = TALL.get(kind, (12.5, 12.5))
    return (up, ACTUATOR) if kind == "blade" and mover not in ("", "hand") else (up, down)

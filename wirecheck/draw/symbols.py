"""The signs by which a device is known at a glance, drawn in the spirit of IEC 60617 and IEEE 315.

A switch is drawn as its contacts between its own screws, with the toggle that
moves them; loads as lamp, motor, coil, heater; a receptacle as its face. Which
sign a device gets follows from what its part is, not from the part's name, so
a user's own part is drawn as well.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field

from wirecheck.draw.colors import Page
from wirecheck.draw.letters import text_width
from wirecheck.draw.rooms import Body
from wirecheck.draw.sheet import Line, Point, Sheet, straight
from wirecheck.language.syntax import AllOf, AnyOf, Condition, InPosition, Negation
from wirecheck.model.board import Device

HEIGHT = 44.0
WIDE = 44.0
PEN = 1.3


@dataclass(frozen=True, slots=True)
class Sign:
    """One sign to draw: its kind, the device or load it stands for, and the words under it."""

    kind: str
    name: str
    words: str


def signs(device: Device) -> list[Sign]:
    """The signs of a device and of the parts inside it, in the order in which they are declared."""
    return list(_signs(device, device.name))


def _signs(device: Device, outer: str) -> Iterator[Sign]:
    part = device.part
    inner = device.name != outer
    own = device.name.removeprefix(outer + ".") if inner else ""
    gfci = any("gfci" in protection.flags for protection in part.protections)
    for number, outlet in enumerate(part.outlets):
        words = outlet.name if len(part.outlets) > 1 else ""
        yield Sign("gfci" if gfci and number == 0 else "outlet", f"{device.name}.{outlet.name}", words)
    for load in part.loads:
        words = own if len(part.loads) == 1 and inner else load.name
        if not inner and len(part.loads) == 1:
            words = ""
        yield Sign(load.kind, f"{device.name}.{load.name}", words)
    for number, _ in enumerate(part.transformers):
        yield Sign("transformer", f"{device.name}.winding-{number + 1}", own)
    if part.calls:
        yield Sign("thermostat", f"{device.name}.call", own)
    for protection in part.protections:
        if not part.outlets:
            yield Sign("fuse" if "fuse" in protection.flags else "breaker", f"{device.name}.protection", own)
    if part.positions and not part.calls and (inner or part.moved_by != "hand"):
        yield Sign(part.moved_by if not part.safety else "safety", f"{device.name}.contact", own)
    for child in device.children:
        yield from _signs(child, outer)


def by_hand(device: Device | None) -> bool:
    """Whether the device is a switch whose contacts are drawn between its own screws."""
    if device is None:
        return False
    part = device.part
    return bool(part.positions) and part.moved_by == "hand" and not part.outlets and not part.calls


def size(body: Body) -> tuple[float, float]:
    """The least width and height of the sign row of a body, in points."""
    if body.device is None:
        return (34.0, 34.0) if body.rating else (0.0, 0.0)
    row = signs(body.device)
    width = sum(_width(sign) for sign in row)
    height = (
        (HEIGHT + 10 if any(sign.words for sign in row) else HEIGHT) if row or by_hand(body.device) else 0.0
    )
    return width, height


def _width(sign: Sign) -> float:
    return max(WIDE, text_width(sign.words, 6.5) + 8)


def draw_signs(sheet: Sheet, body: Body, x: float, y: float, page: Page) -> None:
    """Draw a body's row of signs, its left end at x and its top at y."""
    pen = Pen(sheet, page)
    if body.device is None:
        if body.rating:
            pen.breaker(x + body.width / 2, y + 14)
            pen.lift(f"sign-{body.name}")
        return
    if by_hand(body.device):
        pen.contacts(
            body.device, {slot.terminal.spec.name: body_x(body, slot.x, x) for slot in body.slots}, y
        )
    row = signs(body.device)
    spare = body.width - sum(_width(sign) for sign in row)
    at = x + spare / 2
    for sign in row:
        width = _width(sign)
        pen.sign(sign, at + width / 2, y + HEIGHT / 2)
        if sign.words:
            sheet.write(
                f"label-{sign.name}",
                sign.words,
                at + width / 2,
                y + HEIGHT + 3,
                6.5,
                page.faint,
                title=sign.name,
            )
        at += width


def body_x(body: Body, slot_x: float, x: float) -> float:
    """A screw's x on the sheet, for a body whose left edge stands at x."""
    return x + slot_x - body.x


@dataclass
class Pen:
    """Draws signs on a sheet in a page's ink; the strokes of one sign become one line a pen."""

    sheet: Sheet
    page: Page
    strokes: dict[tuple[float, str], list[tuple[Point, ...]]] = field(default_factory=dict)
    letters: list[tuple[str, float, float]] = field(default_factory=list)

    def line(self, *points: Point, pen: float = PEN, dash: str = "solid") -> None:
        """Straight pieces through points."""
        self.curve(*straight(points), pen=pen, dash=dash)

    def curve(self, *points: Point, pen: float = PEN, dash: str = "solid") -> None:
        """Cubic Bezier pieces."""
        self.strokes.setdefault((pen, dash), []).append(points)

    def circle(self, x: float, y: float, r: float, pen: float = PEN) -> None:
        """A circle, from four Bezier pieces."""
        k = r * 0.5523
        self.curve(
            (x + r, y), (x + r, y + k), (x + k, y + r), (x, y + r),
            (x - k, y + r), (x - r, y + k), (x - r, y),
            (x - r, y - k), (x - k, y - r), (x, y - r),
            (x + k, y - r), (x + r, y - k), (x + r, y),
            pen=pen,
        )  # fmt: skip

    def dot(self, x: float, y: float) -> None:
        """A filled dot: a ring so small that its pen fills it."""
        self.circle(x, y, 1.0, pen=2.0)

    def letter(self, text: str, x: float, y: float) -> None:
        """A letter in a sign, as M for a motor."""
        self.letters.append((text, x, y))

    def lift(self, name: str, title: str = "") -> None:
        """Put what was drawn since the last lift on the sheet, under a name."""
        for number, ((pen, dash), pieces) in enumerate(self.strokes.items()):
            line = Line(
                f"{name}-{number + 1}" if number else name, title, tuple(pieces), self.page.ink, pen, dash,
                curve=True, kind="sign",
            )  # fmt: skip
            self.sheet.lines.append(line)
        for text, x, y in self.letters:
            self.sheet.write(f"{name}-letter", text, x, y, 12, self.page.ink, bold=True, kind="letter")
        self.strokes, self.letters = {}, []

    # ---------------------------------------------------------------- signs

    def sign(self, sign: Sign, x: float, y: float) -> None:
        """Draw one sign around a point."""
        draw = {
            "lamp": self.lamp,
            "motor": self.motor,
            "coil": self.coil,
            "valve": self.valve,
            "heater": self.heater,
            "igniter": self.heater,
            "electronics": self.electronics,
            "transformer": self.transformer,
            "outlet": self.outlet,
            "gfci": self.gfci,
            "fuse": self.fuse,
            "breaker": self.breaker,
            "thermostat": self.thermostat,
        }.get(sign.kind, self.contact)
        draw(x, y)
        self.lift(f"sign-{sign.name}", sign.name)

    def lamp(self, x: float, y: float) -> None:
        """A lamp: a circle with a cross in it (IEC 60617)."""
        arm = 13 * math.sqrt(0.5)
        self.line((x - arm, y - arm), (x + arm, y + arm))
        self.line((x - arm, y + arm), (x + arm, y - arm))
        self.circle(x, y, 13)

    def motor(self, x: float, y: float) -> None:
        """A motor: a circle with an M (IEC 60617)."""
        self.circle(x, y, 13)
        self.letter("M", x, y)

    def coil(self, x: float, y: float) -> None:
        """A coil of a relay or contactor: a box between its leads (IEC 60617)."""
        self.line((x - 8, y - 9), (x + 8, y - 9), (x + 8, y + 9), (x - 8, y + 9), (x - 8, y - 9))
        self.line((x, y - 16), (x, y - 9))
        self.line((x, y + 9), (x, y + 16))

    def valve(self, x: float, y: float) -> None:
        """A solenoid valve: two triangles tip to tip under a coil."""
        self.line((x - 12, y), (x - 12, y + 12), (x + 12, y), (x + 12, y + 12), (x - 12, y))
        self.line((x, y + 6), (x, y - 4))
        self.line((x - 7, y - 4), (x + 7, y - 4), (x + 7, y - 14), (x - 7, y - 14), (x - 7, y - 4))

    def heater(self, x: float, y: float) -> None:
        """A heating element: the zigzag of a resistor (IEEE 315)."""
        points = [(x - 18, y), (x - 13, y)]
        points += [(x - 11 + 4.4 * step, y + (-7 if step % 2 == 0 else 7)) for step in range(6)]
        points += [(x + 13, y), (x + 18, y)]
        self.line(*points)

    def electronics(self, x: float, y: float) -> None:
        """A circuit board: a box with a wave in it."""
        self.line((x - 14, y - 11), (x + 14, y - 11), (x + 14, y + 11), (x - 14, y + 11), (x - 14, y - 11))
        self.curve(
            (x - 9, y),
            (x - 5, y - 9),
            (x - 3, y - 9),
            (x, y),
            (x + 3, y + 9),
            (x + 5, y + 9),
            (x + 9, y),
        )

    def transformer(self, x: float, y: float) -> None:
        """Two windings side by side with the core between (IEEE 315)."""
        for side in (-1, 1):
            points: list[tuple[float, float]] = [(x + side * 4, y - 15)]
            for turn in range(3):
                top = y - 15 + turn * 10
                points += [(x + side * 14, top), (x + side * 14, top + 10), (x + side * 4, top + 10)]
            self.curve(*points)
        self.line((x - 1.5, y - 15), (x - 1.5, y + 15), pen=1)
        self.line((x + 1.5, y - 15), (x + 1.5, y + 15), pen=1)

    def outlet(self, x: float, y: float) -> None:
        """The face of a receptacle: two slots, the neutral's the longer, over the ground hole (NEMA 5-15)."""
        self.curve((x - 12, y - 12), (x - 6, y - 19), (x + 6, y - 19), (x + 12, y - 12),
            (x + 17, y - 5), (x + 17, y + 5), (x + 12, y + 12),
            (x + 6, y + 19), (x - 6, y + 19), (x - 12, y + 12),
            (x - 17, y + 5), (x - 17, y - 5), (x - 12, y - 12),
        )  # fmt: skip
        self.line((x - 5, y - 8), (x - 5, y + 2), pen=2.4)
        self.line((x + 5, y - 7), (x + 5, y + 1), pen=2.4)
        self.curve((x - 3, y + 11), (x - 3, y + 5), (x + 3, y + 5), (x + 3, y + 11))
        self.line((x - 3, y + 11), (x + 3, y + 11))

    def gfci(self, x: float, y: float) -> None:
        """A receptacle's face with its two buttons beside it: test and reset."""
        self.outlet(x - 5, y)
        for top in (y - 9, y + 2):
            self.line((x + 13, top), (x + 20, top), (x + 20, top + 7), (x + 13, top + 7), (x + 13, top),
                pen=1,
            )  # fmt: skip

    def fuse(self, x: float, y: float) -> None:
        """A fuse: a box with the conductor through it (IEC 60617)."""
        self.line((x - 11, y - 5), (x + 11, y - 5), (x + 11, y + 5), (x - 11, y + 5), (x - 11, y - 5))
        self.line((x - 18, y), (x + 18, y))

    def breaker(self, x: float, y: float) -> None:
        """A circuit breaker: an arc over two contacts (IEEE 315)."""
        self.curve((x - 9, y), (x - 6, y - 10), (x + 6, y - 10), (x + 9, y))
        self.dot(x - 9, y + 3)
        self.dot(x + 9, y + 3)

    def thermostat(self, x: float, y: float) -> None:
        """A thermostat: a dial with its pointer and a bulb's mark."""
        self.circle(x, y, 14)
        self.circle(x, y, 3)
        self.line((x + 2, y - 2), (x + 8, y - 8), pen=1.8)
        for angle in (180, 225, 270, 360):
            c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
            self.line((x + 10.5 * c, y + 10.5 * s), (x + 14 * c, y + 14 * s), pen=1)

    def contact(self, x: float, y: float) -> None:
        """A contact that something moves: closed at rest, drawn with its blade resting on it."""
        self.line((x - 18, y), (x - 8, y))
        self.line((x - 8, y), (x + 9, y - 3), pen=1.8)
        self.line((x + 8, y), (x + 18, y))
        self.dot(x - 8, y)
        self.dot(x + 8, y)

    def contacts(self, device: Device, at: dict[str, float], y: float) -> None:
        """A hand switch: its contacts between its own screws, and the toggle."""
        part = device.part
        first = part.positions[0]
        level = y + 12
        ends = {name for contact in part.contacts for name in (contact.a, contact.b)} & set(at)
        for name in sorted(ends):
            self.line((at[name], y - 2), (at[name], level))
            self.dot(at[name], level)
        for name in sorted(set(at) - ends):
            if part.terminals[name].role != "ground":
                continue
            self.line((at[name], y - 2), (at[name], y + 3))
            for step in range(3):
                half = 6 - 2 * step
                self.line(
                    (at[name] - half, y + 3 + 2.5 * step),
                    (at[name] + half, y + 3 + 2.5 * step),
                    pen=1,
                )
        for contact in part.contacts:
            if contact.a not in at or contact.b not in at:
                continue
            x0, x1 = at[contact.a], at[contact.b]
            closed = holds(contact.when, first)
            sag = min(6 + abs(x1 - x0) * 0.16, 30)
            reach = (x1 - x0) * 0.2
            self.curve((x0, level), (x0 + reach, level + sag), (x1 - reach, level + sag), (x1, level),
                pen=2.0 if closed else 1.2,
                dash="solid" if closed else "dashed",
            )  # fmt: skip
        self.lift(f"sign-{device.name}", f"{device.name}: its contacts, {first}")


def draw_icon(sheet: Sheet, body: Body, x: float, y: float, page: Page) -> None:
    """The small face that stands beside a device's name: the toggle of a switch."""
    if by_hand(body.device):
        pen = Pen(sheet, page)
        pen.line((x - 5, y - 9), (x + 5, y - 9), (x + 5, y + 9), (x - 5, y + 9), (x - 5, y - 9), pen=1)
        pen.line((x, y + 1), (x, y - 5), pen=3.2)
        pen.lift(f"sign-{body.name}-face")


def holds(condition: Condition | None, position: str) -> bool:
    """Whether a condition that speaks of positions alone holds in that position.

    >>> from wirecheck.language.syntax import Span, Word
    >>> up = InPosition(Word("up", Span(1, 1, 1, 3)))
    >>> holds(None, "up"), holds(up, "up"), holds(up, "down")
    (True, True, False)
    """
    if condition is None:
        return True
    if isinstance(condition, InPosition):
        return condition.position.text == position
    if isinstance(condition, AnyOf):
        return any(holds(part, position) for part in condition.facts)
    if isinstance(condition, AllOf):
        return all(holds(part, position) for part in condition.facts)
    return isinstance(condition, Negation) and not holds(condition.fact, position)

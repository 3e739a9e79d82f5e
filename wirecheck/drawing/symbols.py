"""The signs by which a device is known at a glance, drawn in the spirit of IEC 60617 and IEEE 315.

A switch is drawn as its contacts between its own screws, whole where closed and
dashed where open, with the toggle that moves them; a load, a control or a safety by
the sign that the ladder has for it; a receptacle as its face. Which sign a device gets
follows from what its part is, not from the part's name, so a user's own part is drawn as well.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from wirecheck.drawing.colors import Page
from wirecheck.drawing.contacts import Switch, switch
from wirecheck.drawing.letters import text_width
from wirecheck.drawing.loads import Signs
from wirecheck.drawing.rooms import Body
from wirecheck.drawing.sheet import Frame, Sheet
from wirecheck.drawing.state import Blade, State
from wirecheck.language.syntax import AllOf, AnyOf, Condition, InPosition, Negation
from wirecheck.model.board import Device

HEIGHT = 44.0
WIDE = 44.0
LARGER = 1.15
"""How much larger than on a ladder the signs are."""


@dataclass(frozen=True, slots=True)
class Sign:
    """One sign to draw: its kind, its own name, the device that it belongs to, and the words under it.

    What opens and closes has its `switch`, and whether it rests closed.
    """

    kind: str
    name: str
    device: str
    words: str
    closed: bool = True
    switch: Switch | None = None


def signs(device: Device) -> list[Sign]:
    """The signs of a device and of the parts inside it, in the order in which they are declared."""
    return list(_signs(device))


def _signs(device: Device) -> Iterator[Sign]:
    name, part = device.name, device.part
    own = device.inside
    gfci = any("gfci" in protection.flags for protection in part.protections)
    for number, outlet in enumerate(part.outlets):
        words = outlet.name if len(part.outlets) > 1 else ""
        yield Sign("gfci" if gfci and number == 0 else "outlet", f"{name}.{outlet.name}", name, words)
    for load in part.loads:
        words = own if len(part.loads) == 1 else load.name
        yield Sign(load.kind, f"{name}.{load.name}", name, words)
    for number, _ in enumerate(part.transformers):
        yield Sign("transformer", f"{name}.winding-{number + 1}", name, own)
    if part.calls:
        yield Sign("thermostat", f"{name}.call", name, own)
    for number, protection in enumerate(part.protections):
        if not part.outlets:
            which = part.protection_name(name, number)
            yield Sign("fuse" if "fuse" in protection.flags else "breaker", which, name, own)
    if part.positions and not part.calls and (own or part.moved_by != "hand"):
        moved = next((contact for contact in part.contacts if contact.when is not None), None)
        rests = holds(moved.when if moved else None, part.positions[0])
        drawn = switch(moved.flags if moved else frozenset(), part.moved_by, rests)
        yield Sign("contact", f"{name}.contact", name, own, rests, drawn)
    for child in device.children:
        yield from _signs(child)


def by_hand(device: Device | None) -> bool:
    """Whether the device is a switch whose contacts are drawn between its own screws."""
    if device is None:
        return False
    part = device.part
    return bool(part.positions) and part.moved_by == "hand" and not part.outlets and not part.calls


def _rows(row: list[Sign], width: float) -> list[list[Sign]]:
    """The signs in rows of about one width, as wide as the screws above them or twice as wide as high."""
    if not row:
        return []
    whole = sum(_width(sign) for sign in row)
    most = max(width, math.ceil(math.sqrt(2 * len(row))) * WIDE)
    most = whole / math.ceil(whole / most) * 1.1
    rows: list[list[Sign]] = []
    reached = 0.0
    for sign in row:
        wide = _width(sign)
        if not rows or reached + wide > most:
            rows.append([])
            reached = 0.0
        rows[-1].append(sign)
        reached += wide
    return rows


def size(body: Body) -> tuple[float, float]:
    """The least width and height of the signs of a body, in points."""
    if body.device is None:
        return (34.0, 34.0) if body.rating else (0.0, 0.0)
    if by_hand(body.device) and not signs(body.device):
        return 0.0, HEIGHT
    rows = _rows(signs(body.device), sum(slot.width for slot in body.slots))
    width = max((sum(_width(sign) for sign in row) for row in rows), default=0.0)
    return width, sum(_height(row) for row in rows)


def _height(row: list[Sign]) -> float:
    return HEIGHT + 10 if any(sign.words for sign in row) else HEIGHT


def _width(sign: Sign) -> float:
    return max(WIDE, text_width(sign.words, 6.5) + 8)


def draw_signs(sheet: Sheet, body: Body, x: float, y: float, page: Page, state: State | None = None) -> None:
    """Draw a body's signs, its left end at x and their top at y, as they look in the state."""
    pen = Pen(sheet, page, state=state)
    if body.device is None:
        if body.rating:
            pen.sign(Sign("breaker", body.name, body.name, ""), x + body.width / 2, y + 11)
        return
    if by_hand(body.device):
        pen.contacts(
            body.device, {slot.terminal.spec.name: body_x(body, slot.x, x) for slot in body.slots}, y
        )
    top = y
    for row in _rows(signs(body.device), sum(slot.width for slot in body.slots)):
        at = x + (body.width - sum(_width(sign) for sign in row)) / 2
        for sign in row:
            width = _width(sign)
            pen.sign(sign, at + width / 2, top + HEIGHT / 2)
            if sign.words:
                name = f"label-{sign.name}-sign"
                middle = at + width / 2
                sheet.write(name, sign.words, middle, top + HEIGHT + 3, 6.5, page.faint, title=sign.name)
            at += width
        top += _height(row)


def body_x(body: Body, slot_x: float, x: float) -> float:
    """A screw's x on the sheet, for a body whose left edge stands at x."""
    return x + slot_x - body.x


@dataclass
class Pen(Signs):
    """Draws signs on a sheet in a page's ink; the strokes of one sign become one line a pen."""

    state: State | None = None

    def lift(self, name: str, title: str = "") -> None:
        """Put what was drawn since the last lift on the sheet, under a name."""
        self.lifted(name, title, self.page.ink, "sign", 12)

    # ---------------------------------------------------------------- signs

    def sign(self, sign: Sign, x: float, y: float) -> None:
        """Draw one sign around a point, lit where it works, open where it is open."""
        blade = Blade(sign.closed)
        if self.state is not None:
            self.glow(self.state, sign, x, y)
            if sign.kind in ("fuse", "breaker"):
                blade = self.state.protection(sign.name)
            elif sign.switch is not None:
                blade = self.state.device_contact(sign.device)
        if sign.switch is not None:
            low = 5.0 if sign.switch.below else 0.0
            with self.at(x, y - low, LARGER):
                self.switch(sign.switch, sign.closed, blade.closed, self.state is not None)
        elif not blade.closed:
            self.open_blade(sign, x, y)
        elif sign.kind in DRAWN:
            DRAWN[sign.kind](self, x, y)
        else:
            with self.at(x, y, LARGER):
                self.load(sign.kind)
        title = f"{sign.name} {blade.word or ('' if blade.closed else 'open')}".strip()
        self.lift(f"sign-{sign.name}", title)
        if blade.word:
            name = f"word-{sign.name}"
            self.sheet.write(name, blade.word, x, y + 16, 6.5, self.page.ink, bold=True, title=title)

    def open_blade(self, sign: Sign, x: float, y: float) -> None:
        """The sign of protection that is open: its arc lifted, its wire broken."""
        if sign.kind == "breaker":
            self.curve((x - 9, y - 5), (x - 6, y - 15), (x + 6, y - 15), (x + 9, y - 5))
            self.dot(x - 9, y + 3)
            self.dot(x + 9, y + 3)
        else:
            self.line((x - 11, y - 5), (x + 11, y - 5), (x + 11, y + 5), (x - 11, y + 5), (x - 11, y - 5))
            self.line((x - 18, y), (x - 4, y), (x - 6, y - 3))
            self.line((x + 18, y), (x + 4, y), (x + 6, y + 3))

    def glow(self, state: State, sign: Sign, x: float, y: float) -> None:
        """A bright ground where it works, its amperes, or the volts that are too few for it."""
        does = state.called(sign.device) if sign.kind == "thermostat" else state.on(sign.name)
        if does:
            self.sheet.frames.append(
                Frame(
                    f"lit-{sign.name}", f"{sign.name}: {does}", x - 21, y - 22, 42, 43,
                    self.page.lit, self.page.ink, 1.6, rounded=True, kind="lit",
                )
            )  # fmt: skip
        figure = state.figure(sign.name)
        if figure:
            title = f"{sign.name}: {figure}"
            self.sheet.write(
                f"figure-{sign.name}", figure, x, y - 18.5, 6, self.page.ink, title=title, kind="label figure"
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

    def face(self, x: float, y: float) -> None:
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

    def gfci_face(self, x: float, y: float) -> None:
        """A receptacle's face with its two buttons beside it: test and reset."""
        self.face(x - 5, y)
        for top in (y - 9, y + 2):
            self.line((x + 13, top), (x + 20, top), (x + 20, top + 7), (x + 13, top + 7), (x + 13, top),
                pen=1,
            )  # fmt: skip

    def thermostat(self, x: float, y: float) -> None:
        """A thermostat: a dial with its pointer and a bulb's mark."""
        self.circle(x, y, 14)
        self.circle(x, y, 3)
        self.line((x + 2, y - 2), (x + 8, y - 8), pen=1.8)
        for angle in (180, 225, 270, 360):
            c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
            self.line((x + 10.5 * c, y + 10.5 * s), (x + 14 * c, y + 14 * s), pen=1)

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
        self.lift(f"sign-{device.name}", f"{device.name}: its contacts")
        moved = [each for each in part.contacts if each.a in at and each.b in at]
        names = contact_names(device)
        moved.sort(key=lambda each: abs(at[each.a] - at[each.b]))
        apart = min(7.0, (HEIGHT - 20) / max(len(moved), 1))
        drawn = []
        for number, contact in enumerate(moved):
            name = names[part.contacts.index(contact)]
            closed = holds(contact.when, first)
            if self.state is not None:
                closed = self.state.contact(name).closed
            drawn.append((closed, name, level + 6 + apart * number, contact))
        for closed, name, low, contact in sorted(drawn, key=lambda each: each[0]):
            x0, x1 = at[contact.a], at[contact.b]
            pen, dash, said = (2.4, "solid", "closed") if closed else (1.0, "dashed", "open")
            self.line((x0, level), (x0, low), (x1, low), (x1, level), pen=pen, dash=dash)
            self.lift(f"contact-{name}", f"{device.name}: {contact.a} to {contact.b}, {said}")


def contact_names(device: Device) -> list[str]:
    """The name that each contact of a device has in its circuit, in order of its part."""
    seen: dict[str, int] = {}
    names = []
    for contact in device.part.contacts:
        name = f"{device.name}.{contact.a}--{contact.b}"
        if contact.when is not None:
            seen[name] = seen.get(name, 0) + 1
            name = name if seen[name] == 1 else f"{name}/{seen[name]}"
        names.append(name)
    return names


DRAWN: dict[str, Callable[[Pen, float, float], None]] = {
    "transformer": Pen.transformer,
    "outlet": Pen.face,
    "gfci": Pen.gfci_face,
    "thermostat": Pen.thermostat,
}
"""What is drawn here in its own way; any other sign is the one that the ladder has too."""


def draw_icon(sheet: Sheet, body: Body, x: float, y: float, page: Page, state: State | None = None) -> None:
    """The small face that stands beside a device's name: the toggle of a switch, up in its first position."""
    if body.device is None or not by_hand(body.device):
        return
    pen = Pen(sheet, page)
    pen.line((x - 5, y - 9), (x + 5, y - 9), (x + 5, y + 9), (x - 5, y + 9), (x - 5, y - 9), pen=1)
    pen.lift(f"sign-{body.name}-face")
    first = body.device.part.positions[0]
    position = state.position(body.name) if state else first
    way = -1 if position == first else 1
    pen.line((x, y - way), (x, y + 5 * way), pen=3.2)
    pen.lift(f"toggle-{body.name}", f"{body.name} {position}")


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

"""The signs by which a device is known at a glance, drawn in the spirit of IEC 60617 and IEEE 315.

A switch is drawn as its blades, between its own screws where it has few (`hand.py`); a load, a control or
a safety by the sign that the ladder has for it; a receptacle as its face. Which sign a device gets follows
from what its part is, not from the part's name, so a user's own part is drawn as well.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import groupby, pairwise

from wirecheck.drawing.colors import Page
from wirecheck.drawing.contacts import BRIDGE, Switch, follows, sense, switch
from wirecheck.drawing.faces import Face, draw_face, face_of
from wirecheck.drawing.hand import (
    apart,
    at_rest,
    between_screws,
    by_hand,
    draw_blades,
    draw_toggle,
    holds,
    room,
)
from wirecheck.drawing.handles import APEX, OPEN_APEX
from wirecheck.drawing.letters import SMALLEST, text_width
from wirecheck.drawing.loads import Signs, load_reach, load_sign, protection_sign
from wirecheck.drawing.rooms import Body
from wirecheck.drawing.sheet import Frame, Sheet
from wirecheck.drawing.state import Blade, State
from wirecheck.language.conditions import each_fact
from wirecheck.language.syntax import AllOf, AnyOf, Carries, Condition, IsState, Negation, Runs
from wirecheck.model.board import Device
from wirecheck.parts.part import WATCHERS, LoadSpec, Part

ADJUSTS = {"dims-lights": "for lights", "slows-fans": "for a fan"}
"""What a control that lowers the volts is for, in words under its sign."""
HEIGHT = 44.0
WIDE = 44.0
WIDER = 4.0
"""By how much wider rows of signs are tried until they are as few as they should be."""
WORDS, FIGURE = 10.0, 9.0
LOW = 5.0
"""From a sign's lower end to the middle of its words."""
LARGER = 1.15
"""How much larger than on a ladder the signs are."""
SHAFT = 12.0
"""How far from the middle of a motor of several speeds the dashes begin that lead to its next one."""
HANDLE = 14.0
"""How far over the middle of blades the dashes are that link them, each by a stem."""
BREAKER = 11.0
"""How far under the upper end of a breaker's sign its middle is."""


@dataclass(frozen=True, slots=True)
class Sign:
    """One sign to draw: its kind, its own name, the device that it belongs to, and the words under it.

    What opens and closes has its `switch`, and whether it rests closed; a receptacle has its `face`.
    `draws` says that it is a load, `linked` that it is a pole of several that move as one. `pole_of` is the
    breaker that it is a further pole of, `contact` the contact of the circuit that it is, and `opens` the
    protection whose buttons are on a face.
    """

    kind: str
    name: str
    device: str
    words: str
    closed: bool = True
    switch: Switch | None = None
    face: Face | None = None
    draws: bool = False
    linked: bool = False
    pole_of: str = ""
    contact: str = ""
    opens: str = ""

    @property
    def handled(self) -> bool:
        """Whether it is one of several contacts that one handle moves, or that move as one."""
        by_hand = bool(self.contact) and self.switch is not None and self.switch.mover == "hand"
        return by_hand or self.linked

    @property
    def worded(self) -> bool:
        """Whether there are words under it, in some state at least."""
        return bool(self.words or self.opens)


def signs(device: Device) -> list[Sign]:
    """The signs of a device and of the parts inside it, in the order in which they are declared."""
    return list(_signs(device))


def _signs(device: Device, around: Part | None = None) -> Iterator[Sign]:
    """The signs of a device; `around` is the part that it is in, whose contacts its coil may move."""
    name, part = device.name, device.part
    own = device.inside
    # One thing alone has its name under it; of several each says which it is.
    relayed = _relayed(device)
    several = bool(device.children or part.calls or part.positions or relayed)
    face = face_of(device)
    if face is not None:
        opens = part.protection_name(name, 0) if face.buttons else ""
        yield Sign("face", name, name, own or face.said, face=face, opens=opens)
    for terminal in part.terminals.values():
        if "electrode" in terminal.flags:
            yield Sign("earth", f"{name}.{terminal.name}", name, own)
    # A motor with its electronics in it is one, whatever its speed.
    gated = {
        end
        for contact in part.contacts
        if "in-electronics" in contact.flags
        for end in (contact.a, contact.b)
    }
    speeds = [load for load in part.loads if not gated.isdisjoint((load.a, load.b))]
    loads = [load for load in part.loads if load not in speeds[1:]]
    for load in loads:
        one = len(loads) == 1 and (own or not several)
        words = own if one else f"{own} {load.name}".strip()
        kind, rests = _load_kind(load), True
        when = [contact.when for contact in part.contacts if contact.when is not None]
        when += _followed((own, f"{own}.{load.name}"), around)
        if own and kind == "coil" and when and not several:
            # Inside equipment a relay is one sign: its coil, and a contact for all that this moves.
            kind, rests = "relay", _rests(when[0], part)
        yield Sign(kind, f"{name}.{load.name}", name, words, rests, draws=True)
    for number, _ in enumerate(part.transformers):
        yield Sign("transformer", f"{name}.winding-{number + 1}", name, own)
    mover = follows(part.calls) if part.calls else ""
    if mover in ("water", "humidity") and not device.children:
        flags = frozenset().union(*(contact.flags for contact in part.contacts))
        rests = not flags.isdisjoint(("opens-on-rise", "opens-on-fall"))
        yield Sign("contact", f"{name}.contact", name, own, rests, switch(flags, mover, rests))
    elif part.calls:
        yield Sign("thermostat", f"{name}.call", name, own or ("control" if device.children else ""))
    for number, protection in enumerate(part.protections):
        if not part.outlets:
            which = part.protection_name(name, number)
            yield Sign(protection_sign(protection.flags), which, name, own)
    heated = _heated(device)
    yield from heated
    poles = _poles(device)
    yield from poles
    if part.positions and not part.calls and not heated and not poles and (own or part.moved_by != "hand"):
        moved = next((contact for contact in part.contacts if contact.when is not None), None)
        rests = holds(moved.when if moved else None, at_rest(part))
        drawn = switch(moved.flags if moved else frozenset(), part.moved_by, rests)
        words = own or ("control" if device.children else "")
        yield Sign("contact", f"{name}.contact", name, words, rests, drawn)
    yield from relayed
    if not own:
        for contact, which, words in apart(device):
            rests = holds(contact.when, at_rest(part))
            blade = switch(contact.flags, part.moved_by, rests)
            yield Sign("contact", which, name, words, rests, blade, contact=which)
    controls = {flag for contact in part.contacts for flag in contact.flags}
    for flag in sorted(controls & ADJUSTS.keys()):
        yield Sign(flag, f"{name}.{flag}", name, ADJUSTS[flag])
    for child in device.children:
        yield from _signs(child, part)


def _load_kind(load: LoadSpec) -> str:
    """The kind of sign that a load has."""
    # What pulls in on its volts moves an armature, as a start relay's coil, and hears no signal.
    listens = "pulls-in" not in load.options
    kind = load_sign(load.kind, load.flags if listens else load.flags - {"senses"})
    if load.c is not None:
        return "motor-on-three-phases" if kind == "motor" else "load-on-three-phases"
    return kind


def _poles(device: Device) -> list[Sign]:
    """The contacts of a control that has several, each told by its two screws.

    Those of several poles move as one, as a thermostat's that opens both hots; of a changeover contact, whose
    throws share a screw, it is seen which throw is closed, inside equipment as well. As on the ladder, a
    contact of what makes calls that nothing has to rise or fall for, as a fan's, is that of any relay.
    """
    part, own = device.part, device.inside
    moved = [(contact, contact.when) for contact in part.contacts if contact.when is not None]
    ends = Counter(end for contact, _ in moved for end in (contact.a, contact.b))
    poles = len(ends) == 2 * len(moved)
    changes_over = len(moved) == 2 and len(ends) == 3
    alone = changes_over if own else not device.children
    if len(moved) < 2 or not alone or by_hand(device) or any(each.overload is not None for each, _ in moved):
        return []
    if not part.calls and not part.positions:
        return []
    mover = follows(part.calls) if part.calls else part.moved_by
    found = []
    for contact, when in moved:
        which, words = f"{device.name}.{contact.a}--{contact.b}", f"{contact.a} to {contact.b}"
        if own:
            words = f"{own} to {min(contact.a, contact.b, key=ends.__getitem__)}"
        rests = _rests(when, part) if part.calls else holds(when, part.positions[0])
        blade = switch(contact.flags, mover, rests)
        if part.calls and not sense(contact.flags, mover):
            blade = Switch()
        found.append(Sign("contact", which, device.name, words, rests, blade, linked=poles, contact=which))
    return found


def _relayed(device: Device) -> list[Sign]:
    """What a coil or a clock in a device of its own moves: each contact as the ladder has it.

    What carries the current that moves the others is a coil too: that of a current relay.
    """
    name, part = device.name, device.part
    if device.inside or device.children or part.calls or part.positions:
        return []
    sensed = {
        frozenset((fact.terminal.text, fact.other.text))
        for each in part.transitions
        for fact in (each_fact(each.when) if each.when is not None else ())
        if isinstance(fact, Carries)
    }
    found: dict[str, Sign] = {}
    for contact in part.contacts:
        which = f"{name}.{contact.a}--{contact.b}"
        if which in found:
            continue
        words = f"{contact.a} to {contact.b}"
        if contact.when is None:
            found[which] = Sign("bar", which, name, words)
        elif frozenset((contact.a, contact.b)) in sensed:
            found[which] = Sign("coil", which, name, words)
        else:
            rests = _rests(contact.when, part)
            found[which] = Sign("contact", which, name, words, rests, Switch(), contact=which)
    moves = any(sign.kind != "bar" for sign in found.values())
    return list(found.values()) if moves else []


def _heated(device: Device) -> list[Sign]:
    """The heaters of an overload relay, and each contact that they move, as the ladder has them."""
    name, part = device.name, device.part
    if all(contact.overload is None for contact in part.contacts):
        return []
    found = []
    for contact in part.contacts:
        which, words = f"{name}.{contact.a}--{contact.b}", f"{contact.a} to {contact.b}"
        if contact.overload is not None:
            found.append(Sign("thermal", which, name, words))
        else:
            rests = holds(contact.when, part.positions[0])
            found.append(Sign("contact", which, name, words, rests, Switch(), contact=which))
    return found


def _followed(names: tuple[str, ...], around: Part | None) -> list[Condition]:
    """The conditions of a part's contacts that follow a load inside it, by its name there."""
    when = [contact.when for contact in (around.contacts if around else ()) if contact.when is not None]
    return [
        each
        for each in when
        if any(isinstance(fact, Runs) and fact.load.text in names for fact in each_fact(each))
    ]


def _rests(condition: Condition, part: Part) -> bool:
    """Whether a condition holds at rest: nothing runs, and each state is where it begins."""
    match condition:
        case Negation(fact):
            return not _rests(fact, part)
        case AllOf(facts):
            return all(_rests(fact, part) for fact in facts)
        case AnyOf(facts):
            return any(_rests(fact, part) for fact in facts)
        case IsState(name, value):
            return any(each.name == name.text and each.values[0] == value.text for each in part.states)
        case _:
            return False


def _rows(row: list[Sign], width: float) -> list[list[Sign]]:
    """The signs in rows of about one width, as wide as the screws above them or twice as wide as high.

    What one handle moves is a row of its own.
    """
    if not row:
        return []
    handled = [sign for sign in row if sign.handled]
    if handled:
        return [handled, *_rows([sign for sign in row if not sign.handled], width)]
    whole = sum(_width(sign) for sign in row)
    most = max(width, math.ceil(math.sqrt(2 * len(row))) * whole / len(row))
    count = math.ceil(whole / most)
    most = whole / count
    while len(rows := _filled(row, most)) > count:
        most += WIDER
    return rows


def _filled(row: list[Sign], most: float) -> list[list[Sign]]:
    """The signs in rows no wider than so much."""
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
    rows = _rows(signs(body.device), sum(slot.width for slot in body.slots))
    width = max((sum(_width(sign) for sign in row) for row in rows), default=0.0)
    return width, sum(_height(row) for row in rows) + room(body.device)


def _height(row: list[Sign]) -> float:
    """The height of a row: its signs, their words under them, and under these what they draw in a state."""
    words = WORDS if any(sign.worded for sign in row) else 0.0
    return _tallest(row) + words + (FIGURE if any(sign.draws for sign in row) else 0.0)


def _tallest(row: list[Sign]) -> float:
    return max(sign.face.height if sign.face else HEIGHT for sign in row)


def _width(sign: Sign) -> float:
    return max(WIDE, text_width(sign.words, SMALLEST) + 6)


def draw_signs(sheet: Sheet, body: Body, x: float, y: float, page: Page, state: State | None = None) -> None:
    """Draw a body's signs, its left end at x, as they look in the state.

    y is their end at its screws: their top, or their lower end where it stands over its wires.
    """
    pen = Pen(sheet, page, state=state)
    if body.device is None:
        if body.rating:
            _draw_poles(pen, body, x, y + BREAKER)
        return
    if between_screws(body.device):
        at = {slot.terminal.spec.name: body_x(body, slot.x, x) for slot in body.slots}
        draw_blades(pen, body.device, at, y, state, body.over)
    top = y - size(body)[1] if body.over else y + room(body.device)
    for row in _rows(signs(body.device), sum(slot.width for slot in body.slots)):
        tall = _tallest(row)
        left = x + (body.width - sum(_width(sign) for sign in row)) / 2
        handled: list[float] = []
        middles: dict[str, float] = {}
        for sign in row:
            width = _width(sign)
            pen.sign(sign, left + width / 2, top + tall / 2)
            middle, low = left + width / 2, top + tall + LOW
            if sign.handled:
                handled.append(middle + LARGER)
            if sign.words:
                sheet.write(
                    f"label-{sign.name}-sign", sign.words, middle, low, SMALLEST, page.faint, title=sign.name
                )
                low += WORDS
            figure = state.figure(sign.name) if state is not None and sign.draws else ""
            if figure:
                title = f"{sign.name}: {figure}"
                kind = "label figure"
                sheet.write(
                    f"figure-{sign.name}", figure, middle, low, SMALLEST, page.ink, title=title, kind=kind
                )
            middles[sign.name] = middle
            left += width
        for (kind, device), side_by_side in groupby(row, lambda sign: (sign.kind, sign.device)):
            if kind == "motor":
                _draw_shaft(
                    pen, device, [(each.name, middles[each.name]) for each in side_by_side], top + tall / 2
                )
        if handled[1:]:
            high = top + tall / 2 - HANDLE * LARGER
            pen.line((handled[0], high), (handled[-1], high), pen=0.8, dash="dashed")
            pen.lift(f"link-{body.name}", f"{body.name}: its blades move as one")
        top += _height(row)


def _draw_shaft(pen: Pen, device: str, windings: list[tuple[str, float]], level: float) -> None:
    """Dashes from winding to winding of one motor, each with its middle: one line, however many there are."""
    reach = SHAFT * LARGER
    for (_, one), (_, other) in pairwise(windings):
        pen.line((one + reach, level), (other - reach, level), pen=0.8, dash="dashed")
    if windings[1:]:
        pen.lift(f"shaft-{windings[1][0]}", f"{device}: one motor of several speeds")


def _draw_poles(pen: Pen, body: Body, x: float, y: float) -> None:
    """A breaker's sign under the screw of each of its poles, with dashes from pole to pole.

    The dashes stay where they are in every state; the arcs of an open breaker hang on them by short stems.
    """
    middles = [body_x(body, slot.x, x) for slot in body.slots if slot.terminal.spec.role != "neutral"]
    closed = pen.state is None or pen.state.protection(body.name).closed
    for number, middle in enumerate(middles, 1):
        further = body.name if number > 1 else ""
        name = f"{body.name}/{number}" if further else body.name
        if not closed and len(middles) > 1:
            pen.line((middle, y - OPEN_APEX), (middle, y - APEX), pen=0.9)
        pen.sign(Sign("breaker", name, body.name, "", pole_of=further), middle, y)
    for number, (one, other) in enumerate(pairwise(middles), 1):
        pen.line((one, y - APEX), (other, y - APEX), pen=0.9, dash="dashed")
        pen.lift(f"link-{body.name}-{number}", f"{body.name}: one handle moves its poles")


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
        if sign.face is not None:
            self.receptacle(sign, sign.face, x, y)
            return
        blade = Blade(sign.closed)
        if self.state is not None:
            self.glow(self.state, sign, x, y)
            if sign.kind in ("fuse", "breaker", "dual", *WATCHERS):
                blade = self.state.protection(sign.pole_of or sign.name)
            elif sign.contact:
                blade = self.state.contact(sign.contact)
            elif sign.switch is not None:
                blade = self.state.device_contact(sign.device)
        if sign.switch is not None:
            low = 5.0 if sign.switch.below else 0.0
            with self.at(x, y - low, LARGER):
                self.switch(sign.switch, sign.closed, blade.closed, self.state is not None)
                if sign.handled:
                    start = -1.5 if blade.closed else 5.2 if sign.switch.below else -5.2
                    self.line((1, start), (1, low / LARGER - HANDLE), pen=0.8, dash="dashed")
        elif sign.kind == "relay":
            closed = self.state is not None and bool(self.state.on(sign.name)) != sign.closed
            self.relay(x, y, sign.closed, closed)
            blade = Blade(True)
        elif not blade.closed:
            self.open_blade(sign, x, y)
        elif sign.kind in DRAWN:
            DRAWN[sign.kind](self, x, y)
        else:
            # A sign that hangs far under its wire is moved up, so that its middle is in the middle.
            low = max(0.0, load_reach(sign.kind)[1] - 15.0)
            with self.at(x, y - low, LARGER):
                self.load(sign.kind)
        title = f"{sign.name} {blade.word or ('' if blade.closed else 'open')}".strip()
        self.lift(f"sign-{sign.name}", title)
        if blade.word and not sign.pole_of:
            name = f"word-{sign.name}"
            self.sheet.write(name, blade.word, x, y + 16, SMALLEST, self.page.ink, bold=True, title=title)

    def receptacle(self, sign: Sign, face: Face, x: float, y: float) -> None:
        """A receptacle's face, each plug of it lit where it has power, and the word for why it is open."""
        word = self.state.protection(sign.opens).word if self.state is not None and sign.opens else ""
        middles = draw_face(self, face, x, y, tripped=bool(word))
        said = [f"{sign.name}: {', '.join(outlet.name for plug in face.plugs for outlet in plug)}"]
        if word:
            said.append(word)
            title = f"{sign.name} {word}"
            low = y + face.height / 2 + LOW
            self.sheet.write(
                f"word-{sign.name}", word, x, low, SMALLEST, self.page.ink, bold=True, title=title
            )
        for side, tab in (("hot", face.hot_tab), ("neutral", face.neutral_tab)):
            if tab is not None:
                said.append(f"{side} tab {'whole' if tab else 'broken out'}")
        self.lift(f"sign-{sign.name}-face", "; ".join(said))
        if self.state is None:
            return
        wide, high = (42.0, 41.0) if len(face.plugs) == 1 else (33.0, 34.0)
        for middle, plug in zip(middles, face.plugs, strict=True):
            live = [outlet.name for outlet in plug if self.state.on(f"{sign.device}.{outlet.name}")]
            if live:
                name = f"{sign.device}.{live[0]}"
                title = f"{sign.device}.{' and '.join(live)}: live"
                self.lit(name, title, x - wide / 2, middle - high / 2, wide, high)

    def lit(self, name: str, title: str, x: float, y: float, width: float, height: float) -> None:
        """A bright ground under what works."""
        frame = Frame(
            f"lit-{name}", title, x, y, width, height, self.page.lit, self.page.ink, 1.6, True, "lit"
        )
        self.sheet.frames.append(frame)

    def open_blade(self, sign: Sign, x: float, y: float) -> None:
        """The sign of protection that is open: its arc lifted, its wire broken."""
        if sign.kind != "fuse":
            self.curve((x - 9, y - 5), (x - 6, y - 15), (x + 6, y - 15), (x + 9, y - 5))
            self.dot(x - 9, y + 3)
            self.dot(x + 9, y + 3)
        else:
            self.line((x - 11, y - 5), (x + 11, y - 5), (x + 11, y + 5), (x - 11, y + 5), (x - 11, y - 5))
            self.line((x - 18, y), (x - 4, y), (x - 6, y - 3))
            self.line((x + 18, y), (x + 4, y), (x + 6, y + 3))

    def glow(self, state: State, sign: Sign, x: float, y: float) -> None:
        """A bright ground where it works."""
        does = state.called(sign.device) if sign.kind == "thermostat" else state.on(sign.name)
        does = does or state.turned_by(sign.name)
        if does:
            self.lit(sign.name, f"{sign.name}: {does}", x - 20, y - 19.5, 40, 39)

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

    def relay(self, x: float, y: float, rests: bool, closed: bool) -> None:
        """The coil of a relay, and by dashes a contact that it moves: as it rests, bridged where closed."""
        self.circle(x - 8.5, y, 8)
        self.line((x - 0.5, y), (x + 7, y), pen=0.9, dash="dashed")
        for bar in (7, 14):
            self.line((x + bar, y - 8), (x + bar, y + 8), pen=1.6)
        if rests:
            self.line((x + 3.5, y + 7), (x + 17.5, y - 7))
        if closed:
            self.line((x + 7, y), (x + 14, y), pen=BRIDGE)

    def earth(self, x: float, y: float) -> None:
        """What stands in the earth: IEEE 315, 3.9 (from memory)."""
        self.line((x, y - 16), (x, y - 2))
        for step in range(3):
            half = 13 - 4.5 * step
            self.line((x - half, y - 2 + 5 * step), (x + half, y - 2 + 5 * step), pen=1.6)

    def bar(self, x: float, y: float) -> None:
        """A bar that carries a wire straight through, between its two screws."""
        self.line((x - 17, y), (x + 17, y), pen=1.2)
        self.line((x - 10, y), (x + 10, y), pen=3.4)

    def adjusts(self, x: float, y: float) -> None:
        """What lowers the volts: half waves without their first part, under the arrow of what can be set.

        IEEE 315 has the arrow (from memory).
        """
        self.line((x - 15, y), (x + 15, y), pen=0.8)
        for side, way in ((-1, -1), (1, 1)):
            left = x - 12 if side < 0 else x
            self.line((left + 4, y), (left + 4, y + way * 9), pen=1.4)
            self.curve(
                (left + 4, y + way * 9), (left + 7, y + way * 11), (left + 11, y + way * 6), (left + 12, y)
            )
        self.line((x - 13, y + 14), (x + 13, y - 14), pen=1)
        self.line((x + 7, y - 13), (x + 13, y - 14), (x + 12, y - 8), pen=1)

    def thermostat(self, x: float, y: float) -> None:
        """A thermostat: a dial with its pointer and a bulb's mark."""
        self.circle(x, y, 14)
        self.circle(x, y, 3)
        self.line((x + 2, y - 2), (x + 8, y - 8), pen=1.8)
        for angle in (180, 225, 270, 360):
            c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
            self.line((x + 10.5 * c, y + 10.5 * s), (x + 14 * c, y + 14 * s), pen=1)


DRAWN: dict[str, Callable[[Pen, float, float], None]] = {
    "transformer": Pen.transformer,
    "thermostat": Pen.thermostat,
    "bar": Pen.bar,
    "earth": Pen.earth,
    "dims-lights": Pen.adjusts,
    "slows-fans": Pen.adjusts,
}
"""What is drawn here in its own way; any other sign is the one that the ladder has too."""


def draw_icon(sheet: Sheet, body: Body, x: float, y: float, page: Page, state: State | None = None) -> None:
    """The small face that stands beside the name of a switch."""
    if body.device is not None and by_hand(body.device):
        draw_toggle(Pen(sheet, page), body.device, x, y, state)

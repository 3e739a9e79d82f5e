"""A switch that a hand moves: its blades between its own screws, and its toggle.

A blade turns about the dot of its pole, and lies on the dot of the throw that it is on. A thin dashed line
shows where else it can go. Blades that one handle moves are linked by dashes (IEEE 315, from memory).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from wirecheck.drawing.sheet import Point
from wirecheck.drawing.state import State
from wirecheck.drawing.strokes import Strokes
from wirecheck.language.syntax import AllOf, AnyOf, Condition, InPosition, Negation
from wirecheck.model.board import Device
from wirecheck.parts.part import Contact

THROW, POLE = 12.0, 32.0
"""How far the dots of throws and of poles are under the upper end of a switch's sign."""
BLADE = 2.4
OFF = 0.7
"""How much of its way a blade goes that is off its only throw, and SAG, how far it hangs under it there."""
SAG = 5.0


def by_hand(device: Device | None) -> bool:
    """Whether the device is a switch whose contacts are drawn between its own screws."""
    if device is None:
        return False
    part = device.part
    return bool(part.positions) and part.moved_by == "hand" and not part.outlets and not part.calls


def draw_blades(pen: Strokes, device: Device, at: Mapping[str, float], y: float, state: State | None) -> None:
    """Draw a hand switch under its screws.

    Parameters
    ----------
    at : where each of its screws is, from left to right
    y : the upper end of the sign
    state : how it stands; without one it is in its first position
    """
    ways = [(contact, name, *_way(device, contact, at)) for contact, name in _contacts(device)]
    ways = [way for way in ways if way[2] and way[3]]
    poles = Counter(end for _, _, a, b in ways for end in (a, b))
    ends = set(poles)
    turned = [(contact, name, *((b, a) if poles[b] > poles[a] else (a, b))) for contact, name, a, b in ways]
    pivots = {pole for _, _, pole, _ in turned}
    for name in sorted(ends):
        low = y + (POLE if name in pivots else THROW)
        pen.line((at[name], y - 2), (at[name], low))
        pen.dot(at[name], low)
    for name in sorted(set(at) - ends):
        if device.part.terminals[name].role == "ground":
            _ground(pen, at[name], y)
    lift(pen, f"sign-{device.name}", f"{device.name}: its contacts")
    middles: dict[str, Point] = {}
    drawn = []
    for contact, name, pole, throw in turned:
        closed = holds(contact.when, device.part.positions[0])
        if state is not None:
            closed = state.contact(name).closed
        drawn.append((closed, name, pole, throw))
    for closed, name, pole, throw in sorted(drawn, key=lambda each: each[0]):
        one, other = (at[pole], y + POLE), (at[throw], y + THROW)
        only = sum(each[2] == pole for each in drawn) == 1
        if closed:
            pen.line(one, other, pen=BLADE)
        elif only:
            other = (one[0] + OFF * (other[0] - one[0]), one[1] + OFF * (other[1] - one[1]) + SAG)
            pen.line(one, other, pen=BLADE)
        else:
            pen.line(one, other, pen=0.8, dash="dashed")
        if closed or pole not in middles:
            middles[pole] = ((one[0] + other[0]) / 2, (one[1] + other[1]) / 2)
        lift(pen, f"contact-{name}", f"{device.name}: {pole} to {throw}, {'closed' if closed else 'open'}")
    if len(middles) > 1:
        pen.line(*middles.values(), pen=0.8, dash="dashed")
        lift(pen, f"link-{device.name}", f"{device.name}: one handle moves its blades")


def lift(pen: Strokes, name: str, title: str = "") -> None:
    """Put what was drawn since the last lift on the sheet, under a name."""
    pen.lifted(name, title, pen.page.ink, "sign", 12)


def _ground(pen: Strokes, x: float, y: float) -> None:
    """The sign of the ground, under its screw."""
    pen.line((x, y - 2), (x, y + 3))
    for step in range(3):
        half = 6 - 2 * step
        pen.line((x - half, y + 3 + 2.5 * step), (x + half, y + 3 + 2.5 * step), pen=1)


def _contacts(device: Device) -> list[tuple[Contact, str]]:
    """The contacts that a hand moves, each with the name that it has in the circuit."""
    seen: Counter[str] = Counter()
    found = []
    for contact in device.part.contacts:
        name = f"{device.name}.{contact.a}--{contact.b}"
        if contact.when is None:
            continue
        seen[name] += 1
        found.append((contact, name if seen[name] == 1 else f"{name}/{seen[name]}"))
    return found


def _way(device: Device, contact: Contact, at: Mapping[str, float]) -> tuple[str, str]:
    """The screws between which a contact lies, through the fuses and the wires inside; empty where none."""
    beside: dict[str, list[str]] = {}
    pairs = [(each.a, each.b) for each in device.part.contacts if each.when is None]
    for child in device.children:
        for protection in child.part.protections:
            pairs += [(f"{child.inside}.{a}", f"{child.inside}.{b}") for a, b in protection.pairs]
    for a, b in pairs:
        beside.setdefault(a, []).append(b)
        beside.setdefault(b, []).append(a)
    return _screw(contact.a, beside, at), _screw(contact.b, beside, at)


def _screw(start: str, beside: Mapping[str, list[str]], at: Mapping[str, float]) -> str:
    """The screw that a point inside leads to, or nothing."""
    waiting, seen = [start], {start}
    while waiting:
        point = waiting.pop(0)
        if point in at:
            return point
        new = [other for other in beside.get(point, ()) if other not in seen]
        seen.update(new)
        waiting += new
    return ""


def draw_toggle(pen: Strokes, device: Device, x: float, y: float, state: State | None) -> None:
    """The small face that stands beside a switch's name: its toggle, up in its first position."""
    pen.box(5, 9, x, y, pen=1)
    lift(pen, f"sign-{device.name}-face")
    first = device.part.positions[0]
    position = state.position(device.name) if state else first
    way = -1 if position == first else 1
    pen.line((x, y - way), (x, y + 5 * way), pen=3.2)
    lift(pen, f"toggle-{device.name}", f"{device.name} {position}")


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

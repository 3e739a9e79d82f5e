"""What a hand moves: the blades of a switch between its own screws, or the bridge of a push button.

A blade turns about the dot of its pole, and lies on the dot of the throw that it is on. A thin dashed line
shows where else it can go. Blades that one handle moves are linked by dashes, but those that cross.

Where blades would cross the wires of the screws between, each contact is a sign of its own, with its two
screws named under it, as those of a contactor are: so it is with three poles, and with two whose lines stand
before their loads. A 4-way switch has its crossing blades, by which it is known.

Where no state is shown it is off, as a switch is in a diagram (IEEE 315, from memory): so no picture without
power has a switch that is on and a lamp that is dark. A switch of two throws has no off, and is as it is.

A contact that springs back, and shares no screw with another, is the push button that the ladder has: its
bridge over the terminals where it rests open, and under them where it rests closed.

Source: that a dashed line is a mechanical link: IEEE 315 (from memory), and DOE-HDBK-1016/1-93, figure 14
(https://nuclearpowertraining.tpub.com/h1016v1/css/Reading-Electrical-Diagrams-And-Schematics-110.htm)
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from itertools import pairwise

from wirecheck.drawing.contacts import REACH, Contacts
from wirecheck.drawing.sheet import Point
from wirecheck.drawing.state import State
from wirecheck.drawing.strokes import Strokes
from wirecheck.language.syntax import AllOf, AnyOf, Condition, InPosition, Negation
from wirecheck.model.board import Device
from wirecheck.parts.part import Contact, Part

BUTTON, LARGER = 26.0, 1.15
"""How far the terminals of a push button are under the upper end of its sign, and its size there."""
THROW, POLE, CROSSED = 12.0, 32.0, 60.0
"""How far from its screws the dots of a switch's throws are, and those of its poles; CROSSED of a 4-way's.

So steep are its blades that both of its positions are seen, side by side and crossed.
"""
UNDER = 12.0
"""How high the room under the dots of the poles is."""
BLADE = 2.4
MOVED, PRESSED = "moved by hand", "push button"
"""What the small face beside a switch's name says."""
OFF = "off"
"""What the position of a switch is called in which it conducts nothing."""
AWAY = 0.7
"""How much of its way a blade goes that is off its only throw, and SAG, how far it hangs under it there."""
SAG = 5.0


def by_hand(device: Device | None) -> bool:
    """Whether the device is a switch that a hand moves, and that makes no calls."""
    if device is None:
        return False
    part = device.part
    return bool(part.positions) and part.moved_by == "hand" and not part.calls


def at_rest(part: Part) -> str:
    """The position that a part is drawn in where no state is shown: a hand switch off, others in their first.

    A disconnect is drawn closed, as breakers and fuses are: with them it makes the circuit ready, and what
    is then switched is the matter of a diagram (common practice).

    >>> from wirecheck.assembly import shipped_parts
    >>> [at_rest(shipped_parts().part(name)) for name in ("single-pole-switch", "disconnect-2-pole")]
    ['off', 'on']
    """
    moved = [contact for contact in part.contacts if contact.when is not None]
    cuts_off = any("disconnect" in contact.flags for contact in moved)
    switches = part.moved_by == "hand" and not cuts_off and OFF in part.positions
    return OFF if switches and not any(holds(each.when, OFF) for each in moved) else part.positions[0]


def between_screws(device: Device | None) -> bool:
    """Whether its contacts are drawn between its own screws: those of one pole, or two beside each other."""
    if device is None or not by_hand(device):
        return False
    throws = Counter(each.a for each, _ in _contacts(device))
    if len(throws) != 2 or max(throws.values()) > 1:
        return len(throws) <= 2
    order = list(device.part.terminals)
    ways = [_way(device, each, dict.fromkeys(order, 0.0)) for each, _ in _contacts(device)]
    spans = sorted(sorted(map(order.index, way)) for way in ways if all(way))
    return all(one[1] < other[0] for one, other in pairwise(spans))


def room(device: Device) -> float:
    """How high its blades between its screws are drawn, or nothing where they are not."""
    return _reach(device) + UNDER if between_screws(device) else 0.0


def _reach(device: Device) -> float:
    """How far from its screws the dots of its poles are: further where two poles share their throws."""
    ways = {(contact.a, contact.b) for contact, _ in _contacts(device)}
    shared = Counter(throw for _, throw in ways)
    return CROSSED if len(ways) > 2 and min(shared.values()) > 1 else POLE


def apart(device: Device) -> list[tuple[Contact, str, str]]:
    """The contacts of a hand switch that are signs of their own, each with its name and its words."""
    if not by_hand(device) or between_screws(device):
        return []
    at = dict.fromkeys(device.part.terminals, 0.0)
    ways = [(contact, name, *_way(device, contact, at)) for contact, name in _contacts(device)]
    return [(contact, name, f"{a} to {b}") for contact, name, a, b in ways if a and b]


def draw_blades(
    pen: Contacts, device: Device, at: Mapping[str, float], y: float, state: State | None, over: bool = False
) -> None:
    """Draw a hand switch under its screws, or over them.

    Parameters
    ----------
    at : where each of its screws is, from left to right
    y : the end of the sign that is at the screws
    state : how it stands; without one it is `at_rest`
    over : whether it is drawn over its screws; a push button's bridge is where it is in any case
    """
    way = -1 if over else 1
    ways = [(contact, name, *_way(device, contact, at)) for contact, name in _contacts(device)]
    ways = [way for way in ways if way[2] and way[3]]
    poles = Counter(end for _, _, a, b in ways for end in (a, b))
    for name in sorted(set(at) - set(poles)):
        if device.part.terminals[name].role == "ground":
            _ground(pen, at[name], y, way)
            lift(pen, f"sign-{device.name}-ground", f"{device.name}.{name}: to the frame")
    pressed = [way for way in ways if _springs_back(way[0]) and poles[way[2]] == poles[way[3]] == 1]
    for contact, name, a, b in pressed:
        rests = holds(contact.when, device.part.positions[0])
        closed = state.contact(name).closed if state is not None else rests
        _button(pen, (at[a], at[b]), y, way, rests, closed)
        lift(pen, f"contact-{name}", f"{device.name}: {a} to {b}, {'closed' if closed else 'open'}")
    ways = [way for way in ways if way not in pressed]
    if not ways:
        return
    poles = Counter(end for _, _, a, b in ways for end in (a, b))
    ends, reach = set(poles), _reach(device)
    turned = [(contact, name, *((b, a) if poles[b] > poles[a] else (a, b))) for contact, name, a, b in ways]
    pivots = {pole for _, _, pole, _ in turned}
    for name in sorted(ends):
        low = y + way * (reach if name in pivots else THROW)
        pen.line((at[name], y - 2 * way), (at[name], low))
        pen.dot(at[name], low)
    lift(pen, f"sign-{device.name}", f"{device.name}: its contacts")
    middles: dict[str, Point] = {}
    drawn, rest = [], at_rest(device.part)
    for contact, name, pole, throw in turned:
        closed = state.contact(name).closed if state is not None else holds(contact.when, rest)
        drawn.append((closed, name, pole, throw))
    for closed, name, pole, throw in sorted(drawn, key=lambda each: each[0]):
        one, other = (at[pole], y + way * reach), (at[throw], y + way * THROW)
        only = sum(each[2] == pole for each in drawn) == 1
        if (closed or only) and any(at[pole] < at[name] < at[throw] for name in pivots):
            # Clear of the wire of the pole that it passes, which it does not touch.
            clear = [
                (one[0] + part * (other[0] - one[0]), one[1] + part * (other[1] - one[1]))
                for part in (0.1, 0.9)
            ]
            pen.line(*clear, pen=BLADE + 3)
            pen.lifted(f"clear-{name}", "", pen.page.device, "clear", 12)
        if closed:
            pen.line(one, other, pen=BLADE)
        elif only:
            other = (one[0] + AWAY * (other[0] - one[0]), one[1] + AWAY * (other[1] - one[1]) + way * SAG)
            pen.line(one, other, pen=BLADE)
        else:
            pen.line(one, other, pen=0.8, dash="dashed")
        if closed or pole not in middles:
            middles[pole] = ((one[0] + other[0]) / 2, (one[1] + other[1]) / 2)
        lift(pen, f"contact-{name}", f"{device.name}: {pole} to {throw}, {'closed' if closed else 'open'}")
    # Among blades that cross, a link would read as one more of their ways.
    if len(middles) > 1 and reach != CROSSED:
        pen.line(*middles.values(), pen=0.8, dash="dashed")
        lift(pen, f"link-{device.name}", f"{device.name}: one handle moves its blades")


def _springs_back(contact: Contact) -> bool:
    return "momentary" in contact.flags


def _button(
    pen: Contacts, screws: tuple[float, float], y: float, way: int, rests: bool, closed: bool
) -> None:
    """A push button between two screws, by the ladder's own sign."""
    left, right = sorted(screws)
    middle, level = (left + right) / 2, y + way * BUTTON
    for x, side in ((left, -1), (right, 1)):
        pen.line((x, y - 2 * way), (x, level), (middle + side * REACH * LARGER, level))
    with pen.at(middle, level, LARGER):
        pen.button(rests, closed)


def lift(pen: Strokes, name: str, title: str = "") -> None:
    """Put what was drawn since the last lift on the sheet, under a name."""
    pen.lifted(name, title, pen.page.ink, "sign", 12)


def _ground(pen: Strokes, x: float, y: float, way: int) -> None:
    """The sign of the ground, under its screw or (where `way` is -1) over it."""
    pen.line((x, y - 2 * way), (x, y + 3 * way))
    for step in range(3):
        half, at = 6 - 2 * step, y + way * (3 + 2.5 * step)
        pen.line((x - half, at), (x + half, at), pen=1)


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
    """The small face that stands beside a switch's name: its toggle, down where the switch is off.

    Without an off it is up in its first position.
    A push button's is round, and its knob is dark while it is pressed.
    """
    first = device.part.positions[0]
    position = state.position(device.name) if state else at_rest(device.part)
    moved = [contact for contact in device.part.contacts if contact.when is not None]
    if moved and all(map(_springs_back, moved)):
        pen.circle(x, y, 6.5, pen=1)
        lift(pen, f"sign-{device.name}-face", PRESSED)
        pen.circle(x, y, 3.5 if position == first else 2.0, pen=1.0 if position == first else 4.0)
    else:
        pen.box(5, 9, x, y, pen=1)
        lift(pen, f"sign-{device.name}-face", MOVED)
        up = position != OFF if OFF in device.part.positions else position == first
        way = -1 if up else 1
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

"""Where everything of a wiring diagram stands, so that its rules hold by construction.

Inside a room the conductors come in on rows, one conductor a row, and come
down onto the screws in columns, one tail a column. A row is shared only by
two conductors of one splice. So two wires never lie on one another: they meet
in a splice's dot, or they cross. Devices stand below all rows, and a wire
comes down only onto its own screw, so none runs through a device.

Between two columns of rooms each cable has a height of its own at either wall
and a track of its own between.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from typing import NamedTuple

from wirecheck.drawing.letters import text_width
from wirecheck.drawing.rooms import Bundle, Pin, Port, Room, Slot, Tail

ROW = 18.0
CORE = 6.0
FAN = 15.0
HEADER = 30.0
SMALL = 7.5
PADDING = 12.0
COLUMN_GAP = 14.0
SCREW = 10.0
TAIL = 7.0
FLAG = 13.0
FLAG_BESIDE = 10.5
FLAGGED = 10.0
"""From the labels of a side to the first column: with what is free there, as much as a flag takes."""
BAND = 16.0
LEG = 13.0
LABEL_AT = 6.0
"""How far behind the bend of its wire a label begins, so that what glows around the wire is clear of it."""


@dataclass(eq=False)
class Cable:
    """A bundle's way between its rooms: the middle line of its jacket."""

    bundle: Bundle
    ports: tuple[Port, Port]
    path: list[tuple[float, float]] = field(default_factory=list)
    track: float = 0.0
    turns: bool = False
    lane: float = 0.0
    margin: float = 0.0

    @property
    def half(self) -> float:
        """Half the width of its jacket."""
        return half_width(self.bundle)


def half_width(bundle: Bundle) -> float:
    """Half the width of a bundle's jacket, in points."""
    return max(len(bundle.conductors), 1) * CORE / 2 + (0 if bundle.kind == "wire" else 3)


class EndLabel(NamedTuple):
    """What stands at a conductor's end: its name or its color, and the color that it is marked."""

    name: str
    marked: str | None

    @property
    def text(self) -> str:
        """It in words."""
        return f"{self.name}, marked {self.marked}" if self.marked else self.name


def label_widths(room: Room, words: dict[str, EndLabel], flags: dict[str, int]) -> tuple[float, float]:
    """The room that the conductors' labels, bands and flags take on each side; one flag has it always."""
    widest = [0.0, 0.0]
    for pin in room.pins:
        width = end_width(words[pin.point], max(flags.get(pin.point, 0) - 1, 0))
        side = 0 if pin.left else 1
        widest[side] = max(widest[side], width)
    return widest[0], widest[1]


def end_width(label: EndLabel, flags: int) -> float:
    """How far a conductor's label, its band and its flags reach along its row."""
    return LABEL_AT + text_width(label.text, SMALL) + (BAND if label.marked else 0) + 3 + FLAG * flags


def set_rows(room: Room) -> None:
    """Give each conductor's end its row: those of one splice on opposite sides share one where they can."""
    group = {pin.point: number for number, splice in enumerate(room.splices) for pin in splice.pins}
    left = [pin for port in room.left for pin in port.pins]
    right = [pin for port in room.right for pin in port.pins]
    row = 0
    i = j = 0
    shared = _matches(left, right, group)
    shared.append((len(left), len(right)))
    last: dict[bool, Port | None] = {True: None, False: None}

    def put(pin: Pin) -> None:
        nonlocal row
        before = last[pin.left]
        if before is not None and before is not pin.port:
            row = max(row, before.row + 2)
        pin.row = row
        last[pin.left] = pin.port
        pin.port.row = row

    for a, b in shared:
        while i < a:
            put(left[i])
            row += 1
            i += 1
        while j < b:
            put(right[j])
            row += 1
            j += 1
        if a < len(left):
            put(left[i])
            put(right[j])
            left[i].row = row
            left[i].port.row = row
            row += 1
            i += 1
            j += 1
    for port in (*room.left, *room.right):
        if not port.pins:
            row += 1
            port.row = row
            row += 1
    room.rows = row


def _matches(left: list[Pin], right: list[Pin], group: dict[str, int]) -> list[tuple[int, int]]:
    """Pairs (left, right) of one splice, in order down both sides."""
    pairs: list[tuple[int, int]] = []
    taken: set[int] = set()
    start = 0
    for i, pin in enumerate(left):
        number = group.get(pin.point)
        if number is None or number in taken:
            continue
        for j in range(start, min(len(right), start + 12)):
            if group.get(right[j].point) == number:
                pairs.append((i, j))
                taken.add(number)
                start = j + 1
                break
    return pairs


def score(tail: Tail, rows: int) -> float:
    """Where along the row of devices a tail would come down with the fewest crossings, from -1 to 1.

    From the left side the lowest row comes down first; from the right side the
    uppermost; what is spliced across comes between.
    """
    pins = tail.splice.pins if tail.splice else [tail.pin] if tail.pin else []
    if not pins:
        return 0.0
    sides = {pin.left for pin in pins}
    if len(sides) == 2:
        return 0.0
    row = max(pin.row for pin in pins)
    return -(row + 1) / (rows + 1) if sides == {True} else (row + 1) / (rows + 1)


def order_tails(room: Room) -> None:
    """Set what comes down on one screw in the order of fewest crossings.

    Devices stand in the order of the board's lines, and screws in that of the part's, which is how they
    are seen from the front. So one part looks the same on every board, and wires that are exchanged show.
    """
    for body in room.bodies:
        for slot in body.slots:
            slot.tails.sort(key=lambda tail: score(tail, room.rows))


def set_columns(
    room: Room, labels: tuple[float, float], body_size: dict[str, tuple[float, float]], title: float
) -> None:
    """Give every tail, screw, splice and device its x from the room's left wall, and the room its size."""
    x = FAN + labels[0] + FLAGGED if room.left else PADDING + 4
    loose = [splice for splice in room.splices if not splice.tails]
    for splice in loose:
        if any(pin.left for pin in splice.pins):
            splice.x = x + TAIL
            x += 2 * TAIL
    x += 4
    for body in room.bodies:
        least, height = body_size[body.name]
        widths = [slot.width for slot in body.slots]
        body.width = max(least, sum(widths))
        body.height = height
        body.x = x
        spare = (body.width - sum(widths)) / max(len(widths), 1)
        at = x
        for slot in body.slots:
            slot.x = at + (slot.width + spare) / 2
            at += slot.width + spare
            for number, tail in enumerate(slot.tails):
                tail.x = slot.x + (number - (len(slot.tails) - 1) / 2) * (
                    CORE + 1 if not slot.bar else SCREW + 4
                )
        x += body.width + COLUMN_GAP
    for splice in loose:
        if not any(pin.left for pin in splice.pins):
            splice.x = x + TAIL
            x += 2 * TAIL
    for splice in room.splices:
        if splice.tails:
            splice.tails.sort(key=lambda tail: tail.x)
            splice.x = splice.tails[0].x
    x += FAN + labels[1] + FLAGGED if room.right else PADDING
    room.width = max(x, title)
    links = 0
    for splice in room.splices:
        if len(splice.tails) > 1:
            splice.link_y = HEADER + ROW * (room.rows + links + 0.5)
            links += 1
    room.links = links + len(room.jumpers)
    room.floor = HEADER + ROW * (room.rows + room.links) + 12
    room.height = room.floor + max((body.height for body in room.bodies), default=0.0) + PADDING
    room.height += LEG * len(room.legs)


def slot_width(slot: Slot, words: float, flags: int, cables: int) -> float:
    """How wide a screw's column is: its label, what comes down on it, its flags.

    A bar has room for a wire of each cable, so that one that is left off or put elsewhere moves nothing.
    """
    pitch, least = (SCREW + 4, cables) if slot.bar else (CORE + 1, 0)
    wires = pitch * max(len(slot.tails), least)
    # The first flag stands in what is free between two screws, whether there is one or not.
    flagged = wires - pitch + 2 * (FLAG_BESIDE - 3 + FLAG * max(flags - 1, 0))
    return max(words + 8, wires - pitch + 23, flagged, 24)


# ------------------------------------------------------------------ columns


GAP = 26.0
LEAD = 10.0


def place_rooms(rooms: list[Room], words: dict[str, float], bands: int = 1) -> list[Cable]:
    """Stack the rooms of each column, and give each cable its way.

    Parameters
    ----------
    rooms : with their sizes, column by column.
    words : how wide the label of each bundle is, by the bundle's name.
    bands : in how many bands, one under the other, the columns stand, as the lines of a text do.

    Returns
    -------
    Every cable with the middle line of its jacket, from wall to wall.
    """
    columns: list[list[Room]] = [[] for _ in range(max((room.column for room in rooms), default=-1) + 1)]
    for room in rooms:
        columns[room.column].append(room)
        for port in (*room.left, *room.right):
            rows = [pin.row for pin in port.pins] or [port.row]
            port.y = HEADER + ROW * (min(rows) + max(rows) + 1) / 2
    cables = _cables(rooms)
    cable_of = {id(port): cable for cable in cables for port in cable.ports}
    top = 0.0
    turned: list[Cable] = []
    folded = fold(columns, bands)
    band_of = {room.name: number for number, band in enumerate(folded) for column in band for room in column}
    for cable in cables:
        cable.turns = band_of[cable.ports[0].room.name] != band_of[cable.ports[1].room.name]
    for band in folded:
        x = _margin(turned)
        before: list[Port] = []
        for column in band:
            _stack(column, before, cable_of, top)
            x = _channel(x, before, cable_of, words)
            width = max(room.width for room in column)
            for room in column:
                room.x = x
            x += width
            before = [port for room in column for port in room.right]
        _channel(x, before, cable_of, words)
        bottom = max(room.y + room.height for column in band for room in column)
        turned = [cable for cable in _each(before, cable_of) if cable.turns]
        top = _gutter(turned, bottom) + GAP
    for cable in cables:
        _end_path(cable)
    return cables


def fold(columns: list[list[Room]], bands: int) -> list[list[list[Room]]]:
    """The columns in bands of about one width, in order."""
    widths = [max(room.width for room in column) + 90 for column in columns]
    limit = sum(widths) / max(bands, 1)
    folded: list[list[list[Room]]] = []
    reached = 0.0
    for column, width in zip(columns, widths, strict=True):
        full = len(folded) < bands and reached + width / 2 > limit * len(folded)
        if not folded or full:
            folded.append([])
        folded[-1].append(column)
        reached += width
    return folded


def _each(ports: list[Port], cable_of: dict[int, Cable]) -> list[Cable]:
    """The cables of some ports, each once, in order."""
    return list({id(cable): cable for port in ports for cable in (cable_of[id(port)],)}.values())


def _gutter(turned: list[Cable], bottom: float) -> float:
    """Give the cables that go on in the next band their heights between the bands; return where these end."""
    y = bottom + 12
    for cable in sorted(turned, key=lambda cable: cable.track):
        cable.lane = y + cable.half + 3
        y = cable.lane + cable.half + 3
    return y if turned else bottom


def _margin(turned: list[Cable]) -> float:
    """Give them their tracks left of the next band, the lowest lane innermost; return where it begins."""
    x = 0.0
    for cable in sorted(turned, key=lambda cable: cable.lane):
        cable.margin = x + cable.half + 3
        x = cable.margin + cable.half + 3
    return x + LEAD if turned else 0.0


def _cables(rooms: list[Room]) -> list[Cable]:
    ports: dict[int, list[Port]] = {}
    for room in rooms:
        for port in (*room.left, *room.right):
            ports.setdefault(id(port.bundle), []).append(port)
    cables = []
    for pair in ports.values():
        one, other = pair
        cables.append(Cable(one.bundle, (other, one) if one.left else (one, other)))
    return cables


def _band(port: Port, words: bool) -> tuple[float, float]:
    half = half_width(port.bundle) + 3
    return port.y - half - (11 if words else 0), port.y + half


def _stack(column: list[Room], before: list[Port], cable_of: dict[int, Cable], top: float) -> None:
    """Set each room's y, from `top` on: its first cable straight where it can be, none on another's."""
    taken = sorted((*_band(port, True), id(port)) for port in before)
    bottom = top
    beside = {id(port) for port in before}
    for room in column:
        y = bottom
        for port in room.left:
            source = cable_of[id(port)].ports[0]
            if id(source) in beside:
                y = max(bottom, source.y - port.y)
                break
        y = _clear(room, y, taken, cable_of)
        room.y = y
        for port in (*room.left, *room.right):
            port.y += y
        for pin in room.pins:
            pin.y = y + HEADER + ROW * (pin.row + 0.5)
        for port in (*room.left, *room.right):
            for number, pin in enumerate(port.pins):
                pin.wall_y = port.y + (number - (len(port.pins) - 1) / 2) * CORE
        bottom = y + room.height + GAP


def _clear(room: Room, y: float, taken: list[tuple[float, float, int]], cable_of: dict[int, Cable]) -> float:
    """The first height at or below y where no left port of the room meets another cable's height."""
    while True:
        needed = 0.0
        for port in room.left:
            low, high = _band(port, False)
            own = cable_of[id(port)].ports[0]
            for start, end, other in taken:
                if start >= high + y:
                    break
                if end <= low + y or (other == id(own) and abs(own.y - port.y - y) < 1e-6):
                    continue
                needed = max(needed, end - low - y)
        if needed == 0.0:
            return y
        y += needed


def _channel(x: float, ports: list[Port], cable_of: dict[int, Cable], words: dict[str, float]) -> float:
    """Give the cables that leave a column to its right their tracks; return where the next column begins."""
    if not ports:
        return x
    cables = _each(ports, cable_of)
    track = x + max(words[cable.bundle.name] for cable in cables) + LEAD
    bent = [cable for cable in cables if not _straight(cable)]
    for cable in sorted(bent, key=_turn):
        track += cable.half + 3
        cable.track = track
        track += cable.half + 3
    return track + LEAD


def _straight(cable: Cable) -> bool:
    one, other = cable.ports
    return one.left != other.left and not cable.turns and abs(one.y - other.y) < 1e-6


def _turn(cable: Cable) -> tuple[int, float]:
    """Ways down: the lowest turns first; ways up: the uppermost; ways back to their side: the shortest."""
    one, other = cable.ports
    if one.left == other.left:
        return (2, abs(one.y - other.y))
    return (0, -one.y) if cable.turns or other.y > one.y else (1, one.y)


def _end_path(cable: Cable) -> None:
    one, other = cable.ports
    start = (one.room.x + one.room.width, one.y)
    end = (other.room.x + (0 if other.left else other.room.width), other.y)
    if cable.turns:
        down, back = (cable.track, cable.lane), (cable.margin, cable.lane)
        cable.path = [start, (cable.track, one.y), down, back, (cable.margin, other.y), end]
    elif _straight(cable):
        cable.path = [start, end]
    else:
        cable.path = [start, (cable.track, one.y), (cable.track, other.y), end]


def beside(path: list[tuple[float, float]], shift: float) -> list[tuple[float, float]]:
    """A line of level and upright pieces that runs `shift` to the right of another, as one walks along it.

    >>> beside([(0, 0), (10, 0), (10, 9)], 2)
    [(0.0, 2), (8, 2), (8, 9.0)]
    """
    moved = []
    for place, (x, y) in enumerate(path):
        dx = dy = 0.0
        for (x0, y0), (x1, y1) in pairwise(path[max(place - 1, 0) : place + 2]):
            if y0 == y1:
                dy = shift if x1 > x0 else -shift
            else:
                dx = -shift if y1 > y0 else shift
        moved.append((x + dx, y + dy))
    return moved

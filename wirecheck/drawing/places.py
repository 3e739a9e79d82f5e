"""Where everything of a wiring diagram stands, so that its rules hold by construction.

Inside a room the conductors come in on rows, one conductor a row, and come
down onto the screws in columns, one tail a column. A row is shared only by
two conductors of one splice; any others of the two sides are half a row apart.
So two wires never lie on one another: they meet in a splice's dot, or they
cross. Devices stand below all rows, and a wire comes down only onto its own
screw, so none runs through a device. Where a box has many devices, the first
of them stand over all rows, with their screws on their lower edge, and each
column is one device's, over the rows or under them. What joins screws lies level
between these and the rows, as `levels.py` says.

A wire that stays in its room has one row for both its ends, and runs level from the one to the other.

Between two columns of rooms each cable has a height of its own at either wall
and a track of its own between. Where the columns take more than one band, the
next band runs back under the last one, so that no cable goes around the page:
it turns once beside the two, folded over, and its wires come out in their order.
"""

from __future__ import annotations

import math
from collections.abc import Generator, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from wirecheck.drawing.letters import text_width
from wirecheck.drawing.levels import Level, height_of, heights
from wirecheck.drawing.rooms import Body, Bundle, Pin, Port, Room, Slot, Splice, Tail

ROW = 18.0
CORE = 6.0
FAN = 15.0
HEADER = 25.0
SMALL = 8.5
MARGIN = 18.0
"""Around a drawing, in points."""
PADDING = 11.0
COLUMN_GAP = 10.0
SCREW = 10.0
TAIL = 7.0
FLAG = 13.0
FLAG_BESIDE = 10.5
FLAGGED = 10.0
"""From the labels of a side to the first column: with what is free there, as much as a flag takes."""
BEFORE = 10.0
"""From the rows of wires to where they meet the screws."""
CLOSE, NEXT = 4.8, 4.4
"""How far at least two wires on one screw are from one another, and the columns of two devices."""
KEPT_OFF = 26.0
"""How far the dot of a splice is from a wire that crosses one of its wires, where it is free to be."""
OVER = 3
"""How many wires each screw has room for."""
END = 17.5
"""How far a screw is at least from its device's side, so that the volts at it stand in the device."""
BAR_CLEAR, SCREW_CLEAR = 23.0, 18.4
"""How wide the column of a bar or a screw is beyond its wires: so wide that a flag stands beside these."""
BAND = 16.0
LEG = 13.0
BAR_LEAD = 10.0
"""How much of its bar the lead of a breaker takes, and how far under the next one it runs."""
OPEN = 30.0
"""How far from its other end a wire that stays in its room is open."""
LABEL_LINE = 10.5
LABEL_AT = 7.0
"""How far behind the bend of its wire a label begins, so that what glows around the wire is clear of it."""
OVER_WIRE = 8.6
"""How far over its wire the middle of a word is."""


@dataclass(eq=False)
class Cable:
    """A bundle's way between its rooms: the middle line of its jacket."""

    bundle: Bundle
    ports: tuple[Port, Port]
    track: float = 0.0
    turns: bool = False

    @property
    def half(self) -> float:
        """Half the width of its jacket."""
        return half_width(self.bundle)

    @property
    def straight(self) -> bool:
        """Whether it runs level from wall to wall, or stays in its room."""
        one, other = self.ports
        return one.inner or (one.left != other.left and not self.turns and abs(one.y - other.y) < 1e-6)

    @property
    def path(self) -> list[tuple[float, float]]:
        """The middle line of its jacket, from wall to wall."""
        one, other = self.ports
        return [(one.wall, one.y), *self.between(0.0), (other.wall, other.y)]

    def between(self, shift: float) -> list[tuple[float, float]]:
        """Where a wire turns that is `shift` under the middle at either wall.

        A cable that comes back to its own side is folded over at its second turn.
        """
        if self.straight:
            return []
        one, other = self.ports
        inward = (other.y > one.y) != one.left
        x = self.track - shift if inward else self.track + shift
        return [(x, one.y + shift), (x, other.y + shift)]


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
        if pin.port.inner:
            continue
        width = end_width(words[pin.point], max(flags.get(pin.point, 0) - 1, 0))
        side = 0 if pin.left else 1
        widest[side] = max(widest[side], width)
    return widest[0], widest[1]


def end_width(label: EndLabel, flags: int) -> float:
    """How far a conductor's label, its band and its flags reach along its row."""
    return LABEL_AT + text_width(label.text, SMALL) + (BAND if label.marked else 0) + 3 + FLAG * flags


def set_rows(room: Room) -> None:
    """Give each conductor's end its row: those of one splice on opposite sides share one where they can.

    Any others on the right are half a row under those on the left, for words stand on neither's way.
    """
    group = {pin.point: number for number, splice in enumerate(room.splices) for pin in splice.pins}
    left = [pin for port in room.left for pin in port.pins]
    right = [pin for port in room.right for pin in port.pins]
    shared = _matches(left, right, group)
    last: dict[bool, Port] = {}

    def put(pin: Pin, row: float) -> float:
        """Put a conductor's end on that row or under it; the next row of its side."""
        before, half = last.get(pin.left), row % 1
        if before is not None and before.bundle is pin.port.bundle and pin.port.inner:
            row = before.row
        elif before is not None and before is not pin.port:
            next_one = before.inner and pin.port.inner
            row = max(row, before.row + (1 if next_one else 2))
            # What is half a row under the other side stays so: on a whole one a wire of that side may lie.
            row += half if row % 1 == 0 else 0
        pin.row = pin.port.row = row
        last[pin.left] = pin.port
        return row + 1

    row, i, j = 0.0, 0, 0
    for a, b in (*shared, (len(left), len(right))):
        here, there = row, row
        for pin in left[i:a]:
            here = put(pin, here)
        if here > row:
            there = row + 0.5
        for pin in right[j:b]:
            # The words of a wire that stays in the room may be anywhere over it.
            there = put(pin, max(there, here) if pin.port.inner else there)
        row = max(here, math.ceil(there)) if right[j:b] else here
        i, j = a, b
        if a < len(left):
            row = max(put(left[a], row), put(right[b], row))
            for pin in (left[a], right[b]):
                pin.row = pin.port.row = row - 1
            i, j = a + 1, b + 1
    for port in (*room.left, *room.right):
        if not port.pins:
            port.row = row + 1
            row += 2
    room.rows = math.ceil(row)


def _matches(left: list[Pin], right: list[Pin], group: dict[str, int]) -> list[tuple[int, int]]:
    """Pairs (left, right) of one splice, in order down both sides."""
    pairs: list[tuple[int, int]] = []
    taken: set[int] = set()
    start = 0
    for i, pin in enumerate(left):
        number = group.get(pin.point)
        if number is None or number in taken:
            continue
        right = [other for other in right if not other.port.inner]
        for j in range(start, min(len(right), start + 12)):
            if group.get(right[j].point) == number:
                pairs.append((i, j))
                taken.add(number)
                start = j + 1
                break
    return pairs


def score(tail: Tail, rows: int, over: bool = False) -> tuple[float, float]:
    """Where along the row of devices a tail would come down with the fewest crossings, from -1 to 1.

    From the left side the lowest row comes down first; from the right side the
    uppermost; what is spliced across comes between, the uppermost first. Onto a screw that is `over` the rows
    it comes the other way around.
    """
    pins = tail.splice.pins if tail.splice else [tail.pin] if tail.pin else []
    if not pins:
        return 0.0, -1
    sides = {pin.left for pin in pins}
    row = rows - 1 - min(pin.row for pin in pins) if over else max(pin.row for pin in pins)
    if len(sides) == 2:
        return 0.0, row
    return (row + 1) / (rows + 1) * (-1 if sides == {True} else 1), row


def order_tails(room: Room) -> None:
    """Set what comes down on one screw in the order of fewest crossings.

    Devices stand in the order of the board's lines, and screws in that of the part's, which is how they
    are seen from the front. So one part looks the same on every board, and wires that are exchanged show.
    """
    for body in room.bodies:
        for slot in body.slots:
            slot.tails.sort(key=lambda tail: score(tail, room.rows, slot.over))


def set_columns(
    room: Room,
    labels: tuple[float, float],
    body_size: dict[str, tuple[float, float]],
    title: float,
) -> None:
    """Give every tail, screw, splice and device its x from the room's left wall, and the room its size."""
    x = FAN + labels[0] + FLAGGED if room.left else PADDING + 4
    loose = [splice for splice in room.splices if not splice.tails]
    for splice in loose:
        if any(pin.left for pin in splice.pins):
            splice.x = x + TAIL
            x += 2 * TAIL
    x += 4
    under, over = ([body for body in room.bodies if body.over == side] for side in (False, True))
    ends = _set_rows(_row(row, x, body_size, room.cables) for row in (under, over))
    edge, x = (max(each) for each in zip(*ends, strict=True))
    _order_jumpers(room)
    for splice in loose:
        if not any(pin.left for pin in splice.pins):
            splice.x = x + TAIL
            x += 2 * TAIL
    for splice in room.splices:
        if splice.tails:
            # Its wires go down to the first screw that they come to, and cross nothing beyond that.
            from_right = not any(pin.left for pin in splice.pins)
            splice.tails.sort(key=lambda tail: tail.x, reverse=from_right)
            splice.x = splice.tails[0].x
    for splice in loose:
        _keep_off(room, splice, x)
    x += FAN + labels[1] + FLAGGED if room.right else PADDING
    room.width = max(x, edge + PADDING, title)
    _set_ends(room)
    _set_heights(room)


def _keep_off(room: Room, splice: Splice, end: float) -> None:
    """Move the dot of two wires that go on level away from any wire that crosses them close by.

    So near it would read as the dot of what crosses. `end` is where the last column ends.
    """
    row = splice.pins[0].row
    crossing = sorted(_crossing(room, row))
    if any(pin.row != row for pin in splice.pins) or all(abs(x - splice.x) >= KEPT_OFF for x in crossing):
        return
    gaps = list(pairwise([splice.x - KEPT_OFF, *crossing, end + KEPT_OFF]))
    clear = [(a + KEPT_OFF, b - KEPT_OFF) for a, b in gaps if b - a >= 2 * KEPT_OFF]
    places = [min(max(splice.x, a), b) for a, b in clear]
    widest = max(gaps[1:-1] or gaps, key=lambda gap: gap[1] - gap[0])
    splice.x = min(places, key=lambda x: abs(x - splice.x), default=sum(widest) / 2)


def _crossing(room: Room, row: float) -> Iterator[float]:
    """Where upright wires cross a row."""
    for tail in room.direct:
        if tail.pin is not None and (tail.pin.row > row if tail.slot.over else tail.pin.row < row):
            yield tail.x
    for splice in room.splices:
        ends = [pin.row for pin in splice.pins]
        ends += [-math.inf if tail.slot.over else math.inf for tail in splice.tails]
        if splice.pins and min(ends) < row < max(ends):
            yield splice.x
    for tails in (*(splice.tails for splice in room.splices), *room.jumpers):
        # What joins screws over the rows to those under them runs level under the rows.
        if not all(tail.slot.over for tail in tails):
            yield from (tail.x for tail in tails if tail.slot.over)


Row = Generator[tuple[float, float], float, tuple[float, float]]
"""Sets devices side by side: asks where each column is, and tells where the last device and column end."""


def _set_rows(rows: Iterable[Row]) -> list[tuple[float, float]]:
    """Set two rows of devices at a time, from the left, so that none of their columns are the same.

    Returns
    -------
    Of each row where its last device ends, and where its last column does.
    """
    ends: list[tuple[float, float]] = []
    asked: dict[Row, tuple[float, float]] = {}
    taken: dict[Row, float] = {}

    def place(row: Row) -> float:
        x, half = asked[row]
        return max([x, *(end + half + NEXT for other, end in taken.items() if other is not row)])

    def ask(row: Row, x: float | None) -> None:
        try:
            asked[row] = row.send(x) if x is not None else next(row)
        except StopIteration as told:
            ends.append(told.value)
            asked.pop(row, None)

    for row in rows:
        ask(row, None)
    while asked:
        row = min(asked, key=place)
        x = place(row)
        taken[row] = x + asked[row][1]
        ask(row, x)
    return ends


def _row(bodies: list[Body], x: float, sizes: dict[str, tuple[float, float]], cables: int) -> Row:
    """Set devices side by side from x on, with their screws and what comes down on them.

    Each column is asked for by the least x of its middle, and half its width.
    """
    for body in bodies:
        least, body.height = sizes[body.name]
        ends = [max(0.0, END - slot.width / 2) for slot in (*body.slots[:1], *body.slots[-1:])] or [0.0, 0.0]
        wide = sum(slot.width for slot in body.slots) + sum(ends)
        spare = (max(least, wide) - wide) / max(len(body.slots), 1)
        if body is bodies[0] and body.slots:
            # Wires come down right of the labels, and what of the device is left of them is under these.
            first = body.slots[0]
            x = max(x - ends[0] - (first.width + spare) / 2 + half_column(first, cables), PADDING)
        x += BAR_LEAD * sum(slot.leads for slot in body.slots)
        body.x = x
        at = x + ends[0]
        for slot in body.slots:
            slot.x = yield at + (slot.width + spare) / 2, half_column(slot, cables, OVER)
            at = slot.x + (slot.width + spare) / 2
            middle = (len(slot.tails) - 1) / 2
            for number, tail in enumerate(slot.tails):
                tail.x = slot.x + (number - middle) * _apart(slot, len(slot.tails))
        body.width = max(least, at + ends[1] - x)
        x += body.width + COLUMN_GAP
    edge = x - COLUMN_GAP
    if bodies and bodies[-1].slots:
        last = bodies[-1].slots[-1]
        x = last.x + half_column(last, cables) + COLUMN_GAP
    return edge, x


def _order_jumpers(room: Room) -> None:
    """Set the jumpers on a screw on that side of its wires where each leads: so that they cross seldom."""
    ends = {id(one): other for pair in room.jumpers for one, other in (pair, pair[::-1])}
    for row in (splice.tails for splice in room.splices if not splice.pins):
        left, right = (end(row, key=lambda tail: tail.x) for end in (min, max))
        ends |= {id(one): left if one.x - left.x > right.x - one.x else right for one in row}
    for body in room.bodies:
        for slot in body.slots:
            if any(id(tail) in ends for tail in slot.tails):
                places = [tail.x for tail in slot.tails]
                slot.tails.sort(key=lambda tail: _toward(tail, ends.get(id(tail)), room.rows))
                for tail, x in zip(slot.tails, places, strict=True):
                    tail.x = x


def _toward(tail: Tail, other: Tail | None, rows: int) -> tuple[float, float, float]:
    """Where along its screw a tail comes down with the fewest crossings; `other` is its jumper's other end.

    One that turns back to its own side stays close by its screws, under all that goes on from there. Wires
    from the sides turn to their rows, which are beyond what leads from devices over them to those under them.
    """
    if other is None:
        side, row = score(tail, rows, tail.slot.over)
        return (0.0, side, row) if not tail.slot.over or not side else (math.copysign(1.5, side), side, row)
    far = other.slot.x - tail.slot.x
    way = math.copysign(1.0, far)
    if other.slot.over == tail.slot.over:
        return 2 * way, -far, 0.0
    return (0.0 if tail.slot.over else way), far, 0.0


def _set_heights(room: Room) -> None:
    """Give the room its height, and what runs level in it, beside the wires that come in, a row each.

    What leads to nothing but screws over the rows runs over them, all else under them.
    """
    splices = [splice for splice in room.splices if len(splice.tails) > 1]
    levels = [_level(splice.tails, splice.x if splice.pins else None) for splice in splices]
    levels += [_level(ends) for ends in room.jumpers]
    over = [
        number
        for number, ends in enumerate([*(splice.tails for splice in splices), *room.jumpers])
        if all(tail.slot.over for tail in ends)
    ]
    under = [number for number in range(len(levels)) if number not in over]
    room.first = HEADER
    tall = [body.height for body in room.bodies if body.over]
    if tall:
        room.ceiling = HEADER + max(tall) + SCREW / 2
        room.first = room.ceiling + BEFORE + height_of(len(over))
    low = room.first + ROW * room.rows
    at = dict(zip(over, heights([levels[n] for n in over], room.ceiling + BEFORE, True), strict=True))
    at |= zip(under, heights([levels[n] for n in under], low, False), strict=True)
    for number, splice in enumerate(splices):
        splice.link_y = at[number]
    room.jumper_at = [at[number] for number in range(len(splices), len(levels))]
    room.floor = low + height_of(len(under)) + BEFORE
    room.height = room.floor + max((body.height for body in room.bodies if not body.over), default=0.0)
    room.height += PADDING + LEG * (len(room.legs) + bool(room.leads))
    room.height += BAR_LEAD * max(len(room.leads) - 1, 0)


def _level(ends: Sequence[Tail], trunk: float | None = None) -> Level:
    """What joins some screws; `trunk` is where it meets the wires of its splice, which lie in the rows."""
    up, down = (tuple(tail.x for tail in ends if tail.slot.over == side) for side in (True, False))
    if trunk is None:
        return Level(up, down)
    return Level((trunk, *up), down) if down else Level(up, (trunk,))


def _set_ends(room: Room) -> None:
    """Give each end of a wire that stays in the room its place along its row.

    One that is joined to nothing is open a little right of the other, or right of all that comes down.
    """
    at = {id(tail.pin): tail.x for tail in room.direct}
    at |= {id(pin): splice.x for splice in room.splices for pin in splice.pins}
    for pair in room.inner:
        pins = [pin for port in pair for pin in port.pins]
        x = max((at[id(pin)] for pin in pins if id(pin) in at), default=room.width / 2)
        for pin in pins:
            if id(pin) not in at:
                x += OPEN
            pin.end = at.get(id(pin), x)


def _apart(slot: Slot, count: int) -> float:
    """How far so many wires that come down on a screw are from one another."""
    if slot.bar:
        return SCREW + 4
    return min(CORE + 1, (slot.width - SCREW_CLEAR) / max(count - 1, 1))


def half_column(slot: Slot, cables: int, least: int = 2) -> float:
    """How far the wires that come down on a screw, so many at least, are from its middle."""
    count = max(len(slot.tails), cables if slot.bar else least)
    return _apart(slot, count) * (count - 1) / 2


def slot_width(slot: Slot, words: float, flags: int, cables: int) -> float:
    """How wide a screw's column is: its label, what comes down on it, its flags.

    A bar has room for a wire of each cable, and a screw for several wires. So one that is left off or put
    elsewhere moves nothing.
    """
    if slot.bar:
        reach = (SCREW + 4) * (max(len(slot.tails), cables) - 1)
        wires = reach + BAR_CLEAR
    else:
        count = max(len(slot.tails), OVER) - 1
        wires = CLOSE * count + SCREW_CLEAR
        # In a wide column its wires stand as far apart as they do at a wall.
        reach = (CORE + 1) * count
    # The first flag stands in what is free between two screws, whether there is one or not.
    flagged = reach + 2 * (FLAG_BESIDE - 3 + FLAG * max(flags - 1, 0)) if flags > 1 else 0.0
    return max(words + 8, wires, flagged, 24)


# ------------------------------------------------------------------ columns


Box = tuple[float, float, float, float]
"""Left, upper, right and lower edge."""
GAP = 20.0
LEAD = 10.0
NEARLY, HALF = 0.85, 0.5
"""How much of its share of the width fills a band."""
LIFTED = 22.0
"""How much lower than those beside it a room may be for its frame to begin with theirs."""


def place_rooms(rooms: list[Room], words: dict[str, float], bands: list[list[list[Room]]]) -> list[Cable]:
    """Stack the rooms of each column, and give each cable its way.

    Parameters
    ----------
    rooms : with their sizes, those of the bands that run back turned.
    words : how wide the label of each bundle is, by the bundle's name.
    bands : the columns, band by band, as `fold` gives them; every other band runs back, from right to left.

    Returns
    -------
    Every cable, with where it turns.
    """
    for room in rooms:
        for port in (*room.left, *room.right):
            rows = [pin.row for pin in port.pins] or [port.row]
            port.y = room.first + ROW * (min(rows) + max(rows) + 1) / 2
    cables = _cables(rooms)
    cable_of = {id(port): cable for cable in cables for port in cable.ports}
    band_of = {room.name: number for number, band in enumerate(bands) for column in band for room in column}
    for cable in cables:
        cable.turns = band_of[cable.ports[0].room.name] != band_of[cable.ports[1].room.name]
    reach = [_along(band, cable_of, words) for band in bands]
    top = start = 0.0
    over: list[Box] = []
    for number, band in enumerate(bands):
        here = [room for column in band for room in column]
        _set_down(band, top)
        way = -1 if runs_back(bands, number) else 1
        for room in here:
            room.x = start + way * room.x - (room.width if way < 0 else 0.0)
        for cable in _each([port for room in here for port in room.away], cable_of):
            cable.track = start + way * cable.track
        _raise(band, over, list(_boxes(here, cable_of, words)))
        over += _boxes(here, cable_of, words)
        over.append(_whole(band[-1]))
        # The next band begins under the end of this one; a longer one under the labels of the cables, too.
        length, free = reach[number]
        longer = reach[number + 1][0] - length if number + 1 < len(bands) else 0.0
        start += way * (length + min(max(longer, 0.0), free))
        top = max([top, *(room.y + room.height + GAP for room in here)])
    _shift_right(rooms, cables)
    return cables


def _along(
    band: list[list[Room]], cable_of: dict[int, Cable], words: dict[str, float]
) -> tuple[float, float]:
    """Set the rooms of a band from where the power comes to where it goes.

    Returns
    -------
    How long the band is, and how wide the labels of the cables that go on are.
    """
    x = 0.0
    before: list[Port] = []
    last: list[Room] = []
    for column in band:
        _stack(column, before, cable_of)
        _straighten(last, max(room.y + room.height for room in column), cable_of)
        last = column
        x = _channel(x, before, cable_of, words)
        for room in column:
            room.x = x
        x += max(room.width for room in column)
        before = [port for room in column for port in room.away]
    _channel(x, before, cable_of, words)
    return x, max((words[port.bundle.name] for port in before), default=0.0)


def _set_down(band: list[list[Room]], top: float) -> None:
    """Set the rooms of a band under what is over it."""
    lowered = top - min(room.y for column in band for room in column)
    for column in band:
        for room in column:
            _lower(room, lowered)
            # In another order of the rooms it may have been the uppermost.
            room.lift = 0.0
        column[0].lift = column[0].y - top if column[0].y - top <= LIFTED else 0.0


def _boxes(here: list[Room], cable_of: dict[int, Cable], words: dict[str, float]) -> Iterator[Box]:
    """What rooms of a band take, and the cables from one to another of these, with the labels of all."""
    for room in here:
        yield room.x, room.y - room.lift, room.x + room.width, room.y + room.height
    names = {room.name for room in here}
    for cable in _each([port for room in here for port in (*room.left, *room.right)], cable_of):
        one, other = cable.ports
        if one.inner:
            continue
        if one.room.name in names:
            wide = words[cable.bundle.name]
            high = cable.half + 6 + LABEL_LINE * len(cable.bundle.words)
            yield (
                one.wall - (wide if one.left else 0),
                one.y - high,
                one.wall + (0 if one.left else wide),
                one.y,
            )
        for (x0, y0), (x1, y1) in pairwise(cable.path if one.room.name in names else ()):
            if other.room.name in names or y0 == y1 == one.y:
                half = cable.half + 1
                yield min(x0, x1) - half, min(y0, y1) - half, max(x0, x1) + half, max(y0, y1) + half


def _whole(column: list[Room]) -> Box:
    """What a column takes, as wide as the widest of its rooms: what it goes on to is under all of it."""
    right = max(room.x + room.width for room in column)
    return min(room.x for room in column), column[0].y, right, column[-1].y + column[-1].height


def _raise(band: list[list[Room]], over: list[Box], boxes: list[Box]) -> None:
    """Set a band as high as what is over it lets it be."""
    free = [
        box[1] - other[3] - GAP
        for box in boxes
        for other in over
        if box[0] - GAP < other[2] and other[0] < box[2] + GAP
    ]
    for room in (room for column in band for room in column) if free else ():
        _lower(room, -min(free))


def turn_back(room: Room) -> None:
    """Turn a room by half a turn, into a band that runs the other way or out of it."""
    room.turned = not room.turned
    inner = [port for pair in room.inner for port in pair]
    room.left, room.right = [port for port in room.right[::-1] if not port.inner], room.left[::-1]
    for port in (*room.left, *room.right):
        port.left = not port.left
    room.right += inner


def _shift_right(rooms: list[Room], cables: list[Cable]) -> None:
    """Move everything so that the leftmost of it is at nothing."""
    reach = [room.x for room in rooms]
    reach += [cable.track - cable.half for cable in cables if not cable.straight]
    least = min(reach, default=0.0)
    for room in rooms:
        room.x -= least
    for cable in cables:
        cable.track -= least


def fold(columns: list[list[Room]], bands: int, filled: float = NEARLY) -> list[list[list[Room]]]:
    """The columns in bands of about one width, in order; every other one runs back, and is upside down.

    Parameters
    ----------
    filled : how much of its share of the width fills a band. With much the first ones are rather too wide:
        so the panel begins at the left. With little they are rather too narrow.
    """
    widths = [max(room.width for room in column) + 90 for column in columns]
    limit = sum(widths) / max(bands, 1)
    folded: list[list[list[Room]]] = []
    reached = 0.0
    for column, width in zip(columns, widths, strict=True):
        full = len(folded) < bands and reached > filled * limit * len(folded)
        if not folded or full:
            folded.append([])
        folded[-1].append(column)
        reached += width
    return [
        [column[::-1] for column in band] if runs_back(folded, number) else band
        for number, band in enumerate(folded)
    ]


def runs_back(bands: list[list[list[Room]]], number: int) -> bool:
    """Whether a band runs from right to left: every other one, the first where a panel stands alone in it."""
    alone = len(bands) > 1 and len(bands[0]) == 1
    return (number % 2 == 1) != alone


def _each(ports: list[Port], cable_of: dict[int, Cable]) -> list[Cable]:
    """The cables of some ports, each once, in order."""
    return list({id(cable): cable for port in ports for cable in (cable_of[id(port)],)}.values())


def _cables(rooms: list[Room]) -> list[Cable]:
    ports: dict[int, list[Port]] = {}
    for room in rooms:
        for port in (*room.left, *room.right):
            ports.setdefault(id(port.bundle), []).append(port)
    cables = []
    for pair in ports.values():
        one, other = pair
        cables.append(
            Cable(one.bundle, (other, one) if one.left != one.room.turned and not one.inner else (one, other))
        )
    return cables


def _band(port: Port, words: bool) -> tuple[float, float]:
    half = half_width(port.bundle) + 3
    return port.y - half - (LABEL_LINE * len(port.bundle.words) if words else 0), port.y + half


def _stack(column: list[Room], before: list[Port], cable_of: dict[int, Cable]) -> None:
    """Set each room's y: its first cable straight where it can be, none on another's."""
    taken = sorted((*_band(port, True), id(port)) for port in before)
    bottom: float | None = None
    beside = {id(port) for port in before}
    for room in column:
        y = bottom or 0.0
        for port in room.toward:
            source = cable_of[id(port)].ports[0]
            if id(source) in beside:
                y = source.y - port.y if bottom is None else max(bottom, source.y - port.y)
                break
        _lower(room, _clear(room, y, taken, cable_of))
        for port in (*room.left, *room.right):
            for pin in port.pins:
                pin.y = room.y + room.first + ROW * (pin.row + 0.5)
            for number, pin in enumerate(port.pins):
                pin.wall_y = port.y + (number - (len(port.pins) - 1) / 2) * CORE
        bottom = room.y + room.height + GAP


def _straighten(column: list[Room], bottom: float, cable_of: dict[int, Cable]) -> None:
    """Lower each room that has one cable to where this runs straight, if there is room for that under it."""
    for room in column[::-1]:
        if len(room.away) == 1 and not room.toward:
            by = cable_of[id(room.away[0])].ports[1].y - room.away[0].y
            if 0.0 < by <= bottom - room.y - room.height:
                _lower(room, by)
        bottom = room.y - GAP


def _lower(room: Room, by: float) -> None:
    """Move a room down, with all that comes in."""
    room.y += by
    for port in (*room.left, *room.right):
        port.y += by
        for pin in port.pins:
            pin.y += by
            pin.wall_y += by


def _clear(room: Room, y: float, taken: list[tuple[float, float, int]], cable_of: dict[int, Cable]) -> float:
    """The first height at or below y where no port of the room meets another cable's height."""
    while True:
        needed = 0.0
        for port in room.toward:
            low, high = _band(port, False)
            own = cable_of[id(port)].ports[0]
            for start, end, other in taken:
                if start >= high + y:
                    break
                if end <= low + y or other == id(own):
                    continue
                needed = max(needed, end - low - y)
        if needed == 0.0:
            return y
        y += needed


def _channel(x: float, ports: list[Port], cable_of: dict[int, Cable], words: dict[str, float]) -> float:
    """Give the cables that go on from a column their tracks; return where the next column begins."""
    if not ports:
        return x
    cables = _each(ports, cable_of)
    track = x + max(words[cable.bundle.name] for cable in cables) + LEAD
    bent = [cable for cable in cables if not cable.straight]
    for cable in sorted(bent, key=_turn):
        track += cable.half + 3
        cable.track = track
        track += cable.half + 3
    return track + LEAD


def _turn(cable: Cable) -> tuple[int, float]:
    """Ways down: the lowest turns first; ways up: the uppermost; ways back to their side: the shortest."""
    one, other = cable.ports
    if one.left == other.left and not cable.turns:
        return (2, abs(one.y - other.y))
    return (0, -one.y) if cable.turns or other.y > one.y else (1, one.y)

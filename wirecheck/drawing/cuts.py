"""Where a drawing is cut that takes several sheets of paper: where the least is in the way.

A drawing has a head, which is on the first sheet alone, and a key of what is on each, at its foot where there
is room; what is between them is cut.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from functools import cache
from itertools import accumulate, pairwise, product
from math import log
from typing import NamedTuple

from wirecheck.drawing.area import LEAST_ON_PAPER, Area
from wirecheck.drawing.boxes import Box, extent, frame_box, line_box, mark_box
from wirecheck.drawing.colors import INSULATION, LIVE, UNTOLD
from wirecheck.drawing.foot import Foot, without_key
from wirecheck.drawing.key import PAINTED
from wirecheck.drawing.letters import SMALLEST
from wirecheck.drawing.places import OVER_WIRE
from wirecheck.drawing.render import Size, size_of
from wirecheck.drawing.sheet import Line, Sheet, Spot, Words

CLEAR, TIGHT = 18.0, 12.0
"""What a sheet keeps clear at its edges, in points: many a printer leaves them blank (common practice).
And what it keeps where it takes more sheets otherwise."""
OWN = 25.0
"""What a drawing keeps clear itself at the least scale, at two edges together."""
MARKED, FOOT = 20.0, 10.0
"""What it keeps beyond a cut, for the marks of what goes on there, and for what is said at its foot."""
SCALES = 8
"""At how many scales it is tried where to cut."""
MOST = 4
"""The most sheets beside one another, and below one another."""
STEP = 2.0
TOO_FEW = 2.0
"""How many times as many sheets as there are a drawing fills, that it is not laid out for them."""
WHOLE = 1
"""How many more sheets than the fewest a drawing may take so that none of its devices is cut and nothing is
parted."""
OVER_WIRES = frozenset(("label end", "label within"))
"""The words that stand over the wire whose color they tell."""
HEADS = ("board-title", "board-title-2", "kind", "state")

# What is in the way of a cut. To cut one wire more is worth a hundredth of the scale,
# and one rung, whose contacts and load are then on two sheets, a tenth.
WIRE, RUNG = 1.0, 10.0
ALONG, BESIDE = 25.0, 7.0
"""To cut beside a wire, nearer to it than BESIDE, and so to halve it or to part it from its words."""
SLANT = 15.0
"""To cut a wire where it leaves its cable, and stands no more in the cable's order."""
WORDS, SIGN, DEVICE = 40.0, 40.0, 50_000.0
ROOM, RIM, RIM_WIDE = 15.0, 200.0, 30.0
"""To cut a room, and so near to its edge that only a sliver of it is on the other sheet."""
NEAR, SCREWS = 25.0, 15.0
"""How near to a device a cut parts its screws from all of their wires, and what that costs."""
AT_SCREW = 8.0
"""So near to a screw no wire goes through a cut: it ends there."""
PARTED = 1_000.0
"""To part what says nothing by itself from the rest: a color's word from its wire, a breaker from its bus,
a contact from its name, and screws from their wires where no strip is let in."""
STRIP, STRIPLESS = 20.0, 30.0
"""How much is let in at a cut, on either sheet, so that what goes through it has a straight piece on both,
and what it costs that there is no room for it."""
HEADING, NAMED = 200.0, 55.0
"""To part a ladder's heading from its rungs, and how far below its upper edge they begin."""
KEYLESS = 10.0
"""To leave no room for the key on a sheet, so that another has it."""
CRAMPED = 150.0
"""To keep no more clear at the edges than is tight."""
SCANT, EMPTY = 0.5, 60.0
"""With less than this of its share a sheet is nearly empty; what that costs."""
HANGS, TORN = 20.0, 1_000_000.0
"""How far words may hang over a cut, and what it costs that they hang over farther: more than all else."""
WIRES = frozenset(
    (*map(" ".join, product(PAINTED, (*INSULATION, UNTOLD))), "leg a", "leg b", "leg c", "bond")
)
LADDER = frozenset(("wire", "rail", "lead", "interconnect"))
LIVES = frozenset(f"live {level}" for level in LIVE)
SHEATHS = ("jacket cable", "jacket raceway")
SIGNS = frozenset(("sign contact", "sign contact upright", "sign load"))
_PART = re.compile(r"\.(?:letter|(?:name|stroke|words)-\d+)$")
"""What a part of a sign of a ladder is called, behind the name of the sign."""
NOTHING = frozenset((*SHEATHS, "ticks", "casing", "link", "flow", "flow again", "gap", "inline"))
"""Kinds of lines that are no matter, as what they belong to is cut with them or they are mere dashes."""


class Cut(NamedTuple):
    """How a drawing is laid on paper: the size of a sheet, the scale, where it is cut, and that cost."""

    size: tuple[float, float]
    scale: float
    across: tuple[float, ...]
    down: tuple[float, ...]
    cost: float = 0.0
    clear: float = CLEAR
    strips: tuple[tuple[float, ...], tuple[float, ...]] = ((), ())
    """How much is let in on each sheet at each of its cuts, across and down."""

    @property
    def sheets(self) -> int:
        """How many sheets it takes."""
        return (len(self.across) - 1) * (len(self.down) - 1)

    @property
    def numbers(self) -> dict[tuple[int, int], int]:
        """The number of each sheet, by how many are on its left and how many above it."""
        places = product(range(len(self.down) - 1), range(len(self.across) - 1))
        return {(x, y): number for number, (y, x) in enumerate(places, 1)}

    @property
    def score(self) -> float:
        """The less the better: of two layouts for as few sheets, a bit larger is worth a wire cut more."""
        return (self.cost % PARTED + CRAMPED * (self.clear == TIGHT)) / 100 - log(self.scale)

    @property
    def parted(self) -> int:
        """How often it parts what says nothing by itself from the rest."""
        return int(self.cost // PARTED)


def laid_out(lay: Callable[[Area], Sheet], page: str | Size) -> Sheet:
    """The readable layout that takes the fewest sheets, one more where only then all is whole.

    Of those, the one that is cut best, and large.

    It is tried for each way in which so many sheets can lie, upright or not, beside or under one another.

    Parameters
    ----------
    lay : gives the drawing laid out for an area.
    page : as in `wirecheck.drawing.paper.on_paper`.
    """
    best: tuple[tuple[bool, int, int, int, float], Sheet] | None = None
    ways = _ways(page, _clears(page)[0])
    for sheets in (1, 2, 3, 4):
        if best is not None and _fewest(best[1], page) > TOO_FEW * sheets:
            continue  # No layout of it is half as small: each takes as long as a picture.
        for way in sorted((way for way in ways if way.sheets == sheets), key=lambda way: way.counts):
            sheet = lay(Area(*way.whole, LEAST_ON_PAPER / SMALLEST))
            cut = cut_for(sheet, page)
            small = cut.scale * smallest(sheet) < LEAST_ON_PAPER - 0.01
            torn = len(list(devices_cut(sheet, cut)))
            rank = (small, cut.sheets + WHOLE * bool(torn or cut.parted), torn, cut.parted, cut.score)
            if best is None or rank < best[0]:
                best = (rank, sheet)
        if best is not None and not best[0][0] and best[0][1] <= sheets:
            break
    assert best is not None
    return best[1]


def _fewest(sheet: Sheet, page: str | Size) -> float:
    """How many sheets a drawing would fill at the least scale at which it is readable, with no room lost."""
    wide, high = size_of(page)
    return sheet.width * sheet.height * _least_scale(sheet) ** 2 / (wide * high)


def _clears(page: str | Size) -> tuple[float, ...]:
    """What may be kept clear at the edges: a room on a page has the page's margin around it.

    >>> _clears("letter"), _clears((720.0, 540.0))
    ((18.0, 12.0), (2.0,))
    """
    return (CLEAR, TIGHT) if isinstance(page, str) else (2.0,)


class _Way(NamedTuple):
    """Sheets of a size that lie so many beside and so many under one another."""

    size: tuple[float, float]
    counts: tuple[int, int]
    clear: float

    @property
    def sheets(self) -> int:
        return self.counts[0] * self.counts[1]

    @property
    def room(self) -> tuple[float, float]:
        """What a sheet has for its piece of a drawing and for the key."""
        marks = [MARKED * min(count - 1, 2) for count in self.counts]
        foot = FOOT if self.sheets > 1 else 0.0
        return self.size[0] - 2 * self.clear - marks[0], self.size[1] - 2 * self.clear - marks[1] - foot

    @property
    def whole(self) -> tuple[float, float]:
        """What all of them have together, with what a drawing keeps clear itself."""
        return self.room[0] * self.counts[0] + OWN, self.room[1] * self.counts[1] + OWN


def _ways(page: str | Size, clear: float) -> list[_Way]:
    """Every way in which sheets can lie, up to the most that there are."""
    long, short = size_of(page)
    sizes, counts = ((long, short), (short, long)), range(1, MOST + 1)
    return [_Way(size, (across, down), clear) for size, across, down in product(sizes, counts, counts)]


def smallest(sheet: Sheet) -> float:
    """The size of its smallest words."""
    return min((mark.size for mark in sheet.marks if isinstance(mark, Words)), default=SMALLEST)


def _least_scale(sheet: Sheet) -> float:
    """The least scale at which its smallest words are read."""
    return LEAST_ON_PAPER / smallest(sheet)


def cut_for(sheet: Sheet, page: str | Size) -> Cut:
    """The fewest sheets of paper on which every word of a drawing is readable, and where it is cut.

    One sheet more, where only then no device is cut and nothing is parted.
    """
    sheet = sheet.laid_as or sheet
    least = _least_scale(sheet)
    ways = [way for clear in _clears(page) for way in _ways(page, clear)]
    box = extent(sheet)
    ones = [_on_one(box, way) for way in ways if way.sheets == 1]
    one = max(ones, key=lambda cut: (min(cut.scale, least), cut.clear, cut.scale))
    if one.scale > least - 1e-6:
        return one
    body, found = _Body(sheet), list[tuple[tuple[bool, int, bool, int, float], Cut]]()
    for way in sorted((way for way in ways if way.sheets > 1), key=lambda way: way.sheets):
        if found and way.sheets > min(cut.sheets for _, cut in found) + WHOLE:
            break
        for cut in body.cuts(way, least):
            devices = any(devices_cut(sheet, cut))
            sheets = cut.sheets + WHOLE * (devices or cut.parted > 0)
            rank = (cut.cost >= TORN, sheets, devices, cut.parted, cut.score)
            found.append((rank, cut))
    return min(found)[1] if found else one


def _on_one(box: Box, way: _Way) -> Cut:
    """What is in a box on one sheet."""
    left, right, top, bottom = box
    scale = min(way.room[0] / (right - left), way.room[1] / (bottom - top))
    return Cut(way.size, scale, (left, right), (top, bottom), clear=way.clear)


class _Body:
    """What of a drawing is cut, and what is in the way of a cut across it and down it."""

    def __init__(self, sheet: Sheet) -> None:
        # The same few widths are asked for again and again, and to set words in one takes long.
        self.foot_high, bare = cache(Foot(sheet).high), without_key(sheet)
        left, right, top, bottom = extent(bare)
        self.ends = ((left, right), (top, bottom))
        heads = [mark.x + mark.width / 2 for mark in sheet.marks if is_head(mark)]
        self.head = max([1.0, *(right - left for right in heads)])
        ways = [list(_in_the_way(bare, axis)) for axis in (0, 1)]
        self.costs = {
            strip: [_Costs([*ways[axis], *_screws(bare, axis, near)], self.ends[axis]) for axis in (0, 1)]
            for strip, near in ((STRIP, AT_SCREW), (0.0, NEAR))
        }

    def cuts(self, way: _Way, least: float) -> Iterator[Cut]:
        """The best cut for each of several scales, as large then as its pieces have room for.

        With room for the key on each sheet, and on the last ones alone; with room for strips, and without.
        """
        most = min(1.0, (way.size[0] - 2 * way.clear) / self.head)
        if most < least:
            return
        alike = way.counts[1] == 1 or not self.foot_high(way.size[0])
        ways = product((True,) if alike else (True, False), (STRIP, 0.0), range(SCALES))
        for keyed, strip, number in ways:
            scale = least * (most / least) ** (number / (SCALES - 1))
            rooms = self.rooms(way, scale, keyed, strip)
            if any(sum(room) < end - start for room, (start, end) in zip(rooms, self.ends, strict=True)):
                continue
            found = [costs.cut(room) for costs, room in zip(self.costs[strip], rooms, strict=True)]
            (across, cost), (down, more) = found
            while scale * 1.01 <= most and all(
                map(_have_room, (across, down), self.rooms(way, scale * 1.01, keyed, strip))
            ):
                scale *= 1.01
            cost += more + KEYLESS * (not keyed) + STRIPLESS * (not strip)
            wide, high = self.rooms(way, scale, keyed=True)
            strips = _strips(across, wide), _strips(down, high)
            yield Cut(way.size, scale, across, down, cost, way.clear, strips)

    def rooms(
        self, way: _Way, scale: float, keyed: bool, strip: float = 0.0
    ) -> tuple[list[float], list[float]]:
        """What each sheet has for its piece, across and down, in the drawing's own points."""
        wide, high = (room / scale for room in way.room)
        foot = self.foot_high((way.size[0] - 2 * way.clear) / scale)
        beside, under = map(_cuts_at, way.counts)
        feet = [foot * keyed] * (len(under) - 1) + [foot]
        return (
            [wide - strip * cuts for cuts in beside],
            [high - foot - strip * cuts for foot, cuts in zip(feet, under, strict=True)],
        )


def _cuts_at(count: int) -> list[int]:
    """At how many cuts each of so many sheets in a row lies.

    >>> _cuts_at(1), _cuts_at(2), _cuts_at(3)
    ([0], [1, 1], [1, 2, 1])
    """
    return [(number > 0) + (number < count - 1) for number in range(count)]


def _have_room(places: Sequence[float], rooms: Sequence[float]) -> bool:
    """Whether no piece between these places is longer than its room."""
    return all(end - start <= room for (start, end), room in zip(pairwise(places), rooms, strict=True))


def _strips(places: Sequence[float], rooms: Sequence[float]) -> tuple[float, ...]:
    """How much is let in on each sheet at each of its cuts: what its piece leaves of the room.

    >>> _strips([0, 60, 100], [90, 50]), _strips([0, 50], [90])
    ((20.0, 10.0), (0.0,))
    """
    pieces = [end - start for start, end in pairwise(places)]
    cuts = _cuts_at(len(pieces))
    return tuple(
        min(STRIP, max(room - piece, 0.0) / at) if at else 0.0
        for piece, room, at in zip(pieces, rooms, cuts, strict=True)
    )


class _Costs:
    """What it costs to cut a drawing at each place along an axis, with all that is in the way."""

    def __init__(self, ways: Sequence[tuple[float, float, float]], ends: tuple[float, float]) -> None:
        self.ends = ends
        self.start, end = ends
        steps = int((end - self.start) / STEP) + 2
        change = [0.0] * (steps + 1)
        for low, top, cost in ways:
            first = min(max(int((low - self.start) // STEP) + 1, 0), steps)
            last = min(max(int(-((self.start - top) // STEP)), first), steps)
            change[first] += cost
            change[last] -= cost
        self.at = list(accumulate(change))

    def cut(self, rooms: Sequence[float]) -> tuple[tuple[float, ...], float]:
        """Where it is cut into pieces, none longer than its room, and what that costs."""
        cuts, whole, end, count = [self.start], 0.0, self.ends[1], len(rooms)
        for number in range(1, count):
            low, high = max(cuts[-1], end - sum(rooms[number:])), min(cuts[-1] + rooms[number - 1], end)
            even = cuts[-1] + (end - cuts[-1]) / (count - number + 1)
            first, last = int(-((self.start - low) // STEP)), int((high - self.start) // STEP)
            costs = []
            for step in range(first, max(last, first) + 1):
                at = min(max(self.start + step * STEP, low), high)
                cost = self.at[min(step, len(self.at) - 1)]
                if min(at - cuts[-1], (end - at) / (count - number)) < SCANT * (even - cuts[-1]):
                    cost += EMPTY
                costs.append((round(cost, 3), abs(at - even), at))
            cost, _, at = min(costs)
            cuts.append(at)
            whole += cost
        return (*cuts, end), whole


def devices_cut(sheet: Sheet, cut: Cut) -> Iterator[str]:
    """The devices that a cut goes through."""
    for frame in sheet.frames:
        left, right, top, low = frame_box(frame)
        across = any(left < at < right for at in cut.across[1:-1])
        if frame.kind == "device" and (across or any(top < at < low for at in cut.down[1:-1])):
            yield frame.id


def _in_the_way(sheet: Sheet, axis: int) -> Iterator[tuple[float, float, float]]:
    """From where to where along an axis a cut would go through something, and how bad that is."""
    for mark in sheet.marks:
        if is_head(mark):
            continue
        start, end = mark_box(mark)[2 * axis : 2 * axis + 2]
        yield start - 2, end + 2, WORDS
        # Words are written whole on one sheet, that of their middle.
        if end - start > 2 * HANGS:
            yield start + HANGS, end - HANGS, TORN
        if axis and mark.kind == "heading":
            # On the sheet before, it and the names of the rails would have nothing below them.
            yield start - 5, start + NAMED, HEADING
        if axis and mark.kind in OVER_WIRES:
            yield start, mark.y + OVER_WIRE + 2, PARTED
    for frame in sheet.frames:
        start, end = frame_box(frame)[2 * axis : 2 * axis + 2]
        if frame.kind == "device":
            yield start - 2, end + 2, DEVICE
            yield start - NEAR, end + NEAR, SCREWS
        else:
            yield start - 2, end + 2, ROOM
            yield start - 3, start + RIM_WIDE, RIM
            yield end - RIM_WIDE, end + 3, RIM
    for start, end in _signs(sheet, axis):
        yield start - 1, end + 1, PARTED
    for line in sheet.lines:
        yield from _line_in_the_way(line, axis)


def _screws(sheet: Sheet, axis: int, near: float) -> Iterator[tuple[float, float, float]]:
    """Where a cut across the wires of screws is too near to them.

    Those of a device stand in a row: it parts all of them from their wires, or none.
    """
    for start, end in {mark_box(mark)[2:] for mark in sheet.marks if axis and mark.kind == "terminal"}:
        yield start - near, end + near, PARTED


def _signs(sheet: Sheet, axis: int) -> Iterator[tuple[float, float]]:
    """From where to where each sign of a ladder is, with its name and what is said of it."""
    boxes = defaultdict[str, list[Box]](list)
    for line in sheet.lines:
        if line.kind in SIGNS:
            boxes[_sign_of(line.id)].append(line_box(line))
    for mark in sheet.marks if boxes else ():
        sign = _sign_of(mark.id)
        if sign in boxes:
            boxes[sign].append(mark_box(mark))
    for found in boxes.values():
        yield min(box[2 * axis] for box in found), max(box[2 * axis + 1] for box in found)


def _sign_of(name: str) -> str:
    """Whose sign a part of it is.

    >>> _sign_of("contact-K.a--b.stroke-2"), _sign_of("contact-K.a--b.words-1"), _sign_of("contact-K.a--b")
    ('contact-K.a--b', 'contact-K.a--b', 'contact-K.a--b')
    """
    return _PART.sub("", name)


def _line_in_the_way(line: Line, axis: int) -> Iterator[tuple[float, float, float]]:
    if line.kind in NOTHING or line.kind in LIVES:
        return
    start, end = line_box(line)[2 * axis : 2 * axis + 2]
    if line.kind == "stab":
        yield start, end, PARTED
    if line.kind not in WIRES | LADDER:
        # A line to words would have them on one sheet, and what they name on the other.
        yield start - 2, end + 2, SIGN
        return
    for piece in line.pieces:
        along = [point[axis] for point in piece]
        yield min(along), max(along), RUNG if line.kind in LADDER else WIRE
        for one, other in pairwise(piece):
            low, top = sorted((one[axis], other[axis]))
            if low == top and abs(one[1 - axis] - other[1 - axis]) > 2 * BESIDE:
                yield low - BESIDE, low + BESIDE, ALONG
            elif low < top and one[1 - axis] != other[1 - axis]:
                yield low, top, SLANT


def is_head(mark: Spot | Words) -> bool:
    """Whether a mark is of the drawing's head, which is on the first sheet and no wider than it."""
    return mark.kind == "caution" or mark.id in HEADS

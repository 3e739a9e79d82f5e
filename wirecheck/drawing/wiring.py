"""The wiring diagram: where things are, and which wire goes to which screw."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import groupby, pairwise
from operator import itemgetter
from typing import TYPE_CHECKING

from wirecheck.circuit.circuit import circuit
from wirecheck.circuit.circuit import number as value_of
from wirecheck.circuit.uses import Uses, uses
from wirecheck.drawing import colors, symbols
from wirecheck.drawing.again import name_again
from wirecheck.drawing.area import SCREEN, Area
from wirecheck.drawing.bars import draw_bars
from wirecheck.drawing.colors import PAPER, Page
from wirecheck.drawing.copper import (
    Piece,
    bend,
    carrying,
    dots,
    in_order,
    jumper,
    pigtail,
    screw_top,
    splice_of,
    trunk,
)
from wirecheck.drawing.flags import Flag, Flags, bond_name, flags, jumper_name
from wirecheck.drawing.free import Box, busy, free_place
from wirecheck.drawing.hand import by_hand
from wirecheck.drawing.handles import draw_ties
from wirecheck.drawing.key import LINE, Pens, marks_key, state_key
from wirecheck.drawing.layout import Sizes, extent, laid_out
from wirecheck.drawing.legs import draw_legs
from wirecheck.drawing.letters import SMALLEST, printable, shorten, text_width, wrap
from wirecheck.drawing.places import (
    BAR_LEAD,
    CORE,
    FAN,
    FLAG,
    FLAG_BESIDE,
    LABEL_AT,
    LABEL_LINE,
    MARGIN,
    OVER_WIRE,
    SCREW,
    SMALL,
    Cable,
    EndLabel,
    end_width,
    label_widths,
    order_tails,
    set_columns,
    set_rows,
    slot_width,
)
from wirecheck.drawing.rooms import Body, Bundle, Pin, Room, Slot, Splice, rooms_of
from wirecheck.drawing.sheet import TITLE_LINE, Frame, Line, Point, Sheet, Spot
from wirecheck.drawing.short import tell_inner, told_width
from wirecheck.drawing.state import LEVELS, State
from wirecheck.drawing.tails import jumper_color, pigtail_color, row_color
from wirecheck.drawing.ticks import stroke_color, ticks
from wirecheck.drawing.uprights import clear_end, uprights
from wirecheck.drawing.within import name_jumper, name_within
from wirecheck.language.listing import first_sentence
from wirecheck.language.syntax import Quantity, Word
from wirecheck.model.board import Board

if TYPE_CHECKING:
    from wirecheck.judge.finding import Finding

WIRE = 2.4
CASING = 4.4
TICK = 1.0
FLOW = 1.5
LIST, WIDEST_LIST = 250.0, 340.0
KEYS = (500.0, 450.0, 380.0, 300.0)
"""How wide the key of the marks may be where it stands beside the boxes, and LISTS, the list of findings."""
LISTS = (WIDEST_LIST, 420.0, LIST)
LISTED, AROUND_LISTED = 11.0, 14.0
"""How high a line of that list is, and what is between two findings."""
LEAST_LISTED = AROUND_LISTED + 2 * LISTED
"""How high a finding of that list is at the least: its rule, and what it says."""
MOST_TOLD = 3
"""So many lines say what follows from a mistake."""
TITLE_HEIGHT = 92.0
VOLTS = 10.0
HEAD = 22 + VOLTS
"""From a body's edge with its screws to its signs; NAMED, from the other edge to the middle of its words."""
NAMED = 13.0
BESIDE_NAME = 8.0
"""From a body's side to its words."""
PLATE = {"mca": "MCA "}
"""What stands before a first value that is no current that flows, as on the nameplate."""
RATINGS = ("voltage", "coil", "primary", "secondary", "fuse")
"""The values of a device that stand under what it is; RATED, how high their line is."""
RATED = 10.0
TO_NEUTRAL = (120.0, 277.0, 347.0)
"""The volts from a hot to the neutral in the systems of a small transformer's taps (NEC 220.5(A); 347 V: from
memory). Others are between two hots."""
ASIDE, SHORT = 6.6, 3.0
"""How far over a jumper its flags stand where it is not so many times as long as they are."""
GLOW, OVER_STRAP = 8.0, 9.2
OFF_EDGE = 2.5
"""How far the volts at a screw stay off the edge of its body."""
WIDEST_READING = "240 V b"
JACKETS, LIVE = -2, -1
"""The layers below the wires: jackets, and over them what glows."""
ONE_OF_THESE = "The board does not tell which of these is the mistake:"


def wiring_sheet(
    board: Board,
    findings: Sequence[Finding] = (),
    page: Page = PAPER,
    fit: Area = SCREEN,
    state: State | None = None,
    listed: bool = True,
    headed: bool = True,
    ticked: bool = False,
) -> Sheet:
    """The wiring diagram of a board, every shape in its place.

    Parameters
    ----------
    board : as `wirecheck.model.build` gives it.
    findings : each becomes a numbered flag on its spot and a line of the list.
    page : the colors of the page.
    fit : the area that it should be read in; a wide board is folded into bands to fit it.
    state : what is live, what carries current and what works, shown on the drawing.
    listed : whether the findings are listed, too.
    headed : whether it has its title and the caution; False where the page around it tells them.
    ticked : whether each wire has the strokes that tell its color in black and white.

    Returns
    -------
    A `Sheet`; the same board, findings and state give the same sheet. Nothing
    stands in another place in another state of the board.
    """
    start = rooms_of(board)
    flagged = flags(board, start, findings)
    words = _end_labels(board)

    def sizes_of(with_flags: bool) -> Sizes:
        there = flagged if with_flags else Flags(())

        def measure(room: Room) -> None:
            set_rows(room)
            order_tails(room)
            _size(room, there, words)

        return Sizes(measure, _bundle_words(start, there))

    head = TITLE_HEIGHT if headed else 0.0
    widths = _bundle_words(start, flagged)
    rooms, cables = laid_out(board, sizes_of, fit, head)
    sheet = Sheet(board.title or "Board", page.ground)
    carried = carrying(rooms, state) if state is not None else frozenset()
    drawing = _Drawing(sheet, page, board, flagged, words, state, carried, ticked=ticked)
    if headed:
        drawing.title()
    for room in rooms:
        drawing.room(room)
    for cable in cables:
        drawing.jacket(cable)
    for cable in cables:
        drawing.conductors(cable)
    name_again(sheet, page, rooms, cables, widths)
    for room in rooms:
        drawing.make_up(room)
        drawing.bodies(room)
    name_within(sheet, page, rooms, words)
    drawing.finish(rooms, cables, list(busy(rooms, cables, widths)), listed, head, fit)
    # What is live glows under every wire, so that no glow hides one.
    sheet.lines.sort(key=lambda line: line.layer)
    return sheet


def _end_labels(board: Board) -> dict[str, EndLabel]:
    """What stands at each conductor's end: its color, and what it is marked; a single wire's name, too."""
    marked = {
        member.point: member.marked
        for join in board.joins
        for member in join.members
        if member.kind == "end" and member.marked
    }
    labels = {}
    for conductor in board.conductors.values():
        jacketed = board.runs[conductor.run].jacketed
        name = conductor.color if jacketed else f"{conductor.name} {conductor.color}"
        for end in conductor.ends:
            labels[end] = EndLabel(name, marked.get(end))
    return labels


def _body_words(body: Body) -> str:
    """What a device is, and its first value; where it has loads of one kind with a value each, all of these.

    What a motor draws at its high speed is no overload of its low one.
    """
    if body.device is None:
        return body.rating
    loads = body.device.part.loads
    drawn = dict.fromkeys(load.draws.text for load in loads if isinstance(load.draws, Word))
    if len(drawn) > 1 and len({load.kind for load in loads}) == 1:
        each = ", ".join(f"{name} {body.device.values[name].text}" for name in drawn)
        return f"{body.device.part.name} {each}"
    values = body.device.values
    first = next((name for name, value in values.items() if _is_size(name, value)), "")
    if first in RATINGS and "capacity" in values:
        # Of a transformer its volt-amperes: the volts of its windings stand with its ratings.
        first = "capacity"
    # The ampacity of a nameplate is what its wire is chosen by, and not what it draws.
    value = f"{PLATE.get(first, '')}{values[first].text}" if first else ""
    lamps = values.get("lamps")
    value = f"{lamps.text} x {value}" if lamps is not None else value
    return f"{body.device.part.name} {value}".strip()


def _is_size(name: str, value: object) -> bool:
    """Whether a value may stand for a device: a quantity, and of times only that of a delay."""
    return isinstance(value, Quantity) and (value.dimension != "time" or name == "delay")


def _body_ratings(body: Body) -> str:
    """What a device is made for that is not its first value: its volts, its coil's, its fuses' amperes."""
    values = {} if body.device is None else body.device.values
    said = [
        (name, value.text) for name, value in values.items() if name in RATINGS and hasattr(value, "text")
    ]
    return ", ".join(text if name == "voltage" else f"{name} {text}" for name, text in said)


def _screw_words(slot: Slot, body: Body) -> str:
    """What a screw is called, and that it is a hot where that depends on the tap of a transformer.

    The lead that takes the neutral of 120 V takes the other hot of 208 V and 240 V.
    """
    device, spec = body.device, slot.terminal.spec
    if device is None or spec.role != "line":
        return slot.terminal.label
    for winding in device.part.transformers:
        one, other = winding.primary
        volts = value_of(winding.primary_volts, device.values)
        hot = device.part.terminals[one].role == "hot" if one in device.part.terminals else False
        if hot and other == spec.name and volts is not None and volts.value not in TO_NEUTRAL:
            return f"{slot.terminal.label} (hot)"
    return slot.terminal.label


def _size(room: Room, flags: Flags, words: dict[str, EndLabel]) -> None:
    """Give the room its size. What a state adds has its place whether it is shown or not: nothing moves."""
    sizes = {}
    cables = room.cables
    for body in room.bodies:
        labels = {}
        for slot in body.slots:
            label = text_width(_screw_words(slot, body), SMALL)
            if body.device is None:
                label = max(label, text_width(WIDEST_READING, SMALLEST))
            labels[slot.terminal.name] = label
            slot.width = slot_width(slot, label, 0, cables)
        named = _title_width(body, flags) + 2 * BESIDE_NAME
        # Where a wide title spreads the screws, there may be room for all flags: then they move nothing.
        free = max(named - sum(slot.width for slot in body.slots), 0.0) / max(len(body.slots), 1)
        flagged = {
            slot.terminal.name: slot_width(
                slot, labels[slot.terminal.name], len(_slot_flags(slot, body, flags)), cables
            )
            for slot in body.slots
        }
        if any(flagged[slot.terminal.name] > slot.width + free for slot in body.slots):
            for slot in body.slots:
                slot.width = flagged[slot.terminal.name]
        sign_width, sign_height = symbols.size(body)
        height = _head(body) + sign_height
        height += 0 if _is_screw(body) else 26
        height += RATED if _body_ratings(body) else 0
        sizes[body.name] = (max(sign_width + 8, named), height)
    ends = {pin.point: len(flags.of(pin.point)) for pin in room.pins}
    heading = text_width(room.name, 10, bold=True) + text_width(room.title, SMALL) + 30
    heading += FLAG * len(_room_flags(room, flags))
    left, right = label_widths(room, words, ends)
    set_columns(room, (left, max(right, told_width(room, words, flags))), sizes, heading)


def _staggered(body: Body) -> bool:
    """Whether the volts at its screws stand by turns in two lines, since they are too wide for one."""
    pairs = pairwise(body.slots)
    return any((a.width + b.width) / 2 < text_width(WIDEST_READING, SMALLEST) + 3 for a, b in pairs)


def _head(body: Body) -> float:
    """From the edge of a body with its screws to its signs."""
    return HEAD + (VOLTS if _staggered(body) else 0.0)


def _is_screw(body: Body) -> bool:
    """A bar or a box's screw: a terminal that no device stands behind."""
    return body.device is None and not body.rating


def _title_width(body: Body, flags: Flags) -> float:
    if _is_screw(body):
        return 0.0
    # The name is in the middle, flagged or not, and there is always room for a flag behind it.
    numbers = 2 * FLAG * max(len(_body_flags(body, flags)), 1)
    face = 36 if by_hand(body.device) else 0
    lines = [text_width(words, SMALL) for words in (_body_words(body), _body_ratings(body))]
    return max(text_width(body.name, 9, bold=True) + numbers, face + max(lines))


def _slot_flags(slot: Slot, body: Body, flags: Flags) -> list[Flag]:
    name = slot.terminal.name
    return [] if name == body.name and not _is_screw(body) else flags.of(name)


def _body_flags(body: Body, flags: Flags) -> list[Flag]:
    return [] if _is_screw(body) else flags.of(body.name)


def _room_flags(room: Room, flags: Flags) -> list[Flag]:
    """A room's flags; equipment that is its own room carries them on its body."""
    return [] if any(body.name == room.name for body in room.bodies) else flags.of(room.name)


def _bundle_words(rooms: list[Room], flags: Flags) -> dict[str, float]:
    bundles = {port.bundle.name: port.bundle for room in rooms for port in (*room.left, *room.right)}
    return {
        name: max(text_width(line, SMALL) for line in bundle.words) + FLAG * max(len(flags.of(name)), 1) + 8
        for name, bundle in bundles.items()
    }


def _without_stops(points: Sequence[Point]) -> tuple[Point, ...]:
    """A way without the points at which it goes on as it came."""
    kept: list[Point] = []
    for point in points:
        if kept and kept[-1] == point:
            continue
        if len(kept) > 1 and any(kept[-2][n] == kept[-1][n] == point[n] for n in (0, 1)):
            kept.pop()
        kept.append(point)
    return tuple(kept)


@dataclass
class _Drawing:
    """Puts what has its place onto the sheet."""

    sheet: Sheet
    page: Page
    board: Board
    flags: Flags
    words: dict[str, EndLabel]
    state: State | None = None
    carried: frozenset[Piece] = frozenset()
    dots: int = 0
    tails: int = 0
    ticked: bool = False
    head: float = 0.0
    uses: Uses | None = None
    tail_colors: set[str] = field(default_factory=set)
    joints_of: dict[Splice, list[Point]] = field(default_factory=dict)

    def title(self) -> None:
        """The board's title over the drawing, the flags of what has no spot, and what is shown."""
        shown = self.sheet.caution(0, -26, self.page.faint)[0].y - 16
        words, *more = self.sheet.headline(self.board.title or "Board", shown - TITLE_LINE, self.page.ink)
        self.head = TITLE_HEIGHT + TITLE_LINE * len(more)
        self.flag_row(self.flags.of(""), words.x + words.width / 2 + 12, words.y)
        name, text, ink = "kind", "Wiring diagram", self.page.faint
        if self.state is not None:
            name, ink = "state", self.page.ink
            text = shorten(printable(f"Shown {self.state.words}"), 560, 9, bold=True)
        self.sheet.write(name, text, 0, shown, 9, ink, bold=self.state is not None, align="start")

    def flag_row(self, flagged: Iterable[Flag], x: float, y: float) -> None:
        """Flags side by side, the first one's middle at x."""
        for place, flag in enumerate(flagged):
            self.flag(flag, x + place * FLAG, y)

    def flag(self, flag: Flag, x: float, y: float) -> None:
        """A numbered flag; a small one is a ring on the page's own ground.

        One number has one color: that of the mistake, not that of each thing that follows from it.
        """
        color = colors.SEVERITY[self.flags.findings[flag.number - 1].severity]
        title = f"{flag.number}: {flag.finding.rule}"
        width, kind, fill, edge, ink = 12.5, "flag", color, self.page.ground, colors.text_on(color)
        if flag.small:
            ink = colors.readable(color, self.page)
            width, kind, fill, edge = 10.8, "flag small", self.page.ground, ink
        self.sheet.marks.append(Spot(flag.name, title, x, y, width, width, fill, edge, pen=1, kind=kind))
        number = str(flag.number)
        self.sheet.write(
            f"{flag.name}-number", number, x, y, SMALLEST, ink, bold=True, title=title, kind="number"
        )

    # -------------------------------------------------------------- rooms

    def room(self, room: Room) -> None:
        """The frame of a room and its heading."""
        top, height = room.y - room.lift, room.height + room.lift
        self.sheet.frames.append(
            Frame(
                f"room-{room.name}", f"{room.name}, {room.title}", room.x, top, room.width, height,
                self.page.room, self.page.faint, 1.4, rounded=True, kind=f"room {room.kind}",
            )
        )  # fmt: skip
        words = self.sheet.write(
            f"label-room-{room.name}",
            room.name,
            room.x + 10,
            top + 12,
            10,
            self.page.ink,
            bold=True,
            align="start",
        )
        x = words.x + words.width / 2 + 6
        text = self.sheet.write(
            f"label-kind-{room.name}", room.title, x, top + 12, SMALL, self.page.faint, align="start"
        )
        self.flag_row(_room_flags(room, self.flags), text.x + text.width / 2 + 11, top + 12)

    def jacket(self, cable: Cable) -> None:
        """The jacket of a cable or the wall of a raceway, and its label."""
        bundle = cable.bundle
        if cable.ports[0].inner:
            return
        one, title = cable.ports[0], bundle.title
        out, align = (-1, "end") if one.left else (1, "start")
        x, y = one.wall + 7 * out, one.y - cable.half - 6
        widest = 0.0
        suffixes = ("", "-kind", "-wires", *(f"-wires-{number}" for number in range(2, len(bundle.words))))
        for line, (suffix, words) in enumerate(zip(suffixes, bundle.words, strict=False)):
            high = y - LABEL_LINE * (len(bundle.words) - 1 - line)
            label = self.sheet.write(
                f"label-{bundle.name}{suffix}", words, x, high, SMALL,
                self.page.faint if line else self.page.ink, align=align, title=title,
            )  # fmt: skip
            widest = max(widest, label.width)
        numbers = self.flags.of(bundle.name)
        first = x + (widest + 10) * out
        self.flag_row(numbers, first - FLAG * (len(numbers) - 1) if one.left else first, y)
        if bundle.kind == "wire":
            return
        ends = [(port.wall + (7 if port.left else -7), port.y) for port in cable.ports]
        ways = (ends[0], *cable.between(0.0), ends[1])
        fill = colors.on_page(colors.RACEWAY if bundle.kind == "raceway" else _jacket(bundle), self.page)
        name = f"jacket-{bundle.name}"
        for suffix, color, pen in (("-edge", "#7b838c", 2 * cable.half + 1.8), ("", fill, 2 * cable.half)):
            self.sheet.lines.append(
                Line(
                    f"{name}{suffix}",
                    bundle.title,
                    (ways,),
                    color,
                    pen,
                    radius=4,
                    kind=f"jacket {bundle.kind}",
                    layer=JACKETS,
                )
            )

    def conductors(self, cable: Cable) -> None:
        """The conductors of a cable, each from its end in one room to its end in the other."""
        one, other = cable.ports
        at = {pin.conductor.name: pin for pin in other.pins}
        for pin in one.pins:
            far = at[pin.conductor.name]
            if far is pin:
                continue
            self.conductor(cable, pin, far)

    def conductor(self, cable: Cable, one: Pin, other: Pin) -> None:
        """One conductor, whole: from where it is made up here to where it is made up there."""
        turns = cable.between(one.wall_y - one.port.y)
        rooms = (self.bent(one), self.bent(other))
        path = [*rooms[0], *turns, *reversed(rooms[1])]
        conductor = one.conductor
        title = (
            f"{conductor.name}: {conductor.color}, {conductor.size} AWG {conductor.material}, "
            f"from {conductor.places[0]} to {conductor.places[1]}"
        )
        tail, head = one.point, other.point
        run = [rooms[0][-1], *turns, rooms[1][-1]]
        pieces = ((rooms[0], GLOW, one.point), (run, CORE, one.point), (rooms[1], GLOW, other.point))
        self.glow(conductor.name, pieces)
        self.wire(
            f"conductor-{conductor.name}",
            title,
            path,
            conductor.color,
            tail=tail,
            head=head,
            kind="conductor",
        )
        if self.state is not None:
            ends = zip((one, other), rooms, strict=True)
            (here, from_here), (there, from_there) = (self.trunk(pin, way) for pin, way in ends)
            carries = self.state.carries(conductor.name)
            parts = [*here, ((*from_here, *turns, *reversed(from_there)), carries)]
            parts += ((way[::-1], carried) for way, carried in reversed(there))
            # What others send through the joint that is drawn with it is no current of the conductor.
            self.flow(f"{'conductor' if carries else 'joint'}-{conductor.name}", parts, conductor.color)

    def wire(
        self,
        name: str,
        title: str,
        path: Sequence[Point],
        color: str,
        tail: str = "",
        head: str = "",
        kind: str = "wire",
    ) -> None:
        """A wire in its color over its casing."""
        paint = colors.insulation(color)
        edge = colors.casing(paint, self.page.room)
        points = (tuple(path),)
        self.sheet.lines.append(Line(f"casing-{name}", "", points, edge, CASING, radius=5, kind="casing"))
        self.sheet.lines.append(
            Line(name, title, points, paint, WIRE, radius=5, tail=tail, head=head, kind=f"{kind} {color}")
        )
        strokes = ticks(list(path), color) if self.ticked else ()
        if strokes:
            ink = stroke_color(paint, self.page.room)
            self.sheet.lines.append(Line(f"ticks-{name}", "", strokes, ink, TICK, curve=True, kind="ticks"))

    def glow(self, name: str, pieces: Iterable[tuple[Sequence[Point], float, str]]) -> None:
        """The glow around the live pieces of a wire, each with its width and the point it is part of."""
        if self.state is None:
            return
        for number, (path, pen, point) in enumerate(pieces):
            level = self.state.level(point)
            if level:
                self.sheet.lines.append(
                    Line(
                        f"live-{number}-{name}", f"{name} is live: {LEVELS[level]}", (tuple(path),),
                        colors.LIVE[level], pen, colors.LIVE_DASH[level], radius=5, kind=f"live {level}",
                        layer=LIVE,
                    )
                )  # fmt: skip

    def flow(self, name: str, pieces: Iterable[tuple[tuple[Point, ...], bool]], color: str) -> None:
        """Dots along the pieces of a wire that carry current; each piece begins where the one before ends."""
        paint = colors.text_on(colors.insulation(color))
        runs = [list(run) for carries, run in groupby(pieces, key=itemgetter(1)) if carries]
        for number, run in enumerate(runs):
            path = _without_stops([point for way, _ in run for point in way])
            self.sheet.lines.append(
                Line(
                    f"flow-{name}" + (f"-{number + 1}" if number else ""), f"{name} carries current",
                    (path,), paint, FLOW, "dotted", radius=5, kind="flow",
                )
            )  # fmt: skip

    def tail(
        self,
        name: str,
        title: str,
        pieces: Sequence[Piece],
        color: str,
        kind: str,
        screw: str,
        after: Point | None = None,
    ) -> None:
        """A pigtail or a jumper that ends on a screw; `after` is where a wire's bend ends and it begins."""
        points = [point for piece in pieces for point in piece.path]
        path = _without_stops([after or points[0], *points[1:]])
        self.glow(name, [(path, GLOW, screw)])
        self.wire(name, title, path, color, kind=kind)
        self.tail_colors.add(color)
        self.flow(name, ((piece.path, piece in self.carried) for piece in pieces), color)

    def trunk(
        self, pin: Pin, way: Sequence[Point]
    ) -> tuple[list[tuple[tuple[Point, ...], bool]], Sequence[Point]]:
        """What a conductor's way in its room has of what joins the rows of its splice, and what is left.

        Of the first, each piece's way and whether it carries current.
        """
        room, splice = pin.port.room, splice_of(pin)
        pieces = trunk(room, splice) if splice is not None and pin is in_order(splice)[0] else []
        if not pieces:
            return [], way
        before = way.index(pieces[0].path[0])
        ways = [(piece.path, piece in self.carried) for piece in pieces]
        ways[0] = (*way[:before], *ways[0][0]), ways[0][1]
        return ways, way[way.index(pieces[-1].path[-1]) :]

    def joints(self, room: Room, splice: Splice) -> list[Point]:
        """The dots of a splice."""
        if splice not in self.joints_of:
            alike = {pin.conductor.color for pin in splice.pins} <= {self.splice_color(room, splice)}
            self.joints_of[splice] = dots(room, splice, alike=alike)
        return self.joints_of[splice]

    def splice_color(self, room: Room, splice: Splice) -> str:
        """The color of a splice's pigtails."""
        if splice.pins:
            return pigtail_color(splice, self.words)
        return row_color(room, splice, self.words, self.used)

    def bent(self, pin: Pin) -> list[Point]:
        """A conductor's way in its room, drawn on around the bend of its splice, or begun behind it."""
        room, way, splice = pin.port.room, self.inside(pin), splice_of(pin)
        if splice is None:
            return way
        found = bend(room, splice, self.joints(room, splice))
        if found is None:
            return way
        last, behind = found
        if pin is last and len(splice.pins) > 1:
            return [behind, *way[1:]]
        return [behind, *way] if pin is in_order(splice)[0] else way

    def free(self, pin: Pin) -> tuple[float, float]:
        """Where a conductor has left its jacket and lies on its row."""
        return pin.port.wall + (FAN if pin.left else -FAN), pin.y

    def inside(self, pin: Pin) -> list[Point]:
        """A conductor's way in its room, from where it is made up to the wall."""
        room = pin.port.room
        wall = pin.port.wall
        step = 4 if pin.left else -4
        way: list[Point] = [self.free(pin), (wall + step, pin.wall_y), (wall, pin.wall_y)]
        if pin.port.inner:
            way = []
        splice = splice_of(pin)
        tail = next((tail for tail in room.direct if tail.pin is pin), None)
        if tail is not None:
            x = room.x + tail.x
            return [(x, screw_top(room, tail)), (x, pin.y), *way]
        if splice is not None:
            x = room.x + splice.x
            pins = in_order(splice)
            end: list[Point] = [(x, pin.y)]
            if pin is pins[0] and pins[-1].y > pin.y:
                end.insert(0, (x, pins[-1].y))
            return [*end, *way]
        return [(self.open_end(pin), pin.y), *way]

    def open_end(self, pin: Pin) -> float:
        """Where a wire that nobody joined ends: close behind its label, or under its flags; on no other wire.

        Behind its flags it would reach as far as the wires that come down, and end beyond one of them.
        """
        standing = list(uprights(pin.port.room))
        if pin.port.inner:
            return clear_end(pin.port.room.x + pin.end, pin.y, 1, standing)
        flagged = len(self.flags.of(pin.point))
        way, width = 1 if pin.left else -1, end_width(self.words[pin.point], 0)
        if flagged:
            return self.free(pin)[0] + way * (width + FLAG * (flagged - 0.5))
        return clear_end(self.free(pin)[0] + way * (width + 4), pin.y, way, standing)

    # ------------------------------------------------------------ make-up

    def make_up(self, room: Room) -> None:
        """Labels, bands, caps, dots, pigtails and jumpers of a room."""
        tell_inner(self.sheet, self.page, room, self.words, self.flags, self.flag_row, self.band)
        for pin in room.pins:
            if not pin.port.inner:
                self.end_label(pin)
            if splice_of(pin) is None and all(tail.pin is not pin for tail in room.direct):
                self.cap_or_loose(room, pin)
        for splice in room.splices:
            self.splice(room, splice)
        standing = list(uprights(room)) if room.jumpers else []
        for number, (one, other) in enumerate(room.jumpers):
            y = room.y + room.jumper_at[number]
            x0, x1 = room.x + one.x, room.x + other.x
            names = f"{one.slot.terminal.name} to {other.slot.terminal.name}"
            color = jumper_color(room, number, self.words, self.used)
            name = jumper_name(room, number)
            made = [jumper(room, number)]
            self.tail(name, f"jumper from {names}", made, color, "jumper", one.slot.terminal.name)
            numbers = self.flags.of(name)
            middle = name_jumper(self.sheet, self.page, room, number, standing)
            # On a short one they stand over it, so that it is seen.
            high = y - ASIDE if abs(x1 - x0) < SHORT * FLAG * max(len(numbers), 1) else y
            self.flag_row(numbers, middle - FLAG * (len(numbers) - 1) / 2, high)

    def end_label(self, pin: Pin) -> None:
        """The color's name over the wire, the tape band of a mark, and the flags of this end."""
        x, y = self.free(pin)
        label = self.words[pin.point]
        side = 1 if pin.left else -1
        self.sheet.write(
            f"label-{pin.point}", label.text, x + side * LABEL_AT, y - OVER_WIRE, SMALL, self.page.ink,
            align="start" if pin.left else "end", title=pin.point, kind="label end",
        )  # fmt: skip
        width = text_width(label.text, SMALL)
        if label.marked is not None:
            self.band(pin, label.marked, x + side * (LABEL_AT + width + 7), y)
        numbers = self.flags.of(pin.point)
        first = x + side * (end_width(label, 0) + FLAG / 2)
        # A little over its wire, where it is clear of the words of the next.
        self.flag_row(numbers, first if pin.left else first - FLAG * (len(numbers) - 1), y - 0.9)

    def band(self, pin: Pin, color: str, x: float, y: float) -> None:
        """The band of tape by which a wire is marked, around a point."""
        paint = colors.insulation(color)
        edge = colors.casing(paint, self.page.room)
        edge = self.page.ink if edge == "#ffffff" else edge
        name = f"band-{pin.point}"
        title = f"{pin.point} marked {color}"
        self.sheet.lines += [
            Line(f"{name}-edge", "", (((x - 5, y), (x + 5, y)),), edge, 8.4, kind="band"),
            Line(name, title, (((x - 4, y), (x + 4, y)),), paint, 6.6, kind="band"),
        ]

    def cap_or_loose(self, room: Room, pin: Pin) -> None:
        """A cap over a spare, or an open ring at the end of a wire that nobody joined; flags stand at it."""
        if self.flags.of(pin.point) and not pin.port.inner:
            width = end_width(self.words[pin.point], 0) - (4.5 if pin.point in room.capped else 3.0)
            x = self.free(pin)[0] + (width if pin.left else -width)
        else:
            x = self.open_end(pin)
        if pin.point in room.capped:
            title = f"{pin.point} is capped"
            self.sheet.marks.append(
                Spot(f"cap-{pin.point}", title, x, pin.y, 9, 8, colors.CAP, self.page.ink, "box", 1, "cap")
            )
        else:
            title = f"{pin.point} is joined to nothing"
            self.sheet.marks.append(
                Spot(
                    f"loose-{pin.point}",
                    title,
                    x,
                    pin.y,
                    6,
                    6,
                    self.page.room,
                    self.page.ink,
                    "circle",
                    1.2,
                    "loose",
                )
            )

    def splice(self, room: Room, splice: Splice) -> None:
        """The dots of a splice, and its pigtails down to their screws."""
        x = room.x + splice.x
        pins = in_order(splice)
        color = self.splice_color(room, splice)
        joints = self.joints(room, splice)
        found = bend(room, splice, joints) if len(pins) == 1 else None
        up = bool(splice.tails) and splice.tails[0].slot.over
        for number, tail in enumerate(splice.tails):
            name = tail.slot.terminal.name
            self.tails += 1
            way = pigtail(room, splice, number)
            after = found[1] if found is not None and not number else None
            self.tail(f"pigtail-{self.tails}", f"pigtail to {name}", way, color, "pigtail", name, after)
        for number in range(splice.spare):
            self.spare(x, pins[0].y, number + up, color, pins[0].point)
        for at in joints:
            self.dot(*at)

    def spare(self, x: float, y: float, number: int, color: str, point: str) -> None:
        """A pigtail that leads to no screw: a short tail up from the splice, open at its end."""
        self.tails += 1
        name = f"pigtail-{self.tails}"
        end = (x + 9 * ((number + 1) // 2) * (1 if number % 2 else -1), y - 10)
        self.glow(name, [(((x, y), end), GLOW, point)])
        self.wire(name, "pigtail to no screw", ((x, y), end), color, kind="pigtail")
        ring = Spot(
            f"loose-{name}", "a pigtail that leads to no screw", *end, 5, 5, self.page.room, self.page.ink,
            pen=1.2, kind="loose",
        )  # fmt: skip
        self.sheet.marks.append(ring)

    def dot(self, x: float, y: float) -> None:
        """One dot of a splice."""
        self.dots += 1
        self.sheet.marks.append(
            Spot(
                f"splice-{self.dots}",
                "splice",
                x,
                y,
                7.5,
                7.5,
                self.page.ink,
                self.page.room,
                pen=0.8,
                kind="splice",
            )
        )

    # ------------------------------------------------------------- bodies

    def bodies(self, room: Room) -> None:
        """The devices of a room, with their screws, signs and names."""
        for body in room.bodies:
            self.body(room, body)
        draw_legs(self.sheet, self.page, room, self.board, self.state, GLOW)
        strap = draw_bars(self.sheet, self.page, room, self.board, self.state, GLOW, FLOW)
        if strap is not None:
            # On its upper edge, so that it is seen.
            self.flag_row(self.flags.of(bond_name(room.name)), strap[0], strap[1] - OVER_STRAP)
        signs = room.y + room.floor + SCREW / 2 + HEAD + symbols.BREAKER
        draw_ties(self.sheet, self.page, room, self.board, signs)

    def body(self, room: Room, body: Body) -> None:
        """One device, breaker or bar."""
        x, y = room.x + body.x, room.y + room.floor + SCREW / 2
        edge = y
        if body.over:
            edge = room.y + room.ceiling - SCREW / 2
            y = edge - body.height
        words = _body_words(body)
        if not _is_screw(body):
            self.sheet.frames.append(
                Frame(
                    f"device-{body.name}", f"{body.name}, {words}", x, y, body.width, body.height,
                    self.page.device, self.page.ink, 1.1, rounded=True, kind="device",
                )
            )  # fmt: skip
        for slot in body.slots:
            self.screw(room, body, slot, edge)
        head = -_head(body) if body.over else _head(body)
        symbols.draw_signs(self.sheet, body, x, edge + head, self.page, self.state)
        if _is_screw(body):
            return
        middle = x + body.width / 2
        numbers = _body_flags(body, self.flags)
        ratings = _body_ratings(body)
        at = y + NAMED if body.over else y + body.height - NAMED - (RATED if ratings else 0.0)
        name = self.sheet.write(f"label-{body.name}", body.name, middle, at - 4, 9, self.page.ink, bold=True)
        # A little over the middle of the name, where it is clear of the words under it.
        self.flag_row(numbers, name.x + name.width / 2 + 9, at - 5.8)
        symbols.draw_icon(self.sheet, body, x + 12, at, self.page, self.state)
        if words:
            self.sheet.write(f"label-part-{body.name}", words, middle, at + 6, SMALL, self.page.faint)
        if ratings:
            low = at + 6 + RATED
            self.sheet.write(f"label-ratings-{body.name}", ratings, middle, low, SMALL, self.page.faint)

    def screw(self, room: Room, body: Body, slot: Slot, y: float) -> None:
        """A screw or a bar, its name under it (or over it, if it has the wires under it), and its flags."""
        way = -1 if slot.over else 1
        spec = slot.terminal.spec
        fill = colors.SCREWS.get(spec.screw or "", colors.SCREW)
        x = room.x + slot.x
        words = f"{slot.terminal.name}, {spec.screw} screw" if spec.screw else slot.terminal.name
        width = SCREW
        if len(slot.tails) > 1:
            width = slot.tails[-1].x - slot.tails[0].x + SCREW
        left = 0.0
        if slot.bar:
            left = BAR_LEAD * slot.leads
            width = max(slot.width - 6, width) + left
        shape = "box" if slot.bar else "ellipse"
        self.sheet.marks.append(
            Spot(
                f"terminal-{slot.terminal.name}",
                words,
                x - left / 2,
                y,
                width,
                SCREW,
                fill,
                self.page.ink,
                shape,
                1.2,
                "terminal",
            )
        )
        self.sheet.write(
            f"label-{slot.terminal.name}-screw",
            _screw_words(slot, body),
            x,
            y + way * 12,
            SMALL,
            self.page.ink,
            title=words,
        )
        name = slot.terminal.name
        reading = self.state.reading(name) if self.state else ""
        if reading or (self.state and slot.tails):
            below = 21.5 if slot.terminal.label else 12
            if _staggered(body) and body.slots.index(slot) % 2:
                below += VOLTS
            middle = x
            if not _is_screw(body):
                # Off the edge of its body, which the screw at the end is near to.
                within = text_width(reading, SMALLEST) / 2 + OFF_EDGE
                left = room.x + body.x
                middle = min(max(x, left + within), left + body.width - within)
            self.sheet.write(
                f"volts-{name}", reading, middle, y + way * below, SMALLEST,
                self.page.ink, title=f"{name}: {reading}", kind="label volts",
            )  # fmt: skip
        numbers = _slot_flags(slot, body, self.flags)
        # Beside its screw and the wires that come down on it, where it is in the way of none.
        beyond = slot.tails[-1].x - slot.x if slot.tails else 0.0
        self.flag_row(numbers, x + beyond + FLAG_BESIDE, y - way * (SCREW / 2 + 3))

    # ------------------------------------------------------------- finish

    def finish(
        self,
        rooms: list[Room],
        cables: list[Cable],
        taken: list[Box],
        listed: bool,
        head: float,
        fit: Area,
    ) -> None:
        """The key, the list of findings, and the sheet's own size; `taken` is where something stands."""
        right, bottom = extent(rooms, cables)
        taken += [
            (mark.x - mark.width / 2, mark.y - 5, mark.x + mark.width / 2, mark.y + 5)
            for mark in self.sheet.marks
            if mark.kind in ("again", "label again")
        ]
        pens = Pens(WIRE, GLOW, FLOW, True)
        within = right, bottom
        # Before the list, so that no finding moves it.
        if fit.scrolls or not self.key_within(taken, within, pens):
            high = self.key_height(right, pens)
            marks_key(self.sheet, self.page, bottom + 24, right, pens, self.insulation)
            bottom += 24 + high
        right = max(right, *(mark.x + mark.width / 2 for mark in self.sheet.marks))
        count = len(self.flags.findings) if listed else 0
        if count and not self.list_within(count, taken, within):
            right, bottom = self.findings_listed(count, right, bottom, head, fit)
        if self.state is not None:
            bottom = state_key(self.sheet, self.page, self.state, bottom + LINE, right, pens)
        right = max(right, *(mark.x + mark.width / 2 for mark in self.sheet.marks))
        self.sheet.left, self.sheet.top = -MARGIN, -MARGIN - self.head
        self.sheet.width = right + 2 * MARGIN
        self.sheet.height = bottom + 2 * MARGIN + self.head

    def used(self) -> Uses:
        """What each screw is used for."""
        if self.uses is None:
            self.uses = uses(self.state.circuit if self.state else circuit(self.board))
        return self.uses

    @property
    def insulation(self) -> list[str]:
        """The colors of the wires, and of the tails of those that are marked."""
        wires = [conductor.color for conductor in self.board.conductors.values()]
        return [*wires, *sorted(self.tail_colors)]

    def key_height(self, width: float, pens: Pens) -> float:
        """How far down the key of the marks reaches with all that another wiring of the board puts in it."""
        scratch = Sheet("", self.page.ground, lines=list(self.sheet.lines), marks=list(self.sheet.marks))
        return marks_key(scratch, self.page, 0.0, width, pens, self.insulation, whole=True)

    def key_within(self, taken: list[Box], within: Point, pens: Pens) -> bool:
        """Put the key of the marks where nothing stands, if there is such a place."""
        for width in KEYS:
            high = self.key_height(width, pens) + LINE
            place = free_place(taken, within, width, high)
            if place is not None:
                x, y = place
                marks_key(self.sheet, self.page, y + LINE / 2, width, pens, self.insulation, x)
                taken.append((x, y, x + width, y + high))
                return True
        return False

    def list_within(self, count: int, taken: list[Box], within: Point) -> bool:
        """Put the list of findings where nothing stands, if there is such a place."""
        if count * LEAST_LISTED > within[1]:
            return False
        for width in LISTS:
            place = free_place(taken, within, width, self.list_height(range(count), width))
            if place is not None:
                self.findings_list(range(count), *place, width)
                return True
        return False

    def findings_listed(
        self, count: int, right: float, bottom: float, head: float, fit: Area
    ) -> tuple[float, float]:
        """Put the list under a drawing of this width and height or beside it, as shows both larger.

        Returns their width and height with it.
        """
        columns = min(count, max(1, int(right // LIST)))
        each = -(-count // columns)
        width = min(max(right / columns, LIST), WIDEST_LIST) - 24
        shares = [range(start, min(start + each, count)) for start in range(0, count, each)]
        under = max(right, LIST), bottom + 22 + max(self.list_height(share, width) for share in shares)
        side = right + 24 + LIST, max(bottom, self.list_height(range(count), LIST))
        shown = [fit.shows(wide + 2 * MARGIN, high + 2 * MARGIN + head) for wide, high in (under, side)]
        if shown[1].beats(shown[0]):
            self.findings_list(range(count), right + 24, 0.0, LIST)
            return side
        for number, share in enumerate(shares):
            self.findings_list(share, number * (width + 24), bottom + 22, width)
        return under

    def list_height(self, which: range, width: float) -> float:
        """How high a part of the list is."""
        lines = [len(list(self.told(self.flags.findings[place], width - 18))) for place in which]
        return sum(AROUND_LISTED + LISTED * count for count in lines)

    def findings_list(self, which: range, x: float, y: float, width: float) -> None:
        """A part of the numbered list, each mistake before what comes of it."""
        for number, finding in [(place + 1, self.flags.findings[place]) for place in which]:
            self.flag(Flag(f"listed-{number}", number, finding), x + 6, y + 6)
            y += 6
            for row, (line, color, bold) in enumerate(self.told(finding, width - 18), 1):
                self.sheet.write(
                    f"listed-{number}-line-{row}", line, x + 18, y, SMALL, color, bold=bold, align="start"
                )
                y += 11
            y += 8

    def told(self, finding: Finding, width: float) -> Iterator[tuple[str, str, bool]]:
        """The lines of a finding in the list, each with its color and whether it is bold."""
        color = colors.readable(colors.SEVERITY[finding.severity], self.page)
        head = f"{finding.rule} ({finding.severity}), line {finding.to_change.line}"
        mistakes = finding.mistakes
        if len(mistakes) > 1:
            mistakes = (ONE_OF_THESE, *(f"- {mistake}" for mistake in mistakes))
        paragraphs = [(mistake, self.page.ink, True) for mistake in mistakes]
        paragraphs += [(head, color, not mistakes), (finding.message, self.page.ink, False)]
        if not finding.mends and finding.look is not None:
            paragraphs.append((finding.look, self.page.ink, False))
        told = [f"From the same mistake: {first_sentence(one.message)}" for one in finding.follows]
        if len(told) > MOST_TOLD:
            told[MOST_TOLD - 1 :] = [f"And {len(told) - MOST_TOLD + 1} more from the same mistake."]
        paragraphs += [(same, self.page.ink, False) for same in told]
        for text, ink, bold in paragraphs:
            yield from ((line, ink, bold) for line in wrap(text, width, SMALL, bold))


def _jacket(bundle: Bundle) -> str:
    """The color of a cable's jacket: that of its wires' size where it is a nonmetallic-sheathed cable."""
    return colors.JACKETS.get(bundle.size if "NM" in bundle.words[1] else "", colors.JACKET)

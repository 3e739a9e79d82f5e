"""The wiring diagram: where things are, and which wire goes to which screw."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wirecheck.drawing import colors, symbols
from wirecheck.drawing.colors import PAPER, Page
from wirecheck.drawing.flags import Flag, Flags, flags
from wirecheck.drawing.hand import by_hand
from wirecheck.drawing.key import LINE, Pens, marks_key, state_key
from wirecheck.drawing.legs import draw_legs
from wirecheck.drawing.letters import printable, shorten, text_width, wrap
from wirecheck.drawing.places import (
    CORE,
    FAN,
    FLAG,
    FLAG_BESIDE,
    HEADER,
    LABEL_AT,
    ROW,
    SCREW,
    SMALL,
    Cable,
    EndLabel,
    beside,
    end_width,
    label_widths,
    order_tails,
    place_rooms,
    set_columns,
    set_rows,
    slot_width,
)
from wirecheck.drawing.rooms import Body, Bundle, Pin, Room, Slot, Splice, Tail, rooms_of
from wirecheck.drawing.sheet import Frame, Line, Point, Sheet, Spot
from wirecheck.drawing.state import LEVELS, State
from wirecheck.drawing.ticks import stroke_color, ticks
from wirecheck.language.listing import listed
from wirecheck.model.board import Board

if TYPE_CHECKING:
    from wirecheck.judge.finding import Finding

WIRE = 2.4
CASING = 4.4
TICK = 1.0
FLOW = 1.5
MARGIN = 18.0
TITLE = 14.0
LIST, WIDEST_LIST = 250.0, 340.0
TITLE_HEIGHT = 92.0
VOLTS = 10.0
GLOW = 8.0
WIDEST_READING = "240 V b"
JACKETS, LIVE = -2, -1
"""The layers below the wires: jackets, and over them what glows."""
MOST_BANDS = 6
ONE_OF_THESE = "The board does not tell which of these was done:"
SCREEN = (1100.0, 640.0)
"""What a laptop shows at once, in points."""


def wiring_sheet(
    board: Board,
    findings: Sequence[Finding] = (),
    page: Page = PAPER,
    fit: tuple[float, float] = SCREEN,
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
    fit : the width and height that it should be read at; a wide board is folded into bands to fit them.
    state : what is live, what carries current and what works, shown on the drawing.
    listed : whether the findings are listed, too.
    headed : whether it has its title and the caution; False where the page around it tells them.
    ticked : whether each wire has the strokes that tell its color in black and white.

    Returns
    -------
    A `Sheet`; the same board, findings and state give the same sheet. Nothing
    stands in another place in another state of the board.
    """
    rooms = rooms_of(board)
    flagged = flags(board, rooms, findings)
    words = _end_labels(board)
    for room in rooms:
        set_rows(room)
        order_tails(room)
        _size(room, flagged, words)
    head = TITLE_HEIGHT if headed else 0.0
    cables = _fitting(rooms, _bundle_words(rooms, flagged), (fit[0], fit[1] - head))
    sheet = Sheet(board.title or "Board", page.ground)
    drawing = _Drawing(sheet, page, board, flagged, words, state, ticked=ticked)
    if headed:
        drawing.title()
    for room in rooms:
        drawing.room(room)
    for cable in cables:
        drawing.jacket(cable)
    for cable in cables:
        drawing.conductors(cable)
    for room in rooms:
        drawing.make_up(room)
        drawing.bodies(room)
    drawing.finish(rooms, cables, listed, head)
    # What is live glows under every wire, so that no glow hides one.
    sheet.lines.sort(key=lambda line: line.layer)
    return sheet


def extent(rooms: list[Room], cables: list[Cable]) -> tuple[float, float]:
    """How far a diagram reaches to the right and down."""
    right = max((room.x + room.width for room in rooms), default=0.0)
    right = max([right, *(x + cable.half for cable in cables for x, _ in cable.path)])
    return right, max((room.y + room.height for room in rooms), default=0.0)


def _fitting(rooms: list[Room], words: dict[str, float], fit: tuple[float, float]) -> list[Cable]:
    """Place the rooms in as many bands as show them largest; in few, where that is nearly as large."""
    columns = len({room.column for room in rooms})
    best, most = 1, 0.0
    for bands in range(1, min(columns, MOST_BANDS) + 1):
        right, bottom = extent(rooms, place_rooms(rooms, words, bands))
        scale = min(1.0, fit[0] / (right + 2 * MARGIN), fit[1] / (bottom + 2 * MARGIN))
        if scale > most * 1.1:
            best, most = bands, scale
    return place_rooms(rooms, words, best)


def _end_labels(board: Board) -> dict[str, EndLabel]:
    """What stands at each conductor's end: its color, and what it is marked."""
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
    if body.device is None:
        return body.rating
    value = next((v.text for v in body.device.values.values() if hasattr(v, "dimension")), "")
    return f"{body.device.part.name} {value}".strip()


def _size(room: Room, flags: Flags, words: dict[str, EndLabel]) -> None:
    """Give the room its size. What a state adds has its place whether it is shown or not: nothing moves."""
    sizes = {}
    cables = len(room.left) + len(room.right)
    for body in room.bodies:
        for slot in body.slots:
            label = max(text_width(slot.terminal.label, SMALL), text_width(WIDEST_READING, SMALL - 1))
            slot.width = slot_width(slot, label, len(_slot_flags(slot, body, flags)), cables)
        sign_width, sign_height = symbols.size(body)
        title = _title_width(body, flags)
        height = 22 + VOLTS + sign_height
        height += 0 if _is_screw(body) else 26
        sizes[body.name] = (max(sign_width + 8, title + 12), height)
    ends = {pin.point: len(flags.of(pin.point)) for pin in room.pins}
    heading = text_width(room.name, 10, bold=True) + text_width(room.title, 8) + 30
    heading += FLAG * len(_room_flags(room, flags))
    set_columns(room, label_widths(room, words, ends), sizes, heading)


def _is_screw(body: Body) -> bool:
    """A bar or a box's screw: a terminal that no device stands behind."""
    return body.device is None and not body.rating


def _title_width(body: Body, flags: Flags) -> float:
    if _is_screw(body):
        return 0.0
    # The name is in the middle, flagged or not, and there is always room for a flag behind it.
    numbers = 2 * FLAG * max(len(_body_flags(body, flags)), 1)
    face = 36 if by_hand(body.device) else 0
    return max(text_width(body.name, 9, bold=True) + numbers, face + text_width(_body_words(body), SMALL))


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
        name: text_width(bundle.label, SMALL) + FLAG * max(len(flags.of(name)), 1) + 8
        for name, bundle in bundles.items()
    }


@dataclass
class _Drawing:
    """Puts what has its place onto the sheet."""

    sheet: Sheet
    page: Page
    board: Board
    flags: Flags
    words: dict[str, EndLabel]
    state: State | None = None
    dots: int = 0
    tails: int = 0
    ticked: bool = False

    def title(self) -> None:
        """The board's title over the drawing, the flags of what has no spot, and what is shown."""
        shown = self.sheet.caution(0, -26, self.page.faint)[0].y - 16
        text = shorten(self.board.title or "Board", 560, TITLE, bold=True)
        top = shown - 17
        words = self.sheet.write("board-title", text, 0, top, TITLE, self.page.ink, bold=True, align="start")
        self.flag_row(self.flags.of(""), words.x + words.width / 2 + 12, top)
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
        """A numbered flag; a small one is a ring on the page's own ground."""
        color = colors.SEVERITY[flag.finding.severity]
        title = f"{flag.number}: {flag.finding.rule}"
        width, size, kind, fill, edge, ink = 12.0, 7.0, "flag", color, self.page.ground, colors.text_on(color)
        if flag.small:
            ink = colors.readable(color, self.page)
            width, size, kind, fill, edge = 9.5, 6.0, "flag small", self.page.ground, ink
        self.sheet.marks.append(Spot(flag.name, title, x, y, width, width, fill, edge, pen=1, kind=kind))
        number = str(flag.number)
        self.sheet.write(
            f"{flag.name}-number", number, x, y, size, ink, bold=True, title=title, kind="number"
        )

    # -------------------------------------------------------------- rooms

    def room(self, room: Room) -> None:
        """The frame of a room and its heading."""
        self.sheet.frames.append(
            Frame(
                f"room-{room.name}", f"{room.name}, {room.title}", room.x, room.y, room.width, room.height,
                self.page.room, self.page.faint, 1.4, rounded=True, kind=f"room {room.kind}",
            )
        )  # fmt: skip
        words = self.sheet.write(
            f"label-room-{room.name}",
            room.name,
            room.x + 10,
            room.y + 12,
            10,
            self.page.ink,
            bold=True,
            align="start",
        )
        x = words.x + words.width / 2 + 6
        text = self.sheet.write(
            f"label-kind-{room.name}", room.title, x, room.y + 12, 8, self.page.faint, align="start"
        )
        self.flag_row(_room_flags(room, self.flags), text.x + text.width / 2 + 11, room.y + 12)

    def jacket(self, cable: Cable) -> None:
        """The jacket of a cable or the wall of a raceway, and its label."""
        bundle = cable.bundle
        one, other = cable.ports
        y = one.y - cable.half - 6
        label = self.sheet.write(
            f"label-{bundle.name}", bundle.label, one.room.x + one.room.width + 7, y, SMALL, self.page.ink,
            align="start", title=bundle.title,
        )  # fmt: skip
        self.flag_row(self.flags.of(bundle.name), label.x + label.width / 2 + 10, y)
        if bundle.kind == "wire":
            return
        start, end = cable.path[0], cable.path[-1]
        ways = ((start[0] - 7, start[1]), *cable.path[1:-1], (end[0] + (7 if other.left else -7), end[1]))
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
        shift = one.wall_y - one.port.y
        path = self.inside(one)
        path += beside(cable.path, shift)[1:-1]
        path += reversed(self.inside(other))
        conductor = one.conductor
        title = (
            f"{conductor.name}: {conductor.color}, {conductor.size} AWG {conductor.material}, "
            f"from {conductor.places[0]} to {conductor.places[1]}"
        )
        tail, head = one.point, other.point
        rooms = (self.inside(one), self.inside(other))
        run = [rooms[0][-1], *beside(cable.path, shift)[1:-1], rooms[1][-1]]
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
        if self.state is not None and self.state.carries(conductor.name):
            self.flow(f"conductor-{conductor.name}", path, conductor.color)

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

    def flow(self, name: str, path: Sequence[Point], color: str) -> None:
        """Dots along a wire that carries current."""
        paint = colors.text_on(colors.insulation(color))
        self.sheet.lines.append(
            Line(
                f"flow-{name}", f"{name} carries current", (tuple(path),), paint, FLOW, "dotted", radius=5,
                kind="flow",
            )
        )  # fmt: skip

    def tail(self, name: str, title: str, path: Sequence[Point], color: str, kind: str, screw: str) -> None:
        """A pigtail or a jumper that ends on a screw."""
        self.glow(name, [(path, GLOW, screw)])
        self.wire(name, title, path, color, kind=kind)
        if self.state is not None and self.state.tail_carries(screw):
            self.flow(name, path, color)

    def wall(self, pin: Pin) -> float:
        """The x of the wall where a pin comes in."""
        room = pin.port.room
        return room.x if pin.left else room.x + room.width

    def free(self, pin: Pin) -> tuple[float, float]:
        """Where a conductor has left its jacket and lies on its row."""
        return self.wall(pin) + (FAN if pin.left else -FAN), pin.y

    def inside(self, pin: Pin) -> list[Point]:
        """A conductor's way in its room, from where it is made up to the wall."""
        room = pin.port.room
        wall = self.wall(pin)
        step = 4 if pin.left else -4
        way: list[Point] = [self.free(pin), (wall + step, pin.wall_y), (wall, pin.wall_y)]
        splice = next((splice for splice in room.splices if pin in splice.pins), None)
        tail = next((tail for tail in room.direct if tail.pin is pin), None)
        if tail is not None:
            x = room.x + tail.x
            return [(x, self.screw_top(room, tail)), (x, pin.y), *way]
        if splice is not None:
            x = room.x + splice.x
            pins = sorted(splice.pins, key=lambda other: (other.y, not other.left))
            end: list[Point] = [(x, pin.y)]
            if pin is pins[0] and pins[-1].y > pin.y:
                end.insert(0, (x, pins[-1].y))
            return [*end, *way]
        return [(self.open_end(pin), pin.y), *way]

    def open_end(self, pin: Pin) -> float:
        """Where a wire that nobody joined ends: close behind its label and its flags."""
        width = end_width(self.words[pin.point], len(self.flags.of(pin.point))) + 4
        return self.free(pin)[0] + (width if pin.left else -width)

    def screw_top(self, room: Room, tail: Tail) -> float:
        """The height at which a wire meets its screw."""
        return room.y + room.floor

    # ------------------------------------------------------------ make-up

    def make_up(self, room: Room) -> None:
        """Labels, bands, caps, dots, pigtails and jumpers of a room."""
        for pin in room.pins:
            self.end_label(pin)
            joined = any(pin in splice.pins for splice in room.splices) or any(
                t.pin is pin for t in room.direct
            )
            if not joined:
                self.cap_or_loose(room, pin)
        for splice in room.splices:
            self.splice(room, splice)
        for number, (one, other) in enumerate(room.jumpers):
            links = sum(len(splice.tails) > 1 for splice in room.splices)
            y = room.y + HEADER + ROW * (room.rows + links + number + 0.5)
            x0, x1 = room.x + one.x, room.x + other.x
            path = [(x0, room.y + room.floor), (x0, y), (x1, y), (x1, room.y + room.floor)]
            names = f"{one.slot.terminal.name} to {other.slot.terminal.name}"
            self.tail(
                f"jumper-{room.name}-{number + 1}", f"jumper from {names}", path, "black", "jumper",
                one.slot.terminal.name,
            )  # fmt: skip

    def end_label(self, pin: Pin) -> None:
        """The color's name over the wire, the tape band of a mark, and the flags of this end."""
        x, y = self.free(pin)
        label = self.words[pin.point]
        side = 1 if pin.left else -1
        self.sheet.write(
            f"label-{pin.point}", label.text, x + side * LABEL_AT, y - 8.2, SMALL, self.page.ink,
            align="start" if pin.left else "end", title=pin.point, kind="label end",
        )  # fmt: skip
        width = text_width(label.text, SMALL)
        if label.marked is not None:
            self.band(pin, label.marked, x + side * (LABEL_AT + width + 7), y)
        numbers = self.flags.of(pin.point)
        first = x + side * (end_width(label, 0) + FLAG / 2)
        self.flag_row(numbers, first if pin.left else first - FLAG * (len(numbers) - 1), y)

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
        """A cap over a spare, or an open ring at the end of a wire that nobody joined."""
        x = self.open_end(pin)
        if pin.point in room.capped:
            title = f"{pin.point} is capped"
            self.sheet.marks.append(
                Spot(f"cap-{pin.point}", title, x, pin.y, 9, 8, "#e2b33c", self.page.ink, "box", 1, "cap")
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
        pins = sorted(splice.pins, key=lambda pin: (pin.y, not pin.left))
        color = pins[0].conductor.color
        low = pins[-1].y
        for number, tail in enumerate(splice.tails):
            down = room.x + tail.x
            floor = room.y + room.floor
            if len(splice.tails) == 1:
                path = [(x, low), (down, floor)]
            elif number == 0:
                path = [(x, low), (x, floor)]
            else:
                y = room.y + splice.link_y
                before = room.x + splice.tails[number - 1].x
                path = [(before, y), (down, y), (down, floor)]
                self.dot(before, y)
            name = tail.slot.terminal.name
            self.tails += 1
            self.tail(f"pigtail-{self.tails}", f"pigtail to {name}", path, color, "pigtail", name)
        for number in range(splice.spare):
            self.spare(x, pins[0].y, number, color, pins[0].point)
        heights = sorted({pin.y for pin in pins})
        top_alone = len(heights) > 1 and sum(pin.y == heights[0] for pin in pins) == 1
        for y in heights[1:] if top_alone else heights:
            self.dot(x, y)

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

    def body(self, room: Room, body: Body) -> None:
        """One device, breaker or bar."""
        x, y = room.x + body.x, room.y + room.floor + SCREW / 2
        words = _body_words(body)
        if not _is_screw(body):
            self.sheet.frames.append(
                Frame(
                    f"device-{body.name}", f"{body.name}, {words}", x, y, body.width, body.height,
                    self.page.device, self.page.ink, 1.1, rounded=True, kind="device",
                )
            )  # fmt: skip
        for slot in body.slots:
            self.screw(room, body, slot, y)
        top = y + 22 + VOLTS
        symbols.draw_signs(self.sheet, body, x, top, self.page, self.state)
        if _is_screw(body):
            return
        middle = x + body.width / 2
        numbers = _body_flags(body, self.flags)
        name = self.sheet.write(
            f"label-{body.name}", body.name, middle, y + body.height - 17, 9, self.page.ink, bold=True
        )
        self.flag_row(numbers, name.x + name.width / 2 + 9, y + body.height - 17)
        symbols.draw_icon(self.sheet, body, x + 12, y + body.height - 13, self.page, self.state)
        if words:
            self.sheet.write(
                f"label-part-{body.name}", words, middle, y + body.height - 7, SMALL, self.page.faint
            )

    def screw(self, room: Room, body: Body, slot: Slot, y: float) -> None:
        """A screw or a bar, its name under it, and its flags."""
        spec = slot.terminal.spec
        fill = colors.SCREWS.get(spec.screw or "", colors.SCREW)
        x = room.x + slot.x
        words = f"{slot.terminal.name}, {spec.screw} screw" if spec.screw else slot.terminal.name
        width = SCREW
        if len(slot.tails) > 1:
            width = slot.tails[-1].x - slot.tails[0].x + SCREW
        if slot.bar:
            width = max(slot.width - 6, width)
        shape = "box" if slot.bar else "ellipse"
        self.sheet.marks.append(
            Spot(
                f"terminal-{slot.terminal.name}",
                words,
                x,
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
            slot.terminal.label,
            x,
            y + 12,
            SMALL,
            self.page.ink,
            title=words,
        )
        name = slot.terminal.name
        reading = self.state.reading(name) if self.state else ""
        if reading:
            self.sheet.write(
                f"volts-{name}", reading, x, y + (21.5 if slot.terminal.label else 12), SMALL - 1,
                self.page.ink, title=f"{name}: {reading}", kind="label volts",
            )  # fmt: skip
        numbers = _slot_flags(slot, body, self.flags)
        # Beside its screw and the wires that come down on it, where it is in the way of none.
        beyond = slot.tails[-1].x - slot.x if slot.tails else 0.0
        self.flag_row(numbers, x + beyond + FLAG_BESIDE, y - SCREW / 2 - 3)

    # ------------------------------------------------------------- finish

    def finish(self, rooms: list[Room], cables: list[Cable], listed: bool, head: float) -> None:
        """The list of findings, and the sheet's own size with everything moved inside it."""
        right, bottom = extent(rooms, cables)
        pens = Pens(WIRE, GLOW, FLOW, True)
        insulation = [conductor.color for conductor in self.board.conductors.values()]
        # Over the list, so that no finding moves it.
        bottom = marks_key(self.sheet, self.page, bottom + 24, right, pens, insulation)
        right = max(right, *(mark.x + mark.width / 2 for mark in self.sheet.marks))
        count = len(self.flags.findings) if listed else 0
        if count and right > 1.2 * bottom:
            columns = min(count, max(1, int(right // LIST)))
            each = -(-count // columns)
            width = min(max(right / columns, LIST), WIDEST_LIST) - 24
            ends = [
                self.findings_list(
                    range(start, min(start + each, count)), number * (width + 24), bottom + 22, width
                )
                for number, start in enumerate(range(0, count, each))
            ]
            right, bottom = max(right, LIST), max(ends)
        elif count:
            bottom = max(bottom, self.findings_list(range(count), right + 24, 0.0, LIST))
            right += 24 + LIST
        if self.state is not None:
            bottom = state_key(self.sheet, self.page, self.state, bottom + LINE, right, pens)
        right = max(right, *(mark.x + mark.width / 2 for mark in self.sheet.marks))
        self.sheet.left, self.sheet.top = -MARGIN, -MARGIN - head
        self.sheet.width = right + 2 * MARGIN
        self.sheet.height = bottom + 2 * MARGIN + head

    def findings_list(self, which: range, x: float, y: float, width: float) -> float:
        """A part of the numbered list, each mistake before what comes of it; returns where it ends."""
        for number, finding in [(place + 1, self.flags.findings[place]) for place in which]:
            self.flag(Flag(f"listed-{number}", number, finding), x + 6, y + 6)
            y += 6
            for row, (line, color, bold) in enumerate(self.told(finding, width - 18), 1):
                self.sheet.write(
                    f"listed-{number}-line-{row}", line, x + 18, y, 8, color, bold=bold, align="start"
                )
                y += 11
            y += 8
        return y

    def told(self, finding: Finding, width: float) -> Iterator[tuple[str, str, bool]]:
        """The lines of a finding in the list, each with its color and whether it is bold."""
        color = colors.readable(colors.SEVERITY[finding.severity], self.page)
        head = f"{finding.rule} ({finding.severity}), line {finding.span.line}"
        mistakes = finding.mistakes
        if len(mistakes) > 1:
            mistakes = (ONE_OF_THESE, *(f"- {mistake}" for mistake in mistakes))
        paragraphs = [(mistake, self.page.ink, True) for mistake in mistakes]
        paragraphs += [(head, color, not mistakes), (finding.message, self.page.ink, False)]
        if finding.follows:
            same = listed(dict.fromkeys(f"{one.rule} (line {one.line})" for one in finding.follows))
            paragraphs.append((f"From the same mistake: {same}.", self.page.ink, False))
        for text, ink, bold in paragraphs:
            yield from ((line, ink, bold) for line in wrap(text, width, 8, bold))


def _jacket(bundle: Bundle) -> str:
    return colors.JACKETS.get(bundle.size, colors.JACKET)

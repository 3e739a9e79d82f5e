"""What is told of a wire that stays in its room, once: its name and color, its size, its length.

It stands over the wire, where no upright wire is for so long. Where one of a room has no such place, all of
them are in a list beside what comes down, and each has its name on itself, in a gap. Where no gap takes that,
a thin line leads from the wire to its words. The flags and the tape of an end are on the wire, as near to
that end as there is room.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import NamedTuple

from wirecheck.drawing.colors import Page
from wirecheck.drawing.flags import Flag, Flags
from wirecheck.drawing.letters import text_width
from wirecheck.drawing.places import FAN, FLAG, OVER_WIRE, SMALL, EndLabel
from wirecheck.drawing.rooms import Bundle, Pin, Room
from wirecheck.drawing.sheet import Line, Sheet
from wirecheck.drawing.uprights import Upright, uprights
from wirecheck.drawing.within import GAP, gaps, write_on_wire
from wirecheck.drawing.within import HIGH as LEVEL

HIGH = 14.5
"""How far over their wire all of the words are."""
BETWEEN, CLEAR, CORNER = 8.0, 5.0, 10.0
"""How far words are from one another, from an upright wire, and from where their own wire turns."""
THIN, ASIDE = 0.7, 6.0
"""A thin line, and how far before the words that it leads to it turns."""

Strip = tuple[float, float]
"""A left and a right end."""


class Short(NamedTuple):
    """A wire that stays in its room: its ends from the left, what it is called there, and its flags."""

    left: Pin
    right: Pin
    name: str
    flags: list[Flag]

    @property
    def bundle(self) -> Bundle:
        """The bundle that has nothing but this wire."""
        return self.left.port.bundle

    @property
    def told(self) -> str:
        """Its size and its length."""
        return " ".join(self.bundle.words)

    @property
    def level(self) -> Strip:
        """From where to where it runs level."""
        x = self.left.port.room.x
        return x + self.left.end, x + self.right.end

    def widest(self, over: float, under: float, standing: Sequence[Upright]) -> Strip:
        """The widest place along it that is so far over it and under it clear of upright wires."""
        (start, end), y = self.level, self.left.y
        return max(_free(start + CORNER, end - CORNER, y - over, y + under, standing), key=_length)


def told_width(room: Room, words: dict[str, EndLabel], flags: Flags) -> float:
    """How wide the list of the wires that stay in a room is, with the flags in it."""
    wires = _short(room, words, flags)
    if not wires:
        return 0.0
    named, told = _columns(wires)
    wide = named + told + FLAG * max(1, *(len(wire.flags) for wire in wires))
    return max(wide, text_width(_heading(room), SMALL, bold=True))


def tell_inner(
    sheet: Sheet,
    page: Page,
    room: Room,
    words: dict[str, EndLabel],
    flags: Flags,
    flag_row: Callable[[Iterable[Flag], float, float], None],
    band: Callable[[Pin, str, float, float], None],
) -> None:
    """Write the words of the wires that stay in a room, and mark their ends.

    Parameters
    ----------
    words : what stands at each conductor's end, by its point.
    flag_row : draws flags side by side, from the middle of the first one on.
    band : draws the tape of a color around a point.
    """
    wires = _short(room, words, flags)
    standing = list(uprights(room)) if wires else []
    taken: list[list[Strip]] = [[] for _ in wires]

    def write(wire: Short, named: float, x: float, y: float) -> None:
        """Its words side by side; `named` is from where its name begins to where the others do."""
        for name, text, kind, color, at in (
            (f"label-{wire.left.point}", wire.name, "label end", page.ink, x),
            (f"label-{wire.bundle.name}", wire.told, "label", page.faint, x + named),
        ):
            title = wire.bundle.title
            word = sheet.write(name, text, at, y, SMALL, color, align="start", title=title, kind=kind)
        flag_row(wire.flags, x + named + word.width + FLAG / 2 + 2, y)

    over = [wire.widest(HIGH, 2, standing) for wire in wires]
    wide = [sum(_columns([wire])) + FLAG * max(1, len(wire.flags)) for wire in wires]
    if all(_length(strip) >= least for strip, least in zip(over, wide, strict=True)):
        for wire, strip, least, there in zip(wires, over, wide, taken, strict=True):
            x = (sum(strip) - least) / 2
            there.append((x, x + least))
            write(wire, _columns([wire])[0], x, wire.left.y - OVER_WIRE)
    else:
        x, y = room.x + room.width - FAN - told_width(room, words, flags), wires[0].left.y - OVER_WIRE
        sheet.write(
            f"label-within-{room.name}", _heading(room), x, y, SMALL, page.ink, bold=True, align="start",
            kind="label end",
        )  # fmt: skip
        named = _columns(wires)[0]
        on = [wire.widest(LEVEL, LEVEL, standing) for wire in wires]
        for wire, there, name, strip in zip(wires, taken, _names_on(wires, on, words), on, strict=True):
            # As high as their flags are, which stand one under the other.
            y += FLAG
            write(wire, named, x, y)
            level = wire.left.y
            if _fits(name, strip):
                half, middle = text_width(name, SMALL) / 2 + GAP, sum(strip) / 2
                there.append((middle - half, middle + half))
                point = wire.left.point
                write_on_wire(sheet, page, f"within-{point}", name, point, middle, level)
            else:
                thin = ((wire.level[1], level), (x - ASIDE, level), (x - 2, y))
                told, title = f"told-{wire.bundle.name}", wire.bundle.title
                sheet.lines.append(Line(told, title, (thin,), page.faint, THIN, kind="told", layer=-2))
    for wire, there in zip(wires, taken, strict=True):
        _mark_ends(wire, words, flags, standing, there, flag_row, band)


def _short(room: Room, words: dict[str, EndLabel], flags: Flags) -> list[Short]:
    """The wires that stay in a room, from the top."""
    found = []
    for pair in room.inner:
        left, right = sorted((port.pins[0] for port in pair), key=lambda pin: pin.end)
        name = _called(words[left.point], words[right.point])
        found.append(Short(left, right, name, flags.of(pair[0].bundle.name)))
    return found


def _called(left: EndLabel, right: EndLabel) -> str:
    """The name and the color of a wire, and what its ends are marked.

    >>> _called(EndLabel("P2 white", "red"), EndLabel("P2 white", None))
    'P2 white, marked red on the left'
    """
    if left.marked == right.marked:
        return left.text
    ends = ((left.marked, "left"), (right.marked, "right"))
    marks = [f"{color} on the {side}" for color, side in ends if color]
    return f"{left.name}, marked {', '.join(marks)}"


def _heading(room: Room) -> str:
    return f"Wires within {room.name}"


def _columns(wires: Sequence[Short]) -> tuple[float, float]:
    """How wide their names are, with what is between these and the rest, and how wide that is."""
    named = max(text_width(wire.name, SMALL) for wire in wires)
    return named + BETWEEN, max(text_width(wire.told, SMALL) for wire in wires) + BETWEEN


def _names_on(wires: Sequence[Short], on: Sequence[Strip], words: dict[str, EndLabel]) -> list[str]:
    """What is written on each wire, in its gap: where one has no room for its color, none has it."""
    colored = [words[wire.left.point].name for wire in wires]
    return colored if all(map(_fits, colored, on)) else [wire.bundle.name for wire in wires]


def _fits(name: str, strip: Strip) -> bool:
    """Whether a gap takes a name."""
    return text_width(name, SMALL) + 2 * GAP <= _length(strip)


def _mark_ends(
    wire: Short,
    words: dict[str, EndLabel],
    flags: Flags,
    standing: Sequence[Upright],
    taken: list[Strip],
    flag_row: Callable[[Iterable[Flag], float, float], None],
    band: Callable[[Pin, str, float, float], None],
) -> None:
    """The tape and the flags of a wire's ends, near to these where there is room."""
    y = wire.left.y

    def place(wide: float, way: int) -> float:
        """The left end of what is so wide, near an end of the wire."""
        at = _near(_free(*wire.level, y - FLAG / 2, y + FLAG / 2, standing, taken), wide, way)
        taken.append((at, at + wide))
        return at

    for pin, way in ((wire.left, 1), (wire.right, -1)):
        marked, numbers = words[pin.point].marked, flags.of(pin.point)
        if marked:
            band(pin, marked, place(FLAG, way) + FLAG / 2, y)
        if numbers:
            flag_row(numbers, place(FLAG * len(numbers), way) + FLAG / 2, y - 0.9)


def _length(strip: Strip) -> float:
    return strip[1] - strip[0]


def _free(
    start: float,
    end: float,
    top: float,
    bottom: float,
    standing: Sequence[Upright],
    taken: Sequence[Strip] = (),
) -> list[Strip]:
    """What is free along a level wire, clear of upright wires and of its own ends, from the left."""
    crossed = [(each.x, each.x) for each in standing if each.top < bottom and top < each.bottom]
    return [(left + CLEAR, right - CLEAR) for left, right in gaps(start, end, (*crossed, *taken))]


def _near(free: Sequence[Strip], wide: float, way: int) -> float:
    """Where what is so wide begins: in the first place from an end that takes it, or in the widest."""
    for strip in free[::way]:
        if _length(strip) >= wide:
            return strip[0] if way > 0 else strip[1] - wide
    strip = max(free, key=_length)
    return (strip[0] + strip[1] - wide) / 2

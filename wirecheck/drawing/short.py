"""What is told of a wire that stays in its room: its name and color at either end, and what it is between.

It stands over the wire, where no upright wire is for so long; else beside all that comes down, and its name
alone is on the wire, in a gap. Where no gap takes that, a thin line leads from the wire to the words. The
flags and the tape of an end are on the wire, as near to that end as there is room.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise

from wirecheck.drawing.colors import Page
from wirecheck.drawing.flags import Flag, Flags
from wirecheck.drawing.letters import text_width
from wirecheck.drawing.places import FAN, FLAG, SMALL, EndLabel
from wirecheck.drawing.rooms import Pin, Port
from wirecheck.drawing.sheet import Line, Sheet
from wirecheck.drawing.uprights import Upright, uprights
from wirecheck.drawing.within import GAP, write_on_wire
from wirecheck.drawing.within import HIGH as LEVEL

ABOVE, HIGH = 8.6, 14.5
"""How far over its wire the middle of the words is, and how far over it all of them are."""
BETWEEN, CLEAR, CORNER = 8.0, 5.0, 10.0
"""How far words are from one another, from an upright wire, and from where their own wire turns."""
THIN = 0.7

Pair = tuple[Port, Port]
Strip = tuple[float, float]
"""A left and a right end."""


def told_width(pair: Pair, words: dict[str, EndLabel], flags: Flags) -> float:
    """How wide the words of a wire that stays in its room are, with the flags of what they are between."""
    ends = sum(text_width(words[port.pins[0].point].text, SMALL) for port in pair)
    bundle = pair[0].bundle
    told = text_width(" ".join(bundle.words), SMALL) + FLAG * max(len(flags.of(bundle.name)), 1)
    return ends + told + 2 * BETWEEN


def tell_inner(
    sheet: Sheet,
    page: Page,
    pair: Pair,
    words: dict[str, EndLabel],
    flags: Flags,
    flag_row: Callable[[Iterable[Flag], float, float], None],
    band: Callable[[Pin, str, float, float], None],
) -> None:
    """Write the words of a wire that stays in its room, and mark its ends.

    Parameters
    ----------
    words : what stands at each conductor's end, by its point.
    flag_row : draws flags side by side, from the middle of the first one on.
    band : draws the tape of a color around a point.
    """
    room, bundle = pair[0].room, pair[0].bundle
    left, right = sorted((port.pins[0] for port in pair), key=lambda pin: pin.end)
    start, end, y = room.x + left.end, room.x + right.end, left.y
    standing = list(uprights(room))
    wide = told_width(pair, words, flags)
    over = max(_free(start + CORNER, end - CORNER, y - HIGH, y + 2, standing), key=_length)
    taken: list[Strip] = []
    if _length(over) >= wide:
        x = (sum(over) - wide) / 2
        taken.append((x, x + wide))
    else:
        x = room.x + room.width - FAN - wide
        on = max(_free(start + CORNER, end - CORNER, y - LEVEL, y + LEVEL, standing), key=_length)
        names = (words[left.point].name, bundle.name)
        name = next((name for name in names if text_width(name, SMALL) + 2 * GAP <= _length(on)), "")
        if name:
            half, middle = text_width(name, SMALL) / 2 + GAP, sum(on) / 2
            taken.append((middle - half, middle + half))
            write_on_wire(sheet, page, f"within-{left.point}", name, left.point, middle, y)
        else:
            thin = ((end, y), (x + wide, y))
            sheet.lines.append(
                Line(f"told-{bundle.name}", bundle.title, (thin,), page.faint, THIN, kind="told", layer=-2)
            )
    for pin, color in ((left, page.ink), (None, page.faint), (right, page.ink)):
        name, text, title = f"label-{bundle.name}", " ".join(bundle.words), bundle.title
        if pin is not None:
            name, text, title = f"label-{pin.point}", words[pin.point].text, pin.point
        kind = "label end" if pin else "label"
        word = sheet.write(name, text, x, y - ABOVE, SMALL, color, align="start", title=title, kind=kind)
        x += word.width + BETWEEN
        if pin is None:
            numbers = flags.of(bundle.name)
            flag_row(numbers, x - BETWEEN + FLAG / 2 + 2, y - ABOVE)
            x += FLAG * max(len(numbers), 1)
    for pin, way in ((left, 1), (right, -1)):
        marked, numbers = words[pin.point].marked, flags.of(pin.point)

        def place(wide: float, way: int = way) -> float:
            """The left end of what is so wide, near this end of the wire."""
            free = _free(start, end, y - FLAG / 2, y + FLAG / 2, standing, taken)
            at = _near(free, wide, way)
            taken.append((at, at + wide))
            return at

        if marked:
            band(pin, marked, place(FLAG) + FLAG / 2, y)
        if numbers:
            flag_row(numbers, place(FLAG * len(numbers)) + FLAG / 2, y - 0.9)


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
    within = sorted(strip for strip in (*crossed, *taken) if start < strip[1] and strip[0] < end)
    ends = [(start, start), *within, (end, end)]
    return [(one[1] + CLEAR, other[0] - CLEAR) for one, other in pairwise(ends)]


def _near(free: Sequence[Strip], wide: float, way: int) -> float:
    """Where what is so wide begins: in the first place from an end that takes it, or in the widest."""
    for strip in free[::way]:
        if _length(strip) >= wide:
            return strip[0] if way > 0 else strip[1] - wide
    strip = max(free, key=_length)
    return (strip[0] + strip[1] - wide) / 2

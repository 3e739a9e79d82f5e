"""The colors of wires, and their marks, named again inside a room that is so wide that their words are far.

They stand over their wire, as near to where it turns to its screw as there is room. That is first looked
for where no wire comes down, wherever wires are landed: so words stay where they are as a wire is put
elsewhere. Only where there is no such place do they stand where none comes down as they are landed now, but
not over a bar, on which each wire more or less moves the others. A long wire over which another lies all the
way has its word on itself, in a gap. So has a long jumper, whose color tells nothing: it says which two
screws it joins. No finding and no state moves them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from wirecheck.drawing.again import FAR
from wirecheck.drawing.colors import Page
from wirecheck.drawing.flags import jumper_name
from wirecheck.drawing.free import Box
from wirecheck.drawing.letters import text_width
from wirecheck.drawing.places import (
    FAN,
    FLAG,
    OVER,
    OVER_WIRE,
    ROW,
    SMALL,
    EndLabel,
    end_width,
    half_column,
)
from wirecheck.drawing.rooms import Pin, Room, Slot
from wirecheck.drawing.sheet import Line, Sheet
from wirecheck.drawing.tails import pigtail_color
from wirecheck.drawing.uprights import Upright, uprights, widest_gap

HIGH = 6.0
"""What is free over the middle of a word and under it."""
CLEAR = 6.0
"""How far a word is from an upright wire."""
LONG, GAP = 260.0, 2.0
"""How far a wire runs that has its word on itself, and how far the gap is wider than that, on each side."""
HEIGHT, CORNER = 8.4, 14.0
"""How high the gap is, and how far it is from where its wire turns, so that the wire is seen to go on."""
SPARE = 9.0
"""How far aside a pigtail that leads to no screw reaches."""
MOST_FLAGS = 4
"""How many flags may stand before the words of a wire that stays in its room."""

Strip = tuple[float, float]
"""A left and a right end."""


class Run(NamedTuple):
    """A level piece of a wire, from behind its words to where it ends or turns."""

    name: str
    color: str
    start: float
    end: float
    y: float


def name_within(sheet: Sheet, page: Page, rooms: Sequence[Room], words: dict[str, EndLabel]) -> None:
    """Name the wires again that run far in a room, where there is room over them.

    Parameters
    ----------
    words : what stands at each conductor's end, by its point.
    """
    for room in rooms:
        ends = _ends(room)
        runs = [run for run in _runs(room, words, ends) if abs(run.end - run.start) > FAR]
        columns = list(_columns(room)) if runs else []
        bars = [_column(room, slot) for body in room.bodies for slot in body.slots if slot.bar]
        wires = list(_wires(room, ends)) if runs else []
        points = {pin.point for pin in room.pins}
        level = [pin.y for pin in room.pins]
        level += [room.y + splice.link_y for splice in room.splices if len(splice.tails) > 1]
        # Its flags stand on a jumper.
        level += [room.y + y + FLAG / 2 for y in room.jumper_at]
        for run in runs:
            over = run.y - OVER_WIRE
            # Nothing comes down through what is over the uppermost wire.
            crossed = columns if any(pin.y < run.y for pin in room.pins) else []
            close = any(0 < run.y - y < ROW for y in level)
            landed = [(box[0], box[2]) for box in wires if box[1] < over < box[3]]
            far = abs(run.end - run.start) / 2
            middle = None if close else _middle(run, crossed, far)
            if middle is None:
                middle = _middle(run, [*bars, *landed], FAR / 2)
            if middle is not None:
                sheet.write(
                    f"within-{run.name}", run.color, middle, over, SMALL, page.ink,
                    title=run.name, kind="label within",
                )  # fmt: skip
            elif run.name in points and abs(run.end - run.start) > LONG:
                corner = CORNER if run.end > run.start else -CORNER
                crossing = _crossing(run.y, uprights(room))
                middle = _middle(run._replace(end=run.end - corner), crossing, FAR / 2)
                if middle is not None:
                    write_on_wire(sheet, page, f"within-{run.name}", run.color, run.name, middle, run.y)


def name_jumper(sheet: Sheet, page: Page, room: Room, number: int, standing: Sequence[Upright]) -> float:
    """Write on a long jumper which screws it joins; returns the middle of where its flags stand, beside that.

    Parameters
    ----------
    standing : the upright wires of the room.
    """
    run, middle, long = _jumper(room, number, standing)
    taken = [*_crossing(run.y, standing), (middle - FLAG, middle + FLAG)]
    gap = max(gaps(run.start + CORNER, run.end - CORNER, taken), key=lambda gap: gap[1] - gap[0])
    if long and gap[1] - gap[0] >= text_width(run.color, SMALL) + 2 * CLEAR:
        write_on_wire(sheet, page, f"{run.name}-within", run.color, run.name, sum(gap) / 2, run.y)
    return middle


def _jumper(room: Room, number: int, standing: Sequence[Upright]) -> tuple[Run, float, bool]:
    """The level piece of a jumper, where its flags stand, and whether it is long; it says what it joins."""
    ends = sorted(room.jumpers[number], key=lambda tail: tail.x)
    y = room.y + room.jumper_at[number]
    start, end = (room.x + tail.x for tail in ends)
    names = " to ".join(tail.slot.terminal.name for tail in ends)
    left, right = widest_gap(start, end, y, standing)
    heights = (room.y + (room.ceiling if tail.slot.over else room.floor) for tail in ends)
    long = end - start + sum(abs(y - height) for height in heights) > LONG
    both = long and right - left > text_width(names, SMALL) + 2 * CLEAR + CORNER + 2 * FLAG
    middle = left + FLAG + CLEAR if both else (left + right) / 2
    return Run(jumper_name(room, number), names, start, end, y), middle, long


def _crossing(y: float, standing: Iterable[Upright]) -> list[Strip]:
    """Where a word that is on a wire at y may not be: on the upright ones there."""
    return [(each.x, each.x) for each in standing if each.top - HIGH < y < each.bottom + HIGH]


def write_on_wire(sheet: Sheet, page: Page, name: str, text: str, wire: str, middle: float, y: float) -> None:
    """Write words called `name` in a gap of a level wire; `wire` is what who points at them reads."""
    half = text_width(text, SMALL) / 2 + GAP
    gap = ((middle - half, y), (middle + half, y))
    sheet.lines.append(Line(f"{name}-gap", wire, (gap,), page.room, HEIGHT, kind="inline"))
    sheet.write(name, text, middle, y, SMALL, page.ink, title=wire, kind="label inline")


def _ends(room: Room) -> dict[int, float]:
    """Where each conductor's level piece ends: at its screw's column or at its splice."""
    ends = {id(tail.pin): room.x + tail.x for tail in room.direct}
    return ends | {id(pin): room.x + splice.x for splice in room.splices for pin in splice.pins}


def _runs(room: Room, words: dict[str, EndLabel], ends: dict[int, float]) -> Iterator[Run]:
    """Each conductor from behind its words to its splice or its screw, and each row of pigtails.

    But what is close under the screws of devices that stand over the wires: their flags are there.
    """
    for splice in room.splices:
        if splice.pins and len(splice.tails) > 1 and not splice.tails[0].slot.over:
            down = sorted(room.x + tail.x for tail in splice.tails)
            name, color = splice.tails[-1].slot.terminal.name, pigtail_color(splice, words)
            yield Run(name, color, down[0], down[-1], room.y + splice.link_y)
    first = room.y + room.first + (ROW if any(body.over for body in room.bodies) else 0.0)
    beyond = _beyond(room)
    for pin in room.pins:
        other = beyond.get(id(pin))
        # The words of what it goes on as would stand beside its own.
        told = other is not None and abs(_behind(other, words) - ends[id(pin)]) < FAR / 2
        if id(pin) in ends and pin.y > first and not told and not pin.port.inner:
            # White that is marked is no neutral: with its mark, as at its cable, or not at all.
            color = words[pin.point]._replace(name=pin.conductor.color).text
            yield Run(pin.point, color, _behind(pin, words), ends[id(pin)], pin.y)


def _beyond(room: Room) -> dict[int, Pin]:
    """Of each conductor the one of its splice and color that lies on its row, on the other side."""
    return {
        id(pin): other
        for splice in room.splices
        for pin in splice.pins
        for other in splice.pins
        if (other.y, other.left, other.conductor.color) == (pin.y, not pin.left, pin.conductor.color)
    }


def _behind(pin: Pin, words: dict[str, EndLabel]) -> float:
    """Where the words of a conductor's end are over, and those of a wire that stays in its room."""
    width = end_width(words[pin.point], 1)
    return pin.port.wall + (FAN + width if pin.left else -FAN - width)


def _columns(room: Room) -> Iterator[Strip]:
    """Where wires may stand upright: over and under each screw, and in a splice that leads to none."""
    for body in room.bodies:
        for slot in body.slots:
            yield _column(room, slot)
    for splice in room.splices:
        aside = SPARE * splice.spare
        yield room.x + splice.x - aside, room.x + splice.x + aside


def _column(room: Room, slot: Slot) -> Strip:
    """Where wires may stand upright over and under a screw or a bar."""
    half = half_column(slot, room.cables, OVER)
    return room.x + slot.x - half, room.x + slot.x + half


def _wires(room: Room, ends: dict[int, float]) -> Iterator[Box]:
    """Where the middle of a word may not be: on each wire as it is landed."""
    off = OVER_WIRE - 0.2
    beyond = {
        id(pin): room.x + other.end
        for pair in room.inner
        for one, two in (pair, pair[::-1])
        for pin, other in zip(one.pins, two.pins, strict=True)
    }
    for pin in room.pins:
        wall = beyond.get(id(pin), pin.port.wall)
        end = ends.get(id(pin), wall)
        yield min(wall, end), pin.y - off, max(wall, end), pin.y + off
    for splice in room.splices:
        at = [room.x + splice.x, *(room.x + tail.x for tail in splice.tails)]
        y = room.y + splice.link_y
        yield min(at), y - off, max(at), y + off
        aside = SPARE * splice.spare
        if aside:
            y = splice.pins[0].y
            yield at[0] - aside, y - ROW - HIGH, at[0] + aside, y + HIGH
    standing = list(uprights(room))
    for number in range(len(room.jumpers)):
        run, middle, _ = _jumper(room, number, standing)
        yield run.start, run.y - off, run.end, run.y + off
        # Its flags stand on it.
        high = HIGH + FLAG / 2
        yield middle - MOST_FLAGS * FLAG / 2, run.y - high, middle + MOST_FLAGS * FLAG / 2, run.y + high
    for upright in standing:
        yield upright.x, upright.top - HIGH, upright.x, upright.bottom + HIGH


def _middle(run: Run, taken: Sequence[Strip], far: float) -> float | None:
    """Where the word of a run is put: in the last gap that takes it, so far from where it begins."""
    wide = text_width(run.color, SMALL) + 2 * CLEAR
    way = 1 if run.end > run.start else -1
    low, high = sorted((run.end, run.start + way * far))
    for start, end in gaps(low, high, taken)[::-way]:
        if end - start >= wide:
            return (end if way > 0 else start) - way * wide / 2
    return None


def gaps(low: float, high: float, taken: Iterable[Strip]) -> list[Strip]:
    """What is free between two ends, from the left.

    >>> gaps(0, 90, [(20, 60), (30, 40)])
    [(0, 20), (60, 30), (60, 90)]
    """
    found = []
    left = low
    for start, end in sorted(each for each in taken if low < each[1] and each[0] < high):
        found.append((left, start))
        left = max(left, end)
    return [*found, (left, high)]

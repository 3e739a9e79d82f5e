"""The colors of wires, named again inside a room that is so wide that their words are far.

They stand over their wire, as near to where it turns to its screw as there is room. That is first looked
for where no wire comes down, wherever wires are landed: so words stay where they are as a wire is put
elsewhere. Only where there is no such place do they stand where none comes down as they are landed now. A
long wire over which another lies all the way has its word on itself, in a gap. No finding and no state moves
them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from wirecheck.drawing.again import FAR
from wirecheck.drawing.colors import Page
from wirecheck.drawing.free import Box
from wirecheck.drawing.letters import text_width
from wirecheck.drawing.places import (
    FAN,
    FLAG,
    OVER,
    ROW,
    SMALL,
    TURN,
    EndLabel,
    end_width,
    half_column,
)
from wirecheck.drawing.rooms import Pin, Room
from wirecheck.drawing.sheet import Line, Sheet
from wirecheck.drawing.uprights import Upright, uprights

ABOVE = 8.6
"""How far over its wire the middle of a word is, and HIGH, what is free over it and under it."""
HIGH = 6.0
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
        wires = list(_wires(room, ends)) if runs else []
        points = {pin.point for pin in room.pins}
        for run in runs:
            over = run.y - ABOVE
            # Nothing comes down through what is over the uppermost wire.
            crossed = columns if any(pin.y < run.y for pin in room.pins) else []
            close = any(0 < run.y - pin.y < ROW for pin in room.pins)
            landed = [(box[0], box[2]) for box in wires if box[1] < over < box[3]]
            far = abs(run.end - run.start) / 2
            middle = None if close else _middle(run, crossed, far)
            if middle is None:
                middle = _middle(run, landed, FAR / 2)
            if middle is not None:
                sheet.write(
                    f"within-{run.name}", run.color, middle, over, SMALL, page.ink,
                    title=run.name, kind="label within",
                )  # fmt: skip
            elif run.name in points and abs(run.end - run.start) > LONG:
                _on_itself(sheet, page, run, uprights(room))


def _on_itself(sheet: Sheet, page: Page, run: Run, standing: Iterable[Upright]) -> None:
    """Write the word of a run in a gap of its wire, where there is room between the upright ones."""
    crossing = [(each.x, each.x) for each in standing if each.top - HIGH < run.y < each.bottom + HIGH]
    corner = CORNER if run.end > run.start else -CORNER
    middle = _middle(run._replace(end=run.end - corner), crossing, FAR / 2)
    if middle is None:
        return
    half = text_width(run.color, SMALL) / 2 + GAP
    gap = ((middle - half, run.y), (middle + half, run.y))
    sheet.lines.append(Line(f"within-{run.name}-gap", run.name, (gap,), page.room, HEIGHT, kind="inline"))
    sheet.write(
        f"within-{run.name}", run.color, middle, run.y, SMALL, page.ink, title=run.name, kind="label inline"
    )


def _ends(room: Room) -> dict[int, float]:
    """Where each conductor's level piece ends: at its screw's column or at its splice."""
    ends = {id(tail.pin): room.x + tail.x for tail in room.direct}
    return ends | {id(pin): room.x + splice.x for splice in room.splices for pin in splice.pins}


def _runs(room: Room, words: dict[str, EndLabel], ends: dict[int, float]) -> Iterator[Run]:
    """Each conductor from behind its words to its splice or its screw, and each row of pigtails.

    But what is close under the screws of devices that stand over the wires: their flags are there.
    """
    for splice in room.splices:
        if len(splice.tails) > 1 and not splice.tails[0].slot.over:
            down = sorted(room.x + tail.x for tail in splice.tails)
            name, upper = splice.tails[-1].slot.terminal.name, min(splice.pins, key=_from_above)
            yield Run(name, upper.conductor.color, down[0], down[-1], room.y + splice.link_y)
    first = room.y + room.first + (ROW if any(body.over for body in room.bodies) else 0.0)
    for pin in room.pins:
        if id(pin) in ends and pin.y > first:
            yield Run(pin.point, pin.conductor.color, _behind(pin, words), ends[id(pin)], pin.y)


def _from_above(pin: Pin) -> tuple[float, bool]:
    """Pigtails have the color of the uppermost wire of their splice, of the left one where there are two."""
    return pin.y, not pin.left


def _behind(pin: Pin, words: dict[str, EndLabel]) -> float:
    """Where the words of a conductor's end are over, and those of a wire that stays in its room."""
    width = end_width(words[pin.point], 1)
    if pin.port.inner:
        told = text_width(" ".join(pin.port.bundle.words), SMALL)
        return pin.port.room.x + pin.turn - width - told - FLAG * MOST_FLAGS
    return pin.port.wall + (FAN + width if pin.left else -FAN - width)


def _columns(room: Room) -> Iterator[Strip]:
    """Where wires may stand upright: over and under each screw, and in a splice that leads to none."""
    for body in room.bodies:
        for slot in body.slots:
            half = half_column(slot, room.cables, OVER)
            yield room.x + slot.x - half, room.x + slot.x + half
    for splice in room.splices:
        aside = SPARE * splice.spare
        yield room.x + splice.x - aside, room.x + splice.x + aside


def _wires(room: Room, ends: dict[int, float]) -> Iterator[Box]:
    """Where the middle of a word may not be: on each wire as it is landed."""
    off = ABOVE - 0.2
    for pin in room.pins:
        wall = room.x + pin.turn + TURN if pin.port.inner else pin.port.wall
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
    for (one, other), level in zip(room.jumpers, room.jumper_at, strict=True):
        left, right = sorted((room.x + one.x, room.x + other.x))
        # Its flags stand on it.
        y = room.y + level
        yield left, y - HIGH - FLAG / 2, right, y + HIGH + FLAG / 2
    for upright in uprights(room):
        yield upright.x, upright.top - HIGH, upright.x, upright.bottom + HIGH
    for pair in room.inner:
        pins = [pin for port in pair for pin in port.pins]
        x, heights = room.x + pins[0].turn + TURN, [pin.y for pin in pins]
        yield x, min(heights) - HIGH, x, max(heights) + HIGH


def _middle(run: Run, taken: Sequence[Strip], far: float) -> float | None:
    """Where the word of a run is put: in the last gap that takes it, so far from where it begins."""
    wide = text_width(run.color, SMALL) + 2 * CLEAR
    way = 1 if run.end > run.start else -1
    low, high = sorted((run.end, run.start + way * far))
    gaps = []
    left = low
    for start, end in sorted(each for each in taken if low < each[1] and each[0] < high):
        gaps.append((left, start))
        left = max(left, end)
    gaps.append((left, high))
    for start, end in gaps[::-way]:
        if end - start >= wide:
            return (end if way > 0 else start) - way * wide / 2
    return None

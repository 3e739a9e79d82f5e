"""The colors of a cable's wires, named again where it runs far from one box to the next.

They stand beside the cable where nothing is, each with a line to its wire. Where they stand depends on the
boxes and the cables alone: no wire that is put elsewhere, no finding and no state moves them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from wirecheck.drawing.colors import Page
from wirecheck.drawing.free import Box
from wirecheck.drawing.free import busy as busy_boxes
from wirecheck.drawing.letters import text_width
from wirecheck.drawing.places import LABEL_LINE, SMALL, Cable
from wirecheck.drawing.rooms import Room
from wirecheck.drawing.sheet import Line, Sheet, Spot

FAR = 200.0
"""How far a cable runs upright, in points, before its wires are named again."""
AWAY, CLEAR = 9.0, 4.0
"""How far the words are from their cable, and from all else."""
DOT = 3.4
STEP = 7.0


def name_again(
    sheet: Sheet, page: Page, rooms: Sequence[Room], cables: Sequence[Cable], words: Mapping[str, float]
) -> None:
    """Name the wires of each cable that runs far, where there is room beside it.

    Parameters
    ----------
    words : how wide the label of each bundle is, by the bundle's name.
    """
    long = [cable for cable in cables if _upright(cable)]
    if not long:
        return
    busy = list(busy_boxes(rooms, cables, words))
    right = max(box[2] for box in busy)
    for cable in long:
        where = _place(cable, busy, right)
        if where is not None:
            busy.append(where)
            _write(sheet, page, cable, where)


def _upright(cable: Cable) -> bool:
    one, other = cable.ports
    far = not cable.straight and abs(one.y - other.y) > FAR + LABEL_LINE * len(one.pins)
    return far and bool(one.pins)


def _place(cable: Cable, busy: Sequence[Box], edge: float) -> Box | None:
    """Where the words of a cable stand: beside its middle, or as near to that as there is room.

    `edge` is how far the drawing reaches to the right.
    """
    one, other = cable.ports
    wide = max(text_width(pin.conductor.color, SMALL) for pin in one.pins)
    high = LABEL_LINE * len(one.pins)
    middle, reach = (one.y + other.y) / 2, abs(one.y - other.y) / 2 - cable.half - high / 2
    aside = cable.half + AWAY + wide
    upper, lower = sorted((one.y, other.y))
    where = (cable.track - aside, upper, cable.track + aside, lower)
    busy = [box for box in busy if _meet(where, box)]
    for step in range(int(2 * reach / STEP)):
        y = middle + STEP * ((step + 1) // 2) * (1 if step % 2 else -1)
        for side in (-1, 1):
            near = cable.track + side * (cable.half + AWAY)
            left, right = sorted((near, near + side * wide))
            box = (left, y - high / 2, right, y + high / 2)
            if left >= 0 and right <= edge and not any(_meet(box, each) for each in busy):
                return box
    return None


def _meet(one: Box, other: Box) -> bool:
    return (
        one[0] - CLEAR < other[2]
        and other[0] < one[2] + CLEAR
        and one[1] - CLEAR < other[3]
        and other[1] < one[3] + CLEAR
    )


def _write(sheet: Sheet, page: Page, cable: Cable, box: Box) -> None:
    """Write the colors one under the other, that of the nearest wire first, each with its line."""
    one = cable.ports[0]
    left = box[0] < cable.track
    edge = box[2] if left else box[0]
    ways = {pin.conductor.name: cable.between(pin.wall_y - one.y)[0][0] for pin in one.pins}
    pins = sorted(one.pins, key=lambda pin: abs(ways[pin.conductor.name] - edge))
    for row, pin in enumerate(pins):
        name, y = pin.conductor.name, box[1] + LABEL_LINE * (row + 0.5)
        x = ways[name]
        start = edge + (2.5 if left else -2.5)
        sheet.write(
            f"again-{name}", pin.conductor.color, edge, y, SMALL, page.ink,
            align="end" if left else "start", title=name, kind="label again",
        )  # fmt: skip
        sheet.lines.append(
            Line(f"again-{name}-line", name, (((start, y), (x, y)),), page.ink, 0.7, kind="again")
        )
        sheet.marks.append(
            Spot(f"again-{name}-dot", name, x, y, DOT, DOT, page.ink, page.ground, pen=0.6, kind="again")
        )

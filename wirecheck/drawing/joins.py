"""What goes on through a cut, and the mark that it has on both sheets: a cable one, and a wire by itself one.

Wires beside one another, nearer than their marks could be, have one mark, as in a cable: they go on in
the same order. A rung has the number of its line, all else a letter that stands nowhere else on the drawing.
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence
from itertools import count, pairwise, product
from math import inf
from typing import NamedTuple

from wirecheck.drawing.boxes import mark_box
from wirecheck.drawing.colors import INSULATION
from wirecheck.drawing.cuts import LADDER, SHEATHS, WIRES, Cut
from wirecheck.drawing.key import PAINTED
from wirecheck.drawing.sheet import Line, Sheet, Words

ROUND = 13.0
"""How wide the circle of a mark is, in points of the paper."""
APART = 14.5
"""How far the circles are apart at the least."""
COLOR = {f"{part} {color}": color for part, color in product(PAINTED, INSULATION)}
"""The color of each kind of line that is a wire."""
BUNDLED = 9.0
"""Nearer to the next than this a wire is of a bundle, in points of the paper: a circle for each would stand
by the next wire."""


class Join(NamedTuple):
    """Where something goes through a cut: the cut's axis and place, how far along it, and its mark.

    `shown` is how far along the cut the mark stands, `name` that of a rail, `wide` how far the outer
    wires of a bundle are apart, and `color` that of a wire, or of all wires of a bundle. `tape` is the
    tape that both ends of the wire are marked with, as it is drawn at one of them.
    """

    axis: int
    at: float
    along: float
    mark: str
    shown: float
    name: str = ""
    wide: float = 0.0
    color: str = ""
    tape: tuple[Line, ...] = ()


def joins(sheet: Sheet, cut: Cut) -> list[Join]:
    """The marks at the cuts of a drawing, from the top and from the left."""
    taken = {mark.text for mark in sheet.marks if isinstance(mark, Words)}
    letters = (letter for letter in map(_letter, count()) if letter not in taken)
    found, used = [], set[str]()
    inner = cut.across[1:-1], cut.down[1:-1]
    for axis, places in enumerate(inner):
        for at in places:
            through = _through_cut(sheet, axis, at, BUNDLED / cut.scale, inner[1 - axis])
            middles = [(low + high) / 2 for low, high in through]
            marks = spread(middles, APART / cut.scale)
            colors = _colors(sheet, axis, at)
            for (low, high), along, shown in zip(through, middles, marks, strict=True):
                row = "" if axis else _name(sheet, "row", 0, at, along)
                mark = row if row and row not in used else next(letters)
                used.add(mark)
                name = _name(sheet, "rail-name", 1, at, along) if axis else ""
                here = {color for place, color in colors.items() if low <= place <= high}
                color, tape = here.pop() if len(here) == 1 else ("", ())
                found.append(Join(axis, at, along, mark, shown, name, high - low, color, tape))
    return found


class Again(NamedTuple):
    """What is told again where a cut parts something from its name, and how far along the cut."""

    text: str
    title: str
    along: float


def rows_again(sheet: Sheet, here: Sequence[Join]) -> Iterator[Again]:
    """The numbers of the lines of a ladder that an upright cut parts from all of them that is beyond it."""
    rows = [mark for mark in sheet.marks if isinstance(mark, Words) and mark.kind == "row"]
    marked = {join.mark for join in here}
    cut = {mark_box(row)[0] for row in rows if row.text in marked}
    for row in rows:
        if row.text not in marked and any(abs(mark_box(row)[0] - left) < 1 for left in cut):
            end = min((other.x for other in rows if other.x > here[0].at), default=inf)
            if any(_is_on(line, row.y, here[0].at, end) for line in sheet.lines):
                yield Again(row.text, row.title, row.y)


def _is_on(line: Line, y: float, start: float, end: float) -> bool:
    """Whether a wire of a ladder runs level there, between these."""
    return line.kind in LADDER and any(
        abs(one[1] - y) < 1 and abs(other[1] - y) < 1 and start <= min(one[0], other[0]) < end
        for piece in line.pieces
        for one, other in pairwise(piece)
    )


def headings_cut(sheet: Sheet, here: Sequence[Join]) -> Iterator[Words]:
    """The headings of the ladders that an upright cut goes through, nearest over their lines."""
    marked = {join.mark: join for join in here}
    headings = [mark for mark in sheet.marks if isinstance(mark, Words) and mark.kind == "heading"]
    found = dict[str, Words]()
    for row in sheet.marks:
        if isinstance(row, Words) and row.kind == "row" and row.text in marked:
            over = [each for each in headings if each.y < row.y and mark_box(each)[0] < marked[row.text].at]
            if over:
                nearest = max(over, key=lambda each: (mark_box(each)[0], each.y))
                found[nearest.id] = nearest
    yield from found.values()


def free_along(low: float, high: float, long: float, here: Sequence[Join], half: float) -> float | None:
    """The first place along a cut where something is as long as this beside the marks there, if there is one.

    >>> joins = [Join(0, 0, at, "A", at) for at in (10, 40)]
    >>> free_along(0, 90, 9, joins, 6), free_along(0, 90, 30, joins, 6), free_along(0, 50, 30, joins, 6)
    (20, 50, None)
    """
    starts = [low, *(join.shown + half for join in here)]
    for start in (each + 4 for each in starts):
        end = start + long
        beside = all(join.shown + half < start or end < join.shown - half for join in here)
        if low < start and end < high and beside:
            return start
    return None


def _through_cut(
    sheet: Sheet, axis: int, at: float, near: float, corners: Sequence[float]
) -> list[tuple[float, float]]:
    """From where to where along a cut something goes through it: a cable's middle, a wire, a bundle."""
    sheaths = _sheaths(sheet, axis, at)
    rungs, wires = (
        {along for along, _ in _outside(sheet, kinds, sheaths, axis, at)} for kinds in (LADDER, WIRES)
    )
    middles = rungs | {round((low + high) / 2, 1) for low, high in sheaths}
    return sorted({(along, along) for along in middles} | set(bundles(sorted(wires - rungs), near, corners)))


def _sheaths(sheet: Sheet, axis: int, at: float) -> list[tuple[float, float]]:
    """From where to where along a cut the cables and raceways are that go through it."""
    return [
        (along - line.pen / 2, along + line.pen / 2)
        for line in sheet.lines
        if line.kind in SHEATHS
        for along in _through(line, axis, at)
    ]


def _outside(
    sheet: Sheet, kinds: Container[str], sheaths: Sequence[tuple[float, float]], axis: int, at: float
) -> Iterator[tuple[float, Line]]:
    """The lines of these kinds that go through a cut in no cable, each with how far along it."""
    for line in sheet.lines:
        if line.kind in kinds:
            places = [round(along, 1) for along in _through(line, axis, at)]
            yield from (
                (place, line) for place in places if not any(low < place < high for low, high in sheaths)
            )


def _colors(sheet: Sheet, axis: int, at: float) -> dict[float, tuple[str, tuple[Line, ...]]]:
    """The color of each wire that goes through a cut in no cable, and its tape, by how far along it."""
    bands = {line.id: line for line in sheet.lines if line.kind == "band"}
    wires = _outside(sheet, COLOR, _sheaths(sheet, axis, at), axis, at)
    return {along: (COLOR[wire.kind], _tape(wire, bands)) for along, wire in wires}


def _tape(wire: Line, bands: Mapping[str, Line]) -> tuple[Line, ...]:
    """The tape on both ends of a wire, where they are marked alike: its edge, and what it is painted."""
    one, other = (bands.get(f"band-{end}") for end in (wire.tail, wire.head))
    if one is None or other is None or one.color != other.color:
        return ()
    return bands[f"{one.id}-edge"], one


def bundles(wires: Sequence[float], near: float, corners: Sequence[float] = ()) -> list[tuple[float, float]]:
    """From where to where wires are that stand nearer to the next than this, with no corner between.

    >>> bundles([0, 5, 9, 30, 35], 6), bundles([0, 5, 9], 6, [7])
    ([(0, 9), (30, 35)], [(0, 5), (9, 9)])
    """
    found: list[tuple[float, float]] = []
    for wire in wires:
        last = found[-1][1] if found else None
        if last is None or wire - last >= near or any(last <= corner < wire for corner in corners):
            found.append((wire, wire))
        else:
            found[-1] = (found[-1][0], wire)
    return found


def _through(line: Line, axis: int, at: float) -> Iterator[float]:
    """How far along a cut the pieces of a line go through it."""
    for piece in line.pieces:
        for one, other in pairwise(piece):
            low, high = sorted((one[axis], other[axis]))
            if low < at <= high:
                part = (at - one[axis]) / (other[axis] - one[axis])
                yield one[1 - axis] + part * (other[1 - axis] - one[1 - axis])


def _name(sheet: Sheet, kind: str, axis: int, at: float, along: float) -> str:
    """The name of what goes through a cut there, of words of a kind before it: of a line, or of a rail."""
    before = [
        mark
        for mark in sheet.marks
        if isinstance(mark, Words)
        and mark.kind == kind
        and (mark.x, mark.y)[axis] < at
        and abs((mark.x, mark.y)[1 - axis] - along) < 1
    ]
    return max(before, key=lambda mark: (mark.x, mark.y)[axis]).text if before else ""


def spread(places: Sequence[float], apart: float) -> list[float]:
    """Places in order, moved as little as sets them so far apart.

    >>> spread([0, 10, 12, 40], 6)
    [0, 8.0, 14.0, 40]
    """
    groups: list[list[float]] = []
    for place in places:
        groups.append([place])
        while len(groups) > 1 and _last(groups[-2], apart) + apart > _spread(groups[-1], apart)[0]:
            groups[-2:] = [groups[-2] + groups[-1]]
    return [place for group in groups for place in _spread(group, apart)]


def _spread(group: list[float], apart: float) -> list[float]:
    if len(group) == 1:
        return group
    start = (sum(group) - apart * sum(range(len(group)))) / len(group)
    return [start + apart * number for number in range(len(group))]


def _last(group: list[float], apart: float) -> float:
    return _spread(group, apart)[-1]


def _letter(number: int) -> str:
    """A, B, ... Z, AA, AB, ...

    >>> [_letter(number) for number in (0, 25, 26)]
    ['A', 'Z', 'AA']
    """
    letter = chr(ord("A") + number % 26)
    return letter if number < 26 else _letter(number // 26 - 1) + letter

"""A drawing on sheets of paper: one where its words stay readable on it, else several that are laid together.

A drawing is cut where the fewest words and devices are in the way. At a cut, each cable and wire that goes on
has a letter, the same on both sheets.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, product
from typing import NamedTuple

from wirecheck.drawing.area import LEAST_ON_PAPER, Area
from wirecheck.drawing.letters import SMALLEST
from wirecheck.drawing.render import Size, size_of, to_svg
from wirecheck.drawing.sheet import Frame, Line, Point, Sheet, Spot, Words, dot_source

EDGE, FOOT = 30.0, 14.0
"""What a sheet keeps clear where it joins another, and for what is said at its foot, in points."""
SLACK = 0.95
"""How much of the room the drawing fills, so that there is a choice where to cut."""
MOST = 4
"""The most sheets beside one another, and below one another."""
NAMED = 55.0
"""How far below the upper edge of a ladder's heading its rails have their names and then their first sign."""
STEP = 3.0
TOO_FEW = 2.0
"""How many times as many sheets as there are a drawing fills, that it is not laid out for them."""
SCANT, EMPTY = 0.5, 100
"""With less than this of its share a sheet is nearly empty; what that costs, less than to cut a device."""
WHOLE = 1
"""How many more sheets than the fewest a drawing may take so that none of its devices is cut."""
TORN = 10_000
"""What a cut costs that leaves words no room; any other cost is far from it."""
HEADS = ("board-title", "board-title-2", "kind", "state")
_PLACE = re.compile(r"translate\([^)]*\)")
_CORNER = re.compile(r'<g id="page".*?points="[-\d.]+,[-\d.]+ ([-\d.]+),([-\d.]+)', re.DOTALL)
_OPEN = re.compile(r"<svg [^>]*>", re.DOTALL)


class Cut(NamedTuple):
    """How a drawing is laid on paper: the size of a sheet, the scale, and where it is cut."""

    size: tuple[float, float]
    scale: float
    across: tuple[float, ...]
    down: tuple[float, ...]

    @property
    def sheets(self) -> int:
        """How many sheets it takes."""
        return (len(self.across) - 1) * (len(self.down) - 1)


def laid_out(lay: Callable[[Area], Sheet], page: str | Size) -> Sheet:
    """The readable layout that takes the fewest sheets, one more where only then its devices are whole.

    Of those, the largest.

    It is tried for each way in which so many sheets can lie, upright or not, beside or under one another.

    Parameters
    ----------
    lay : gives the drawing laid out for an area.
    page : as in `on_paper`.
    """
    best: tuple[tuple[bool, int, int, float], Sheet] | None = None
    for sheets in (1, 2, 3, 4):
        if best is not None and _fewest(best[1], page) > TOO_FEW * sheets:
            continue  # No layout of it is half as small: each takes as long as a picture.
        for way in sorted((way for way in _ways(page) if way.sheets == sheets), key=lambda way: way.counts):
            sheet = lay(Area(*way.whole, LEAST_ON_PAPER / SMALLEST))
            cut = cut_for(sheet, page)
            small = cut.scale * smallest(sheet) < LEAST_ON_PAPER - 0.01
            torn = len(list(devices_cut(sheet, cut)))
            rank = (small, cut.sheets + WHOLE * bool(torn), torn, -cut.scale)
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


class _Way(NamedTuple):
    """Sheets of a size that lie so many beside and so many under one another."""

    size: tuple[float, float]
    counts: tuple[int, int]

    @property
    def sheets(self) -> int:
        return self.counts[0] * self.counts[1]

    @property
    def room(self) -> tuple[float, float]:
        """What a sheet has for its piece of a drawing."""
        clear = [EDGE * min(count - 1, 2) for count in self.counts]
        foot = FOOT if self.sheets > 1 and self.counts[1] == 1 else 0.0
        return self.size[0] - clear[0], self.size[1] - clear[1] - foot

    @property
    def whole(self) -> tuple[float, float]:
        """What all of them have together."""
        return self.room[0] * self.counts[0], self.room[1] * self.counts[1]


def _ways(page: str | Size) -> list[_Way]:
    """Every way in which sheets can lie, up to the most that there are."""
    long, short = size_of(page)
    sizes, counts = ((long, short), (short, long)), range(1, MOST + 1)
    return [_Way(size, (across, down)) for size, across, down in product(sizes, counts, counts)]


def smallest(sheet: Sheet) -> float:
    """The size of its smallest words."""
    return min((mark.size for mark in sheet.marks if isinstance(mark, Words)), default=SMALLEST)


def _least_scale(sheet: Sheet) -> float:
    """The least scale at which its smallest words are read."""
    return LEAST_ON_PAPER / smallest(sheet)


def cut_for(sheet: Sheet, page: str | Size) -> Cut:
    """The fewest sheets of paper on which every word of a drawing is readable, and where it is cut.

    Where a cut would go through a device, a smaller scale is tried at which it goes beside it, then one more
    sheet.
    """
    least = _least_scale(sheet)
    ends = ((sheet.left, sheet.left + sheet.width), (sheet.top, sheet.top + sheet.height))
    heads = [mark.x + mark.width / 2 for mark in sheet.marks if _is_head(mark)]
    head = max([EDGE, *(right - sheet.left for right in heads)])
    ways = []
    for way in _ways(page):
        scale = min(way.whole[0] / sheet.width, way.whole[1] / sheet.height)
        small = scale < least
        if way.sheets > 1 and not small:
            # The head is on the first sheet alone, and is not cut.
            whole = (way.size[0] - 0.3 * EDGE) / head
            small = whole < least
            scale = min(whole, max(least, min(1.0, SLACK * scale)))
        ways.append((small, way.sheets, -scale, way))
    first: Cut | None = None
    whole_words: Cut | None = None
    for small, sheets, minus, way in sorted(ways):
        if whole_words is not None and (small or sheets > whole_words.sheets + WHOLE):
            break
        for scale in dict.fromkeys([-minus, *([] if small or sheets == 1 else [(least - minus) / 2, least])]):
            cuts = [
                _cuts(sheet, axis, ends[axis], way.counts[axis], way.room[axis] / scale) for axis in (0, 1)
            ]
            cut = Cut(way.size, scale, cuts[0][0], cuts[1][0])
            first = first or cut
            if not any(torn for _, torn in cuts):
                whole_words = whole_words or cut
                if not any(devices_cut(sheet, cut)):
                    return cut
    found = whole_words or first
    assert found is not None
    return found


def devices_cut(sheet: Sheet, cut: Cut) -> Iterator[str]:
    """The devices that a cut goes through."""
    for frame in sheet.frames:
        left, right, top, low = _frame_box(frame)
        across = any(left < at < right for at in cut.across[1:-1])
        if frame.kind == "device" and (across or any(top < at < low for at in cut.down[1:-1])):
            yield frame.id


def _cuts(
    sheet: Sheet, axis: int, ends: tuple[float, float], count: int, room: float
) -> tuple[tuple[float, ...], bool]:
    """Where a drawing is cut into so many pieces along an axis, and whether that tears words.

    No piece is longer than the room of a sheet.
    """
    cuts, torn = [ends[0]], False
    in_the_way = _in_the_way(sheet, axis) if count > 1 else []
    for number in range(1, count):
        low, high = max(cuts[-1], ends[1] - (count - number) * room), min(cuts[-1] + room, ends[1])
        even = cuts[-1] + (ends[1] - cuts[-1]) / (count - number + 1)
        steps = max(1, int((high - low) / STEP))
        costs = []
        for step in range(steps + 1):
            at = low + (high - low) * step / steps
            cost = sum(cost for start, end, cost in in_the_way if start < at < end)
            if min(at - cuts[-1], (ends[1] - at) / (count - number)) < SCANT * (even - cuts[-1]):
                cost += EMPTY
            costs.append((cost, abs(at - even), at))
        cost, _, at = min(costs)
        cuts.append(at)
        torn = torn or cost >= TORN
    return (*cuts, ends[1]), torn


def _in_the_way(sheet: Sheet, axis: int) -> list[tuple[float, float, int]]:
    """From where to where along an axis a cut would go through something, and how bad that is."""
    found = []
    for mark in sheet.marks:
        if _is_head(mark):
            continue
        half = (mark.width, mark.size if isinstance(mark, Words) else mark.height)[axis] / 2 + 1
        at = (mark.x, mark.y)[axis]
        found.append((at - half, at + half, 30))
        # Words are written whole on one sheet, and have no more than its edge for what reaches over.
        found.append((at - half + EDGE, at + half - EDGE, TORN))
        if axis and mark.kind == "heading":
            # On the sheet before, it and the names of the rails would have nothing below them.
            found.append((at - half - 5, at - half + NAMED, 30))
    for frame in sheet.frames:
        start, length = ((frame.x, frame.width), (frame.y, frame.height))[axis]
        found.append((start - 2, start + length + 2, 400 if frame.kind == "device" else 10))
    for line in sheet.lines:
        for piece in line.pieces:
            along = [point[axis] for point in piece]
            found.append((min(along), max(along), 1))
            # Along a line, a cut would halve it.
            found += [
                (one[axis] - 6, one[axis] + 6, 9)
                for one, other in pairwise(piece)
                if one[axis] == other[axis]
            ]
    return found


def _is_head(mark: Spot | Words) -> bool:
    """Whether a mark is of the drawing's head, which is on the first sheet and no wider than it."""
    return mark.kind == "caution" or mark.id in HEADS


def on_paper(sheet: Sheet, page: str | Size) -> list[str]:
    """A drawing as SVG, one for each sheet of paper.

    Parameters
    ----------
    page : `letter`, `a4`, or the room that a sheet of another size has for it, lying on its side
    """
    cut = cut_for(sheet, page)
    if cut.sheets == 1:
        return [to_svg(dot_source(_filled(sheet, cut.size)), page)]
    across, down = list(pairwise(cut.across)), list(pairwise(cut.down))
    names = {(x, y): 1 + x + y * len(across) for y in range(len(down)) for x in range(len(across))}
    joins = _joins(sheet, cut)
    return [
        _Paper(sheet, cut, (*across[x], *down[y]), number, names, (x, y), joins).svg()
        for (x, y), number in names.items()
    ]


def _filled(sheet: Sheet, size: tuple[float, float]) -> Sheet:
    """A drawing whose ground has the shape of the paper: at its upper end, and in its middle across."""
    wide = max(sheet.width, sheet.height * size[0] / size[1])
    high = max(sheet.height, sheet.width * size[1] / size[0])
    return replace(sheet, left=sheet.left - (wide - sheet.width) / 2, width=wide, height=high)


def printed(sheet: Sheet, page: str) -> str:
    """A drawing on paper as one picture: its sheets, laid as they join."""
    pictures = on_paper(sheet, page)
    sheets_across = len(cut_for(sheet, page).across) - 1
    if len(pictures) == 1:
        return pictures[0]
    head = _OPEN.search(pictures[0])
    assert head is not None
    size = re.search(r'width="([\d.]+)pt" height="([\d.]+)pt"', head[0])
    assert size is not None
    wide, high = float(size[1]), float(size[2])
    whole_wide, whole_high = wide * sheets_across, high * (len(pictures) // sheets_across)
    parts = []
    for number, picture in enumerate(pictures):
        x, y = wide * (number % sheets_across), high * (number // sheets_across)
        start = _OPEN.search(picture)
        assert start is not None
        body = picture[start.end() :].rstrip()
        if number:
            body = re.sub(r'(<g id=")', rf"\g<1>sheet-{number + 1}-", body)
        box = re.search(r'viewBox="[^"]*"', start[0])
        assert box is not None
        parts.append(f'<svg x="{x:g}" y="{y:g}" width="{wide:g}" height="{high:g}" {box[0]}>{body}\n')
    before = pictures[0][: head.start()]
    opened = re.sub(
        r'width="[^"]*" height="[^"]*"\s+viewBox="[^"]*"',
        f'width="{whole_wide:g}pt" height="{whole_high:g}pt" viewBox="0 0 {whole_wide:g} {whole_high:g}"',
        head[0],
        count=1,
    )
    return f"{before}{opened}\n{''.join(parts)}</svg>\n"


class Join(NamedTuple):
    """Where lines go through a cut: its axis, its place, how far along it, and the letter on both sheets."""

    axis: int
    at: float
    along: float
    letter: str


def _joins(sheet: Sheet, cut: Cut) -> list[Join]:
    """A letter for each bundle of lines that goes through a cut, from the top and from the left."""
    near = 13.0 / cut.scale
    found = []
    for axis, places in ((0, cut.across[1:-1]), (1, cut.down[1:-1])):
        for at in places:
            through = sorted({round(along, 1) for line in sheet.lines for along in _through(line, axis, at)})
            last = None
            for along in through:
                if last is None or along - last > near:
                    found.append((axis, at, along))
                    last = along
    return [Join(*each, _letter(number)) for number, each in enumerate(found)]


def _letter(number: int) -> str:
    """A, B, ... Z, AA, AB, ...

    >>> [_letter(number) for number in (0, 25, 26)]
    ['A', 'Z', 'AA']
    """
    letter = chr(ord("A") + number % 26)
    return letter if number < 26 else _letter(number // 26 - 1) + letter


def _through(line: Line, axis: int, at: float) -> Iterator[float]:
    """How far along a cut the pieces of a line go through it."""
    for piece in line.pieces:
        for one, other in pairwise(piece):
            low, high = sorted((one[axis], other[axis]))
            if low < at <= high:
                part = (at - one[axis]) / (other[axis] - one[axis])
                yield one[1 - axis] + part * (other[1 - axis] - one[1 - axis])


@dataclass
class _Paper:
    """One sheet of paper with its piece of a drawing."""

    whole: Sheet
    cut: Cut
    piece: tuple[float, float, float, float]
    number: int
    names: dict[tuple[int, int], int]
    place: tuple[int, int]
    joins: Sequence[Join]

    def svg(self) -> str:
        """It as SVG, in the size of the paper."""
        left, _, top, _ = self.piece
        edges = [EDGE / self.cut.scale if place else 0.0 for place in self.place]
        wide, high = (side / self.cut.scale for side in self.cut.size)
        sheet = Sheet(self.whole.title, self.whole.ground, wide, high, left - edges[0], top - edges[1])
        sheet.frames = [frame for frame in self.whole.frames if self.has(_frame_box(frame))]
        sheet.lines = [line for line in self.whole.lines if self.has(_line_box(line))]
        marks = [mark for mark in self.whole.marks if self.holds(mark)]
        sheet.marks = [mark for mark in marks if not self.goes_over(mark)]
        self.cover(sheet)
        sheet.marks += [mark for mark in marks if self.goes_over(mark)]
        self.mark_joins(sheet)
        svg = to_svg(dot_source(sheet))
        # What reaches over the edge of the paper makes Graphviz's own page larger than the sheet.
        corner = _CORNER.search(svg)
        assert corner is not None
        svg = _PLACE.sub(f"translate({-float(corner[1]):.2f} {-float(corner[2]):.2f})", svg, count=1)
        return re.sub(
            r'<svg width="[^"]*" height="[^"]*"\s+viewBox="[^"]*"',
            f'<svg width="{self.cut.size[0]:g}pt" height="{self.cut.size[1]:g}pt" '
            f'viewBox="0.00 0.00 {wide:.2f} {high:.2f}"',
            svg,
            count=1,
        )

    def has(self, box: tuple[float, float, float, float]) -> bool:
        """Whether a part of a box is on this sheet."""
        left, right, top, bottom = self.piece
        return box[0] <= right and box[1] >= left and box[2] <= bottom and box[3] >= top

    def holds(self, mark: Spot | Words) -> bool:
        """Whether a spot or words are on this sheet; words are on one sheet, that of their middle."""
        left, right, top, bottom = self.piece
        if _is_head(mark):
            return self.number == 1
        if isinstance(mark, Words):
            last = (self.cut.across[-1], self.cut.down[-1])
            return (left <= mark.x < right or mark.x == right == last[0]) and (
                top <= mark.y < bottom or mark.y == bottom == last[1]
            )
        half = (mark.width / 2, mark.height / 2)
        return self.has((mark.x - half[0], mark.x + half[0], mark.y - half[1], mark.y + half[1]))

    def goes_over(self, mark: Spot | Words) -> bool:
        """Whether words reach over the cut; they are written whole."""
        left, right, top, bottom = self.piece
        return isinstance(mark, Words) and not (
            left <= mark.x - mark.width / 2
            and mark.x + mark.width / 2 <= right
            and top <= mark.y - mark.size / 2
            and mark.y + mark.size / 2 <= bottom
        )

    def sides(self) -> Iterator[tuple[int, float, int, int]]:
        """Each cut at this sheet: its axis, its place, its side, and the sheet that joins there."""
        left, right, top, bottom = self.piece
        x, y = self.place
        for axis, at, way, other in (
            (0, left, -1, (x - 1, y)),
            (0, right, 1, (x + 1, y)),
            (1, top, -1, (x, y - 1)),
            (1, bottom, 1, (x, y + 1)),
        ):
            if other in self.names:
                yield axis, at, way, self.names[other]

    def under_head(self) -> float:
        """Where the drawing's head ends, which is written whole over the cut."""
        if self.place[1]:
            return self.piece[2]
        lows = [mark.y + mark.size for mark in self.whole.marks if isinstance(mark, Words) and _is_head(mark)]
        return max(lows, default=self.piece[2])

    def cover(self, sheet: Sheet) -> None:
        """Hide what is on the sheet's neighbors."""
        far = 4 * max(self.whole.width, self.whole.height, sheet.width, sheet.height)
        left, right, top, bottom = self.piece
        for axis, at, way, other in self.sides():
            x, y = ((at + way * far / 2, (top + bottom) / 2), ((left + right) / 2, at + way * far / 2))[axis]
            ground = sheet.ground
            sheet.marks.append(
                Spot(f"cover-{other}", "", x, y, far, far, ground, ground, "box", 0.0, "cover")
            )

    def mark_joins(self, sheet: Sheet) -> None:
        """The line along each cut, the letters of what goes on, and which sheet joins there."""
        scale = self.cut.scale
        left, right, top, bottom = self.piece
        ink = "#ffffff" if sheet.ground != "#ffffff" else "#000000"
        for axis, at, way, other in self.sides():
            start, end = ((max(top, self.under_head()), bottom), (left, right))[axis]
            middle = at + way * 9 / scale
            length = end - start
            x, y = ((at, start + length / 2), (start + length / 2, at))[axis]
            thin = 0.8 / scale
            size = ((thin, length), (length, thin))[axis]
            name = f"cut-{other}"
            sheet.marks.append(
                Spot(name, f"sheet {other} joins here", x, y, *size, ink, ink, "box", 0, "cut")
            )
            for join in self.joins:
                if (join.axis, join.at) != (axis, at) or not start <= join.along <= end:
                    continue
                x, y = ((middle, join.along), (join.along, middle))[axis]
                title = f"{join.letter}: goes on at {join.letter} on sheet {other}"
                round_ = 13 / scale
                sheet.marks.append(
                    Spot(
                        f"join-{other}-{join.letter}",
                        title,
                        x,
                        y,
                        round_,
                        round_,
                        sheet.ground,
                        ink,
                        pen=1,
                        kind="join",
                    )
                )
                sheet.write(
                    f"join-{other}-{join.letter}-letter", join.letter, x, y, 7.5 / scale, ink, bold=True,
                    title=title, kind="join",
                )  # fmt: skip
        told = ", ".join(f"{_SIDES[axis, way]} sheet {other}" for axis, _, way, other in self.sides())
        words = f"{self.whole.title}: sheet {self.number} of {self.cut.sheets}. It joins {told}."
        # In what it keeps clear where it joins another, beyond the letters.
        down = 8.0 if self.place[1] else self.cut.size[1] - 8.0
        sheet.write(
            "sheet", words, sheet.left + 36 / scale, sheet.top + down / scale, 7.5 / scale, ink,
            align="start", kind="sheet",
        )  # fmt: skip


_SIDES = {(0, -1): "on the left", (0, 1): "on the right", (1, -1): "above", (1, 1): "below"}


def _frame_box(frame: Frame) -> tuple[float, float, float, float]:
    return frame.x, frame.x + frame.width, frame.y, frame.y + frame.height


def _line_box(line: Line) -> tuple[float, float, float, float]:
    points: list[Point] = [point for piece in line.pieces for point in piece]
    half = line.pen / 2
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs) - half, max(xs) + half, min(ys) - half, max(ys) + half

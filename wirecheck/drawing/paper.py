"""A drawing on sheets of paper: one where its words stay readable on it, else several that are laid together.

A drawing is cut where the fewest words and devices are in the way. At a cut, each cable and wire that goes on
has a mark, the same on both sheets. Each sheet has the key of what is on it, or says which sheet has it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise, product

from wirecheck.drawing.boxes import Box, extent, frame_box, frame_in, line_in, mark_box, mark_in
from wirecheck.drawing.cuts import FOOT, MARKED, SHEATHS, Cut, cut_for, is_head
from wirecheck.drawing.foot import Foot, without_key
from wirecheck.drawing.joins import ROUND, Again, Join, free_along, headings_cut, joins, rows_again
from wirecheck.drawing.key import PAINTED
from wirecheck.drawing.letters import text_width
from wirecheck.drawing.places import OVER_WIRE, SMALL
from wirecheck.drawing.render import Size, to_svg
from wirecheck.drawing.sheet import Line, Sheet, Spot, Words, dot_source
from wirecheck.drawing.strips import pulled
from wirecheck.drawing.ticks import TICKS, ticks

AWAY = 11.0
"""How far the marks are from the cut."""
BAR = 2.5
"""How far from the cut the bar is that is as wide as a bundle."""
OVER = 10.0
"""How far what is cut is drawn over the cut, under what hides it, in points of the paper."""
TOLD = 7.5
"""How large the marks at a cut are written, and what is said at the foot, in points of the paper."""
BESIDE, BELOW, COLORS_WITHIN = 4.0, 9.0, 40.0
"""How far from its wire, or from the cut, the word of a color stands, and how far from the cut it reaches."""
NARROW = 0.7
"""How wide tape is that is drawn again, beside tape: the words of two wires stand close there."""
_PLACE = re.compile(r"translate\([^)]*\)")
_CORNER = re.compile(r'<g id="page".*?points="[-\d.]+,[-\d.]+ ([-\d.]+),([-\d.]+)', re.DOTALL)
_OPEN = re.compile(r"<svg [^>]*>", re.DOTALL)


def on_paper(sheet: Sheet, page: str | Size) -> list[str]:
    """A drawing as SVG, one for each sheet of paper.

    Parameters
    ----------
    page : `letter`, `a4`, or the room that a sheet of another size has for it, lying on its side
    """
    return _drawn_as(sheet, page, cut_for(sheet, page))


def _drawn_as(sheet: Sheet, page: str | Size, cut: Cut) -> list[str]:
    """A drawing that is cut so, as SVG, one for each sheet of paper."""
    if cut.sheets == 1:
        return [to_svg(dot_source(_filled(sheet, cut)), page)]
    foot = Foot(sheet)
    sheet, cut = pulled(sheet, cut)
    marks = joins(sheet, cut)
    bare = _with_tape(without_key(sheet), marks)
    papers = [_Paper(bare, cut, place, marks) for place in cut.numbers]
    drawn = [paper.drawn() for paper in papers]
    feet = [foot.of([piece]) for piece in drawn]
    without = [
        piece for paper, piece, own in zip(papers, drawn, feet, strict=True) if not paper.has_room(own)
    ]
    feet[-1] = foot.of([drawn[-1], *without])
    return [paper.svg(piece, own) for paper, piece, own in zip(papers, drawn, feet, strict=True)]


def _with_tape(sheet: Sheet, marks: Sequence[Join]) -> Sheet:
    """A drawing with the tape of a wire again behind a cut: its white alone would tell a neutral there."""
    bands = list[Line]()
    for join in marks:
        x, y = (join.along, join.at + BELOW) if join.axis else (join.at + BELOW, join.along)
        for line in join.tape:
            ((start, end),) = line.pieces
            half = NARROW * (end[0] - start[0]) / 2
            title = line.title and f"{join.mark}: marked so at both its ends"
            path = ((x - half, y), (x + half, y))
            bands.append(replace(line, id=_again(line, join), title=title, pieces=(path,)))
    return replace(sheet, lines=[*sheet.lines, *bands])


def _again(tape: Line, join: Join) -> str:
    """The id of a wire's tape where it is drawn again behind a cut."""
    return f"{tape.id}-at-{join.mark}"


def _filled(sheet: Sheet, cut: Cut) -> Sheet:
    """A drawing whose ground has the shape of the paper: at its upper end, and in its middle across."""
    left, right, top, _ = extent(sheet.laid_as or sheet)
    wide, high = (side / cut.scale for side in cut.size)
    top -= cut.clear / cut.scale
    return replace(sheet, left=(left + right - wide) / 2, width=wide, top=top, height=high)


def printed(sheet: Sheet, page: str) -> str:
    """A drawing on paper as one picture: its sheets, laid as they join."""
    cut = cut_for(sheet, page)
    pictures, sheets_across = _drawn_as(sheet, page, cut), len(cut.across) - 1
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


@dataclass
class _Paper:
    """One sheet of paper with its piece of a drawing; `place` is how many are on its left and above it."""

    whole: Sheet
    cut: Cut
    place: tuple[int, int]
    joins: Sequence[Join]

    @property
    def piece(self) -> Box:
        """From where to where its piece is."""
        x, y = self.place
        return self.cut.across[x], self.cut.across[x + 1], self.cut.down[y], self.cut.down[y + 1]

    @property
    def number(self) -> int:
        """Which of the sheets it is."""
        return self.cut.numbers[self.place]

    def drawn(self) -> Sheet:
        """It with what of the drawing is on it."""
        left, _, top, _ = self.piece
        edges = [(self.cut.clear + MARKED * bool(place)) / self.cut.scale for place in self.place]
        wide, high = self.size
        sheet = Sheet(self.whole.title, self.whole.ground, wide, high, left - edges[0], top - edges[1])
        near = self.near()
        sheet.frames = list(filter(None, (frame_in(frame, near) for frame in self.whole.frames)))
        sheet.lines = list(filter(None, (self.line(line, near) for line in self.whole.lines)))
        # Words are written whole, over the cut.
        sheet.marks = [mark_in(mark, self.piece) for mark in self.whole.marks if self.holds(mark)]
        return sheet

    def line(self, line: Line, near: Box) -> Line | None:
        """What of a line is on it; the strokes of a wire are set along what of the wire is on it."""
        if line.kind != "ticks":
            return line_in(line, near)
        wire = line_in(self.wires[line.id], self.piece)
        if wire is None:
            return None
        strokes = [stroke for piece in wire.pieces for stroke in ticks(list(piece), _STROKED[wire.kind])]
        return replace(line, pieces=tuple(strokes)) if strokes else None

    @cached_property
    def wires(self) -> dict[str, Line]:
        """The wires that have strokes, by the names of those."""
        return {f"ticks-{line.id}": line for line in self.whole.lines if line.kind in _STROKED}

    @property
    def size(self) -> tuple[float, float]:
        """How wide and high it is, in the drawing's own points."""
        return self.cut.size[0] / self.cut.scale, self.cut.size[1] / self.cut.scale

    def svg(self, sheet: Sheet, foot: Foot) -> str:
        """It as SVG with what of the drawing is on it, and with this key if there is room for it."""
        wide, high = self.size
        self.cover(sheet)
        self.mark_joins(sheet)
        self.tell(sheet, foot)
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

    def near(self) -> Box:
        """Its piece, a little over the cuts: there what is cut off has its ends, which are hidden."""
        left, right, top, bottom = self.piece
        over = {(axis, way): OVER / self.cut.scale for axis, _, way, _ in self.sides()}
        return (
            left - over.get((0, -1), 0.0),
            right + over.get((0, 1), 0.0),
            top - over.get((1, -1), 0.0),
            bottom + over.get((1, 1), 0.0),
        )

    def has(self, box: Box) -> bool:
        """Whether a part of a box is on this sheet."""
        left, right, top, bottom = self.piece
        return box[0] <= right and box[1] >= left and box[2] <= bottom and box[3] >= top

    def holds(self, mark: Spot | Words) -> bool:
        """Whether a spot or words are on this sheet; words are on one sheet, that of their middle."""
        left, right, top, bottom = self.piece
        if is_head(mark):
            return self.number == 1
        if isinstance(mark, Words):
            last = (self.cut.across[-1], self.cut.down[-1])
            return (left <= mark.x < right or mark.x == right == last[0]) and (
                top <= mark.y < bottom or mark.y == bottom == last[1]
            )
        return self.has(mark_box(mark))

    def sides(self) -> Iterator[tuple[int, float, int, int]]:
        """Each cut at this sheet: its axis, its place, its side, and the sheet that joins there."""
        left, right, top, bottom = self.piece
        (x, y), numbers = self.place, self.cut.numbers
        for axis, at, way, other in (
            (0, left, -1, (x - 1, y)),
            (0, right, 1, (x + 1, y)),
            (1, top, -1, (x, y - 1)),
            (1, bottom, 1, (x, y + 1)),
        ):
            if other in numbers:
                yield axis, at, way, numbers[other]

    def under_head(self) -> float:
        """Where the drawing's head ends, which is written whole over the cut."""
        if self.place[1]:
            return self.piece[2]
        lows = [mark.y + mark.size for mark in self.whole.marks if isinstance(mark, Words) and is_head(mark)]
        return max(lows, default=self.piece[2])

    def cover(self, sheet: Sheet) -> None:
        """Hide what reaches over the cuts."""
        left, right, top, bottom = self.piece
        wide = MARKED / self.cut.scale
        for axis, at, way, other in self.sides():
            middle = at + way * wide / 2
            start, end = ((top - wide, bottom + wide), (left - wide, right + wide))[axis]
            ends = [(middle, start), (middle, end)]
            path = tuple((y, x) if axis else (x, y) for x, y in ends)
            sheet.lines.append(Line(f"cover-{other}", "", (path,), sheet.ground, wide, kind="cover"))

    def mark_joins(self, sheet: Sheet) -> None:
        """The line along each cut, the marks of what goes on there, and what it parts from its name."""
        scale, ink = self.cut.scale, self.ink
        left, right, top, bottom = self.piece
        for axis, at, way, other in self.sides():
            start, end = ((max(top, self.under_head()), bottom), (left, right))[axis]
            ends = [(at, start), (at, end)]
            path = tuple((y, x) if axis else (x, y) for x, y in ends)
            title = f"sheet {other} joins here"
            sheet.lines.append(
                Line(f"cut-{other}", title, (path,), ink, 0.8 / scale, "dash-dots", kind="cut")
            )
            here = [
                join
                for join in self.joins
                if (join.axis, join.at) == (axis, at) and start <= join.along <= end
            ]
            middle = at + way * AWAY / scale
            for join in here:
                self.mark(sheet, join, middle, other)
            told: list[Again] = []
            if way < 0:
                self.tell_colors(sheet, axis, at, here)
                if axis == 0:
                    told += rows_again(self.whole, here)
                    self.head_again(sheet, at, here)
                told += [Again(join.name, "", join.shown + ROUND / scale) for join in here if join.name]
            told += self.rooms_again(axis, at, here)
            for number, again in enumerate(told):
                x, y = ((middle, again.along), (again.along, middle))[axis]
                name, align = f"again-{other}-{number}", "start" if axis else "middle"
                sheet.write(
                    name, again.text, x, y, TOLD / scale, ink, bold=True, align=align, title=again.title,
                    kind="join-name",
                )  # fmt: skip

    def mark(self, sheet: Sheet, join: Join, middle: float, other: int) -> None:
        """The circle of what goes on through a cut, a line to it, and a bar at all wires of a bundle."""
        scale, ink = self.cut.scale, self.ink
        paths = [[(join.at, join.along), (middle, join.shown)]]
        if join.wide:
            bar, half = join.at + (middle - join.at) * BAR / AWAY, join.wide / 2 + 1.5 / scale
            paths[0][0] = (bar, join.along)
            paths.append([(bar, join.along - half), (bar, join.along + half)])
        pieces = tuple(tuple((y, x) if join.axis else (x, y) for x, y in path) for path in paths)
        (x, y), round_ = pieces[0][1], ROUND / scale
        name, title = f"join-{other}-{join.mark}", f"{join.mark}: goes on at {join.mark} on sheet {other}"
        sheet.lines.append(Line(f"{name}-line", title, pieces, ink, 0.8 / scale, kind="join"))
        sheet.marks.append(Spot(name, title, x, y, round_, round_, sheet.ground, ink, pen=1, kind="join"))
        sheet.write(f"{name}-letter", join.mark, x, y, TOLD / scale, ink, bold=True, title=title, kind="join")

    def tell_colors(self, sheet: Sheet, axis: int, at: float, here: Sequence[Join]) -> None:
        """The colors of the wires from the sheet before, whose words are there: where there is room."""
        # A word stands beside the tape of its wire.
        tape = {_again(line, join) for join in here for line in join.tape}
        without = replace(sheet, lines=[line for line in sheet.lines if line.id not in tape])
        taken = list(_near(without, axis, at, at + COLORS_WITHIN))
        for join in here:
            side = join.along + join.wide / 2 + BESIDE
            x, y = (side, at + BELOW) if axis else (at + BESIDE, join.along - join.wide / 2 - OVER_WIRE)
            wide, high = text_width(join.color, SMALL), SMALL / 2
            box = (x - 0.5, x + wide + 2, y - high, y + high)
            if join.color and not any(_meet(box, other) for other in taken):
                name = f"color-{join.mark}"
                sheet.write(name, join.color, x, y, SMALL, self.ink, align="start", kind="join-color")
                taken.append(box)

    def head_again(self, sheet: Sheet, at: float, here: Sequence[Join]) -> None:
        """The heading of a ladder that is cut, which names its rails, over the rest of it if it has room."""
        taken = [mark_box(mark) for mark in sheet.marks]
        for heading in headings_cut(self.whole, here):
            _, _, top, low = mark_box(heading)
            start, end = at + 6 / self.cut.scale, at + 6 / self.cut.scale + heading.width
            if end < self.piece[1] and not any(_meet((start, end, top, low), box) for box in taken):
                x = (start + end) / 2
                again = replace(heading, id=f"{heading.id}-again", x=x, kind="join-name")
                sheet.marks.append(again)

    def rooms_again(self, axis: int, at: float, here: Sequence[Join]) -> Iterator[Again]:
        """The names of boxes that are cut, on the sheet that does not have them."""
        scale = self.cut.scale
        names = {mark.id: mark for mark in self.whole.marks if isinstance(mark, Words)}
        for frame in self.whole.frames:
            box, name = frame_box(frame), names.get(f"label-{frame.id}")
            start, end = box[2 * axis : 2 * axis + 2]
            if not start < at < end or name is None or not self.has(box) or self.holds(name):
                continue
            wide = text_width(name.text, TOLD, bold=True) / scale
            low, high = box[2 * (1 - axis) : 2 * (1 - axis) + 2]
            long = wide if axis else TOLD / scale
            place = free_along(low, high, long, here, (ROUND / 2 + 2) / scale)
            if place is not None and (axis or wide < (MARKED - 2) / scale):
                yield Again(name.text, frame.title, place if axis else place + long / 2)

    def has_room(self, foot: Foot) -> bool:
        """Whether there is room for a key at its foot: on the last sheets there always is."""
        scale, last = self.cut.scale, self.place[1] == len(self.cut.down) - 2
        wide = self.size[0] - 2 * self.cut.clear / scale
        top = self.piece[2] - (self.cut.clear + MARKED * bool(self.place[1])) / scale
        bottom = top + self.size[1] - (self.cut.clear + FOOT) / scale
        return last or self.piece[3] + MARKED / scale + foot.high(wide) <= bottom

    def tell(self, sheet: Sheet, foot: Foot) -> None:
        """The key, and which sheet this is, which ones join it and which has its key, at the foot."""
        scale, last = self.cut.scale, self.cut.sheets
        left, clear = sheet.left + self.cut.clear / scale, self.cut.clear / scale
        bottom = sheet.top + sheet.height - clear
        told = ", ".join(f"sheet {other} joins {_SIDES[axis, way]}" for axis, _, way, other in self.sides())
        words = f"{self.whole.title}: sheet {self.number} of {last}. {told.capitalize()}."
        wide = sheet.width - 2 * clear
        if self.has_room(foot):
            foot.put(sheet, left, bottom - FOOT / scale, wide)
        elif foot.high(wide):
            words += f" The key is on sheet {last}."
        y, size = bottom - TOLD / 2 / scale, TOLD / scale
        sheet.write("sheet", words, left, y, size, self.ink, align="start", kind="sheet")

    @property
    def ink(self) -> str:
        """What is written with on the ground."""
        return "#ffffff" if self.whole.ground != "#ffffff" else "#000000"


def _near(sheet: Sheet, axis: int, start: float, end: float) -> Iterator[Box]:
    """Where between these something is that words would be on."""
    for line in sheet.lines:
        if line.kind not in SHEATHS and not line.curve:
            for piece in line.pieces:
                for one, other in pairwise(piece):
                    (left, right), (top, low) = (sorted(pair) for pair in zip(one, other, strict=True))
                    if (left, top)[axis] < end and (right, low)[axis] > start:
                        half = line.pen / 2 + 1
                        yield left - half, right + half, top - half, low + half
    boxes = list(map(mark_box, sheet.marks))
    for frame in sheet.frames:
        left, right, top, low = frame_box(frame)
        edges = ((left, left), (right, right))
        boxes += (
            [(left, right, top, low)] if frame.kind == "device" else [(*edge, top, low) for edge in edges]
        )
    for box in boxes:
        if box[2 * axis] < end and box[2 * axis + 1] > start:
            yield box


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[1] and one[1] > other[0] and one[2] < other[3] and one[3] > other[2]


_STROKED = {f"{part} {color}": color for part, color in product(PAINTED, TICKS)}
_SIDES = {(0, -1): "on the left", (0, 1): "on the right", (1, -1): "above", (1, 1): "below"}

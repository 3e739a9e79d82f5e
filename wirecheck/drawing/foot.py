"""The key of what is on a sheet of paper, at its foot: entries of the drawing's, set anew in its width."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from copy import copy
from dataclasses import replace

from wirecheck.drawing.boxes import Box, frame_box, line_box, mark_box
from wirecheck.drawing.key import GAP, LINE, marked
from wirecheck.drawing.letters import evenly, wrap
from wirecheck.drawing.sheet import Frame, Line, Sheet, Spot, Words

KINDS = ("key", "label key", "legend", "label legend")
RUNNING = "key"
"""The kind of words that have no sample."""
ABOVE, TEXT_LINE = 12.0, 11.0
"""What is between a drawing and its key, and a line of running words."""
Shape = Frame | Line | Spot | Words


def without_key(sheet: Sheet) -> Sheet:
    """A drawing without its key."""
    return replace(
        sheet,
        frames=[frame for frame in sheet.frames if frame.kind not in KINDS],
        lines=[line for line in sheet.lines if line.kind not in KINDS],
        marks=[mark for mark in sheet.marks if mark.kind not in KINDS],
    )


class Foot:
    """The key of a drawing: running words, and entries, each words and the samples before them."""

    def __init__(self, sheet: Sheet) -> None:
        keys: list[Shape] = [
            shape for shape in (*sheet.frames, *sheet.lines, *sheet.marks) if shape.kind in KINDS
        ]
        words = [shape for shape in keys if isinstance(shape, Words)]
        self.running = [each for each in words if each.kind == RUNNING]
        self.told = " ".join(each.text for each in self.running)
        self.size = max((each.size for each in self.running), default=0.0)
        self.entries: list[tuple[Words, list[Shape]]] = [
            (each, [each]) for each in words if each.kind != RUNNING
        ]
        for shape in keys:
            if isinstance(shape, Words):
                continue
            left, _, top, bottom = _box(shape)
            row = [entry for entry in self.entries if top - 2 <= entry[0].y <= bottom + 2]
            behind = [entry for entry in row if mark_box(entry[0])[0] > left]
            if behind:
                min(behind, key=lambda entry: entry[0].x)[1].append(shape)

        self.whole = marked(sheet)

    def of(self, pieces: Sequence[Sheet]) -> Foot:
        """It with the entries of what is on these pieces of the drawing, and those that stand on any.

        A handout has entries of which nothing is on it, so that its key doesn't tell the answer.
        """
        there = set[str]().union(*map(marked, pieces))
        foot = copy(self)
        foot.entries = [entry for entry in self.entries if entry[0].id not in self.whole - there]
        return foot

    def high(self, wide: float) -> float:
        """How high it is in a width, with what is above it."""
        # Set evenly, its words take as many lines, but it takes far longer to find out where they end.
        lines = len(wrap(self.told, wide, self.size))
        high = TEXT_LINE * lines + LINE * len({row for _, row, _ in self._places(wide)})
        return ABOVE + high if high else 0.0

    def put(self, sheet: Sheet, left: float, bottom: float, wide: float) -> None:
        """Set it on a sheet, its last line at the bottom."""
        lines = evenly(self.told, wide, self.size)
        for number, text in enumerate(lines):
            first, y = self.running[0], bottom - TEXT_LINE * (len(lines) - number - 0.5)
            name = f"{first.id}-{number + 1}" if number else first.id
            sheet.write(name, text, left, y, first.size, first.color, align="start", kind=RUNNING)
        bottom -= TEXT_LINE * len(lines)
        places = list(self._places(wide))
        last = max((row for _, row, _ in places), default=0)
        for (words, shapes), (x, row, start) in zip(self.entries, places, strict=True):
            dx, dy = left + x - start, bottom - LINE * (last - row) - LINE / 2 - words.y
            for shape in shapes:
                if isinstance(shape, Line):
                    pieces = tuple(tuple((x + dx, y + dy) for x, y in piece) for piece in shape.pieces)
                    sheet.lines.append(replace(shape, pieces=pieces))
                elif isinstance(shape, Frame):
                    sheet.frames.append(replace(shape, x=shape.x + dx, y=shape.y + dy))
                else:
                    sheet.marks.append(replace(shape, x=shape.x + dx, y=shape.y + dy))

    def _places(self, wide: float) -> Iterator[tuple[float, int, float]]:
        """Where each entry begins in a line, which line that is, and where it begins in the drawing."""
        x, row = 0.0, 0
        for _, shapes in self.entries:
            boxes = [_box(shape) for shape in shapes]
            start, end = min(box[0] for box in boxes), max(box[1] for box in boxes)
            if x and x + end - start > wide:
                x, row = 0.0, row + 1
            yield x, row, start
            x += end - start + GAP


def _box(shape: Shape) -> Box:
    if isinstance(shape, Frame):
        return frame_box(shape)
    return line_box(shape) if isinstance(shape, Line) else mark_box(shape)

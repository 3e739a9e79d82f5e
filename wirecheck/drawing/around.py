"""The wire that leads around a contact on a ladder: where it leaves the contact's line, and its way."""

from __future__ import annotations

from itertools import pairwise

from wirecheck.drawing.block import PAST, Block
from wirecheck.drawing.captions import Caption
from wirecheck.drawing.cells import Cell
from wirecheck.drawing.contacts import REACH
from wirecheck.drawing.sheet import Point


def passed(block: Block) -> dict[tuple[tuple[int, int], tuple[int, int]], tuple[Cell, Caption]]:
    """What wire leads around, by the two ends of that wire."""
    return {
        ((cell.column, cell.row), (cell.column + 1, cell.row)): (cell, caption)
        for cell, caption in zip(block.grid.cells, block.signs, strict=True)
        if block.grid.passes(cell)
    }


def sides(block: Block, cell: Cell) -> tuple[float, float]:
    """Where the wire around a contact leaves its line and comes back to it, from the left."""
    middle = block.middle(cell)
    return middle - REACH - PAST, middle + REACH + PAST


def around(
    block: Block, start: Point, end: Point, x: float, cell: Cell, caption: Caption
) -> list[tuple[Point, Point]]:
    """The wire that leads around a contact, from one side of its cell to the other."""
    left, right = (x + at for at in sides(block, cell))
    low = start[1] + block.reaches(cell, caption)
    corners = [start, (left, start[1]), (left, low), (right, low), (right, end[1]), end]
    return list(pairwise(corners))

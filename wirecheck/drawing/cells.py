"""What stands on a grid: nodes are its lines, elements stand in its cells.

Rows are counted downwards and columns to the right, without a measure yet. A
node may be drawn along several rows and columns; wherever two pieces of wire
touch with an end they are one node, and where they cross they are not.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from typing import NamedTuple

from wirecheck.circuit.circuit import Winding
from wirecheck.circuit.structure import Element, Step


class Cell(NamedTuple):
    """An element in its place: the nodes to either side, the column on its left, its row.

    `winding` is the transformer whose secondary it is, where it is no element of a rung. A contact of a
    3-way or 4-way switch may end on another row, `end`; of such a switch, and of poles under one another,
    one cell has the words over it and one those under it (`says`).
    """

    element: Element | None
    left: int
    right: int
    column: int
    row: int
    winding: Winding | None = None
    end: int | None = None
    says: tuple[bool, bool] = (True, True)

    @property
    def ends(self) -> tuple[int, int]:
        """The row of its left end and of its right one."""
        return self.row, self.row if self.end is None else self.end

    @property
    def spots(self) -> tuple[tuple[int, tuple[int, int]], tuple[int, tuple[int, int]]]:
        """The node and the place, (column, row), of either end."""
        return (self.left, (self.column, self.row)), (self.right, (self.column + 1, self.ends[1]))


class Run(NamedTuple):
    """A piece of wire along a row, or (`down`) along a column: from one grid line to another."""

    node: int
    at: int
    start: int
    end: int
    down: bool


class Piece(NamedTuple):
    """A piece of a node's wire with nothing on it but at its two ends, which are (column, row)."""

    node: int
    start: tuple[int, int]
    end: tuple[int, int]


class OnThree(NamedTuple):
    """A load on three phases at the end of its lines: its node on each, the row of each, its column."""

    element: Element
    nodes: tuple[int, ...]
    rows: tuple[int, ...]
    column: int

    @property
    def ends(self) -> tuple[tuple[int, tuple[int, int]], ...]:
        """The node and the place, (column, row), of each end."""
        return tuple((node, (self.column, row)) for node, row in zip(self.nodes, self.rows, strict=True))


@dataclass
class Grid:
    """One ladder of a board: between two rails, or (`mesh`) one rung that has no such pair.

    `heads` is what stands in the two rails, from the top: the breaker and the disconnect that all its rungs
    hang on. `inner` are the nodes of the rails below them, and `feeds` how many rows, those of
    transformers' secondaries, are above them. `spots` are the places of a mesh's nodes. `motor` is the load
    on three phases that a group of three lines leads to, and `lanes` the columns there that hold wire alone,
    or what hangs on two wires.
    `bare` are the rows on which nothing draws current: a short circuit, or a contact that is wired around.
    `missing` are the gaps laid so far, which take no column; `parted` gives each a lane of `gaps`, and says
    whether it reaches back from where the column before it ends. On the line that one of `moved` puts out
    of its place stands an upright wire. `around` are the contacts that wire leads around, `grounds` the rows
    whose load returns on the equipment ground: these end there, beside the rail. `loose` are the ends, each
    with its node, of rows on which a contact leads nowhere.
    """

    rails: tuple[int, ...]
    mesh: bool = False
    heads: tuple[tuple[Step, ...], tuple[Step, ...]] = ((), ())
    inner: tuple[int, int] = (0, 0)
    feeds: int = 0
    columns: int = 0
    rows: int = 0
    continued: bool = False
    cells: list[Cell] = field(default_factory=list)
    runs: list[Run] = field(default_factory=list)
    spots: Mapping[int, tuple[int, int]] = field(default_factory=dict)
    motor: OnThree | None = None
    lanes: frozenset[int] = frozenset()
    bare: set[int] = field(default_factory=set)
    missing: list[Cell] = field(default_factory=list)
    gaps: dict[int, bool] = field(default_factory=dict)
    moved: set[int] = field(default_factory=set)
    around: set[str] = field(default_factory=set)
    grounds: set[int] = field(default_factory=set)
    loose: dict[tuple[int, int], int] = field(default_factory=dict)

    def across(self, node: int, row: int, start: int, end: int) -> None:
        """Wire along a row."""
        if end > start:
            self.runs.append(Run(node, row, start, end, False))

    def passes(self, cell: Cell) -> bool:
        """Whether wire leads around what stands in a cell."""
        return (
            cell.element is not None and cell.element.kind == "contact" and cell.element.name in self.around
        )

    def returns(self, node: int, row: int) -> bool:
        """Whether a wire on a row is the one on which its load returns to the ground, and no rail's."""
        return row in self.grounds and node == self.inner[1]

    def down(self, node: int, column: int, start: int, end: int) -> None:
        """Wire along a column."""
        if end > start:
            self.runs.append(Run(node, column, start, end, True))

    def pieces(self) -> list[Piece]:
        """The wire between cells, cut wherever something of its own node meets it."""
        lines: dict[tuple[int, bool, int], list[Run]] = {}
        for run in self.runs:
            lines.setdefault((run.node, run.down, run.at), []).append(run)
        taps: dict[int, set[tuple[int, int]]] = {}
        for cell in self.cells:
            taps.setdefault(cell.left, set()).add((cell.column, cell.row))
            taps.setdefault(cell.right, set()).add((cell.column + 1, cell.ends[1]))
        for node, spot in self.motor.ends if self.motor else ():
            taps.setdefault(node, set()).add(spot)
        for run in self.runs:
            for end in (run.start, run.end):
                taps.setdefault(run.node, set()).add((run.at, end) if run.down else (end, run.at))
        found: dict[Piece, None] = {}
        for (node, down, at), runs in lines.items():
            cuts = sorted(tap[down] for tap in taps[node] if tap[not down] == at)
            for start, end in pairwise(cuts):
                if any(run.start <= start and end <= run.end for run in runs):
                    ends = ((at, start), (at, end)) if down else ((start, at), (end, at))
                    found.setdefault(Piece(node, *ends))
        return list(found)

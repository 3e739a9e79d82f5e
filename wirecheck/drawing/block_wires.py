"""The wires of a ladder as drawn: its rails, what is live and carries current, dots, letters, volts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from wirecheck.drawing import colors
from wirecheck.drawing.around import around, passed, sides
from wirecheck.drawing.block import FLOW, GLOW, HEAD, MARK, PARTED, RAIL, STUB, WIRE, Block
from wirecheck.drawing.captions import SMALL
from wirecheck.drawing.cells import Cell
from wirecheck.drawing.colors import Page
from wirecheck.drawing.contacts import REACH
from wirecheck.drawing.current import (
    carrying_cells,
    drawing_ends,
    first_row,
    flowing_pieces,
    head_carries,
    idle_ends,
    leading_elsewhere,
)
from wirecheck.drawing.letters import text_width
from wirecheck.drawing.rails import NAMES, TOP
from wirecheck.drawing.sheet import Line, Point, Sheet, Spot

SHORT = 12.0
"""How far before the rail a wire ends that leads to the ground."""
TOUCH = 0.05
"""Ends that are no further apart are one place."""
OVERLAP = 0.5
"""How far a wire lies on the lead of a sign: two ends that only meet show a seam."""
LEFT = 7.0
"""How much is left of a missing wire at the joint that it would lead to."""
GROUNDED = ((7.0, 4.0), (4.4, 7.0), (1.8, 10.0))
"""The sign of the ground (IEEE 315, 3.9): half of each bar, and how far it is under the wire."""


def draw_wires(block: Block, sheet: Sheet, page: Page, x: float, y: float) -> None:
    """The wires of each node as one line, with its glow and its flow in a state, and its dots."""
    lines: dict[int, list[tuple[Point, Point]]] = {}
    thick: dict[int, list[tuple[Point, Point]]] = {}
    carrying = carrying_cells(block)
    flowing, idle = flowing_pieces(block, carrying), idle_ends(block, carrying)

    def place(spot: tuple[int, int]) -> Point:
        return x + block.at_line(spot[0]), y + block.y[spot[1]]

    passing, joints = passed(block), _dots(block)
    for piece in block.to_rails:
        paths = [(place(piece.start), place(piece.end))]
        if (piece.start, piece.end) in passing:
            paths = around(block, *paths[0], x, *passing[piece.start, piece.end])
        lines.setdefault(piece.node, []).extend(paths)
        if piece in flowing:
            thick.setdefault(piece.node, []).extend(paths)
    for cell in block.grid.cells:
        start, end = place((cell.column, cell.row)), place((cell.column + 1, cell.ends[1]))
        for side, (node, path) in enumerate(_leads(block, cell, x, start, end, joints)):
            lapped = path if block.parts(cell) else _lapped(path, x + block.middle(cell))
            lines.setdefault(node, []).append(lapped)
            if cell in carrying and (cell, side) not in idle:
                thick.setdefault(node, []).append(path)
    motor = block.grid.motor
    for node, (column, row) in motor.ends if motor else ():
        start = place((column, row))
        path = (start, (x + block.x[column] + block.lead() - REACH, start[1]))
        lines.setdefault(node, []).append(path)
        if (node, (column, row)) in drawing_ends(block):
            thick.setdefault(node, []).append(path)
    rails = _draw_segments(block, sheet, page, x, y, lines, thick)
    elsewhere = leading_elsewhere(block, idle, thick.keys())
    stubs: dict[int, list[tuple[Point, Point]]] = {}
    for node, side, spot, _ in block.stubs:
        path = _stub(side, *place(spot))
        stubs.setdefault(node, []).append(path)
        if any(path[0] in both for both in thick.get(node, ())):
            thick[node].append(path)
    for number, (node, listed) in enumerate(lines.items()):
        name = f"{block.name}-node-{number + 1}"
        title = block.captions.title(node)
        level = block.level(node)
        if level:
            glowing = one_wire([*listed, *stubs.get(node, ())])
            sheet.lines.insert(
                0,
                Line(f"live-{name}", title, glowing, colors.LIVE[level], GLOW,
                     colors.LIVE_DASH[level], kind=f"live {level}"),
            )  # fmt: skip
        dashed = node in rails and _open(block, node)
        sheet.lines.append(
            Line(name, title, one_wire(listed), page.ink, WIRE, "dashed" if dashed else "solid", kind="wire")
        )
        if node in thick:
            flow = one_wire(thick[node])
            kind = "flow again" if node in elsewhere else "flow"
            sheet.lines.append(Line(f"flow-{name}", title, flow, page.ink, FLOW, kind=kind))
    _draw_returns(block, sheet, page, x, y, carrying)
    _draw_grounded(block, sheet, page, x, y)
    _draw_dots(block, sheet, page, x, y)
    _draw_open_ends(block, sheet, page, x, y)


def _lapped(path: tuple[Point, Point], middle: float) -> tuple[Point, Point]:
    """The wire at a sign, with a little of it on the sign's lead."""
    (left, line), (right, level) = path
    return ((left, line), (right + OVERLAP, level)) if right < middle else ((left - OVERLAP, line), path[1])


def one_wire(pieces: Iterable[tuple[Point, Point]]) -> tuple[tuple[Point, Point], ...]:
    """Pieces of a node's wire, those that lie end to end on one line as one: so no seam is seen in it.

    Where an upright one crosses a level one, this is in two: there is a dot, and all four ends come to it.

    >>> one_wire([((0, 5), (4, 5)), ((9, 5), (4, 5)), ((4, 5), (4, 8)), ((10, 5), (12, 5))])
    (((0, 5), (9, 5)), ((10, 5), (12, 5)), ((4, 5), (4, 8)))
    """
    lines: dict[tuple[int, float], list[tuple[Point, Point]]] = {}
    for piece in pieces:
        one, other = sorted(piece)
        along = int(other[0] - one[0] < TOUCH)
        lines.setdefault((along, round(one[1 - along], 1)), []).append((one, other))
    whole: list[tuple[Point, Point]] = []
    for (along, _), found in lines.items():
        joined: list[tuple[Point, Point]] = []
        for begins, one, other in sorted((one[along], one, other) for one, other in found):
            if joined and begins < joined[-1][1][along] + TOUCH:
                start, end = joined[-1]
                joined[-1] = (start, other if other[along] > end[along] else end)
            else:
                joined.append((one, other))
        whole += joined
    upright = [(one, other) for one, other in whole if other[0] - one[0] < TOUCH]
    parted: list[tuple[Point, Point]] = []
    for one, other in whole:
        crossed = {x for (x, top), (_, low) in upright if one[0] < x < other[0] and top < one[1] < low}
        ends = [one, *((x, one[1]) for x in sorted(crossed)), other]
        parted += pairwise(ends)
    return tuple(parted)


def _draw_returns(
    block: Block, sheet: Sheet, page: Page, x: float, y: float, carrying: Sequence[Cell]
) -> None:
    """The wire of each load that returns on the ground: it ends there, beside the rail and not on it."""
    end, title = x + block.x[-1] - SHORT, block.captions.title(block.grid.rails[-1])
    for cell in block.grid.cells:
        if not block.grid.returns(cell.right, cell.row):
            continue
        line = y + block.y[cell.row]
        name = f"{block.name}-return-{cell.row + 1}"
        wire = ((x + block.middle(cell) + REACH, line), (end, line))
        sheet.lines.append(Line(name, title, (wire,), page.ink, WIRE, kind="wire"))
        if cell in carrying:
            sheet.lines.append(Line(f"flow-{name}", title, (wire,), page.ink, FLOW, kind="flow"))
        _draw_ground(sheet, page, name, title, (end, line))


def _draw_grounded(block: Block, sheet: Sheet, page: Page, x: float, y: float) -> None:
    """The ground at the lower end of a rail that a secondary is grounded on, so that it is seen to be."""
    for side, node in enumerate(block.grid.rails if block.rails else ()):
        if block.captions.grounded(node, block.grid):
            at, name = x + block.x[-1 if side else 0], f"{block.name}-{'right' if side else 'left'}-rail"
            _draw_ground(sheet, page, name, block.captions.title(node), (at, y + block.y[-1]))


def _draw_ground(sheet: Sheet, page: Page, name: str, title: str, end: Point) -> None:
    """The sign of the ground under the end of a wire or a rail, on its lead."""
    at, line = end
    lead = (end, (at, line + GROUNDED[0][1]))
    sheet.lines.append(Line(f"{name}-stub", title, (lead,), page.ink, WIRE, kind="wire"))
    bars = tuple(((at - half, line + low), (at + half, line + low)) for half, low in GROUNDED)
    sheet.lines.append(Line(f"{name}-ground", "the equipment ground", bars, page.ink, WIRE, kind="ground"))


def _draw_dots(block: Block, sheet: Sheet, page: Page, x: float, y: float) -> None:
    """A dot wherever three wires of a node or more meet."""
    dots = [(x + block.at_line(column), y + block.y[row]) for column, row in _dots(block)]
    passed = [cell for cell in block.grid.cells if block.grid.passes(cell)]
    dots += [(x + at, y + block.y[cell.row]) for cell in passed for at in sides(block, cell)]
    for number, dot in enumerate(dots, 1):
        name = f"{block.name}-dot-{number}"
        sheet.marks.append(Spot(name, "", *dot, 4.4, 4.4, page.ink, page.ink, kind="dot"))


def _draw_open_ends(block: Block, sheet: Sheet, page: Page, x: float, y: float) -> None:
    """A ring at each end of wire that a missing wire would lead on from; what is on a rail needs none."""
    rails = {(column, node) for node, column in block.rails}
    joints = _dots(block)
    ends: dict[Point, None] = {}
    for cell in block.grid.cells:
        if cell.element is None or cell.element.kind != "gap":
            continue
        sides = ((-1, cell.left, cell.column), (1, cell.right, cell.column + 1))
        for (side, node, column), reach in zip(sides, _reaches(block, cell, joints), strict=True):
            if (column, node) not in rails:
                ends[x + block.middle(cell) + side * reach, y + block.y[cell.row]] = None
    for column, row in block.grid.loose:
        ends[x + block.at_line(column) + _short_of_rail(block, column, row), y + block.y[row]] = None
    for number, end in enumerate(ends, 1):
        name = f"{block.name}-open-end-{number}"
        sheet.marks.append(Spot(name, "", *end, 4.8, 4.8, page.ground, page.ink, kind="open-end"))


def _short_of_rail(block: Block, column: int, row: int) -> float:
    """How far right of its column an end is drawn that leads nowhere: where a rail stands, off it."""
    if (column, row) not in block.grid.loose:
        return 0.0
    return SHORT * ((column == 0) - (column == block.grid.columns))


def _reaches(block: Block, cell: Cell, joints: Sequence[tuple[int, int]]) -> tuple[float, float]:
    """How far left and right of its middle the wires at a cell end: at a sign's leads, or at a missing wire.

    That would be joined to other wires: there what is left of it leads away from their joint, which is sound.
    """
    if not block.parts(cell):
        return REACH, REACH
    spots = ((cell.column, cell.row), (cell.column + 1, cell.ends[1]))
    left, right = (PARTED / 2 - (LEFT if spot in joints else 0.0) for spot in spots)
    return left, right


def _leads(
    block: Block, cell: Cell, x: float, start: Point, end: Point, joints: Sequence[tuple[int, int]]
) -> tuple[tuple[int, tuple[Point, Point]], ...]:
    """The wire between a sign and either end of its cell, with its node."""
    middle = x + block.middle(cell)
    before, after = _reaches(block, cell, joints)
    if block.grid.passes(cell):
        left, right = (x + at for at in sides(block, cell))
        start, end = (left, start[1]), (right, end[1])
    start = (start[0] + _short_of_rail(block, cell.column, cell.row), start[1])
    end = (end[0] + _short_of_rail(block, cell.column + 1, cell.row), end[1])
    leads = (
        (cell.left, (start, (middle - before, start[1]))),
        (cell.right, ((middle + after, end[1]), end)),
    )
    return leads[: 1 if block.grid.returns(cell.right, cell.row) else 2]


def _draw_segments(
    block: Block,
    sheet: Sheet,
    page: Page,
    x: float,
    y: float,
    lines: dict[int, list[tuple[Point, Point]]],
    thick: dict[int, list[tuple[Point, Point]]],
) -> set[int]:
    """The rails, and their wire added to that of their nodes; returns those nodes."""
    fed = any(cell.winding for cell in block.grid.cells)
    pieces: dict[int, int] = {}
    rails = set()
    for segment in block.whole.segments(block.y[-1]):
        node, side = segment.node, segment.side
        at, column = x + block.x[-1 if side else 0], block.grid.columns if side else 0
        path = ((at, y + segment.start), (at, y + segment.end))
        lines.setdefault(node, []).append(path)
        rails.add(node)
        pieces[side] = pieces.get(side, 0) + 1
        name = f"{block.name}-{'right' if side else 'left'}-rail"
        dash = "dashed" if _open(block, node) else "solid"
        name = name if pieces[side] == 1 else f"{name}-{pieces[side]}"
        title = block.captions.title(node)
        # In a state what is thick carries current, and a rail does so where its flow is drawn.
        pen = RAIL if block.state is None else WIRE
        sheet.lines.append(Line(name, title, (path,), page.ink, pen, dash, kind="rail"))
        start = y + (block.y[0] if fed and pieces[side] == 1 else segment.start)
        if segment.head:
            if head_carries(block, segment.head):
                thick.setdefault(node, []).append(((at, start), (at, y + segment.end)))
        elif node in thick and (block.grid.heads[side] or not fed):
            thick[node].append(((at, start), (at, y + block.y[first_row(block, node, column)])))
    return rails


def _open(block: Block, node: int) -> bool:
    """Whether it is a rail that nothing feeds."""
    rail = block.captions.ladder.rails.get(node)
    return rail is not None and rail.open


def _dots(block: Block) -> list[tuple[int, int]]:
    """Where three wires of a node or more meet, off the rails."""
    ways: dict[tuple[int, int, int], int] = {}
    for piece in block.pieces:
        for spot in (piece.start, piece.end):
            ways[piece.node, *spot] = ways.get((piece.node, *spot), 0) + 1
    # Two ways of one switch have a lead in common.
    cells = [cell for cell in block.grid.cells if not block.grid.passes(cell)]
    leads = {(cell.left, cell.column, cell.row, "left") for cell in cells}
    leads |= {(cell.right, cell.column + 1, cell.ends[1], "right") for cell in cells}
    leads |= {(node, *spot, "left") for node, spot in (block.grid.motor.ends if block.grid.motor else ())}
    for node, column, row, _ in leads:
        ways[node, column, row] = ways.get((node, column, row), 0) + 1
    rails = set(block.rails)
    return [(c, r) for (node, c, r), count in ways.items() if count > 2 and (node, c) not in rails]


def _stub(side: int, at: float, line: float) -> tuple[Point, Point]:
    return (at, line), (at + side * STUB, line)


def draw_rails(block: Block, sheet: Sheet, page: Page, x: float, y: float) -> None:
    """The names over the two rails, and the terminals of what has no such pair."""
    for side, node in enumerate(block.grid.rails if block.rails else ()):
        at = x + block.x[-1 if side else 0]
        name, title = f"{block.name}-rail-{side}", block.captions.title(node)
        sheet.write(
            name, block.captions.rail(node), at, y + NAMES, HEAD, page.ink, bold=True, kind="rail-name",
            title=title,
        )  # fmt: skip
    for number, (node, side, (column, row), text) in enumerate(block.stubs):
        path = _stub(side, x + block.at_line(column), y + block.y[row])
        end, line = path[1]
        title = block.captions.title(node)
        sheet.lines.append(
            Line(f"{block.name}-stub-{number + 1}", title, (path,), page.ink, WIRE, kind="wire")
        )
        sheet.write(
            f"{block.name}-terminal-{number + 1}", text, end + side * 3, line, HEAD, page.ink, bold=True,
            align="start" if side > 0 else "end", kind="rail-name",
        )  # fmt: skip


def draw_letters(block: Block, sheet: Sheet, page: Page, x: float, y: float) -> None:
    """The letters of each node where it begins, and its volts in a state."""
    for number, ((column, row), (node, letters)) in enumerate(block.letters.items(), 1):
        at, last = block.marked(column, row)
        volts, back = block.clear(column, row)
        _mark(
            block, sheet, page, f"{number}", node, letters, x + at, y + block.y[row], last, (x + volts, back)
        )
    for segment in block.whole.segments(block.y[-1]):
        if segment.start == TOP:
            continue
        at = x + block.x[-1] - 5 if segment.side else x + block.x[0] + 5
        name = f"rail-{segment.side}-{segment.start:g}"
        letters = block.captions.letters(segment.node)
        _mark(block, sheet, page, name, segment.node, letters, at, y + segment.start + 11, segment.side == 1)


def _mark(block: Block, sheet: Sheet, page: Page, name: str, node: int, letters: str, x: float, line: float,
    leftward: bool = False, volts_at: tuple[float, bool] | None = None,
) -> None:  # fmt: skip
    """The letters and the number of a wire, and its volts in a state, where these are elsewhere there."""
    title = block.captions.title(node)
    number = block.number(node)
    align, apart = ("end", -MARK) if leftward else ("start", MARK)
    if leftward and number:
        x_letters, x_number = x - text_width(number, SMALL) - MARK if letters else x, x
    else:
        x_letters, x_number = x, x + (text_width(letters, SMALL, True) + apart if letters else 0)
    if letters:
        sheet.write(
            f"{block.name}-letters-{name}", letters, x_letters, line - 7.2, SMALL, page.ink, bold=True,
            align=align, kind="letters", title=title,
        )  # fmt: skip
    if number:
        sheet.write(
            f"{block.name}-wire-number-{name}", number, x_number, line - 7.2, SMALL, page.faint,
            align=align, kind="wire-number", title=title,
        )  # fmt: skip
    if block.state:
        volts = block.state.reading(block.captions.ladder.points[node][0])
        x, leftward = volts_at or (x, leftward)
        sheet.write(
            f"{block.name}-volts-{name}", volts, x, line + 8.2, SMALL, page.ink,
            align="end" if leftward else "start",
            kind="volts", title=title,
        )  # fmt: skip

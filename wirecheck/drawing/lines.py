"""The three lines that lead to a motor, as the power circuit on a cabinet's door has them.

Each line is a row from its rail to the motor: breaker, disconnect, contact, heater, one pole under another.
What ties a second rail to a line, as the reversing contactor does, has rows of its own below, and the wire
that leads there stands upright in lanes of its own. So has what hangs between two lines behind the same
contactor, as the fan of a unit: no pole is drawn twice.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby, permutations, product

from wirecheck.circuit.circuit import Contact, Load, Protection
from wirecheck.circuit.ladder import Ladder, Rung, in_rail, rung_elements
from wirecheck.circuit.structure import Element, Mesh, Step, elements
from wirecheck.drawing.cells import Cell, Grid, OnThree
from wirecheck.drawing.parted import parted

Way = tuple[Element, ...]
"""Elements one behind the other, each with its end toward the rail first."""


def three_lines(ladder: Ladder, rung: Rung, hung: Sequence[Element] = ()) -> Grid | None:
    """A load on three phases under its three lines; None where the rung is anything else.

    Parameters
    ----------
    rung : with two windings of one load, and all that lies between three rails and its ends.
    hung : the loads that hang between two of its lines, as `hanging` gives them.
    """
    names = {getattr(ladder.of.get((each.kind, each.name)), "name", "") for each in rung.loads}
    if len(rung.rails) != 3 or len(rung.loads) != 2 or len(names) != 1 or not isinstance(rung.middle, Mesh):
        return None
    one, other = rung.loads
    ends = (one.a, one.b, other.b)
    others = [each for each in rung.middle.elements if each not in rung.loads]
    mains = _mains(others, rung.rails, ends)
    if mains is None:
        return None
    order = _in_line(ladder, mains, ends)
    rank = _ranks(others, rung.rails)
    ways = [*(mains[end][1] for end in order), *_beside(others, mains, rank)]
    edges = [edge for way in ways for edge in way]
    if any(rank[edge.a] >= rank[edge.b] for edge in edges):
        return None
    starts = {mains[end][0]: row for row, end in enumerate(order)}
    rows = tuple(order.index(end) for end in ends)
    motor = OnThree(one, ends, rows, 0)
    return _whole(ladder, rung, ways, starts, motor, hung) or _laid(ladder, rung, ways, starts, motor, hung)


def hanging(ladder: Ladder, rung: Rung, beside: Sequence[Rung]) -> list[Rung]:
    """Of the rungs between two rails, those of loads that hang on two lines to a motor, behind its contactor.

    Parameters
    ----------
    rung : that of the motor.
    """
    alone = [each for each in rung_elements(rung) if each not in rung.loads]
    load = ladder.of.get(("load", rung.loads[0].name)) if rung.loads else None
    if not isinstance(load, Load) or len(load.ends) < 3 or len(rung.rails) != 3:
        return []
    mains = _mains(alone, rung.rails, [ladder.node[end] for end in load.ends])
    if mains is None:
        return []
    depth = {edge.b: place for _, way in mains.values() for place, edge in enumerate(way)}
    on = {(edge.kind, edge.name) for _, way in mains.values() for edge in way}
    ends = {end for edge in alone if edge.kind == "gap" for end in (edge.a, edge.b)}
    found = []
    for other in beside:
        passed = [each for part in (*other.before, *other.after) for each in elements(part)]
        twice = [each for each in passed if not in_rail(ladder.of.get((each.kind, each.name)))]
        one, end = other.middle.left, other.middle.right
        level = one != end and depth.get(one, -1) == depth.get(end, -2)
        if (
            isinstance(other.middle, Step)
            and other.loads == (other.middle.element,)
            and level
            and twice
            and ends.isdisjoint((one, end))
            and on.issuperset((each.kind, each.name) for each in passed)
        ):
            found.append(other)
    return found


def _whole(
    ladder: Ladder,
    rung: Rung,
    ways: Sequence[Way],
    starts: Mapping[int, int],
    motor: OnThree,
    hung: Sequence[Element],
) -> Grid | None:
    """The ways as they stand with all wires, and the missing ones taken out; None where lines meet there."""
    gaps = {edge: row for row, way in enumerate(ways) for edge in way if edge.kind == "gap"}
    rows = _rows(ways, motor, {})
    behind = {gap.b: gap.a for gap in gaps}
    if not gaps or any(rows[end] != {row} for gap, row in gaps.items() for end in (gap.a, gap.b)):
        return None
    if behind.keys() & behind.values():
        return None

    def near(node: int) -> int:
        return behind.get(node, node)

    closed = [
        tuple(edge._replace(a=near(edge.a), b=near(edge.b)) for edge in way if edge not in gaps)
        for way in ways
    ]
    grid = _laid(ladder, rung, closed, starts, motor._replace(nodes=tuple(map(near, motor.nodes))), hung)
    assert grid.motor is not None
    for gap, row in gaps.items():
        after = [cell for cell in grid.cells if (cell.left, cell.row) == (gap.a, row)]
        column = after[0].column if after else grid.motor.column
        grid.missing.append(Cell(gap, gap.a, gap.b, column, row))
    named = {(edge.kind, edge.name): edge for way in ways for edge in way}
    for number, cell in enumerate(grid.cells):
        assert cell.element is not None
        if cell.element in hung:
            continue
        edge = named[cell.element.kind, cell.element.name]
        grid.cells[number] = cell._replace(element=edge, left=edge.a, right=edge.b)
    grid.motor = grid.motor._replace(nodes=motor.nodes)
    return parted(grid)


def _rows(ways: Sequence[Way], motor: OnThree, starts: Mapping[int, int]) -> dict[int, set[int]]:
    """The rows on which each node is met: where a rail starts, at the motor, and along the ways."""
    met = {rail: {row} for rail, row in starts.items()}
    for node, row in zip(motor.nodes, motor.rows, strict=True):
        met.setdefault(node, set()).add(row)
    for row, way in enumerate(ways):
        for edge in way:
            met.setdefault(edge.a, set()).add(row)
            met.setdefault(edge.b, set()).add(row)
    return met


def _mains(
    elements: Sequence[Element], rails: Sequence[int], ends: Sequence[int]
) -> dict[int, tuple[int, Way]] | None:
    """For each end of the load its rail, and the shortest way from there: a rail each, as short as can be."""
    ways = {
        (end, rail): _shortest(elements, rail, end, {*rails, *ends}) for end, rail in product(ends, rails)
    }
    taken = [list(zip(ends, order, strict=True)) for order in permutations(rails)]
    whole = [pairs for pairs in taken if all(ways[pair] is not None for pair in pairs)]
    if not whole:
        return None
    best = min(whole, key=lambda pairs: sum(len(ways[pair] or ()) for pair in pairs))
    return {end: (rail, ways[end, rail] or ()) for end, rail in best}


def _shortest(elements: Sequence[Element], rail: int, end: int, stops: set[int]) -> Way | None:
    """The fewest elements from a rail to an end, past no other of either."""
    ways: dict[int, Way] = {rail: ()}
    waiting = [rail]
    for node in waiting:
        for each in elements if node == rail or node not in stops else ():
            if node in (each.a, each.b):
                onward = each if each.a == node else each._replace(a=each.b, b=each.a)
                if onward.b not in ways:
                    ways[onward.b] = (*ways[node], onward)
                    waiting.append(onward.b)
    return ways.get(end)


def _in_line(ladder: Ladder, mains: Mapping[int, tuple[int, Way]], ends: Sequence[int]) -> list[int]:
    """The ends from the first line to the last; a line that nothing feeds keeps the place of its end."""
    fed = [end for end in ends if not ladder.rails[mains[end][0]].open]
    order = sorted(fed, key=lambda end: ladder.rails[mains[end][0]].order)
    for place, end in enumerate(ends):
        if end not in fed:
            order.insert(place, end)
    return order


def _ranks(elements: Sequence[Element], rails: Sequence[int]) -> dict[int, tuple[int, int]]:
    """How far each node is from the nearest rail, those as far in the order in which they are met."""
    rank = {rail: (0, place) for place, rail in enumerate(rails)}
    waiting = list(rails)
    for node in waiting:
        for each in elements:
            if node in (each.a, each.b):
                onward = each.b if each.a == node else each.a
                if onward not in rank:
                    rank[onward] = (rank[node][0] + 1, len(rank))
                    waiting.append(onward)
    return rank


def _beside(
    elements: Sequence[Element], mains: Mapping[int, tuple[int, Way]], rank: Mapping[int, tuple[int, int]]
) -> Iterator[Way]:
    """What is on none of the three lines, as ways that each lead on toward the load."""
    on = {(edge.kind, edge.name) for _, way in mains.values() for edge in way}
    left = [
        each if rank[each.a] < rank[each.b] else each._replace(a=each.b, b=each.a)
        for each in elements
        if (each.kind, each.name) not in on
    ]
    while left:
        way = [left.pop(0)]
        while (onward := next((each for each in left if each.a == way[-1].b), None)) is not None:
            left.remove(onward)
            way.append(onward)
        yield tuple(way)


def _laid(
    ladder: Ladder,
    rung: Rung,
    ways: Sequence[Way],
    starts: Mapping[int, int],
    motor: OnThree,
    hung: Sequence[Element],
) -> Grid:
    """The ways under one another, with the same step of each in one column; below them what hangs on two."""
    stage = _stages(ways, dict.fromkeys(rung.rails, 0))
    last = max(1, *stage.values())
    # What is left of a lost line stands under the same of the others: it begins where it is lost.
    lost = {rail: last - len(ways[row]) for rail, row in starts.items() if ladder.rails[rail].open}
    stage = _stages(ways, stage | lost)
    before = stage = _in_step(ways, stage)
    last = max(1, *stage.values())
    stage = stage | dict.fromkeys(motor.nodes, last)
    met = _rows(ways, motor, starts)
    below = {max(len(ways), 3) + place: each for place, each in enumerate(hung)}
    for row, each in below.items():
        met[each.a].add(row)
        met[each.b].add(row)
    lane, element, lanes = _lanes(stage, met, last)
    high = max(len(ways), 3) + len(hung)
    grid = Grid(rung.rails, True, columns=element[last] + 1, rows=high, lanes=lanes)
    grid.motor = motor._replace(column=element[last])
    gapped = any(edge.kind == "gap" for way in ways for edge in way)
    cells = [
        Cell(edge, edge.a, edge.b, element[before[edge.b] - 1 if gapped else stage[edge.a]], row)
        for row, way in enumerate(ways)
        for edge in way
    ]
    grid.cells = list(_said_once(ladder, cells))
    for row, each in below.items():
        left, right = sorted((each.a, each.b), key=lane.__getitem__)
        grid.cells.append(Cell(each, left, right, lane[left], row))
    cells += grid.cells[len(cells) :]
    grid.spots = {rail: (element[stage[rail]] if rail in lost else 0, row) for rail, row in starts.items()}
    for node, rows in met.items():
        grid.down(node, lane[node], min(rows), max(rows))
        for row in rows:
            enters = [cell.column + 1 for cell in cells if (cell.right, cell.row) == (node, row)]
            enters += [column for rail, (column, at) in grid.spots.items() if (rail, at) == (node, row)]
            leaves = [cell.column for cell in cells if (cell.left, cell.row) == (node, row)]
            leaves += [
                grid.motor.column
                for end, at in zip(motor.nodes, motor.rows, strict=True)
                if (end, at) == (node, row)
            ]
            grid.across(node, row, min([*enters, lane[node]]), max([*leaves, lane[node]]))
    return grid


def _stages(ways: Sequence[Way], stage: Mapping[int, int]) -> dict[int, int]:
    """How many elements are before each node, on the longest way."""
    found = dict(stage)
    edges = [edge for way in ways for edge in way]
    for _ in edges:
        for edge in edges:
            found[edge.b] = max(found.get(edge.b, 0), found.get(edge.a, 0) + 1)
    return found


def _in_step(ways: Sequence[Way], stage: Mapping[int, int]) -> dict[int, int]:
    """What stands behind a gap in one line, under the same of the others: these have wire there."""
    found = dict(stage)
    for way in ways:
        for place, edge in enumerate(way):
            if edge.kind == "gap":
                behind = {each.b for each in way[place:]}
                level = found[edge.a]
                found = {node: at + (at > level and node not in behind) for node, at in found.items()}
    return found


def _lanes(
    stage: Mapping[int, int], met: Mapping[int, set[int]], last: int
) -> tuple[dict[int, int], dict[int, int], frozenset[int]]:
    """Where each node stands upright, the column of the elements behind each step, those of wire alone."""
    lane: dict[int, int] = {}
    element: dict[int, int] = {}
    at = 0
    for step in range(last + 1):
        nodes = [node for node in met if stage[node] == step]
        upright = sorted((node for node in nodes if len(met[node]) > 1), key=lambda node: min(met[node]))
        # A line that passes an upright wire has no end on it.
        passed = bool(upright) and len(nodes) > 1
        lane |= {node: at + passed + place for place, node in enumerate(upright)}
        element[step] = at + passed + len(upright) - (bool(upright) and not passed)
        lane |= {node: element[step] for node in nodes if node not in upright}
        at = element[step] + 1
    held = {*element.values()}
    return lane, element, frozenset(range(at)) - held


def _said_once(ladder: Ladder, cells: Sequence[Cell]) -> Iterator[Cell]:
    """The cells, with the name of a device over its first pole alone, and its words under the last."""

    def owner(cell: Cell) -> str:
        assert cell.element is not None
        what = ladder.of.get((cell.element.kind, cell.element.name))
        return what.scope if isinstance(what, Contact) else what.name if isinstance(what, Protection) else ""

    # In a column sorted by rows, those that follow one another are as many places apart as rows.
    ordered = sorted(cells, key=lambda cell: (cell.column, cell.row))
    for _, group in groupby(
        enumerate(ordered), key=lambda one: (one[1].column, owner(one[1]), one[0] - one[1].row)
    ):
        poles = [cell for _, cell in group]
        for place, cell in enumerate(poles):
            yield cell._replace(says=(place == 0, place == len(poles) - 1))

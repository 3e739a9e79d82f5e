"""Rungs on a grid: which of them stand under one another, and in which cell each element stands."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise, permutations
from random import Random
from typing import NamedTuple

from wirecheck.circuit.around import less_directly
from wirecheck.circuit.ladder import Ladder, Rail, Rung, in_rail, rung_elements
from wirecheck.circuit.structure import Chain, Element, Fork, Mesh, Step, Structure, Travelers, elements
from wirecheck.drawing.cells import Cell, Grid, Run
from wirecheck.drawing.lines import hanging, three_lines
from wirecheck.drawing.parted import parted
from wirecheck.drawing.travelers import kept_whole

Share = tuple[int, float, int]
"""A node's place from left to right: terminal or not, its share of the volts, its number."""
COVERS = 24
FEW = 5
"""Orders of up to so many ways are all tried."""
MOST_MOVED = 40
"""Of more rungs none is tried elsewhere."""
MIDST = 60
"""The order of a wire that is no rail, from which a contact leads to itself: after secondaries."""
MANY = 30
"""With more ways than this no order of them is tried but that in which they were found."""


# ---------------------------------------------------------------- structures


def size(structure: Structure) -> tuple[int, int]:
    """Columns and rows that a structure takes.

    >>> step = Step(Element("contact", "S1", 1, 2), 1, 2)
    >>> size(Chain((step, Fork((step, step)))))
    (2, 2)
    """
    match structure:
        case Step(element):
            # A missing wire takes no room: so what it was to join stays where it is with that wire.
            return int(element.kind != "gap"), 1
        case Chain(parts):
            sizes = [size(part) for part in parts]
            return sum(wide for wide, _ in sizes), max(high for _, high in sizes)
        case Fork(branches):
            sizes = [size(branch) for branch in branches]
            return max(wide for wide, _ in sizes), sum(high for _, high in sizes)
        case Mesh():
            woven = weave(structure)
            return woven.columns, woven.rows
        case Travelers(columns=columns):
            return columns, 2


def lay(grid: Grid, structure: Structure, column: int, row: int) -> None:
    """Put a structure on the grid with its left end at a column and a row."""
    match structure:
        case Step(element, left, right):
            (grid.missing if element.kind == "gap" else grid.cells).append(
                Cell(element, left, right, column, row)
            )
        case Chain(parts):
            for part in parts:
                lay(grid, part, column, row)
                column += size(part)[0]
        case Fork(branches):
            wide, at = size(structure)[0], row
            taps = []
            for branch in branches:
                own, high = size(branch)
                lay(grid, branch, column, at)
                grid.across(structure.right, at, column + own, column + wide)
                taps.append(at)
                at += high
            for above, below in pairwise(taps):
                grid.down(structure.left, column, above, below)
                grid.down(structure.right, column + wide, above, below)
        case Mesh():
            woven = weave(structure)
            grid.cells += [c._replace(column=c.column + column, row=c.row + row) for c in woven.cells]
            for run in woven.runs:
                at, along = (column, row) if run.down else (row, column)
                grid.runs.append(run._replace(at=run.at + at, start=run.start + along, end=run.end + along))
        case Travelers(crossings):
            columns = [each.column for each in crossings]
            for place, each in enumerate(crossings):
                says = each.column not in columns[:place], each.column not in columns[place + 1 :]
                at = column + each.column
                grid.cells.append(
                    Cell(each.element, each.left, each.right, at, row + each.row, None, row + each.end, says)
                )


# -------------------------------------------------------------------- meshes


class Woven(NamedTuple):
    """A mesh on its own small grid; `spots` are each node's column and its first row."""

    columns: int
    rows: int
    cells: tuple[Cell, ...]
    runs: tuple[Run, ...]
    spots: Mapping[int, tuple[int, int]]


class _Weave(NamedTuple):
    """Ways in their rows, with each node's column and its first and last row."""

    ways: tuple[tuple[Element, ...], ...]
    columns: dict[int, int]
    spans: dict[int, tuple[int, int]]

    def cost(self) -> int:
        """How far it is from a drawing without a crossing, with short nodes and few rows."""
        crossings = 0
        for row, way in enumerate(self.ways):
            for edge in way:
                start, end = self.columns[edge.a], self.columns[edge.b]
                for node, (top, low) in self.spans.items():
                    crossings += start < self.columns[node] < end and top <= row <= low
        return 6 * crossings + sum(low - top for top, low in self.spans.values()) + 2 * len(self.ways)


@lru_cache(maxsize=256)
def weave(mesh: Mesh) -> Woven:
    """A mesh on a grid: each way through it from left to right a row, each node a piece of a column.

    Nodes are ordered by the share of the volts at which they would stand with a
    resistor for each element, so that each element leads on to the right. Which
    ways, and in what order from top to bottom, is tried out where they are few.
    """
    share = _shares(mesh)
    edges = [
        each if share[each.a] < share[each.b] else each._replace(a=each.b, b=each.a)
        for each in mesh.elements
        if each.a != each.b
    ]
    tried = [_stacked(ways, share, mesh.terminals) for ways in _covers(edges, share)]
    best = min(tried, key=_Weave.cost) if len(tried) > 1 else tried[0]
    cells, runs = [], []
    for row, way in enumerate(best.ways):
        for edge in way:
            column = best.columns[edge.a]
            cells.append(Cell(edge, edge.a, edge.b, column, row))
            if best.columns[edge.b] > column + 1:
                runs.append(Run(edge.b, row, column + 1, best.columns[edge.b], False))
    for node, (top, low) in best.spans.items():
        if low > top:
            runs.append(Run(node, best.columns[node], top, low, True))
    spots = {node: (best.columns[node], top) for node, (top, _) in best.spans.items()}
    columns = max(best.columns.values(), default=1)
    return Woven(columns, len(best.ways), tuple(cells), tuple(runs), spots)


def _shares(mesh: Mesh) -> dict[int, Share]:
    """Where each node stands between the left terminals (0) and the last one (1), by relaxation.

    Terminals come before all that stands where they do, and the last one after.
    """
    near: dict[int, list[int]] = {}
    for each in mesh.elements:
        if each.a != each.b:
            near.setdefault(each.a, []).append(each.b)
            near.setdefault(each.b, []).append(each.a)
    fixed = dict.fromkeys(mesh.terminals, 0.0)
    if len(mesh.terminals) > 1:
        fixed[mesh.terminals[-1]] = 1.0
    share = {node: fixed.get(node, 0.5) for node in near}
    for _ in range(60):
        for node, others in near.items():
            if node not in fixed:
                share[node] = sum(share[other] for other in others) / len(others)
    order = {node: number for number, node in enumerate(near)}
    rank = dict.fromkeys(mesh.terminals, 0)
    if len(mesh.terminals) > 1:
        rank[mesh.terminals[-1]] = 2
    return {node: (rank.get(node, 1), round(value, 6), order[node]) for node, value in share.items()}


def _covers(edges: list[Element], share: Mapping[int, Share]) -> list[list[tuple[Element, ...]]]:
    """The elements as ways that each lead on to the right: in a few manners, none of them twice."""
    ordered = sorted(edges, key=lambda edge: (share[edge.a], share[edge.b]))
    covers: dict[frozenset[tuple[Element, ...]], list[tuple[Element, ...]]] = {}
    for seed in range(COVERS if len(edges) <= 16 else 1):
        left = list(ordered)
        if seed:
            Random(seed).shuffle(left)
            left.sort(key=lambda edge: share[edge.a][:2])
        ways = []
        while left:
            way = [left.pop(0)]
            while (onward := next((edge for edge in left if edge.a == way[-1].b), None)) is not None:
                left.remove(onward)
                way.append(onward)
            ways.append(tuple(way))
        covers.setdefault(frozenset(ways), ways)
    fewest = min(len(ways) for ways in covers.values())
    return [ways for ways in covers.values() if len(ways) == fewest]


def _stacked(
    ways: list[tuple[Element, ...]], share: Mapping[int, Share], terminals: tuple[int, ...]
) -> _Weave:
    """The ways from top to bottom in the best order found."""
    if len(ways) <= FEW:
        return min((_columns(order, share, terminals) for order in permutations(ways)), key=_Weave.cost)
    if len(ways) > MANY:
        return _columns(ways, share, terminals)
    stacked = ways[:1]
    for way in ways[1:]:
        places = range(max(0, len(stacked) - 8), len(stacked) + 1)
        spots = [[*stacked[:at], way, *stacked[at:]] for at in places]
        stacked = list(min((_columns(spot, share, terminals) for spot in spots), key=_Weave.cost).ways)
    return _columns(stacked, share, terminals)


def _columns(
    ways: Sequence[tuple[Element, ...]], share: Mapping[int, Share], terminals: tuple[int, ...]
) -> _Weave:
    spans: dict[int, tuple[int, int]] = {}
    before: dict[int, list[int]] = {}
    for row, way in enumerate(ways):
        for edge in way:
            before.setdefault(edge.b, []).append(edge.a)
            for node in (edge.a, edge.b):
                top, low = spans.get(node, (row, row))
                spans[node] = (min(top, row), max(low, row))
    if len(terminals) == 2:
        # What comes before it and after it is on the first row.
        spans |= {node: (0, spans[node][1]) for node in terminals if node in spans}
    columns: dict[int, int] = {}
    for node in sorted(spans, key=lambda one: share[one]):
        at = 1 + max((columns[one] for one in before.get(node, ())), default=-1)
        if len(terminals) == 2 and node not in terminals:
            # The left terminal may be a rail, which has its column to itself.
            at = max(at, 1)
        top, low = spans[node]
        while any(columns[one] == at and spans[one][0] <= low and top <= spans[one][1] for one in columns):
            at += 1
        columns[node] = at
    if len(terminals) > 1 and terminals[-1] in columns:
        columns[terminals[-1]] = max(
            [columns[terminals[-1]], *(at + 1 for node, at in columns.items() if node != terminals[-1])]
        )
    return _Weave(tuple(ways), columns, spans)


# --------------------------------------------------------------------- grids


def grids(ladder: Ladder, most: int | None = None) -> list[Grid]:
    """A grid for each pair of rails with its rungs, and one for each rung that has no such pair.

    Legs come first, then what transformers feed. Rungs are in the order in
    which what they share can be drawn once; those behind one breaker have a grid to themselves.

    Parameters
    ----------
    most : how many rungs a grid may hold; a longer one is continued in another.
    """
    rungs = [kept_whole(ladder, rung) for rung in ladder.rungs]
    pairs = [rung for rung in rungs if len(rung.rails) == 2]
    lines: list[Grid] = []
    for rung in _together(ladder, [rung for rung in rungs if len(rung.rails) != 2]):
        hung = hanging(ladder, rung, pairs)
        lines.append(three_lines(ladder, rung, [each.loads[0] for each in hung]) or _apart(rung))
        if lines[-1].motor:
            pairs = [each for each in pairs if each not in hung]
    beside: dict[tuple[int, ...], list[Rung]] = {}
    for rung in pairs:
        beside.setdefault(rung.rails, []).append(rung)
    for winding in ladder.circuit.windings:
        ends = {ladder.node[point] for point in winding.secondary}
        if not any(set(rails) == ends for rails in beside):
            beside[tuple(ladder.node[point] for point in winding.secondary)] = []
    listed: list[Grid] = []
    for rails in sorted(beside, key=lambda rails: _order(ladder, rails)):
        first = True
        for lot in _lots(ladder, _in_order(beside[rails])):
            for number, chunk in enumerate(_chunks(lot, most)):
                grid = _between(ladder, rails, chunk, fed=first)
                grid.continued = number > 0
                listed.append(grid)
                first = False
    return [grid for grid in lines if grid.motor] + listed + [grid for grid in lines if not grid.motor]


def _together(ladder: Ladder, rungs: list[Rung]) -> list[Rung]:
    """Rungs without a pair of rails, those that differ in their loads alone as one: no pole is twice."""
    found: dict[tuple[object, ...], Rung] = {}
    for rung in rungs:
        assert isinstance(rung.middle, Mesh)
        ways = [each for each in rung.middle.elements if each not in rung.loads]
        apart = not ways or three_lines(ladder, rung) is not None
        key = (len(found),) if apart else (rung.rails, frozenset(ways))
        if key in found:
            before = found[key]
            assert isinstance(before.middle, Mesh)
            middle = before.middle._replace(elements=(*before.middle.elements, *rung.loads))
            rung = before._replace(loads=(*before.loads, *rung.loads), middle=middle)
        found[key] = rung
    return list(found.values())


def _lots(ladder: Ladder, rungs: list[Rung]) -> list[list[Rung]]:
    """Rungs that hang on one breaker or fuse by themselves, where there are several; the others together."""
    behind: dict[tuple[tuple[Step, ...], tuple[Step, ...]], list[Rung]] = {}
    idle = [rung for rung in rungs if _leads_nowhere(rung)]
    if idle and len(idle) < len(rungs):
        fed = _lots(ladder, [rung for rung in rungs if rung not in idle])
        for rung in idle:
            # It has no end to hang on on its other side, and so no say in what does there.
            heads = [(_heads(ladder, lot), _heads(ladder, [*lot, rung]), lot) for lot in fed]
            beside = next((lot for before, after, lot in heads if before == after), None)
            fed += [] if beside else [[rung]]
            if beside:
                _put_in(beside, rung)
        return fed
    for rung in rungs:
        left, right = _heads(ladder, [rung])
        behind.setdefault((left[:1], right[:1]), []).append(rung)
    if len(behind) <= 1:
        return [rungs]
    lots: list[list[Rung]] = []
    single: list[Rung] = []
    for lot in behind.values():
        if len(lot) > 1:
            lots.append(lot)
        else:
            if not single:
                lots.append(single)
            single += lot
    return lots


def _heads(ladder: Ladder, rungs: Sequence[Rung]) -> tuple[tuple[Step, ...], tuple[Step, ...]]:
    """What all the rungs begin with, and what they end with, of what stands in the rails."""
    if not rungs:
        return (), ()
    found = []
    for side in (0, 1):
        chains = [
            tuple(reversed(rung.after)) if side else rung.before for rung in rungs if _loose(rung) != side
        ]
        head: list[Step] = []
        for part in chains[0] if chains else ():
            here = len(head)
            shared = all(len(chain) > here and chain[here] == part for chain in chains)
            if not (
                shared
                and isinstance(part, Step)
                and in_rail(ladder.of.get((part.element.kind, part.element.name)))
            ):
                break
            head.append(part)
        found.append(tuple(head))
    return found[0], found[1]


def _order(ladder: Ladder, rails: tuple[int, ...]) -> tuple[bool, bool, list[tuple[int, int]]]:
    ends = [ladder.rails.get(node, Rail(node, (), MIDST, False)) for node in rails]
    alike = len(set(rails)) == 1
    return alike, any(rail.open for rail in ends), [(rail.order, rail.node) for rail in ends]


def _in_order(rungs: list[Rung]) -> list[Rung]:
    """Rungs that begin with the same beside each other, and among them those that end with the same.

    Where less is drawn twice so, those that begin with the same and end with the same stand together, before
    more that some of them begin with is looked at. A contact that leads nowhere comes last, of those that
    begin as it does.
    """
    idle = [rung for rung in rungs if _leads_nowhere(rung)]
    rungs = [rung for rung in rungs if not _leads_nowhere(rung)]
    # Where wires are missing, the order is that with them, unless what one would join then comes apart.
    whole = [rung._replace(before=_closed(rung.before), after=_closed(rung.after)) for rung in rungs]
    ordered = [rungs[place] for place in _order_of(whole)]
    if whole != rungs and _drawn_again(ordered):
        ordered = [rungs[place] for place in _order_of(rungs)]
        ordered = _with_one_moved(ordered) if _drawn_again(ordered) else ordered
    ordered = _hung(ordered)
    for rung in idle:
        _put_in(ordered, rung)
    return ordered


def _hung(rungs: list[Rung]) -> list[Rung]:
    """Rungs that begin as a branch of a fork does, right after those with the fork, and that branch its last.

    So they hang on its wire, and what the branch begins with is not drawn again.
    """
    if not any(isinstance(part, Fork) for rung in rungs for part in rung.before):
        return rungs
    taken: set[Structure] = set()
    for rung in list(rungs):
        found = next(
            (
                (depth, fork, branch)
                for other in rungs
                for depth, fork in enumerate(other.before[: len(rung.before)])
                if isinstance(fork, Fork) and other.before[:depth] == rung.before[:depth]
                for branch in fork.branches
                if isinstance(branch, Chain) and branch.parts[0] == rung.before[depth]
            ),
            None,
        )
        if found is None or found[1] in taken:
            continue
        depth, fork, branch = found
        taken.add(fork)
        begun = rung.before[: depth + 1]
        alike = [each for each in rungs if each.before[: depth + 1] == begun]
        others = [each for each in rungs if each not in alike]
        last = Fork((*(each for each in fork.branches if each != branch), branch))
        hosts = [at for at, each in enumerate(others) if each.before[: depth + 1] == (*begun[:-1], fork)]
        for at in hosts:
            before = others[at].before
            others[at] = others[at]._replace(before=(*before[:depth], last, *before[depth + 1 :]))
        rungs = [*others[: hosts[-1] + 1], *alike, *others[hosts[-1] + 1 :]]
    return rungs


def _with_one_moved(rungs: list[Rung]) -> list[Rung]:
    """Rungs with one of them elsewhere, if no missing wire is then drawn twice, nor more of anything else."""
    most, part = _drawn(rungs), [rung for rung in rungs if _closed(rung.after) != rung.after]
    for rung in part if len(rungs) <= MOST_MOVED else ():
        rest = [other for other in rungs if other is not rung]
        for place in range(len(rungs)):
            tried = [*rest[:place], rung, *rest[place:]]
            if not _drawn_again(tried) and _drawn(tried) < most:
                return tried
    return rungs


def _put_in(rungs: list[Rung], rung: Rung) -> None:
    """Put a rung behind the last of those that share most of what it begins with."""
    shared = [_shared(rung.before, other.before) for other in rungs]
    rungs.insert(1 + max((at for at, count in enumerate(shared) if count == max(shared)), default=-1), rung)


def _closed(chain: tuple[Structure, ...]) -> tuple[Structure, ...]:
    """A chain without the wires that are missing in it."""
    return tuple(part for part in chain if not (isinstance(part, Step) and part.element.kind == "gap"))


def _drawn_again(rungs: Sequence[Rung]) -> bool:
    """Whether a wire that is missing on several rungs would be drawn more than once."""
    seen: set[Structure] = set()
    before: set[Structure] = set()
    for rung in rungs:
        here = {part for part in (*rung.before, *rung.after) if not _closed((part,))}
        if (here - before) & seen:
            return True
        seen |= here
        before = here
    return False


def _order_of(rungs: Sequence[Rung]) -> list[int]:
    """Rungs in the order in which least is drawn of them, by their places."""
    numbers = dict(enumerate(rungs))
    ended_at = _places([tuple(reversed(rung.after)) for rung in rungs])
    by_end = sorted(numbers, key=ended_at.__getitem__)
    rungs = [numbers[place] for place in by_end]
    ended = sorted(ended_at)
    begun = _places([rung.before for rung in rungs])
    together = [(here[:1], end, here[1:]) for here, end in zip(begun, ended, strict=True)]
    places = range(len(rungs))
    orders = (sorted(places, key=begun.__getitem__), sorted(places, key=together.__getitem__))
    best = min(orders, key=lambda order: _drawn([rungs[place] for place in order]))
    return [by_end[place] for place in best]


def _drawn(rungs: Sequence[Rung]) -> int:
    """How much is drawn of rungs in their order: what neighbors begin or end with, once."""
    count = 0
    for chains in ([rung.before for rung in rungs], [tuple(reversed(rung.after)) for rung in rungs]):
        count += sum(map(len, chains)) - sum(_shared(one, other) for one, other in pairwise(chains))
    return count


def _leads_nowhere(rung: Rung) -> bool:
    return not rung.loads and any(each.kind == "gap" for each in rung_elements(rung))


def _loose(rung: Rung) -> int | None:
    """On which side of its contact a rung leads nowhere, 0 for the left; None where it does not."""
    return int(_closed(rung.before) == rung.before) if _leads_nowhere(rung) else None


def _with_end(rung: Rung) -> Rung:
    """A rung that leads nowhere with its contact beside what feeds it, and nothing behind."""
    if _loose(rung) == 1:
        return rung._replace(before=(*rung.before, rung.middle), after=())
    return rung._replace(before=(), after=(rung.middle, *rung.after))


def _places(chains: Sequence[tuple[Structure, ...]]) -> list[list[int]]:
    """For each chain, and each part of it, where the first one is that begins with the same up to there."""
    first: dict[tuple[Structure, ...], int] = {}
    keys = []
    for place, chain in enumerate(chains):
        heads = [chain[: depth + 1] for depth in range(len(chain))]
        for head in heads:
            first.setdefault(head, place)
        keys.append([first[head] for head in heads])
    return keys


def _chunks(rungs: list[Rung], most: int | None) -> list[list[Rung]]:
    """Rungs in lots of about the same length, each cut where two neighbors share least."""
    if most is None or len(rungs) <= most:
        return [rungs]
    lots = -(-len(rungs) // most)
    chunks: list[list[Rung]] = []
    start = 0
    for lot in range(1, lots):
        aim = start + -(-(len(rungs) - start) // (lots - lot + 1))
        near = range(max(start + 1, aim - most // 3), aim + 1)
        cut = min(near, key=lambda at: (_shared(rungs[at].before, rungs[at - 1].before), aim - at))
        chunks.append(rungs[start:cut])
        start = cut
    return [*chunks, rungs[start:]]


def _shared(one: Sequence[Structure], other: Sequence[Structure]) -> int:
    count = 0
    for mine, theirs in zip(one, other, strict=False):
        if mine != theirs:
            break
        count += 1
    return count


def _wide(parts: Iterable[Structure]) -> int:
    return sum(size(part)[0] for part in parts)


def _between(ladder: Ladder, rails: tuple[int, ...], rungs: list[Rung], *, fed: bool) -> Grid:
    """The rungs between two rails, each under the last, with what two of them share drawn once.

    `fed` is whether the secondary that feeds the rails is drawn there.
    """
    left, right = rails
    grid = Grid(rails)
    grid.heads = _heads(ladder, rungs)
    heads = [len(head) for head in grid.heads]
    loose = [_loose(rung) for rung in rungs]
    rungs = [rung if end is None else _with_end(rung) for rung, end in zip(rungs, loose, strict=True)]
    rungs = [
        rung._replace(before=rung.before[heads[0] :], after=rung.after[: max(len(rung.after) - heads[1], 0)])
        for rung in rungs
    ]
    grid.inner = (
        grid.heads[0][-1].right if grid.heads[0] else left,
        grid.heads[1][-1].left if grid.heads[1] else right,
    )
    whole = [rung for rung, end in zip(rungs, loose, strict=True) if end is None]
    before = max((_wide(rung.before) for rung in whole), default=0)
    middle = max([1, *(size(rung.middle)[0] for rung in whole)])
    end = before + middle + max((_wide(rung.after) for rung in whole), default=0)
    # What leads nowhere has the room of the loads, too, as nothing of it is beyond its contact.
    end = grid.columns = max([end, *(max(_wide(rung.before), _wide(rung.after)) for rung in rungs)])
    row = 0
    # The row at which each node of the last rung's beginning, and of its end, was last met.
    left_taps: list[int] = []
    right_taps: list[int] = []
    hooks: list[_Hook] = []
    for winding in ladder.circuit.windings:
        if not fed or {ladder.node[point] for point in winding.secondary} != {left, right}:
            continue
        grid.cells.append(Cell(None, left, right, before, row, winding))
        grid.across(left, row, 0, before)
        grid.across(right, row, before + 1, end)
        if row:
            grid.down(left, 0, row - 1, row)
            grid.down(right, end, row - 1, row)
        left_taps, right_taps = [row], [row]
        row += 1
    grid.feeds = row
    # Below a breaker its rail is another piece of wire.
    left_taps, right_taps = ([] if heads[0] else left_taps), ([] if heads[1] else right_taps)
    last: Rung | None = None
    for rung, end_at in zip(rungs, loose, strict=True):
        column, high, rows = 0, 1, 1
        if end_at != 0:
            column, high = _lay_before(grid, rung, last, left_taps, hooks, row)
        if end_at is None:
            if not rung.loads:
                grid.bare.add(row)
            if _grounded(ladder, rung):
                grid.grounds.add(row)
            grid.across(rung.middle.left, row, column, before)
            lay(grid, rung.middle, before, row)
            high = max(high, size(rung.middle)[1])
        if end_at != 1:
            column, rows = _lay_after(grid, rung, last, right_taps, row)
        if end_at is None:
            grid.across(rung.middle.right, row, before + size(rung.middle)[0], column)
        else:
            # Of what is whole with what is missing behind it, that begins where it ends.
            within = [each.a for each in elements(rung.middle) if each.kind == "gap"]
            ends = within or [rung.middle.right if end_at else rung.middle.left]
            grid.loose[column, row] = ends[0]
        last = rung
        row += max(high, rows)
    grid.rows = row
    elsewhere = less_directly(ladder)
    for cell in grid.cells:
        if (
            cell.element
            and cell.element.name not in elsewhere
            and cell.left == cell.right
            and cell.element.kind == "contact"
            and rails[0] != rails[1]
        ):
            grid.across(cell.left, cell.row, cell.column, cell.column + 1)
            grid.around.add(cell.element.name)
    return parted(grid)


class _Hook(NamedTuple):
    """A wire in the last branch of a fork, on which a rung hangs that begins as that branch does.

    `host` is what the rung with the fork begins with, and that too; `begins` what one does that hangs there.
    """

    host: tuple[Structure, ...]
    begins: tuple[Structure, ...]
    row: int


def _lay_before(
    grid: Grid, rung: Rung, last: Rung | None, taps: list[int], hooks: list[_Hook], row: int
) -> tuple[int, int]:
    """Lay what a rung begins with that the last one does not; returns the column behind it, and its rows.

    `taps` are the rows at which each node of that beginning was last met, from the rail on; `hooks` the
    wires in a fork above that nothing since has come under.
    """
    before = rung.before
    same = _shared(before, last.before) if last else 0
    hook = max(
        (each for each in hooks if before[: len(each.begins)] == each.begins), key=_depth, default=None
    )
    if hook and _depth(hook) > same:
        same, outside = _depth(hook), len(hook.host)
        taps[outside:] = [hook.row] * (same - outside + 1)
    column, high = _wide(before[:same]), 1
    if taps:
        grid.down(before[same - 1].right if same else grid.inner[0], column, taps[same], row)
    taps[same:] = [row] * (len(before) - same + 1)
    hooks[:] = [
        each
        for each in hooks
        if before[: len(each.host)] == each.host or before[: len(each.begins)] == each.begins
    ]
    for place, part in enumerate(before[same:], same):
        lay(grid, part, column, row)
        wide, rows = size(part)
        column, high = column + wide, max(high, rows)
        branch = part.branches[-1] if isinstance(part, Fork) else None
        if isinstance(branch, Chain):
            low = row + rows - size(branch)[1]
            hooks += (
                _Hook(before[: place + 1], (*before[:place], *branch.parts[:count]), low)
                for count in range(1, len(branch.parts))
            )
    return column, high


def _depth(hook: _Hook) -> int:
    return len(hook.begins)


def _lay_after(grid: Grid, rung: Rung, last: Rung | None, taps: list[int], row: int) -> tuple[int, int]:
    """Lay what a rung ends with as `_lay_before` does, from the other rail on."""
    tail = tuple(reversed(rung.after))
    same = _shared(tail, tuple(reversed(last.after))) if last else 0
    column, high = grid.columns - _wide(tail[:same]), 1
    if row not in grid.grounds:
        if taps:
            grid.down(tail[same - 1].left if same else grid.inner[1], column, taps[same], row)
        taps[same:] = [row] * (len(tail) - same + 1)
    for part in tail[same:]:
        wide, rows = size(part)
        column, high = column - wide, max(high, rows)
        lay(grid, part, column, row)
    return column, high


def _grounded(ladder: Ladder, rung: Rung) -> bool:
    """Whether the one load of a rung returns on the ground, with nothing between."""
    alone = isinstance(rung.middle, Step) and not rung.after and len(rung.loads) == 1
    return alone and rung.middle.right == 0 and ladder.on_the_ground(rung.loads[0])


def _apart(rung: Rung) -> Grid:
    """A rung that touches one rail, or more than two: drawn with all its terminals named."""
    assert isinstance(rung.middle, Mesh)
    woven = weave(rung.middle)
    grid = Grid(rung.rails, True, columns=woven.columns, rows=woven.rows, spots=woven.spots)
    grid.cells, grid.runs = list(woven.cells), list(woven.runs)
    if not rung.loads:
        grid.bare.add(0)
    return grid

"""Where current flows on a ladder in a state: its signs, its rails, and the wire between them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Sequence

from wirecheck.circuit.circuit import Load
from wirecheck.circuit.pieces import pieces
from wirecheck.drawing.block import Block
from wirecheck.drawing.cells import Cell, Piece


def _carries(block: Block, cell: Cell) -> bool:
    """Whether current flows through an element in the state."""
    if block.state is None:
        return False
    if cell.winding is not None:
        winding = cell.winding
        amps = abs(block.state.settled.amps.get(winding.name, 0))
        return amps * winding.primary_volts / winding.open_volts >= block.state.least
    element = cell.element
    if element is None or element.kind == "gap":
        return False
    # A motor's winding is another load while its rotor stands, and each of its speeds is one.
    return any(block.state.carries(name) for name in (element.name, *block.state.again.get(element.name, ())))


def drawing_ends(block: Block) -> list[tuple[int, tuple[int, int]]]:
    """The ends of the load on three phases that current flows through in the state."""
    motor = block.grid.motor
    if motor is None or block.state is None:
        return []
    load = block.captions.ladder.of["load", motor.element.name]
    assert isinstance(load, Load)
    amps = [block.state.settled.amps.get(load.winding(place), 0) for place in range(3)]
    # In delta each line feeds a winding and takes back what the one before it brings.
    least = block.state.least
    return [end for place, end in enumerate(motor.ends) if abs(amps[place] - amps[place - 1]) >= least]


def carrying_cells(block: Block) -> list[Cell]:
    """The cells that current flows through in the state, be it that of another rung where they stand too."""
    return [cell for cell in block.grid.cells if _carries(block, cell)]


def idle_ends(block: Block, carrying: Sequence[Cell]) -> set[tuple[Cell, int]]:
    """Where the current of what stands on several rungs goes on elsewhere: the cell, and which of its ends.

    There nothing else of this ladder carries current, and no rail does: so the wire there has none.
    """
    again = [cell for cell in carrying if cell.element and block.captions.again(cell.element)]
    if not again:
        return set()
    fed = set(block.rails)
    fed |= {(node, column) for node, _, (column, _), _ in block.stubs}
    ends = {(node, *spot) for cell in block.grid.cells for node, spot in cell.spots}
    ends |= {(piece.node, *spot) for piece in block.pieces for spot in (piece.start, piece.end)}
    ends |= {(node, *spot) for node, spot in drawing_ends(block)}
    wire = pieces(sorted(ends), [((each.node, *each.start), (each.node, *each.end)) for each in block.pieces])
    led = {wire[node, column, row] for node, column, row in ends if (node, column) in fed}
    meeting = Counter(wire[node, *spot] for cell in carrying for node, spot in cell.spots)
    meeting.update(wire[node, *spot] for node, spot in drawing_ends(block))
    return {
        (cell, side)
        for cell in again
        for side, (node, spot) in enumerate(cell.spots)
        if meeting[wire[node, *spot]] < 2 and wire[node, *spot] not in led
    }


def head_carries(block: Block, name: str) -> bool:
    """Whether current flows through what stands in a rail, be it that of another ladder."""
    return block.state is not None and block.state.carries(name)


def leading_elsewhere(block: Block, idle: Collection[tuple[Cell, int]], thick: Collection[int]) -> set[int]:
    """The nodes whose current goes on elsewhere, behind what is drawn there again.

    Parameters
    ----------
    idle : as `idle_ends` gives them.
    thick : the nodes with wire that carries current.
    """
    nodes = {cell.spots[1 - side][0] for cell, side in idle if (cell, 1 - side) not in idle}
    for rail, inner, head in zip(block.grid.rails, block.grid.inner, block.grid.heads, strict=False):
        if head and inner not in thick and head_carries(block, head[-1].element.name):
            nodes.add(rail)
    return nodes


def flowing_pieces(block: Block, carrying: Sequence[Cell]) -> set[Piece]:
    """The pieces of wire with something that carries current to either side of them.

    A node's wire has no loops here, so that is where the current goes. Rails
    are fed at their top, or by the secondary that stands there.
    """
    if block.state is None:
        return set()
    active: dict[tuple[int, tuple[int, int]], int] = dict.fromkeys(drawing_ends(block), 1)
    for cell in carrying:
        for key in cell.spots:
            if not block.grid.returns(key[0], key[1][1]):
                active[key] = active.get(key, 0) + 1
    for node, _, spot, _ in block.stubs:
        if any(one == node for one, _ in active):
            active[node, spot] = active.get((node, spot), 0) + 1
    fed = any(cell.winding for cell in block.grid.cells)
    for side, (node, column) in enumerate(block.rails):
        head = block.grid.heads[side]
        if fed and head and head_carries(block, head[0].element.name):
            above = (block.grid.rails[side], (column, block.grid.feeds - 1))
            active[above] = active.get(above, 0) + 1
        if fed and not head:
            continue
        if any(one == node for one, _ in active):
            key = (node, (column, first_row(block, node, column)))
            active[key] = active.get(key, 0) + 1
    near: dict[tuple[int, tuple[int, int]], list[Piece]] = {}
    for piece in block.to_rails:
        for spot in (piece.start, piece.end):
            near.setdefault((piece.node, spot), []).append(piece)
    flowing: set[Piece] = set()
    seen: set[tuple[int, tuple[int, int]]] = set()
    for root in near:
        if root not in seen:
            flowing.update(_between_active(root, near, active, seen))
    return flowing


def first_row(block: Block, node: int, column: int) -> int:
    """The first row on which something of a rail's node meets the rail."""
    rows = [cell.row for cell in block.grid.cells if (cell.left, cell.column) == (node, column)]
    rows += [cell.ends[1] for cell in block.grid.cells if (cell.right, cell.column + 1) == (node, column)]
    rows = [row for row in rows if not block.grid.returns(node, row)]
    rows += [row for p in block.to_rails if p.node == node for c, row in (p.start, p.end) if c == column]
    return min(rows)


def _between_active(
    root: tuple[int, tuple[int, int]],
    near: dict[tuple[int, tuple[int, int]], list[Piece]],
    active: dict[tuple[int, tuple[int, int]], int],
    seen: set[tuple[int, tuple[int, int]]],
) -> Iterator[Piece]:
    """The pieces of a tree of wire that part what is active in it; its places are added to `seen`."""
    node = root[0]
    order: list[tuple[tuple[int, int], Piece | None]] = [(root[1], None)]
    parent: dict[tuple[int, int], tuple[int, int]] = {}
    for spot, came in order:
        for piece in near.get((node, spot), ()):
            if piece is not came:
                other = piece.end if piece.start == spot else piece.start
                if other not in parent and other != root[1]:
                    parent[other] = spot
                    order.append((other, piece))
    seen.update((node, spot) for spot, _ in order)
    count = {spot: active.get((node, spot), 0) for spot, _ in order}
    total = sum(count.values())
    for spot, last in reversed(order):
        if last is not None:
            if 0 < count[spot] < total:
                yield last
            count[parent[spot]] += count[spot]

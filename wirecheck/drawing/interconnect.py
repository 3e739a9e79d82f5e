"""The wire between alarms on a ladder: it stands upright beside their signs, and joins one to the next.

It feeds nothing, and no source feeds it: so it is on no rung. Each alarm's own lead leaves its box under the
wire of its rung. Where the lead is on a rail by mistake, or alone, that is said beside the rung.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import NamedTuple

from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.ladder import Ladder
from wirecheck.drawing.cells import Cell, Grid
from wirecheck.drawing.letters import text_width
from wirecheck.drawing.sheet import Line, Point, Sheet, Spot

BOX, UNDER = 12.0, 6.0
"""From the middle of an alarm's sign to its side, and from its rung down to where its lead leaves it."""
AWAY = 44.0
"""From the middle of the sign to the upright wire: past the words under the sign."""
BEHIND = 4.0
"""From the upright wire to its word."""
WIRE, SPOT = 1.2, 4.4


class Interconnect(NamedTuple):
    """Alarms of one ladder whose leads are one wire, in the order of their rows, and the lead's name."""

    name: str
    cells: tuple[Cell, ...]


def leads(circuit: Circuit, device: str) -> Iterator[str]:
    """The leads of a device that are there to be joined to their like."""
    for terminal in circuit.devices[device].part.terminals.values():
        if terminal.role == "signal":
            yield f"{device}.{terminal.name}"


def interconnects(ladder: Ladder, grid: Grid) -> Iterator[Interconnect]:
    """The alarms of a grid whose leads are one wire that no rail is, each wire once."""
    circuit = ladder.circuit
    there = []
    for cell in grid.cells:
        if cell.element is None or cell.element.kind != "load":
            continue
        for lead in leads(circuit, circuit.load_of[cell.element.name].device):
            there.append((ladder.node[lead], cell.row, cell, circuit.point[lead].screw))
    for node, found in groupby(sorted(there, key=lambda one: one[:2]), key=lambda one: one[0]):
        alarms = list(found)
        if len(alarms) > 1 and node not in ladder.rails and len({cell.column for *_, cell, _ in alarms}) == 1:
            yield Interconnect(alarms[0][3], tuple(cell for _, _, cell, _ in alarms))


def wide_beside_signs(wire: Interconnect, size: float) -> float:
    """How far to the right of the middle of its signs it reaches, with its word in a size."""
    return AWAY + BEHIND + text_width(wire.name, size)


def draw_interconnect(
    sheet: Sheet, ink: str, faint: str, name: str, wire: Interconnect, places: Sequence[Point], size: float
) -> None:
    """The upright wire beside its signs, whose middles are the places, with a lead to each.

    A dot stands where a lead meets it that is neither its first nor its last.
    """
    x = places[0][0] + AWAY
    heights = [y + UNDER for _, y in places]
    paths = [((left + BOX, y + UNDER), (x, y + UNDER)) for left, y in places]
    paths.append(((x, heights[0]), (x, heights[-1])))
    alarms = ", ".join(cell.element.name for cell in wire.cells if cell.element)
    sheet.lines.append(Line(name, f"{wire.name}: {alarms}", tuple(paths), ink, WIRE, kind="interconnect"))
    for number, y in enumerate(heights[1:-1], 1):
        sheet.marks.append(Spot(f"{name}-dot-{number}", "", x, y, SPOT, SPOT, ink, ink, kind="dot"))
    middle = (heights[0] + heights[1]) / 2
    sheet.write(f"{name}-word", wire.name, x + BEHIND, middle, size, faint, align="start")

"""An edit that hands would rather make in the place of another: it comes to the same with less work."""

from __future__ import annotations

from wirecheck.mend.edits import Edit, Exchange, Move
from wirecheck.mend.sheet import Sheet, names
from wirecheck.model.board import Board


def plainer(edit: Edit, sheet: Sheet, board: Board) -> Edit | None:
    """The plainer edit, which has to be tried as any other; None where there is none.

    A wire goes under a screw beside another, or to a lead, with no tail between. Two wires that are exchanged
    in splices are exchanged at their other ends, where each has a screw of its own.
    """
    match edit:
        case Move(pigtail=True):
            return edit._replace(pigtail=False)
        case Exchange(place, one, other):
            wires = [board.conductors.get(name) for name in (one, other)]
            places = {far for wire in wires if wire is not None for far in wire.places if far != place}
            if None in wires or len(places) != 1:
                return None
            (far,) = places
            here, there = ([_beside(sheet, at, name) for name in (one, other)] for at in (place, far))
            alone = all(len(beside) == 1 and beside <= board.terminals.keys() for beside in there)
            return Exchange(far, one, other) if alone and max(map(len, here)) > 1 else None
    return None


def _beside(sheet: Sheet, place: str, name: str) -> set[str]:
    """What an end is joined with in a place."""
    found: set[str] = set()
    for _, join in sheet.joins(place):
        members = {one for one, _ in names(join) if one is not None}
        found |= members - {name} if name in members else set()
    return found

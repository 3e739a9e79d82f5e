"""An edit that hands would rather make in the place of another: it comes to the same with less work."""

from __future__ import annotations

from wirecheck.language.names import of_end
from wirecheck.mend.edits import Edit, Exchange, IntoWire, Move, Tail
from wirecheck.mend.sheet import Sheet
from wirecheck.model.board import Board, Conductor, Terminal

# The colors of a cable in the order in which hands put them on screws that are numbered.
LANDED = ("black", "white", "red", "blue")


def plainer(edit: Edit, sheet: Sheet, board: Board) -> Edit | None:
    """The plainer edit, which has to be tried as any other; None where there is none.

    A wire goes under a screw beside another, or to a lead, with no tail between. One thing comes out from
    behind a contact, and the contact stays where it is. Two wires that each have a
    screw of one device are exchanged, and not both put on one screw. Two wires that are exchanged in splices
    are exchanged at their other ends, where each has a screw of its own; and so are two of which only the
    other ends lie on like screws against the usual order of their colors.
    """
    match edit:
        case Move(place, end, to, marked=None, capped=None, beside=None):
            other = _alone_on_the_other_screw(place, end, to, sheet, board)
            if other is not None:
                return Exchange(place, end, other)
            return edit._replace(pigtail=False) if edit.pigtail else None
        case Move(pigtail=True):
            return edit._replace(pigtail=False)
        case IntoWire(place, first, second, into, across=False):
            # The contact is in the way of the wire already, and of one thing more, which goes before it.
            beside = set(sheet.beside(place, second))
            rest = sorted(beside - {into})
            if into not in beside or first in beside or len(rest) != 1:
                return None
            if of_end(rest[0]) in board.conductors:
                return Move(place, rest[0], first)
            return Tail(place, first, rest[0], leaves=second, lead=len(set(sheet.beside(place, first))) == 1)
        case Exchange(place, one, other):
            found = (board.conductors.get(of_end(name)) for name in (one, other))
            wires = [wire for wire in found if wire is not None]
            places = {far for wire in wires for far in wire.places if far != place}
            if len(wires) != 2 or len(places) != 1:
                return None
            (far,) = places
            here, there = ([set(sheet.beside(at, name)) for name in (one, other)] for at in (place, far))
            if not all(len(beside) == 1 and beside <= board.terminals.keys() for beside in there):
                return None
            if max(map(len, here)) > 1 or _lie_against_the_order(wires, here, there, board):
                return Exchange(far, one, other)
    return None


def _alone_on_the_other_screw(place: str, end: str, to: str, sheet: Sheet, board: Board) -> str | None:
    """The one wire on the screw that a wire is moved to, which is alone on another of the same device."""
    was, target = set(sheet.beside(place, end)), {*sheet.beside(place, to), to}
    screws = target & board.terminals.keys()
    wires = {name for name in target if of_end(name) in board.conductors}
    if len(target) != 2 or len(screws) != 1 or len(wires) != 1 or len(was) != 1:
        return None
    owners = {board.terminals[name].owner for name in (*was, *screws) if name in board.terminals}
    on_a_device = was <= board.terminals.keys() and len(owners) == 1 and owners <= board.devices.keys()
    return wires.pop() if on_a_device else None


def _lie_against_the_order(
    wires: list[Conductor], here: list[set[str]], there: list[set[str]], board: Board
) -> bool:
    """Whether two wires of a cable lie in the usual order here and not there, on screws that have no letters.

    Hands put black on 1, white on 2 and red on 3 (common practice with tray cable, from memory).
    """
    one, other = wires
    if one.run != other.run or not all(len(beside) == 1 for beside in here):
        return False
    if not {one.color, other.color} <= {*LANDED}:
        return False
    before = LANDED.index(one.color) < LANDED.index(other.color)
    told = []
    for first, second in (here, there):
        screws = [board.terminals.get(next(iter(names))) for names in (first, second)]
        pair = [screw for screw in screws if screw is not None and screw.spec.carries is None]
        if len(pair) != 2 or pair[0].owner != pair[1].owner or pair[0].owner not in board.devices:
            return False
        told.append(_stands_first(pair[0], pair[1], board) == before)
    return told == [True, False]


def _stands_first(one: Terminal, other: Terminal, board: Board) -> bool:
    """Whether a screw stands before another one of its device."""
    order = [f"{one.owner}.{name}" for name in board.devices[one.owner].part.terminals]
    return order.index(one.name) < order.index(other.name)

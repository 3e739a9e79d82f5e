"""Switches that stay whole on a ladder: the 3-way and the 4-way, with the two travelers between them.

Contact by contact such a switch would stand on two rows or four, and nobody would know it again. Where
switches of a hand stand one behind the other with at most two wires between them, each keeps to one
column: its common or its pair of screws on the left, those that it throws to on the right, and the wires
from one to the next are two rows.
"""

from __future__ import annotations

from wirecheck.circuit.circuit import Contact
from wirecheck.circuit.ladder import Ladder, Rung
from wirecheck.circuit.structure import (
    Chain,
    Crossing,
    Element,
    Fork,
    Mesh,
    Step,
    Structure,
    Travelers,
    elements,
)
from wirecheck.language.syntax import InPosition

PAIR = 2


def kept_whole(ladder: Ladder, rung: Rung) -> Rung:
    """A rung whose 3-way and 4-way switches are whole, where they stand as such switches do."""
    return rung._replace(
        before=tuple(_whole(ladder, part) for part in rung.before),
        middle=_whole(ladder, rung.middle),
        after=tuple(_whole(ladder, part) for part in rung.after),
    )


def _whole(ladder: Ladder, structure: Structure) -> Structure:
    match structure:
        case Chain(parts):
            return Chain(tuple(_whole(ladder, part) for part in parts))
        case Fork(branches):
            found = _travelers(ladder, structure)
            return found or Fork(tuple(_whole(ladder, branch) for branch in branches))
        case Mesh(_, (_, _)):
            return _travelers(ladder, structure) or structure
        case Mesh() | Step() | Travelers():
            return structure


def _travelers(ladder: Ladder, structure: Fork | Mesh) -> Travelers | None:
    """The switches column by column, from the left end to the right; None where it is anything else."""
    left = list(elements(structure))
    if any(_switch(ladder, element) is None for element in left):
        return None
    rows = {structure.left: 0}
    level, seen = [structure.left], {structure.left}
    crossings: list[Crossing] = []
    column = 0
    while level != [structure.right]:
        here = [element for element in left if element.a in level or element.b in level]
        left = [element for element in left if element not in here]
        beyond = list(dict.fromkeys(_far(element, level) for element in here))
        one = len({_switch(ladder, element) for element in here}) == 1
        if not one or len(beyond) > PAIR or seen & set(beyond) or len(here) < PAIR:
            return None
        ties = {(_near(element, level), _far(element, level)) for element in here}
        if len(ties) < len(here):
            return None
        for element in here:
            near, far = _near(element, level), _far(element, level)
            if far not in rows:
                taken = {rows[node] for node in beyond if node in rows}
                wanted = 0 if len(beyond) == 1 else rows[near]
                rows[far] = 1 - wanted if wanted in taken else wanted
            crossings.append(Crossing(element, near, far, column, rows[near], rows[far]))
        level, column = beyond, column + 1
        seen |= set(beyond)
    return Travelers(tuple(crossings), column) if not left else None


def _near(element: Element, level: list[int]) -> int:
    return element.a if element.a in level else element.b


def _far(element: Element, level: list[int]) -> int:
    return element.b if element.a in level else element.a


def _switch(ladder: Ladder, element: Element) -> str | None:
    """The switch that a contact belongs to, where a hand moves it."""
    if element.kind != "contact":
        return None
    contact = ladder.of["contact", element.name]
    assert isinstance(contact, Contact)
    by_hand = ladder.circuit.devices[contact.scope].part.moved_by == "hand"
    return contact.scope if by_hand and isinstance(contact.when, InPosition) else None

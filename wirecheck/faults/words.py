"""A fault in the words of a list of faults, which `listed.fault` understands again."""

from __future__ import annotations

from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.fault import (
    Broken,
    Exchanged,
    Fault,
    Held,
    LeadOff,
    LeadsExchanged,
    Off,
    Open,
    PoorJoint,
    Short,
    StuckContacts,
)
from wirecheck.circuit.machine import speeds
from wirecheck.faults.ends import at_end
from wirecheck.language.quantity import shown


def said(fault: Fault, good: Circuit) -> str:
    """A fault as a line says it, without its number.

    Examples
    --------
    >>> from wirecheck.assembly import assemble
    >>> from wirecheck.circuit.circuit import circuit
    >>> shed = circuit(assemble('board "Shed"\\npanel LP 120 V\\nbreaker LP.1 15 A')[1])
    >>> said(Short("LP.1", "LP.neutral", 0.5), shed)
    'short LP.1 to LP.neutral through 0.5 ohm'
    """
    match fault:
        case Off(end):
            wire, place = _wire_and_place(end, good)
            return f"open {wire} at {place}"
        case Broken(conductor):
            return f"open {conductor}"
        case LeadOff(terminal):
            return f"open {terminal}"
        case Short(a, b, ohms):
            through = f" through {shown(ohms, 'resistance')}" if ohms else ""
            return f"short {_of_points(a, b, good)}{through}"
        case PoorJoint(end, ohms):
            wire, place = _wire_and_place(end, good)
            return f"poor {wire} at {place}, {shown(ohms, 'resistance')}"
        case StuckContacts(contacts, closed):
            position = "closed" if closed else "open"
            return f"{_of_contacts(contacts, position, good)} stuck {position}"
        case Held(variable, position):
            return f"{variable} stuck {position}"
        case Open(name):
            blows = any(name == one.name for one in good.protections)
            return f"{_of_several(name, good)} {'blown' if blows else 'burnt out'}"
        case Exchanged((one, other)):
            first, second = good.point[one], good.point[other]
            return f"{first.owner} and {second.owner} swapped at {first.place}"
        case LeadsExchanged((one, other)):
            return f"{one} and {other} swapped"
    raise AssertionError(fault)


def _wire_and_place(end: str, good: Circuit) -> tuple[str, str]:
    wire = good.point[end].owner
    return wire, at_end(end, good.board.conductors[wire], good.board)


def _of_several(name: str, good: Circuit) -> str:
    """A load by what it is in its equipment, where it bears the name of equipment that has others too."""
    load = good.load.get(name)
    if load is not None and len(speeds(good).get(name, ())) > 1:
        return load.device
    inside = [one for one in good.loads if name in (one.device, good.devices[one.device].outer)]
    if load is None or len(inside) < 2:
        return name
    return next((alias for alias, each in good.load.items() if each is load and alias != name), name)


def _of_points(one: str, other: str, good: Circuit) -> str:
    """Two points, and where they are if they are wires' ends."""
    points = [good.point[one], good.point[other]]
    names = [point.owner if point.kind == "end" else point.name for point in points]
    place = next((f" at {point.place}" for point in points if point.kind == "end"), "")
    return f"{' to '.join(names)}{place}"


def _of_contacts(contacts: tuple[str, ...], position: str, good: Circuit) -> str:
    """One contact by its two terminals, or by its device where that has no other; several by their device.

    A device whose own positions are so called would be held in one by that name: its contact needs terminals.
    """
    first = next(one for one in good.contacts if one.name in contacts)
    variable = good.variables.get(first.scope)
    held = variable is not None and position in variable.values
    if len(contacts) > 1 or (len(good.contacts_in[first.scope]) == 1 and not held):
        return first.scope
    return f"{first.a} to {first.b}"

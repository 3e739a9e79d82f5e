"""A list of faults read, and held against the board that it is for."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import NamedTuple

from wirecheck.circuit.circuit import Circuit, Contact
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
from wirecheck.circuit.settle import View, holds, resting
from wirecheck.faults.ends import end_at
from wirecheck.language import reader, syntax
from wirecheck.language.syntax import Problem, Span, Word
from wirecheck.language.words import A_FAULT, nearest
from wirecheck.model.board import Conductor

# So many names help; more are a wall of words.
MOST_OFFERED = 12
# The ohms of a joint of which nothing is said: poor enough to be felt by a motor or a coil, and far from open
# (from memory).
POOR_OHMS = 15.0
# Of protection, what melts and is put in anew.
FUSES = ("fuse", "supplementary")


class Listed(NamedTuple):
    """A fault of a list: its number, and what it is on the board."""

    number: int
    fault: Fault
    span: Span


class Faults(NamedTuple):
    """A list of faults.

    Attributes
    ----------
    board : the title of the board that it is for; nothing where the list does not say it
    listed : the faults, in order
    problems : every mistake in it, in order of place
    """

    board: str
    listed: tuple[Listed, ...]
    problems: tuple[Problem, ...]


class NoSuchFault(LookupError):
    """A fault names what the board lacks; `span` is where it does."""

    def __init__(self, message: str, span: Span, advice: str | None = None) -> None:
        super().__init__(message)
        self.message, self.span, self.advice = message, span, advice


def faults(text: str | bytes, good: Circuit, file: str = "-") -> Faults:
    """The faults that a text lists.

    Parameters
    ----------
    text : in the language of grammar/board.lark
    good : the circuit of the board that they are for, without them
    file : the text's name

    Examples
    --------
    >>> from wirecheck.assembly import assemble
    >>> from wirecheck.circuit.circuit import circuit
    >>> shed = circuit(assemble('board "Shed"\\npanel LP 120 V\\nbreaker LP.1 15 A')[1])
    >>> faults('faults for "Shed"\\nfault 1 short LP.1 to LP.neutral', shed).listed[0].fault
    Short(a='LP.1', b='LP.neutral', ohms=0.0)
    >>> faults('faults for "Shed"\\nfault 1 L1 burnt out', shed).problems[0].message
    'the board has nothing called L1 that can burn out.'
    """
    source = reader.read(text, file)
    problems = list(source.problems)
    titles = [one for one in source.statements if isinstance(one, syntax.FaultsTitle)]
    listed: dict[int, Listed] = {}
    for one in source.statements:
        if isinstance(one, syntax.FaultStatement):
            if one.number in listed:
                message = f"there are two faults {one.number}: give each a number of its own."
                problems.append(Problem("syntax", message, one.span))
                continue
            try:
                fault = resolved(one.trouble, good)
            except NoSuchFault as error:
                problems.append(Problem("unknown-name", error.message, error.span, error.advice))
                continue
            listed[one.number] = Listed(one.number, fault, one.span)
        elif not isinstance(one, syntax.FaultsTitle):
            problems.append(Problem("syntax", "this belongs in no list of faults.", one.span))
    for second in titles[1:]:
        message = "a list of faults is for one board, and this names a second one."
        problems.append(Problem("syntax", message, second.span))
    problems.sort(key=lambda problem: problem.span)
    title = titles[0].board.text if titles else ""
    return Faults(title, tuple(listed.values()), tuple(problems))


def fault(said: str, good: Circuit) -> Fault:
    """The fault that a line names, without its number: `F.fuse blown`.

    Raises
    ------
    NoSuchFault
        It is none, or the board lacks what it names.
    """
    source = reader.read(f"fault 1 {said}")
    if source.problems or len(source.statements) != 1:
        first = source.problems[0] if source.problems else None
        message = first.message if first else "there is no fault in it."
        raise NoSuchFault(f"{message}.", Span(1, 1, 1, 1), f"A fault is written: {A_FAULT}")
    (one,) = source.statements
    assert isinstance(one, syntax.FaultStatement)
    return resolved(one.trouble, good)


def resolved(trouble: syntax.Trouble, good: Circuit) -> Fault:
    """What a fault is on a board.

    Raises
    ------
    NoSuchFault
        The board lacks what it names.
    """
    match trouble:
        case syntax.Opened(wire, None) if wire.text in good.board.conductors:
            return Broken(wire.text)
        case syntax.Opened(wire, None):
            return LeadOff(_inside(wire, good))
        case syntax.Opened(wire, Word() as place):
            return Off(_end(wire, place, good))
        case syntax.Shorted((one, other), place, ohms):
            a, b = _touching(one, place, good), _touching(other, place, good)
            if good.node[a] == good.node[b]:
                message = f"{one.text} and {other.text} are joined already: a short between them is none."
                raise NoSuchFault(message, other.span)
            return Short(a, b, ohms.value if ohms is not None else 0.0)
        case syntax.Poor(wire, place, ohms):
            return PoorJoint(_end(wire, place, good), ohms.value if ohms is not None else POOR_OHMS)
        case syntax.Stuck(name, None, position):
            return _stuck(name, position, good)
        case syntax.Stuck(name, Word() as other, position):
            return _stuck_between(name, other, position, good)
        case syntax.BurntOut(name):
            return Open(_burns(name, good))
        case syntax.Blown(name):
            return Open(_fuse(name, good))
        case syntax.Swapped((one, other), None):
            terminals = _inside(one, good), _inside(other, good)
            return LeadsExchanged(terminals)
        case syntax.Swapped((one, other), Word() as place):
            ends = _end(one, place, good), _end(other, place, good)
            if ends[0] == ends[1]:
                raise NoSuchFault(f"{one.text} is named twice: a swap is of two wires.", other.span)
            return Exchanged(ends)
    raise AssertionError(trouble)


def _end(wire: Word, place: Word, good: Circuit) -> str:
    """The end of a conductor in a place."""
    conductor = _conductor(wire, good)
    end = end_at(conductor, place.text, good.board)
    if end is not None:
        return end
    message = f"{wire.text} does not come to {place.text}."
    raise NoSuchFault(message, place.span, f"It goes from {conductor.places[0]} to {conductor.places[1]}.")


def _conductor(wire: Word, good: Circuit) -> Conductor:
    conductors = good.board.conductors
    if wire.text not in conductors:
        run = [name for name, one in conductors.items() if one.run == wire.text]
        advice = f"Say which wire of it: {', '.join(run[:MOST_OFFERED])}." if run else _near(wire, conductors)
        raise NoSuchFault(f"the board has no wire {wire.text}.", wire.span, advice)
    return conductors[wire.text]


def _places(wire: str, good: Circuit) -> str:
    return " or ".join(good.board.conductors[wire].places)


def _inside(word: Word, good: Circuit) -> str:
    """A terminal of a device, whose lead inside can be off."""
    if word.within not in good.devices or word.text not in good.point:
        names = [name for name, one in good.point.items() if one.owner in good.devices]
        message = f"{word.text} is no wire of the board and no terminal inside a device."
        raise NoSuchFault(message, word.span, _near(word, [*good.board.conductors, *names]))
    return word.text


def _touching(word: Word, place: Word | None, good: Circuit) -> str:
    """What a short is at: a wire's end in a place, or a screw."""
    if place is not None and word.text in good.board.conductors:
        return _end(word, place, good)
    return _point(word, good)


def _point(word: Word, good: Circuit) -> str:
    name = good.board.screws.get(word.text, word.text)
    if name not in good.node:
        message = f"{word.text} is no screw of the board."
        if name in good.board.conductors:
            message = (
                f"{word.text} is a wire: say where, as short {word.text} to ... at {_places(name, good)}."
            )
        raise NoSuchFault(message, word.span, _near(word, good.node))
    return name


def _stuck(name: Word, position: Word, good: Circuit) -> Fault:
    """A control that stays in a position, or contacts that do."""
    variable = good.variables.get(name.text)
    if variable is not None and position.text in variable.values:
        return Held(name.text, position.text)
    contacts = _contacts(name.text, good)
    if position.text in ("open", "closed") and contacts:
        return StuckContacts(tuple(one.name for one in contacts), position.text == "closed")
    if variable is not None or contacts:
        known = [*(variable.values if variable else ()), *(("open", "closed") if contacts else ())]
        advice = f"It can be stuck {' or '.join(dict.fromkeys(known))}."
        raise NoSuchFault(f"{name.text} has no position {position.text}.", position.span, advice)
    movers = [*good.variables, *good.contacts_in]
    raise NoSuchFault(f"the board has nothing called {name.text} that moves.", name.span, _near(name, movers))


def _stuck_between(one: Word, other: Word, position: Word, good: Circuit) -> Fault:
    """A contact between two terminals."""
    ends = {_point(one, good), _point(other, good)}
    between = tuple(contact.name for contact in good.contacts if {contact.a, contact.b} == ends)
    if not between:
        raise NoSuchFault(f"there is no contact from {one.text} to {other.text}.", other.span)
    if position.text not in ("open", "closed"):
        message = f"a contact has no position {position.text}."
        raise NoSuchFault(message, position.span, "It can be stuck open or closed.")
    return StuckContacts(between, position.text == "closed")


def _contacts(name: str, good: Circuit) -> list[Contact]:
    """The contacts of a device, or at a terminal; of a device those that stand open at rest, if it has some.

    A relay that is stuck has the contacts so that its coil closes; those that its coil opens are named by
    their own terminal.
    """
    at_screw = [one for one in good.contacts if name in (one.a, one.b)]
    if at_screw:
        return at_screw
    own = list(good.contacts_in.get(name, ()))
    view = View(good, resting(good), frozenset(), frozenset(), (), frozenset(), {})
    at_rest = [one for one in own if not holds(one.when, one.scope, view)]
    return at_rest or own


def _burns(name: Word, good: Circuit) -> str:
    """A load or a winding."""
    windings = {winding.name for winding in good.windings}
    if name.text in windings:
        return name.text
    for first, loads in speeds(good).items():
        # A motor with its electronics burns out as one, by whichever of its speeds it is called.
        if name.text in (loads[0].device, *(one.name for one in loads)):
            return first
    if name.text in good.load:
        return good.load[name.text].name
    inside = [one.name for one in good.loads if good.devices[one.device].outer == name.text]
    inside += [one.name for one in good.windings if good.devices[one.device].outer == name.text]
    if len(inside) == 1:
        return inside[0]
    advice = (
        f"Say which of it: {', '.join(inside[:MOST_OFFERED])}."
        if inside
        else _near(name, [*good.load, *windings])
    )
    message = f"the board has nothing called {name.text} that can burn out."
    if inside:
        message = f"{name.text} has more than one thing that can burn out."
    raise NoSuchFault(message, name.span, advice)


def _fuse(name: Word, good: Circuit) -> str:
    found = {one.name: one for one in good.protections}
    fuses = [one.name for one in good.protections if one.kind in FUSES]
    if name.text in fuses:
        return name.text
    inside = [each for each in fuses if good.devices[found[each].device].outer == name.text]
    if len(inside) == 1:
        return inside[0]
    if name.text in found:
        message = f"{name.text} is no fuse: a breaker does not blow, it trips."
        raise NoSuchFault(message, name.span, f"A breaker that stays off is written: {name.text} stuck off")
    advice = f"Say which of it: {', '.join(inside[:MOST_OFFERED])}." if inside else _near(name, fuses)
    raise NoSuchFault(f"the board has no fuse called {name.text}.", name.span, advice)


def _near(word: Word, names: Iterable[str]) -> str | None:
    """The near name, or some of those that there are."""
    known: Collection[str] = list(names)
    near = nearest(word.text, known)
    if near:
        return f"Did you mean {near}?"
    return f"There are: {', '.join(list(known)[:MOST_OFFERED])}." if known else None

"""Where a path stops, in words: what is seen there, what leads there, and what to do."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from wirecheck.circuit.circuit import COILS, Contact, Winding
from wirecheck.judge import made_up
from wirecheck.judge.case import Case
from wirecheck.judge.continuity import (
    BurntOut,
    HeldOpen,
    NoneOfItsKind,
    NoPower,
    NoSource,
    NotJoined,
    NotLookedFor,
    NoWire,
    OneSide,
    Opened,
    OthersCall,
    Standing,
    Stop,
    Stuck,
    TooLittle,
    TwoSources,
    WithoutCall,
)
from wirecheck.language.conditions import words
from wirecheck.language.listing import listed
from wirecheck.language.quantity import volts
from wirecheck.language.syntax import Called, Carries, HasVoltage, InPosition, Negation, Runs, Word
from wirecheck.model.board import Point

CLOSED = "closed"


def said(stop: Stop, case: Case) -> str:
    """What is seen, in whole sentences, from what was asked about to the open place."""
    # What waits for itself, as a coil behind its own holding contact, is said once.
    return " ".join(dict.fromkeys((*_leading(stop, case), f"{_seen(stop, case)}.")))


def remedy(stop: Stop) -> str:
    """What to do about it, as a sentence."""
    match stop.end:
        case TooLittle():
            return (
                "Look for something in series with it, for wires that are too long or too thin, or for the "
                "wrong source."
            )
        case BurntOut() | Stuck():
            return "Find what burnt it, and change it."
        case NoSource():
            return f"Feed it from a source of {volts(stop.wanted.volts)}."
        case NoWire():
            return f"Run a cable there from a source of {volts(stop.wanted.volts)}."
        case NoPower():
            return "Look at what feeds it."
        case NotLookedFor():
            return "Follow its wires from the source on, or divide the board into several."
        case NotJoined(here, on, off, among):
            near, far = (_name(on), "what belongs on it") if among else (_name(here), _name(on))
            joint = f"join {near} to {far}."
            if not off:
                return f"At {here.place}, {joint}"
            rest = [wire.name for wire in off if wire.name not in (_name(here), _name(on))]
            return f"At {here.place}, disconnect {listed(wire.name for wire in off)}. Then {joint}" + (
                f" Put {listed(rest)} with wires of the same kind." if rest else ""
            )
        case NoneOfItsKind():
            return "Two wires are swapped on the way: bring hots to hot screws and whites to neutral screws."
        case TwoSources():
            return (
                "Bring both of its sides from one of the two. Where a thermostat on one transformer calls a "
                "machine that has its own, a relay goes between: its coil on the thermostat's wire, its "
                "contact between the machine's own R and its call."
            )
        case OneSide():
            return "Bring one of its sides to the other side of its source."
        case WithoutCall():
            return (
                "Follow the wires of this call, screw by screw, from what makes it to what it should run. Do "
                "not join a feed to it past what makes the call."
            )
        case Opened():
            return "Find what made it open before you close it again."
        case HeldOpen() | OthersCall():
            return _to_close(stop.end)
        case Standing(_, _, _, scope):
            return f"Find what keeps {scope} from changing."


def _to_close(end: HeldOpen | OthersCall) -> str:
    """What to do about a contact that no wiring keeps open."""
    match end:
        case HeldOpen(Contact(when=InPosition(position), scope=scope)):
            return f"Check why {scope} is not {position.text}."
        case OthersCall(contact):
            return (
                f"Follow the path of this call past {contact.scope}: its own closes all that belongs in it."
            )
    return f"Find what keeps {end.contact.scope} from closing it."


def _leading(stop: Stop, case: Case) -> Iterator[str]:
    """A sentence for each thing that waits for the next."""
    for one, then in itertools.zip_longest(stop.through, (*stop.through[1:], stop.end)):
        match one:
            case Contact(when=InPosition(position)) if position.text == CLOSED and isinstance(then, Standing):
                continue  # what follows says that it is open
            case Winding():
                yield f"{one.name} gives no {volts(one.secondary_volts)}."
            case Standing():
                yield f"{_stands(one)}."
            case Contact(when=Runs() as fact):
                load = case.circuit.load[fact.named(one.scope)]
                yield f"{load.name} {'is not pulled in' if load.kind in COILS else 'does not run'}."
            case Contact() if then is stop.end and isinstance(then, Standing) and _is_outside(one, case):
                yield f"The contact from {one.a} to {one.b} is open."
            case Contact(when=HasVoltage() as fact) if "in-electronics" in one.flags:
                yield f"{words(Negation(fact), one.scope)}."
            case Contact(when=HasVoltage() | Carries() | InPosition() | Called()):
                # Of states and of several facts, the next sentence says which is not so.
                yield f"{one.scope} is open: it closes when {words(one.when, one.scope)}."


def _is_outside(contact: Contact, case: Case) -> bool:
    """Whether a contact is between two screws that hands can reach."""
    return contact.a in case.board.terminals and contact.b in case.board.terminals


def _seen(stop: Stop, case: Case) -> str:
    """What is seen where it ends."""
    wanted = stop.wanted.of
    what = f"{wanted.name}'s primary" if isinstance(wanted, Winding) else wanted.name
    match stop.end:
        case TooLittle(present):
            return f"{what} gets {volts(present)} and needs about {volts(stop.wanted.volts)}"
        case BurntOut(present):
            return f"{what} gets {volts(present)}, and is open inside"
        case Stuck(contact):
            return f"The contact from {contact.a} to {contact.b} does not close any more"
        case NoSource() | NoWire() | NoPower() | NotLookedFor():
            return _no_place(stop, what)
        case NotJoined(here, on, among=among):
            if _name(on) == stop.wanted.b and isinstance(wanted, Point):
                what = _name(on)
            if among:
                return _from_behind(on, what, case)
            return f"The path to {what} comes as far as {_name(here)} at {here.place} and goes no further"
        case NoneOfItsKind(here):
            return (
                f"The path to {what} comes as far as {_name(here)} at {here.place}, and no wire of its kind "
                "goes on from there"
            )
        case TwoSources() | OneSide():
            return _no_current(stop.end, what)
        case WithoutCall():
            return f"No path of this call leads to {what} and back to its source"
        case Opened(protection):
            return f"{protection.name} has opened"
        case HeldOpen() | OthersCall():
            return _held_open(stop.end, what)
        case Standing():
            return _stands(stop.end)


def _no_place(stop: Stop, what: str) -> str:
    """What is known where no place on the way is."""
    match stop.end:
        case NoSource():
            return f"No source on this board can give {what} its {volts(stop.wanted.volts)}"
        case NoWire():
            return f"No wire comes to {what} that could bring it {volts(stop.wanted.volts)}"
        case NoPower():
            return f"The path to {what} is whole, and no power comes along it"
    return f"The board takes too much work to find where the path to {what} stops"


def _no_current(end: TwoSources | OneSide, what: str) -> str:
    """Why no current goes through what has both its sides on something that is fed."""
    match end:
        case TwoSources(one, other):
            return (
                f"One side of {what} comes from {one.name} and the other from {other.name}, and no current "
                "goes from one transformer to another"
            )
        case OneSide(feed):
            leg = f"the neutral of {feed.name}" if feed.kind == "neutral" else f"one hot, {feed.name}"
            return f"Both sides of {what} are on {leg}, so no current goes through it"


def _from_behind(on: Point, what: str, case: Case) -> str:
    """Where the path back from a thing ends, where it is not known which wire should go on from there."""
    there = f"{on.owner} at {on.place}" if on.kind == "end" else on.name
    if on.name in made_up.joins(case):
        return f"The path to {what} stops at {there}: what belongs there is missing"
    bare = f"{there} {'is joined to nothing' if on.kind == 'end' else 'has nothing on it'}"
    return bare if on.name == what else f"{bare}, and the path to {what} stops there"


def _held_open(end: HeldOpen | OthersCall, what: str) -> str:
    """What a contact on the way waits for."""
    contact = end.contact
    if isinstance(end, OthersCall):
        there = contact.scope
        caller = end.caller.scope
        return f"As it is wired, this call goes through {there}, and {there} waits for a call of {caller}"
    match contact:
        case Contact(when=InPosition(Word("open")), scope=scope):
            return f"The path to {what} goes through a contact of {scope} that closes only when {scope} trips"
        case Contact(when=InPosition(position), scope=scope):
            return f"The path to {what} goes through {scope}, and {scope} is not {position.text}"
    return (
        f"The contact from {contact.a} to {contact.b} is open: it closes when "
        f"{words(contact.when, contact.scope)}"
    )


def _stands(standing: Standing) -> str:
    """Where a state stands and why, from what a meter would read to what does not move."""
    stays = f"{standing.variable} stays {standing.value}"
    if isinstance(standing.until, HasVoltage):
        return f"{words(Negation(standing.until), standing.scope)}, so {stays}"
    return f"{stays} until {words(standing.until, standing.scope)}"


def _name(point: Point) -> str:
    """A screw by its name, an end by its conductor's."""
    return point.owner if point.kind == "end" else point.name

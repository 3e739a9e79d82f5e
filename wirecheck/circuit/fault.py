"""What goes wrong on a board that was wired as its text says: the kinds of faults, by the circuit's names."""

from __future__ import annotations

from typing import NamedTuple


class Off(NamedTuple):
    """A conductor's end is joined to nothing; what it was joined to stays joined."""

    end: str


class Broken(NamedTuple):
    """A conductor is open on its way."""

    conductor: str


class LeadOff(NamedTuple):
    """The lead inside a cabinet that goes to a terminal is off."""

    terminal: str


class Short(NamedTuple):
    """Two points have a path that nobody made."""

    a: str
    b: str
    ohms: float


class PoorJoint(NamedTuple):
    """A conductor's end has so many ohms to what it is joined to."""

    end: str
    ohms: float


class StuckContacts(NamedTuple):
    """Contacts that stay as they are, whatever should move them."""

    contacts: tuple[str, ...]
    closed: bool


class Held(NamedTuple):
    """A control stays in one position: it sticks, or what it senses is not so."""

    variable: str
    position: str


class Open(NamedTuple):
    """A load, a winding or a fuse is open inside."""

    name: str


class Exchanged(NamedTuple):
    """Two conductors' ends are in each other's place."""

    ends: tuple[str, str]


class LeadsExchanged(NamedTuple):
    """The leads inside a cabinet that go to two terminals are in each other's place."""

    terminals: tuple[str, str]


Fault = Off | Broken | LeadOff | Short | PoorJoint | StuckContacts | Held | Open | Exchanged | LeadsExchanged

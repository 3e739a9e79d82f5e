"""The poles of the switches of a board: each opens a hot by itself, by hand or without a call."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from wirecheck.circuit.circuit import Contact
from wirecheck.judge.case import Case
from wirecheck.judge.grouped import grouped
from wirecheck.judge.question import question
from wirecheck.language.syntax import Called, InPosition

# What stands in off by itself: a switch in a hand's position, a thermostat that does not call.
SETS_OFF = (InPosition, Called)


@question
def switch_poles(case: Case) -> Mapping[str, tuple[Contact, ...]]:
    """The poles of each device that has a side for the feed and one for the load, by its name."""
    poles = grouped((one.scope, one) for one in case.circuit.contacts if _is_pole(case, one))
    return {name: there for name, there in poles.items() if are_apart(there)}


def are_apart(contacts: Sequence[Contact]) -> bool:
    """Whether no two contacts share a screw, as the two ways of a three-way switch do: that is never off."""
    return len({end for one in contacts for end in (one.a, one.b)}) == 2 * len(contacts)


def _is_pole(case: Case, contact: Contact) -> bool:
    ends = (case.board.terminals.get(end) for end in (contact.a, contact.b))
    roles = {terminal.spec.role for terminal in ends if terminal is not None}
    return roles == {"hot", "switched"} and isinstance(contact.when, SETS_OFF)

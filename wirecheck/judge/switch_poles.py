"""The poles of the switches of a board: each opens a hot by itself, by hand or without a call."""

from __future__ import annotations

from collections.abc import Mapping

from wirecheck.circuit.circuit import Contact
from wirecheck.judge.case import Case
from wirecheck.judge.grouped import grouped
from wirecheck.judge.question import question
from wirecheck.language.syntax import Called, InPosition

# What stands in off by itself: a switch in a hand's position, a thermostat that does not call.
SETS_OFF = (InPosition, Called)


@question
def switch_poles(case: Case) -> Mapping[str, tuple[Contact, ...]]:
    """The poles of each device that has a side for the feed and one for the load, by its name.

    A three-way switch is none of these: it has two contacts, and one common screw.
    """
    poles = grouped((one.scope, one) for one in case.circuit.contacts if _is_pole(case, one))
    return {
        name: there
        for name, there in poles.items()
        if len({end for one in there for end in (one.a, one.b)}) == 2 * len(there)
    }


def _is_pole(case: Case, contact: Contact) -> bool:
    ends = (case.board.terminals.get(end) for end in (contact.a, contact.b))
    roles = {terminal.spec.role for terminal in ends if terminal is not None}
    return roles == {"hot", "switched"} and isinstance(contact.when, SETS_OFF)

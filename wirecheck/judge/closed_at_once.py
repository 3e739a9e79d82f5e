"""The contacts that can be closed at once: of a changeover one throw, and not both."""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterator

from wirecheck.circuit.circuit import Contact
from wirecheck.judge.case import Case
from wirecheck.judge.grouped import grouped
from wirecheck.language.conditions import words
from wirecheck.language.syntax import InPosition, IsState, Negation

# So many are told at most, where many changeovers multiply.
MOST = 32


def closed_at_once(case: Case, devices: Collection[str]) -> Iterator[frozenset[str]]:
    """As many contacts as can be closed together, by name, for each way in which some changeovers can stand.

    Parameters
    ----------
    devices : those whose changeovers stand every way; all others stand one way.
    """
    ways = []
    for scope, there in grouped((one.scope, one) for one in case.circuit.contacts).items():
        every = [frozenset(one.name for one in there if not _exclude(one, chosen)) for chosen in there]
        # A contact that excludes none leaves both throws in.
        together = [one for one in dict.fromkeys(every) if not any(other < one for other in every)]
        ways.append(together if scope in devices else together[:1])
    every_way = (frozenset[str]().union(*chosen) for chosen in itertools.product(*ways))
    return itertools.islice(every_way, MOST)


def _exclude(one: Contact, other: Contact) -> bool:
    """Whether two contacts of a device are never closed together, as what they wait for shows."""
    match one.when, other.when:
        case InPosition(position), InPosition(another):
            return position.text != another.text
        case IsState(name, state), IsState(same, another):
            return name.text == same.text and state.text != another.text
        case Negation(fact), _ if not isinstance(other.when, Negation):
            return words(fact) == words(other.when)
        case _, Negation(fact):
            return words(fact) == words(one.when)
    return False

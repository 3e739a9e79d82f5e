"""What is wrong with a board, from what was seen and measured: the faults that explain it, with their odds.

Each suspect is put on the board, and the board is solved and played out as it is then. What was observed
either agrees with that or rules the suspect out. No fault is looked up in a list of symptoms.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations
from typing import NamedTuple

from wirecheck.circuit.fault import Fault
from wirecheck.faults.suspects import Suspect
from wirecheck.tables.faults import odds
from wirecheck.troubles.cold_reading import Cold, cold
from wirecheck.troubles.fitting import fitted
from wirecheck.troubles.moments import later
from wirecheck.troubles.next_reading import Column, Suggestion, best, columns
from wirecheck.troubles.observed import Observation, Read
from wirecheck.troubles.shop import Shop

MOST_PAIRS = 1_000
"""The most pairs of faults that are tried, where no single one explains what was observed."""
MOST_EXPLANATIONS = 40
"""The most pairs that are looked for."""
MOST_NEAREST = 3


class Explanation(NamedTuple):
    """Faults that together show all that was observed; `odds` are their share among all that do.

    Without faults it says that nothing is wrong.
    """

    suspects: tuple[Suspect, ...]
    odds: float

    @property
    def faults(self) -> tuple[Fault, ...]:
        """What is wrong."""
        return tuple(one.fault for one in self.suspects)


class Out(NamedTuple):
    """A suspect that is out, since with it this observation would not have been made."""

    suspect: Suspect
    by: Observation


class Diagnosis(NamedTuple):
    """What observations say of a board.

    Attributes
    ----------
    explanations : what explains all of them, the likeliest first; pairs where no single fault does
    out : the single faults that are ruled out, each with the first observation that does it
    nearest : where nothing explains them, the single faults that explain the most, if any explains more than
        a board on which nothing is wrong
    next : the reading of volts that tells most for its effort, None where none tells more
    cold : where none of volts does, the reading of ohms that does, if one does
    untried : how many pairs were left untried
    """

    explanations: tuple[Explanation, ...]
    out: tuple[Out, ...]
    nearest: tuple[Suspect, ...]
    next: Suggestion | None
    cold: Cold | None = None
    untried: int = 0


def diagnosis(
    shop: Shop,
    observations: Sequence[Observation],
    at: str | None = None,
) -> Diagnosis:
    """What is wrong, from what was observed.

    Parameters
    ----------
    shop : the board
    observations : in the order in which they were made
    at : the place where the meter is, if it is anywhere
    """
    out: list[Out] = []
    left: list[tuple[Suspect, ...]] = []
    for one in ((), *((suspect,) for suspect in shop.suspects)):
        against = next((seen for seen in observations if not shop.shows(one, seen)), None)
        fit = fitted(shop, one[0], against, observations) if against is not None and one else None
        if against is None or fit is not None:
            left.append(one if fit is None else (fit,))
        elif one:
            out.append(Out(one[0], against))
    untried = 0
    if not left:
        left, untried = _pairs(shop, observations)
    found = _ranked(left)
    nearest = () if found else _nearest(shop, observations)
    next_one = _next(shop, found, observations, at)
    cold_one = _cold(shop, found, at) if next_one is None else None
    return Diagnosis(found, tuple(out), nearest, next_one, cold_one, untried)


def weight(wrong: Iterable[Suspect]) -> float:
    """How likely faults are together, against others: each comes by itself."""
    told = odds("nothing").weight
    for one in wrong:
        told *= odds(one.kind).weight * RARE
    return told


RARE = 0.01
"""The share of boards that have a fault of weight one; two at once are as rare as the product says."""


def _ranked(left: Iterable[tuple[Suspect, ...]]) -> tuple[Explanation, ...]:
    weights = {one: weight(one) for one in left}
    whole = sum(weights.values())
    order = sorted(weights, key=lambda one: -weights[one])
    return tuple(Explanation(one, weights[one] / whole) for one in order)


def _pairs(shop: Shop, observations: Sequence[Observation]) -> tuple[list[tuple[Suspect, ...]], int]:
    """The pairs that show all that was observed, and how many were left untried.

    What one of the two shows by itself, both mostly show too. So pairs are tried in the order of how much
    neither of them shows, then of how much one of them does not, and then of their odds.
    """
    # What a good board does not show rules out the most.
    order = sorted(observations, key=lambda one: shop.shows((), one))
    fits = {
        suspect: frozenset(place for place, one in enumerate(order) if shop.shows((suspect,), one))
        for suspect in shop.suspects
    }
    likely = [
        (
            -len(fits[one] | fits[other]),
            -len(fits[one] & fits[other]),
            -weight((one, other)),
            number,
            (one, other),
        )
        for number, (one, other) in enumerate(combinations(shop.suspects, 2))
    ]
    likely.sort()
    found: list[tuple[Suspect, ...]] = []
    tried = 0
    for *_, pair in likely:
        if tried >= MOST_PAIRS or len(found) >= MOST_EXPLANATIONS:
            break
        tried += 1
        if all(shop.shows(pair, one) for one in order):
            found.append(pair)
    return found, len(likely) - tried


def _nearest(shop: Shop, observations: Sequence[Observation]) -> tuple[Suspect, ...]:
    """Those that explain the most, and more than a board on which nothing is wrong."""

    def misses(wrong: tuple[Suspect, ...]) -> int:
        return sum(not shop.shows(wrong, one) for one in observations)

    missed = {one: misses((one,)) for one in shop.suspects}
    most = misses(())
    ranked = sorted(missed, key=lambda one: (missed[one], -weight((one,))))
    return tuple(one for one in ranked if missed[one] < most)[:MOST_NEAREST]


def _next(
    shop: Shop, found: Sequence[Explanation], observations: Sequence[Observation], at: str | None
) -> Suggestion | None:
    """The next reading, in the states in which something was observed that a good board does not show."""
    if len(found) < 2:
        return None
    wrong = [one.state for one in observations if not shop.shows((), one)]
    states = dict.fromkeys(wrong or [one.state for one in observations])
    part = shop.only_part(one for each in found for one in each.suspects)
    good = shop.good if part is None else shop.part(part, ())
    left = [shop.tried(one.suspects) if part is None else shop.part(part, one.suspects) for one in found]
    states = dict.fromkeys(state if part is None else shop.state_in(part, state) for state in states)
    # What a meter showed there is known, even where it drifts and so tells less than it should.
    known = {(one.state, frozenset(one.points)) for one in observations if isinstance(one, Read)}

    def new(table: Iterable[Column]) -> list[Column]:
        return [one for one in table if (one.state, frozenset((one.probe.a, one.probe.b))) not in known]

    odds, every = [one.odds for one in found], range(len(found))
    table = new(columns(left, good, states))
    in_the_end = best(table, odds, every, shop.board, at)
    return in_the_end or best(new(later(table, left, good, states)), odds, every, shop.board, at)


def _cold(shop: Shop, found: Sequence[Explanation], at: str | None) -> Cold | None:
    """The next reading of ohms."""
    if any(not one.suspects for one in found):
        return None
    where = [one.place for each in found for one in each.suspects]
    left = [shop.tried(one.suspects) for one in found]
    return cold(left, [one.odds for one in found], shop.good.circuit, shop.board, where, at)

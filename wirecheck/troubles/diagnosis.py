"""What is wrong with a board, from what was seen and measured: the faults that explain it, with their odds.

Each suspect is put on the board, and the board is solved and played out as it is then. What was observed
either agrees with that or rules the suspect out. No fault is looked up in a list of symptoms.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cached_property
from itertools import combinations
from typing import NamedTuple

from wirecheck.circuit.fault import Fault
from wirecheck.circuit.work import WorkEnds
from wirecheck.faults.suspects import Suspect, point_of, suspects
from wirecheck.judge.state_name import StateName
from wirecheck.judge.systems import systems
from wirecheck.model.board import Board
from wirecheck.model.devices import callers
from wirecheck.tables.faults import odds
from wirecheck.troubles.next_reading import Suggestion, best, columns
from wirecheck.troubles.observed import Look, Observation, Read, shows
from wirecheck.troubles.signs import WARM
from wirecheck.troubles.trials import Tried, trials

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
    nearest : where nothing explains them, the single faults that explain the most
    next : the reading that tells most for its effort, None where none tells more
    untried : how many pairs were left untried
    """

    explanations: tuple[Explanation, ...]
    out: tuple[Out, ...]
    nearest: tuple[Suspect, ...]
    next: Suggestion | None
    untried: int = 0


class Shop:
    """A board with each of its suspects on it: what is worked out of each is kept.

    What has nothing in common but a panel is worked out by itself: a fault shows in its own part alone.
    """

    def __init__(self, board: Board) -> None:
        self.board = board
        self.good = Tried(board)
        self.suspects = suspects(self.good.circuit)
        self._tried: dict[tuple[Suspect, ...], Tried] = {(): self.good}
        self._in_part: dict[tuple[int, tuple[Suspect, ...]], Tried] = {}

    def tried(self, wrong: tuple[Suspect, ...]) -> Tried:
        """The board with these on it."""
        known = self._tried.get(wrong)
        if known is None:
            faults = tuple(one.fault for one in wrong)
            known = self._tried[wrong] = Tried(self.board, faults)
        return known

    def shows(self, wrong: tuple[Suspect, ...], one: Observation) -> bool:
        """Whether the board shows that with these on it; one that takes too much work is not ruled out."""
        part = self._part_of(one)
        try:
            if part is None:
                return shows(self.tried(wrong), one)
            own = tuple(each for each in wrong if self._home[each] == part)
            return shows(self.part(part, own), one._replace(state=self.state_in(part, one.state)))
        except WorkEnds:
            return True

    @cached_property
    def trials(self) -> tuple[StateName, ...]:
        """The states in which the board is tried."""
        return trials(self.good.case)

    @cached_property
    def _parts(self) -> tuple[Board, ...]:
        return systems(self.board, every=True)

    @cached_property
    def _at(self) -> dict[str, int]:
        """The part of each thing and of each wire, by name."""
        told: dict[str, int] = {}
        for number, part in enumerate(self._parts):
            for things in (part.devices, part.breakers, part.conductors, part.runs):
                told |= dict.fromkeys(things, number)
        return told

    @cached_property
    def _home(self) -> dict[Suspect, int]:
        """The part of each suspect."""
        return {one: self._at[self._owner(point_of(one.fault, self.good.circuit))] for one in self.suspects}

    def _owner(self, name: str) -> str:
        """The outermost device, the breaker or the wire that a point, a load or a control is of."""
        circuit = self.good.circuit
        if name in circuit.point:
            point = circuit.point[name]
            return point.owner if point.kind == "end" else point.outer
        device = self._device.get(name, name)
        return circuit.devices[device].outer if device in circuit.devices else device

    @cached_property
    def _device(self) -> dict[str, str]:
        """The device of each load, outlet, winding, fuse and control, by name."""
        circuit = self.good.circuit
        told = {one.name: one.device for one in circuit.outlets}
        told |= {one.name: one.device for one in circuit.windings}
        told |= {one.name: one.device for one in circuit.protections}
        told |= {one.name: one.device for one in circuit.variables.values()}
        return told | {name: load.device for name, load in circuit.load.items()}

    def _part_of(self, one: Observation) -> int | None:
        """The part that an observation is of; None where it is of several, or of the panel alone."""
        # A place can be of several: what is warm in it is looked for on the whole board.
        if len(self._parts) == 1 or (isinstance(one, Look) and one.does == WARM):
            return None
        names = (one.name,) if isinstance(one, Look) else (*one.points, *one.lifted)
        owners = {self._owner(self.board.screws.get(name, name)) for name in names}
        parts = {self._at[owner] for owner in owners if owner not in self.board.panels}
        return parts.pop() if len(parts) == 1 and owners.isdisjoint(self.board.panels) else None

    def part(self, part: int, own: tuple[Suspect, ...]) -> Tried:
        """One part of the board, with these on it."""
        known = self._in_part.get((part, own))
        if known is None:
            faults = tuple(one.fault for one in own)
            known = self._in_part[part, own] = Tried(self._parts[part], faults)
        return known

    def state_in(self, part: int, state: StateName) -> StateName:
        """A state of the board as it is of a part: with what is moved and called there."""
        moved = tuple(each for each in state.moved if self._at.get(self._owner(each[0])) == part)
        known = callers(self._parts[part])
        calls = tuple(call for call in state.calls if call in known or self._made_in(call) == part)
        return StateName(moved, calls)

    def _made_in(self, call: str) -> int | None:
        makers = callers(self.board).get(call, ())
        return self._at.get(self._owner(makers[0])) if len(makers) == 1 else None

    def only_part(self, wrong: Iterable[Suspect]) -> int | None:
        """The part that all of these are in, if the board has several and they are in one."""
        parts = {self._home[one] for one in wrong} if len(self._parts) > 1 else set()
        return parts.pop() if len(parts) == 1 else None


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
        if against is None:
            left.append(one)
        elif one:
            out.append(Out(one[0], against))
    untried = 0
    if not left:
        left, untried = _pairs(shop, observations)
    found = _ranked(left)
    nearest = () if found else _nearest(shop, observations)
    next_one = _next(shop, found, observations, at)
    return Diagnosis(found, tuple(out), nearest, next_one, untried)


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
    def misses(suspect: Suspect) -> int:
        return sum(not shop.shows((suspect,), one) for one in observations)

    ranked = sorted(shop.suspects, key=lambda one: (misses(one), -weight((one,))))
    return tuple(ranked[:MOST_NEAREST])


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
    table = [
        one
        for one in columns(left, good, states)
        if (one.state, frozenset((one.probe.a, one.probe.b))) not in known
    ]
    return best(table, [one.odds for one in found], range(len(found)), shop.board, at)

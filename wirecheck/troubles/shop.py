"""A board with each of its suspects on it, in turn: what is worked out of each is kept."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property

from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.work import WorkEnds
from wirecheck.faults.suspects import Suspect, point_of, suspects
from wirecheck.judge.state_name import StateName
from wirecheck.judge.systems import systems
from wirecheck.model.board import Board
from wirecheck.model.devices import callers
from wirecheck.troubles.observed import Look, Observation, shows
from wirecheck.troubles.signs import WARM
from wirecheck.troubles.trials import Tried, trials


class Shop:
    """A board with each of its suspects on it: what is worked out of each is kept.

    What has nothing in common but a panel is worked out by itself: a fault shows in its own part alone.
    `untried` are how many of its suspects the effort ended before.
    """

    def __init__(self, board: Board) -> None:
        self.board = board
        self.untried = 0
        self.good = Tried(board)
        self.suspects = suspects(self.good.circuit)
        self._tried: dict[tuple[Suspect, ...], Tried] = {(): self.good}
        self._in_part: dict[tuple[int, tuple[Suspect, ...]], Tried] = {}
        self._homes: dict[Suspect, int] = {}

    def tried(self, wrong: tuple[Suspect, ...]) -> Tried:
        """The board with these on it."""
        known = self._tried.get(wrong)
        if known is None:
            known = self._tried[wrong] = _with(self.board, wrong, self.good.circuit)
        return known

    def shows(self, wrong: tuple[Suspect, ...], one: Observation) -> bool:
        """Whether the board shows that with these on it; one that takes too much work is not ruled out."""
        try:
            return shows(*self.on(wrong, one))
        except WorkEnds:
            return True

    def on(
        self, wrong: tuple[Suspect, ...], one: Observation, keep: bool = True
    ) -> tuple[Tried, Observation]:
        """The board with these on it, or the part that an observation is of; and the observation there.

        Parameters
        ----------
        keep : whether what is worked out of it is kept for the next question
        """
        part = self._part_of(one)
        if part is None:
            there = self.tried(wrong) if keep else _with(self.board, wrong, self.good.circuit)
            return there, one
        own = tuple(each for each in wrong if self._home(each) == part)
        if keep or not own:
            there = self.part(part, own)
        else:
            there = _with(self._parts[part], own, self.part(part, ()).circuit)
        return there, one._replace(state=self.state_in(part, one.state))

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

    def _home(self, one: Suspect) -> int:
        """The part of a suspect."""
        known = self._homes.get(one)
        if known is None:
            known = self._homes[one] = self._at[self._owner(point_of(one.fault, self.good.circuit))]
        return known

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
            good = self.part(part, ()).circuit if own else None
            known = self._in_part[part, own] = _with(self._parts[part], own, good)
        return known

    def state_in(self, part: int, state: StateName) -> StateName:
        """A state of the board as it is of a part: with what is moved and called there."""
        moved = tuple(each for each in state.moved if self._at.get(self._owner(each[0])) == part)
        known = callers(self._parts[part])
        calls = tuple(call for call in state.calls if call in known or self._made_in(call) == part)
        return StateName(moved, calls, state.after)

    def _made_in(self, call: str) -> int | None:
        makers = callers(self.board).get(call, ())
        return self._at.get(self._owner(makers[0])) if len(makers) == 1 else None

    def only_part(self, wrong: Iterable[Suspect]) -> int | None:
        """The part that all of these are in, if the board has several and they are in one."""
        parts = {self._home(one) for one in wrong} if len(self._parts) > 1 else set()
        return parts.pop() if len(parts) == 1 else None


def _with(board: Board, wrong: Iterable[Suspect], good: Circuit | None) -> Tried:
    """A board with some of its suspects on it."""
    return Tried(board, tuple(one.fault for one in wrong), good)

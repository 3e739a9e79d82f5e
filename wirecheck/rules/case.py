"""A board under examination: the board, its circuit, and its states, each worked out once.

Rules look here and change nothing. What a state costs is paid when the first
rule asks for it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property

from wirecheck.circuit.circuit import Circuit, circuit
from wirecheck.circuit.play import Act, Play, play
from wirecheck.circuit.positions import Group, combinations, groups
from wirecheck.circuit.routes import Routes, Zone, routes, zones
from wirecheck.circuit.settle import Settled, resting, settle
from wirecheck.circuit.uses import Uses, uses
from wirecheck.model.board import Board
from wirecheck.model.build import calls


class Case:
    """A board with everything that rules ask of it."""

    def __init__(self, board: Board) -> None:
        self.board = board
        self._settled: dict[tuple[tuple[tuple[str, str], ...], frozenset[str]], Settled] = {}
        self._plays: dict[tuple[frozenset[str], tuple[tuple[str, str], ...]], Play] = {}

    @cached_property
    def circuit(self) -> Circuit:
        """The board's circuit."""
        return circuit(self.board)

    @cached_property
    def uses(self) -> Uses:
        """What each wire and screw is used for."""
        return uses(self.circuit)

    @cached_property
    def calls(self) -> tuple[str, ...]:
        """The calls that the board's thermostats can make."""
        return calls(self.board)

    @cached_property
    def groups(self) -> tuple[Group, ...]:
        """The switches, grouped by what they influence."""
        return groups(self.circuit)

    @cached_property
    def routes(self) -> Routes:
        """The way from every point back to its source, with every contact taken as closed."""
        return routes(self.circuit)

    @cached_property
    def zones(self) -> tuple[Zone, ...]:
        """What each pole of each breaker and fuse protects."""
        return zones(self.circuit, self.routes)

    def settled(self, moved: Mapping[str, str], made: Iterable[str] = ()) -> Settled:
        """The board with some switches moved and some calls made, at once and not in time."""
        key = (tuple(sorted(moved.items())), frozenset(made))
        if key not in self._settled:
            self._settled[key] = settle(self.circuit, resting(self.circuit, moved), key[1])
        return self._settled[key]

    def in_positions(self, moved: Mapping[str, str]) -> Settled:
        """The board with switches in these positions; those at rest need not be told apart."""
        return self.settled({name: value for name, value in moved.items() if value != self._rest[name]})

    def named_states(self) -> dict[str, Settled]:
        """The board at rest, in every position of each group of switches, and in each call's end, by name."""
        told = {"at rest": self.standing({})}
        for group in self.groups:
            for moved in combinations(self.circuit, group)[0]:
                settled = self.in_positions(moved)
                told.setdefault(self.when(settled).removeprefix(" with ") or "at rest", settled)
        for call in self.calls:
            told[f"{call} called"] = self.standing({}, [call])
        return told

    def standing(self, moved: Mapping[str, str], made: Iterable[str] = ()) -> Settled:
        """The board in the end, with switches moved and calls made, when its controls have had their time."""
        if self.circuit.moves:
            return self.played(made, moved).rest
        return self.settled(moved, made)

    def played(self, made: Iterable[str], fixed: Mapping[str, str] | None = None) -> Play:
        """Calls played out in time from rest, with some variables held where they are put."""
        key = (frozenset(made), tuple(sorted((fixed or {}).items())))
        if key not in self._plays:
            self._plays[key] = play(
                self.circuit, [Act(), Act(calls=key[0])] if key[0] else [Act()], dict(key[1])
            )
        return self._plays[key]

    @cached_property
    def states(self) -> tuple[Settled, ...]:
        """The board at rest, with every position of each group of switches, and in every call.

        A group's positions are listed with the other groups at rest, since
        they do not feel each other. A call is there with each state that it
        passes through.
        """
        told: dict[int, Settled] = {}

        def keep(settled: Settled) -> None:
            told[id(settled)] = settled

        keep(self.settled({}))
        for group in self.groups:
            for moved in combinations(self.circuit, group)[0]:
                keep(
                    self.settled({name: value for name, value in moved.items() if value != self._rest[name]})
                )
        for call in self.calls:
            for step in self.played([call]).steps:
                keep(step.settled)
        return tuple(told.values())

    @cached_property
    def most(self) -> dict[str, Settled]:
        """For each conductor, contact, load and pole, the state in which it carries the most."""
        told: dict[str, Settled] = {}
        flows: dict[str, float] = {}
        for settled in (*self.states, self.heaviest):
            for name, amps in settled.amps.items():
                if abs(amps) > flows.get(name, 0.0) * (1 + 1e-9):
                    flows[name] = abs(amps)
                    told[name] = settled
        return told

    @cached_property
    def _rest(self) -> dict[str, str]:
        return resting(self.circuit)

    def when(self, settled: Settled) -> str:
        """Which state that is, in words that follow on: " with S1 off"; nothing at rest."""
        moved = [
            f"{name} {value}"
            for name, value in settled.positions.items()
            if value != self._rest.get(name) and self.circuit.variables[name].moved_by == "hand"
        ]
        told = [*moved, *(f"{call} called" for call in sorted(settled.calls))]
        return " with " + " and ".join(told) if told else ""

    @cached_property
    def whole(self) -> bool:
        """Whether `states` holds every position of the switches, or a sample where they are too many."""
        return all(combinations(self.circuit, group)[1] for group in self.groups)

    @cached_property
    def heaviest(self) -> Settled:
        """The state of the most load at once: each group where it draws most, and no call."""
        moved: dict[str, str] = {}
        for group in self.groups:
            if group.switches:
                choices = combinations(self.circuit, group)[0]
                moved.update(choices[max(range(len(choices)), key=lambda i: self._drawn(choices[i], group))])
        return self.in_positions(moved)

    def _drawn(self, moved: Mapping[str, str], group: Group) -> float:
        """What a group's loads draw in a position of its switches, in VA at their rated volts."""
        settled = self.in_positions(moved)
        loads = (load for load in self.circuit.loads if load.name in group.loads)
        return sum(settled.load_amps(load) * load.volts for load in loads)

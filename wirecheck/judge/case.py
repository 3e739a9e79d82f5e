"""A board under examination: the board, its circuit, and its states, each worked out once.

Rules look here and change nothing. What a state costs is paid when the first
rule asks for it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from typing import Any, Literal

from wirecheck.circuit.begun import begun
from wirecheck.circuit.by_itself import LED, moved_alone
from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.fault import Fault
from wirecheck.circuit.faulted import faulted
from wirecheck.circuit.pairs import pairs
from wirecheck.circuit.play import Act, Play, play
from wirecheck.circuit.positions import Group, all_listed, combinations, groups
from wirecheck.circuit.routes import Routes, Zone, routes, zones
from wirecheck.circuit.settle import Settled, resting, settle
from wirecheck.circuit.survey import Row, Survey, survey
from wirecheck.circuit.uses import Uses, uses
from wirecheck.circuit.work import Work, WorkEnds, allowed
from wirecheck.judge.heard import heard
from wirecheck.judge.state_name import StateName
from wirecheck.judge.systems import systems
from wirecheck.model.board import Board
from wirecheck.model.devices import callers, in_turn
from wirecheck.parts.part import TRIED
from wirecheck.tables.code import Code

# More switches than this in a message tell a reader nothing.
MOST_TOLD = 3

# The most that the survey of all positions, and each play of calls, may take of the work that is left.
SURVEYS_SHARE = 0.6
PLAYS_SHARE = 0.25

# How many times the room there must be to begin again what the work ended in: all that it took before is
# then less than what it takes now.
TWICE = 2

# Two moments that are no further apart are one, in seconds.
MOMENT = 1e-9

# Nodes solved, over all positions of all groups, up to which each position is solved by itself.
MOST_SOLVED = 100_000


# Of what kind something is that the work ended before: a rule, calls that are made, a line of the board,
# what moves by itself, or what follows from what of all that was found.
Left = Literal["rule", "calls", "line", "alone", "causes"]


class Case:
    """A board with everything that rules ask of it; with `faults`, as it is with those.

    `good` is its circuit without the faults, where it is at hand.
    """

    def __init__(
        self,
        board: Board,
        work: Work | None = None,
        faults: tuple[Fault, ...] = (),
        good: Circuit | None = None,
    ) -> None:
        self.board = board
        self._good = good
        self.faults = faults
        # What may be spent on the board, with all boards that are tried in its place.
        self.work = work or Work(allowed(board.length))
        self._settled: dict[tuple[tuple[tuple[str, str], ...], frozenset[str]], Settled] = {}
        self.left: dict[Left, dict[Any, None]] = {}
        self.answers: dict[object, object] = {}
        self._plays: dict[tuple[tuple[frozenset[str], ...], tuple[tuple[str, str], ...]], Play] = {}
        self._moments: dict[object, Play] = {}
        # What the work ended in, with the steps that there were for it.
        self._unfinished: dict[object, int] = {}

    @property
    def code(self) -> Code:
        """The edition of the code that the board is judged by."""
        return self.board.code

    def leave(self, kind: Left, what: object = None) -> None:
        """Keep what the work ended before, in order."""
        self.left.setdefault(kind, {})[what] = None

    def all_left(self) -> dict[Left, dict[Any, None]]:
        """What the work ended before, on the board and on each of its systems."""
        told: dict[Left, dict[Any, None]] = {}
        for case in dict.fromkeys((self, *self.systems)):
            for kind, these in case.left.items():
                told.setdefault(kind, {}).update(these)
        return told

    @cached_property
    def circuit(self) -> Circuit:
        """The board's circuit."""
        return faulted(self.board, self.faults, self.work, self._good)

    @cached_property
    def systems(self) -> tuple[Case, ...]:
        """The cases of the parts of its board that share no more than a panel; itself where there is one."""
        # A fault may tie systems together.
        parts = () if self.faults else systems(self.board)
        return tuple(Case(part, self.work) for part in parts) if len(parts) > 1 else (self,)

    @cached_property
    def sound(self) -> Case:
        """The same board without its faults."""
        return Case(self.board) if self.faults else self

    @property
    def left_out(self) -> tuple[str, ...]:
        """What was taken as open in some state so far, since with it the volts have no answer, by name."""
        names = {name for case in {self, *self.systems} for name in case.circuit.left_out}
        return tuple(sorted(names))

    @cached_property
    def uses(self) -> Uses:
        """What each wire and screw is used for."""
        return uses(self.circuit)

    @cached_property
    def callers(self) -> Mapping[str, tuple[str, ...]]:
        """The calls that the board's thermostats can make, each with the devices that make it."""
        return callers(self.board)

    @property
    def calls(self) -> tuple[str, ...]:
        """The calls that the board's thermostats can make."""
        return tuple(self.callers)

    @cached_property
    def heard(self) -> tuple[str, ...]:
        """The calls that something can feel; that of a thermostat without a wire is not among them."""
        felt = heard(self.circuit)
        return tuple(call for call, makers in self.callers.items() if not felt.isdisjoint(makers))

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

    @cached_property
    def screws(self) -> Mapping[str, tuple[str, ...]]:
        """The terminals under whose screws the copper of each point sits."""
        screws: dict[str, dict[str, None]] = {}
        for join in self.board.joins:
            for terminal, members in join.under.items():
                for member in members:
                    screws.setdefault(member.point, {})[terminal] = None
        return {point: tuple(terminals) for point, terminals in screws.items()}

    @property
    def at_rest(self) -> Settled:
        """The board when nothing has moved it and no call is made."""
        return self.survey.states[0]

    def settled(self, moved: Mapping[str, str], made: Iterable[str] = ()) -> Settled:
        """The board with some switches moved and some calls made, at once and not in time."""
        key = (tuple(sorted(moved.items())), frozenset(made))
        known = self._settled.get(key)
        if known is None:
            self._begin(key)
            known = self._settled[key] = settle(self.circuit, resting(self.circuit, moved), key[1])
            del self._unfinished[key]
        return known

    def in_positions(self, moved: Mapping[str, str]) -> Settled:
        """The board with switches in these positions; those at rest need not be named."""
        return self.settled({name: value for name, value in moved.items() if value != self._rest[name]})

    def named_states(self) -> dict[StateName, Settled]:
        """The board at rest, in every position of each group of switches, and in each call's end, by name.

        Of a board of several systems each state but the first holds the system that it is a state of.
        """
        states = {StateName(): self.standing({})}
        for system in self.systems:
            for name, settled in system._own_states():
                states.setdefault(name, settled)
        return states

    def _own_states(self) -> Iterator[tuple[StateName, Settled]]:
        for group in self.groups:
            for moved in combinations(self.circuit, group)[0]:
                settled = self.in_positions(moved)
                yield self.name_of(settled), settled
        for call in self.calls:
            yield StateName(calls=(call,)), self.standing({}, [call])

    def standing(
        self, moved: Mapping[str, str], made: Iterable[str] = (), after: float | None = None
    ) -> Settled:
        """The board with switches moved and calls made, when its controls have had their time.

        Parameters
        ----------
        after : or at that moment, in seconds from the last call being made
        """
        if self.circuit.moves:
            return self.until(made, moved, after).rest
        return self.settled(moved, made)

    def at_work(self, moved: Mapping[str, str], made: Iterable[str] = ()) -> Settled:
        """As `standing`; but of a call that its own device ends, as a clock its defrost, the beginning.

        In the end nothing runs that would not without that call, and a picture of it would say nothing of it.
        """
        calls = tuple(made)
        end = self.standing(moved, calls)
        for call, move in begun(self.circuit, calls):
            others = [each for each in calls if each != call]
            if (
                end.positions[move.variable] != move.target
                and end.running <= self.standing(moved, others).running
            ):
                steps = self.played(calls, moved).steps
                works = (one.settled for one in steps if one.settled.positions[move.variable] == move.target)
                return next(works, end)
        return end

    def until(
        self, made: Iterable[str], fixed: Mapping[str, str] | None = None, after: float | None = None
    ) -> Play:
        """Calls played out in time as by `played`, up to a moment; to the end where none is given."""
        calls = tuple(made)
        whole = self.played(calls, fixed)
        if after is None:
            return whole
        called = [step.time for step in whole.steps if any(one.kind == "call" for one in step.changes)]
        moment = max(called, default=0.0) + after
        if not whole.bounded or moment <= whole.steps[-1].time:
            return Play(tuple(step for step in whole.steps if step.time <= moment + MOMENT), False)
        # What goes round and round is played for two rounds: for more of them, it is played for so long.
        key = (in_turn(self.board, calls), tuple(sorted((fixed or {}).items())), after)
        known = self._moments.get(key)
        if known is None:
            acts = [Act(), *map(Act, key[0])]
            with self.work.share(PLAYS_SHARE):
                self._begin(key)
                known = play(self.circuit, [*acts[:-1], acts[-1]._replace(lasts=after)], dict(key[1]))
            del self._unfinished[key]
            self._moments[key] = known
        return known

    def played(self, made: Iterable[str], fixed: Mapping[str, str] | None = None) -> Play:
        """Calls played out in time from rest, with some variables held where they are put.

        Those of one device are made together, those of another after them.
        """
        key = (in_turn(self.board, made), tuple(sorted((fixed or {}).items())))
        known = self._plays.get(key)
        if known is None:
            with self.work.share(PLAYS_SHARE):
                self._begin(key)
                known = self._plays[key] = play(self.circuit, [Act(), *map(Act, key[0])], dict(key[1]))
            del self._unfinished[key]
        return known

    def _begin(self, key: object) -> None:
        """What the work ended in before is begun again only with twice the room, as that of another question.

        Raises
        ------
        WorkEnds
        """
        room = self.work.most - self.work.spent
        if room <= TWICE * self._unfinished.get(key, -1):
            raise WorkEnds
        self._unfinished[key] = room

    def tried(self, made: Sequence[str]) -> Iterator[Play]:
        """The play of calls, or none and the calls in `left` where the work ends before it does."""
        try:
            yield self.played(made)
        except WorkEnds:
            self.leave("calls", tuple(made))

    @cached_property
    def survey(self) -> Survey:
        """Every position of each group of switches, in as few states as will do."""
        self.settled({})  # at rest it is judged in any case
        with self.work.share(SURVEYS_SHARE):
            return survey(self.circuit, self.groups)

    def rows(self, group: Group) -> tuple[Row, ...]:
        """A group's switches in each position; the other groups stand anywhere, as they do not feel it."""
        return self.survey.rows.get(group) or (Row({}, self.survey.states[0]),)

    @cached_property
    def one_by_one(self) -> bool:
        """Whether the board is small enough to solve each position of each group by itself."""
        positions = sum(len(rows) for rows in self.survey.rows.values())
        return positions * self.circuit.nodes <= MOST_SOLVED

    def exact_rows(self, group: Group) -> tuple[Row, ...]:
        """A group's switches in each position with every other switch at rest; `rows` of a large board."""
        if not self.one_by_one:
            return self.rows(group)
        return tuple(Row(row.moved, self.in_positions(row.moved)) for row in self.rows(group))

    @cached_property
    def states(self) -> tuple[Settled, ...]:
        """The board in every position of each group of switches, at rest first, in every call, and beyond.

        Groups that do not feel each other are moved together (`survey`). A call
        is there with each state that it passes through, and so are two calls of
        different devices (`pairs`). At rest, and in the end of each call, what
        moves by itself stands in each of its positions too (`moved_alone`). Of
        states in which the same conducts, the first is there.
        """
        states: dict[object, Settled] = {}
        for settled in self._every_state():
            states.setdefault(_alike(settled), settled)
        return tuple(states.values())

    @cached_property
    def steady(self) -> tuple[Settled, ...]:
        """`states` without those in which a motor only starts; one in which a play comes to rest is there."""
        plays = [played for call in self.heard for played in self.tried([call]) if not played.bounded]
        ends = {_alike(self.standing({})), *(_alike(played.rest) for played in plays)}
        return tuple(one for one in self.states if not one.starts or one.opened or _alike(one) in ends)

    def _every_state(self) -> Iterator[Settled]:
        yield from self.survey.states
        standing = [self._started(settled) for settled in self.survey.states]
        yield from standing
        lasting, passing = [standing[0]], []
        for call in self.heard:
            settled = [step.settled for played in self.tried([call]) for step in played.steps]
            yield from settled
            lasting += (settled[-1], max(settled, key=self._drawn)) if settled else ()
            passing += settled
        for pair in self.pairs[0]:
            yield from (step.settled for played in self.tried(pair) for step in played.steps)
        whole = {id(one): one for one in lasting if not one.opened}
        with self.work.share(PLAYS_SHARE):
            try:
                yield from moved_alone(whole.values(), (one for one in passing if not one.opened))
            except WorkEnds:
                self.leave("alone")

    @cached_property
    def pairs(self) -> tuple[tuple[tuple[str, str], ...], bool]:
        """Calls of different devices that can feel each other, two and two, and whether all are there."""
        callers = {call: self.callers[call] for call in self.heard}
        return pairs(self.circuit, callers, self.groups, self.zones)

    @cached_property
    def most(self) -> dict[str, Settled]:
        """For each conductor, contact, load and pole, the state in which it carries the most."""
        most: dict[str, Settled] = {}
        flows: dict[str, float] = {}
        for settled in (*self.steady, self.heaviest, *self.lopsided):
            for name, amps in settled.amps.items():
                if abs(amps) > flows.get(name, 0.0) * (1 + 1e-9):
                    flows[name] = abs(amps)
                    most[name] = settled
        return most

    @cached_property
    def _rest(self) -> dict[str, str]:
        return resting(self.circuit)

    def when(self, settled: Settled, *about: str) -> str:
        """Which state that is, in words that follow on: " with S1 off"; nothing at rest.

        Parameters
        ----------
        about : names of what it is about; only switches that it can feel are named then.
        """
        name = self.name_of(settled, *about)
        return f" with {name.words(MOST_TOLD)}" if name != StateName() else ""

    def name_of(self, settled: Settled, *about: str) -> StateName:
        """The switches that a hand has moved in a state, and its calls; `about` as in `when`."""
        felt = self._felt_by(about) if about else self.circuit.variables
        moved = tuple(
            (name, position)
            for name, position in settled.positions.items()
            if position != self._rest.get(name)
            and (
                name in felt if self.circuit.variables[name].moved_by in TRIED else self._alone(name, settled)
            )
        )
        return StateName(moved, tuple(sorted(settled.calls)))

    def _alone(self, name: str, settled: Settled) -> bool:
        """Whether what moves by itself stands where its machine does not bring it in these calls."""
        if self.circuit.variables[name].moved_by in LED:
            return False
        return all(
            step.settled.positions[name] != settled.positions[name]
            for (_, fixed), play in self._plays.items()
            for step in play.steps
            if not fixed and step.settled.calls == settled.calls
        )

    def _felt_by(self, about: tuple[str, ...]) -> frozenset[str]:
        """The switches of the groups that hold what is named or are fed through it; all, if none."""
        circuit = self.circuit
        loads = {load.name for load in circuit.loads if load.name in about or load.device in about}
        outlets = {o.name for o in circuit.outlets if o.name in about or o.device in about}
        nodes = {circuit.node[point] for point in about if point in circuit.node}
        for wire in circuit.wires:
            if wire.conductor.name in about:
                nodes |= {circuit.node[wire.a], circuit.node[wire.b]}
        for winding in circuit.windings:
            if winding.name in about:
                nodes |= {circuit.node[end] for end in (*winding.primary, *winding.secondary)}

        def switches(holds: Callable[[Group], object]) -> frozenset[str]:
            return frozenset(name for group in self.groups if holds(group) for name in group.switches)

        fed = set(self._fed_through(about))
        felt = switches(
            lambda group: (
                group.loads & (loads | fed)
                or group.outlets & (outlets | fed)
                or group.nodes & nodes
                or not group.devices.isdisjoint(about)
            )
        )
        return felt or switches(lambda group: True)

    def _fed_through(self, about: tuple[str, ...]) -> Iterator[str]:
        """The loads and outlets behind a breaker, a fuse or a conductor that no switch turns off."""
        for zone in self.zones:
            names = {zone.protection.name, *(wire.name for wire in (*zone.hots, *zone.returns))}
            if not names.isdisjoint(about):
                yield from (load.name for load in zone.loads)
                yield from (outlet.name for outlet in zone.outlets)

    @cached_property
    def whole(self) -> bool:
        """Whether `states` holds every position of the switches and every two calls, or a sample."""
        if len(self.systems) > 1:
            return all(system.whole for system in self.systems)
        try:
            listed = all(all_listed(self.circuit, group) for group in self.groups)
            return listed and self.survey.whole and self.pairs[1]
        except WorkEnds:
            return False

    @cached_property
    def heaviest(self) -> Settled:
        """The state of the most load at once: each group where it draws most, and no call."""
        return self._together(set(self.circuit.load))

    @cached_property
    def lopsided(self) -> tuple[Settled, ...]:
        """For each leg, the state in which what it feeds draws most and everything else least.

        There a neutral that legs share carries the most: the currents of two or
        three legs take from each other.
        """
        states = []
        for leg in self.circuit.legs:
            zones = [zone for zone in self.zones if zone.origin.name == leg.name]
            states.append(self._together({load.name for zone in zones for load in zone.loads}))
        return tuple(states)

    def _together(self, loads: set[str]) -> Settled:
        """Each group that feeds some of these loads where it draws most, the others where they draw least."""
        moved: dict[str, str] = {}
        for group in self.groups:
            if group.switches:
                choose = max if group.loads & loads else min
                moved.update(
                    choose(self.rows(group), key=lambda row: self._drawn(row.settled, group.loads)).moved
                )
        return self._started(self.in_positions(moved))

    def _started(self, settled: Settled) -> Settled:
        """A state as it is once the motors that start in it have come up to speed, or have not."""
        if not settled.starts:
            return settled
        moved = {name: value for name, value in settled.positions.items() if value != self._rest[name]}
        return self.standing(moved, settled.calls)

    def _drawn(self, settled: Settled, names: Iterable[str] | None = None) -> float:
        """What some loads draw in a state, or all, in VA at their rated volts."""
        loads = self.circuit.loads if names is None else (self.circuit.load[name] for name in names)
        return sum(settled.load_amps(load) * load.volts for load in loads)


def _alike(settled: Settled) -> object:
    """What two states have in common that are one."""
    return settled.closed, settled.running, settled.opened, settled.chattering

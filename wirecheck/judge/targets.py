"""What an `expect` line is about, a load or an outlet, and what it gets in each position of the switches."""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import NamedTuple

from wirecheck.circuit.by_itself import LED
from wirecheck.circuit.circuit import Circuit, Load, Outlet
from wirecheck.circuit.opening import Opening
from wirecheck.circuit.positions import Group, combinations
from wirecheck.circuit.settle import Settled, resting, settle
from wirecheck.judge.case import Case

# An outlet is live with at least this share of its volts: ANSI C84.1 range B ends near it (common practice).
LIVE = 0.85
# What gets less than it works at, and more than this share of its volts, glows (common practice).
GLOWS = 0.1
# In how many positions of the controls of a machine something of it is tried that is never on at rest.
MOST_INNER = 16


class Target(NamedTuple):
    """A load or an outlet: its two points, the volts it is made for, and those it is on with."""

    of: Load | Outlet
    a: str
    b: str
    rated: float
    needs: float

    @property
    def name(self) -> str:
        """How the board calls it."""
        return self.of.name

    def glows(self, volts: float) -> bool:
        """Whether it gets too little to be on, and too much to be off."""
        return GLOWS * self.rated < volts < self.needs


class Tried(NamedTuple):
    """A target in one position of its switches: its volts, and whether it is on."""

    positions: Mapping[str, str]
    volts: float
    on: bool
    settled: Settled
    opened: tuple[Opening, ...] = ()


def target_of(of: Load | Outlet) -> Target:
    """A load or an outlet as a target."""
    if isinstance(of, Load):
        return Target(of, of.a, of.b, of.volts, of.works)
    return Target(of, of.hot, of.neutral, of.volts, of.volts * LIVE)


def targets(circuit: Circuit, name: str) -> tuple[Target, ...]:
    """What a name in an `expect` line means; halves of a receptacle on the same two screws are one."""
    load = circuit.load.get(name)
    if load is not None:
        return (target_of(load),)
    outlets = {(outlet.hot, outlet.neutral): outlet for outlet in reversed(circuit.outlets_of(name))}
    return tuple(target_of(outlet) for outlet in reversed(outlets.values()))


def group_of(case: Case, target: Target) -> Group | None:
    """The switches that the target may feel."""
    return next(
        (group for group in case.groups if target.name in group.loads or target.name in group.outlets), None
    )


def tried(case: Case, target: Target, group: Group) -> tuple[Tried, ...]:
    """A target in every position of a group's switches, before anything that trips there has tripped.

    What is never on as the controls of its own machine stand at rest has them as they let it work, if they
    do: the lower element of a water heater waits until the top of its tank is hot.
    """
    rows = tuple(_tried(target, row.moved, row.settled) for row in case.rows(group))
    if any(row.on for row in rows):
        return rows
    for inner in _inner_positions(case, target):
        others = tuple(
            _tried(target, row.moved, case.in_positions({**row.moved, **inner})) for row in case.rows(group)
        )
        if any(row.on for row in others):
            return others
    return rows


def _inner_positions(case: Case, target: Target) -> Iterator[dict[str, str]]:
    """The positions, but those at rest, of what is inside the machine of a target and no safety."""
    devices, variables = case.circuit.devices, case.circuit.variables
    machine = devices[target.of.device].outer
    own = [
        one
        for one in variables.values()
        if one.moved_by not in LED and not one.safety
        if one.device != machine == devices[one.device].outer
    ]
    every = itertools.product(*(one.values for one in own))
    next(every)
    for values in itertools.islice(every, MOST_INNER):
        yield {one.name: value for one, value in zip(own, values, strict=True)}


def tried_beyond(case: Case, target: Target, group: Group) -> tuple[Tried, ...]:
    """`tried` for a group that is none of the board's own, such as one with a pressure switch in it."""
    listed = combinations(case.circuit, group)[0]
    return tuple(_tried(target, moved, case.in_positions(moved)) for moved in listed)


def turned_in(circuit: Circuit, target: Target, group: Group, switches: Collection[str]) -> bool:
    """`turned_by` in another circuit than the board's own, in no more positions than it takes."""
    rows: list[Tried] = []
    for moved in combinations(circuit, group)[0]:
        rows.append(_tried(target, moved, settle(circuit, resting(circuit, moved))))
        if _denied(rows, switches):
            return False
    return turned_by(rows, switches)


def _denied(rows: Sequence[Tried], switches: Collection[str]) -> bool:
    """Whether the last of some rows and an earlier one, with one switch of two positions between, deny it."""
    last = rows[-1]
    for row in rows[:-1]:
        moved = [name for name, value in row.positions.items() if last.positions[name] != value]
        if len(moved) == 1 and len(last.settled.circuit.variables[moved[0]].values) == 2:
            turns = row.on != last.on
            if turns != (moved[0] in switches):
                return True
    return False


def _tried(target: Target, moved: Mapping[str, str], settled: Settled) -> Tried:
    state = settled.first or settled
    present = state.across(target.a, target.b)
    return Tried(moved, present, present >= target.needs, state, settled.opened)


def turned_by(rows: Sequence[Tried], switches: Collection[str]) -> bool:
    """Whether each of some switches turns a target on and off, however the others stand, and no other does.

    A switch with more than two positions need not change it in each: among its positions the
    target is on in some and off in some.
    """
    if not set(switches) <= rows[0].positions.keys():
        return False
    for index, (name, _) in enumerate(rows[0].positions.items()):
        values = rows[0].settled.circuit.variables[name].values
        among: dict[tuple[str, ...], list[bool]] = {}
        for row in rows:
            others = tuple(row.positions.values())
            among.setdefault((*others[:index], *others[index + 1 :]), []).append(row.on)
        for on in among.values():
            turns = len(set(on)) > 1
            # Of many switches only some positions are tried: then nothing is said of those left out.
            if turns if name not in switches else not turns and len(on) == len(values):
                return False
    return True


def changes(rows: Sequence[Tried], switch: str) -> bool:
    """Whether a switch makes a difference in some position of the others."""
    seen: dict[tuple[str, ...], bool] = {}
    for row in rows:
        others = tuple(value for name, value in row.positions.items() if name != switch)
        if seen.setdefault(others, row.on) != row.on:
            return True
    return False

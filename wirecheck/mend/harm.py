"""What a mend may not do to be silent: take the power off something, or what guards it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from typing import NamedTuple

from wirecheck.circuit.circuit import Protection
from wirecheck.circuit.routes import Step
from wirecheck.judge.case import Case
from wirecheck.judge.unfed import supplied


class Served(NamedTuple):
    """Whatever takes power, with every screw; what has its volts in some state; what a GFCI is before.

    `controls` are the screws of float switches, limits, thermostats and their like that have something on.
    """

    everything: frozenset[str]
    working: frozenset[str]
    guarded: frozenset[str]
    controls: frozenset[str]


def served(systems: Iterable[Case]) -> Served:
    """How some systems of a board are served, by the names of their outlets, loads and transformers."""
    everything: set[str] = set()
    working: set[str] = set()
    guarded: set[str] = set()
    controls: set[str] = set()
    for case in systems:
        everything.update(one.wanted.of.name for one in supplied(case))
        everything.update(case.board.terminals)
        working.update(_working(case))
        guarded.update(_guarded(case))
        controls.update(_controls(case))
    return Served(frozenset(everything), frozenset(working), frozenset(guarded), frozenset(controls))


def hurts(before: Served, after: Served, blamed: Collection[str]) -> bool:
    """Whether something that worked does in no state any more, or a control is taken out.

    What is named in a problem, `blamed`, may have worked because of the mistake.
    """
    stopped = (before.working & after.everything) - after.working
    return not stopped <= frozenset(blamed) or not before.controls & after.everything <= after.controls


def unguarded(before: Served, after: Served) -> int:
    """How much of what is there after has lost its ground-fault protection."""
    return len((before.guarded & after.everything) - after.guarded)


def _working(case: Case) -> Iterator[str]:
    """What has its volts in some state."""
    states = [state.first or state for state in case.states]
    for _, wanted, needs in supplied(case):
        if any(state.across(wanted.a, wanted.b) >= needs for state in states):
            yield wanted.of.name


def _guarded(case: Case) -> Iterator[str]:
    """What gets its hot through a ground-fault device."""
    if all(one.trips is None for one in case.circuit.protections):
        return
    for _, wanted, _ in supplied(case):
        nodes = [case.circuit.node[side] for side in (wanted.a, wanted.b)]
        hots = [node for node in nodes if node in case.routes.origins]
        hots = [node for node in hots if case.routes.origins[node].kind == "leg"]
        if hots and all(any(_trips(step) for step in case.routes.back(node)) for node in hots):
            yield wanted.of.name


def _trips(step: Step) -> bool:
    return isinstance(step.of, Protection) and step.of.trips is not None


def _controls(case: Case) -> Iterator[str]:
    """The screws that have something on them of what heat, pressure, water or a machine moves."""
    board = case.board
    for join in board.joins:
        for member in join.members:
            terminal = board.terminals.get(member.name)
            device = board.devices.get(terminal.owner) if terminal else None
            if device is not None and device.part.moved_by != "hand":
                yield member.name

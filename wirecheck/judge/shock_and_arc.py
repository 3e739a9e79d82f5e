"""Whether what takes power is behind a ground-fault device for persons, or an arc-fault device."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wirecheck.circuit.circuit import Protection
from wirecheck.circuit.routes import Step
from wirecheck.judge.case import Case
from wirecheck.judge.problem import Problem
from wirecheck.model.board import Breaker

# The difference current at which a device for persons opens at the latest, in A (UL 943 Class A: 4 to 6 mA).
FOR_PERSONS = 0.006


class Unprotected(Problem):
    """Something is fed by `breaker` past the protection that it needs; None where no breaker feeds it."""

    breaker: Breaker | None


def without_ground_fault(case: Case, points: Iterable[str]) -> bool:
    """Whether a hot among some points comes there past every ground-fault device for persons."""
    return any(not any(map(for_persons, _protections(steps))) for steps in _hots(case, points))


def feeder(case: Case, points: Iterable[str]) -> Breaker | None:
    """The last breaker on the way to some points."""
    for steps in _hots(case, points):
        breakers = [one.device for one in _protections(steps) if one.device in case.board.breakers]
        if breakers:
            return case.board.breakers[breakers[-1]]
    return None


def without_arc_fault(case: Case, points: Iterable[str]) -> Protection | None:
    """The breaker whose hot comes to some points past every arc-fault device; None where none does so."""
    for steps in _hots(case, points):
        breakers = [one for one in _protections(steps) if one.device in case.board.breakers]
        if breakers and not any(against_arcs(case, one) for one in _protections(steps)):
            return breakers[-1]
    return None


def _hots(case: Case, points: Iterable[str]) -> Iterator[tuple[Step, ...]]:
    """The way from the leg to each of the points that hangs on one."""
    routes = case.routes
    for node in dict.fromkeys(case.circuit.node[point] for point in points):
        if node in routes.origins and routes.origins[node].kind == "leg":
            yield routes.back(node)


def _protections(steps: Iterable[Step]) -> Iterator[Protection]:
    yield from (step.of for step in steps if isinstance(step.of, Protection))


def for_persons(protection: Protection) -> bool:
    """Whether it is a ground-fault device that guards persons, and not equipment alone or against arcs."""
    return protection.trips is not None and protection.trips <= FOR_PERSONS


def against_arcs(case: Case, protection: Protection) -> bool:
    """Whether it opens on an arc."""
    breaker = case.board.breakers.get(protection.device)
    if breaker is not None:
        return "afci" in breaker.flags
    return any("afci" in spec.flags for spec in case.circuit.devices[protection.device].part.protections)

"""How many conductors that count for their heat lie together in a cable or a raceway."""

from __future__ import annotations

from collections.abc import Mapping

from wirecheck.judge import purpose
from wirecheck.judge.case import Case
from wirecheck.judge.question import question
from wirecheck.judge.tape import longer
from wirecheck.model.board import Conductor

# Below so many amperes a conductor is not counted as carrying current.
CARRIES = 1e-3


@question
def carrying_together(case: Case) -> dict[str, int]:
    """For each conductor, how many conductors that count are bunched in its cable or raceway.

    Those that carry current count, and spares (Table 310.15(C)(1), note). A raceway of 24 in or
    less bunches nothing: there a cable is by itself, and so is a wire (310.15(C)(1)(b)). The same
    goes for cables that lie together without a gap (310.15(C)(1), 334.80). A
    grounding conductor is not counted (310.15(F)), nor the neutral of a circuit of several legs
    that carries only their unbalance (310.15(E)(1)); with two of three legs of a wye it is
    (310.15(E)(2)). Of wires that never carry current at once, such as two travelers, those that
    carry at the heaviest load are counted.
    """
    used: dict[str, Conductor] = {}
    sources: dict[str, set[str]] = {}
    hots: set[str] = set()
    for zone in case.zones:
        for conductor in filter(purpose.is_power, zone.hots):
            used[conductor.name] = conductor
            hots.add(conductor.name)
        for conductor in filter(purpose.is_power, zone.returns):
            used[conductor.name] = conductor
            sources.setdefault(conductor.name, set()).add(zone.origin.name)
    at_once = _at_once(case, used)
    shared = _all_legs(case)
    counted: list[Conductor] = []
    for name, conductor in used.items():
        if name in at_once and (name in hots or sources[name] not in shared):
            counted.append(conductor)
    counted += (one for one in case.board.conductors.values() if one.name not in used and _spare(case, one))
    bunches: dict[str, int] = {}
    for conductor in counted:
        bunch = _bunch(case, conductor)
        bunches[bunch] = bunches.get(bunch, 0) + 1
    return {one.name: bunches.get(_bunch(case, one), 0) for one in case.board.conductors.values()}


def _bunch(case: Case, conductor: Conductor) -> str:
    """What holds a conductor together with others: its raceway, its bundle, if not short, or its cable."""
    raceway = case.board.raceways.get(conductor.raceway or "")
    bundle = case.board.bundles.get(conductor.run)
    short = case.code.limit("raceway so short that bunching needs no adjustment")
    if raceway is not None and longer(raceway.length, short):
        return raceway.name
    return bundle.runs[0] if bundle is not None and longer(bundle.length, short) else conductor.run


def _spare(case: Case, conductor: Conductor) -> bool:
    """Whether a wire that no circuit uses is a spare of power, and neither a ground nor Class 2."""
    ends = {case.uses.of(end) for end in conductor.ends}
    return purpose.is_power(conductor) and ends.isdisjoint(("ground", "class-2"))


def _at_once(case: Case, used: Mapping[str, Conductor]) -> frozenset[str]:
    """Those that carry with the heaviest load or in a call, and those that never carry anything."""
    states = [case.heaviest, *(step.settled for call in case.heard for step in case.played([call]).steps)]
    together = {name for settled in states for name in used if abs(settled.amps[name]) > CARRIES}
    ever = {name for name in used if name in case.most and abs(case.most[name].amps[name]) > CARRIES}
    return frozenset(used) - (ever - together)


def _all_legs(case: Case) -> tuple[set[str], ...]:
    """All legs of each panel that has several; a neutral of circuits on them carries their unbalance."""
    legs: dict[str, set[str]] = {}
    for leg in case.circuit.legs:
        legs.setdefault(leg.panel, set()).add(leg.name)
    return tuple(names for names in legs.values() if len(names) > 1)

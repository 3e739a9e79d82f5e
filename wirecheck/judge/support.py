"""How near its ends, and how closely, each cable is to be held."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from wirecheck.judge.case import Case
from wirecheck.judge.gangs import surely_one_gang
from wirecheck.model.board import Box, Raceway, Run, RunEnd
from wirecheck.model.runs import ARMORED, CLASS_2_CABLES
from wirecheck.tables.supports import support


class Held(NamedTuple):
    """How a cable is to be held at one end: its first support within, the widest spacing, in meters.

    `by_staple_only` is so where the box itself holds no cable, for which `within` is less.
    """

    within: float
    every: float
    source: str
    by_staple_only: bool


def power_ends(case: Case) -> Iterator[tuple[Run, RunEnd]]:
    """Both ends of every power run; Class 2 cable is under none of these sections."""
    for run in case.board.runs.values():
        if run.kind not in CLASS_2_CABLES:
            for end in run.ends:
                yield run, end


def sheathed(run: Run) -> bool:
    """Whether a power run has a jacket that must come into the box; armor ends at its connector."""
    return run.jacketed and run.kind not in ARMORED


def held(case: Case, run: Run, end: RunEnd) -> Held | None:
    """How a run is to be held at one end; None for what is not a cable by itself, or has no such rule."""
    rules = support(run.kind, code=case.code) if run.raceway is None else None
    if rules is None:
        return None
    box = case.board.boxes.get(end.place)
    if box is not None and rules.nonmetallic_box is not None and _holds_no_cable(case, box):
        return Held(rules.nonmetallic_box, rules.every, rules.source, True)
    return Held(rules.within, rules.every, rules.source, False)


# Raceways that hold their own shape. A flexible one may hang free for some feet at equipment (348.30(A)).
RIGID = ("EMT", "IMC", "RMC", "PVC", "PVC-80")


def held_raceways(case: Case) -> Iterator[tuple[Raceway, RunEnd, Held]]:
    """Both ends of every raceway that holds its shape, with how it is to be held."""
    for raceway in case.board.raceways.values():
        rules = support(raceway.kind, raceway.size, code=case.code) if raceway.kind in RIGID else None
        if rules is not None:
            for end in raceway.ends:
                yield raceway, end, Held(rules.within, rules.every, rules.source, False)


def _holds_no_cable(case: Case, box: Box) -> bool:
    """A nonmetallic device box without clamps holds no cable if it is surely of one gang (314.17(B)(2))."""
    return box.kind == "device" and not box.metal and not box.clamps and surely_one_gang(case, box)

"""Solid-state delays in the wire of a coil."""

from __future__ import annotations

from tests.samples import board
from wirecheck.circuit.circuit import circuit
from wirecheck.circuit.play import Act, play

DELAYED = """\
board "A delay in the wire of a coil"
panel LP 120 V
breaker LP.1 15 A
box B junction 100 cu in
cable W1 14/2 NM-B 5 ft from LP to B
T is class-2-transformer in B
TS is heat-cool-thermostat in B
D is {part} in B
K is coil in B
at LP
  W1.black -- LP.1
  W1.white -- LP.neutral
at B
  W1.black -- T.primary-hot
  W1.white -- T.primary-neutral
  T.secondary-r -- TS.R
  TS.Y -- D.in
  D.out -- K.a
  T.secondary-c -- D.common -- K.b -- TS.C
"""
COOL = frozenset({"cool"})


def events(part: str, *acts: Act) -> list[tuple[float, str]]:
    """When the coil pulls in and lets go."""
    told = play(circuit(board(DELAYED.replace("{part}", part))), [Act(), *acts])
    return [
        (step.time, change.kind)
        for step in told.steps
        for change in step.changes
        if change.name == "K" and change.kind in ("runs", "stops")
    ]


def test_on_make_it_waits_with_each_call() -> None:
    assert events("delay-on-make", Act(COOL), Act()) == [(10.0, "runs"), (10.0, "stops")]
    assert events("delay-on-make", Act(COOL, lasts=9.0), Act()) == []


def test_on_break_it_waits_after_a_call() -> None:
    once_more = events("delay-on-break", Act(COOL, lasts=60.0), Act(lasts=20.0), Act(COOL))
    assert once_more == [(0.0, "runs"), (60.0, "stops"), (240.0, "runs")]


def test_without_its_common_or_turned_about_it_closes_nothing() -> None:
    """It has its own power from its call and its common: without that its contact stays open."""
    for wrong in (
        DELAYED.replace("D.common -- ", ""),
        DELAYED.replace("TS.Y -- D.in", "TS.Y -- D.out").replace("D.out -- K.a", "D.in -- K.a"),
    ):
        for part in ("delay-on-make", "delay-on-break"):
            assert wrong != DELAYED
            told = play(circuit(board(wrong.replace("{part}", part))), [Act(), Act(COOL)])
            assert not [change for step in told.steps for change in step.changes if change.name == "K"]

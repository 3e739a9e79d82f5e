"""What eyes, ears and hands find in a state beside what runs: a lamp that is dim, a motor that hums."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from wirecheck.circuit.circuit import Load
from wirecheck.circuit.settle import Settled
from wirecheck.judge.calls import WORKING
from wirecheck.judge.case import Case
from wirecheck.parts.part import LOCKED_OUT
from wirecheck.tables.heat import watts
from wirecheck.tables.signs import half_working, sign
from wirecheck.troubles.heat import given_off, place_of

# An outlet that has less of its volts gives no power to what is plugged in (common practice).
POWERS = 0.8
BUZZ = "buzz"
"""What never settles is heard."""
WARM = "warm"
"""A place is warm to the hand, where a joint in it is."""
# A relay that waits for other volts than the supply's takes no harm from less, and is not heard; what a coil
# is to the circuit can be the winding of a motor.
SILENT = ("senses", "winding", "spark", "standby")


class Sign(NamedTuple):
    """More of a thing than that it runs or stands.

    `word` is one of `wirecheck/tables/signs.csv`, `buzz`, `warm` of a place, or `locked-out` of a control.
    """

    name: str
    word: str

    @property
    def works(self) -> bool:
        """Whether it does some of its work, so that one may say that it runs and that it does not."""
        return self.word in half_working()


def signs(settled: Settled) -> frozenset[Sign]:
    """All that shows so in a state."""
    return frozenset((*_of_loads(settled), *_of_outlets(settled), *_of_chatter(settled)))


def lasting(case: Case, states: Iterable[Settled]) -> Iterator[Sign]:
    """What stays when what brings it is over: the heat of a joint, and the lockout of a control."""
    passed = list(states)
    for fault, most in given_off(case, passed).items():
        if most >= watts("warm"):
            yield Sign(place_of(fault, case), WARM)
    for name, variable in case.circuit.variables.items():
        can = variable.moved_by == "state" and LOCKED_OUT in variable.values
        if can and any(settled.positions[name] == LOCKED_OUT for settled in passed):
            yield Sign(name, LOCKED_OUT)


def _of_loads(settled: Settled) -> Iterator[Sign]:
    for load in settled.circuit.loads:
        kind = kind_of(load)
        if kind is not None and load.name not in settled.circuit.dead:
            share = settled.load_volts(load) / load.volts
            word = sign(kind, share, load.name in settled.running)
            if word is not None:
                yield Sign(load.name, word)


def kind_of(load: Load) -> str | None:
    """A load in the words of the table; None for one that shows nothing."""
    if load.gives_light:
        return "lamp" if load.kind == "lamp" else "light"
    if load.kind not in (*WORKING, "coil") or not load.flags.isdisjoint(SILENT):
        return None
    return load.kind


def _of_outlets(settled: Settled) -> Iterator[Sign]:
    for outlet in settled.circuit.outlets:
        share = settled.across(outlet.hot, outlet.neutral) / outlet.volts
        word = sign("outlet", share, share >= POWERS)
        if word is not None:
            yield Sign(outlet.name, word)


def _of_chatter(settled: Settled) -> Iterator[Sign]:
    return (Sign(name, BUZZ) for name in settled.chattering if name in settled.circuit.load)

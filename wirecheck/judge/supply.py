"""Whether a load is fed in a state, and whether it gets more than it can take."""

from __future__ import annotations

from wirecheck.circuit.circuit import Load
from wirecheck.circuit.settle import Settled

# How far above the most that a load works at its volts must be to be called wrong (common practice).
OVER = 1.05
# Less current than this is what leaks over a control's inputs, in amperes.
LEAKS = 1e-6


def is_fed(load: Load, state: Settled) -> bool:
    """Whether a load draws current in a state."""
    return state.load_amps(load) > LEAKS


def too_much(load: Load, volts: float) -> bool:
    """Whether these volts are more than a load can take.

    What heats takes the square of them: a 208 V element on 240 V gives a third more than it is made for
    (common practice: the two are never exchanged), so nothing is added to what it works at.
    """
    return volts > load.works_to * (1 if load.kind == "heater" else OVER)

"""A small board that faults come to: a lamp on a switch."""

from __future__ import annotations

from tests.samples import wired
from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.faulted import faulted
from wirecheck.circuit.settle import Settled, resting, settle
from wirecheck.faults.listed import fault

SHED = """board "Shed"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
box A device 20.3 cu in
S1 is single-pole-switch in A
L1 is lampholder 60 W
cable W1 14/2 NM-B 20 ft from LP to A
cable W2 14/2 NM-B 12 ft from A to L1
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- S1.line
  W2.black -- S1.load
  W1.white -- W2.white
  W1.bare -- W2.bare -- pigtail -- S1.ground
at L1
  W2.black -- L1.hot
  W2.white -- L1.neutral
  W2.bare -- L1.ground
"""


def state(said: str, text: str = SHED, calls: tuple[str, ...] = (), **moved: str) -> Settled:
    """The board with a fault in it, in a state."""
    good = wired(text)
    bad = faulted(good.board, [fault(said, good)] if said else [])
    return settle(bad, resting(bad, moved), calls)


def good() -> Circuit:
    """The board as it was wired."""
    return wired(SHED)

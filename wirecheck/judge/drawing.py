"""Which loads run in a state, by the current that they draw."""

from __future__ import annotations

from collections.abc import Iterable

from wirecheck.circuit.circuit import Load
from wirecheck.circuit.settle import Settled

# A load that draws less than this share of its rated current is not running (common practice).
DRAWS = 0.5


def draws(load: Load, amps: float) -> bool:
    """Whether a load runs on a current: what draws much less than its rating stands still or starves."""
    return amps >= DRAWS * load.amps


def drawing(loads: Iterable[Load], settled: Settled) -> tuple[Load, ...]:
    """Those of some loads that run in a state, before anything opened in it."""
    state = settled.first or settled
    return tuple(load for load in loads if draws(load, state.load_amps(load)))

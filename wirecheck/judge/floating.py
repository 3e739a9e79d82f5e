"""The copper that a control transformer makes live by itself: it hangs on a secondary and on nothing else."""

from __future__ import annotations

from wirecheck.judge.case import Case
from wirecheck.judge.question import question
from wirecheck.judge.ways import pieces_reached


@question
def live_by_itself(case: Case) -> frozenset[int]:
    """The pieces fed from a secondary above Class 2, if only through contacts, and from no leg and no ground.

    Where nothing grounds it, both of its sides are such: neither is a neutral.
    """
    low = case.code.limit("volts of a Class 2 source")
    uses = case.uses
    fed = frozenset(piece for piece, feeds in uses.direct.items() if feeds)
    ends = {
        uses.piece[end]
        for winding in case.circuit.windings
        if winding.secondary_volts > low
        for end in winding.secondary
    }
    return pieces_reached(case, ends - fed, stops=fed) - fed

"""How often each kind of fault is what is wrong, against the others. Common practice."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from wirecheck.tables.published import keyed


class Odds(NamedTuple):
    """How often a kind of fault is met, as a weight against those of others, and why."""

    weight: float
    reason: str


@cache
def odds(kind: str) -> Odds:
    """The odds of a kind of fault.

    Raises
    ------
    KeyError
        For a kind that the table lacks.

    Examples
    --------
    >>> odds("fuse blown").weight > odds("wire broken").weight
    True
    """
    row = keyed("faults", "kind")[(kind,)]
    return Odds(float(row["odds"]), row["reason"])

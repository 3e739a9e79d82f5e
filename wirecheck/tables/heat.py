"""What heat of a bad joint is felt, and what heat sets on fire. Common practice."""

from __future__ import annotations

from functools import cache
from typing import Literal

from wirecheck.tables.published import keyed


@cache
def watts(what: Literal["warm", "burns"]) -> float:
    """The least watts that a hand feels, or that char what is around.

    >>> watts("warm") < watts("burns")
    True
    """
    return float(keyed("heat", "what")[(what,)]["watts"])

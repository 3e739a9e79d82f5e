"""What it takes to put a meter somewhere, against one more reading where one stands. Common practice."""

from __future__ import annotations

from functools import cache

from wirecheck.tables.published import keyed

HARD_PLACES = ("outdoors", "attic", "roof")
"""The kinds of places that take more than a cover."""


@cache
def effort(what: str) -> float:
    """The effort of a reading, of going to another place, of lifting a wire; of going to a hard place.

    Raises
    ------
    KeyError
        For what the table lacks.

    Examples
    --------
    >>> effort("reading"), effort("roof") > effort("place")
    (1.0, True)
    """
    return float(keyed("efforts", "what")[(what,)]["effort"])

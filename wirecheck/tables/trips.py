"""When a breaker or a fuse opens: between the soonest and the latest.

Sources: UL 489 (breakers), UL 248-14 (supplementary fuses), SAE J1284 (blade fuses). The table's header says
which points are from memory.
"""

from __future__ import annotations

import functools
import math

from wirecheck.files import table_rows
from wirecheck.tables.published import NotInTable


def trip_seconds(kind: str, rating: float, amps: float) -> tuple[float, float]:
    """The soonest and the latest that a device may open at a steady current, in seconds; inf is never.

    More current never opens a device later, so between two points of the table the
    soonest is that of the higher and the latest that of the lower: bounds, not a curve.

    Parameters
    ----------
    kind : `breaker`, `fuse`, `time-delay-fuse` or `blade-fuse`.
    rating, amps : in amperes, at the rated ambient, from cold.

    Raises
    ------
    NotInTable
        For a kind or a rating that the table does not hold.

    Examples
    --------
    >>> trip_seconds("breaker", 15, 15)
    (inf, inf)
    >>> trip_seconds("breaker", 15, 30)
    (8.0, 120.0)
    >>> trip_seconds("breaker", 15, 1000)
    (0.0, 0.025)
    """
    points = _points(kind, rating)
    if not points:
        raise NotInTable(f"there are no opening times for a {kind[:40]} of {rating:g} A")
    multiple = abs(amps) / rating * (1 - 1e-12)
    soonest = next((least for point, least, _ in points if multiple <= point), 0.0)
    latest = min((most for point, _, most in points if multiple >= point * (1 - 1e-9)), default=math.inf)
    return soonest, latest


@functools.lru_cache(maxsize=1000)
def _points(kind: str, rating: float) -> tuple[tuple[float, float, float], ...]:
    """The multiple of its rating, and the soonest and the latest, in each row of a kind and a rating."""
    return tuple(
        (float(row["multiple"]), float(row["least"] or "inf"), float(row["most"] or "inf"))
        for row in table_rows("trip_points")
        if row["kind"] == kind and float(row["over"]) < rating <= float(row["to"])
    )

"""Support of cables and raceways. All in meters.

Sources: NEC 334.30 and its like.
"""

from __future__ import annotations

from typing import NamedTuple

from wirecheck.tables.code import Code
from wirecheck.tables.published import mixed, number

FOOT = 0.3048
INCH = 0.0254


class Support(NamedTuple):
    """The widest spacing of supports, the farthest first support from a box, and the section.

    `nonmetallic_box` is the farthest first support from a single-gang nonmetallic
    box without clamps; None where there is no such rule.
    """

    every: float
    within: float
    nonmetallic_box: float | None
    source: str


def support(kind: str, size: float | None = None, *, code: Code) -> Support | None:
    """How a cable or raceway is to be supported; None for a kind that no section names (as Class 2 cable).

    Parameters
    ----------
    kind : as `NM-B`, `EMT`, `PVC`.
    size : the trade size of a raceway in meters; PVC needs it, and takes the strictest without.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> round(support("NM-B", code=nec).within / INCH, 3)
    12.0
    >>> round(support("PVC", 2 * INCH, code=nec).every / FOOT, 3)
    5.0
    >>> support("CL2", code=nec) is None
    True
    """
    found = code.keyed("supports", "kind", "trade_size")
    row = found.get((kind.upper(), ""))
    if row is None:
        rows = [one for one in code.rows("supports") if one["kind"] == kind.upper()]
        fit = [one for one in rows if size is not None and abs(mixed(one["trade_size"]) * INCH - size) < 1e-4]
        if not rows:
            return None
        row = (fit or rows)[0]
    beside = number(row, "nonmetallic_box")
    return Support(
        float(row["every"]) * FOOT,
        float(row["within"]) * INCH,
        None if beside is None else beside * INCH,
        f"{code.name} {row['section']}",
    )

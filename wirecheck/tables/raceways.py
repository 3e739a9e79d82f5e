"""Raceways: their area, the conductors' area, and how far they may be filled.

Sources: NEC Chapter 9 Tables 1, 4, 5 and 8. All areas in square meters.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import NamedTuple

from wirecheck.tables.code import Code
from wirecheck.tables.published import NotInTable, mixed, number
from wirecheck.tables.sizes import trade_size

# Trade sizes in inches of NEC Table 300.1(C), from memory: areas of these are not held here for every kind.
_LARGER = ("2-1/2", "3", "3-1/2", "4", "5", "6")
SQUARE_INCH = 0.0254**2
"""A square inch in square meters."""

# The column of Table 5 for an insulation.
_COLUMN = {
    **dict.fromkeys(("THHN", "THWN", "THWN-2", "TFN", "TFFN"), "thhn"),
    **dict.fromkeys(("XHHW", "XHHW-2", "XHH"), "xhhw"),
    **dict.fromkeys(("TW", "THW", "THHW", "THW-2"), "thw"),
    "BARE": "bare",
}

OTHER_RACEWAYS = {
    **dict.fromkeys(("pvc-40", "pvc40", "sch40", "sch-40", "schedule-40"), "PVC"),
    **dict.fromkeys(("sch80", "sch-80", "schedule-80"), "PVC-80"),
    **dict.fromkeys(("thinwall", "thin-wall"), "EMT"),
    **dict.fromkeys(("rigid", "grc"), "RMC"),
    **dict.fromkeys(("flex", "flexible"), "FMC"),
    **dict.fromkeys(("liquidtight", "liquid-tight"), "LFMC"),
}
"""What raceways are called, with the kind that may be meant: common practice.

By its letters alone `PVC-40` is nearest to `PVC-80`, whose wall is thicker.
"""


class Fill(NamedTuple):
    """How full a raceway is: the conductors' area, the area they may take, and both over the whole."""

    area: float
    allowed: float
    fraction: float
    limit: float
    source: str


def dry_raceway(kind: str, *, code: Code) -> str:
    """What keeps a kind of raceway out of wet places; nothing where it may be there, or is not known.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> dry_raceway("FMC", code=nec), dry_raceway("LFMC", code=nec)
    ('NEC 2023 348.12(1)', '')
    """
    row = code.keyed("raceways", "kind").get((kind.upper(),))
    return f"{code.name} {row['dry_section']}" if row is not None and row["dry_section"] else ""


def raceway_area(kind: str, size: float, *, code: Code) -> float:
    """The inside of a raceway, in square meters.

    Parameters
    ----------
    kind : `EMT`, `IMC`, `RMC`, `PVC`, `PVC-80`, `LFNC`, `LFMC`, `FMC` or `ENT`.
    size : its trade size in meters (a half inch is 0.0127).

    Raises
    ------
    NotInTable

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> round(raceway_area("EMT", 0.0127, code=nec) / SQUARE_INCH, 3)
    0.304
    """
    rows = [row for row in code.rows("raceway_areas") if row["kind"] == kind.upper()]
    if not rows:
        kinds = ", ".join(dict.fromkeys(row["kind"] for row in code.rows("raceway_areas")))
        raise NotInTable(f"{kind[:40]!r} is no raceway of {code.section('areas of raceways')}: {kinds}")
    for row in rows:
        if abs(mixed(row["trade_size"]) * 0.0254 - size) < 1e-4:
            return float(row["area"]) * SQUARE_INCH
    sizes = ", ".join(row["trade_size"] for row in rows)
    raise NotInTable(
        f"{code.section('areas of raceways')} has no {kind} of {size / 0.0254:.3g} in: it has {sizes} in"
    )


def raceway_sizes(kind: str, *, code: Code) -> tuple[str, ...]:
    """The trade sizes of a kind of raceway in inches, smallest first; empty for an unknown kind.

    >>> from wirecheck.tables.code import LATEST as nec
    >>> raceway_sizes("LFNC", code=nec)[:3]
    ('3/8', '1/2', '3/4')
    """
    sizes = (row["trade_size"] for row in code.rows("raceway_areas") if row["kind"] == kind.upper())
    return tuple(sorted(sizes, key=mixed))


def raceway_kinds(*, code: Code) -> tuple[str, ...]:
    """The kinds of raceway that the tables have.

    >>> from wirecheck.tables.code import LATEST as nec
    >>> raceway_kinds(code=nec)[:3]
    ('EMT', 'IMC', 'RMC')
    """
    return tuple(row["kind"] for row in code.rows("raceways"))


def is_raceway_size(kind: str, size: float, *, code: Code) -> bool:
    """Whether a kind of raceway may come in a trade size, in meters, also one whose area is not held here.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> [is_raceway_size("PVC", inches * 0.0254, code=nec) for inches in (0.5, 0.625, 3, 7)]
    [True, False, True, False]
    """
    held = [mixed(one) for one in raceway_sizes(kind, code=code)]
    larger = [inches for one in _LARGER if (inches := mixed(one)) > max(held, default=0.0)]
    return any(abs(inches * 0.0254 - size) < 1e-4 for inches in (*held, *larger))


def conductor_area(kind: str, size: str, *, code: Code) -> float:
    """The area of one conductor with its insulation, in square meters; `bare` for a bare one.

    Raises
    ------
    NotInTable

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> round(conductor_area("THHN", "12", code=nec) / SQUARE_INCH, 4)
    0.0133
    """
    column = _COLUMN.get(kind.strip().upper())
    row = code.keyed("conductor_areas", "size").get((trade_size(size),))
    value = number(row, column) if row and column else None
    if value is None:
        raise NotInTable(
            f"{code.section('areas of conductors')} is held here without {trade_size(size)} {kind[:40]}"
        )
    return value * SQUARE_INCH


def raceway_fill(
    kind: str,
    size: float,
    conductors: Iterable[tuple[str, str]],
    nipple: bool = False,
    *,
    code: Code,
) -> Fill:
    """How full a raceway is with these conductors, and how full it may be.

    Every conductor counts, grounds too (note 3 to Table 1). Where all are alike, a count
    that comes out at 0.8 or more above a whole number is rounded up (note 7).

    Parameters
    ----------
    conductors : (insulation, size) of each.
    nipple : whether it is 24 in or shorter (note 4: 60 %).

    Raises
    ------
    NotInTable

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> fill = raceway_fill("EMT", 0.0127, [("THHN", "12")] * 9, code=nec)
    >>> round(fill.fraction, 3), fill.limit, fill.area <= fill.allowed
    (0.394, 0.4, True)
    """
    areas = [conductor_area(insulation, wire, code=code) for insulation, wire in conductors]
    whole = raceway_area(kind, size, code=code)
    count = "nipple" if nipple else str(max(1, min(3, len(areas))))
    row = code.keyed("raceway_fill", "conductors")[(count,)]
    limit = float(row["percent"]) / 100
    allowed = whole * limit
    if len(areas) > 2 and max(areas) == min(areas):
        part = code.limit("part of a conductor that counts as a whole one in a raceway")
        allowed = max(allowed, areas[0] * math.floor(allowed / areas[0] + 1 - part))
    filled = math.fsum(areas)
    return Fill(filled, allowed, filled / whole, limit, code.section("raceway fill"))


class Ground(NamedTuple):
    """On what terms metal around the conductors is their grounding conductor.

    `largest` is the trade size in meters and `amps` the protection that it is so up to; None where
    there is no such limit, as for rigid conduit and for the armor of AC.
    """

    largest: float | None
    amps: float | None
    section: str


def grounds(kind: str, size: float, *, code: Code) -> Ground | None:
    """Whether metal around the conductors is a grounding conductor by itself, and on what terms.

    Parameters
    ----------
    kind : of a raceway or of a cable with armor.
    size : the raceway's trade size in meters; one beyond the largest has the terms of the largest.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> grounds("EMT", 0.0127, code=nec).amps, grounds("PVC", 0.0127, code=nec)
    (None, None)
    >>> [grounds("LFMC", size, code=nec).amps for size in (0.0127, 0.01905, 0.0508)]
    [20.0, 60.0, 60.0]
    """
    terms = [
        Ground(
            mixed(row["largest"]) * 0.0254 if row["largest"] else None,
            number(row, "amps"),
            f"{code.name} {row['section']}",
        )
        for row in code.rows("grounding_raceways")
        if row["kind"] == kind
    ]
    fitting = (one for one in terms if one.largest is None or size < one.largest + 1e-4)
    return next(fitting, terms[-1] if terms else None)

"""How tightly a cable may be bent.

Sources: NEC 334.24 and its like.
"""

from __future__ import annotations

from typing import NamedTuple

from wirecheck.tables.code import Code


class Bend(NamedTuple):
    """The least radius of the inner edge of a bend, in diameters of the cable, and the section."""

    diameters: float
    source: str


def bend(kind: str, *, code: Code) -> Bend | None:
    """How tightly a cable may be bent; None for a kind that no section names.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> bend("NM-B", code=nec)
    Bend(diameters=5.0, source='NEC 2023 334.24')
    >>> bend("CL2", code=nec) is None
    True
    """
    row = code.keyed("bends", "kind").get((kind.upper(),))
    return None if row is None else Bend(float(row["diameters"]), f"{code.name} {row['section']}")

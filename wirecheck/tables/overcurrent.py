"""Overcurrent protection: standard ratings, limits of conductors, grounding conductors, receptacles.

Sources: NEC 240.4(B), 240.4(D), 240.6(A), Table 250.122, 210.21(B).
"""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from wirecheck.tables.code import Code
from wirecheck.tables.published import material_named
from wirecheck.tables.sizes import trade_size

_SAME = 1e-9


class Protection(NamedTuple):
    """The largest overcurrent protection of a conductor in amperes, and the section that says so."""

    amps: float
    source: str


@cache
def standard_ratings(fuse: bool = False, *, code: Code) -> tuple[float, ...]:
    """The standard ratings of NEC 240.6(A) in amperes, smallest first; `fuse` adds those for fuses only.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> standard_ratings(code=nec)[:4], standard_ratings(fuse=True, code=nec)[:4]
    ((10.0, 15.0, 20.0, 25.0), (1.0, 3.0, 6.0, 10.0))
    """
    return tuple(
        sorted(float(row["amps"]) for row in code.rows("standard_ratings") if fuse or not row["fuse_only"])
    )


def next_standard(amps: float, fuse: bool = False, *, code: Code) -> float | None:
    """The least standard rating that is at least `amps`; None past 6000 A.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> next_standard(16, code=nec), next_standard(15, code=nec), next_standard(7000, code=nec)
    (20.0, 15.0, None)
    """
    return next((one for one in standard_ratings(fuse, code=code) if one >= amps * (1 - _SAME)), None)


def previous_standard(amps: float, fuse: bool = False, *, code: Code) -> float | None:
    """The greatest standard rating that is at most `amps`; None below the first.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> previous_standard(28.8, code=nec), previous_standard(5, code=nec)
    (25.0, None)
    """
    return next(
        (one for one in reversed(standard_ratings(fuse, code=code)) if one <= amps * (1 + _SAME)), None
    )


def small_conductor_limit(size: str, material: str = "copper", *, code: Code) -> Protection | None:
    """The limit of NEC 240.4(D); None for conductors that it does not name.

    It does not bind the circuits of 240.4(E) and (G): motors, air-conditioning equipment and others.

    Raises
    ------
    NotInTable
        For a text that is no size or no metal.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> small_conductor_limit("14", code=nec)
    Protection(amps=15.0, source='NEC 2023 240.4(D)(4)')
    >>> small_conductor_limit("8", code=nec) is None
    True
    """
    row = code.keyed("small_conductors", "size", "material").get((trade_size(size), material_named(material)))
    return Protection(float(row["amps"]), f"{code.name} {row['section']}") if row else None


def largest_protection(
    size: str,
    material: str,
    ampacity: float,
    next_size_up: bool = True,
    small_conductors: bool = True,
    *,
    code: Code,
) -> Protection:
    """The largest overcurrent protection of a conductor with this ampacity (NEC 240.4).

    Parameters
    ----------
    ampacity : after correction, adjustment and the terminals' limit, in amperes.
    next_size_up : whether 240.4(B) applies. It does not for a branch circuit that supplies
        more than one receptacle for cord-and-plug loads, and never above 800 A.
    small_conductors : whether 240.4(D) applies (not for the circuits of 240.4(E) and (G)).

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> largest_protection("6", "copper", 55, code=nec)
    Protection(amps=60.0, source='NEC 2023 240.4(B)')
    >>> largest_protection("6", "copper", 55, next_size_up=False, code=nec)
    Protection(amps=55, source='NEC 2023 240.4')
    >>> largest_protection("12", "copper", 25, code=nec)
    Protection(amps=20.0, source='NEC 2023 240.4(D)(6)')
    """
    limit = Protection(ampacity, code.section("protection of conductors"))
    if next_size_up and ampacity > 0:
        standard = next_standard(ampacity, code=code)
        most = code.limit("next standard rating up")
        if standard is not None and ampacity * (1 + _SAME) < standard <= most:
            limit = Protection(standard, code.section("next standard rating up"))
    small = small_conductor_limit(size, material, code=code) if small_conductors else None
    return small if small is not None and small.amps < limit.amps else limit


def grounding_conductor(protection: float, material: str = "copper", *, code: Code) -> str | None:
    """The least equipment grounding conductor for a circuit with this protection; None above 6000 A.

    Source: NEC Table 250.122. A grounding conductor need never be larger than the
    circuit's own conductors (250.122(A)): the caller takes the lesser.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> grounding_conductor(30, code=nec), grounding_conductor(200, "aluminum", code=nec)
    ('10', '4')
    """
    column = material_named(material).removeprefix("copper-clad ")
    rows = code.rows("grounding_conductors")
    return next((row[column] for row in rows if protection <= float(row["amps"]) * (1 + _SAME)), None)


def receptacle_ratings(circuit: float, *, code: Code) -> tuple[float, ...]:
    """The receptacle ratings that a branch circuit with two or more receptacles may have, in amperes.

    Source: NEC Table 210.21(B)(3). A single receptacle on a circuit of its own has at least the
    circuit's rating (210.21(B)(1)). Empty for a circuit that the table does not name.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> receptacle_ratings(20, code=nec), receptacle_ratings(40, code=nec), receptacle_ratings(25, code=nec)
    ((15.0, 20.0), (40.0, 50.0), ())
    """
    row = code.keyed("branch_circuits", "amps").get((f"{circuit:g}",))
    return tuple(float(word) for word in row["receptacles"].split()) if row else ()


def several_outlets(*, code: Code) -> tuple[float, ...]:
    """The ratings of branch circuits that may have several receptacles, in amperes, smallest first.

    Source: NEC 210.18, 210.23(A).

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> several_outlets(code=nec)
    (15.0, 20.0, 30.0, 40.0, 50.0)
    """
    return tuple(sorted(float(row["amps"]) for row in code.rows("branch_circuits")))


def receptacle_plug_load(circuit: float, *, code: Code) -> float | None:
    """The largest cord-and-plug load of one receptacle among several, in amperes (NEC Table 210.21(B)(2)).

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> receptacle_plug_load(15, code=nec), receptacle_plug_load(50, code=nec)
    (12.0, None)
    """
    row = code.keyed("branch_circuits", "amps").get((f"{circuit:g}",))
    return float(row["plug_load"]) if row and row["plug_load"] else None

"""Transformers: their overcurrent protection, and what makes a source Class 2.

Sources: NEC Table 450.3(B), Chapter 9 Table 11(A).
"""

from __future__ import annotations

from typing import NamedTuple

from wirecheck.tables.code import Code
from wirecheck.tables.overcurrent import next_standard
from wirecheck.tables.published import NotInTable


class Class2Limit(NamedTuple):
    """Limits of a Class 2 source: its nameplate's VA, and the protection that it needs.

    `overcurrent` is None where the source limits itself.
    """

    nameplate_va: float
    overcurrent: float | None


def primary_protection(rated: float, secondary: bool = False, *, code: Code) -> float:
    """The largest protection of a transformer's primary, in amperes.

    From 9 A on, 125 % or the next standard rating above it (note 1 to the table);
    below, 167 %, and 300 % under 2 A, which are not rounded up. With protection at its secondary as well
    250 % will do; under 2 A the primary alone may have more.

    Parameters
    ----------
    rated : the primary's rated current in amperes.
    secondary : whether its secondary is protected as `secondary_protection` says.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> [primary_protection(rated, code=nec) for rated in (40 / 120, 5.0, 20.0)]
    [1.0, 8.35, 25.0]
    >>> primary_protection(5.0, secondary=True, code=nec)
    12.5
    """
    alone = _protection(rated, "primary", code)
    return max(alone, _protection(rated, "primary_with_secondary", code)) if secondary else alone


def secondary_protection(rated: float, *, code: Code) -> float:
    """The largest protection at the secondary, where the primary has up to 250 %, in amperes.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> round(secondary_protection(40 / 24, code=nec), 2), secondary_protection(20.0, code=nec)
    (2.78, 25.0)
    """
    return _protection(rated, "secondary", code)


def _protection(rated: float, column: str, code: Code) -> float:
    rows = code.rows("transformer_protection")
    row = max((row for row in rows if rated >= float(row["from"])), key=_from, default=rows[0])
    percent = int(row[column])
    amps = rated * percent / 100
    return next_standard(amps, code=code) or amps if percent == 125 else amps


def _from(row: dict[str, str]) -> float:
    return float(row["from"])


def class_2_limit(volts: float, inherent: bool = True, *, code: Code) -> Class2Limit:
    """What a source may deliver and still be Class 2.

    Parameters
    ----------
    volts : the most that it gives, whatever the load (Vmax of the table).
    inherent : whether the source limits its own current (an energy-limiting transformer).

    Raises
    ------
    NotInTable
        Above 30 V, where Class 2 allows only 5 mA and no control circuit lives.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> class_2_limit(24, code=nec).nameplate_va
    100.0
    >>> round(class_2_limit(24, inherent=False, code=nec).overcurrent, 2)
    4.17
    """
    for row in code.rows("class_2_limits"):
        if (row["inherent"] == "yes") == inherent and 0 < volts <= float(row["to"]):
            return Class2Limit(
                _formula(row["nameplate_va"], volts),
                _formula(row["overcurrent"], volts) if row["overcurrent"] else None,
            )
    raise NotInTable(
        f"a Class 2 source has up to 30 V here, not {volts:g} V ({code.section('limits of Class 2 sources')})"
    )


def _formula(cell: str, volts: float) -> float:
    if cell.endswith("/V"):
        return float(cell.removesuffix("/V")) / volts
    if cell.endswith("*V"):
        return float(cell.removesuffix("*V")) * volts
    return float(cell)

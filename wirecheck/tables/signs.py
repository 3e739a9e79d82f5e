"""What eyes and ears find of a load that has too little of its volts, or too much. Common practice."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from wirecheck.files import table_rows


class Shows(NamedTuple):
    """How a kind of load shows that it has `least` of its volts; `works`: that it does some of its work."""

    kind: str
    least: float
    sign: str
    works: bool


@cache
def _rows() -> tuple[Shows, ...]:
    return tuple(
        Shows(row["kind"], float(row["from"]), row["sign"], row["works"] == "yes")
        for row in table_rows("signs")
    )


def sign(kind: str, share: float, works: bool) -> str | None:
    """How a kind of load shows that it has this share of its volts; None where it shows nothing.

    Parameters
    ----------
    works : whether it has the volts that it works at

    Examples
    --------
    >>> sign("lamp", 0.7, False), sign("lamp", 1.0, True), sign("lamp", 1.4, True)
    ('dim', None, 'bright')
    >>> sign("motor", 0.5, False), sign("motor", 0.75, False), sign("motor", 0.1, False)
    ('hum', 'slow', None)
    """
    shown = [one for one in _rows() if one.kind == kind and one.least <= share and (one.least > 1) == works]
    return max(shown, key=lambda one: one.least).sign if shown else None


@cache
def half_working() -> frozenset[str]:
    """The signs of what has too little, and does some of its work all the same."""
    return frozenset(one.sign for one in _rows() if one.works and one.least < 1)


@cache
def too_little() -> frozenset[str]:
    """All signs of too little."""
    return frozenset(one.sign for one in _rows() if one.least < 1)


@cache
def known() -> tuple[str, ...]:
    """All signs of the table, each once."""
    return tuple(dict.fromkeys(one.sign for one in _rows()))

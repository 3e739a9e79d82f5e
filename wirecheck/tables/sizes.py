"""Conductor sizes: American wire gauge, kcmil and square millimetres, in one order by area.

Sources: ASTM B258 (gauge diameters), NIST SP 811 (the circular mil), IEC 60228
(the metric series).
"""

from __future__ import annotations

import math
import re
from functools import cache

from wirecheck.files import table_rows
from wirecheck.language.quantity import gauge_area
from wirecheck.tables.code import Code
from wirecheck.tables.published import NotInTable

CIRCULAR_MIL = math.pi / 4 * 0.0254e-3**2
"""The area of a circle one thousandth of an inch across, in square meters."""

_WRITTEN = re.compile(
    r"#?\s*(\d{1,4}(?:\.\d{1,4})?|\d/0|0{1,4})\s*(AWG|kcmil|MCM|mm2|mm²)?", re.IGNORECASE | re.ASCII
)


class UnknownSize(NotInTable):
    """The text is no conductor size."""


@cache
def trade_size(size: str) -> str:
    """The one way a size is written here: `14`, `4/0`, `500 kcmil`, `2.5 mm2`.

    A bare whole number is a gauge up to 40 and kcmil from 213 on, as the trade reads it.

    Raises
    ------
    UnknownSize
        Where the text is no size.

    Examples
    --------
    >>> trade_size("14"), trade_size("#12 AWG"), trade_size("0000"), trade_size("500"), trade_size("2.50 mm2")
    ('14', '12', '4/0', '500 kcmil', '2.5 mm2')
    """
    match = _WRITTEN.fullmatch(size.strip()) if len(size) <= 40 else None
    if match is None:
        raise _unknown(size)
    written, unit = match[1], (match[2] or "").lower()
    if unit in ("mm2", "mm²"):
        return _metric(written, size)
    if written.endswith("/0") or not written.strip("0"):
        zeros = int(written[0]) if "/" in written else len(written)
        if not 1 <= zeros <= 4 or unit not in ("", "awg"):
            raise _unknown(size)
        return f"{zeros}/0"
    if "." in written:
        raise _unknown(size)
    value = int(written)
    if unit in ("", "awg") and 1 <= value <= 40:
        return str(value)
    if unit in ("", "kcmil", "mcm") and 213 <= value <= 2000:
        return f"{value} kcmil"
    raise _unknown(size)


def _metric(written: str, size: str) -> str:
    if "/" in written or not 0.01 <= float(written) <= 2500:
        raise _unknown(size)
    return f"{float(written):g} mm2"


def _unknown(size: str) -> UnknownSize:
    return UnknownSize(
        f"{size[:40]!r} is no conductor size: sizes are written 14, 4/0, 250 kcmil or 2.5 mm2 "
        "(gauges 40 to 4/0, then 213 to 2000 kcmil)"
    )


@cache
def area(size: str) -> float:
    """The metal's cross-section in square meters.

    A gauge's area is that of the solid wire of ASTM B258; kcmil and mm2 are the nominal area itself.

    Raises
    ------
    UnknownSize

    Examples
    --------
    >>> round(area("12") * 1e6, 3), round(area("500 kcmil") * 1e6, 1), round(area("2.5 mm2") * 1e6, 1)
    (3.309, 253.4, 2.5)
    """
    name = trade_size(size)
    if name.endswith("mm2"):
        return float(name.removesuffix(" mm2")) * 1e-6
    if name.endswith("kcmil"):
        return float(name.removesuffix(" kcmil")) * 1000 * CIRCULAR_MIL
    return gauge_area(name)


def size_at_least(size: str, least: str) -> bool:
    """Whether `size` has at least the metal of `least`; gauges, kcmil and mm2 compare by area.

    Examples
    --------
    >>> size_at_least("12", "14"), size_at_least("14", "12"), size_at_least("2.5 mm2", "14")
    (True, False, True)
    """
    return area(size) >= area(least) * (1 - 1e-9)


def next_larger(size: str, *, code: Code) -> str | None:
    """The next size up in the series it belongs to; None past the largest.

    Gauges and kcmil follow the sizes of NEC Table 310.16 (with 22 and 20 AWG below it),
    metric sizes those of IEC 60228.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> next_larger("14", code=nec), next_larger("4/0", code=nec), next_larger("2.5 mm2", code=nec)
    ('12', '250 kcmil', '4 mm2')
    """
    series = metric_sizes() if trade_size(size).endswith("mm2") else trade_sizes(code=code)
    return next((one for one in series if area(one) > area(size) * (1 + 1e-9)), None)


@cache
def trade_sizes(*, code: Code) -> tuple[str, ...]:
    """The gauge and kcmil sizes of the trade, smallest first: 22 AWG, 20, then those of NEC Table 310.16."""
    return ("22", "20", *(row["size"] for row in code.rows("ampacity")))


def is_made(size: str, *, code: Code) -> bool:
    """Whether wire comes in a size: any metric one, any gauge thinner than 18 AWG, and those of the trade.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> is_made("12", code=nec), is_made("11", code=nec), is_made("23", code=nec)
    (True, False, True)
    """
    name = trade_size(size)
    return name.endswith("mm2") or not size_at_least(name, "18") or name in trade_sizes(code=code)


def sizes_beside(size: str, *, code: Code) -> tuple[str, ...]:
    """The sizes of the trade next below and next above one, as far as there are such.

    >>> from wirecheck.tables.code import LATEST as nec
    >>> sizes_beside("11", code=nec)
    ('12', '10')
    """
    made = trade_sizes(code=code)
    below = [one for one in made if area(one) < area(size)]
    return (*below[-1:], *made[len(below) :][:1])


@cache
def metric_sizes() -> tuple[str, ...]:
    """The metric sizes of IEC 60228, smallest first."""
    return tuple(row["size"] for row in table_rows("iec_60228"))

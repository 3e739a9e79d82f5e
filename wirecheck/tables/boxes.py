"""Boxes: the volume of a trade size, and the volume that conductors and devices take.

Sources: NEC Tables 314.16(A) and 314.16(B)(1), 314.16(B)(1) to (6).
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass

from wirecheck.tables.code import Code
from wirecheck.tables.published import NotInTable
from wirecheck.tables.sizes import area, trade_size

CUBIC_INCH = 0.0254**3
"""A cubic inch in cubic meters."""


def box_volume(kind: str, size: str, *, code: Code) -> float:
    """The volume of a metal box by its trade size, in cubic meters.

    Parameters
    ----------
    kind : `device`, `octagon`, `square`, `masonry`; any other word takes the least box of that size.
    size : the trade size in inches, as `4 x 1-1/2` or `3 x 2 x 2-3/4 in`.

    Raises
    ------
    NotInTable
        For a size that the table does not list; the message gives those of the kind.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> round(box_volume("octagon", "4 x 1-1/2 in", code=nec) / CUBIC_INCH, 2)
    15.5
    """
    written = _dimensions(size)
    found = [
        float(row["cubic_inches"])
        for row in code.rows("box_volumes")
        if row["trade_size"] == written and (row["kind"] == kind or not box_sizes(kind, code=code))
    ]
    if not found:
        listed = ", ".join(
            box_sizes(kind, code=code) or sorted({row["trade_size"] for row in code.rows("box_volumes")})
        )
        raise NotInTable(
            f"{code.section('volumes of metal boxes')} lists no {size[:40]!r} {kind} box; "
            f"it has {listed} (in inches)"
        )
    return min(found) * CUBIC_INCH


def box_sizes(kind: str, *, code: Code) -> tuple[str, ...]:
    """The trade sizes of a kind of box, in inches; empty for a kind the table does not name.

    >>> from wirecheck.tables.code import LATEST as nec
    >>> box_sizes("octagon", code=nec)
    ('4 x 1-1/4', '4 x 1-1/2', '4 x 2-1/8')
    """
    return tuple(row["trade_size"] for row in code.rows("box_volumes") if row["kind"] == kind)


def conductor_volume(size: str, *, code: Code) -> float:
    """The free space that one conductor needs in a box, in cubic meters.

    A size between two of the table takes the larger one's.

    Raises
    ------
    NotInTable
        For conductors larger than 6 AWG, whose boxes go by 314.28, and smaller than 18 AWG, which
        the table does not count (it names 18 to 6 AWG only).

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> round(conductor_volume("14", code=nec) / CUBIC_INCH, 2)
    2.0
    """
    name = trade_size(size)
    rows = code.rows("conductor_volumes")
    if area(name) >= area("18") * (1 - 1e-9):
        for row in rows:
            if area(row["size"]) >= area(name) * (1 - 1e-9):
                return float(row["cubic_inches"]) * CUBIC_INCH
    raise NotInTable(
        f"{code.section('volumes of conductors')} counts conductors from 18 to 6 AWG, not {name}"
    )


@dataclass(frozen=True, slots=True)
class Allowance:
    """What some of a box's contents take: `number` times the volume of one conductor of a size.

    `of` is `wires`, `yoke`, `clamps`, `fittings` or `grounds`, and `count` how many of those there are.
    """

    of: str
    count: int
    size: str
    number: float


def allowances(
    conductors: Iterable[str],
    grounds: Iterable[str] = (),
    yokes: Iterable[tuple[str, int]] = (),
    clamps: bool = False,
    fittings: int = 0,
    *,
    code: Code,
) -> tuple[Allowance, ...]:
    """What each kind of a box's contents takes (NEC 314.16(B)).

    Parameters
    ----------
    conductors : the size of each insulated conductor that enters; pigtails do not count.
    grounds : the size of each equipment grounding conductor that enters: one allowance of the
        largest for up to four, a quarter more for each beyond.
    yokes : for each device, the size of the largest wire on it and its gangs (2 allowances a gang).
    clamps : whether there is an internal cable clamp (one allowance of the largest in the box).
    fittings : kinds of fixture stud or hickey (one allowance of the largest for each kind).

    Returns
    -------
    The wires by size, smallest first; one for each yoke in the order given; then the rest, each
    only where there is any of it.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> allowances(["14", "12", "14"], ["12"] * 5, code=nec)[0]
    Allowance(of='wires', count=2, size='14', number=2)
    >>> allowances(["14", "12", "14"], ["12"] * 5, code=nec)[-1]
    Allowance(of='grounds', count=5, size='12', number=1.25)
    """
    insulated, earths = list(conductors), list(grounds)
    largest = max([*insulated, *earths], key=area, default=None)
    told = [
        Allowance("wires", insulated.count(size), size, insulated.count(size))
        for size in sorted(set(insulated), key=area)
    ]
    device = code.limit("allowances of a device")
    told += [Allowance("yoke", gangs, size, device * gangs) for size, gangs in yokes]
    if largest is not None and clamps:
        told.append(Allowance("clamps", 1, largest, 1))
    if largest is not None and fittings:
        told.append(Allowance("fittings", fittings, largest, fittings))
    if earths:
        beyond = max(0, len(earths) - code.limit("grounds that count as one conductor"))
        number = 1 + code.limit("allowance of each ground beyond those") * beyond
        told.append(Allowance("grounds", len(earths), max(earths, key=area), number))
    return tuple(told)


def box_fill(contents: Iterable[Allowance], *, code: Code) -> float:
    """The volume that a box's contents need, in cubic meters.

    Raises
    ------
    NotInTable
        Where one of them goes by a conductor that the table does not count.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> contents = allowances(["12"] * 4, ["12"] * 2, [("12", 1)], clamps=True, code=nec)
    >>> round(box_fill(contents, code=nec) / CUBIC_INCH, 2)
    18.0
    """
    return math.fsum(one.number * conductor_volume(one.size, code=code) for one in contents)


def _dimensions(size: str) -> str:
    """`4x1 1/2 in` as the table writes it: `4 x 1-1/2`."""
    bare = re.sub(r"\s*in\.?\s*$", "", size[:60].strip().lower()).replace("×", "x")
    return " x ".join(re.sub(r"\s+", "-", part.strip()) for part in bare.split("x"))

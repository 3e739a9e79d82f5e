"""Ampacity: what a conductor may carry, with every step of the arithmetic.

Sources: NEC 310.16, 310.15(B)(1), 310.15(C)(1), 110.14(C), 402.5; for cables 334.80 and 340.80.
"""

from __future__ import annotations

import functools
from typing import NamedTuple

from wirecheck.tables.code import Code
from wirecheck.tables.published import NotInTable, material_named, number
from wirecheck.tables.sizes import trade_size


class Insulation(NamedTuple):
    """An insulation or cable type: temperature ratings in C of its conductors, and its own limit.

    `wet` is None where the type is not for wet places. `cap` is the column that
    the final ampacity may not exceed (60 for NM-B), with its section in `cap_source`.
    `fixture` types take their ampacity from Table 402.5. `dry_source` is what keeps the type out
    of wet places, nothing where it may be there.
    """

    kind: str
    dry: float
    wet: float | None
    cap: float | None
    cap_source: str
    fixture: bool
    source: str
    dry_source: str


# Insulations of Table 310.4(1), Table 402.3 and other standards whose ratings are not held here: these are no
# misspelt names. From memory.
UNRATED = frozenset(
    (
        *("FEP", "FEPB", "MI", "MTW", "PFA", "PFAH", "SA", "SIS", "TBS", "TFE", "UF", "XHH", "XHHN"),
        *("XHWN", "XHWN-2", "Z", "ZW", "ZW-2", "HF", "HFF", "KF-1", "KF-2", "KFF-1", "KFF-2", "PAF"),
        *("PAFF", "PF", "PFF", "PGF", "PGFF", "PTF", "PTFF", "RFH-1", "RFH-2", "RFHH-2", "RFHH-3"),
        *("SF-1", "SF-2", "SFF-1", "SFF-2", "TF", "TFF", "XF", "XFF", "ZF", "ZFF", "AWM", "ETFE"),
        *("R90", "RW90", "RWU90", "T90", "TEW", "TWU", "TWU75"),
    )
)


class Ampacity(NamedTuple):
    """The steps from a table's value to what a conductor may carry, in amperes.

    `table` is the value in the insulation's own column; `corrected` is
    `table * correction * adjustment`; `cap` is the value in the terminals' column
    (None where no terminal limits it); `result` is the least of the last two.
    `source` names the sections used, in order.
    """

    size: str
    material: str
    insulation_c: float
    table: float
    ambient: float
    correction: float
    current_carrying: int
    adjustment: float
    corrected: float
    terminal_c: float | None
    cap: float | None
    result: float
    source: str

    @property
    def before(self) -> float:
        """The ampacity before correction and adjustment: the lesser of the two columns' values."""
        return self.table if self.cap is None else min(self.table, self.cap)


def insulation(kind: str, *, code: Code) -> Insulation:
    """The ratings of an insulation or cable type.

    Raises
    ------
    NotInTable
        For a type that the table does not hold; the message names those it does.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> cable = insulation("NM-B", code=nec)
    >>> cable.dry, cable.cap, insulation("CL2", code=nec).fixture
    (90.0, 60.0, True)
    """
    row = code.keyed("insulation", "type").get((kind.strip().upper(),))
    if row is None:
        raise NotInTable(
            f"{kind[:40]!r} is no insulation or cable type of the tables: {', '.join(insulations(code=code))}"
        )
    return Insulation(
        row["type"],
        float(row["dry"]),
        number(row, "wet"),
        number(row, "cap"),
        f"{code.name} {row['cap_section']}" if row["cap_section"] else "",
        row["fixture"] == "yes",
        f"{code.name} {row['section']}",
        f"{code.name} {row['dry_section']}" if row["dry_section"] else "",
    )


def insulations(*, code: Code) -> tuple[str, ...]:
    """The names of the types that `insulation` knows.

    >>> from wirecheck.tables.code import LATEST as nec
    >>> "XHHW-2" in insulations(code=nec)
    True
    """
    return tuple(row["type"] for row in code.rows("insulation"))


def ampacity(
    size: str,
    material: str = "copper",
    insulation_c: float = 60.0,
    ambient: float = 30.0,
    current_carrying: int = 3,
    terminal_c: float | None = 60.0,
    *,
    code: Code,
) -> Ampacity:
    """What a conductor may carry in a raceway, cable or earth (NEC 310.16 and 310.15).

    The value of the insulation's own column is corrected for ambient and adjusted
    for bunching; the result may not exceed the value, neither corrected nor
    adjusted, in the column of the terminals (110.14(C)). For 18 and 16 AWG, which
    have no 60 or 75 C column, the value of Table 402.5 stands there.

    Parameters
    ----------
    size : a trade size, as `12`, `1/0`, `250 kcmil`.
    insulation_c : the insulation's temperature rating: 60, 75 or 90.
    ambient : in degrees Celsius. Above the table, `correction` and `result` are 0.
    current_carrying : conductors bunched together that carry current; 3 and fewer need no adjustment.
    terminal_c : the lesser of the terminals' rating and a cable's own limit; None leaves it out.

    Raises
    ------
    NotInTable
        Where the table has no value for this size, metal or temperature rating.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> steps = ampacity("12", "copper", 90, ambient=40, current_carrying=6, terminal_c=60, code=nec)
    >>> steps.table, steps.correction, steps.adjustment, round(steps.corrected, 2), steps.cap, steps.result
    (30.0, 0.91, 0.8, 21.84, 20.0, 20.0)
    """
    name, metal = trade_size(size), material_named(material)
    value = _table_value(name, metal, insulation_c, code)
    cap = None if terminal_c is None else _terminal_value(name, metal, terminal_c, code)
    return _steps(
        name,
        metal,
        insulation_c,
        value,
        ambient,
        ambient_correction(insulation_c, ambient, code=code),
        current_carrying,
        bunching_adjustment(current_carrying, code=code),
        terminal_c,
        cap,
        "ampacities",
        code,
    )


def fixture_wire_ampacity(
    size: str,
    insulation_c: float = 60.0,
    ambient: float = 30.0,
    current_carrying: int = 3,
    *,
    code: Code,
) -> Ampacity:
    """What a fixture wire may carry (NEC Table 402.5, with 402.5's call for 310.15).

    It is also what is taken here for Class 2 cable, which has no ampacity table of
    its own (common practice).

    Raises
    ------
    NotInTable
        For a size other than 18 to 10 AWG.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> fixture_wire_ampacity("18", code=nec).result
    6.0
    """
    name = trade_size(size)
    row = code.keyed("fixture_wire", "size").get((name,))
    if row is None:
        raise NotInTable(
            f"{code.section('ampacities of fixture wires')} has no {name}: it runs from 18 to 10 AWG"
        )
    return _steps(
        name,
        "copper",
        insulation_c,
        float(row["amps"]),
        ambient,
        min(ambient_correction(insulation_c, ambient, code=code), 1.0),
        current_carrying,
        bunching_adjustment(current_carrying, code=code),
        None,
        None,
        "ampacities of fixture wires",
        code,
    )


@functools.lru_cache(maxsize=1000)
def conductor_ampacity(
    kind: str,
    size: str,
    material: str = "copper",
    ambient: float = 30.0,
    current_carrying: int = 3,
    terminal_c: float | None = 60.0,
    wet: bool = False,
    *,
    code: Code,
) -> Ampacity:
    """What a conductor of a named insulation or cable type may carry: `ampacity` with the type's own limits.

    Raises
    ------
    NotInTable
        For an unknown type or size, or a type that is not for wet places where `wet` is set.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> conductor_ampacity("NM-B", "14", terminal_c=75, code=nec).result
    15.0
    >>> conductor_ampacity("THHN", "10", terminal_c=75, code=nec).result
    35.0
    >>> conductor_ampacity("CL2", "18", code=nec).result
    6.0
    """
    its = insulation(kind, code=code)
    rating = its.wet if wet else its.dry
    if rating is None:
        raise NotInTable(f"{its.kind} is not for wet places ({its.source})")
    if its.fixture:
        return fixture_wire_ampacity(size, rating, ambient, current_carrying, code=code)
    limits = [limit for limit in (terminal_c, its.cap) if limit is not None]
    least = min(limits) if limits else None
    return ampacity(size, material, rating, ambient, current_carrying, least, code=code)


def terminal_temperature(amps: float, marked: float | None = None, *, code: Code) -> float:
    """The column at which terminals limit a circuit of this rating (NEC 110.14(C)(1)), in C.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> terminal_temperature(20, code=nec), terminal_temperature(20, marked=75, code=nec)
    (60.0, 75.0)
    >>> terminal_temperature(200, code=nec)
    75.0
    """
    if marked is not None:
        return float(marked)
    if amps <= code.limit("small circuit by its terminals"):
        return code.limit("temperature of terminals of a small circuit")
    return code.limit("temperature of terminals of a large circuit")


def ambient_correction(insulation_c: float, ambient: float, *, code: Code) -> float:
    """The factor of NEC Table 310.15(B)(1)(1) (base 30 C); 0 where the table forbids the conductor.

    Raises
    ------
    NotInTable
        For a temperature rating other than 60, 75 or 90.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> ambient_correction(90, 40, code=nec), ambient_correction(60, 60, code=nec)
    (0.91, 0.0)
    """
    column = _column(insulation_c)
    for row in code.rows("ambient_correction"):
        if ambient <= float(row["up_to"]):
            return number(row, column) or 0.0
    return 0.0


def bunching_adjustment(current_carrying: int, *, code: Code) -> float:
    """The factor of NEC Table 310.15(C)(1) for conductors bunched together.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> bunching_adjustment(3, code=nec), bunching_adjustment(9, code=nec), bunching_adjustment(100, code=nec)
    (1.0, 0.7, 0.35)
    """
    for row in code.rows("adjustment"):
        if not row["up_to"] or current_carrying <= int(row["up_to"]):
            break
    return float(row["factor"])


def _column(insulation_c: float) -> str:
    if insulation_c not in (60, 75, 90):
        raise NotInTable(f"ampacity tables have columns for 60, 75 and 90 C, not for {insulation_c:g} C")
    return f"{insulation_c:.0f}"


def _listed(size: str, metal: str, temperature: float, code: Code) -> float | None:
    row = code.keyed("ampacity", "size").get((size,))
    return number(row, f"{metal.removeprefix('copper-clad ')}_{_column(temperature)}") if row else None


def _table_value(size: str, metal: str, temperature: float, code: Code) -> float:
    value = _listed(size, metal, temperature, code)
    if value is None:
        raise NotInTable(
            f"{code.section('ampacities')} has no ampacity for {size} {metal} at {temperature:g} C"
        )
    return value


def _terminal_value(size: str, metal: str, temperature: float, code: Code) -> float:
    """The terminal column's value; Table 402.5 where 310.16 has none at this temperature."""
    value = _listed(size, metal, temperature, code)
    row = code.keyed("fixture_wire", "size").get((size,))
    if value is None and row is not None and metal == "copper":
        return float(row["amps"])
    return _table_value(size, metal, temperature, code)


def _steps(
    size: str,
    metal: str,
    insulation_c: float,
    value: float,
    ambient: float,
    correction: float,
    current_carrying: int,
    adjustment: float,
    terminal_c: float | None,
    cap: float | None,
    table: str,
    code: Code,
) -> Ampacity:
    corrected = value * correction * adjustment
    result = corrected if cap is None else min(corrected, cap)
    used = [table]
    if correction != 1:
        used.append("ambient correction")
    if adjustment != 1:
        used.append("bunched conductors")
    if cap is not None and cap < corrected:
        used.append("temperature of terminals" if size not in ("18", "16") else "ampacities of fixture wires")
    return Ampacity(
        size,
        metal,
        insulation_c,
        value,
        ambient,
        correction,
        current_carrying,
        adjustment,
        corrected,
        terminal_c,
        cap,
        result,
        code.section(*used),
    )

"""Resistance and impedance of conductors, in ohms per metre of one conductor.

Sources: NEC Chapter 9 Tables 8 and 9; IEC 60228 for metric sizes; for a size that
none of them lists, the resistivity of the metal (IEC 60028 for annealed copper,
1.7241e-8 ohm m and 0.00393 per C at 20 C; IEC 60889 for aluminum, 2.8264e-8 ohm m
and 0.00403 per C) over the area of ASTM B258.
"""

from __future__ import annotations

from functools import cache, lru_cache

from wirecheck.tables.code import Code
from wirecheck.tables.published import NotInTable, keyed, material_named, number
from wirecheck.tables.sizes import area, metric_sizes, size_at_least, trade_size

KILOFOOT = 304.8
"""A thousand feet in meters."""

# Per degree Celsius at 75 C.
_CHANGE_AT_75 = {
    "copper": "change of copper resistance per degree at 75 C",
    "aluminum": "change of aluminum resistance per degree at 75 C",
}
MOST_KEPT = 4_096
"""So many answers are kept: a board has few kinds of wire, and each is asked for in every state."""
# Resistivity in ohm meters and its change per degree Celsius, at 20 C.
_AT_20 = {"copper": (1.7241e-8, 0.00393), "aluminum": (2.8264e-8, 0.00403)}


def resistance(
    size: str,
    material: str = "copper",
    stranded: bool | None = None,
    temperature: float = 75.0,
    *,
    code: Code,
) -> float:
    """The direct-current resistance of one metre of conductor, in ohms.

    Parameters
    ----------
    size : a trade size, as `14`, `4/0`, `500 kcmil`, `2.5 mm2`.
    material : `copper`, `aluminum` or `copper-clad aluminum` (taken as aluminum, common practice).
    stranded : None takes what the trade uses: solid up to 10 AWG (and 6 mm2), stranded from 8 AWG on.
    temperature : of the conductor, in degrees Celsius.

    Raises
    ------
    NotInTable
        For an unknown size or metal, or a temperature outside -60 to 400 C.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> round(resistance("12", code=nec) * KILOFOOT, 3)
    1.93
    >>> round(resistance("12", temperature=20.0, code=nec) * KILOFOOT, 2)
    1.59
    """
    metal = _metal(material)
    if not -60.0 <= temperature <= 400.0:
        raise NotInTable(
            f"{temperature:g} C is outside -60 to 400 C, where a conductor's resistance is known"
        )
    name = trade_size(size)
    if stranded is None:
        stranded = not size_at_least("10" if not name.endswith("mm2") else "6 mm2", name)
    strands = "stranded" if stranded else "solid"
    row = code.keyed("conductor_resistance", "size").get((name,))
    listed = number(row, f"{metal}_{strands}") if row else None
    if listed is not None:
        change = code.limit(_CHANGE_AT_75[metal])
        return listed / KILOFOOT * (1 + change * (temperature - 75))
    resistivity, change = _AT_20[metal]
    if name in metric_sizes():
        row = keyed("iec_60228", "size")[(name,)]
        listed = number(row, f"{metal}_class_{2 if stranded else 1}")
    at_20 = listed / 1000 if listed is not None else resistivity / area(name) * (1.02 if stranded else 1.0)
    return at_20 * (1 + change * (temperature - 20))


@lru_cache(maxsize=MOST_KEPT)
def impedance(
    size: str,
    material: str = "copper",
    raceway: str = "PVC",
    temperature: float = 75.0,
    *,
    code: Code,
) -> complex:
    """The impedance of one metre of one conductor at 60 Hz, in ohms.

    Resistance is that of `resistance` for sizes below 1/0, where skin effect lies
    below a table's rounding, and that of Chapter 9 Table 9 from 1/0 on. Reactance
    is that of Table 9; below 14 AWG, where the table has none, it is 0 (less than
    0.01 % of the whole). Cable is taken as conductors in a nonmetallic raceway, whose
    reactance is an upper bound for it. A size between those of Table 9 takes the
    reactance of the smaller and the skin effect of the larger neighbour.

    Parameters
    ----------
    raceway : a kind of raceway or cable, as `EMT`, `PVC`, `LFNC`, `NM-B`, or `steel`, `aluminum`.

    Raises
    ------
    NotInTable

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> z = impedance("4/0", "copper", "EMT", code=nec) * KILOFOOT
    >>> round(z.real, 3), round(z.imag, 3)
    (0.063, 0.051)
    """
    metal = _metal(material)
    name = trade_size(size)
    around = _around(raceway, code)
    direct = resistance(name, metal, None, temperature, code=code)
    if not size_at_least("1000 kcmil", name):
        raise NotInTable(f"{code.section('impedance of conductors')} goes up to 1000 kcmil: it has no {name}")
    reactance = 0.0
    skin = 1.0
    table = code.keyed("conductor_impedance", "size")
    for (listed,), row in table.items():
        if size_at_least(name, listed):
            reactance = float(row["x_steel" if around == "steel" else "x_pvc"]) / KILOFOOT
        if size_at_least(listed, "1/0"):
            skin = (
                float(row[f"{metal}_{around}"]) / KILOFOOT / resistance(listed, metal, True, 75.0, code=code)
            )
            if size_at_least(listed, name):
                break
    return complex(direct * (skin if size_at_least(name, "1/0") else 1.0), reactance)


def _metal(material: str) -> str:
    name = material_named(material)
    return "aluminum" if name == "copper-clad aluminum" else name


@cache
def _around(raceway: str, code: Code) -> str:
    """What a conductor lies in, as the columns of Table 9 name it."""
    if raceway.lower() in ("pvc", "aluminum", "steel"):
        return raceway.lower()
    row = code.keyed("raceways", "kind").get((raceway.upper(),))
    return row["around"] if row else "pvc"

"""Reading of the tables of this room, and the one error for what a table does not hold."""

from __future__ import annotations

from functools import cache

from wirecheck.files import table_rows


class NotInTable(LookupError):
    """A published table has no value for what was asked; the message says which and what it does have."""

    def __str__(self) -> str:
        return str(self.args[0]) if self.args else ""


@cache
def keyed(name: str, *keys: str) -> dict[tuple[str, ...], dict[str, str]]:
    """The rows of a table by the words in the columns `keys`; the caller must not change them.

    Examples
    --------
    >>> keyed("nec-2023/ampacity", "size")[("12",)]["copper_75"]
    '25'
    """
    return {tuple(row[key] for key in keys): row for row in table_rows(name)}


def number(row: dict[str, str], column: str) -> float | None:
    """The number in a column, or None where the table leaves it empty.

    >>> number({"copper_60": ""}, "copper_60") is None
    True
    """
    written = row.get(column, "")
    return float(written) if written else None


def mixed(written: str) -> float:
    """A trade size or a horsepower as the tables write it: whole, a fraction, or both.

    >>> mixed("2"), mixed("3/4"), mixed("1-1/4")
    (2.0, 0.75, 1.25)
    """
    parts = (part.partition("/") for part in written.split("-"))
    return sum(float(above) / float(below or 1) for above, _, below in parts)


def material_named(material: str) -> str:
    """The one name for a conductor's metal: `copper`, `aluminum` or `copper-clad aluminum`.

    Raises
    ------
    NotInTable
        For any other word.

    Examples
    --------
    >>> material_named("Cu"), material_named("aluminium")
    ('copper', 'aluminum')
    """
    name = _MATERIALS.get(material.strip().lower().replace("-", " "))
    if name is None:
        raise NotInTable(f"{material[:40]!r} is no conductor metal of the tables: copper or aluminum")
    return name


_MATERIALS = {
    "copper": "copper",
    "cu": "copper",
    "aluminum": "aluminum",
    "aluminium": "aluminum",
    "al": "aluminum",
    "copper clad aluminum": "copper-clad aluminum",
    "copper clad": "copper-clad aluminum",
    "cca": "copper-clad aluminum",
}

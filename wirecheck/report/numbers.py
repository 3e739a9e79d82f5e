"""Numbers as people read them."""

from __future__ import annotations

from wirecheck.language.quantity import rounded


def quantity(value: float, unit: str | None) -> str:
    """A number to four figures that count, with its unit.

    >>> quantity(15.0, "A"), quantity(3.14159, "%"), quantity(2, None), quantity(12345.6, "VA")
    ('15 A', '3.142 %', '2', '12346 VA')
    >>> quantity(1, "wires"), quantity(2, "wires")
    ('1 wire', '2 wires')
    """
    if unit is None:
        return rounded(value, 4)
    one_of_many = value == 1 and len(unit) > 3 and unit.endswith("s")
    return f"{rounded(value, 4)} {unit.removesuffix('s') if one_of_many else unit}"


def counted(count: int, noun: str, nouns: str | None = None) -> str:
    """A count with its noun.

    >>> counted(1, "fault"), counted(0, "board"), counted(2, "advice", "pieces of advice")
    ('1 fault', '0 boards', '2 pieces of advice')
    """
    return f"{count} {noun if count == 1 else nouns or noun + 's'}"

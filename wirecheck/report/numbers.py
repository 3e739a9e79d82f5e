"""Numbers as people read them."""

from __future__ import annotations

from wirecheck.language.quantity import reading, rounded

# One of what is counted in words.
ONE = {"wires": "wire", "parts": "part", "watts": "watt"}


def quantity(value: float, unit: str | None, beside: float | None = None) -> str:
    """A number with its unit as a good meter shows it; `beside` is one that it is compared with.

    >>> quantity(15.0, "A"), quantity(3.14159, "%"), quantity(2, None), quantity(12345.6, "VA")
    ('15 A', '3.1 %', '2', '12300 VA')
    >>> quantity(1, "wires"), quantity(2, "wires"), quantity(20.02, "A", beside=20)
    ('1 wire', '2 wires', '20.02 A')
    """
    if unit is None:
        return rounded(value, beside=beside)
    return reading(value, ONE.get(unit, unit) if value == 1 else unit, beside=beside)


def counted(count: int, noun: str, nouns: str | None = None) -> str:
    """A count with its noun.

    >>> counted(1, "fault"), counted(0, "board"), counted(2, "advice", "pieces of advice")
    ('1 fault', '0 boards', '2 pieces of advice')
    """
    return f"{count} {noun if count == 1 else nouns or noun + 's'}"

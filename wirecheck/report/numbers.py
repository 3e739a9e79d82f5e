"""Numbers as people read them."""

from __future__ import annotations


def number(value: float) -> str:
    """A number to four figures that count, without needless zeros.

    >>> [number(value) for value in (15.0, 3.4567, 0.02, 12345.6, 20.25)]
    ['15', '3.457', '0.02', '12346', '20.25']
    """
    if abs(value) >= 1000:
        return f"{value:.0f}"
    return f"{value:.4g}"


def quantity(value: float, unit: str | None) -> str:
    """A number with its unit.

    >>> quantity(15.0, "A"), quantity(3.5, "%"), quantity(2, None)
    ('15 A', '3.5 %', '2')
    """
    return f"{number(value)} {unit}" if unit else number(value)


def counted(count: int, noun: str, nouns: str | None = None) -> str:
    """A count with its noun.

    >>> counted(1, "fault"), counted(0, "board"), counted(2, "advice", "pieces of advice")
    ('1 fault', '0 boards', '2 pieces of advice')
    """
    return f"{count} {noun if count == 1 else nouns or noun + 's'}"

"""The thickest wire that goes into the lugs of a breaker, which are larger on one of a larger rating."""

from __future__ import annotations

from wirecheck.files import table_rows


def largest_in_lug(amps: float) -> str | None:
    """The thickest wire that the lugs of a breaker of that rating take; None where they are the small ones.

    Examples
    --------
    >>> largest_in_lug(30), largest_in_lug(60), largest_in_lug(100), largest_in_lug(200)
    (None, '2', '2/0', '300')
    """
    fits = [row["largest"] for row in table_rows("breaker_lugs") if amps > float(row["above"])]
    return fits[-1] if fits else None

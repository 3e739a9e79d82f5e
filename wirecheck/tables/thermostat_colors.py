"""The usual colors of a thermostat's wires. Common practice, and no rule of any code."""

from __future__ import annotations

from functools import cache

from wirecheck.files import table_rows


@cache
def usual_colors(carries: str | None) -> tuple[str, ...]:
    """The colors that are usual for what a wire carries, the most usual first; none where none is.

    Examples
    --------
    >>> usual_colors("common"), usual_colors("second-cool")
    (('blue', 'black'), ())
    """
    return tuple(row["color"] for row in table_rows("thermostat_colors") if row["carries"] == carries)


@cache
def usually_carries(color: str) -> str | None:
    """What a wire of a color carries where it is the most usual color; None where it is that of nothing.

    Examples
    --------
    >>> usually_carries("blue"), usually_carries("black")
    ('common', None)
    """
    carried = dict.fromkeys(row["carries"] for row in table_rows("thermostat_colors"))
    return next((one for one in carried if usual_colors(one)[0] == color), None)

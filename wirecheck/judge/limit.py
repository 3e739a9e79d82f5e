"""Whether a number is over a limit, and not only by the noise of arithmetic."""

from __future__ import annotations

# Two numbers that differ by less than this part of them are the same.
NOISE = 1e-9


def over(value: float, limit: float) -> bool:
    """Whether a number is more than a limit.

    >>> over(15, 15), over(0.1 + 0.2, 0.3), over(15.0001, 15)
    (False, False, True)
    """
    return value > limit * (1 + NOISE)

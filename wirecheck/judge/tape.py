"""Whether a length is too short or too long, as a tape measure shows it."""

from __future__ import annotations

INCH = 0.0254
# A tape is read to a sixteenth of an inch: what misses a limit by half of that does not miss it
# (common practice).
HAIR = INCH / 32


def shorter(length: float, least: float) -> bool:
    """Whether a length in meters is less than the least, and a tape shows it.

    >>> shorter(5.9 * INCH, 6 * INCH), shorter(5.99 * INCH, 6 * INCH)
    (True, False)
    """
    return length < least - HAIR


def longer(length: float, most: float) -> bool:
    """Whether a length in meters is more than the most, and a tape shows it.

    >>> longer(12.1 * INCH, 12 * INCH), longer(12.01 * INCH, 12 * INCH)
    (True, False)
    """
    return length > most + HAIR

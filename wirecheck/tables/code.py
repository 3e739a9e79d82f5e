"""One edition of the electrical code: its sections by what they say, and its limits.

The board's `code` line chooses it and the case carries it, so that no other file knows a year.
"""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from wirecheck.tables.published import keyed

EDITIONS = (2023,)


class Code(NamedTuple):
    """An edition; `folder` holds its tables."""

    name: str
    year: int
    folder: str

    def section(self, *matters: str) -> str:
        """Where the code says these things, as a source is written.

        Raises
        ------
        KeyError: for a matter that the table of sections does not hold.

        >>> edition(2023).section("conductors under a screw")
        'NEC 2023 110.14(A)'
        """
        sections = keyed(f"{self.folder}/sections", "matter")
        return f"{self.name} " + ", ".join(sections[matter,]["section"] for matter in matters)


@cache
def edition(year: int) -> Code:
    """The edition of a year; the newest that is known, where that one is not."""
    known = year if year in EDITIONS else EDITIONS[-1]
    return Code(f"NEC {known}", known, f"nec-{known}")

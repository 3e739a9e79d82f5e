"""One edition of the electrical code: its sections by what they say, and its limits.

The board's `code` line chooses it and the case carries it, so that no other file knows a year.
"""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from wirecheck.language.quantity import quantity
from wirecheck.language.syntax import Span
from wirecheck.tables.published import keyed

EDITIONS = (2023,)
# What stands in a table stands in no line of a board.
_IN_TABLE = Span(1, 1, 1, 1)


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

    def limit(self, matter: str) -> float:
        """A number that the code states in a sentence, in SI (temperatures in C, percent as a fraction).

        Raises
        ------
        KeyError: for a matter that the table of limits does not hold.

        >>> edition(2023).limit("voltage drop of a branch circuit")
        0.03
        """
        written = keyed(f"{self.folder}/limits", "matter")[matter,]
        return quantity(f"{written['value']} {written['unit']}".strip(), _IN_TABLE).value


@cache
def edition(year: int) -> Code:
    """The edition of a year; the newest that is known, where that one is not."""
    known = year if year in EDITIONS else EDITIONS[-1]
    return Code(f"NEC {known}", known, f"nec-{known}")

"""One edition of the electrical code: its tables, its limits, and its sections by what they say.

The board's `code` line chooses it and the board carries it, so that no other file knows a year.
"""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from wirecheck.files import table_rows
from wirecheck.language.quantity import quantity
from wirecheck.language.syntax import Span
from wirecheck.tables.published import keyed

EDITIONS = (2023,)
"""The editions whose tables are held here, oldest first."""

NEAR = (2014, 2017, 2020, 2026)
"""Editions that differ little from those in what is checked here."""

# What stands in a table stands in no line of a board.
_IN_TABLE = Span(1, 1, 1, 1)


class Code(NamedTuple):
    """An edition; `folder` holds its tables, and lies in the room of tables or is a whole path."""

    name: str
    year: int
    folder: str

    def rows(self, table: str) -> tuple[dict[str, str], ...]:
        """The rows of one of its tables, by column.

        >>> edition(2023).rows("ambient_correction")[4]["up_to"]
        '30'
        """
        return table_rows(f"{self.folder}/{table}")

    def keyed(self, table: str, *keys: str) -> dict[tuple[str, ...], dict[str, str]]:
        """The rows of one of its tables by the words in the columns `keys`; the caller must not change them.

        >>> edition(2023).keyed("ampacity", "size")["12",]["copper_75"]
        '25'
        """
        return keyed(f"{self.folder}/{table}", *keys)

    def section(self, *matters: str) -> str:
        """Where the code says these things, as a source is written.

        Raises
        ------
        KeyError
            For a matter that neither the table of sections nor that of limits holds.

        Examples
        --------
        >>> edition(2023).section("conductors under a screw")
        'NEC 2023 110.14(A)'
        """
        sections, limits = self.keyed("sections", "matter"), self.keyed("limits", "matter")
        found = ((sections.get((matter,)) or limits[matter,])["section"] for matter in matters)
        return f"{self.name} {', '.join(found)}"

    def limit(self, matter: str) -> float:
        """A number that the code states in a sentence, in SI (temperatures in C, percent as a fraction).

        Raises
        ------
        KeyError
            For a matter that the table of limits does not hold.

        Examples
        --------
        >>> edition(2023).limit("voltage drop of a branch circuit")
        0.03
        """
        return _limit(self, matter)

    def written(self, matter: str) -> str:
        """The same number as it is written, with its unit: for sizes of wire, and for words.

        Raises
        ------
        KeyError
            For a matter that the table of limits does not hold.

        Examples
        --------
        >>> edition(2023).written("least size that may be marked as a neutral or a ground")
        '4 AWG'
        """
        row = self.keyed("limits", "matter")[matter,]
        return f"{row['value']} {row['unit']}".strip()


@cache
def _limit(code: Code, matter: str) -> float:
    return quantity(code.written(matter), _IN_TABLE).value


@cache
def edition(year: int) -> Code:
    """The edition of a year, or the nearest to it that is held here.

    >>> edition(2023).name, edition(1999) == edition(2023)
    ('NEC 2023', True)
    """
    nearest = min(EDITIONS, key=lambda known: abs(known - year))
    return Code(f"NEC {nearest}", nearest, f"nec-{nearest}")


LATEST = edition(EDITIONS[-1])
"""The newest edition that is held here, by which a board without a `code` line is judged."""

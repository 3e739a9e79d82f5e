"""One edition of the electrical code: its tables, its limits, and its sections by what they say.

The board's `code` line chooses it and the board carries it, so that no other file knows a year.
"""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from wirecheck.files import has_table, table_rows
from wirecheck.language.quantity import quantity
from wirecheck.language.syntax import Span

EDITIONS = (2017, 2020, 2023)
"""The editions whose tables are held here, oldest first.

The folder of the last holds all tables, that of an older one the rows in which it differs from the next, each
in the place of the row with the same first column.
"""

NEAR = (2014, 2026)
"""Editions that differ little from those in what is checked here."""

# What stands in a table stands in no line of a board.
_IN_TABLE = Span(1, 1, 1, 1)


class Code(NamedTuple):
    """An edition; `folder` holds its tables, and lies in the room of tables or is a whole path.

    Where it is an older one, `amended` are the folders of those from there back to it, the oldest last: what
    stands in a row of theirs takes the place of what the newest says.
    """

    name: str
    year: int
    folder: str
    amended: tuple[str, ...] = ()

    def rows(self, table: str) -> tuple[dict[str, str], ...]:
        """The rows of one of its tables, by column.

        >>> edition(2023).rows("ambient_correction")[4]["up_to"]
        '30'
        """
        return _rows(self, table)

    def keyed(self, table: str, *keys: str) -> dict[tuple[str, ...], dict[str, str]]:
        """The rows of one of its tables by the words in the columns `keys`; the caller must not change them.

        >>> edition(2023).keyed("ampacity", "size")["12",]["copper_75"]
        '25'
        """
        return _keyed(self, table, keys)

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

    def asks(self, matter: str) -> bool:
        """Whether the edition says such a thing at all: one that does not has no section for it.

        Raises
        ------
        KeyError
            For a matter that the table of sections does not hold.

        Examples
        --------
        >>> matter = "ground-fault protection of microwave ovens"
        >>> edition(2023).asks(matter), edition(2020).asks(matter)
        (True, False)
        """
        return bool(self.keyed("sections", "matter")[matter,]["section"])

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
def _rows(code: Code, table: str) -> tuple[dict[str, str], ...]:
    """The rows of a table, each as the oldest edition says it that is not older than this one."""
    rows = table_rows(f"{code.folder}/{table}")
    for folder in code.amended:
        if has_table(f"{folder}/{table}"):
            changed = {next(iter(row.values())): row for row in table_rows(f"{folder}/{table}")}
            rows = tuple(changed.get(next(iter(row.values())), row) for row in rows)
    return rows


@cache
def _keyed(code: Code, table: str, keys: tuple[str, ...]) -> dict[tuple[str, ...], dict[str, str]]:
    return {tuple(row[key] for key in keys): row for row in code.rows(table)}


@cache
def _limit(code: Code, matter: str) -> float:
    return quantity(code.written(matter), _IN_TABLE).value


@cache
def edition(year: int) -> Code:
    """The edition of a year, or the nearest to it that is held here.

    >>> edition(2023).name, edition(1999).name
    ('NEC 2023', 'NEC 2017')
    """
    nearest = min(EDITIONS, key=lambda known: abs(known - year))
    newest = EDITIONS[-1]
    back = tuple(f"nec-{year}" for year in reversed(EDITIONS[:-1]) if year >= nearest)
    return Code(f"NEC {nearest}", nearest, f"nec-{newest}", back)


LATEST = edition(EDITIONS[-1])
"""The newest edition that is held here, by which a board without a `code` line is judged."""

"""Where the editions that are held here differ, in what a source cites: told from their tables alone."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from wirecheck.tables.code import EDITIONS, Code, edition
from wirecheck.tables.rooms import ROOMS

# A section by its number, as in 110.14(A). What another standard numbers so has a letter before it.
_SECTION = re.compile(
    r"Chapter 9 Table \d+(?:\([A-Z]\))?|(?<![\w.])\d{2,3}\.\d+(?:\([A-Za-z0-9]+\))*(?![\w.]*\d)"
)
# What cites the code, among the sources that a semicolon divides.
_OF_THE_CODE = re.compile(r"[^;]*(?:NEC|Chapter 9)[^;]*")

# The columns of the table of rooms: what is asked of each.
_ASKED: Mapping[str, str] = {
    "ground_fault": "ground-fault protection of receptacles",
    "arc_fault": "arc-fault protection of circuits",
    "switch_neutral": "a neutral at the switches of lights",
    "tamper_resistant": "tamper-resistant receptacles",
    "weather": "weather-resistant receptacles",
    "own_circuit": "a circuit of its own for receptacles",
    "no_panel": "no panel",
}


ASKED = "asked"
"""What an edition says of a matter that has a section and no number."""


class Said(NamedTuple):
    """What some editions say alike: by their years, what they ask (nothing where they do not), and where."""

    years: tuple[int, ...]
    what: str
    section: str


class Difference(NamedTuple):
    """A matter of which not all editions say the same: each saying once, the oldest edition's first."""

    matter: str
    said: tuple[Said, ...]

    @property
    def moved(self) -> bool:
        """Whether they ask the same, each in a section of another number."""
        return len({one.what for one in self.said}) == 1


def differences(source: str) -> tuple[Difference, ...] | None:
    """Where editions differ in what a source cites, those first in which they ask for something else.

    None where it cites no section of the code.

    Parameters
    ----------
    source : as a rule's manual has it, with the sections of the newest edition.

    Examples
    --------
    >>> differences("NEC 314.16(B)")[0]
    Difference(matter='allowance of each ground beyond those', said=(Said(years=(2017,), what='0', \
section='314.16(B)(5)'), Said(years=(2020, 2023), what='0.25', section='314.16(B)(5)')))
    >>> differences("NEC 300.14"), differences("common practice")
    ((), None)
    """
    cited = _cited(source)
    if not cited:
        return None
    found = [*_of_rows("sections", cited), *_of_rows("limits", cited), *_of_rooms(cited)]
    return tuple(sorted(found, key=lambda one: one.moved))


def _cited(source: str) -> set[str]:
    return {one for part in _OF_THE_CODE.findall(source) for one in _SECTION.findall(part)}


def _of_rows(table: str, cited: set[str]) -> Iterator[Difference]:
    """The matters of a table of sections or limits."""
    for (matter,), row in edition(EDITIONS[-1]).keyed(table, "matter").items():
        if _is_cited(row["section"], cited):
            yield from _difference(matter, [_of_row(code, table, matter) for code in _codes()])


def _of_row(code: Code, table: str, matter: str) -> tuple[str, str]:
    row = code.keyed(table, "matter")[matter,]
    what = code.written(matter) if table == "limits" else ASKED if row["section"] else ""
    return what, row["section"]


def _of_rooms(cited: set[str]) -> Iterator[Difference]:
    """What is asked of the kinds of room, those together of which the same is said."""
    for column, asked in _ASKED.items():
        together: dict[tuple[tuple[str, str], ...], list[str]] = {}
        for room in ROOMS:
            rows = [code.keyed("rooms", "room")[room,] for code in _codes()]
            if _is_cited(" ".join(row[column] for row in rows), cited):
                said = [_of_room(row, column) for row in rows]
                together.setdefault(tuple(said), []).append(room)
        for sayings, rooms in together.items():
            yield from _difference(f"{asked}: {', '.join(rooms)}", list(sayings))


def _of_room(row: Mapping[str, str], column: str) -> tuple[str, str]:
    section = row[column]
    which = f"those {row['where']}" if column == "ground_fault" and row["where"] else "all of them"
    return which if section else "", section


def _codes() -> tuple[Code, ...]:
    return tuple(edition(year) for year in EDITIONS)


def _difference(matter: str, sayings: list[tuple[str, str]]) -> Iterator[Difference]:
    """The sayings of the editions, oldest first, where they are not all one."""
    together: dict[tuple[str, str], list[int]] = {}
    for year, saying in zip(EDITIONS, sayings, strict=True):
        together.setdefault(saying, []).append(year)
    if len(together) > 1:
        said = (Said(tuple(years), what, section) for (what, section), years in together.items())
        yield Difference(matter, tuple(said))


def _is_cited(section: str, cited: set[str]) -> bool:
    """Whether a section, or a wider one that it is a part of, is among those that are cited."""
    found = _SECTION.findall(section)
    wider = {one[: place.start()] for one in found for place in re.finditer(r"\(", one)}
    return not cited.isdisjoint({*found, *wider})

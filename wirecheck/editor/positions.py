"""Places in a text: ours count characters from 1, an editor's the units of an encoding from 0."""

from __future__ import annotations

from typing import Literal, NamedTuple

from wirecheck.language.mentions import rows

Encoding = Literal["utf-8", "utf-16", "utf-32"]
ENCODINGS: tuple[Encoding, ...] = ("utf-8", "utf-16", "utf-32")
DEFAULT: Encoding = "utf-16"
"""What the protocol counts in where nothing else was agreed on."""
_MARK = "\ufeff"


class Ruler(NamedTuple):
    """The rows of a text. A byte order mark at its begin has units in an editor, and no column here."""

    rows: tuple[str, ...]
    encoding: Encoding
    marked: bool

    def units(self, line: int, column: int) -> tuple[int, int]:
        r"""A place as an editor counts it: row and units before, both from 0.

        >>> ruler("panel LP\n\U0001f4a1 # lamp", "utf-16").units(2, 3)
        (1, 3)
        """
        line = min(max(line, 1), len(self.rows))
        row = self.rows[line - 1]
        before = units_before(row, column, self.encoding)
        return line - 1, before + (units_before(_MARK, 2, self.encoding) if self.marked and line == 1 else 0)

    def place(self, line: int, units: int) -> tuple[int, int]:
        r"""Line and column of a place as an editor counts it.

        >>> ruler("\ufeffpanel LP", "utf-8").place(0, 9)
        (1, 7)
        """
        if line >= len(self.rows):
            return len(self.rows), len(self.rows[-1]) + 1
        if self.marked and line == 0:
            units = max(units - units_before(_MARK, 2, self.encoding), 0)
        return line + 1, column_of(self.rows[line], units, self.encoding)


def ruler(text: str, encoding: Encoding) -> Ruler:
    """What places in a text are measured by."""
    return Ruler(tuple(rows(text)), encoding, text[:1] == _MARK)


def units_before(row: str, column: int, encoding: Encoding) -> int:
    """The units of a row before a column, its end for a column behind it.

    >>> [units_before("a\\u00bd\\U0001f4a1b", 4, encoding) for encoding in ("utf-8", "utf-16", "utf-32")]
    [7, 4, 3]
    """
    before = row[: max(column - 1, 0)]
    if encoding == "utf-32" or before.isascii():
        return len(before)
    return sum(_units(character, encoding) for character in before)


def column_of(row: str, units: int, encoding: Encoding) -> int:
    """The column at so many units; that of a character for a place within it, the row's end for one behind.

    >>> [column_of("a\\U0001f4a1b", units, "utf-16") for units in (0, 1, 2, 3, 4, 9)]
    [1, 2, 2, 3, 4, 4]
    """
    if encoding == "utf-32" or row.isascii():
        return min(units, len(row)) + 1
    passed = 0
    for column, character in enumerate(row, 1):
        passed += _units(character, encoding)
        if passed > units:
            return column
    return len(row) + 1


def _units(character: str, encoding: Encoding) -> int:
    point = ord(character)
    if encoding == "utf-8":
        return 1 + (point > 0x7F) + (point > 0x7FF) + (point > 0xFFFF)
    return 2 if encoding == "utf-16" and point > 0xFFFF else 1

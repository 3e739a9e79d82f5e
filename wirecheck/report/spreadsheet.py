"""Tables for a spreadsheet, in which no cell can be a formula.

What a spreadsheet takes for a formula begins with one of = + - @, or with a full-width or other form of them,
and may have spaces or quotes before it. Such a text gets an apostrophe, which makes it a text everywhere. So
does one behind a semicolon or an upright line, where spreadsheets of some countries begin a new cell. A tab,
the end of a line, and all that hides was made something that is seen before (`plain`). Numbers stay numbers.

Source: RFC 4180, "Common Format and MIME Type for CSV Files": commas, doubled quotes, lines end in CR LF;
OWASP, "CSV Injection": the characters, and the apostrophe
"""

from __future__ import annotations

import csv
import io
import math
import unicodedata
from collections.abc import Iterable

from wirecheck.report.plain import plain

Cell = str | float | None
Row = tuple[Cell, ...]

_FORMULA = "=+-@\N{MINUS SIGN}"
_BLANK = '"\N{REPLACEMENT CHARACTER}'
_NEXT = ";|"


def cells(rows: Iterable[Row]) -> str:
    r"""Rows as text, with commas between the cells and a line for each row, to be written as UTF-8.

    >>> cells([("student", "trim"), ("Ruiz, Ana", 27.5), ("Bo", None)])
    'student,trim\r\n"Ruiz, Ana",27.5\r\nBo,\r\n'
    """
    text = io.StringIO()
    table = csv.writer(text, lineterminator="\r\n")
    for row in rows:
        table.writerow([_cell(cell) for cell in row])
    return text.getvalue()


def _cell(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, int):
        return str(cell)
    if isinstance(cell, float) and math.isfinite(cell):
        return f"{cell or 0.0:.7g}"
    return no_formula(str(cell))


def no_formula(text: str) -> str:
    """A text that no spreadsheet takes for a formula, whatever it takes for the end of a cell.

    >>> no_formula(" @SUM(A1)"), no_formula("a;=1"), no_formula("a-b")
    ("' @SUM(A1)", "a;'=1", 'a-b')
    """
    shown: list[str] = []
    begin: int | None = 0
    for char in plain(text):
        form = char if char.isascii() else unicodedata.normalize("NFKC", char)[0]
        if form in _NEXT:
            shown.append(char)
            begin = len(shown)
            continue
        if begin is not None and not (form.isspace() or form in _BLANK):
            if form in _FORMULA:
                shown.insert(begin, "'")
            begin = None
        shown.append(char)
    return "".join(shown)

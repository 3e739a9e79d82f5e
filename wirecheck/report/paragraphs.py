"""Paragraphs and columns of text, as wide as a report."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from wirecheck.report.plain import plain

WIDTH = 88


def one_line(text: str) -> str:
    """Text made plain, with one space between its words: none of it is pushed to where it does not stand."""
    return plain(" ".join(text.split()))


def headline(text: str) -> str:
    r"""Text that stands above a report, made plain, on one line: of a longer one only its beginning.

    >>> headline("Stair" + 90 * " " + "No problem found."), headline("Stair " * 30)[-12:]
    ('Stair No problem found.', 'air Stair...')
    """
    lines = textwrap.wrap(one_line(text), WIDTH - 3, break_on_hyphens=False)
    return "".join(lines[:1]) + ("..." if len(lines) > 1 else "")


def wrapped(text: str, indent: str) -> str:
    """Text as a paragraph of the report, made plain."""
    return textwrap.fill(
        one_line(text), WIDTH, initial_indent=indent, subsequent_indent=indent, break_on_hyphens=False
    )


def columns(rows: Sequence[tuple[str, str]], indent: str = "") -> str:
    """Rows of a name and its text, the texts in one column; the text goes below a name that is too long.

    Texts without names hang behind a dash.

    >>> print(columns([("R", "24 V"), ("W", "the heat call")]), end="")
    R  24 V
    W  the heat call
    """
    room = min(max((len(name) for name, _ in rows), default=0), 28)
    left = indent + " " * (room + 2)
    if room == 0:
        rows = [("-", text) for _, text in rows]
    lines = []
    for name, text in rows:
        first = (indent + plain(name)).ljust(len(left))
        if len(first) > len(left):
            lines.append(indent + plain(name))
            first = left
        lines.append(
            textwrap.fill(
                plain(text), WIDTH, initial_indent=first, subsequent_indent=left, break_on_hyphens=False
            )
        )
    return "".join(f"{line}\n" for line in lines)

"""The names of a part file: what the one at a place is, and which may come next."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.editor.opened import Opened
from wirecheck.language.begun import Begun
from wirecheck.language.listing import listed
from wirecheck.language.mentions import mentioned
from wirecheck.language.part_mentions import Kind, PartMention, part_mentions
from wirecheck.language.reader import on_one_line
from wirecheck.language.syntax import PartTitle

MOST_LINES = 12
"""The most lines that are told to use a name."""

_AFTER: dict[str, tuple[Kind, ...]] = {
    "from": ("terminal",),
    "to": ("terminal",),
    "into": ("rating",),
    "--": ("terminal",),
    "call": ("call",),
    "at": ("rating",),
    "after": ("rating",),
    "rated": ("rating",),
    ",": ("rating",),
    **dict.fromkeys(("when", "and", "or", "not"), ("position", "state", "load", "device", "terminal")),
}
"""Which names may come behind a word; at the beginning of a line, what joins and moves."""
_BEGIN: tuple[Kind, ...] = ("terminal", "state", "device")


def names_of_part(now: Opened) -> tuple[PartMention, ...]:
    """The mentions of a part's own things; none where the text is no part."""
    first = now.syntax.statements[0] if now.syntax.statements else None
    return part_mentions(now.syntax) if isinstance(first, PartTitle) else ()


def uses_in_part(now: Opened, line: int, column: int) -> tuple[PartMention, ...]:
    """Every place of a part file that speaks of the thing at a place."""
    found = names_of_part(now)
    at = mentioned(found, line, column)
    return tuple(one for one in found if at is not None and (one.name, one.kind) == (at.name, at.kind))


def told_in_part(now: Opened, line: int, column: int) -> list[str]:
    """The line that makes the thing at a place, and the lines that use it.

    Examples
    --------
    >>> from wirecheck.assembly import shipped_parts
    >>> from wirecheck.editor.opened import opened
    >>> text = 'part link "A link"\\nterminal a contact\\nterminal b contact\\na -- b'
    >>> told_in_part(opened(text, "-", shipped_parts()), 4, 1)
    ['terminal a contact', 'Used on line 4']
    """
    found = uses_in_part(now, line, column)
    rows = [
        on_one_line(now.syntax.text, statement.span)
        for one in found
        if one.makes
        for statement in now.syntax.statements
        if statement.span.line <= one.span.line <= statement.span.end_line
    ]
    lines = dict.fromkeys(str(one.span.line) for one in found if not one.makes)
    if found:
        several = "s" if len(lines) > 1 else ""
        rows.append(f"Used on line{several} {listed(lines, MOST_LINES)}" if lines else "Not used")
    return rows


def offered_in_part(now: Opened, here: Begun) -> Iterator[tuple[str, Kind]]:
    """The names that may come next in a part file, each with its kind."""
    kinds = _AFTER.get(here.last, ()) if here.words else _BEGIN
    made = [one for one in names_of_part(now) if one.makes]
    for kind in kinds:
        yield from ((one.name, kind) for one in made if one.kind == kind)

"""The outline of a text, and the stretches of it that can be folded away."""

from __future__ import annotations

from typing import Literal, NamedTuple

from wirecheck.editor.opened import Opened
from wirecheck.language import syntax
from wirecheck.language.reader import on_one_line
from wirecheck.language.syntax import Span, Statement, Word

Role = Literal[
    "title", "place", "supply", "run", "device", "joining", "expected", "terminal", "load", "other"
]
LONGEST = 80
"""The most letters of a line's own words that the outline shows."""

_ROLES: dict[type, Role] = {
    syntax.PanelStatement: "place",
    syntax.BoxStatement: "place",
    syntax.BreakerStatement: "supply",
    syntax.ConnectorStatement: "other",
    syntax.CableStatement: "run",
    syntax.WireStatement: "run",
    syntax.RacewayStatement: "run",
    syntax.DeviceStatement: "device",
    syntax.TerminalStatement: "terminal",
    syntax.LoadStatement: "load",
    syntax.OutletStatement: "load",
    syntax.RatingStatement: "other",
    syntax.StateStatement: "other",
    syntax.StageStatement: "other",
}
_TITLES = (syntax.BoardTitle, syntax.ExerciseTitle, syntax.PartTitle)
_EXPECTED = (
    syntax.ExpectFrom,
    syntax.ExpectLive,
    syntax.ExpectRuns,
    syntax.ExpectStops,
    syntax.ExpectStarts,
    syntax.ExpectEnd,
)


class Entry(NamedTuple):
    """A line of the outline: `span` is all that belongs to it, `at` what is shown when it is chosen."""

    name: str
    detail: str
    role: Role
    span: Span
    at: Span
    inside: tuple[Entry, ...] = ()


class Fold(NamedTuple):
    """Rows that can be folded away under the first of them."""

    first: int
    last: int
    comment: bool = False


def outline(now: Opened) -> tuple[Entry, ...]:
    """The things that a text makes, each place with what is joined there, and what is expected.

    >>> from wirecheck.assembly import shipped_parts
    >>> from wirecheck.editor.opened import opened
    >>> text = 'board "Shed"\\npanel LP 120 V\\nat LP\\n  LP.ground -- LP.neutral'
    >>> shed = opened(text, "-", shipped_parts())
    >>> [(one.name, one.role, len(one.inside)) for one in outline(shed)]
    [('Shed', 'title', 0), ('LP', 'place', 0), ('at LP', 'joining', 1)]
    """
    found: list[Entry] = []
    place: tuple[syntax.AtStatement, list[Entry]] | None = None
    lines = now.syntax.text.split("\n")
    for statement in now.syntax.statements:
        if isinstance(statement, syntax.AtStatement):
            _close(found, place)
            place = (statement, [])
            continue
        joining = isinstance(statement, syntax.JoinStatement | syntax.CapStatement)
        entry = _entry(statement, lines)
        if entry is not None and joining and place is not None:
            place[1].append(entry)
        elif entry is not None:
            if not joining:
                _close(found, place)
                place = None
            found.append(entry)
    _close(found, place)
    return tuple(found)


def folds(now: Opened) -> tuple[Fold, ...]:
    """Each place with its joins, each statement of several rows, each comment of several rows."""
    found = [
        Fold(one.span.line, one.span.end_line)
        for one in outline(now)
        if one.role == "joining" and one.span.end_line > one.span.line
    ]
    found += [
        Fold(one.span.line, one.span.end_line)
        for one in now.syntax.statements
        if one.span.end_line > one.span.line
    ]
    first = 0
    for number, row in enumerate([*now.rows, ""], 1):
        comment = row.strip()[:1] == "#"
        if comment and not first:
            first = number
        elif not comment and first:
            if number - 1 > first:
                found.append(Fold(first, number - 1, comment=True))
            first = 0
    return tuple(sorted(set(found)))


def _close(found: list[Entry], place: tuple[syntax.AtStatement, list[Entry]] | None) -> None:
    if place is not None:
        at, joins = place
        end = joins[-1].span if joins else at.span
        span = Span(at.span.line, at.span.column, end.end_line, end.end_column)
        found.append(Entry(f"at {at.place.text}", "", "joining", span, at.span, tuple(joins)))


def _entry(statement: Statement, lines: list[str]) -> Entry | None:
    if isinstance(statement, _TITLES):
        name = statement.title.text or "(no title)"
        return Entry(name, "", "title", statement.span, statement.title.span)
    first, last = statement.span.line, statement.span.end_line
    rows = "\n".join(lines[first - 1 : last])
    words = on_one_line(rows, statement.span._replace(line=1, end_line=last - first + 1))
    if isinstance(statement, syntax.JoinStatement | syntax.CapStatement):
        return Entry(_short(words), "", "other", statement.span, statement.span)
    if isinstance(statement, _EXPECTED):
        return Entry(_short(words), "", "expected", statement.span, statement.span)
    role = _ROLES.get(type(statement))
    named = getattr(statement, "name", None)
    if role is None or not isinstance(named, Word):
        return None
    return Entry(named.text, _short(words), role, statement.span, named.span)


def _short(words: str) -> str:
    return words if len(words) <= LONGEST else words[: LONGEST - 3] + "..."

"""Boards taken back to an earlier stage of the work, as a hand would have left them then."""

from __future__ import annotations

from wirecheck.language.reader import read
from wirecheck.language.syntax import (
    CableStatement,
    DeviceStatement,
    ExpectEnd,
    ExpectFrom,
    ExpectLive,
    ExpectRuns,
    ExpectStarts,
    ExpectStops,
    JoinEnd,
    JoinStatement,
    PanelStatement,
    RacewayStatement,
    Statement,
    WireStatement,
    Word,
)

EXPECTATIONS = (ExpectFrom, ExpectLive, ExpectRuns, ExpectStops, ExpectStarts, ExpectEnd)


def roughed_in(text: str, declared: bool = True, landed: bool = True) -> str:
    """The board with its boxes, cables and splices, and no device joined.

    Tails that wait for a device hang out of their splice. Without `declared`,
    devices are not there at all, but for those that a run ends at. Without
    `landed`, nothing is on a breaker or a bar yet either.
    """
    statements = read(text).statements
    devices = {one.name.text for one in statements if isinstance(one, DeviceStatement)}
    panels = {one.text for one in _panels(statements)}
    places = {
        end.place.text
        for one in statements
        if isinstance(one, (CableStatement, WireStatement, RacewayStatement))
        for end in one.ends
    }
    absent = devices if landed else devices | panels
    told = []
    for statement in statements:
        match statement:
            case _ if isinstance(statement, EXPECTATIONS):
                continue
            case DeviceStatement(name=name) if not declared and name.text not in places:
                continue
            case JoinStatement(ends=ends):
                left = _without(ends, absent)
                if sum(end != "pigtail" for end in left) and len(left) > 1:
                    told.append("  " + " -- ".join(left))
            case _:
                told.append(_source(text, statement))
    return "\n".join(told) + "\n"


def trimmed(text: str) -> str:
    """The board with everything joined, and not a word about what it shall do."""
    statements = read(text).statements
    return "\n".join(_source(text, one) for one in statements if not isinstance(one, EXPECTATIONS)) + "\n"


def _panels(statements: tuple[Statement, ...]) -> list[Word]:
    return [one.name for one in statements if isinstance(one, PanelStatement)]


def _without(ends: tuple[JoinEnd, ...], absent: set[str]) -> list[str]:
    kept = []
    for end in ends:
        if end.name is None:
            kept.append("pigtail")
            continue
        owner, dot, _ = end.name.text.partition(".")
        if dot and owner in absent:
            continue
        kept.append(end.name.text + (f" marked {end.marked.text}" if end.marked else ""))
    return kept


def _source(text: str, statement: Statement) -> str:
    lines = text.splitlines()
    span = statement.span
    return "\n".join(lines[span.line - 1 : span.end_line])

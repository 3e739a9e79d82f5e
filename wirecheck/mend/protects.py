"""A breaker as one with ground-fault or arc-fault protection, the white of its circuit on its own screw."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.language.syntax import BreakerStatement, JoinStatement, Span
from wirecheck.mend.edits import Change, Protect
from wirecheck.mend.sheet import Sheet, as_join, names
from wirecheck.mend.values import changed_at
from wirecheck.model.board import Board, Breaker
from wirecheck.parts.part import WATCHERS

# What is bought: each alone, and both in one breaker.
KINDS = (("gfci",), ("afci",), ("gfci", "afci"))
NO_SCREW = "no-neutral"


def protects(breaker: Breaker, board: Board, sheet: Sheet) -> Iterator[Protect]:
    """A breaker with each kind of protection that it lacks."""
    number, said = next(
        (
            (number, line.statement)
            for number, line in enumerate(sheet.lines)
            if isinstance(line.statement, BreakerStatement) and line.statement.name.text == breaker.name
        ),
        (0, None),
    )
    if said is None or sheet.lines[number].written is not None:
        return
    bare = breaker.flags.isdisjoint(WATCHERS)
    whites = _whites(breaker, board) if bare and NO_SCREW not in breaker.flags else ()
    joins = _on_its_screw(breaker, whites, sheet)
    if joins is None:
        return
    for kinds in KINDS:
        lacks = tuple(kind for kind in kinds if kind not in breaker.flags)
        if lacks == kinds:
            last = said.rating.span
            after = Span(last.end_line, last.end_column, last.end_line, last.end_column)
            line = changed_at(number, breaker.name, "kind", after, f" {' '.join(lacks)}", sheet)
            yield Protect(breaker.name, breaker.panel, lacks, (line, *joins), whites)


def _whites(breaker: Breaker, board: Board) -> tuple[str, ...]:
    """The neutrals on the panel's bar that come with the cables whose hots are on the breaker."""
    poles = {terminal for terminal, _ in breaker.poles}
    bar = f"{breaker.panel}.neutral"
    with_hots: set[str] = set()
    on_bar: list[str] = []
    for join in board.joins:
        there = {member.name for member in join.members}
        wires = [member.name for member in join.members if member.kind == "end"]
        if there & poles:
            with_hots.update(board.conductors[name].run for name in wires)
        elif bar in there:
            on_bar += wires
    return tuple(name for name in on_bar if board.conductors[name].run in with_hots)


def _on_its_screw(breaker: Breaker, whites: tuple[str, ...], sheet: Sheet) -> tuple[Change, ...] | None:
    """The joins of its whites with its own screw in the place of the bar; None where one cannot be so."""
    bar, own = f"{breaker.panel}.neutral", f"{breaker.name}.neutral"
    changes = []
    for number, line in enumerate(sheet.lines):
        said = line.statement
        if not isinstance(said, JoinStatement):
            continue
        members = names(said)
        listed = {name for name, _ in members}
        if bar in listed and listed & set(whites):
            if line.written is not None or not listed <= {bar, *whites}:
                return None
            moved = tuple((own if name == bar else name, mark) for name, mark in members)
            changes.append(Change(number, breaker.name, "join", "", "", as_join(moved)))
    return tuple(changes)

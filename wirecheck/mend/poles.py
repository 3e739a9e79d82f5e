"""Two breakers of one pole as one of two poles, for what both of them feed."""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterator, Mapping, Sequence

from wirecheck.language.syntax import BreakerStatement, JoinStatement, Span
from wirecheck.mend.edits import Change, TwoPole
from wirecheck.mend.sheet import Sheet, as_join, how, names
from wirecheck.mend.values import changed_at
from wirecheck.model.board import Board, Breaker
from wirecheck.parts.part import WATCHERS


def two_poles(
    breakers: Sequence[Breaker], lacking: Collection[str], board: Board, sheet: Sheet
) -> Iterator[TwoPole]:
    """One breaker of two poles, in the place of each two of some that have one pole and the same rating.

    Parameters
    ----------
    breakers : those that a problem is about
    lacking : the names of those past which something goes without the ground-fault protection that it needs

    Where nothing guards, and nothing should, a tie on the two does.
    """
    # The one in the lower space first: its wire stays where it is.
    in_order, lines = sorted(breakers, key=lambda breaker: breaker.spaces), breaker_lines(sheet)
    for one, other in itertools.permutations(in_order, 2):
        legs = board.panels[one.panel].legs
        alone = len(one.poles) == len(other.poles) == 1 and not one.tied and not other.tied
        if not alone or len(legs) != 2 or (one.panel, one.amps) != (other.panel, other.amps):
            continue
        if one.name not in lines or other.name not in lines:
            continue
        (number, said), (gone, _) = lines[one.name], lines[other.name]
        if sheet.lines[number].written is not None or said.leg is not None:
            continue
        joins = joins_with(
            {
                one.name: f"{one.name}.a",
                other.name: f"{one.name}.b",
                f"{other.name}.neutral": f"{one.name}.neutral",
            },
            one.name,
            sheet,
        )
        guarded = not (one.flags | other.flags).isdisjoint(WATCHERS)
        if joins is not None and (guarded or {one.name, other.name} & set(lacking)):
            kinds = () if guarded else ("gfci",)
            rating = said.rating.span
            after = Span(rating.end_line, rating.end_column, rating.end_line, rating.end_column)
            words = " ".join(("", "2-pole", *kinds))
            change = changed_at(number, one.name, "poles", after, words, sheet)
            yield TwoPole(one.name, other.name, one.panel, said.rating.text, kinds, (change, *joins), gone)


def breaker_lines(sheet: Sheet) -> dict[str, tuple[int, BreakerStatement]]:
    """The lines that declare a breaker, by its name, as the text has them."""
    return {
        line.statement.name.text: (number, line.statement)
        for number, line in enumerate(sheet.lines)
        if isinstance(line.statement, BreakerStatement)
    }


def joins_with(now: Mapping[str, str], breaker: str, sheet: Sheet) -> tuple[Change, ...] | None:
    """The joins of a breaker with other names for its screws; None where one is changed already."""
    changes = []
    for number, line in enumerate(sheet.lines):
        said = line.statement
        if isinstance(said, JoinStatement) and any(name in now for name, _ in names(said)):
            if line.written is not None:
                return None
            members = tuple((now.get(name or "", name), mark) for name, mark in names(said))
            changes.append(Change(number, breaker, "join", "", "", as_join(members, how(said))))
    return tuple(changes)

"""A wire is too large, too small or of the wrong metal for its screw.

A screw does not hold what it is not made for: a thin wire slips out, a thick one stands beside the
clamp, and aluminum under a copper screw creeps, oxidizes and burns.

Source: NEC 110.14, 110.3(B), 404.14(D)(1), 406.3(D)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.holder import holder
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.size_words import gauge
from wirecheck.language.listing import listed
from wirecheck.model.board import Box, Breaker, Conductor, Device, Join, Panel, Terminal
from wirecheck.tables.published import NotInTable
from wirecheck.tables.sizes import size_at_least

# How many wires one message names.
MOST_NAMED = 6


class Misfit(Problem):
    """A wire of a size that its screw is not made for; `sizes` are the smallest and largest that it takes.

    `conductor` is None for a pigtail.
    """

    conductor: Conductor | None
    size: str
    terminal: Terminal
    sizes: tuple[str, str]


class TooThin(Misfit):
    """It is thinner than the smallest."""


class TooThick(Misfit):
    """It is thicker than the largest."""


class WrongMetal(Problem):
    """Aluminum of one run on the copper-only screws of one thing, each wire with its join."""

    on: Device | Breaker | Panel | Box
    wires: tuple[tuple[Conductor, Join], ...]


def find(case: Case) -> Iterator[Misfit | WrongMetal]:
    """Each wire under a screw; those of one aluminum cable on one device are one mistake."""
    board = case.board
    aluminum: dict[tuple[str, str], list[tuple[Conductor, Terminal, Join]]] = {}
    for join in board.joins:
        for name, members in join.under.items():
            terminal = board.terminals[name]
            for member in members:
                if member.kind != "end":
                    if member.size is not None:
                        yield from _misfit(case, None, member.size, terminal, join)
                    continue
                conductor = board.conductors[member.name]
                if conductor.material == "aluminum" and "copper" in terminal.spec.flags:
                    under = aluminum.setdefault((conductor.run, terminal.owner), [])
                    under.append((conductor, terminal, join))
                else:
                    yield from _misfit(case, conductor, conductor.size, terminal, join)
    for wires in aluminum.values():
        _, terminal, join = wires[0]
        on = holder(case, terminal)
        yield WrongMetal(
            at=spot(join),
            about=on,
            severity="hazard",
            stage="trim",
            copper=frozenset(case.uses.piece[screw.name] for _, screw, _ in wires),
            on=on,
            wires=tuple((conductor, there) for conductor, _, there in wires),
        )


def _misfit(
    case: Case, conductor: Conductor | None, size: str, terminal: Terminal, join: Join
) -> Iterator[Misfit]:
    sizes = terminal.spec.sizes
    if sizes is None:
        return
    try:
        thin = not size_at_least(size, sizes[0])
        thick = not size_at_least(sizes[1], size)
    except NotInTable:
        # A part of the user's own may write what is no size.
        return
    if thin or thick:
        yield (TooThin if thin else TooThick)(
            at=spot(join),
            about=terminal,
            severity="violation",
            stage="trim",
            copper=frozenset((case.uses.piece[terminal.name],)),
            conductor=conductor,
            size=size,
            terminal=terminal,
            sizes=sizes,
        )


def words(problem: Misfit | WrongMetal, case: Case) -> Words:
    """What is under the screw, what it is made for, and what would do."""
    if isinstance(problem, WrongMetal):
        names = [conductor.name for conductor, _ in problem.wires]
        return Words(
            message=f"{listed(names, MOST_NAMED)} {'are' if len(names) > 1 else 'is'} aluminum, and the "
            f"screws of {problem.on.name} are made for copper only. Aluminum creeps and oxidizes under them, "
            "until the joint glows.",
            help=f"Use a device marked CO/ALR, or copper wire in place of {problem.wires[0][0].run}. Splice "
            "copper and aluminum only with connectors listed for both.",
            source=case.code.section("connections of wires", "aluminum on switches and receptacles"),
            also=tuple(Note(f"{wire.name} too", join.span) for wire, join in problem.wires[1:4]),
        )
    thick = isinstance(problem, TooThick)
    smallest, largest = problem.sizes
    tail = problem.conductor is None
    what = f"The pigtail to {problem.terminal.name}" if problem.conductor is None else problem.conductor.name
    return Words(
        message=f"{what} is {gauge(problem.size)}, and {problem.terminal.name} "
        f"takes {gauge(smallest)} to {gauge(largest)}. It is too "
        f"{'thick to go under it' if thick else 'thin to be held by it'}.",
        help="Splice it to a pigtail of a size that the screw takes, if the breaker allows that size, or use "
        "a device made for this size."
        if thick and not tail
        else f"Make the pigtail of {gauge(largest)}, if the breaker allows that size, or use a device made "
        "for this size."
        if thick
        else "Use wire of the size that the circuit needs.",
        source=case.code.section("connections of wires", "equipment as its instructions say"),
    )


RULE = rule(__name__, "trim", severities=("hazard", "violation"), find=find, words=words)

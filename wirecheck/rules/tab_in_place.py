"""Two hots come to a receptacle whose tab still joins its halves.

With the tab in place both hots are one wire: the switch does nothing, or two legs of the panel
meet in a dead short.

Source: NEC 210.4(B), 210.7; common practice for half-switched receptacles
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Leg
from wirecheck.judge.case import Case
from wirecheck.judge.feeds import Feed, fed_twice
from wirecheck.judge.finding import Note
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.model.board import Terminal


class TabInPlace(Problem):
    """`terminal` is the screw with the tab, `feeds` the hots that come to it, `legs` what feeds those."""

    terminal: Terminal
    feeds: tuple[Feed, ...]
    legs: frozenset[Leg]


def find(case: Case) -> Iterator[TabInPlace]:
    """Each such screw, at the line that brings the second hot."""
    for screw, feeds in fed_twice(case).items():
        terminal = case.board.terminals[screw]
        legs = frozenset(feed.leg for feed in feeds)
        yield TabInPlace(
            at=spot(feeds[1].join),
            about=case.board.devices[terminal.owner],
            severity="hazard" if len(legs) > 1 else "fault",
            stage="trim",
            copper=frozenset((case.uses.piece[screw],)),
            terminal=terminal,
            feeds=feeds,
            legs=legs,
        )


def words(problem: TabInPlace, case: Case) -> Words:
    """Which two hots, what they do together, and the tab that has to go."""
    device = problem.terminal.owner
    remedy = (
        f"Break off the tab on the hot side of {device}, so that each half has a hot "
        f"of its own, and write {device} as a receptacle with split halves."
    )
    if len(problem.legs) > 1:
        effect = "two legs of the panel meet there in a dead short"
        source = case.code.section(
            "multiwire circuit opens all its hots together", "circuits on one yoke open together"
        )
        remedy += " One handle must turn both hots off."
    else:
        effect = "both halves stay on, and the switch does nothing"
        source = "common practice"
    return Words(
        message=f"{listed(feed.wire.name for feed in problem.feeds)} each bring a hot to "
        f"{problem.terminal.name}, and {device} still has the tab that joins its two halves: {effect}.",
        help=remedy,
        source=source,
        also=tuple(
            Note("the other hot", span)
            for span in dict.fromkeys(feed.join.span for feed in problem.feeds)
            if span != problem.at.span
        ),
    )


RULE = rule(__name__, "trim", severities=("hazard", "fault"), find=find, words=words)

"""Aluminum and copper touch in a splice or under one screw that is not made for both.

Where the two metals touch, moisture eats the aluminum away. The joint loosens and heats, until it
glows in its box. A connector that is listed for both keeps air and water out of the joint; a lead of
a light or a fan is copper, and so is a tail to a screw for copper only.

Source: NEC 110.14
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.finding import Stage
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.model.board import Conductor, Join, Member, Terminal

# How many wires of one metal a message names.
MOST_NAMED = 4


class MixedMetals(Problem):
    """Aluminum that touches copper in one join.

    `copper_wires` are the wires of copper there; `leads` the leads of devices, and the screws for
    copper only that a tail leads to; `under` is the screw of a bar that they share, None in a splice.
    """

    join: Join
    aluminum: tuple[Conductor, ...]
    copper_wires: tuple[Conductor, ...]
    leads: tuple[Terminal, ...]
    under: Terminal | None


def find(case: Case) -> Iterator[MixedMetals]:
    """Each splice of both metals, and each screw of a bar that one line puts both under."""
    for join in case.board.joins:
        if join.connector is None or not join.connector.metals:
            leads = tuple(_leads(case, join))
            ends = join.splice if not leads else join.members
            yield from _mixed(case, join, ends, leads, None)
        for name, members in join.under.items():
            terminal = case.board.terminals[name]
            if "bar" in terminal.spec.flags:
                yield from _mixed(case, join, members, (), terminal)


def _leads(case: Case, join: Join) -> Iterator[Terminal]:
    """What else of a join is copper: leads that are spliced in it, and tails to screws for copper only."""
    for name, members in join.under.items():
        terminal = case.board.terminals[name]
        tail = any(member.kind == "pigtail" for member in members)
        if "lead" in terminal.spec.flags or (tail and "copper" in terminal.spec.flags):
            yield terminal


def _mixed(
    case: Case, join: Join, ends: tuple[Member, ...], leads: tuple[Terminal, ...], under: Terminal | None
) -> Iterator[MixedMetals]:
    wires = [case.board.conductors[member.name] for member in ends if member.kind == "end"]
    aluminum = tuple(wire for wire in wires if wire.material == "aluminum")
    copper = tuple(wire for wire in wires if wire.material == "copper")
    if aluminum and (copper or leads):
        stage: Stage = "trim" if leads else "rough-in"
        yield MixedMetals(
            at=spot(join),
            about=aluminum[0],
            severity="hazard",
            stage=stage,
            copper=frozenset(case.uses.piece[member.point] for member in ends if member.kind == "end"),
            join=join,
            aluminum=aluminum,
            copper_wires=copper,
            leads=leads,
            under=under,
        )


def words(problem: MixedMetals, case: Case) -> Words:
    """Which is aluminum, which is copper, and the connector that takes both."""
    names = [one.name for one in problem.aluminum]
    coppers = [one.name for one in problem.copper_wires]
    coppers += (
        f"the lead {one.name}" if "lead" in one.spec.flags else f"the tail to {one.name}"
        for one in problem.leads
    )
    place = problem.join.place
    where = f"under one screw of {problem.under.name}" if problem.under else f"in one splice in {place}"
    return Words(
        message=f"{listed(names, MOST_NAMED)} {'are' if len(names) > 1 else 'is'} aluminum and "
        f"{listed(coppers, MOST_NAMED)} {'are' if len(coppers) > 1 else 'is'} copper, and they are {where}. "
        "Where the two metals touch, the joint corrodes, loosens and heats until it glows.",
        help=f"Give each a screw of its own on the bar, one line for each: {names[0]} -- {problem.under.name}"
        if problem.under
        else "Use a connector that is listed for aluminum and copper together, marked AL-CU, and tighten "
        "it as its maker says. Write it at the end of the line: , connector AL-CU",
        source=case.code.section("connections of wires"),
    )


RULE = rule(__name__, "rough-in", "trim", severities=("hazard",), find=find, words=words)

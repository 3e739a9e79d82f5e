"""A ground screw, a bare wire or a metal box has voltage on it.

Everything that is tied to it, from the box to the faceplate's screws and the case of what is
plugged in, can then shock whoever touches it.

Source: NEC 250.4(A)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.settle import Settled
from wirecheck.judge import blame, made_up, ways
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.grouped import grouped
from wirecheck.judge.problem import Problem, Spot, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.ways import Way
from wirecheck.language.quantity import volts
from wirecheck.language.syntax import Span
from wirecheck.model.board import Terminal

# How many more live screws are pointed at.
MOST_NOTED = 3


class LiveMetal(Problem):
    """Ground screws that stand at `volts` to earth in a state, and the copper that brings it there.

    `way` is None where it comes through a load.
    """

    terminals: tuple[Terminal, ...]
    volts: float
    settled: Settled
    way: Way | None


def find(case: Case) -> Iterator[LiveMetal]:
    """Each join that makes metal live, in the first state in which it does."""
    limit = case.code.limit("touch voltage")
    told: dict[Span, tuple[Spot, tuple[Terminal, ...], Settled, Way | None]] = {}
    copper: dict[Span, set[int]] = {}
    for settled in case.states:
        for terminals in _live(case, settled, limit):
            at, way = _blamed(case, settled, terminals[0])
            told.setdefault(at.span, (at, terminals, settled, way))
            copper.setdefault(at.span, set()).update(case.uses.piece[one.name] for one in terminals)
    for span, (at, terminals, settled, way) in told.items():
        first = terminals[0]
        yield LiveMetal(
            at=at,
            about=first,
            severity="hazard",
            stage="trim",
            copper=frozenset(copper[span]),
            terminals=terminals,
            volts=abs(settled.volts[case.circuit.node[first.name]]),
            settled=settled,
            way=way,
        )


def _live(case: Case, settled: Settled, limit: float) -> Iterator[tuple[Terminal, ...]]:
    """The ground screws that stand above the touch voltage, those of one node together."""
    nodes = case.circuit.node
    by_node = grouped(
        (node, terminal)
        for terminal in case.board.terminals.values()
        if terminal.spec.role == "ground"
        and (node := nodes[terminal.name]) not in settled.floating
        and abs(settled.volts[node]) > limit
    )
    yield from by_node.values()


def _blamed(case: Case, settled: Settled, live: Terminal) -> tuple[Spot, Way | None]:
    """The join that makes a screw live, and the copper from a leg to it, if it comes through no load."""
    way = ways.way(case, (leg.point for leg in case.circuit.legs), [live.name], ways.conducting(settled))
    if way is not None:
        join = blame.at_fault(way.joins, case.board)
    else:
        join = next(blame.neutral_meets_ground(case, case.uses.piece[live.name]), None)
    return made_up.at_screw(case, live) if join is None else spot(join), way


def words(problem: LiveMetal, case: Case) -> Words:
    """How many volts stand on what, by which way they come, and what to take apart."""
    first, limit = problem.terminals[0], case.code.limit("touch voltage")
    if problem.way is None:
        why = (
            "The voltage comes through something that runs: its way back to the panel is open, and it is "
            "joined to this metal. Turn off the breaker. Take the neutral off the ground, bring it back to "
            "the neutral bar through whites alone, "
        )
    else:
        why = (
            f"The voltage comes by this way: {ways.named(problem.way, case)}. Turn off the breaker. Take the "
            "hot off the ground, "
        )
    return Words(
        message=f"{first.name} is at {volts(problem.volts, beside=limit)} to ground"
        f"{case.when(problem.settled, first.name)}: whoever touches metal joined to it can be killed.",
        help=f"{why}and join every ground to the panel's ground bar.",
        source=case.code.section("metal is kept at earth"),
        value=problem.volts,
        limit=limit,
        unit="V",
        also=tuple(
            Note(f"{other.name} too", made_up.at_screw(case, other).span)
            for other in problem.terminals[1 : 1 + MOST_NOTED]
        ),
    )


RULE = rule(__name__, "trim", severities=("hazard",), find=find, words=words)

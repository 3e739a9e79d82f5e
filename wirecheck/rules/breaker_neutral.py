"""The white of a circuit on a ground- or arc-fault breaker does not come back to that breaker.

Such a breaker compares what goes out on its hot with what comes back on its own neutral screw. Where
the white is on the bar instead, or on another breaker's screw, nothing comes back, and it trips as soon
as anything is used. Some arc-fault breakers watch the hot alone and have no such screw: the line of
such a breaker says `no-neutral`, and its white is on the bar.

Source: NEC 110.3(B), the breakers' own instructions; UL 943, UL 1699
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge import purpose
from wirecheck.judge.case import Case
from wirecheck.judge.made_up import joins
from wirecheck.judge.multiwire import Returning, returning
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.model.board import Breaker, Conductor, Join, Terminal


class MisplacedNeutral(Problem):
    """A neutral of a breaker's circuit that is not on the breaker's `own` screw, nor on a bar without one.

    `others` are the other breakers whose current it brings back.
    """

    breaker: Breaker
    conductor: Conductor
    screw: Terminal
    own: Terminal | None
    others: tuple[Breaker, ...]


class NeutralOnBar(MisplacedNeutral):
    """It is on the neutral bar."""


class NeutralOnAnother(MisplacedNeutral):
    """It is on the screw of another breaker."""


def find(case: Case) -> Iterator[MisplacedNeutral]:
    """Each breaker and each neutral of its circuit that comes to its panel."""
    own = {
        terminal.owner: terminal
        for terminal in case.board.terminals.values()
        if terminal.spec.role == "neutral"
    }
    for one in returning(case):
        landing = _landing(case, one.conductor)
        if landing is None:
            continue
        join, screw = landing
        breakers = _breakers(case, one)
        for breaker in breakers:
            foreign = screw.owner in case.board.breakers
            if screw.owner == breaker.name or (not foreign and breaker.name not in own):
                continue
            yield (NeutralOnAnother if foreign else NeutralOnBar)(
                at=spot(join),
                about=breaker,
                severity="fault",
                stage="trim",
                copper=frozenset((case.uses.piece[one.conductor.ends[0]],)),
                breaker=breaker,
                conductor=one.conductor,
                screw=screw,
                own=own.get(breaker.name),
                others=tuple(other for other in breakers if other is not breaker),
            )


def _breakers(case: Case, one: Returning) -> tuple[Breaker, ...]:
    names = dict.fromkeys(zone.protection.name for zone in one.zones)
    return tuple(case.board.breakers[name] for name in names if name in case.board.breakers)


def _landing(case: Case, conductor: Conductor) -> tuple[Join, Terminal] | None:
    """The neutral screw of a breaker or a bar that a conductor comes to, and the join that puts it there."""
    board = case.board
    for end in conductor.ends:
        for join, _ in joins(case).get(end, ()):
            for name in join.under:
                terminal = board.terminals[name]
                at_panel = terminal.owner in board.breakers or terminal.owner in board.panels
                if at_panel and terminal.spec.role == "neutral":
                    return join, terminal
    return None


def _marked_hot(problem: MisplacedNeutral, case: Case) -> bool:
    """Whether the wire says at the panel that it is no neutral, on a breaker of two poles."""
    landing = _landing(case, problem.conductor)
    marked = landing is not None and any(
        purpose.of_member(member, case.board) == "hot"
        for member in landing[0].members
        if member.name == problem.conductor.name
    )
    return marked and len(problem.breaker.poles) > 1


def words(problem: MisplacedNeutral, case: Case) -> Words:
    """Where the neutral is, what the breakers then do, and where it belongs."""
    wire, breaker = problem.conductor.name, problem.breaker.name
    on = problem.screw.owner
    if _marked_hot(problem, case):
        message = (
            f"{wire} is marked as a hot of {breaker}, and is on the neutral: what needs 240 V gets 120 V. "
            f"{breaker} misses that current on its other pole, and trips."
        )
    elif isinstance(problem, NeutralOnAnother):
        message = (
            f"{wire} is the neutral of circuit {breaker}, and it is on the neutral screw of {on}. {on} then "
            "gets back a current that it did not send out, and trips."
        )
    else:
        message = (
            f"{wire} is the neutral of circuit {breaker}, and it is on the neutral bar. {breaker} watches "
            "what comes back on its own neutral screw. This current misses it, so it trips as soon as "
            "something runs."
        )
    if problem.others:
        others = listed(other.name for other in problem.others)
        remedy = (
            f"{wire} is the neutral of {others} too, and one white cannot be on two breakers. Give each "
            "circuit a neutral of its own, all the way back to its own breaker."
        )
    elif problem.own is None:
        remedy = f"Move {wire} to the neutral bar."
    else:
        remedy = f"Turn the main breaker off; its line lugs stay live. Move {wire} to {problem.own.name}."
        if "gfci" not in problem.breaker.flags:
            remedy += (
                f" Leave it on the bar only if {breaker} has no neutral screw, as its instructions show. "
                f"Then say so on its line: breaker {breaker} ... no-neutral."
            )
    return Words(
        message=message,
        help=remedy,
        source=case.code.section("equipment as its instructions say") + "; UL 943, UL 1699",
    )


RULE = rule(__name__, "trim", severities=("fault",), find=find, words=words)

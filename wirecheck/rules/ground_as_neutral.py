"""Current comes back on a grounding conductor.

The bare wire is there for a fault, not for work: while it carries current, every box and faceplate
tied to it is part of the circuit, and where it opens, the metal beyond stands at line voltage.

Source: NEC 250.6(A), 250.24, 250.142(B), 408.40
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Wire
from wirecheck.circuit.settle import Settled
from wirecheck.judge import blame, made_up, purpose
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.grounds import to_electrodes
from wirecheck.judge.grouped import grouped
from wirecheck.judge.old_work import bare_neutrals, metal_on_neutral
from wirecheck.judge.problem import Problem, Spot, Words, spot
from wirecheck.judge.purpose import Purpose
from wirecheck.judge.rule import rule
from wirecheck.language.quantity import amps
from wirecheck.language.syntax import Span
from wirecheck.model.board import Conductor, Join, Terminal

# Amperes on a grounding conductor that no meter's error or lamp's leakage explains (common practice).
STRAY_AMPS = 0.01
# How many more screws and wires on one neutral are pointed at.
MOST_NOTED = 3


class CurrentOnGround(Problem):
    """A grounding conductor carries `amps` in a state in which nothing has opened."""

    conductor: Conductor
    amps: float
    settled: Settled


class NeutralJoinedToGround(Problem):
    """One join holds a neutral and a ground: what runs beyond it sends its current over metal."""

    terminal: Terminal
    join: Join


class NeutralOnGround(Problem):
    """A neutral screw comes back to a ground bar with no such join on its copper.

    `neutral_too` says that it comes back to a neutral bar besides.
    """

    terminal: Terminal
    neutral_too: bool


class GroundOnNeutral(Problem):
    """Ground screws and grounding conductors come back to the neutral bar alone."""

    found: tuple[Terminal | Conductor, ...]


class GroundAtNeutralBar(Problem):
    """A grounding conductor is under a neutral bar, and by other grounds comes to a ground bar too."""

    conductor: Conductor
    bar: Terminal


Kind = CurrentOnGround | NeutralJoinedToGround | NeutralOnGround | GroundOnNeutral | GroundAtNeutralBar


def find(case: Case) -> Iterator[Kind]:
    """Current that flows on a ground, neutrals that would send it there, and grounds on a neutral."""
    yield from _carrying(case)
    yield from _ending_on_ground(case)
    yield from _standing_on_neutral(case)
    yield from _on_both_bars(case)


def _carrying(case: Case) -> Iterator[CurrentOnGround]:
    told: set[Span] = set()
    for settled in case.states:
        if settled.opened:
            continue
        together: dict[int, list[Wire]] = {}
        for wire in case.circuit.wires:
            stray = _is_ground(case, wire.conductor) and _flow(settled, wire) > STRAY_AMPS
            if stray and not _calls(case, wire):
                together.setdefault(case.uses.piece[wire.a], []).append(wire)
        for piece, wires in together.items():
            wire = max(wires, key=lambda wire: _flow(settled, wire))
            join = _between(case, wires)
            at = spot(wire.conductor if join is None else join)
            if at.span not in told:
                told.add(at.span)
                yield CurrentOnGround(
                    at=at,
                    about=wire.conductor,
                    severity="hazard",
                    stage="trim",
                    copper=frozenset((piece,)),
                    conductor=wire.conductor,
                    amps=_flow(settled, wire),
                    settled=settled,
                )


def _is_ground(case: Case, conductor: Conductor) -> bool:
    """Whether a wire is there as a ground: the bare neutral of a range or dryer in old work is none."""
    return purpose.is_grounding(conductor) and conductor.name not in bare_neutrals(case)


def _calls(case: Case, wire: Wire) -> bool:
    """Whether a green wire with insulation carries a call alone, and comes to no metal."""
    if wire.conductor.color == "bare":
        return False
    terminals, piece = case.board.terminals, case.uses.piece
    roles = {one.spec.role for name, one in terminals.items() if piece[name] == piece[wire.a]}
    return bool(roles) and roles <= {"class-2", "class-2-common"}


def _flow(settled: Settled, wire: Wire) -> float:
    return abs(settled.amps.get(wire.conductor.name, 0))


def _between(case: Case, wires: list[Wire]) -> Join | None:
    """The join outside of the sources that puts current on these grounds; else the first that they are in."""
    nodes = {case.circuit.node[end] for wire in wires for end in (wire.a, wire.b)}
    touching = [
        join
        for join in case.board.joins
        if join.place not in case.board.sources
        and any(case.circuit.node[member.point] in nodes for member in join.members if member.point)
    ]
    odd = [
        join
        for join in touching
        if "ground" in (meets := purpose.meeting(join, case.board)) and len(meets) > 1
    ]
    return next(iter(odd or touching), None)


def _ending_on_ground(case: Case) -> Iterator[NeutralJoinedToGround | NeutralOnGround]:
    together: dict[int, list[Terminal]] = {}
    for terminal in case.board.terminals.values():
        if terminal.spec.role == "neutral" and terminal.owner not in case.board.sources:
            together.setdefault(case.uses.piece[terminal.name], []).append(terminal)
    for piece, terminals in together.items():
        kinds = {feed.kind for feed in case.uses.direct[piece]}
        if "ground" not in kinds or not kinds <= {"ground", "neutral"}:
            continue
        join = next(blame.neutral_meets_ground(case, piece), None)
        # A screw of that join is what the hand looks at. A breaker's own neutral screw says less than that of
        # what it feeds.
        here = [one for one in terminals if join is not None and one.name in join.under]
        others = [one for one in terminals if one.owner not in case.board.breakers]
        terminal = (*here, *others, *terminals)[0]
        if join is not None:
            yield NeutralJoinedToGround(
                at=spot(join),
                about=terminal,
                severity="hazard",
                stage="trim",
                copper=frozenset((piece,)),
                terminal=terminal,
                join=join,
            )
        else:
            yield NeutralOnGround(
                at=made_up.at_screw(case, terminal),
                about=terminal,
                severity="hazard",
                stage="trim",
                copper=frozenset((piece,)),
                terminal=terminal,
                neutral_too="neutral" in kinds,
            )


def _standing_on_neutral(case: Case) -> Iterator[GroundOnNeutral]:
    board, uses = case.board, case.uses
    grounds: list[tuple[str, Terminal | Conductor]] = [
        (one.name, one)
        for one in board.terminals.values()
        if one.spec.role == "ground" and one.name not in metal_on_neutral(case)
    ]
    grounds += ((one.ends[0], one) for one in board.conductors.values() if _is_ground(case, one))
    if to_electrodes(case):
        # At the service the earth comes to the neutral, and elsewhere it is the matter of its building.
        earthed = {one.name for one, _ in to_electrodes(case)}
        grounds = [(point, one) for point, one in grounds if not _of_electrode(one, earthed)]
    together = grouped((uses.piece[point], thing) for point, thing in grounds if uses.of(point) == "neutral")
    for piece, found in together.items():
        join = next(blame.neutral_meets_ground(case, piece), None)
        yield GroundOnNeutral(
            at=_spot(found[0], case) if join is None else spot(join),
            about=found[0],
            severity="hazard",
            stage="trim",
            copper=frozenset((piece,)),
            found=found,
        )


def _on_both_bars(case: Case) -> Iterator[GroundAtNeutralBar]:
    """Grounds that tie a neutral bar to a ground bar by way of a box, each at the neutral bar."""
    earthed = {one.name for one, _ in to_electrodes(case)}
    for join in case.board.joins:
        bars = [case.board.terminals[name] for name in join.under] if join.place in case.board.sources else []
        bar = next((one for one in bars if one.spec.role == "neutral" and one.owner == join.place), None)
        if bar is None or {"neutral", "ground"} - {
            feed.kind for feed in case.uses.direct[case.uses.piece[bar.name]]
        }:
            continue
        for member in join.members:
            wire = case.board.conductors.get(member.name)
            if wire is not None and wire.name not in earthed and _is_ground(case, wire):
                yield GroundAtNeutralBar(
                    at=spot(join),
                    about=wire,
                    severity="hazard",
                    stage="trim",
                    copper=frozenset((case.uses.piece[bar.name],)),
                    conductor=wire,
                    bar=bar,
                )


def _of_electrode(one: Terminal | Conductor, wires: set[str]) -> bool:
    return one.name in wires or (isinstance(one, Terminal) and "electrode" in one.spec.flags)


def _spot(thing: Terminal | Conductor, case: Case) -> Spot:
    return made_up.at_screw(case, thing) if isinstance(thing, Terminal) else spot(thing)


def words(problem: Kind, case: Case) -> Words:
    """What carries current that should not, or will; and that neutrals and grounds are kept apart."""
    section = case.code.section
    carries = section("no current on grounds", "neutral grounds no metal")
    match problem:
        case CurrentOnGround():
            return Words(
                message=f"{problem.conductor.name} is a ground and carries {amps(problem.amps)}"
                f"{case.when(problem.settled, problem.conductor.name)}: metal that people touch is part of "
                "the circuit.",
                help="Neutral and ground meet at the service panel and nowhere else. Bring the current back "
                "on the white wire, and join the grounds to grounds only.",
                source=carries,
                value=problem.amps,
                limit=0.0,
                unit="A",
            )
        case NeutralJoinedToGround():
            join = problem.join
            return Words(
                message=f"{_meant(join, 'neutral', case)} and {_meant(join, 'ground', case)} are joined in "
                f"{join.place}: current that comes back by the neutral goes over metal that people touch.",
                help=_TO_THE_BAR,
                source=carries,
            )
        case NeutralOnGround():
            where = (
                "to the ground and to the neutral"
                if problem.neutral_too
                else "to the ground, not to the neutral"
            )
            return Words(
                message=f"{problem.terminal.name} leads back {where}: whatever runs there sends its current "
                "over metal that people touch.",
                help=_TO_THE_BAR,
                source=carries,
            )
        case GroundAtNeutralBar(conductor=wire, bar=bar):
            return Words(
                message=f"{wire.name} is a ground and is on {bar.name}, and the grounds beyond it come to a "
                "ground bar too: current that comes back by the neutral can go over metal that people touch.",
                help="Bring the grounds to the ground bar, through grounds alone.",
                source=section("grounds have a bar of their own", "no current on grounds"),
            )
        case GroundOnNeutral():
            name = problem.found[0].name
            if any(isinstance(one, Terminal) for one in problem.found):
                danger = "if that neutral opens, every metal part joined to it is live."
            else:
                danger = "current comes back over it, and people take it for a ground."
            return Words(
                message=f"{name} is on the neutral, not on the ground: {danger}",
                help="Bring the grounds to the ground bar, through grounds alone.",
                source=section(
                    "neutral grounds no metal",
                    "neutral and ground meet at the service",
                    "grounds have a bar of their own",
                ),
                also=tuple(
                    Note(f"{other.name} is on it too", _spot(other, case).span)
                    for other in problem.found[1 : 1 + MOST_NOTED]
                ),
            )


_TO_THE_BAR = (
    "Bring the neutral back to the neutral bar by white wires alone, and join the grounds to grounds only."
)


def _meant(join: Join, use: Purpose, case: Case) -> str:
    """The first member of a join that is a neutral's or a ground's, by its color or its screw."""
    return next(member.name for member in join.members if purpose.of_member(member, case.board) == use)


RULE = rule(__name__, "trim", severities=("hazard",), find=find, words=words)

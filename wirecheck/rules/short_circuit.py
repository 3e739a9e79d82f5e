"""Copper leads from one side of a source to the other with nothing between to use the power.

Nothing but the wire itself then limits the current: hundreds or thousands of amperes flow until a
breaker or fuse opens, and a poor joint on the way may arc and burn before it does.
Two contactors that reverse a motor join two of its lines while both are in: a contact of each, closed at
rest, keeps the other's coil out. Where one lacks it, both are in for a moment, and that is enough.

Source: Ohm's law; NEC 110.10, 240.4; common practice for the interlocks
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import permutations

from wirecheck.circuit.circuit import Contact, Leg, Load, Winding
from wirecheck.circuit.opening import Opening
from wirecheck.circuit.pieces import pieces
from wirecheck.circuit.settle import Settled, copper
from wirecheck.judge import blame, ways
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.problem import LOOK_AGAIN, Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.ways import Passes, Way
from wirecheck.language.quantity import amps, volts
from wirecheck.language.syntax import Negation, Runs, Span
from wirecheck.model.board import Device, Join


class Short(Problem):
    """`way` leads from one side of `source` to the other, or to the leg `other`.

    `amps` flow before anything opens; `opens` is what then does.
    """

    source: Leg | Winding
    other: Leg | None
    way: Way
    amps: float
    settled: Settled
    opens: Opening | None


class Meeting(Problem):
    """Two contactors join two legs while both are in, and `one` can pull in while the `other` still is."""

    one: Device
    other: Device


# What becomes of that which opens on a short.
AFTER = {
    "overload": "opens, if it works as it should",
    "ground-fault": "trips on the ground fault",
    "burned": "burns out",
    "limited": "shuts itself off, as a power-limited source should",
}


def find(case: Case) -> Iterator[Short | Meeting]:
    """Each join that makes a short, in the first state in which it does; else what makes one in passing."""
    told: set[Span] = set()
    for settled in case.states:
        for problem in _shorts(case, settled):
            if problem.at.span not in told:
                told.add(problem.at.span)
                yield problem
    if not told:
        yield from _meeting(case)


def _meeting(case: Case) -> Iterator[Meeting]:
    """The contactors that join two legs only together, where nothing of the other one keeps a coil out."""
    pulled = _pulled(case)
    for coil, other in _side_by_side(case, pulled):
        if _joined(case, pulled[coil.name], pulled[other.name]) and not _kept_out(case, coil, other):
            device = case.circuit.around[coil.device][0]
            yield Meeting(
                at=spot(device),
                about=coil,
                severity="hazard",
                stage="trim",
                copper=frozenset(case.uses.piece[end] for end in coil.ends),
                one=device,
                other=case.circuit.around[other.device][0],
            )


def _pulled(case: Case) -> dict[str, list[Contact]]:
    """The contacts that each coil closes, by its name."""
    told: dict[str, list[Contact]] = {}
    for contact in case.circuit.contacts:
        if isinstance(contact.when, Runs):
            coil = case.circuit.meant(contact.when, contact.scope)
            if coil is not None and coil.kind == "coil":
                told.setdefault(coil.name, []).append(contact)
    return told


def _side_by_side(case: Case, pulled: Mapping[str, list[Contact]]) -> list[tuple[Load, Load]]:
    """Two coils of two devices, each way, whose contacts meet where no leg comes without them."""
    piece = case.uses.piece
    closed = {contact.name for contacts in pulled.values() for contact in contacts}
    lines = [piece[leg.point] for leg in case.circuit.legs]
    fed = ways.pieces_reached(case, lines, lambda of: of.name not in closed) if closed else set()
    there: dict[int, dict[str, None]] = {}
    for name, contacts in pulled.items():
        for contact in contacts:
            for end in {piece[contact.a], piece[contact.b]} - fed:
                there.setdefault(end, {})[name] = None
    loads = case.circuit.load
    order = {load.name: number for number, load in enumerate(case.circuit.loads)}
    met = {pair for coils in there.values() for pair in permutations(coils, 2)}
    pairs = sorted(met, key=lambda pair: (order[pair[0]], order[pair[1]]))
    return [(loads[one], loads[other]) for one, other in pairs if loads[one].device != loads[other].device]


def _joined(case: Case, one: Sequence[Contact], two: Sequence[Contact]) -> bool:
    """Whether the contacts of two coils make two legs one while both are in, and those of one coil do not."""
    piece, apart = case.uses.piece, {contact.name for contact in (*one, *two)}
    sides = {piece[end] for contact in (*one, *two) for end in (contact.a, contact.b)}
    brought: dict[int, str] = {}
    for leg in case.circuit.legs:
        there = ways.pieces_reached(case, [piece[leg.point]], lambda of: of.name not in apart)
        brought |= dict.fromkeys(there & sides, leg.name)
    alone = [_one_piece(case, contacts, brought) for contacts in (one, two)]
    return not any(alone) and _one_piece(case, (*one, *two), brought)


def _one_piece(case: Case, closed: Sequence[Contact], brought: Mapping[int, str]) -> bool:
    """Whether some closed contacts make two legs one."""
    pairs = [(case.uses.piece[contact.a], case.uses.piece[contact.b]) for contact in closed]
    head = pieces([one for pair in pairs for one in pair], pairs)
    there: dict[int, set[str]] = {}
    for one in head:
        if one in brought:
            there.setdefault(head[one], set()).add(brought[one])
    return any(len(legs) > 1 for legs in there.values())


def _kept_out(case: Case, coil: Load, other: Load) -> bool:
    """Whether a coil has its power only by contacts that the other one opens as it pulls in."""
    opens = {contact.name for contact in _let_go(case, other)}
    piece = case.uses.piece
    origins = [leg.point for leg in case.circuit.legs]
    origins += [f"{panel}.neutral" for panel in case.board.panels if f"{panel}.neutral" in piece]
    origins += [point for winding in case.circuit.windings for point in winding.secondary]
    reached = ways.pieces_reached(case, [piece[point] for point in origins], lambda of: of.name not in opens)
    return any(piece[end] not in reached for end in coil.ends)


def _let_go(case: Case, coil: Load) -> Iterator[Contact]:
    """The contacts that a coil opens as it pulls in."""
    return (
        contact
        for contact in case.circuit.contacts
        if isinstance(contact.when, Negation)
        and isinstance(contact.when.fact, Runs)
        and case.circuit.meant(contact.when.fact, contact.scope) is coil
    )


def _shorts(case: Case, state: Settled) -> Iterator[Short]:
    """Each source that is shorted before anything opens."""
    circuit = case.circuit
    settled = state.first or state
    head = copper(settled)
    passes = ways.conducting(settled)
    opens = next(iter(state.opened), None)
    for source, other, begin, ends in _sides(case):
        if all(head[circuit.node[begin]] != head[circuit.node[end]] for end in ends):
            continue
        flows = abs(settled.amps.get(source.name, 0))
        if isinstance(source, Winding):
            flows *= source.primary_volts / source.open_volts
        for way, join in _ways(case, begin, ends, passes):
            yield Short(
                at=spot(case.board if join is None else join),
                about=source,
                severity="fault" if isinstance(source, Winding) else "hazard",
                stage="trim",
                copper=frozenset(case.uses.piece[point] for point in way.points),
                source=source,
                other=other,
                way=way,
                amps=flows,
                settled=settled,
                opens=opens,
            )


def _ways(case: Case, begin: str, ends: tuple[str, ...], passes: Passes) -> Iterator[tuple[Way, Join | None]]:
    """The ways from one side to the other, each with the join to blame; none through the join of another."""
    blamed: set[str] = set()
    while (way := ways.way(case, [begin], ends, passes, blamed)) is not None:
        join = blame.culprit(way, case.board)
        yield way, join
        if join is None:
            return
        blamed |= {member.point for member in join.members if member.point}


def _sides(case: Case) -> Iterator[tuple[Leg | Winding, Leg | None, str, tuple[str, ...]]]:
    """Each source, the other leg where it is one, a point of its one side and those of the other."""
    legs = case.circuit.legs
    for index, leg in enumerate(legs):
        yield leg, None, leg.point, (f"{leg.panel}.neutral", f"{leg.panel}.ground")
        for other in legs[index + 1 :]:
            if other.volts != leg.volts:
                yield leg, other, leg.point, (other.point,)
    for winding in case.circuit.windings:
        yield winding, None, winding.secondary[0], winding.secondary[1:]


def _interlocks(case: Case, way: Way) -> str | None:
    """Which contacts keep two contactors apart whose contacts make the short, where both lie idle."""
    closing = {contact.name: coil for coil, contacts in _pulled(case).items() for contact in contacts}
    there = {contact.scope: closing[contact.name] for contact in way.contacts if contact.name in closing}
    joined = {member.point for join in case.board.joins for member in join.members}
    idle = []
    for coil in there.values():
        rest = _let_go(case, case.circuit.load[coil])
        idle += [one for one in rest if joined.isdisjoint((one.a, one.b))][:1]
    if len(there) != 2 or len(idle) != 2:
        return None
    one, other = there
    return (
        f"{LOOK_AGAIN} at the wires to the coils of {one} and {other}: each contact that is closed at rest, "
        f"{idle[0].a} to {idle[0].b} and {idle[1].a} to {idle[1].b}, belongs before the coil of the other "
        "contactor, and nothing is on them."
    )


def words(problem: Short | Meeting, case: Case) -> Words:
    """What is joined to what, how many amperes flow, what opens, and the copper to follow."""
    if isinstance(problem, Meeting):
        one, other = problem.one.name, problem.other.name
        return Words(
            message=f"{one} can pull in while {other} still is: for a moment two lines are joined in their "
            "contacts, with no load between, and these burn or weld.",
            help=f"Bring the wire to the coil of {one} through a contact of {other} that is closed at rest, "
            f"and nothing past it: what holds {one}, and its button, come before that contact.",
            source="common practice: each of two contactors that reverse a motor keeps the other's coil out",
            also=(Note(f"{other} is here", problem.other.span),),
        )
    source = problem.source
    if isinstance(source, Winding):
        what = f"the two sides of {source.name}'s {volts(source.secondary_volts)} winding"
    else:
        what = "two hots of different legs" if problem.other else "a hot and the neutral or ground"
    after = f" {problem.opens.name} {AFTER[problem.opens.kind]}." if problem.opens else ""
    return Words(
        message=f"Short circuit{case.when(problem.settled)}: {what} are joined with no load between, "
        f"and about {amps(problem.amps)} flows.{after}",
        help=f"Turn the power off. Follow the copper: {ways.named(problem.way, case)}. Take apart the join "
        "where two kinds of wire meet that do not belong together.",
        source=case.code.section("fault current that equipment stands"),
        value=problem.amps,
        unit="A",
        look=_interlocks(case, problem.way),
    )


RULE = rule(__name__, "trim", severities=("hazard", "fault"), find=find, words=words, of_ties=True)

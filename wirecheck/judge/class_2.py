"""What Class 2 circuits are joined to: their transformers, their protection, and power that should not be.

What makes a circuit Class 2 is its source, and what hangs on it; a cable of that type is only one sign.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import NamedTuple

from wirecheck.circuit.circuit import Leg, Protection, Winding, Wire
from wirecheck.circuit.settle import Settled, copper
from wirecheck.judge.case import Case
from wirecheck.judge.grouped import grouped
from wirecheck.judge.purpose import is_class_2, is_grounding
from wirecheck.judge.question import question
from wirecheck.judge.source import bars, legs
from wirecheck.judge.transformers import is_class_2 as is_source
from wirecheck.judge.ways import Way, pieces_reached, way
from wirecheck.language.syntax import InPosition
from wirecheck.model.board import Conductor, Join, Terminal

# The roles of the screws that belong to a Class 2 circuit.
ROLES = frozenset(("class-2", "class-2-common"))


class Powered(NamedTuple):
    """A breaker or fuse of a panel's leg, and one conductor of each Class 2 cable that is on its circuit."""

    protection: Protection
    conductors: tuple[Conductor, ...]


@question
def on_power(case: Case) -> tuple[Powered, ...]:
    """The Class 2 cable on each breaker and fuse of a panel's leg; nothing of one that has none."""
    protections: dict[str, Protection] = {}
    cables: dict[str, dict[str, Conductor]] = {}
    for zone in case.zones:
        if zone.origin.kind == "leg":
            for conductor in (*zone.hots, *zone.returns):
                if is_class_2(conductor):
                    protections[zone.protection.name] = zone.protection
                    cables.setdefault(zone.protection.name, {}).setdefault(conductor.run, conductor)
    return tuple(Powered(protections[name], tuple(runs.values())) for name, runs in cables.items())


@question
def power_conductors(case: Case) -> Mapping[str, Conductor]:
    """Every conductor on the circuit of a panel's leg but the grounding conductors, by name."""
    return {
        conductor.name: conductor
        for zone in case.zones
        if zone.origin.kind == "leg"
        for conductor in (*zone.hots, *zone.returns)
        if not is_grounding(conductor)
    }


class Low(NamedTuple):
    """A conductor of a Class 2 circuit: in Class 2 cable, or in another (`cable` is False).

    `whole` is whether its circuit has no Class 2 cable at all, as one that was reclassified (725.130(A)).
    """

    conductor: Conductor
    cable: bool
    whole: bool


@question
def low_conductors(case: Case) -> tuple[Low, ...]:
    """Every conductor of a Class 2 circuit that is on no power circuit, what lies in Class 2 cable first."""
    power = power_conductors(case)
    mine = [one for one in case.board.conductors.values() if one.name not in power]
    cables = [one for one in mine if is_class_2(one)]
    sources = {name for one in cables for name in _sources(case, one)}
    return (
        *(Low(one, True, False) for one in cables),
        *(
            Low(one, False, sources.isdisjoint(fed))
            for one in mine
            if not is_class_2(one) and not is_grounding(one) and (fed := _sources(case, one))
        ),
    )


def _sources(case: Case, conductor: Conductor) -> frozenset[str]:
    """The Class 2 transformers that feed a conductor, if only through contacts, by name."""
    uses, piece = case.uses, case.uses.piece[conductor.ends[0]]
    if uses.of(conductor.ends[0]) != "class-2":
        return frozenset()
    fed = {feed.name for feed in uses.direct[piece] | uses.reached[piece]}
    return frozenset(one.name for one in case.circuit.windings if one.name in fed and is_source(case, one))


class AtLine(NamedTuple):
    """Class 2 screws that line voltage comes to from a leg by `way`, first in `state`.

    `join` is where the line meets what is Class 2.
    """

    terminals: tuple[Terminal, ...]
    leg: Leg
    way: Way
    join: Join
    state: Settled


@question
def at_line(case: Case) -> tuple[AtLine, ...]:
    """The Class 2 screws that stand at line voltage in some state, by the place where the line meets them."""
    uses = case.uses
    fed = (uses.piece[leg] for leg in legs(case))
    earthed = {
        piece for piece, feeds in uses.direct.items() if {feed.kind for feed in feeds} & {"neutral", "ground"}
    }
    reached = pieces_reached(case, fed, stops=earthed) - earthed
    screws = (
        terminal
        for terminal in case.board.terminals.values()
        if terminal.spec.role in ROLES and uses.piece[terminal.name] in reached
    )
    found = [one for terminal in screws if (one := _at_line(case, terminal)) is not None]
    # Where the way is short it shows most plainly what is wrong.
    found.sort(key=lambda one: (len(one.way.contacts), len(one.way.points)))
    together = grouped((one.join.span, one) for one in found)
    return tuple(
        there[0]._replace(terminals=tuple(terminal for one in there for terminal in one.terminals))
        for there in together.values()
    )


def _at_line(case: Case, terminal: Terminal) -> AtLine | None:
    """Whether and how line voltage comes to a screw; not where contacts never conduct at the same time."""
    back = way(case, legs(case), {terminal.name}, stops=bars(case, "neutral", "ground"))
    if back is None:
        return None
    state = next((state for state in _states(case, back) if _joined(state, back)), None)
    if state is None:
        return None
    return AtLine((terminal,), legs(case)[back.points[0]], back, _first_class_2(case, back), state)


def _states(case: Case, back: Way) -> Iterator[Settled]:
    """The states in which a way may conduct: all that are solved, and what is on it put where it does."""
    for settled in case.states:
        yield settled.first or settled
    moved: dict[str, str] = {}
    for contact in back.contacts:
        if isinstance(contact.when, InPosition):
            moved.setdefault(contact.scope, contact.when.position.text)
    if moved:
        settled = case.in_positions(moved)
        yield settled.first or settled


def _joined(state: Settled, back: Way) -> bool:
    """Whether the two ends of a way are one piece of copper in a state."""
    piece, node = copper(state), state.circuit.node
    return piece[node[back.points[0]]] == piece[node[back.points[-1]]]


def _first_class_2(case: Case, back: Way) -> Join:
    """The first join on a way from the line that holds something Class 2; else its last."""
    return next((join for join in back.joins if _holds_class_2(case, join)), back.joins[-1])


def meets_power(case: Case, conductor: Conductor) -> Iterator[Join]:
    """The join at which a conductor of Class 2 cable, or what is Class 2 before it, meets a leg."""
    back = way(case, legs(case), conductor.ends)
    if back is not None:
        yield _first_class_2(case, back)


def _holds_class_2(case: Case, join: Join) -> bool:
    for member in join.members:
        terminal = case.board.terminals.get(member.name)
        conductor = case.board.conductors.get(member.name)
        if terminal is not None and terminal.spec.role in ROLES:
            return True
        if conductor is not None and is_class_2(conductor):
            return True
    return False


def fed_from(case: Case, winding: Winding) -> tuple[Wire, ...]:
    """The wires of Class 2 cable that a transformer's secondary feeds; none on a side that is earthed."""
    return tuple(_wires(case, {case.circuit.node[end] for end in winding.secondary} - {0}))


def secondary_protection(case: Case, winding: Winding) -> float | None:
    """The largest protection of the Class 2 cable of a secondary, in amperes.

    Wires of one side are protected by what is in the other. None where there is no protection, or
    wires of both sides have none.
    """
    unprotected: set[int] = set()
    found: list[float] = []
    for wire in _wires(case, {case.circuit.node[end] for end in winding.secondary}):
        node = case.circuit.node[wire.a]
        guards = [step.of.amps for step in case.routes.back(node) if isinstance(step.of, Protection)]
        if guards:
            found.append(min(guards))
        else:
            unprotected.add(case.routes.origins[node].node)
    return None if len(unprotected) > 1 or not found else max(found)


def _wires(case: Case, origins: Collection[int]) -> Iterator[Wire]:
    """The wires of Class 2 cable that come from one of some nodes of a source."""
    for wire in case.circuit.wires:
        origin = case.routes.origins.get(case.circuit.node[wire.a])
        if is_class_2(wire.conductor) and origin is not None and origin.node in origins:
            yield wire

"""What can never start, since its power comes only through a contact that waits for it: a circle.

The proof needs no state. It begins with nothing running, lets every contact close that waits for nothing,
then for what runs already, and goes on until nothing is added. What would have its power with all contacts
closed, and has none then, waits for itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from wirecheck.circuit.circuit import Contact, Load, Move, Winding
from wirecheck.judge.case import Case
from wirecheck.judge.currents import Drawer, drawers
from wirecheck.judge.question import question
from wirecheck.judge.source import legs
from wirecheck.judge.ways import Way, way
from wirecheck.language.syntax import AllOf, AnyOf, Condition, InPosition, Runs

# What turns pressure on: a valve that opens, or a machine that pumps.
GIVES_PRESSURE = ("valve", "motor")
# The source that a neutral or a ground leads to.
EARTH = "earth"


class Waits(NamedTuple):
    """`of` has no power before `for_` has: through `contact`, which `for_` closes, or out of its winding.

    `point` is the end of the contact that is toward `of`; both are None for a winding.
    """

    of: Load | Winding
    for_: Load | Winding
    contact: Contact | None
    point: str | None


class Circle(NamedTuple):
    """Things of which each waits for the next, and the last for the first; and all that waits for them."""

    links: tuple[Waits, ...]
    dead: tuple[Load | Winding, ...]


@question
def circle(case: Case) -> Circle | None:
    """A circle on the board, and all that cannot start because of it; None where there is none."""
    waiting = {name for contact in case.circuit.contacts for name in _runs(contact.when)}
    if not case.circuit.legs or not (waiting or case.circuit.windings):
        return None
    alive = _alive(case, ())
    while True:
        more = _alive(case, alive)
        if more <= alive:
            break
        alive |= more
    never = _alive(case, None) - alive
    dead = [one for one in drawers(case) if one.of.name in never]
    if not dead:
        return None
    links: list[Waits] = []
    seen: dict[str, int] = {}
    one: Drawer | None = dead[0]
    while one is not None and one.of.name not in seen:
        seen[one.of.name] = len(links)
        link = _waits(case, one, dead, alive)
        if link is None:
            return None
        links.append(link)
        one = next((other for other in dead if other.of.name == link.for_.name), None)
    if one is None:
        return None
    unfed = tuple({drawer.of.name: drawer.of for drawer in dead}.values())
    return Circle(tuple(links[seen[one.of.name] :]), unfed)


def _alive(case: Case, running: Iterable[str] | None) -> frozenset[str]:
    """What has power with the contacts closed that may close while some things run; None for all of them."""
    circuit = case.circuit
    names = None if running is None else frozenset(running)
    closed = frozenset(one.name for one in circuit.contacts if _may_close(case, one, names))
    copper = circuit.copper(closed)
    sources: dict[int, set[tuple[str, str]]] = {copper[0]: {("line", EARTH)}}
    for leg in circuit.legs:
        sources.setdefault(copper[circuit.node[leg.point]], set()).add(("line", leg.name))
    for winding in circuit.windings:
        if names is None or winding.name in names:
            for side, end in enumerate(winding.secondary):
                sources.setdefault(copper[circuit.node[end]], set()).add((winding.name, str(side)))
    return frozenset(
        of.name
        for of, _, a, b in drawers(case)
        if _between(*(sources.get(copper[circuit.node[point]], set()) for point in (a, b)))
    )


def _between(one: set[tuple[str, str]], other: set[tuple[str, str]]) -> bool:
    """Whether two sides lead to two different ends of one source."""
    return any(a[0] == b[0] and a != b for a in one for b in other)


def _may_close(case: Case, contact: Contact, running: frozenset[str] | None) -> bool:
    return running is None or _may_hold(case, contact.when, contact.scope, running)


def _may_hold(case: Case, condition: Condition, scope: str, running: frozenset[str]) -> bool:
    """Whether a condition can come true while no more than some things run, whatever else happens."""
    match condition:
        case AllOf(facts):
            return all(_may_hold(case, fact, scope, running) for fact in facts)
        case AnyOf(facts):
            return any(_may_hold(case, fact, scope, running) for fact in facts)
        case Runs():
            load = case.circuit.meant(condition, scope)
            return load is None or load.name in running
        case InPosition(position) if scope in case.board.sensed:
            return any(
                move is None or move.when is None or _may_hold(case, move.when, scope, running)
                for move in _brought(case, scope, position.text)
            )
        case InPosition(position):
            return not _waits_for_pressure(case, scope, position.text) or any(
                one.name in running for one in _giving_pressure(case)
            )
    return True


def _waits_for_pressure(case: Case, device: str, position: str) -> bool:
    """Whether a control stands elsewhere until pressure comes, on a board that has the valve to bring it."""
    part = case.circuit.devices[device].part
    return (
        part.moved_by == "pressure"
        and not part.safety
        and part.positions[0] != position
        and any(one.kind == "valve" for one in _giving_pressure(case))
    )


def _giving_pressure(case: Case) -> tuple[Load, ...]:
    return tuple(load for load in case.circuit.loads if load.kind in GIVES_PRESSURE)


def _brought(case: Case, control: str, position: str) -> Iterator[Move | None]:
    """What brings a control to a position, where a line says what it senses; None where it begins there."""
    if case.circuit.variables[control].values[0] == position:
        yield None
    yield from (move for move in case.circuit.moves if (move.variable, move.target) == (control, position))


def _waits(case: Case, drawer: Drawer, dead: Iterable[Drawer], alive: frozenset[str]) -> Waits | None:
    """The first thing on the way to the power of something dead that is dead itself."""
    by_name = {one.of.name: one.of for one in dead}
    for back in _ways(case, drawer):
        for here, contact in _contacts(back):
            if not _may_close(case, contact, alive):
                for name in _awaited(case, contact, alive):
                    if name in by_name:
                        return Waits(drawer.of, by_name[name], contact, here)
        winding = next((one for one in case.circuit.windings if back.points[-1] in one.secondary), None)
        if winding is not None and winding.name in by_name:
            return Waits(drawer.of, winding, None, None)
    return None


def _ways(case: Case, drawer: Drawer) -> Iterator[Way]:
    """The way from each end of something to a leg or a winding, with all contacts closed."""
    ends = {end for winding in case.circuit.windings for end in winding.secondary}
    for point in (drawer.a, drawer.b):
        back = way(case, [point], legs(case).keys() | ends)
        if back is not None:
            yield back


def _contacts(back: Way) -> Iterator[tuple[str, Contact]]:
    """The contacts on a way, each with the point that comes before it."""
    for here, of in zip(back.points, back.elements, strict=False):
        if isinstance(of, Contact):
            yield here, of


def _awaited(case: Case, contact: Contact, alive: frozenset[str]) -> Iterator[str]:
    """The loads that a contact waits for and that do not run."""
    for name in _runs(contact.when):
        load = case.circuit.load.get(f"{contact.scope}.{name}")
        if load is not None and load.name not in alive:
            yield load.name
    if isinstance(contact.when, InPosition) and contact.scope in case.board.sensed:
        for move in _brought(case, contact.scope, contact.when.position.text):
            yield from _runs(move.when) if move is not None and move.when is not None else ()
    elif isinstance(contact.when, InPosition):
        yield from (one.name for one in _giving_pressure(case) if one.kind == "valve")


def _runs(condition: Condition) -> Iterator[str]:
    """The loads that a condition asks to run."""
    match condition:
        case AllOf(facts) | AnyOf(facts):
            for fact in facts:
                yield from _runs(fact)
        case Runs(load):
            yield load.text

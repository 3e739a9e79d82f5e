"""Which wire a hand would move, or which two it would swap, so that every call does what it should.

Each is tried: the board is wired that way, and its calls are played.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from wirecheck.circuit.work import WorkEnds
from wirecheck.judge.calls import all_right
from wirecheck.judge.case import Case
from wirecheck.judge.control_wires import Crossing, carried_to, crossings
from wirecheck.judge.made_up import join_at, joins
from wirecheck.judge.purpose import is_grounding
from wirecheck.judge.question import question
from wirecheck.language.syntax import Condition, Negation, Runs
from wirecheck.model.board import Board, Conductor, Device, Join, Member, Terminal

# The roles of the screws of control wiring; what is on others is never swapped to see what it does.
CONTROL = ("class-2", "class-2-common", "contact")

# The most that the search for one may take of the work that is left.
SHARE = 0.25


class Swapped(NamedTuple):
    """Two wires, or whatever is on two screws, are on each other's place; the first is made up in `join`.

    `crossed` tells of a wire where its other end is, if that is how it was found.
    """

    one: Member
    other: Member
    join: Join
    crossed: Crossing | None


class Misplaced(NamedTuple):
    """The wire that belongs on `meant` is on `here`, in `join`: one by name, or whatever is on the screw."""

    here: Terminal
    meant: Terminal
    join: Join
    member: Member
    crossed: Crossing | None


Swap = Swapped | Misplaced


@question
def mending_swap(case: Case) -> Swap | None:
    """The swap that would put every call right, if there is one.

    A wire whose ends say different things is looked at first, then every two screws of each thermostat,
    then the two throws of each relay, as far as the work lasts.
    """
    crossed = (swap for crossing in crossings(case) for swap in uncrossed(case, crossing))
    every = itertools.chain(crossed, _on_thermostats(case), _on_relays(case))
    try:
        with case.work.reason(SHARE):
            return next((swap for swap in every if all_right(made(case, swap))), None)
    except WorkEnds:
        return None


def uncrossed(case: Case, crossed: Crossing) -> Iterator[Swap]:
    """What would bring a crossed wire to where it belongs, the likeliest first."""
    meant, join = crossed.meant, crossed.join
    wire = next(member for member in join.members if member.name == crossed.conductor.name)
    if meant is None:
        # It may belong in a splice, where another wire of its cable is now.
        cable = case.board.runs[crossed.conductor.run].conductors
        others = [member for end in cable for member in _ends_in(join.place, end, case)]
    else:
        # Where a wire on the screw comes from its like, only one that is crossed itself has no place there.
        odd = {one.conductor.name for one in crossings(case)}
        there = join_at(case, meant.name)
        known = meant.spec.carries in carried_to(case, meant)
        others = [
            member
            for member in (there.members if there else ())
            if member.kind == "end" and (member.name in odd or not known)
        ]
    for other in others:
        if other.point != wire.point:
            yield Swapped(wire, other, join, crossed)
    if meant is not None:
        yield Misplaced(crossed.here, meant, join, wire, crossed)


def _ends_in(place: str, conductor: Conductor, case: Case) -> Iterator[Member]:
    """The ends of a conductor in a place, as they are made up there."""
    for end, where in zip(conductor.ends, conductor.places, strict=True):
        if where == place:
            yield from (member for _, member in joins(case).get(end, ()))


def _on_thermostats(case: Case) -> Iterator[Swap]:
    """Every two screws of each thermostat, with what is on them swapped."""
    terminals, node = case.board.terminals, case.circuit.node
    for device in case.board.devices.values():
        screws = [
            terminals[f"{device.name}.{name}"]
            for name, spec in device.part.terminals.items()
            if device.part.calls and spec.role in CONTROL
        ]
        for one, other in itertools.combinations(screws, 2):
            if node[one.name] == node[other.name] or not (
                _fits(case, one, other) and _fits(case, other, one)
            ):
                continue
            yield from _each_other(case, one, other)


def _on_relays(case: Case) -> Iterator[Swap]:
    """The screw that a relay ties to its common at rest and the one that it ties to it in a call, swapped."""
    terminals = case.board.terminals
    throws = [one for one in case.circuit.contacts if one.a in terminals and one.b in terminals]
    for closes, opens in itertools.product(throws, throws):
        if closes.scope == opens.scope and _opposite(closes.when, opens.when):
            ends = {closes.a, closes.b} ^ {opens.a, opens.b}
            if len(ends) == 2:
                yield from _each_other(case, *(terminals[end] for end in sorted(ends)))


def _opposite(one: Condition, other: Condition) -> bool:
    """Whether the first is that something runs, and the other that it does not."""
    match one, other:
        case Runs(load), Negation(Runs(same)):
            return load.text == same.text
    return False


def _each_other(case: Case, one: Terminal, other: Terminal) -> Iterator[Swap]:
    """What is on two screws swapped, or moved, where one of them has no wire."""
    here, there = join_at(case, one.name), join_at(case, other.name)
    members = _screw(one, case.board), _screw(other, case.board)
    if here is not None and there is not None:
        yield Swapped(*members, here, None)
    elif here is not None:
        yield Misplaced(one, other, here, members[0], None)
    elif there is not None:
        yield Misplaced(other, one, there, members[1], None)


def _fits(case: Case, here: Terminal, there: Terminal) -> bool:
    """Whether what is on one screw may belong on another: its other end carries the same, or does not say."""
    carried = carried_to(case, here)
    return not carried or there.spec.carries in carried


def tells(case: Case, swap: Swap) -> bool:
    """Whether anything would run otherwise, in any call or in none."""
    swapped = made(case, swap)
    return any(
        before.rest.running != after.rest.running or before.started().keys() != after.started().keys()
        for calls in ([], *([call] for call in case.calls))
        for before, after in [(case.played(calls), swapped.played(calls))]
    )


def onto_empty(case: Case, here: Terminal) -> Iterator[Misplaced]:
    """Whatever is on a screw, moved to each screw of the same device that has no wire; no grounds."""
    join, device = join_at(case, here.name), case.board.devices.get(here.owner)
    if join is not None and device is not None:
        for there in _empty(case, device):
            yield Misplaced(here, there, join, _screw(here, case.board), None)


def to_empty(case: Case, device: Device) -> Iterator[Misplaced]:
    """Each wire on a screw in the place of a device, moved to each screw of it without a wire; no grounds."""
    for join in case.board.joins:
        screws = [member for member in join.members if member.kind == "terminal"]
        wires = (member for member in join.members if member.kind == "end")
        for wire in wires if screws and join.place == device.place else ():
            for there in _empty(case, device):
                if not is_grounding(case.board.conductors[wire.name]):
                    yield Misplaced(case.board.terminals[screws[0].name], there, join, wire, None)


def _empty(case: Case, device: Device) -> Iterator[Terminal]:
    """The screws of a device that have no wire, but for its ground."""
    for name in device.part.terminals:
        screw = case.board.terminals[f"{device.name}.{name}"]
        if screw.spec.role != "ground" and join_at(case, screw.name) is None:
            yield screw


# -------------------------------------------------------------- made by hand


def made(case: Case, swap: Swap) -> Case:
    """The board with a swap made."""
    board = case.board
    match swap:
        case Swapped(one, other):
            changed = _exchanged(board.joins, one, other)
        case Misplaced(here, meant, _, member, _) if member.kind == "terminal":
            changed = _exchanged(board.joins, _screw(here, board), _screw(meant, board))
        case Misplaced(_, meant, join, member, _):
            changed = _moved(board, join, member, _screw(meant, board))
    return Case(board._replace(joins=tuple(changed)), case.work)


def _screw(terminal: Terminal, board: Board) -> Member:
    return Member("terminal", terminal.name, terminal.name, None, board.span)


def _exchanged(made_up: Iterable[Join], one: Member, other: Member) -> Iterator[Join]:
    """Joins in which two members have changed places."""
    becomes = {one.point: other, other.point: one}
    for join in made_up:
        yield join._replace(members=tuple(becomes.get(member.point, member) for member in join.members))


def _moved(board: Board, origin: Join, wire: Member, screw: Member) -> Iterator[Join]:
    """A board's joins with a wire taken out of one, and put under a screw."""
    there = next((join for join in board.joins if screw.point in (m.point for m in join.members)), None)
    for join in board.joins:
        if join is origin:
            yield join._replace(members=tuple(member for member in join.members if member is not wire))
        elif join is there:
            yield join._replace(members=(*join.members, wire))
        else:
            yield join
    if there is None:
        yield Join(origin.place, (wire, screw), (), {}, origin.span)

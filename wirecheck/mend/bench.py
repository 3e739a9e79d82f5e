"""What lies on the bench of one place: the ends and screws there, what each is for, and how well two suit.

Hands go by colors, letters and marks. So does the order in which edits are tried; whether one puts
the board right, only its check can say.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from wirecheck.judge import purpose
from wirecheck.judge.case import Case
from wirecheck.model.board import Board

# How well a wire suits what it is put with: the same purpose, the same letter; another one; and how much it
# counts whether the feed is where the feed belongs.
SUITS, LIKE, STRANGE, FED = 1.0, 2.0, -2.0, 0.5
# What a white that is a hot is marked where its other end is not: no white, gray or green (200.7(C)).
MARK = "black"
# Whether a screw takes the feed, or what goes on to the load, by its role.
FEEDS: Mapping[str, bool] = {"hot": True, "switched": False}


class Item(NamedTuple):
    """An end of a wire or a screw in a place: what it is for by color or role, and what letters it has.

    `carries` is what the screw carries, or what the other end of the wire is on; a screw has no `color`.
    `owner` is the cable of an end, the device of a screw; `wire` the conductor of an end; `side` on which
    side of its device a screw is, of a device whose contacts have two. `mark` is what an end would be
    marked, as the other end of its wire is. `feeds` is whether the cable comes from the feed and not from a
    load, or the screw takes the feed; `travels` whether a wire's other end is on a screw for a traveler, or
    the screw is one. `needed` is whether the screw is none that may stay empty. `other` is the other end of
    its wire, where that is in the same place; `stands` where the screw stands among those of the board, which
    are in the order of their parts, or the screw that the wire's other end is on.
    """

    name: str
    place: str
    is_end: bool
    is_bar: bool
    purpose: purpose.Purpose | None
    carries: frozenset[str]
    color: str
    company: tuple[str, ...]
    capped: bool
    copper: int
    owner: str
    side: str = ""
    mark: str = MARK
    feeds: bool | None = None
    travels: bool | None = None
    needed: bool = False
    wire: str = ""
    other: str = ""
    stands: int | None = None


def items(case: Case) -> dict[str, dict[str, Item]]:
    """Every end and screw of each place, by name. Of a wire with both its ends there, each has its own."""
    board = case.board
    company: dict[tuple[str, str], tuple[str, ...]] = {}
    marks: dict[tuple[str, str], str | None] = {}
    for join in board.joins:
        listed = tuple(member.by_place for member in join.members if member.kind != "pigtail")
        for member in join.members:
            if member.kind != "pigtail":
                name = member.by_place
                others = tuple(one for one in listed if one != name)
                # A screw may be in several lines.
                company[join.place, name] = (*company.get((join.place, name), ()), *others)
                marks[join.place, name] = member.marked
    letters, far_from_feed, travelers = _letters(board), _far_from_feed(board), _travelers(board)
    order = {name: number for number, name in enumerate(board.terminals)}
    places: dict[str, dict[str, Item]] = {}
    for conductor in board.conductors.values():
        keys = tuple(zip(conductor.places, conductor.by_place, strict=True))
        for key, end, beyond in zip(keys, conductor.ends, reversed(keys), strict=True):
            (place, name), (far, other) = key, beyond
            on = [board.screws.get(one, one) for one in company.get(beyond, ())]
            places.setdefault(place, {})[name] = Item(
                name,
                place,
                True,
                False,
                purpose.of_conductor(conductor, marks.get(key)),
                _beyond(place, beyond, company, letters, board),
                conductor.color if purpose.is_class_2(conductor) else "",
                company.get(key, ()),
                end in board.capped,
                case.uses.piece[end],
                conductor.run,
                mark=marks.get(beyond) or MARK,
                feeds=_feeds(far_from_feed.get(far), far_from_feed.get(place)),
                travels=any(screw in travelers for screw in on),
                wire=conductor.name,
                other=other if conductor.stays else "",
                stands=next((order[screw] for screw in on if screw in order), None),
            )
    sides = _sides(board)
    # The common of a switch with travelers takes the feed in one place, and the load in the other.
    throwing = {board.terminals[screw].owner for screw in travelers}
    owned = (board.devices, board.breakers, board.panels, board.boxes)
    # A terminal of several screws goes by the name of each that a line names, too.
    named = [(name, board.terminals[name]) for name in board.terminals]
    named += [(screw, board.terminals[name]) for screw, name in board.screws.items()]
    for name, terminal in named:
        used = name in board.terminals or (terminal.place, name) in company
        if used and any(terminal.owner in owners for owners in owned):
            places.setdefault(terminal.place, {})[name] = Item(
                name,
                terminal.place,
                False,
                "bar" in terminal.spec.flags,
                purpose.of_terminal(terminal),
                frozenset((terminal.spec.carries,)) if terminal.spec.carries else frozenset(),
                "",
                company.get((terminal.place, name), ()),
                terminal.name in board.capped,
                case.uses.piece[terminal.name],
                terminal.owner,
                sides.get(terminal.name, ""),
                feeds=FEEDS.get(terminal.spec.role) if terminal.owner not in throwing else None,
                travels=True if terminal.name in travelers else None,
                needed="optional" not in terminal.spec.flags,
                stands=order.get(name),
            )
    return {
        place: {name: _among(item, here) for name, item in here.items()} for place, here in places.items()
    }


def _travelers(board: Board) -> frozenset[str]:
    """The screws of the switches that tie one wire to one of several others, but for that one.

    What throws by a call, as a defrost clock, has its feed on its common, and loads on its throws.
    """
    found: set[str] = set()
    for device in board.devices.values():
        part = device.part
        ends = [end for one in part.contacts for end in (one.a, one.b) if end in part.terminals]
        if part.moved_by == "hand" and not part.calls and len(set(ends)) < len(ends):
            switched = (end for end in ends if part.terminals[end].role == "switched")
            found.update(f"{device.name}.{end}" for end in switched)
    return frozenset(found)


def _far_from_feed(board: Board) -> dict[str, int]:
    """How many cables of power lie between each place and a panel that is a source."""
    beside: dict[str, list[str]] = {}
    for run in board.runs.values():
        if not purpose.is_class_2(run.conductors[0]):
            places = [end.place for end in run.ends]
            for place in places:
                beside.setdefault(place, []).extend(places)
    found = dict.fromkeys(board.sources, 0)
    reached = list(found)
    for place in reached:
        for other in beside.get(place, ()):
            if other not in found:
                found[other] = found[place] + 1
                reached.append(other)
    return found


def _feeds(far: int | None, here: int | None) -> bool | None:
    """Whether a cable with its other end so far from the panel brings the feed here; None if neither."""
    return None if far is None or here is None or far == here else far < here


def _among(item: Item, here: Mapping[str, Item]) -> Item:
    """An end or a screw, with no company but that which is on the bench."""
    return item._replace(company=tuple(name for name in item.company if name in here))


def _sides(board: Board) -> dict[str, str]:
    """The side of each screw of the devices whose contacts lead from screws to others: line and load."""
    found: dict[str, str] = {}
    for device in board.devices.values():
        part = device.part
        pairs = {(one.a, one.b) for one in part.contacts if {one.a, one.b} <= part.terminals.keys()}
        ends = [end for pair in pairs for end in pair]
        if len(pairs) > 1 and len(set(ends)) == len(ends):
            found.update((f"{device.name}.{a}", f"{device.name}/1") for a, _ in pairs)
            found.update((f"{device.name}.{b}", f"{device.name}/2") for _, b in pairs)
    return found


def _beyond(
    place: str,
    beyond: tuple[str, str],
    company: Mapping[tuple[str, str], tuple[str, ...]],
    letters: Mapping[tuple[str, str], frozenset[str]],
    board: Board,
) -> frozenset[str]:
    """What the screws carry that a wire leads to from a place, also by the wires that it is spliced with.

    `beyond` is its other end, and where that is.
    """
    found: set[str] = set()
    reached = [beyond]
    for here, name in reached:
        for one in company.get((here, name), ()):
            found.update(letters.get((here, one), ()))
            wire = board.conductors.get(one)
            far = next((each for each in wire.places if each != here), place) if wire else place
            if far != place and (far, one) not in reached:
                reached.append((far, one))
    return frozenset(found)


def _letters(board: Board) -> dict[tuple[str, str], frozenset[str]]:
    """What the screws carry that each wire and screw is joined with in a place."""
    letters: dict[tuple[str, str], frozenset[str]] = {}
    for join in board.joins:
        found = frozenset(
            carried
            for member in join.members
            if member.kind == "terminal" and (carried := board.terminals[member.name].spec.carries)
        )
        for member in join.members:
            if member.kind != "pigtail":
                letters[join.place, member.by_place] = found
    return letters


def suits(item: Item, company: Iterable[str], here: Mapping[str, Item]) -> float:
    """How well an end or a screw suits what it would be joined with, from -2 to 3."""
    best: list[float] = []
    for name in company:
        other = here.get(name)
        if other is None or name == item.name:
            continue
        score = 0.0
        if item.purpose and other.purpose:
            score += SUITS if item.purpose == other.purpose else STRANGE
            of_both = item.is_end != other.is_end and None not in (item.feeds, other.feeds)
            if of_both and item.purpose == other.purpose == "hot":
                score += FED if item.feeds == other.feeds else -FED
            if item.is_end != other.is_end and None not in (item.travels, other.travels):
                score += FED if item.travels == other.travels else -FED
        elif item.carries and other.carries:
            score += LIKE if item.carries & other.carries else STRANGE
        elif (item.purpose is None) != (other.purpose is None) and (item.color or other.color):
            # A thermostat's wire with one of the power circuit.
            score += STRANGE
        if item.color and item.color == other.color:
            score += SUITS
        best.append(score)
    return sum(best) / len(best) if best else -1.0

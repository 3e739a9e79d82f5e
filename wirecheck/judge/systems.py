"""The systems of a board that have nothing in common but their panel, each as a board of its own.

A thermostat with the machines that it calls, on breakers of their own, feels nothing of the system
beside it: a leg of the panel and earth are the same to both, whatever the other does. A subpanel is no
such panel: what hangs on it shares a feeder, and is one system with it. So a board of
five hundred of them is judged as five hundred small ones, and costs no more than those do.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping
from itertools import pairwise
from typing import TypeVar

from wirecheck.circuit.pieces import pieces
from wirecheck.judge.purpose import is_class_2
from wirecheck.language.syntax import ExpectRuns, Word
from wirecheck.model.board import Board, Expectation, Join, Panel, Terminal
from wirecheck.model.devices import callers, every_device
from wirecheck.model.expectations import words_of

Value = TypeVar("Value")

# What has no system of its own stands on the first of the boards.
REST = 0


def systems(board: Board, every: bool = False) -> tuple[Board, ...]:
    """What makes no calls or shares more than a panel, as one board, and then each system.

    Parameters
    ----------
    every : whether what makes no calls comes apart too, by the breakers that feed it

    Returns
    -------
    Boards that together hold all of it; the board itself where it is one system or none. A line for
    `idle` stands on each, with what it names there, and so does the first mistake of each kind in the
    text, since it may hide something anywhere.
    """
    owner = _owners(board)
    head = together(board, board.sources)
    apart_too = dict.fromkeys(head[name] for name in board.breakers) if every else _apart(board, head)
    number = {first: place for place, first in enumerate(apart_too, REST + 1)}
    if not number or (len(number) == 1 and not set(head.values()) - number.keys()):
        return (board,)
    at = {name: number.get(first, REST) for name, first in head.items()}
    of = {point: at.get(name, REST) for point, name in owner.items()}
    count = len(number) + 1

    def apart(things: Mapping[str, Value], where: Mapping[str, int]) -> list[dict[str, Value]]:
        told: list[dict[str, Value]] = [{} for _ in range(count)]
        for name, thing in things.items():
            told[where.get(name, REST)][name] = thing
        return told

    devices, breakers, boxes = apart(board.devices, at), apart(board.breakers, at), apart(board.boxes, at)
    runs, raceways = apart(board.runs, at), apart(board.raceways, at)
    conductors = apart(board.conductors, {one.name: at[one.run] for one in board.conductors.values()})
    terminals = apart(board.terminals, of)
    screws = apart(board.screws, {screw: of[name] for screw, name in board.screws.items()})
    capped = apart(board.capped, of)
    joins: list[list[Join]] = [[] for _ in range(count)]
    for join in board.joins:
        joins[next((at[name] for name in _joined(join, owner, board.sources)), REST)].append(join)
    bars: dict[str, dict[str, Terminal]] = {panel: {} for panel in board.sources}
    for name, terminal in board.terminals.items():
        if terminal.owner in bars:
            bars[terminal.owner][name] = terminals[REST].pop(name)
    lines = _lines(board, at, count)
    known = callers(board)
    shared = frozenset(call for call, makers in known.items() if len(makers) > 1)
    mistakes = {(said.rule, said.later): said for said in reversed(board.problems)}
    return tuple(
        board._replace(
            panels=panels,
            breakers=breakers[each],
            boxes=boxes[each],
            runs=runs[each],
            conductors=conductors[each],
            raceways=raceways[each],
            devices=devices[each],
            terminals={name: bar for panel in panels for name, bar in bars.get(panel, {}).items()}
            | terminals[each],
            screws=screws[each],
            joins=tuple(joins[each]),
            capped=capped[each],
            expectations=tuple(lines[each]),
            problems=board.problems if each == REST else tuple(mistakes.values()),
            remarks=board.remarks if each == REST else (),
            made_by_several=shared,
            altered=tuple(one for one in board.altered if at.get(one.device, REST) == each),
            sensed={control: one for control, one in board.sensed.items() if at.get(control, REST) == each},
        )
        for each, panels in enumerate(_panels(board, at, count))
    )


def together(board: Board, panels: Iterable[str]) -> dict[str, str]:
    """For each thing of a board, the one that stands for its piece; `panels` hold nothing together."""
    things = (*board.devices, *board.breakers, *board.boxes, *board.runs, *board.subpanels)
    return pieces(things, _ties(board, _owners(board), frozenset(panels)))


def _owners(board: Board) -> dict[str, str]:
    """What each terminal, each conductor and each conductor's end belongs to."""
    inside = {device.name: device.outer for device in every_device(board.devices)}
    owner = {name: inside.get(one.owner, one.owner) for name, one in board.terminals.items()}
    for conductor in board.conductors.values():
        owner |= dict.fromkeys((conductor.name, *conductor.ends), conductor.run)
    return owner


def _joined(join: Join, owner: Mapping[str, str], panels: Container[str]) -> Iterator[str]:
    """What a join holds together; the bars of such panels hold nothing together."""
    for member in join.members:
        name = owner.get(member.point)
        if name is not None and name not in panels:
            yield name


def _ties(board: Board, owner: Mapping[str, str], panels: Container[str]) -> Iterator[tuple[str, str]]:
    """What has to do with each other: by copper, by a place, a raceway, a handle, a line."""
    for device in board.devices.values():
        yield from _in_place(panels, device.name, device.place)
    for name, places in _ends(board):
        for place in places:
            yield from _in_place(panels, name, place)
    for raceway in board.raceways.values():
        yield from ((raceway.name, run) for run in raceway.runs)
    for bundle in dict.fromkeys(board.bundles.values()):
        yield from pairwise(bundle.runs)
    for breaker in board.breakers.values():
        yield from _in_place(panels, breaker.name, breaker.panel)
    yield from board.handle_ties
    for join in board.joins:
        yield from pairwise(_joined(join, owner, panels))
    for control, sensed in board.sensed.items():
        yield from pairwise((control, *sensed.things))
    makers = callers(board)
    for line in board.expectations:
        yield from pairwise(_named(line, board, makers))


def _ends(board: Board) -> Iterator[tuple[str, tuple[str, str]]]:
    """Each cable, wire and raceway, with the two places that it joins."""
    yield from ((run.name, (run.ends[0].place, run.ends[1].place)) for run in board.runs.values())
    yield from ((raceway.name, raceway.places) for raceway in board.raceways.values())


def _in_place(panels: Container[str], name: str, place: str) -> Iterator[tuple[str, str]]:
    if place not in panels:
        yield name, place


def _named(line: Expectation, board: Board, makers: Mapping[str, tuple[str, ...]]) -> Iterator[str]:
    """The devices on the board that a line speaks of."""
    words = () if isinstance(line, ExpectRuns) and _for_idle(line) else words_of(line).all
    for word in words:
        for name in makers.get(word.text, (word.text,)):
            yield from (one for one in (name, word.path[0]) if one in board.devices)


def _for_idle(line: ExpectRuns) -> bool:
    return all(word.text == "idle" for word in line.calls)


def _apart(board: Board, head: Mapping[str, str]) -> Iterator[str]:
    """The piece of each system: it makes calls, has a breaker, and brings no Class 2 wire to a panel."""
    fed = {head[name] for name in board.breakers}
    mixed = {
        head[one.run]
        for one in board.conductors.values()
        if is_class_2(one) and not board.panels.keys().isdisjoint(one.places)
    }
    calling = (head[device.outer] for device in every_device(board.devices) if device.part.calls)
    yield from (first for first in dict.fromkeys(calling) if first in fed and first not in mixed)


def _lines(board: Board, at: Mapping[str, int], count: int) -> list[list[Expectation]]:
    """The `expect` lines of each system."""
    told: list[list[Expectation]] = [[] for _ in range(count)]
    makers = callers(board)
    for line in board.expectations:
        if isinstance(line, ExpectRuns) and _for_idle(line):
            steps: list[list[tuple[Word, bool]]] = [[] for _ in range(count)]
            for step in line.steps:
                steps[at.get(step[0].path[0], REST)].append(step)
            for lines, named in zip(told, steps, strict=True):
                lines.append(line._replace(steps=tuple(named)))
        else:
            told[next((at[name] for name in _named(line, board, makers)), REST)].append(line)
    return told


def _panels(board: Board, at: Mapping[str, int], count: int) -> Iterator[dict[str, Panel]]:
    """The panels that each system comes to, and all of them for the rest."""
    touched: list[set[str]] = [set() for _ in range(count)]
    touched[REST] |= board.sources.keys()
    for name in board.subpanels:
        touched[at[name]].add(name)
    for breaker in board.breakers.values():
        touched[at[breaker.name]].add(breaker.panel)
    for name, places in _ends(board):
        touched[at.get(name, REST)].update(places)
    for device in board.devices.values():
        touched[at[device.name]].add(device.place)
    order = {name: place for place, name in enumerate(board.panels)}
    for there in touched:
        yield {name: board.panels[name] for name in sorted(there & order.keys(), key=order.__getitem__)}

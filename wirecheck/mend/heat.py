"""Where the problems of a board point, and how much: at names, at copper, at places."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from wirecheck.circuit.circuit import Variable
from wirecheck.circuit.routes import Zone
from wirecheck.judge.case import Case
from wirecheck.judge.finding import SEVERITIES
from wirecheck.judge.guards import Guarded
from wirecheck.judge.problem import Problem
from wirecheck.judge.record import Record
from wirecheck.mend.bench import Item
from wirecheck.model.board import Conductor, Join, Member

# On a board of so few boxes and devices, the places are tried too that no problem points at.
FEW = 16


class Heat(NamedTuple):
    """How much the problems point at each name, piece of copper and place.

    `narrow` is so where the board is too large to look where they do not point.
    """

    names: Mapping[str, float]
    copper: Mapping[int, float]
    places: Mapping[str, float]
    narrow: bool

    def of(self, item: Item) -> float:
        """How much they point at an end or a screw."""
        return (
            self.names.get(f"{item.name}@{item.place}", 0.0)
            + self.names.get(item.wire or item.name, 0.0) / 2
            + self.copper.get(item.copper, 0.0) / 2
            + self.places.get(item.place, 0.0) / 2
        )


def pointed(problems: Sequence[Problem], case: Case) -> Heat:
    """How much some problems point at all that there is on a board."""
    names: dict[str, float] = {}
    copper: dict[int, float] = {}
    places: dict[str, float] = {}
    board = case.board
    for problem in problems:
        weight = 1.0 - SEVERITIES.index(problem.severity) / 10
        for piece in problem.copper:
            _add(copper, piece, weight)
        for one in objects(problem):
            if isinstance(one, Join):
                _add(places, one.place, weight)
                for member in one.members:
                    if member.kind != "pigtail":
                        _add(names, f"{member.by_place}@{one.place}", weight)
            elif isinstance(one, Member):
                _add(names, one.screw or one.name, weight)
            elif isinstance(one, Conductor):
                _add(names, one.name, weight)
                for place in one.places:
                    _add(places, place, weight / 2)
            else:
                named, where = getattr(one, "name", None), getattr(one, "place", None)
                if isinstance(named, str):
                    _add(names, named, weight)
                    device = board.devices.get(named)
                    if device is None and isinstance(one, Variable) and one.device in case.circuit.devices:
                        # A switch inside of something is joined by the screws of that.
                        device = board.devices.get(case.circuit.devices[one.device].outer)
                    if device is not None:
                        for terminal in device.part.terminals:
                            _add(names, f"{device.name}.{terminal}@{device.place}", weight / 2)
                if isinstance(where, str):
                    _add(places, where, weight)
    return Heat(names, copper, places, len(board.boxes) + len(board.devices) > FEW)


def _add(told: dict[Any, float], key: object, weight: float) -> None:
    told[key] = max(told.get(key, 0.0), weight)


def objects(problem: Problem, circuits: bool = True) -> Iterator[object]:
    """Everything of the board that a problem holds; what hangs on a breaker that it names only if asked."""
    yield problem.at.of
    if problem.about is not None:
        yield problem.about
    for name in problem.fields:
        yield from _inside(getattr(problem, name), circuits)


def _inside(value: object, circuits: bool) -> Iterator[object]:
    if isinstance(value, Guarded | Zone) and not circuits:
        return
    if (hasattr(value, "name") and hasattr(value, "span")) or isinstance(value, Join):
        yield value
    elif isinstance(value, Record):
        for name in value.fields:
            yield from _inside(getattr(value, name), circuits)
    elif isinstance(value, tuple | list | frozenset):
        for each in value:
            yield from _inside(each, circuits)

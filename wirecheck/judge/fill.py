"""How full each box is: the room that it has, and the room that its contents need."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from typing import NamedTuple

from wirecheck.judge.case import Case
from wirecheck.judge.limit import over
from wirecheck.judge.purpose import is_grounding
from wirecheck.judge.question import question
from wirecheck.model.board import Addition, Board, Box, Conductor, Device
from wirecheck.tables.boxes import Allowance, allowances, box_fill, box_volume
from wirecheck.tables.code import Code
from wirecheck.tables.published import NotInTable
from wirecheck.tables.sizes import area


class Filling(NamedTuple):
    """What a box holds and what is in it, in cubic meters.

    `volume` is None where the board does not give it or no table has its trade size; `fill` where
    a conductor is larger than those that are counted (314.28). `allowances` are the arithmetic of
    `fill`, and `yokes` the devices of those that are for a yoke, in their order.
    """

    box: Box
    volume: float | None
    fill: float | None
    allowances: tuple[Allowance, ...]
    yokes: tuple[Device, ...]

    @property
    def over(self) -> bool:
        """Whether more is in it than it holds, as far as both are known."""
        return self.volume is not None and self.fill is not None and over(self.fill, self.volume)


@question
def fillings(case: Case) -> tuple[Filling, ...]:
    """The filling of every box."""
    board = case.board
    entering: dict[str, list[Conductor]] = {}
    for conductor in board.conductors.values():
        one, other = conductor.places
        # What begins and ends in the same box is not counted: 314.16(B)(1).
        if one != other:
            for place in conductor.places:
                entering.setdefault(place, []).append(conductor)
    devices: dict[str, list[Device]] = {}
    for device in board.devices.values():
        devices.setdefault(device.place, []).append(device)
    on_device = _sizes_on_devices(board)
    return tuple(
        _filling(box, entering.get(box.name, ()), devices.get(box.name, ()), on_device, case.code)
        for box in board.boxes.values()
    )


def _filling(
    box: Box,
    conductors: Sequence[Conductor],
    devices: Sequence[Device],
    on_device: Mapping[str, set[str]],
    code: Code,
) -> Filling:
    grounds = [one.size for one in conductors if is_grounding(one)]
    insulated = [one.size for one in conductors if not is_grounding(one)]
    yokes = [device for device in devices if device.part.fills.get("yoke")] if conductors else []
    needed = allowances(
        insulated,
        grounds,
        [
            (_largest(on_device.get(device.name) or (*insulated, *grounds)), int(device.part.fills["yoke"]))
            for device in yokes
        ],
        box.clamps,
        sum(int(device.part.fills.get("fitting", 0)) for device in devices),
        code=code,
    )
    volume = fill = None
    with suppress(NotInTable):
        volume = _volume(box, code)
    with suppress(NotInTable):
        fill = box_fill(needed, code=code)
    return Filling(box, volume, fill, needed, tuple(yokes))


def _volume(box: Box, code: Code) -> float | None:
    """The volume of a box with what is put on it; None where the board does not give it."""
    own = own_volume(box, code)
    return own if own is None else own + sum(added_volume(box, one, code) for one in box.added)


def own_volume(box: Box, code: Code) -> float | None:
    """The box's own volume: as stamped, else by its trade size; device boxes ganged together add up."""
    if box.volume is not None:
        return box.volume
    if box.trade_size is None:
        return None
    return box_volume(box.kind, box.trade_size, code=code) * (box.gangs or 1 if box.kind == "device" else 1)


def added_volume(box: Box, added: Addition, code: Code) -> float:
    """What a ring, an extension or a cover adds: what is marked on it, or what a box of its size has."""
    if added.volume is not None:
        return added.volume
    return 0.0 if added.trade_size is None else box_volume(box.kind, added.trade_size, code=code)


def _sizes_on_devices(board: Board) -> dict[str, set[str]]:
    """The sizes of the conductors on each device.

    Where no line gives the size of a pigtail, it is taken as large as the largest of its splice; a
    ground's as small as the smallest, since a device needs no larger ground than its own
    circuit (Table 250.122).
    """
    on_device: dict[str, set[str]] = {}
    for join in board.joins:
        spliced = {board.conductors[one.name].size for one in join.splice if one.kind == "end"}
        for name, members in join.under.items():
            terminal = board.terminals[name]
            sizes = on_device.setdefault(terminal.owner, set())
            for member in members:
                if member.kind == "end":
                    sizes.add(board.conductors[member.name].size)
                elif member.size is not None:
                    sizes.add(member.size)
                elif member.kind == "pigtail" and terminal.spec.role == "ground" and spliced:
                    sizes.add(min(spliced, key=area))
                elif member.kind == "pigtail":
                    sizes |= spliced
    return on_device


def _largest(sizes: Iterable[str]) -> str:
    return max(sizes, key=area)

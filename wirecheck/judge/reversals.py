"""Which devices have the hot on the side where the neutral belongs, and the line where it goes over."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import NamedTuple

from wirecheck.judge.blame import changes
from wirecheck.judge.case import Case
from wirecheck.judge.question import question
from wirecheck.judge.source import bars, legs
from wirecheck.judge.ways import way
from wirecheck.model.board import Device, Join, Terminal


class Crossed(NamedTuple):
    """A way from a screw of a device to the wrong side of its source.

    `join` is where it goes over to that side, nearest to the source; at the screw itself, where
    no wire says otherwise. There `inner` is the point on the side of the screw and `outer` the
    one on the side of the source. `before` are the points of the way from the screw to there.
    """

    join: Join
    inner: str
    outer: str
    before: tuple[str, ...]


class Reversal(NamedTuple):
    """A device with a hot on its neutral screw, switched or not.

    `hot` leads from that screw to a leg, `neutral` from a hot screw of the device to a neutral
    bar, where there is such a way too.
    """

    device: Device
    screw: Terminal
    hot: Crossed
    neutral: Crossed | None


@question
def reversals(case: Case) -> tuple[Reversal, ...]:
    """Every such device, by the first of its neutral screws."""
    found: dict[str, Reversal] = {}
    for screw in case.board.terminals.values():
        device = case.board.devices.get(screw.owner)
        if (
            device is not None
            and device.name not in found
            and screw.spec.role == "neutral"
            and case.uses.of(screw.name) in ("hot", "switched")
        ):
            hot = _crossed(case, screw, legs(case))
            found[device.name] = Reversal(device, screw, hot, next(_neutrals(case, device), None))
    return tuple(found.values())


def _neutrals(case: Case, device: Device) -> Iterator[Crossed]:
    """The ways from the hot screws of a device to a neutral bar."""
    for screw in case.board.terminals.values():
        if (
            screw.owner == device.name
            and screw.spec.role == "hot"
            and case.uses.of(screw.name) in ("neutral", "switched-neutral")
        ):
            yield _crossed(case, screw, bars(case, "neutral"))


def _crossed(case: Case, screw: Terminal, targets: Collection[str]) -> Crossed:
    found = way(case, [screw.name], targets)
    # What copper is used for it gets by some way.
    assert found is not None
    over = changes(found, case)
    join, before = over[-1] if over else (found.joins[0], found.points)
    index = found.elements.index(join)
    return Crossed(join, found.points[index], found.points[index + 1], before)

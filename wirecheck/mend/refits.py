"""Devices as other parts with the same outlets: a receptacle whose tab is in place, or broken out."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.language.syntax import DeviceStatement, JoinStatement, Word
from wirecheck.mend.edits import SIDES, Change, Refit, Side
from wirecheck.mend.sheet import Sheet, as_join, how, names
from wirecheck.mend.values import changed_at
from wirecheck.model.board import Device
from wirecheck.parts.library import Library
from wirecheck.parts.part import OutletSpec, Part


def refits(device: Device, sheet: Sheet, library: Library) -> Iterator[Refit]:
    """A device as each part that has its outlets by name, its wires on the screws of those outlets."""
    if len(device.part.outlets) < 2 or device.inside or device.part.protections:
        return
    number, said = next(
        (number, line.statement)
        for number, line in enumerate(sheet.lines)
        if isinstance(line.statement, DeviceStatement) and line.statement.name.text == device.name
    )
    if not isinstance(said, DeviceStatement) or sheet.lines[number].written is not None:
        return
    for name in library.names():
        other = library.part(name) if name != device.part.name else None
        if other is None or not _alike(device.part, other):
            continue
        line = changed_at(number, device.name, "part", said.part.span, name, sheet)
        for order in (1, -1):
            joins = _on_its_screws(device, other, sheet, order)
            if joins is not None:
                out, back = _tabs(device.part, other), _tabs(other, device.part)
                yield Refit(device.name, device.part.name, name, (line, *joins), out, back)


def _alike(part: Part, other: Part) -> bool:
    """Whether they look the same from the front, and have other screws."""
    return (
        [one.name for one in _by_name(part)] == [one.name for one in _by_name(other)]
        and part.fills == other.fills
        and part.terminals.keys() != other.terminals.keys()
        and not other.protections
    )


def _tabs(part: Part, other: Part) -> tuple[Side, ...]:
    """The sides on which a tab joins the outlets of a part, and none those of the other."""
    return tuple(side for side in SIDES if _are_one(part, side) and not _are_one(other, side))


def _are_one(part: Part, side: Side) -> bool:
    """Whether a side of all outlets is one piece."""
    hots, neutrals = {one.hot for one in part.outlets}, {one.neutral for one in part.outlets}
    return len(hots if side == "hot" else neutrals) == 1


def _by_name(part: Part) -> list[OutletSpec]:
    return sorted(part.outlets, key=lambda one: one.name)


def _on_its_screws(device: Device, other: Part, sheet: Sheet, order: int) -> tuple[Change, ...] | None:
    """The joins of a device on the screws that another part has for the same outlets; None where one lacks.

    Where one screw becomes two, the first join goes to the first, or to the last by `order`.
    """
    there: dict[str, list[str]] = {}
    for was, now in zip(_by_name(device.part), _by_name(other), strict=True):
        for screw, target in ((was.hot, now.hot), (was.neutral, now.neutral), (was.ground, now.ground)):
            if screw and target and target not in there.setdefault(screw, []):
                there[screw].append(target)
    used: dict[str, int] = {}
    of_several = _of_several(device.part)
    several = {screw for screw, _ in _of_several(other).values()}
    changes = []
    for number, line in enumerate(sheet.lines):
        said = line.statement
        if not isinstance(said, JoinStatement):
            continue
        members = []
        for name, mark in names(said):
            word = Word(name, said.span) if name is not None else None
            if word is None or word.within != device.name:
                members.append((name, mark))
                continue
            screw, which = of_several.get(word.inside, (word.inside, None))
            targets = there.get(screw, [])[::order]
            if not targets:
                return None
            place = used.setdefault(screw, 0) if which is None else which - 1
            used[screw] = place + 1
            target = targets[min(place, len(targets) - 1)]
            if which is not None and target in several:
                target = f"{target}-{which}"
            members.append((f"{device.name}.{target}", mark))
        if tuple(members) != names(said):
            changes.append(Change(number, device.name, "join", "", "", as_join(tuple(members), how(said))))
    return tuple(changes)


def _of_several(part: Part) -> dict[str, tuple[str, int]]:
    """Each screw of those that are one side of a device, by its own name: the terminal, and which it is."""
    return {
        f"{name}-{which}": (name, which)
        for name, spec in part.terminals.items()
        for which in range(1, spec.screws + 1)
        if spec.screws > 1
    }

"""An outlet of three wires as one of four, on a cable that has a neutral and a ground of its own."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wirecheck.language.syntax import (
    CableStatement,
    CapStatement,
    DeviceStatement,
    JoinStatement,
    Quantity,
    Span,
    Word,
)
from wirecheck.mend.edits import Change, Renew
from wirecheck.mend.sheet import Sheet, as_join, how, names
from wirecheck.mend.values import changed_at
from wirecheck.model.board import Board, Device, Run
from wirecheck.parts.library import Library
from wirecheck.parts.part import Part

# What cable has two hots, a white and a ground, of copper and of aluminum, and what its wires take over from
# the two hots and the bare one that were there: by the colors of these.
COPPER, ALUMINUM = "NM-B", "SER"
TAKES_OVER: Mapping[tuple[str, ...], Mapping[str, str]] = {
    ("black", "red", "bare"): {"bare": "white"},
    ("black", "white", "bare"): {"white": "red", "bare": "white"},
}
# What a line may say of an outlet on three wires alone: that it was found so, or was not.
OF_THREE = ("existing", "new")


def renewals(device: Device, board: Board, sheet: Sheet, library: Library) -> Iterator[Renew]:
    """A device whose outlets have no ground, as the part that is the same but for that, on a new cable."""
    if not device.part.outlets or any(one.ground for one in device.part.outlets):
        return
    for name in library.names():
        other = library.part(name) if name != device.part.name else None
        ground = _ground(device.part, other) if other is not None else None
        for run in _feeding(device, board) if ground is not None else ():
            colors = tuple(one.color for one in run.conductors)
            panel = next((end.place for end in run.ends if end.place in board.panels), None)
            if colors in TAKES_OVER and panel is not None:
                kind = ALUMINUM if run.conductors[0].material == "aluminum" else COPPER
                changes = _changes(device, name, run, kind, sheet)
                if changes is not None:
                    metal = (f"{device.place}.ground",) if f"{device.place}.ground" in board.terminals else ()
                    own = (f"{device.name}.{ground}", *(one for one in metal if device.place != device.name))
                    yield Renew(
                        device.name,
                        device.part.name,
                        name,
                        changes,
                        run.name,
                        f"{run.conductors[0].size}/3 {kind}",
                        ((panel, (f"{panel}.ground",)), (device.place, own)),
                    )


def _ground(part: Part, other: Part) -> str | None:
    """The screw for the ground that another part has more than this one; None where more is different."""
    more = other.terminals.keys() - part.terminals.keys()
    grounds = [name for name in more if other.terminals[name].role == "ground"]
    same = part.terminals.keys() <= other.terminals.keys() and part.fills == other.fills
    same = same and _outlets(part) == _outlets(other) and part.ratings.keys() >= other.ratings.keys()
    return grounds[0] if same and len(more) == len(grounds) == 1 else None


def _outlets(part: Part) -> list[tuple[str, str, str, float]]:
    """What plugs in, by the screws and the volts of each."""
    return sorted(
        (one.name, one.hot, one.neutral, one.volts.value if isinstance(one.volts, Quantity) else 0.0)
        for one in part.outlets
    )


def _feeding(device: Device, board: Board) -> Iterator[Run]:
    """The cable that alone brings all that is on the screws of a device."""
    wires = {
        member.name
        for join in board.joins
        if any(board.terminals[name].owner == device.name for name in join.under)
        for member in join.members
        if member.kind == "end"
    }
    runs = {board.conductors[name].run for name in wires}
    if len(runs) == 1:
        (run,) = runs
        if wires == {one.name for one in board.runs[run].conductors} and board.runs[run].jacketed:
            yield board.runs[run]


def _changes(device: Device, other: str, run: Run, kind: str, sheet: Sheet) -> tuple[Change, ...] | None:
    """The lines of the device, the cable and its joins as they should be; None where one cannot be so."""
    over = TAKES_OVER[tuple(one.color for one in run.conductors)]
    renamed = {f"{run.name}.{was}": f"{run.name}.{now}" for was, now in over.items()}
    own = {one.name for one in run.conductors}
    changes: list[Change] = []
    for number, line in enumerate(sheet.lines):
        said = line.statement
        match said:
            case CapStatement() if said.name.text in own:
                return None
            case DeviceStatement() if said.name.text == device.name:
                span = _of_part(said)
                if span is None:
                    return None
                changes.append(changed_at(number, device.name, "part", span, other, sheet))
            case CableStatement() if said.name.text == run.name:
                size, last = said.size.span, said.kind.span
                span = Span(size.line, size.column, last.end_line, last.end_column)
                now = f"{said.size.text}/3 {kind}"
                changes.append(changed_at(number, run.name, "cores", span, now, sheet))
            case JoinStatement() if any(name in own for name, _ in names(said)):
                # A white that was a hot is the neutral now, and no mark is on it.
                members = tuple(
                    (renamed[name], None) if name in renamed else (name, mark) for name, mark in names(said)
                )
                changes.append(Change(number, device.name, "join", "", "", as_join(members, how(said))))
            case _:
                continue
        if line.written is not None:
            return None
    return tuple(changes)


def _of_part(said: DeviceStatement) -> Span | None:
    """Where a line says its part, and with it what only an outlet on three wires may be."""
    words = [one for one in said.settings if isinstance(one.value, Word) and one.value.text in OF_THREE]
    if len(words) < len(said.settings):
        return None
    last = words[-1].span if words else said.part.span
    return Span(said.part.span.line, said.part.span.column, last.end_line, last.end_column)

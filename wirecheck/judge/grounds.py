"""What is grounded: the copper and metal that hold grounds together, and what of it reaches a ground bar."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from wirecheck.circuit.pieces import pieces
from wirecheck.judge import flexible, made_up, old_work, purpose
from wirecheck.judge.case import Case
from wirecheck.judge.grouped import grouped
from wirecheck.judge.question import question
from wirecheck.model.board import Conductor, Terminal
from wirecheck.tables import raceways


class Grounding(NamedTuple):
    """`piece` gives each screw, and each end of a grounding conductor, the piece that it is in.

    `bars` are the pieces that hold the ground bar of a source, `home` those and what reaches them by flexible
    conduit; `lost` are the ground screws of all others.
    """

    piece: Mapping[str, str]
    bars: frozenset[str]
    home: frozenset[str]
    lost: Mapping[str, tuple[Terminal, ...]]

    def is_grounded(self, point: str) -> bool:
        """Whether a screw or a grounding conductor's end has a way to a ground bar."""
        return self.piece[point] in self.home


@question
def grounding(case: Case) -> Grounding:
    """The pieces that splices, grounding conductors and metal raceways hold together.

    A panel's neutral bar is left out, and so are wires of other colors: what comes home by them
    is not grounded.
    """
    board = case.board
    piece = pieces(board.terminals, ties(case))
    bars = frozenset(piece[f"{panel}.ground"] for panel in board.sources)
    home = flexible.home(case, piece, bars)
    lost = grouped(
        (piece[terminal.name], terminal)
        for terminal in board.terminals.values()
        if terminal.spec.role == "ground" and piece[terminal.name] not in home and _is_asked(case, terminal)
    )
    return Grounding(piece, bars, home, lost)


def _is_asked(case: Case, terminal: Terminal) -> bool:
    """Whether a ground is asked of what a screw belongs to: not of an electrode, nor where all is Class 2.

    Nor is it asked of the metal box of a range or dryer in old work, which the neutral grounds.

    What is fed by Class 2 alone may be left without a ground, be it a switch, a motor or a box (250.112(I)).
    """
    board, owner = case.board, terminal.owner
    if "electrode" in terminal.spec.flags or terminal.name in old_work.metal_on_neutral(case):
        return False
    if owner in board.boxes:
        points = [
            end
            for conductor in board.conductors.values()
            for place, end in zip(conductor.places, conductor.ends, strict=True)
            if place == owner
        ]
    else:
        points = [one for one in made_up.joins(case) if one in board.terminals]
        points = [one for one in points if board.terminals[one].owner == owner]
    uses = {case.uses.of(point) for point in points}
    return "class-2" not in uses or not uses <= {"class-2", "ground", "none"}


@question
def ties(case: Case) -> tuple[tuple[str, str], ...]:
    """The pairs of points that grounding copper and metal raceways hold together."""
    board = case.board
    bars = {(f"{panel}.neutral", f"{panel}.ground") for panel in board.panels}
    told = [(a, b) for a, b, _ in case.circuit.bonds if (a, b) not in bars]
    told += ((wire.a, wire.b) for wire in case.circuit.wires if purpose.is_grounding(wire.conductor))
    # Where rigid conduit or armor enters a panel, a metal box or a device with a ground screw, it is bonded
    # to that.
    metal = [(raceway.kind, raceway.size, raceway.places) for raceway in board.raceways.values()]
    metal += ((run.kind, 0.0, (run.ends[0].place, run.ends[1].place)) for run in board.runs.values())
    for kind, size, places in metal:
        terms = raceways.grounds(kind, size, code=case.code)
        one, other = (f"{place}.ground" for place in places)
        if terms is not None and terms.amps is None and one in board.terminals and other in board.terminals:
            told.append((one, other))
    told += _mounted(case)
    return tuple(told)


def _mounted(case: Case) -> Iterator[tuple[str, str]]:
    """The frames that no wire is on, and the metal that their own fasteners bond them to.

    So are motors, contactors and switches bonded in a metal box (250.109, 404.9(B)(1)); a receptacle has
    a wire of its own (250.146), and so has what comes with a lead for it.
    """
    screws = case.board.terminals
    for device in case.board.devices.values():
        for name, spec in device.part.terminals.items():
            frame, metal = f"{device.name}.{name}", f"{device.place}.ground"
            bonds = spec.role == "ground" and "lead" not in spec.flags and not device.part.outlets
            if bonds and device.place != device.name and metal in screws and frame not in made_up.joins(case):
                yield frame, metal


@question
def to_electrodes(case: Case) -> tuple[tuple[Conductor, int], ...]:
    """The conductors that an electrode is wired with, and which of their ends (0 or 1) is not at it."""
    clamps = [one for one in case.board.terminals.values() if "electrode" in one.spec.flags]
    on = {case.circuit.node[one.name] for one in clamps}
    return tuple(
        (conductor, 1 - which)
        for conductor in (case.board.conductors.values() if clamps else ())
        for which, end in enumerate(conductor.ends)
        if case.circuit.node[end] in on
    )


@question
def unlanded(case: Case) -> tuple[tuple[Conductor, int], ...]:
    """The grounding conductors' ends (0 or 1) that lie in a panel and are joined to nothing there."""
    return tuple(
        (conductor, which)
        for conductor in case.board.conductors.values()
        if purpose.is_grounding(conductor)
        for which, (place, end) in enumerate(zip(conductor.places, conductor.ends, strict=True))
        if place in case.board.panels and end not in made_up.joins(case)
    )


@question
def landed(case: Case) -> frozenset[str]:
    """The pieces, by their names in `grounding`, that are home once every ground of a panel is landed."""
    known = grounding(case)
    ends = [
        (conductor.ends[which], f"{conductor.places[which]}.ground") for conductor, which in unlanded(case)
    ]
    ends += ((one.a, one.b) for one in flexible.flexible(case) if one.reason is None)
    later = pieces(
        dict.fromkeys(known.piece.values()), ((known.piece[one], known.piece[other]) for one, other in ends)
    )
    home = {later[one] for one in known.home}
    return frozenset(one for one, head in later.items() if head in home)

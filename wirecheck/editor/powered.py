"""What a meter shows at a point of a board, and what flows there, at rest and in each call."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wirecheck.editor.found import library_of
from wirecheck.language.reader import read

if TYPE_CHECKING:
    from wirecheck.circuit.settle import Settled
    from wirecheck.model.board import Board

MOST_WIRES = 4
"""Of so many wires under a screw is told what flows in each; of more, of none."""


def powered(path: str | None, text: str, file: str, name: str) -> tuple[str, ...]:
    """Volts at a screw or along a wire, and amperes in the wires there: a row for the states that are alike.

    The volts of a circuit that is not grounded are to its transformer's return, all others to ground.
    Nothing is told where a line of the board could not be taken, since with it they may be others.

    Parameters
    ----------
    path : where the text's file is, beside which its own parts may lie; None where it is in no file yet
    name : the screw's, or the wire's

    Examples
    --------
    >>> shed = 'board "Shed"\\npanel LP 120 V, 10 kA available\\nbreaker LP.1 15 A'
    >>> powered(None, shed, "-", "LP.1"), powered(None, shed + "\\nbreaker", "-", "LP.1")
    (('At rest: 120 V to ground',), ())
    """
    from wirecheck.circuit.work import WorkEnds
    from wirecheck.judge.case import Case
    from wirecheck.judge.state_name import StateName
    from wirecheck.model.build import build
    from wirecheck.report.plain import plain
    from wirecheck.report.verdict import no_answer

    board = build(read(text, file), library_of(path))
    if board.problems:
        return ()
    case = Case(board)
    alike: dict[str, list[str]] = {}
    try:
        for calls in ((), *((call,) for call in case.calls)):
            shown = _shown(case.standing({}, calls), name)
            alike.setdefault(shown, []).append(StateName(calls=calls).when())
    except WorkEnds:
        return ()
    rows = [f"{' or '.join(states).capitalize()}: {shown}" for shown, states in alike.items() if shown]
    return tuple(plain(row) for row in (*rows, no_answer(case.left_out) if rows else "") if row)


def _shown(settled: Settled, name: str) -> str:
    """What is measured there in a state; nothing where the name is of no point, or nothing comes to rest."""
    from wirecheck.circuit import meter
    from wirecheck.report.openings import opened

    node, board = settled.circuit.node, settled.circuit.board
    wire = board.conductors.get(name)
    ends = wire.ends if wire else (board.screws.get(name, name),)
    earth = next((point for point, number in node.items() if number == 0), None)
    if settled.chattering or earth is None or any(end not in node for end in ends):
        return ""
    volts: dict[str, list[str]] = {}
    for end, place in zip(ends, wire.places if wire else ("",), strict=True):
        to = _return_of(settled, end)
        reads = meter.volts(settled, end, to or earth)
        word = ", phantom" if reads.phantom else ", floating" if reads.floating else ""
        display = reads._replace(phantom=False, floating=False).text
        volts.setdefault(f"{display} to {to or 'ground'}{word}", []).append(place)
    told = list(volts) if len(volts) == 1 else [f"{one} at {there[0]}" for one, there in volts.items()]
    if wire:
        told.append(meter.amps(settled, name).text)
    else:
        told += [f"{meter.amps(settled, one).text} in {one}" for one in _wires(board, name)]
    return ", ".join([*told, *(opened(one) for one in settled.opened)])


def _return_of(settled: Settled, point: str) -> str | None:
    """The return of the transformer that a point is fed from, where that is not grounded: its screw."""
    node, islands = settled.circuit.node, settled.islands
    here = islands[node[point]]
    for winding in settled.circuit.windings:
        end = winding.secondary[1]
        if here == islands[node[end]] != 0:
            there = [one for one in settled.circuit.board.terminals if node.get(one) == node[end]]
            return min(there, key=len, default=end)
    return None


def _wires(board: Board, screw: str) -> list[str]:
    """The wires under a screw, where they are few."""
    points = {member.point for join in board.joins for member in join.under.get(screw, ())}
    wires = [name for name, wire in board.conductors.items() if not points.isdisjoint(wire.ends)]
    return wires if len(wires) <= MOST_WIRES else []

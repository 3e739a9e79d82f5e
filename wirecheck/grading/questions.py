"""A mend as a question: where the student should look again, and not what she would find there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wirecheck.judge.finding import Mend
from wirecheck.language.listing import listed
from wirecheck.model.board import Board


def question(mends: Sequence[Mend], board: Board) -> str:
    """Where to look again; nothing where nothing is known.

    Parameters
    ----------
    mends : any one of which puts the mistake right; the likeliest is asked about
    board : as it was judged

    Examples
    --------
    >>> from wirecheck import assemble
    >>> board = assemble('board "Shed"\\npanel LP 120 V\\nbreaker LP.1 15 A\\nS1 is single-pole-switch')[1]
    >>> question([Mend("", "", (), at=("S1.line", "S1.load"))], board)
    'Look again at the screws of S1.'
    >>> question([Mend("", "", (), at=("LP.1",))], board)
    'Look again at LP.1: is it what belongs there?'
    """
    if not mends:
        return ""
    screws: dict[str, None] = {}
    splices: dict[str, None] = {}
    things: dict[str, None] = {}
    for spot in mends[0].at:
        for kind, name in _where(spot, board):
            {"screws": screws, "splices": splices, "things": things}[kind][name] = None
    asked = [f"the screws of {listed(screws)}"] if screws else []
    asked += [f"the wires in {listed(splices)}"] if splices and not screws else []
    if asked:
        return f"Look again at {' and '.join(asked)}."
    it = "is it what belongs there" if len(things) == 1 else "are they what belongs there"
    return f"Look again at {listed(things)}: {it}?" if things else ""


def asked_about(mends: Sequence[Mend], board: Board) -> tuple[str, ...]:
    """The names of the devices, places and things that the question is about.

    >>> from wirecheck import assemble
    >>> board = assemble('board "Shed"\\nS1 is single-pole-switch')[1]
    >>> asked_about([Mend("", "", (), at=("S1.line", "S1.load"))], board)
    ('S1',)
    """
    spots = mends[0].at if mends else ()
    return tuple(dict.fromkeys(name for spot in spots for _, name in _where(spot, board)))


def _where(spot: str, board: Board) -> Iterator[tuple[str, str]]:
    """The device whose screws a spot is at, or the place in which it is, or the thing that it is."""
    if spot in board.runs or spot in board.breakers or spot in board.boxes or spot in board.devices:
        yield "things", spot
        return
    for join in board.joins:
        points = [member.point for member in join.members]
        if spot in points:
            owners = [
                board.terminals[member.name].owner for member in join.members if member.kind == "terminal"
            ]
            if owners:
                yield from (("screws", owner) for owner in owners)
            else:
                yield "splices", join.place
            return
    terminal = board.terminals.get(spot)
    if terminal is not None:
        yield "screws", terminal.owner
        return
    for wire in board.conductors.values():
        for end, place in zip(wire.ends, wire.places, strict=True):
            if end == spot:
                yield "splices", place
                return
    yield "things", spot

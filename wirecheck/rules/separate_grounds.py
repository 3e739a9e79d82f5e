"""The grounds in a box are not all joined together.

Each may find its own way to the panel, but when one of them opens, whatever is grounded through it
is left without a ground. Joined, each backs up the others, and a fault has the shortest way home.

Source: NEC 250.148
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.pieces import pieces
from wirecheck.judge import made_up
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.problem import Problem, Spot, Words, spot
from wirecheck.judge.purpose import is_grounding
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.model.board import Box, Conductor


class SeparateGrounds(Problem):
    """One wire of each part that is not joined to the others, and where it is joined or capped."""

    box: Box
    parts: tuple[tuple[Conductor, Spot], ...]


def find(case: Case) -> Iterator[SeparateGrounds]:
    """Each box, at the join of its second part.

    A ground that is loose is another matter, and so is one that is capped with the whole of its cable. A
    jumper with both ends in the box joins what is at the one to what is at the other.
    """
    board, together = case.board, _jumpered(case)
    apart: dict[str, dict[int, tuple[Conductor, Spot]]] = {name: {} for name in board.boxes}
    for conductor in board.conductors.values():
        if is_grounding(conductor):
            for place, end in zip(conductor.places, conductor.ends, strict=True):
                made = _made(case, conductor, place, end) if place in apart else None
                if made is not None and case.uses.of(end) == "ground":
                    apart[place].setdefault(together[case.circuit.node[end]], (conductor, made))
    for place, by_node in apart.items():
        parts = tuple(by_node.values())
        if len(parts) > 1:
            yield SeparateGrounds(
                at=parts[1][1],
                about=board.boxes[place],
                severity="violation",
                stage="rough-in",
                copper=frozenset(case.uses.piece[end] for one, _ in parts for end in one.ends),
                box=board.boxes[place],
                parts=parts,
            )


def _jumpered(case: Case) -> dict[int, int]:
    """Of each node the one that stands for it and for all that grounds within one box tie to it."""
    node = case.circuit.node
    grounds = [one for one in case.board.conductors.values() if is_grounding(one)]
    within = [one.ends for one in grounds if one.places[0] == one.places[1]]
    ends = (node[end] for one in grounds for end in one.ends)
    return pieces(ends, ((node[one], node[other]) for one, other in within))


def _made(case: Case, conductor: Conductor, place: str, end: str) -> Spot | None:
    """Where a ground is joined, or capped while what it belongs to is joined in the same place."""
    join = made_up.join_at(case, end)
    if join is not None or end not in case.board.capped:
        return spot(join) if join is not None else None
    beside = (
        other
        for one in case.board.runs[conductor.run].conductors
        for at, other in zip(one.places, one.ends, strict=True)
        if at == place and one is not conductor
    )
    used = any(made_up.join_at(case, other) is not None for other in beside)
    return Spot(case.board.capped[end], conductor) if used else None


def words(problem: SeparateGrounds, case: Case) -> Words:
    """Which grounds are apart, and the one splice for them."""
    place, count = problem.box.name, len(problem.parts)
    names = [conductor.name for conductor, _ in problem.parts]
    return Words(
        message=f"The grounds in {place} are in {count} parts that are not joined: {listed(names)}. Where "
        "one of them opens, nothing stands in for it.",
        help=f"Join all grounds in {place} under one connector, with a pigtail from there to each device: "
        f"{' -- '.join(names)} -- pigtail -- ...",
        source=case.code.section("grounds are joined in each box"),
        value=float(count),
        limit=1.0,
        unit="parts",
        also=tuple(
            Note(f"{conductor.name} is in another part", made.span)
            for conductor, made in (problem.parts[0], *problem.parts[2:])
        ),
    )


RULE = rule(__name__, "rough-in", severities=("violation",), find=find, words=words)

"""Where the numbered flag of each finding stands on a wiring diagram: on what the finding is about."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from wirecheck.circuit.outermost import outermost
from wirecheck.drawing.rooms import Room
from wirecheck.judge.finding import Finding
from wirecheck.judge.problem import Problem
from wirecheck.model.board import Board, Conductor, Join, Point, Run, RunEnd, Terminal
from wirecheck.model.devices import every_device


@dataclass
class Flags:
    """Where the numbered flags stand: by the name of what is drawn, and by a conductor's end.

    Under no name are those of what has no spot of its own: they stand at the title.
    """

    findings: Sequence[Finding]
    at: dict[str, list[int]] = field(default_factory=dict)

    def of(self, name: str) -> list[int]:
        """The numbers of the findings whose flags stand there."""
        return self.at.get(name, [])


def flags(board: Board, rooms: list[Room], findings: Sequence[Finding]) -> Flags:
    """The flag of each finding on what is drawn of the thing that it is about."""
    placed = Flags(findings)
    spots = _Spots(board, rooms)
    for number, finding in enumerate(findings, 1):
        spot = spots.of(finding)
        placed.at.setdefault(spot if spot in spots.drawn else "", []).append(number)
    return placed


class _Spots:
    """What is drawn of a board, by name."""

    def __init__(self, board: Board, rooms: list[Room]) -> None:
        self.board = board
        bundles = [port.bundle for room in rooms for port in (*room.left, *room.right)]
        self.bundle = {wire.run: bundle.name for bundle in bundles for wire in bundle.conductors}
        self.devices = {device.name: device for device in every_device(board.devices)}
        self.drawn = {bundle.name for bundle in bundles}
        for room in rooms:
            self.drawn.add(room.name)
            self.drawn.update(pin.point for pin in room.pins)
            self.drawn.update(body.name for body in room.bodies)
            self.drawn.update(slot.terminal.name for body in room.bodies for slot in body.slots)

    def of(self, finding: Finding) -> str:
        """What the flag of a finding stands on."""
        if finding.problem is None:
            return self.joined_on(finding)
        return self.on(finding.problem) or self.joined_on(finding)

    def on(self, problem: Problem) -> str:
        """What is drawn of the thing that a problem is about."""
        match problem.about:
            case Conductor() as conductor:
                return self.end(conductor, problem.at.of)
            case Terminal(name=name) | Point(name=name) if name in self.drawn:
                return name
            case Run(name=name):
                return self.bundle.get(name, "")
        return outermost(problem.about, self.devices)

    def end(self, conductor: Conductor, changed: object) -> str:
        """The end of a conductor at which the hand changes something; else a loose one; else its first."""
        one, other = conductor.ends
        match changed:
            case Join(members=members):
                points = [member.point for member in members]
                return other if other in points and one not in points else one
            case RunEnd():
                return other if changed is self.board.runs[conductor.run].ends[1] else one
        joined = {member.point for join in self.board.joins for member in join.members}
        loose = (end for end in conductor.ends if end not in joined and end not in self.board.capped)
        return next(loose, one)

    def joined_on(self, finding: Finding) -> str:
        """The first end or screw that is joined on the lines of a finding; nothing where none is."""
        lines = range(finding.span.line, finding.span.end_line + 1)
        joins = (join for join in self.board.joins if join.span.line in lines)
        return next((member.point for join in joins for member in join.members if member.point), "")

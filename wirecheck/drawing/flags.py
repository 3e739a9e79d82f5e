"""Where the numbered flags stand on a wiring diagram.

The flag of a finding is on what the hand would change: what the likeliest mend of it changes, or the screw
that a path should go on to, or what its own line joins. A small one of the same number is on what it is
about, and on each thing that suffers from it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from wirecheck.circuit.outermost import outermost
from wirecheck.drawing.rooms import Room
from wirecheck.judge.continuity import NotJoined, Stop, WithoutCall
from wirecheck.judge.finding import Finding
from wirecheck.judge.problem import Problem
from wirecheck.model.board import Board, Conductor, Device, Join, Panel, Point, Run, RunEnd, Terminal
from wirecheck.model.devices import every_device


class Flag(NamedTuple):
    """A number on a spot, and the finding that says why it is there: itself, or what follows from it.

    `name` is its own on the picture: `finding-1`, and `finding-1-2` where two wires are swapped;
    `suffers-1-1` for a small one.
    """

    name: str
    number: int
    finding: Finding
    small: bool = False


@dataclass
class Flags:
    """Where the numbered flags stand: by the name of what is drawn, and by a conductor's end.

    Under no name are those of what has no spot of its own: they stand at the title.
    """

    findings: Sequence[Finding]
    at: dict[str, list[Flag]] = field(default_factory=dict)

    def of(self, name: str) -> list[Flag]:
        """The flags that stand there."""
        return self.at.get(name, [])


def flags(board: Board, rooms: list[Room], findings: Sequence[Finding]) -> Flags:
    """The flags of each finding on what is drawn of the things that it is about."""
    placed = Flags(findings)
    spots = _Spots(board, rooms)
    for number, finding in enumerate(findings, 1):
        changed = list(spots.changed(finding)) or [spots.of(finding)]
        own = [spots.apart(spot, finding) for spot in changed]
        for count, spot in enumerate(own, 1):
            name = f"finding-{number}" if count == 1 else f"finding-{number}-{count}"
            placed.at.setdefault(spot, []).append(Flag(name, number, finding))
        told = {*changed, *own}
        count = 0
        for one in (finding, *finding.follows):
            spot = spots.of(one)
            # What has no spot of its own is in the list, and is no second flag at the title.
            if spot and spot not in told:
                told.add(spot)
                count += 1
                placed.at.setdefault(spot, []).append(Flag(f"suffers-{number}-{count}", number, one, True))
    return placed


def jumper_name(room: Room, number: int) -> str:
    """What a room's jumper is called on the picture, the first one's number being 0."""
    return f"jumper-{room.name}-{number + 1}"


def _at_one_end(problem: Problem, names: Sequence[str]) -> bool:
    """Whether only one end is wrong of the cable or wire that a mend changes."""
    return (
        isinstance(problem.at.of, RunEnd) and isinstance(problem.about, Run) and problem.about.name in names
    )


def bond_name(panel: str) -> str:
    """What the strap between the bars of a panel is called on the picture."""
    return f"bond-{panel}"


class _Spots:
    """What is drawn of a board, by name."""

    def __init__(self, board: Board, rooms: list[Room]) -> None:
        self.board = board
        bundles = [port.bundle for room in rooms for port in (*room.left, *room.right)]
        self.bundle = {wire.run: bundle.name for bundle in bundles for wire in bundle.conductors}
        self.devices = {device.name: device for device in every_device(board.devices)}
        self.drawn = {bundle.name for bundle in bundles}
        self.drawn.update(bond_name(name) for name, panel in board.panels.items() if panel.bonded)
        for room in rooms:
            self.drawn.add(room.name)
            self.drawn.update(pin.point for pin in room.pins)
            self.drawn.update(body.name for body in room.bodies)
            self.drawn.update(slot.terminal.name for body in room.bodies for slot in body.slots)
        self.marked: set[str] = set()
        self.flagged: set[str] = set()
        self.landed = {member.point for join in board.joins for member in join.members}
        self.jumpers = {
            frozenset(tail.slot.terminal.name for tail in ends): jumper_name(room, number)
            for room in rooms
            for number, ends in enumerate(room.jumpers)
        }
        self.drawn.update(self.jumpers.values())

    def changed(self, finding: Finding) -> Iterator[str]:
        """What is drawn of what the likeliest mend changes, or else of what the finding's line joins."""
        names = finding.mends[0].at if finding.mends else ()
        spots = self.drawn_of(names)
        if finding.problem and (not self.drawn & set(spots) or _at_one_end(finding.problem, names)):
            spots = [self.bare(finding.problem) or self.joined(finding.problem)]
        spots = [self.strap(spot, finding) for spot in spots]
        yield from dict.fromkeys(spot for spot in spots if spot in self.drawn)

    def drawn_of(self, names: Sequence[str]) -> list[str]:
        """What is drawn of what a mend changes: the jumper between two screws, where both of them are."""
        gone = [ends for ends in self.jumpers if ends <= set(names)]
        there = {name: self.jumpers[ends] for ends in gone for name in ends}
        return [there.get(name, self.bundle.get(name, name)) for name in names]

    def strap(self, spot: str, finding: Finding) -> str:
        """The strap between a panel's bars, where the finding is about what ties them and no join does."""
        problem = finding.problem
        own = isinstance(problem and problem.about, Panel) and getattr(problem, "by", problem) is None
        return bond_name(spot) if own and bond_name(spot) in self.drawn else spot

    def apart(self, spot: str, finding: Finding) -> str:
        """The spot, or a wire's end in its join where it is a screw that has a flag: two would move it."""
        of = finding.problem.at.of if finding.problem else None
        if spot in self.flagged and spot in self.board.terminals and isinstance(of, Join):
            ends = (member.point for member in of.members if member.point not in self.board.terminals)
            spot = next((end for end in ends if end in self.drawn and end not in self.flagged), spot)
        self.flagged.add(spot)
        return spot

    def bare(self, problem: Problem) -> str:
        """The screw or the wire's end that a path should go on to, where nothing is joined to it."""
        match getattr(problem, "stop", getattr(problem, "why", None)):
            case Stop(end=NotJoined(on=Point(name=name)) | WithoutCall(on=Point(name=name))):
                if name in self.landed or name not in self.drawn or name in self.marked:
                    return ""
                # Two flags beside one screw would move it.
                self.marked.add(name)
                return name
        return ""

    def joined(self, problem: Problem) -> str:
        """The end or the screw at which the hand changes something; nothing where it is no join.

        Of a join that is a screw of the thing, else the first wire's end or screw in it.
        """
        about = problem.about
        match problem.at.of:
            case Join(members=members):
                points = [member.point for member in members if member.point in self.drawn]
                if isinstance(about, Conductor | Terminal | Point):
                    return self.on(problem)
                owner = outermost(about, self.devices)
                screws = (point for point in points if point in self.board.terminals)
                own = (point for point in screws if self.board.terminals[point].owner == owner)
                return next(own, next(iter(points), ""))
            case Conductor() as conductor if not isinstance(about, Conductor):
                return self.end(conductor, None)
            case Device(name=name) if name != outermost(about, self.devices):
                return name
            case Run(name=name) if not isinstance(about, Run | Conductor):
                return self.bundle.get(name, "")
            case RunEnd() as end if isinstance(about, Run) and about.conductors:
                return self.end(about.conductors[0], end)
        return ""

    def of(self, finding: Finding) -> str:
        """What a finding is about, as it is drawn; nothing where nothing of it is."""
        spot = finding.problem and self.on(finding.problem)
        spot = self.strap(spot or self.joined_on(finding), finding)
        return spot if spot in self.drawn else ""

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
        loose = (end for end in conductor.ends if end not in self.landed and end not in self.board.capped)
        return next(loose, one)

    def joined_on(self, finding: Finding) -> str:
        """The first end or screw that is joined on the lines of a finding; nothing where none is."""
        lines = range(finding.span.line, finding.span.end_line + 1)
        joins = (join for join in self.board.joins if join.span.line in lines)
        return next((member.point for join in joins for member in join.members if member.point), "")

"""Which parts of a picture stand for which line of the text, by the ids that a drawing gives them."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.model.board import Board, Member


def places(board: Board) -> dict[str, int]:
    """For each part of the picture that a line makes, that line: the one that a touch on it goes to.

    A wire is made by the line of its cable, the end of one by the line that joins it.

    >>> import wirecheck
    >>> shed = 'board "Shed"\\npanel LP 120 V\\nbreaker LP.1 15 A\\nat LP\\n  LP.1 -- LP.neutral'
    >>> places(wirecheck.assemble(shed)[1])
    {'room-LP': 2, 'device-LP.1': 3, 'terminal-LP.1': 5, 'terminal-LP.neutral': 5}
    """
    found = {f"room-{name}": panel.span.line for name, panel in board.panels.items()}
    found |= {f"device-{name}": breaker.span.line for name, breaker in board.breakers.items()}
    found |= {f"room-{name}": box.span.line for name, box in board.boxes.items()}
    found |= {f"device-{name}": device.span.line for name, device in board.devices.items()}
    for run in board.runs.values():
        found |= {f"jacket-{run.name}": run.span.line, f"label-{run.name}": run.span.line}
        found |= {f"conductor-{wire.name}": run.span.line for wire in run.conductors}
    for join in board.joins:
        for member in join.members:
            found |= dict.fromkeys(_of(member), member.span.line)
    return found | {f"label-{point}": span.line for point, span in board.capped.items()}


def marked(board: Board) -> dict[int, list[str]]:
    """For each line of the text, the parts of the picture that it speaks of; of a join its wires too.

    >>> import wirecheck
    >>> shed = 'board "Shed"\\npanel LP 120 V\\nbreaker LP.1 15 A'
    >>> marked(wirecheck.assemble(shed)[1])
    {2: ['room-LP'], 3: ['device-LP.1']}
    """
    found: dict[int, list[str]] = {}
    for part, line in places(board).items():
        found.setdefault(line, []).append(part)
    for join in board.joins:
        for member in join.members:
            if member.kind == "end":
                found[member.span.line].append(f"conductor-{member.name}")
    return found


def _of(member: Member) -> Iterator[str]:
    """How a member of a join is called on the picture; a pigtail is there, but under a number."""
    if member.kind == "end":
        yield f"label-{member.point}"
    elif member.kind == "terminal":
        yield f"terminal-{member.point}"

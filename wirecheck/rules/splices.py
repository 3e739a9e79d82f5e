"""What the rough-in owes in splices: what goes on to another cable is joined before the devices come."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.finding import Finding, Note
from wirecheck.judge.old_blame import GROUND_COLORS, NEUTRAL_COLORS
from wirecheck.model.board import Conductor
from wirecheck.model.runs import CLASS_2_CABLES
from wirecheck.rules.old import rule

# An end in a box, and the far end of the same conductor.
_Ends = list[tuple[Conductor, str, str]]


@rule("rough-in", until="rough-in")
def open_splice(case: Case) -> Iterator[Finding]:
    """A ground, or a neutral that goes on to another cable, is not made up in the rough-in.

    Grounds and passing neutrals are spliced before any device goes in, with a
    tail left out for each device, so that a device can be taken out later and
    what lies beyond it stays whole. A wire that waits for a device's screw is
    in order. Later stages tell the same mistake by what it does there, so this
    rule is asked in the rough-in only.

    Source: NEC 2023 250.148; common practice for neutrals
    """
    board = case.board
    if board.problems:
        # A line that could not be read may be the one that joins it.
        return
    made = {member.point for join in board.joins for member in join.members} | set(board.capped)
    grounds: dict[str, _Ends] = {}
    whites: dict[str, _Ends] = {}
    for conductor in board.conductors.values():
        if conductor.insulation in CLASS_2_CABLES:
            continue
        one, other = conductor.ends
        for place, near, far in ((conductor.places[0], one, other), (conductor.places[1], other, one)):
            if place in board.boxes:
                if conductor.color in GROUND_COLORS:
                    grounds.setdefault(place, []).append((conductor, near, far))
                elif conductor.color in NEUTRAL_COLORS:
                    whites.setdefault(place, []).append((conductor, near, far))
    for place, ends in grounds.items():
        loose = [conductor for conductor, near, _ in ends if near not in made]
        if len(ends) > 1 and loose:
            yield _open(
                case,
                place,
                loose,
                [conductor for conductor, _, _ in ends],
                "All grounds in a box are joined, with a tail to each device, so that taking a device out "
                "opens the ground of nothing else.",
                "NEC 2023 250.148",
            )
    for place, ends in whites.items():
        waiting = [(conductor, near, far) for conductor, near, far in ends if near not in made]
        fed = [one for one, near, _ in waiting if case.uses.of(near) == "neutral"]
        onward = [one for one, near, far in waiting if far in made and case.uses.of(near) != "neutral"]
        if fed and onward and _takes_no_neutral(case, place):
            yield _open(
                case,
                place,
                [*fed, *onward],
                [*fed, *onward],
                f"Nothing in {place} takes a neutral, so it goes through: else all that lies beyond is dead.",
                "common practice",
            )


def _takes_no_neutral(case: Case, place: str) -> bool:
    """Whether it is known that no device in a box will take a neutral: one that is to come could."""
    if case.board.boxes[place].kind == "junction":
        return True
    devices = [device for device in case.board.devices.values() if device.place == place]
    return bool(devices) and not any(
        terminal.role == "neutral" for device in devices for terminal in device.part.terminals.values()
    )


def _open(
    case: Case, place: str, loose: list[Conductor], whole: list[Conductor], why: str, source: str
) -> Finding:
    names = [one.name for one in loose]
    ends = [case.board.runs[one.run].ends[0 if one.places[0] == place else 1].span for one in loose]
    said = names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]
    splice = " -- ".join(dict.fromkeys(one.name for one in whole))
    return Finding(
        rule="open-splice",
        severity="violation",
        message=f"{said} {'is' if len(names) == 1 else 'are'} not spliced in {place}. {why}",
        span=ends[0],
        subject=names[0],
        source=source,
        help=f"Splice them under one connector: {splice}"
        + (" -- pigtail" if loose[0].color in GROUND_COLORS else ""),
        also=tuple(
            Note(f"{name} comes in here", span) for name, span in list(zip(names, ends, strict=True))[1:4]
        ),
        stage="rough-in",
    )

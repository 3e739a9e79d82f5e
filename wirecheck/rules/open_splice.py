"""A ground, or a neutral that goes on to another cable, is not made up in the rough-in.

Grounds and passing neutrals are spliced before any device goes in, with a pigtail left out for
each device. Then a device can be taken out later and what lies beyond it stays whole. A wire that
waits for a device's screw is in order. Later stages report the same mistake by what it does there,
so this rule is asked in the rough-in only.

Source: NEC 250.148; common practice for neutrals
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge import made_up, purpose
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.purpose import Purpose
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.model.board import Box, Conductor

# How many wires one message names.
MOST_NAMED = 4

# A conductor, and which of its two ends is meant (0 or 1).
End = tuple[Conductor, int]


class OpenSplice(Problem):
    """Of the ends in a `box` that belong in one splice, `whole`, those in `loose` are not joined."""

    box: Box
    loose: tuple[End, ...]
    whole: tuple[End, ...]


class OpenGrounds(OpenSplice):
    """The grounds of the box."""


class OpenNeutrals(OpenSplice):
    """Neutrals that go through the box."""


def find(case: Case) -> Iterator[OpenSplice]:
    """Each box whose grounds are not all joined, or that a neutral does not get through."""
    for box in case.board.boxes.values():
        grounds = _ends(case, box, "ground")
        loose = [(one, which) for one, which in grounds if made_up.is_loose(case, one.ends[which])]
        if not loose and not any(made_up.join_at(case, one.ends[which]) for one, which in grounds):
            # A spare's ground may be capped beside others that are joined. Where all are, none is made up.
            loose = grounds
        if len(grounds) > 1 and loose:
            yield _open(case, OpenGrounds, box, loose, grounds)
    for box in case.board.boxes.values():
        fed: list[End] = []
        onward: list[End] = []
        for conductor, which in _ends(case, box, "neutral"):
            near, far = conductor.ends[which], conductor.ends[1 - which]
            if made_up.is_loose(case, near):
                if case.uses.of(near) == "neutral":
                    fed.append((conductor, which))
                elif not made_up.is_loose(case, far):
                    onward.append((conductor, which))
        # A white of another size is no part of the circuit: of 240 V it is a hot that is not marked yet.
        sizes = {conductor.size for conductor, _ in fed}
        onward = [(conductor, which) for conductor, which in onward if conductor.size in sizes]
        if fed and onward and _takes_no_neutral(case, box):
            yield _open(case, OpenNeutrals, box, fed + onward, fed + onward)


def _ends(case: Case, box: Box, meant: Purpose) -> list[End]:
    """The ends in a box of the wires that are for something by their color."""
    return [
        (conductor, which)
        for conductor in case.board.conductors.values()
        for which, place in enumerate(conductor.places)
        if place == box.name and purpose.of_conductor(conductor) == meant
    ]


def _takes_no_neutral(case: Case, box: Box) -> bool:
    """Whether it is known that no device in a box will take a neutral: one that is to come could."""
    if box.kind == "junction":
        return True
    if any(said.later for said in case.board.problems):
        # A line names a device that is not in yet: it may be the one.
        return False
    devices = [device for device in case.board.devices.values() if device.place == box.name]
    return bool(devices) and not any(
        terminal.role == "neutral" for device in devices for terminal in device.part.terminals.values()
    )


def _open(case: Case, kind: type[OpenSplice], box: Box, loose: list[End], whole: list[End]) -> OpenSplice:
    first, which = loose[0]
    return kind(
        at=spot(made_up.run_end(case, first, which)),
        about=first,
        severity="violation",
        stage="rough-in",
        copper=frozenset(case.uses.piece[one.ends[side]] for one, side in loose),
        box=box,
        loose=tuple(loose),
        whole=tuple(whole),
    )


def words(problem: OpenSplice, case: Case) -> Words:
    """Which ends are open, why they are joined now, and the splice."""
    names = [one.name for one, _ in problem.loose]
    splice = " -- ".join(dict.fromkeys(one.name for one, _ in problem.whole))
    message = (
        f"{listed(names, MOST_NAMED)} {'are' if len(names) > 1 else 'is'} not spliced in {problem.box.name}."
    )
    if isinstance(problem, OpenGrounds):
        message += (
            " All grounds in a box are joined, with a pigtail to each device. Then taking a device out opens "
            "the ground of nothing else."
        )
        splice += " -- pigtail" if problem.box.kind != "junction" else ""
        source = case.code.section("grounds are joined in each box")
    else:
        message += (
            f" Nothing in {problem.box.name} takes a neutral, so it has to go through: otherwise all that "
            "lies beyond is dead."
        )
        source = "common practice"
    return Words(
        message=message,
        help=f"Splice them under one connector: {splice}",
        source=source,
        also=tuple(
            Note(f"{one.name} comes in here", made_up.run_end(case, one, which).span)
            for one, which in problem.loose[1:MOST_NAMED]
        ),
    )


RULE = rule(__name__, "rough-in", severities=("violation",), until="rough-in", find=find, words=words)

"""A receptacle is not made for the place that it is in.

A child puts a key into a slot. Shutters that one prong alone does not open keep it out. Outdoors, the face
and the springs of a common receptacle crack and rust, until a plug hangs loose and live.

Source: NEC 406.9(A), 406.9(B), 406.12; UL 498 (from memory). It is asked only where a `room` line says what
kind of place it is.
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.grouped import grouped
from wirecheck.judge.inside import outlets_of
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.language.syntax import Word
from wirecheck.model.board import Device
from wirecheck.tables.rooms import asked

# The marks of a receptacle, by the rating that says it, and the word that says it has one.
MARKS = {"shutters": "tamper-resistant", "weather": "weather-resistant"}
# The largest that the code says it of, in A.
LARGEST = 20.0
# What is exempt from shutters: a place for one plug alone, behind a machine that stays (406.12, exceptions).
LONE = 1
# How many one message names.
MOST_NAMED = 6


class Unfit(Problem):
    """Receptacles without the mark that their places ask for."""

    devices: tuple[Device, ...]
    mark: str
    source: str


def find(case: Case) -> Iterator[Unfit]:
    """The receptacles of the board that lack each mark, together."""
    lacking = grouped(
        ((mark, source), device)
        for device in (case.board.devices.values() if case.board.rooms else ())
        for mark, source in _lacks(case, device)
    )
    by_mark = grouped((mark, (source, those)) for (mark, source), those in lacking.items())
    for mark, groups in by_mark.items():
        devices = tuple(device for _, those in groups for device in those)
        yield Unfit(
            at=spot(devices[0]),
            about=devices[0],
            severity="violation",
            stage="trim",
            devices=devices,
            mark=mark,
            source=groups[0][0],
        )


def _lacks(case: Case, device: Device) -> Iterator[tuple[str, str]]:
    """The marks that a receptacle lacks, each with the section that asks for it."""
    room = case.board.rooms.get(device.place)
    outlets = outlets_of(case, device)
    if room is None or not outlets or any((one.amps or 0.0) > LARGEST for one in outlets):
        return
    needs = asked(room.kind, code=case.code)
    wanted = {"shutters": needs.tamper_resistant if len(outlets) > LONE else "", "weather": needs.weather}
    for rating, word in MARKS.items():
        value = device.values.get(rating)
        if wanted[rating] and isinstance(value, Word) and value.text != word:
            yield word, wanted[rating]


def words(problem: Unfit, case: Case) -> Words:
    """Which lack it, and how a receptacle with it is known."""
    names = listed((one.name for one in problem.devices), MOST_NAMED)
    short = {"tamper-resistant": "TR", "weather-resistant": "WR"}[problem.mark]
    one = len(problem.devices) == 1
    return Words(
        message=f"{names} {'is' if one else 'are'} not {problem.mark}. Receptacles of 15 A and 20 A "
        f"{'there' if one else 'in those places'} have to be.",
        help=f"Put in receptacles that are marked {short}, and say so on the board.",
        stands=True,
        source=problem.source,
        also=tuple(Note(f"{each.name} is not either", each.span) for each in problem.devices[1:]),
    )


RULE = rule(__name__, "trim", severities=("violation",), find=find, words=words)

"""A mend in words: what the mistake is, as a teacher says it, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from wirecheck.language.listing import listed
from wirecheck.language.syntax import JoinStatement
from wirecheck.mend.edits import (
    Cap,
    Change,
    Edit,
    Exchange,
    ExchangeSides,
    ExchangeThroughout,
    Gather,
    Mark,
    Move,
    Part,
    Pigtail,
    Tail,
    Together,
)
from wirecheck.mend.sheet import Sheet, names
from wirecheck.model.board import Board

MOST_NAMED = 6


class Told(NamedTuple):
    """`mistake` says what is wrong, `remedy` what to do, each in a sentence or two."""

    mistake: str
    remedy: str


def told(edit: Edit, sheet: Sheet, board: Board) -> Told:
    """An edit of a sheet in words."""
    match edit:
        case Exchange(place, one, other):
            return _exchanged(_Place(sheet, place, board), one, other)
        case ExchangeThroughout(one, other, places):
            return Told(
                f"{one} and {other} are swapped at both ends.",
                f"Swap them at {listed(places)}: each goes where the other is now.",
            )
        case ExchangeSides(device, _, pairs):
            sides = "; ".join(f"what is on {a} to {b}, what is on {b} to {a}" for a, b in pairs)
            return Told(f"The two sides of {device} are swapped.", f"Move {sides}.")
        case Move():
            return _moved(_Place(sheet, edit.place, board), edit)
        case Gather(place, ends, screws):
            tails = f", with a pigtail to {listed(screws)}" if screws and len(ends) > 1 else ""
            if len(ends) == 1:
                return Told(
                    f"At {place}, {ends[0]} is joined to nothing.",
                    f"Join it to {listed(screws)}.",
                )
            return Told(
                f"At {place}, {listed(ends, MOST_NAMED)} are joined to nothing.", f"Splice them{tails}."
            )
        case Tail(place, beside, screw):
            return Told(
                f"At {place}, nothing is on {screw}.",
                f"Run a pigtail to it from the splice of {beside}.",
            )
        case Pigtail(place, screw):
            under = _Place(sheet, place, board).beside(screw)
            return Told(
                f"At {place}, {listed(under, MOST_NAMED)} are under one screw, {screw}.",
                f"Splice them, and run one pigtail from the splice to {screw}.",
            )
        case Part(place, screw, beside):
            return Told(
                f"At {place}, {screw} is joined to {beside}, and does not belong there.",
                f"Take the wire or jumper between {beside} and {screw} out.",
            )
        case Cap(place, end):
            where = _Place(sheet, place, board)
            if where.beside(end):
                has = listed(where.beside(end), MOST_NAMED)
                return Told(
                    f"At {place}, {end} is a spare, and is joined to {has}.", "Take it out, and cap it."
                )
            return Told(f"At {place}, {end} is a spare, and is not capped.", "Cap it.")
        case Mark(place, end, color):
            if color is None:
                return Told(f"At {place}, {end} is marked, and it is not a hot there.", "Take the mark off.")
            return Told(
                f"At {place}, {end} is not a neutral, and nothing says so.",
                f"Mark it {color} there, with tape or paint.",
            )
        case Change():
            return _changed(edit)
        case Together(changes):
            first = changes[0]
            subjects = listed((one.subject for one in changes), MOST_NAMED)
            return Told(
                f"{subjects} {'are' if len(changes) > 1 else 'is'} {first.was}, "
                f"and {'need' if len(changes) > 1 else 'needs'} to be {first.now}.",
                f"Use {first.now} there.",
            )


class _Place:
    """What is joined with what in a place."""

    def __init__(self, sheet: Sheet, place: str, board: Board) -> None:
        self.place = place
        self.board = board
        self.company: dict[str, tuple[str, ...]] = {}
        for _, join in sheet.joins(place):
            here = _named(join)
            for name in here:
                others = tuple(one for one in here if one != name)
                self.company[name] = (*self.company.get(name, ()), *others)

    def beside(self, name: str) -> tuple[str, ...]:
        """What an end or a screw is joined with."""
        return self.company.get(name, ())

    def is_screw(self, name: str) -> bool:
        """Whether it is a screw or lead, and no wire."""
        return self.board.screws.get(name, name) in self.board.terminals

    def where(self, others: Iterable[str]) -> str:
        """Where something is that is joined with others: on a screw, or with wires."""
        others = tuple(others)
        screws = [one for one in others if self.is_screw(one)]
        wires = [one for one in others if not self.is_screw(one)]
        if screws and len(screws) == len(others):
            return f"on {listed(screws, MOST_NAMED)}"
        return f"with {listed(wires, MOST_NAMED)}"


def _named(join: JoinStatement) -> tuple[str, ...]:
    return tuple(name for name, _ in names(join) if name is not None)


def _exchanged(here: _Place, one: str, other: str) -> Told:
    one_has = [each for each in here.beside(one) if each != other]
    other_has = [each for each in here.beside(other) if each != one]
    if here.is_screw(one) and here.is_screw(other):
        if one_has and other_has:
            return Told(
                f"At {here.place}, what is on {one} and on {other} is swapped.",
                f"Move {listed(one_has, MOST_NAMED)} to {other}, "
                f"and {listed(other_has, MOST_NAMED)} to {one}.",
            )
        empty, full, has = (one, other, other_has) if other_has else (other, one, one_has)
        return Told(
            f"At {here.place}, {listed(has, MOST_NAMED)} {_are(has)} on {full}, "
            f"and {_belong(has)} on {empty}.",
            f"Move {'them' if len(has) > 1 else 'it'} from {full} to {empty}.",
        )
    if one_has and other_has:
        return Told(
            f"At {here.place}, {one} and {other} are swapped.",
            f"{one} goes {here.where(other_has)}, and {other} {here.where(one_has)}.",
        )
    loose, wrong, has = (one, other, other_has) if other_has else (other, one, one_has)
    return Told(
        f"At {here.place}, {wrong} is where {loose} belongs.",
        f"Take {wrong} out, and put {loose} {here.where(has)} in its place.",
    )


def _moved(here: _Place, edit: Move) -> Told:
    end = edit.end
    target = (edit.to, *(() if edit.fresh else (one for one in here.beside(edit.to) if one != end)))
    mark = f", and mark it {edit.marked} there" if edit.marked else ""
    if edit.pigtail:
        wires = [one for one in target if not here.is_screw(one)]
        goal = f"Splice it with {listed(wires, MOST_NAMED)}, and run one pigtail to {edit.to}{mark}."
        belongs = f"with {listed(wires, MOST_NAMED)}"
    else:
        belongs = here.where(target)
        verb = "Put it" if here.is_screw(edit.to) else "Join it"
        goal = f"{verb} {belongs}{mark}."
    was = here.beside(end)
    if not was:
        return Told(f"At {here.place}, {end} is joined to nothing, and belongs {belongs}.", goal)
    return Told(f"At {here.place}, {end} is {here.where(was)}, and belongs {belongs}.", f"Move it. {goal}")


_WORDS: Mapping[str, str] = {"rating": "is rated", "size": "is of size", "volume": "has", "leg": "is on leg"}


def _changed(edit: Change) -> Told:
    if not edit.was:
        return Told(f"{edit.subject} lacks: {edit.now}.", f"Its line should say: {edit.now}.")
    if not edit.now:
        return Told(f"{edit.subject} should not be: {edit.was}.", f"Take {edit.was} out of its line.")
    return Told(
        f"{edit.subject} {_WORDS.get(edit.what, f'has {edit.what}')} {edit.was}, and needs {edit.now}.",
        f"Make it {edit.now}.",
    )


def _are(has: list[str]) -> str:
    return "are" if len(has) > 1 else "is"


def _belong(has: list[str]) -> str:
    return "belong" if len(has) > 1 else "belongs"

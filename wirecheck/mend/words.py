"""A mend in words: what the mistake is, as a teacher says it, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from wirecheck.language.listing import listed
from wirecheck.language.syntax import JoinStatement
from wirecheck.mend.edits import (
    Cap,
    Change,
    Divide,
    Edit,
    Exchange,
    ExchangeAll,
    ExchangeSides,
    ExchangeThroughout,
    Gather,
    IntoWire,
    Jumper,
    Land,
    Mark,
    Meet,
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
        case Change():
            return _changed(edit)
        case Together(changes):
            return _changed_together(changes)
        case ExchangeThroughout(one, other, places):
            return Told(
                f"{one} and {other} are swapped at both ends.",
                f"Swap them at {listed(places)}: each goes where the other is now.",
            )
        case Cap() | Mark():
            return _of_one_end(edit, _Place(sheet, edit.place, board))
        case Exchange() | Move() | ExchangeSides() | ExchangeAll() | IntoWire() | Meet():
            return _put_elsewhere(edit, _Place(sheet, edit.place, board))
        case _:
            return _joined(edit, _Place(sheet, edit.place, board))


def _put_elsewhere(
    edit: Exchange | Move | ExchangeSides | ExchangeAll | IntoWire | Meet, here: _Place
) -> Told:
    """Ends that are joined in the wrong place."""
    match edit:
        case Exchange(_, one, other):
            return _exchanged(here, one, other)
        case Move():
            return _moved(here, edit)
        case ExchangeSides(device, _, pairs):
            sides = "; ".join(f"what is on {a} to {b}, what is on {b} to {a}" for a, b in pairs)
            return Told(f"The two sides of {device} are swapped.", f"Move {sides}.")
        case ExchangeAll(place, pairs):
            ones, others = (listed(names, MOST_NAMED) for names in zip(*pairs, strict=True))
            swaps = listed(f"{one} with {other}" for one, other in pairs)
            return Told(f"At {place}, {ones} are where {others} belong.", f"Exchange {swaps}.")
        case IntoWire(place, first, second, wire):
            goal = here.where(here.beside(wire))
            return Told(
                f"At {place}, {first} and {second} are in the wrong wire.",
                f"Join again what they part. Put {first} {goal} in place of {wire}, "
                f"and join {wire} with {second}.",
            )
        case Meet(place, one, other):
            return Told(
                f"At {place}, {one} and {other} belong together, and are not.",
                f"Take both off, and join {one} with {other}.",
            )


def _joined(edit: Gather | Land | Tail | Jumper | Pigtail | Part | Divide, here: _Place) -> Told:
    """Joins that lack something, or hold together what does not belong together."""
    match edit:
        case Gather(place, ends, screws):
            if len(ends) == 1:
                return Told(f"At {place}, {ends[0]} is joined to nothing.", f"Join it to {listed(screws)}.")
            tails = f", with a pigtail to {listed(screws)}" if screws else ""
            return Told(
                f"At {place}, {listed(ends, MOST_NAMED)} are joined to nothing.", f"Splice them{tails}."
            )
        case Land(place, pairs):
            ends_named = listed((end for end, _ in pairs), MOST_NAMED)
            joins = listed(f"{end} to {screw}" for end, screw in pairs)
            return Told(f"At {place}, {ends_named} are joined to nothing.", f"Join {joins}.")
        case Tail(place, beside, screw):
            return Told(
                f"At {place}, nothing is on {screw}.", f"Run a pigtail to it from the splice of {beside}."
            )
        case Jumper(place, screw, to):
            return Told(f"At {place}, nothing is on {screw}.", f"Put a jumper from {to} to {screw}.")
        case Pigtail(place, screw):
            under = listed(here.beside(screw), MOST_NAMED)
            return Told(
                f"At {place}, {under} are under one screw, {screw}.",
                f"Splice them, and run one pigtail from the splice to {screw}.",
            )
        case Part(place, screw, beside):
            return Told(
                f"At {place}, {screw} is joined to {beside}, and does not belong there.",
                f"Take the wire or jumper between {beside} and {screw} out.",
            )
        case Divide(place, members):
            rest = [one for one in here.beside(members[0]) if one not in members]
            return Told(
                f"At {place}, {listed(members, MOST_NAMED)} are joined with {listed(rest, MOST_NAMED)}.",
                f"Part them: {listed(members, MOST_NAMED)} are joined by themselves.",
            )


def _of_one_end(edit: Cap | Mark, here: _Place) -> Told:
    """A cap or a mark that an end lacks, or has."""
    place, end = edit.place, edit.end
    if isinstance(edit, Cap):
        beside = listed(here.beside(end), MOST_NAMED)
        if beside:
            return Told(
                f"At {place}, {end} is a spare, and is joined to {beside}.", "Take it out, and cap it."
            )
        return Told(f"At {place}, {end} is a spare, and is not capped.", "Cap it.")
    if edit.color is None:
        return Told(f"At {place}, {end} is marked, and it is not a hot there.", "Take the mark off.")
    return Told(
        f"At {place}, {end} is not a neutral, and nothing says so.",
        f"Mark it {edit.color} there, with tape or paint.",
    )


def _changed_together(changes: tuple[Change, ...]) -> Told:
    """Lines that say the same other word."""
    sample, many = changes[0], len(changes) > 1
    subjects = listed((one.subject for one in changes), MOST_NAMED)
    return Told(
        f"{subjects} {'are' if many else 'is'} {sample.was}, and {'need' if many else 'needs'} to be "
        f"{sample.now}.",
        f"Use {sample.now} there.",
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

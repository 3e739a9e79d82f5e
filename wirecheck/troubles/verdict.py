"""What a diagnosis is worth: whether it is right, and whether what was read had proved it."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import Literal, NamedTuple

from wirecheck.circuit.fault import Broken, Fault, Off, Open, PoorJoint, Short
from wirecheck.circuit.work import WorkEnds
from wirecheck.faults.suspects import Suspect
from wirecheck.tables.efforts import effort
from wirecheck.troubles.diagnosis import weight
from wirecheck.troubles.observed import Taken, shows
from wirecheck.troubles.ticket import Ticket

Verdict = Literal["right", "elsewhere", "follows", "wrong"]
"""`elsewhere` is the wire that it is, and another place of it; `follows` is what opens because of it."""

TAKES = {"right": 0.0, "elsewhere": effort("place"), "follows": effort("fuse"), "wrong": effort("part")}
"""What each takes: a look along the wire, a fuse that blows again, a part that was changed for nothing."""


class Score(NamedTuple):
    """What finding it was worth.

    Attributes
    ----------
    points : of 100, by the least effort against what was taken
    taken, least : efforts
    proved : the share of what was found among all that would have shown the same
    """

    points: int
    taken: float
    least: float
    proved: float


def same(one: Fault, other: Fault) -> bool:
    """Whether two faults are one, whatever the ohms of a joint or a short.

    >>> same(PoorJoint("W1.black@A", 8.0), PoorJoint("W1.black@A", 15.0))
    True
    >>> same(Short("a", "b", 0.5), Short("b", "a", 0.0)), same(Broken("W1.black"), Off("W1.black@A"))
    (True, False)
    """
    match one, other:
        case PoorJoint(end, _), PoorJoint(other_end, _):
            return end == other_end
        case Short(a, b, _), Short(c, d, _):
            return {a, b} == {c, d}
    return one == other


def verdict(one: Ticket, fault: Fault) -> Verdict:
    """What a diagnosis is: right too, where no reading of volts tells it from what is wrong."""
    if any(same(fault, each.fault) for each in (one.truth, *one.course.left)):
        return "right"
    wire = _wire(fault, one)
    if wire is not None and wire == _wire(one.truth.fault, one):
        return "elsewhere"
    if isinstance(fault, Open) and any(fault.name in each.seen.opening for each in one.complaints):
        return "follows"
    return "wrong"


def _wire(fault: Fault, one: Ticket) -> str | None:
    """The conductor that a fault interrupts, if it is one that does."""
    match fault:
        case Broken(conductor):
            return conductor
        case Off(end) | PoorJoint(end, _):
            return one.shop.good.circuit.point[end].owner
    return None


def score(one: Ticket, taken: float, named: Iterable[Fault], read: Iterable[Taken]) -> Score:
    """What finding it was worth: all of the points for the least effort, half of them for twice that.

    Who guesses among several that would have shown the same changes parts till it is found: of n alike half
    of the others, on the average, so (n - 1) / 2 where the odds of what is right are 1 / n.

    Parameters
    ----------
    taken : the effort of all that was done, without what was named
    named : the diagnoses before the right one
    read : the readings that were taken
    """
    named = tuple(named)
    spent = taken + sum(TAKES[verdict(one, fault)] for fault in named)
    least = max(one.course.effort, effort("reading"))
    proved = _proved(one, named, tuple(read))
    spent = max(spent + effort("part") * (1 / proved - 1) / 2, least)
    return Score(round(100 * least / spent), spent, least, proved)


def _proved(one: Ticket, named: Collection[Fault], read: Collection[Taken]) -> float:
    """The share that what is right has among all that would have shown what was seen and read."""
    right = {each for each in one.alike if verdict(one, each.fault) == "right"} | {one.truth}
    others = [
        each
        for each in one.alike
        if each not in right
        and not any(same(each.fault, fault) for fault in named)
        and all(_shows(one, each, taken) for taken in read)
    ]
    whole = sum(weight((each,)) for each in (*right, *others))
    return sum(weight((each,)) for each in right) / whole


def _shows(one: Ticket, suspect: Suspect, taken: Taken) -> bool:
    """Whether the board with that suspect shows what was read; what takes too much work is not ruled out."""
    opened = tuple(Suspect(Open(name), "fuse blown", "") for name in taken.opened)
    try:
        return shows(one.shop.tried((suspect, *opened)), taken.read)
    except WorkEnds:
        return True

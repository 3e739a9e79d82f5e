"""What somebody saw and measured on a board, and whether it would have shown the same with other faults."""

from __future__ import annotations

from typing import NamedTuple

from wirecheck import arguments
from wirecheck.circuit.meter import PowerOn, Reading
from wirecheck.judge.case import Case
from wirecheck.judge.state_name import StateName
from wirecheck.tables.signs import too_little
from wirecheck.troubles.signs import BUZZ
from wirecheck.troubles.trials import Seen, Tried

# How far a good meter on a real installation may be from what is worked out: the supply, the lengths and the
# machines are never those of the nameplates (common practice).
VOLTS_SHARE, VOLTS_MORE = 0.10, 1.0
AMPS_SHARE, AMPS_MORE = 0.25, 0.2
OHMS_SHARE, OHMS_MORE = 0.25, 0.5
# Phantom volts are what the lay of the wires makes of them.
PHANTOM_SHARE, PHANTOM_MORE = 1.25, 2.0


class Look(NamedTuple):
    """What somebody saw of a thing.

    `does` is ran (at any time of the state), runs (in its end), opens, or the word of a sign.
    """

    state: StateName
    name: str
    does: str
    so: bool


class Read(NamedTuple):
    """A meter's reading: `value` in SI, None where it showed open."""

    state: StateName
    quantity: arguments.Quantity
    points: tuple[str, ...]
    value: float | None
    power: arguments.Power | None = None
    lifted: tuple[str, ...] = ()


Observation = Look | Read


class Taken(NamedTuple):
    """What was read or seen at a bench, and what had opened by itself until then, by name."""

    read: Observation
    opened: tuple[str, ...] = ()


def shows(tried: Tried, one: Observation) -> bool:
    """Whether a board with its faults shows what was observed."""
    if isinstance(one, Look):
        if one.name in tried.relays and one.does in ("ran", "runs"):
            return (one.name in tried.pulled(one.state)) == one.so
        return _looks(tried.seen(one.state), one)
    told = on(tried, one)
    return told is not None and like(told, one.value)


def on(tried: Tried, one: Read) -> Reading | None:
    """What a meter shows there on a board with its faults, kept with it; None where it must not be put."""
    place = one._replace(value=None)
    if place not in tried.readings:
        try:
            tried.readings[place] = read(tried.case, one)
        except PowerOn:
            tried.readings[place] = None
    return tried.readings[place]


def _looks(found: Seen, one: Look) -> bool:
    """Whether that is seen; of what does half of its work one may say that it runs, and that it does not."""
    if one.does in ("ran", "runs"):
        where = found.ran if one.does == "ran" else found.runs
        return one.name in found.half or (one.name in where) == one.so
    if one.does == "opens":
        return (one.name in found.opened) == one.so
    words = {sign.word for sign in found.signs if sign.name == one.name}
    # One says that it is dim where another says that it flickers: of one thing too little is too little.
    little = {*too_little(), BUZZ}
    alike = little if one.does in little else {one.does}
    return words.isdisjoint(alike) != one.so


def read(case: Case, one: Read) -> Reading:
    """What a meter shows there."""
    state = one.state
    moved = dict(state.moved)
    return arguments.reading(
        case, one.quantity, one.points, moved, state.calls, one.power, one.lifted, state.after
    )[0]


def like(told: Reading, value: float | None) -> bool:
    """Whether a meter may show that value where it should show this reading.

    Examples
    --------
    >>> like(Reading(26.2, "V"), 24.8), like(Reading(26.2, "V"), 0.0)
    (True, False)
    >>> like(Reading(None, "ohm"), None), like(Reading(8.0, "ohm"), None)
    (True, False)
    """
    if told.induced:
        return True
    if value is None:
        return told.value is None and told.between is None and not told.through
    if told.unit == "ohm":
        if told.between is not None:
            least, most = told.between
            return least * (1 - OHMS_SHARE) <= value <= most * (1 + OHMS_SHARE) + OHMS_MORE
        if told.most is not None:
            return value <= told.most * (1 + OHMS_SHARE) + OHMS_MORE
        if told.value is None:
            return bool(told.through)
        return abs(value - told.value) <= OHMS_SHARE * told.value + OHMS_MORE
    known = told.value or 0.0
    if told.phantom or told.floating:
        return value <= PHANTOM_SHARE * known + PHANTOM_MORE
    share, more = (VOLTS_SHARE, VOLTS_MORE) if told.unit == "V" else (AMPS_SHARE, AMPS_MORE)
    return abs(value - known) <= share * max(known, value) + more

"""A poor joint by what a meter shows of it: it is one fault, whatever its ohms are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import sqrt

from wirecheck.circuit.fault import PoorJoint
from wirecheck.circuit.meter import PowerOn
from wirecheck.circuit.work import WorkEnds
from wirecheck.faults.suspects import Suspect
from wirecheck.troubles.observed import Look, Observation, Read, like, read, shows
from wirecheck.troubles.shop import Shop

# Less is a good joint, and more an open one, by what a meter shows (common practice).
LEAST_OHMS, MOST_OHMS = 0.05, 20_000.0
# Each halves what is left of the range: so many come to within a twentieth.
MOST_TRIES = 9
# Where a dim lamp or a humming motor is all that is known, these ohms are tried.
BY_SIGNS = (5.0, 50.0, 200.0, 1_000.0)
DOES = ("ran", "runs", "opens")


def fitted(shop: Shop, suspect: Suspect, observations: Sequence[Observation]) -> Suspect | None:
    """The same joint with the ohms with which the board shows all that was observed; None without such ohms.

    The first reading that the suspect does not show says the ohms: the more of them, the further from the
    board without a fault. Where it is a sign that it does not show, as a dim lamp, some are tried.
    """
    fault = suspect.fault
    if not isinstance(fault, PoorJoint):
        return None
    missed = [one for one in observations if not shop.shows((suspect,), one)]
    reads = [one for one in missed if isinstance(one, Read)]
    if reads:
        ways = _of_reading(shop, suspect, fault.end, reads[0])
    elif any(isinstance(one, Look) and one.does not in DOES for one in missed):
        ways = iter(BY_SIGNS)
    else:
        return None
    try:
        for ohms in ways:
            told = _with(suspect, fault.end, float(f"{ohms:.2g}"))
            first = all(shows(*shop.on((told,), one, keep=False)) for one in missed)
            if first and all(shop.shows((told,), one) for one in observations):
                return told
    except (WorkEnds, PowerOn):
        return None
    return None


def _of_reading(shop: Shop, suspect: Suspect, end: str, one: Read) -> Iterator[float]:
    """The ohms with which the board shows a reading, nearer and nearer to it."""
    if one.value is None:
        return
    least, most = LEAST_OHMS, MOST_OHMS
    low, high = (_shown(shop, suspect, end, ohms, one) for ohms in (least, most))
    if low is None or high is None or not min(low, high) <= one.value <= max(low, high):
        return
    for _ in range(MOST_TRIES):
        ohms = sqrt(least * most)
        there, seen = shop.on((_with(suspect, end, ohms),), one, keep=False)
        assert isinstance(seen, Read)
        told = read(there.case, seen)
        if told.value is None:
            return
        if like(told, one.value):
            yield ohms
        if (told.value < one.value) == (low < high):
            least = ohms
        else:
            most = ohms


def _shown(shop: Shop, suspect: Suspect, end: str, ohms: float, one: Read) -> float | None:
    there, seen = shop.on((_with(suspect, end, ohms),), one, keep=False)
    assert isinstance(seen, Read)
    return read(there.case, seen).value


def _with(suspect: Suspect, end: str, ohms: float) -> Suspect:
    return suspect._replace(fault=PoorJoint(end, ohms))

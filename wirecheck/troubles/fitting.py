"""A poor joint by what a meter shows of it: it is one fault, whatever its ohms are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import sqrt

from wirecheck.circuit.fault import Off, PoorJoint
from wirecheck.circuit.work import WorkEnds
from wirecheck.faults.suspects import Suspect
from wirecheck.troubles.observed import Look, Observation, Read, like, on, shows
from wirecheck.troubles.shop import Shop

# Less is a good joint, and more an open one, by what a meter shows (common practice).
LEAST_OHMS, MOST_OHMS = 0.05, 2_000.0
# Each halves what is left of the range: so many come to within a twentieth.
MOST_TRIES = 9
# Where a dim lamp or a humming motor is all that is known, these ohms are tried.
BY_SIGNS = (5.0, 50.0, 200.0, 1_000.0)
DOES = ("ran", "runs", "opens")


def fitted(
    shop: Shop, suspect: Suspect, against: Observation, observations: Sequence[Observation]
) -> Suspect | None:
    """The same joint with the ohms with which the board shows all that was observed; None without such ohms.

    The first reading that the suspect does not show says the ohms: the more of them, the further from the
    board without a fault. Where it is a sign that it does not show, as a dim lamp, some are tried.

    Parameters
    ----------
    against : the first observation that it does not show as it is
    """
    fault = suspect.fault
    if not isinstance(fault, PoorJoint):
        return None
    try:
        if isinstance(against, Read) and _between(shop, suspect, fault.end, against) is None:
            return None
        missed = [one for one in observations if not shop.shows((suspect,), one)]
        for ohms in _ways(shop, suspect, fault.end, missed):
            told = _with(suspect, fault.end, float(f"{ohms:.2g}"))
            first = all(shows(*shop.on((told,), one, keep=False)) for one in missed)
            if first and all(shop.shows((told,), one) for one in observations):
                return told
    except WorkEnds:
        return None
    return None


def _ways(shop: Shop, suspect: Suspect, end: str, missed: Sequence[Observation]) -> Iterator[float]:
    """The ohms that are tried, by what was missed."""
    reads = [one for one in missed if isinstance(one, Read)]
    if reads:
        yield from _of_reading(shop, suspect, end, reads[0])
    elif any(isinstance(one, Look) and one.does not in DOES for one in missed):
        yield from BY_SIGNS


def _of_reading(shop: Shop, suspect: Suspect, end: str, one: Read) -> Iterator[float]:
    """The ohms with which the board shows a reading, nearer and nearer to it."""
    if one.value is None:
        return
    ends = _between(shop, suspect, end, one)
    if ends is None:
        return
    low, high = ends
    least, most = LEAST_OHMS, MOST_OHMS
    for _ in range(MOST_TRIES):
        ohms = sqrt(least * most)
        there, seen = shop.on((_with(suspect, end, ohms),), one, keep=False)
        assert isinstance(seen, Read)
        told = on(there, seen)
        if told is None or told.value is None:
            return
        if like(told, one.value):
            yield ohms
        if (told.value < one.value) == (low < high):
            least = ohms
        else:
            most = ohms


def _between(shop: Shop, suspect: Suspect, end: str, one: Read) -> tuple[float, float] | None:
    """What the meter shows on the good board, and with the wire off, if what it showed lies between."""
    low, high = _shown(shop, (), one), _shown(shop, (suspect._replace(fault=Off(end)),), one)
    if one.value is None or low is None or high is None:
        return None
    return (low, high) if min(low, high) <= one.value <= max(low, high) else None


def _shown(shop: Shop, wrong: tuple[Suspect, ...], one: Read) -> float | None:
    """What the meter shows; what hangs on nothing shows nothing through however many ohms."""
    there, seen = shop.on(wrong, one)
    assert isinstance(seen, Read)
    told = on(there, seen)
    if told is None:
        return None
    return 0.0 if told.phantom or told.floating else told.value


def _with(suspect: Suspect, end: str, ohms: float) -> Suspect:
    return suspect._replace(fault=PoorJoint(end, ohms))

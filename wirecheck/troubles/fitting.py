"""A poor joint by what a meter shows of it: it is one fault, whatever its ohms are."""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

from wirecheck.circuit.fault import PoorJoint
from wirecheck.circuit.meter import PowerOn
from wirecheck.circuit.work import WorkEnds
from wirecheck.faults.suspects import Suspect
from wirecheck.troubles.observed import Observation, Read, like, read
from wirecheck.troubles.shop import Shop

# Less is a good joint, and more an open one, by what a meter shows (common practice).
LEAST_OHMS, MOST_OHMS = 0.05, 20_000.0
# Each halves what is left of the range: so many come to within a twentieth.
MOST_TRIES = 9


def fitted(shop: Shop, suspect: Suspect, observations: Sequence[Observation]) -> Suspect | None:
    """The same joint with the ohms with which the board shows all that was observed; None without such ohms.

    The first reading that the suspect does not show says the ohms: the more of them, the further from the
    board without a fault.
    """
    fault = suspect.fault
    if not isinstance(fault, PoorJoint):
        return None
    missed = (one for one in observations if isinstance(one, Read) and not shop.shows((suspect,), one))
    against = next(missed, None)
    if against is None or against.value is None:
        return None
    try:
        ohms = _ohms(shop, suspect, fault, against)
    except (WorkEnds, PowerOn):
        return None
    if ohms is None:
        return None
    told = suspect._replace(fault=PoorJoint(fault.end, float(f"{ohms:.2g}")))
    return told if all(shop.shows((told,), one) for one in observations) else None


def _ohms(shop: Shop, suspect: Suspect, fault: PoorJoint, one: Read) -> float | None:
    """The ohms with which the board shows a reading."""
    assert one.value is not None
    least, most = LEAST_OHMS, MOST_OHMS
    low, high = (_shown(shop, suspect, fault.end, ohms, one) for ohms in (least, most))
    if low is None or high is None or not min(low, high) <= one.value <= max(low, high):
        return None
    for _ in range(MOST_TRIES):
        ohms = sqrt(least * most)
        there, seen = shop.on((_with(suspect, fault.end, ohms),), one, keep=False)
        assert isinstance(seen, Read)
        told = read(there.case, seen)
        if told.value is None or like(told, one.value):
            return None if told.value is None else ohms
        if (told.value < one.value) == (low < high):
            least = ohms
        else:
            most = ohms
    return None


def _shown(shop: Shop, suspect: Suspect, end: str, ohms: float, one: Read) -> float | None:
    there, seen = shop.on((_with(suspect, end, ohms),), one, keep=False)
    assert isinstance(seen, Read)
    return read(there.case, seen).value


def _with(suspect: Suspect, end: str, ohms: float) -> Suspect:
    return suspect._replace(fault=PoorJoint(end, ohms))

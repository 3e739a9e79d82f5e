"""At what the overload relay of a motor may trip: by its nameplate, and not by the code's tables."""

from __future__ import annotations

from typing import NamedTuple

from wirecheck.circuit.circuit import Load
from wirecheck.tables.code import Code


class Overload(NamedTuple):
    """The `most` amperes that it may trip at, `share` of the nameplate's; `last` where it will not start."""

    share: float
    most: float
    last: float


def overload(motor: Load, *, code: Code) -> Overload:
    """What holds for a motor (430.32(A)(1), (C)): more where it bears more, by its service factor or rise."""
    factor = code.limit("service factor of a motor that may be overloaded more")
    rise = code.limit("rise of a motor that may be overloaded more")
    if (motor.service_factor or 0.0) >= factor or (motor.rise is not None and motor.rise <= rise):
        share = code.limit("overload of a motor with a service factor of 1.15 or more")
        last = code.limit("overload of a motor that does not start with a service factor of 1.15 or more")
    else:
        share = code.limit("overload of any other motor")
        last = code.limit("overload of any other motor that does not start")
    return Overload(share, motor.amps * share, motor.amps * last)

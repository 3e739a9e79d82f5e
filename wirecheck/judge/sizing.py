"""What a conductor of the board may carry as it lies there, and which size would do in its place."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Literal, NamedTuple

from wirecheck.judge.bunching import carrying_together
from wirecheck.judge.case import Case
from wirecheck.judge.wet import wet_run
from wirecheck.model.board import Conductor
from wirecheck.tables.ampacity import Ampacity, conductor_ampacity, insulation, terminal_temperature
from wirecheck.tables.code import Code
from wirecheck.tables.overcurrent import largest_protection, small_conductor_limit
from wirecheck.tables.published import NotInTable
from wirecheck.tables.sizes import next_larger

# What sets a limit that no other wire would change.
BY_MOTOR = ("motor", "hermetic")


class Largest(NamedTuple):
    """The largest breaker or fuse that a conductor may have, in A, what sets it, and the section of that."""

    amps: float
    by: Literal[
        "small conductor",
        "next size up",
        "ampacity",
        "motor",
        "hermetic",
        "motor control",
        "motor feeder",
        "tap",
    ]
    source: str


def terminal_limit(case: Case, conductor: Conductor, protection: float, by_marks: bool = True) -> float:
    """The temperature in C that the screws at a conductor's two ends allow (110.14(C)(1)).

    A screw that is not marked allows what the circuit's rating does; a splice does not limit. Without
    `by_marks` it is as if none were marked, which nobody must make use of.
    """
    if not by_marks:
        return terminal_temperature(protection, code=case.code)
    marked = [
        terminal_temperature(protection, case.board.terminals[terminal].spec.rated, code=case.code)
        for end in conductor.ends
        for terminal in case.screws.get(end, ())
    ]
    return min(marked, default=terminal_temperature(protection, code=case.code))


def carries(case: Case, conductor: Conductor, protection: float, by_marks: bool = True) -> Ampacity:
    """The ampacity of a conductor where it lies, in a circuit of that rating.

    Raises
    ------
    NotInTable
        For a size or an insulation that the tables do not hold.
    """
    wet = wet_run(case, conductor.run) is not None
    return conductor_ampacity(
        conductor.insulation,
        conductor.size,
        conductor.material,
        case.board.ambient,
        carrying_together(case)[conductor.name],
        terminal_limit(case, conductor, protection, by_marks),
        # What may not be in a wet place is another question: its ampacity is that of a dry one.
        wet and insulation(conductor.insulation, code=case.code).wet is not None,
        code=case.code,
    )


def may_have(steps: Ampacity, next_up: bool, *, code: Code) -> Largest:
    """The largest breaker or fuse that a conductor of this ampacity may have (240.4).

    `next_up` tells whether the next standard rating will do where the ampacity is none (240.4(B)).
    """
    limit = largest_protection(steps.size, steps.material, steps.result, next_up, code=code)
    small = small_conductor_limit(steps.size, steps.material, code=code)
    if small is not None and small.amps <= limit.amps:
        # Where both say the same, the section on small conductors is the one to read.
        return Largest(small.amps, "small conductor", small.source)
    return Largest(limit.amps, "next size up" if limit.amps > steps.result else "ampacity", limit.source)


def larger_sizes(size: str, *, code: Code) -> Iterator[str]:
    """The sizes above one, smallest first.

    >>> from wirecheck.tables.code import LATEST as nec
    >>> next(larger_sizes("14", code=nec)), next(larger_sizes("2.5 mm2", code=nec))
    ('12', '4 mm2')
    """
    larger = next_larger(size, code=code)
    while larger is not None:
        yield larger
        larger = next_larger(larger, code=code)


def first_size(
    case: Case,
    conductor: Conductor,
    protection: float,
    sizes: Iterable[str],
    does: Callable[[Ampacity], bool],
    by_marks: bool = True,
) -> str | None:
    """The first of some sizes with which a conductor does, where it lies; None where none does.

    A size that the tables do not hold is passed over.
    """
    for size in sizes:
        try:
            if does(carries(case, conductor._replace(size=size), protection, by_marks)):
                return size
        except NotInTable:
            continue
    return None

"""Two wires are joined at both ends, and are not large enough for that, or not alike.

Two wires side by side share a current only while every joint holds. Where one opens, the other carries
all of it, and the breaker, sized for both, lets it. Only large wires, 1/0 AWG and up, may be laid so, and
only where they are alike in length, metal, size and insulation: then they share evenly.

Source: NEC 310.10(G)(1), 310.10(G)(2)
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from wirecheck.judge import purpose
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.grouped import grouped
from wirecheck.judge.guards import Guarded, fits, guards
from wirecheck.judge.limit import over
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.size_words import gauge, named_size
from wirecheck.judge.sizing import carries, first_size, larger_sizes
from wirecheck.language.listing import listed
from wirecheck.language.quantity import amps
from wirecheck.model.board import Conductor, Join
from wirecheck.tables.published import NotInTable
from wirecheck.tables.sizes import area

MOST_NOTED = 3


class Doubled(Problem):
    """Conductors between two places that are joined at both ends: each set by itself, the smallest first."""

    sets: tuple[tuple[Conductor, ...], ...]

    @property
    def conductors(self) -> tuple[Conductor, ...]:
        """All of them."""
        return tuple(conductor for one in self.sets for conductor in one)


class TooThin(Doubled):
    """They are smaller than may be laid so.

    `guard` is what protects them, None where nothing does. `size` is what would do in place of each set,
    None where one of its wires is enough or no size is known.
    """

    guard: Guarded | None
    enough: bool
    size: str | None


class Unlike(Doubled):
    """They are large enough, and not alike."""


def find(case: Case) -> Iterator[TooThin | Unlike]:
    """Every two power conductors with the same copper at both ends, by the two places that they join."""
    least = case.code.limit("least size in parallel")
    thin: dict[frozenset[str], list[tuple[Conductor, ...]]] = {}
    for together in _together(case):
        places = frozenset(together[0].places)
        if any(over(least, area(one.size)) for one in together):
            thin.setdefault(places, []).append(tuple(sorted(together, key=lambda one: area(one.size))))
        elif len({(one.length, one.material, area(one.size), one.insulation) for one in together}) > 1:
            yield Unlike(**_common(case, [together]), sets=(together,))
    for sets in thin.values():
        smallest = sets[0][0]
        guard = guards(case).get(smallest.name)
        enough = guard is None or _fits(case, guard, smallest)
        common = _common(case, sets)
        yield TooThin(
            # What is too thin is changed itself; one too many is taken out of a join.
            **common if enough else common | {"at": spot(smallest)},
            sets=tuple(sets),
            guard=guard,
            enough=enough,
            size=None if guard is None or enough else _size(case, guard, smallest),
        )


def _together(case: Case) -> Iterator[tuple[Conductor, ...]]:
    """The conductors of line voltage that begin at one node and end at another, where they are several."""
    node = case.circuit.node
    ends = grouped(
        (frozenset(node[end] for end in conductor.ends), conductor)
        for conductor in case.board.conductors.values()
        if purpose.is_power(conductor) and case.uses.of(conductor.ends[0]) not in ("class-2", "ground")
    )
    yield from (conductors for nodes, conductors in ends.items() if len(nodes) > 1 and len(conductors) > 1)


def _fits(case: Case, guard: Guarded, conductor: Conductor) -> bool:
    try:
        return fits(case, guard, carries(case, conductor, guard.amps))
    except NotInTable:
        return False


def _size(case: Case, guard: Guarded, conductor: Conductor) -> str | None:
    sizes = larger_sizes(conductor.size, code=case.code)
    return first_size(case, conductor, guard.amps, sizes, lambda steps: fits(case, guard, steps))


def _common(case: Case, sets: Sequence[tuple[Conductor, ...]]) -> dict[str, Any]:
    """What both kinds say: at the join outside of the panels that ties the first of them."""
    conductors = [conductor for one in sets for conductor in one]
    join = _tie(case, sets[0])
    return {
        "at": spot(conductors[0] if join is None else join),
        "about": conductors[0],
        "severity": "violation",
        "stage": "rough-in",
        "copper": frozenset(case.uses.piece[end] for one in conductors for end in one.ends),
    }


def _tie(case: Case, together: Sequence[Conductor]) -> Join | None:
    """A join that holds two of these, outside of the panels where there is one."""
    ends = {end for conductor in together for end in conductor.ends}
    joins = [join for join in case.board.joins if sum(one.point in ends for one in join.members) > 1]
    outside = (join for join in joins if join.place not in case.board.panels)
    return next(outside, joins[0] if joins else None)


def words(problem: TooThin | Unlike, case: Case) -> Words:
    """Which wires are doubled, and the one wire that takes their place."""
    first = problem.sets[0]
    names = listed(one.name for one in first)
    both = "both ends" if len(first) == 2 else "their ends"
    notes = tuple(
        Note(f"{listed(one.name for one in more)} are doubled too", more[0].span)
        for more in problem.sets[1 : 1 + MOST_NOTED]
    )
    if isinstance(problem, Unlike):
        return Words(
            message=f"{names} lie in parallel, joined at {both}, and are not alike in length, metal, size "
            "and insulation. The one with less resistance takes more than its share of the current.",
            help="Turn the circuit off. Put in wires of one length, one metal, one size and one insulation.",
            source=case.code.section("wires in parallel are alike"),
            also=notes,
        )
    least = case.code.written("least size in parallel")
    smallest = first[0]
    guard = problem.guard
    bears = (
        f" If one joint opens, the other carries all that {guard.name} lets through, {amps(guard.amps)}."
        if guard is not None and not problem.enough
        else ""
    )
    return Words(
        message=f"{names} are joined at {both}, so they lie in parallel. The smallest is "
        f"{named_size(smallest)}, and wires in parallel must be {least} or larger.{bears}",
        help=_remedy(problem, smallest),
        source=case.code.section("least size in parallel"),
        also=notes,
    )


def _remedy(problem: TooThin, smallest: Conductor) -> str:
    first = problem.sets[0]
    off = "Turn off every circuit in their cables. "
    if problem.enough:
        spare = listed(one.name for one in first[1:])
        return f"{off}One is enough: take {spare} off at both ends, and cap the ends."
    if problem.size is None or problem.guard is None:
        return f"{off}Run one wire in their place that is large enough by itself."
    return (
        f"{off}Run one {gauge(problem.size)} {smallest.material} wire in place of each set: it is what "
        f"{problem.guard.name} asks for. Or put in a breaker or fuse that one of them may have."
    )


RULE = rule(__name__, "rough-in", severities=("violation",), find=find, words=words)

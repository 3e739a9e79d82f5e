"""What must always have power, as a smoke alarm, is fed through a switch.

A hand turns off the light, and the alarm with it. Its battery runs down, and nobody knows until the
night of the fire.

Source: IRC R314.6, NFPA 72: no switch between the breaker and a smoke alarm (sections from memory)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Load
from wirecheck.judge import ways
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.source import legs
from wirecheck.judge.target_words import with_positions
from wirecheck.judge.targets import Tried, changes, group_of, target_of, tried
from wirecheck.language.listing import listed
from wirecheck.model.board import Join


class Switched(Problem):
    """`loads` that must always have power lose it: `dark` is where the first of them does, by `switches`.

    All of them are fed from the switched copper at `join`, or behind it.
    """

    loads: tuple[Load, ...]
    switches: tuple[str, ...]
    dark: Tried
    join: Join | None


def find(case: Case) -> Iterator[Switched]:
    """Each join from which loads are fed through a switch that want none before them."""
    together: dict[object, Switched] = {}
    for load in case.circuit.loads:
        found = _switched(case, load) if "unswitched" in load.flags else None
        if found is not None:
            first = together.setdefault(found.at.span, found)
            if first is not found:
                together[found.at.span] = first.but(loads=(*first.loads, load))
    yield from together.values()


def _switched(case: Case, load: Load) -> Switched | None:
    """A load that has power in some positions of its switches and not in all."""
    target = target_of(load)
    group = group_of(case, target)
    if group is None or not group.switches:
        return None
    rows = tried(case, target, group)
    dark = next((row for row in rows if not row.on), None)
    switches = tuple(name for name in group.switches if changes(rows, name))
    if dark is None or not switches:
        return None
    join = _where_it_leaves(case, load)
    return Switched(
        at=spot(case.circuit.around[load.device][0] if join is None else join),
        about=load,
        severity="violation",
        stage="final",
        copper=frozenset(case.uses.piece[point] for point in load.ends),
        loads=(load,),
        switches=switches,
        dark=dark,
        join=join,
    )


def _where_it_leaves(case: Case, load: Load) -> Join | None:
    """Where the load's wire parts from what the switch is there for; else the join at the switch."""
    others = {
        end for other in case.circuit.loads if "unswitched" not in other.flags for end in (other.a, other.b)
    }
    back = ways.way(case, [load.a], legs(case))
    if back is None:
        return None
    on_it = frozenset(back.points)
    last: Join | None = None
    for of in back.elements:
        if isinstance(of, Join):
            here = {member.point for member in of.members if member.point}
            aside = here - on_it
            if ways.way(case, aside, others, stops=(here & on_it) | legs(case).keys()) is not None:
                return of
            last = of
        elif of in back.contacts:
            break
    return last


def words(problem: Switched, case: Case) -> Words:
    """Which switch takes away the power, and where to feed it instead."""
    first, *others = problem.loads
    names, switches = listed(load.name for load in problem.loads), listed(problem.switches)
    return Words(
        message=f"{first.name} has no power{with_positions(problem.dark.positions)}: it is fed through "
        f"{switches}. It must always have power, whatever the switches do."
        + (f" The same goes for {listed(load.name for load in others)}." if others else ""),
        help=f"Feed {names} from the hot that is always live, ahead of {switches}.",
        source="IRC R314.6; NFPA 72 (sections from memory)",
        also=tuple(
            Note(f"{load.device} is declared here", load.span)
            for load in problem.loads
            if load.span != problem.at.span
        ),
    )


RULE = rule(__name__, "final", severities=("violation",), find=find, words=words)

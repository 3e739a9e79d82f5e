"""What must always have power, as a smoke alarm or a doorbell's transformer, is fed through a switch.

A hand turns off the light, and the alarm with it. Its battery runs down, and nobody knows until the
night of the fire. A transformer on the wire of a switched light has its volts while the light is on: with the
light off no bell rings, and what else is on it is dead.

Source: IRC R314.6, NFPA 72: no switch between the breaker and a smoke alarm (sections from memory); common
practice: a doorbell's transformer on a hot that is always live
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from wirecheck.circuit.circuit import Load, Winding
from wirecheck.circuit.uses import Feed
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

# More loads than this in a sentence tell a reader nothing.
MOST_NAMED = 4


class Switched(Problem):
    """`loads` that must always have power lose it: `dark` is where the first of them does, by `switches`.

    All of them are fed from the switched copper at `join`, or behind it.
    """

    loads: tuple[Load, ...]
    switches: tuple[str, ...]
    dark: Tried
    join: Join | None


class SwitchedTransformer(Problem):
    """A transformer is on the switched wire of `lamps`, and with them off its `loads` are dead."""

    winding: Winding
    loads: tuple[Load, ...]
    lamps: tuple[Load, ...]
    switches: tuple[str, ...]
    join: Join | None


def find(case: Case) -> Iterator[Switched | SwitchedTransformer]:
    """Each join from which what wants no switch before it is fed through one."""
    yield from _loads(case)
    for winding in case.circuit.windings:
        yield from _transformer(case, winding)


def _loads(case: Case) -> Iterator[Switched]:
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
    others = {
        end for other in case.circuit.loads if "unswitched" not in other.flags for end in (other.a, other.b)
    }
    join = _where_it_leaves(case, load.a, others)
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


def _transformer(case: Case, winding: Winding) -> Iterator[SwitchedTransformer]:
    """It, where the switched wire of a light feeds it. A switch of its own may be meant, as of a furnace."""
    around, uses = case.circuit.around[winding.device], case.uses
    for end in winding.primary if len(around) == 1 else ():
        there = uses.piece[end]
        lamps = [
            one
            for one in case.circuit.loads
            if one.kind == "lamp" and there in (uses.piece[one.a], uses.piece[one.b])
        ]
        loads = tuple(_fed(case, winding))
        back = ways.way(case, [end], legs(case)) if uses.of(end) == "switched" and lamps and loads else None
        if back is None:
            continue
        join = _where_it_leaves(case, end, {point for lamp in lamps for point in lamp.ends})
        yield SwitchedTransformer(
            at=spot(around[0] if join is None else join),
            about=winding,
            severity="fault",
            stage="final",
            copper=frozenset((there,)),
            winding=winding,
            loads=loads,
            lamps=tuple(lamps),
            switches=tuple(dict.fromkeys(contact.scope for contact in back.contacts)),
            join=join,
        )


def _fed(case: Case, winding: Winding) -> Iterator[Load]:
    """What works on a transformer's secondary, but lamps: those may be what is switched."""
    own = Feed("class-2", winding.name)
    for load in case.circuit.loads:
        pieces = [case.uses.piece[end] for end in (load.a, load.b)]
        if load.kind != "lamp" and all(
            own in case.uses.direct[one] | case.uses.reached[one] for one in pieces
        ):
            yield load


def _where_it_leaves(case: Case, hot: str, others: Collection[str]) -> Join | None:
    """Where the wire to a hot side parts from what the switch is there for; else the join at the switch."""
    back = ways.way(case, [hot], legs(case))
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


def words(problem: Switched | SwitchedTransformer, case: Case) -> Words:
    """Which switch takes away the power, and where to feed it instead."""
    if isinstance(problem, SwitchedTransformer):
        switches, name = listed(problem.switches), problem.winding.name
        lights = listed((lamp.name for lamp in problem.lamps), MOST_NAMED)
        loads = listed((load.name for load in problem.loads), MOST_NAMED)
        many = len(problem.loads) > 1
        return Words(
            message=f"{name} is on the switched wire of {lights}: it has power only while {switches} "
            f"{'have' if len(problem.switches) > 1 else 'has'} the light on. With the light off {loads} "
            f"{'do' if many else 'does'} nothing.",
            help=f"Feed {name} from the hot that is always live, ahead of {switches}.",
            source="common practice",
            look=f"Bring {name} a hot that is always live, from ahead of {switches}.",
        )
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


RULE = rule(__name__, "final", severities=("violation", "fault"), find=find, words=words)

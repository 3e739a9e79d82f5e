"""More wires are under a screw than it is made for.

Of two wires under one screw, one is held and the other works loose: it heats, and taking the
device out opens what lies beyond it. A ground must stay whole when a device is taken out.

Source: NEC 110.14(A), 250.148(B)
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wirecheck.judge import purpose
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.purpose import Purpose
from wirecheck.judge.rule import rule
from wirecheck.model.board import Join, Member, Terminal


class Crowded(Problem):
    """`under` are all members whose copper sits under the screw, `before` the joins that put some there.

    `free` is whether another screw of the same terminal has nothing under it; `hole` whether they are pushed
    into a hole beside it.
    """

    terminal: Terminal
    under: tuple[Member, ...]
    before: tuple[Join, ...]
    purposes: frozenset[Purpose]
    free: bool
    hole: bool


def find(case: Case) -> Iterator[Crowded]:
    """Each screw, at the join that puts one wire too many under it."""
    taken: dict[tuple[str, bool], list[object]] = {}
    held: dict[tuple[str, bool, object], list[tuple[Member, Join]]] = {}
    full: dict[tuple[str, bool, object], tuple[Terminal, Join, int]] = {}
    for join in case.board.joins:
        for name, members in join.under.items():
            terminal = case.board.terminals[name]
            if "lead" in terminal.spec.flags:
                # A lead has no screw: it is spliced.
                continue
            hole = join.pushed and "push-in" in terminal.spec.flags
            for member in members:
                screw = _screw(member, join, terminal, hole, taken.setdefault((name, hole), []))
                there = held.setdefault((name, hole, screw), [])
                there.append((member, join))
                crowded = len(there) > (1 if hole else terminal.spec.holds)
                if crowded and full.get((name, hole, screw), (terminal, join))[1] is join:
                    full[name, hole, screw] = (terminal, join, len(there))
    for (name, hole, screw), (terminal, join, count) in full.items():
        free = len(taken[name, hole]) < terminal.spec.screws
        yield _crowded(case, terminal, join, held[name, hole, screw][:count], free, hole)


def _screw(member: Member, join: Join, terminal: Terminal, hole: bool, taken: list[object]) -> object:
    """Which screw of a terminal a member sits under: the one that the line says, else one that is free.

    Each line takes a screw of its own on a bar, and each wire a hole of its own; where there is no other, it
    is the last one taken.
    """
    screw = member.screw or (member.span if hole else join.span)
    if screw not in taken and ("bar" in terminal.spec.flags or len(taken) < terminal.spec.screws):
        taken.append(screw)
    return screw if screw in taken else taken[-1]


def _crowded(
    case: Case,
    terminal: Terminal,
    join: Join,
    under: Sequence[tuple[Member, Join]],
    free: bool,
    hole: bool,
) -> Crowded:
    there = tuple(member for member, _ in under)
    meant = {one for member in there if (one := purpose.of_member(member, case.board))}
    if terminal.spec.role == "ground":
        meant.add("ground")
    return Crowded(
        at=spot(join),
        about=terminal,
        severity="violation",
        stage="trim",
        copper=frozenset((case.uses.piece[terminal.name],)),
        terminal=terminal,
        under=there,
        before=tuple({other.span: other for _, other in under if other is not join}.values()),
        purposes=frozenset(meant),
        free=free,
        hole=hole,
    )


def words(problem: Crowded, case: Case) -> Words:
    """How many wires are there, how many the screw takes, and the splice that puts it right."""
    terminal, count = problem.terminal, len(problem.under)
    ends = [member.name for member in problem.under if member.kind == "end"]
    ends = ends or [member.name for member in problem.under]
    ground = terminal.spec.role == "ground"
    if "bar" in terminal.spec.flags:
        remedy = f"Give each wire its own screw on the bar, one line for each: {ends[0]} -- {terminal.name}"
    elif len(problem.purposes) > 1:
        remedy = (
            f"By their colors these are a {' and a '.join(sorted(problem.purposes))}: they do not belong "
            f"together. Leave on {terminal.name} what belongs there, and move the other to its own place."
        )
    elif problem.free:
        remedy = (
            f"{terminal.name} has {terminal.spec.screws} screws: give each wire one of its own, one line for "
            f"each: {ends[0]} -- {terminal.name}"
        )
    elif all(member.kind == "pigtail" for member in problem.under):
        remedy = "Join what the pigtails lead from under one connector, and bring one pigtail to the screw."
    else:
        remedy = (
            "Splice the wires under a connector and bring one pigtail to the screw: "
            f"{' -- '.join(ends)} -- pigtail -- {terminal.name}"
        )
    why = "One of them can work loose and heat up"
    why += f", and taking {terminal.owner} out opens the ground of the rest." if ground else "."
    one = "one screw of " if terminal.spec.screws > 1 else ""
    where = f"under {one}{terminal.name}, and that screw takes {terminal.spec.holds}"
    if problem.hole:
        where = f"in one push-in hole of {terminal.name}, and it takes 1"
    sections = ["conductors under a screw", *(["grounds stay whole without the device"] if ground else [])]
    return Words(
        message=f"{count} wires are {where}. {why}",
        help=remedy,
        source=case.code.section(*sections),
        value=float(count),
        limit=1.0 if problem.hole else float(terminal.spec.holds),
        unit="wires",
        also=tuple(Note("the wire that is already there", join.span) for join in problem.before),
    )


RULE = rule(__name__, "trim", severities=("violation",), find=find, words=words)

"""More wires are under a screw than it is made for.

Of two wires under one screw, one is held and the other works loose: it heats, and taking the
device out opens what lies beyond it. A ground must stay whole when a device is taken out.

Source: NEC 110.14(A), 250.148(B)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge import purpose
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.purpose import Purpose
from wirecheck.judge.rule import rule
from wirecheck.model.board import Join, Member, Terminal


class Crowded(Problem):
    """`under` are all members whose copper sits under the screw, `before` the joins that put some there."""

    terminal: Terminal
    under: tuple[Member, ...]
    before: tuple[Join, ...]
    purposes: frozenset[Purpose]


def find(case: Case) -> Iterator[Crowded]:
    """Each screw, at the join that puts one wire too many under it."""
    held: dict[tuple[str, object], list[tuple[Member, Join]]] = {}
    full: set[tuple[str, object]] = set()
    for join in case.board.joins:
        for name, members in join.under.items():
            terminal = case.board.terminals[name]
            if "lead" in terminal.spec.flags:
                # A lead has no screw: it is spliced.
                continue
            # Each line takes a screw of its own on a bar.
            screw = (name, join.span if "bar" in terminal.spec.flags else None)
            under = held.setdefault(screw, [])
            before = tuple(dict.fromkeys(earlier.span for _, earlier in under if earlier is not join))
            under.extend((member, join) for member in members)
            if len(under) > terminal.spec.holds and screw not in full:
                full.add(screw)
                there = tuple(member for member, _ in under)
                meant = {one for member in there if (one := purpose.of_member(member, case.board))}
                if terminal.spec.role == "ground":
                    meant.add("ground")
                yield Crowded(
                    at=spot(join),
                    about=terminal,
                    severity="violation",
                    stage="trim",
                    copper=frozenset((case.uses.piece[name],)),
                    terminal=terminal,
                    under=there,
                    before=tuple(one for one in case.board.joins if one.span in before),
                    purposes=frozenset(meant),
                )


def words(problem: Crowded, case: Case) -> Words:
    """How many wires are there, how many the screw takes, and the splice that puts it right."""
    terminal, count = problem.terminal, len(problem.under)
    ends = [member.name for member in problem.under if member.kind == "end"]
    ground = terminal.spec.role == "ground"
    if "bar" in terminal.spec.flags:
        remedy = f"Give each wire its own screw on the bar, one line for each: {ends[0]} -- {terminal.name}"
    elif len(problem.purposes) > 1:
        remedy = (
            f"By their colors these are a {' and a '.join(sorted(problem.purposes))}: they do not belong "
            f"together. Leave on {terminal.name} what belongs there, and move the other to its own place."
        )
    else:
        remedy = (
            "Splice the wires under a connector and bring one pigtail to the screw: "
            f"{' -- '.join(ends)} -- pigtail -- {terminal.name}"
        )
    why = "One of them can work loose and heat up"
    why += f", and taking {terminal.owner} out opens the ground of the rest." if ground else "."
    sections = ["conductors under a screw", *(["grounds stay whole without the device"] if ground else [])]
    return Words(
        message=f"{count} wires are under {terminal.name}, and that screw takes {terminal.spec.holds}. {why}",
        help=remedy,
        source=case.code.section(*sections),
        value=float(count),
        limit=float(terminal.spec.holds),
        unit="wires",
        also=tuple(Note("the wire that is already there", join.span) for join in problem.before),
    )


RULE = rule(__name__, "trim", find=find, words=words)

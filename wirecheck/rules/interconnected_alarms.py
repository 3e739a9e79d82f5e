"""The interconnect leads of the alarms are not tied together, or are tied to something else.

Alarms sound together over one wire that joins their interconnect leads and nothing else. Power on
that wire destroys them. Where it is open, whoever sleeps at the far end is not woken.

Source: NFPA 72 (2022) 29.8.2.1; UL 217 (sections from memory)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.uses import Use
from wirecheck.judge import purpose
from wirecheck.judge.case import Case
from wirecheck.judge.made_up import at_screw, join_at
from wirecheck.judge.problem import Problem, Spot, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.model.board import Terminal

# What a lead can be tied to by mistake.
NAMED: dict[Use, str] = {
    "hot": "a hot",
    "switched": "a switched hot",
    "neutral": "the neutral",
    "switched-neutral": "the neutral",
    "ground": "the ground",
}


class LeadOnPower(Problem):
    """`leads` are tied together, and to copper that is in `use` for something else."""

    leads: tuple[Terminal, ...]
    use: Use


class LeadsApart(Problem):
    """`leads` are tied together, and not to the `first` ones of the board."""

    first: tuple[Terminal, ...]
    leads: tuple[Terminal, ...]


def find(case: Case) -> Iterator[LeadOnPower | LeadsApart]:
    """Each set of leads that are tied together: whether it is on power, and whether it is the first."""
    together: dict[int, list[Terminal]] = {}
    for terminal in case.board.terminals.values():
        if terminal.spec.role == "signal":
            together.setdefault(case.uses.piece[terminal.name], []).append(terminal)
    for piece, leads in together.items():
        use = case.uses.of(leads[0].name)
        if use != "none":
            yield LeadOnPower(
                at=next(_where_two_meet(case, piece), at_screw(case, leads[0])),
                about=case.board.devices[leads[0].owner],
                severity="hazard",
                stage="trim",
                copper=frozenset((piece,)),
                leads=tuple(leads),
                use=use,
            )
    for leads in list(together.values())[1:]:
        first, device = next(iter(together.values())), case.board.devices[leads[0].owner]
        yield LeadsApart(
            at=spot(join_at(case, leads[0].name) or join_at(case, first[0].name) or device),
            about=device,
            severity="fault",
            stage="trim",
            copper=frozenset(case.uses.piece[one[0].name] for one in (first, leads)),
            first=tuple(first),
            leads=tuple(leads),
        )


def _where_two_meet(case: Case, piece: int) -> Iterator[Spot]:
    """The joins on a piece of copper in which things meet that do not belong together."""
    for join in case.board.joins:
        here = any(member.point and case.uses.piece[member.point] == piece for member in join.members)
        if here and len(purpose.meeting(join, case.board)) > 1:
            yield spot(join)


def words(problem: LeadOnPower | LeadsApart, case: Case) -> Words:
    """What the lead is tied to, or which alarms do not hear of each other."""
    lead = problem.leads[0]
    if isinstance(problem, LeadOnPower):
        return Words(
            message=f"{lead.name} is tied to {NAMED.get(problem.use, 'power')}. It is for the interconnect "
            "leads of the other alarms alone: anything else on it can destroy them.",
            help=f"Take {lead.name} off there. Join the interconnect leads to one another over one wire, "
            "such as the red of a three-wire cable, and to nothing else.",
            source="UL 217",
        )
    first = problem.first[0]
    return Words(
        message=f"{first.owner} and {lead.owner} do not sound together: no wire joins {first.name} to "
        f"{lead.name}.",
        help="Follow the interconnect wire from alarm to alarm: it must be joined in every box.",
        source="NFPA 72 (2022) 29.8.2.1",
    )


RULE = rule(__name__, "trim", severities=("hazard", "fault"), find=find, words=words)

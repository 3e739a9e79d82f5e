"""A heater that is for the time of rest is on only while the machine runs.

A crankcase heater keeps refrigerant from gathering in the oil of a compressor that rests. Behind the
contactor it is cold just then, and the next start pumps foam.

Source: common practice: it is on whenever there is power, or while the compressor rests
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Load
from wirecheck.judge.case import Case
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.safeties import during, played


class ColdAtRest(Problem):
    """A heater that is off with no call, and on in `call`."""

    load: Load
    call: str


def find(case: Case) -> Iterator[ColdAtRest]:
    """Each heater whose part says that it stands by."""
    heaters = [load for load in case.circuit.loads if load.kind == "heater" and "standby" in load.flags]
    if not heaters:
        return
    plays = played(case)
    rest = plays[""].started()
    for load in heaters:
        call = next((call for call, one in plays.items() if load.name in one.started()), None)
        if call is not None and load.name not in rest:
            device = case.circuit.around[load.device][0]
            yield ColdAtRest(
                at=spot(device),
                about=load,
                severity="fault",
                stage="final",
                copper=frozenset((case.uses.piece[load.a], case.uses.piece[load.b])),
                load=load,
                call=call,
            )


def words(problem: ColdAtRest, case: Case) -> Words:
    """When it is on, and when it should be."""
    name = problem.load.name
    return Words(
        message=f"{name} is on{during(case.circuit, problem.call)}, and off while the machine rests, when it "
        "is needed.",
        help=f"Bring {name} to the line side of the contactor.",
        stands=True,
        source="common practice: a crankcase heater is on while the compressor rests",
    )


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words, of_ties=True)

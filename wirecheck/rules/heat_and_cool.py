"""Two thermostats on one machine: one calls for heat while the other calls for cooling, and both run.

One thermostat never makes both calls. Of two that are wired side by side each knows nothing of the
other: the burner and the compressor work against each other, and the heat exchanger or the coil fails.

Source: common practice: a zone control, or one thermostat, lets one of the two calls through at a time
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.model.board import Device, Terminal

# What the two terminals carry that must never have volts at the same time.
OPPOSITE = ("heat", "cool")
# A control hears a call with at least this share of the 24 V (common practice: 18 V).
HEARD = 18.0


class AtOnce(Problem):
    """The terminals of a machine for `heat` and for `cool` both have volts, by the calls of two devices."""

    machine: Device
    heat: Terminal
    cool: Terminal
    state: Settled
    callers: tuple[Device, Device]


def find(case: Case) -> Iterator[AtOnce]:
    """Each machine that two calls heat and cool at once, and neither of the two alone."""
    told: set[str] = set()
    for pair in case.pairs[0]:
        together = case.played(pair).rest
        for machine in case.board.devices.values():
            heard = () if machine.name in told or machine.part.calls else _heard(case, machine, together)
            alone = any(_heard(case, machine, case.played([call]).rest) for call in pair) if heard else False
            if not heard or alone:
                continue
            told.add(machine.name)
            heat, cool = heard
            first, second = (case.circuit.devices[case.callers[call][0]] for call in pair)
            yield AtOnce(
                at=spot(second),
                about=machine,
                severity="fault",
                stage="final",
                copper=frozenset(case.uses.piece[one.name] for one in (heat, cool)),
                machine=machine,
                heat=heat,
                cool=cool,
                state=together,
                callers=(first, second),
            )


def _heard(case: Case, machine: Device, state: Settled) -> tuple[Terminal, Terminal] | tuple[()]:
    """The terminals of a machine by which it hears both calls in a state; nothing where it does not."""
    heat, cool, common = (_carrying(case, machine, what) for what in (*OPPOSITE, "common"))
    if heat is None or cool is None or common is None:
        return ()
    both = all(state.across(call.name, common.name) >= HEARD for call in (heat, cool))
    return (heat, cool) if both else ()


def _carrying(case: Case, machine: Device, what: str) -> Terminal | None:
    terminals = (case.board.terminals[f"{machine.name}.{name}"] for name in machine.part.terminals)
    return next((one for one in terminals if one.spec.carries == what), None)


def words(problem: AtOnce, case: Case) -> Words:
    """Which calls meet where, and what lets only one of them through."""
    first, second = problem.callers
    return Words(
        message=f"{problem.machine.name} is told to heat and to cool at once{case.when(problem.state)}: "
        f"{problem.heat.name} and {problem.cool.name} both have their volts. {first.name} and {second.name} "
        "know nothing of each other.",
        help=f"Leave one thermostat on {problem.machine.name}. For two rooms put in a zone control: it lets "
        "only one of the two calls through.",
        stands=True,
        source="common practice",
        also=(Note(f"{first.name} is the other one", first.span),),
    )


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words, of_ties=True)

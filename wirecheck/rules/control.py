"""Rules about calls: what a thermostat asks for runs, nothing else does, and every safety stops it."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Load
from wirecheck.circuit.pieces import pieces
from wirecheck.circuit.play import Step
from wirecheck.circuit.settle import Settled, settle
from wirecheck.judge import ways
from wirecheck.judge.calls import WORKING
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Finding, Note
from wirecheck.language.syntax import ExpectStops, Span
from wirecheck.rules.old import rule


@rule("final")
def safety_bypass(case: Case) -> Iterator[Finding]:
    """A safety opens, and what it guards runs on.

    A limit, a float or a pressure switch that is wired around is worse than
    none: whoever looks at it believes that it works.

    Source: the board's own `expect` lines; ANSI Z21.20, UL 60730 in spirit: any one safety stops its load
    """
    told = {}
    for expectation in case.board.expectations:
        if isinstance(expectation, ExpectStops):
            told[expectation.safety.text] = True
            for word in expectation.loads:
                load = case.circuit.load.get(word.text)
                if load is not None:
                    yield from _does_not_stop(case, expectation, load)
    for variable in case.circuit.variables.values():
        if variable.safety and variable.name not in told and variable.name in case.board.devices:
            yield from _stops_nothing(case, variable.name)


def opened_position(case: Case, safety: str) -> str:
    """The position of a safety in which it has tripped: open, or the first that is not where it rests."""
    values = case.circuit.variables[safety].values
    return "open" if "open" in values else values[-1]


def steps_with(case: Case, load: Load) -> Iterator[tuple[str, Step]]:
    """Each state of each call in which a load runs."""
    for call in ("", *case.calls):
        for step in case.played([call] if call else []).steps:
            if load.name in step.settled.running:
                yield call, step


def runs_on(case: Case, safety: str, load: Load, step: Step) -> Settled | None:
    """The state after a safety has opened, if the load runs on in it."""
    settled = step.settled
    after = settle(
        case.circuit,
        {**settled.positions, safety: opened_position(case, safety)},
        settled.calls,
        settled,
    )
    return after if load.name in after.running else None


def _does_not_stop(case: Case, expectation: ExpectStops, load: Load) -> Iterator[Finding]:
    safety = expectation.safety.text
    if safety not in case.circuit.variables:
        return
    for call, step in steps_with(case, load):
        if runs_on(case, safety, load, step) is None:
            continue
        # A control may need a moment to see it; played from the start, it must not run at all.
        play = case.played([call] if call else [], {safety: opened_position(case, safety)})
        if load.name not in play.rest.running and load.name not in play.started():
            continue
        around = _around(case, safety)
        if around is not None:
            words = f"{safety} is wired around: it opens"
            advice = f"Take out what goes around {safety}: {load.name} must get its power through it alone."
        else:
            words = f"{safety} is not in the way of {load.name}: it opens"
            advice = f"Move {safety} into the wire that the call for {load.name} comes by, in series with it."
        span = around or _landed(case, safety) or expectation.span
        yield Finding(
            rule="safety-bypass",
            severity="hazard",
            message=f"{words}{' during a call for ' + call if call else ''}, and {load.name} runs on.",
            span=span,
            subject=safety,
            source="the board's expect line",
            help=advice,
            also=(Note("what the board shall do", expectation.span),) if span != expectation.span else (),
        )
        return


def _stops_nothing(case: Case, safety: str) -> Iterator[Finding]:
    """A safety of the board itself that stops no load in any call."""
    working = [load for load in case.circuit.loads if load.kind in WORKING]
    running = [(load, step) for load in working for _, step in steps_with(case, load)]
    if not running or any(runs_on(case, safety, load, step) is None for load, step in running):
        return
    span = _around(case, safety) or case.board.devices[safety].span
    yield Finding(
        rule="safety-bypass",
        severity="hazard",
        message=f"{safety} opens, and every load that ran runs on, in every call: the safety guards nothing.",
        span=span,
        subject=safety,
        source="common practice: a safety is wired in series with what it stops",
        help=f"Put {safety} in series, in R for all that the control runs or in Y for cooling, "
        "and take out what goes around it.",
    )


def _landed(case: Case, safety: str) -> Span | None:
    """The join in which the wire from a safety's first side ends."""
    device = case.board.devices.get(safety)
    if device is None:
        return None
    here = next((j for j in case.board.joins for m in j.members if m.name.startswith(f"{safety}.")), None)
    if here is None:
        return None
    wires = {m.name for m in here.members if m.kind == "end"}
    screws = {m.name for j in case.board.joins for m in j.members if m.name.startswith(f"{safety}.")}
    if len(screws) == 1 and len(wires) > 1:
        # Both wires are on one side of it: there they pass it by.
        return here.span
    return next(
        (j.span for j in case.board.joins if j is not here and any(m.name in wires for m in j.members)), None
    )


def _around(case: Case, safety: str) -> Span | None:
    """The join that goes around a safety: one that holds both of its sides."""
    device = case.circuit.devices[safety]
    sides = {case.circuit.node[f"{safety}.{terminal}"] for terminal in device.part.terminals}
    ties = [(case.circuit.node[wire.a], case.circuit.node[wire.b]) for wire in case.circuit.wires]
    piece = pieces(range(case.circuit.nodes), ties)
    if len({piece[side] for side in sides}) > 1:
        return None
    names = [f"{safety}.{terminal}" for terminal in device.part.terminals]
    around = ways.way(case, names[:1], names[1:], ways.nothing)
    joins = around.joins if around is not None else ()
    return max(joins, key=lambda join: len(join.members)).span if joins else None

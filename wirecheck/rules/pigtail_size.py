"""A pigtail is thinner than its circuit asks.

All that a screw carries goes through its pigtail, and the breaker of the circuit protects it as it does
the wire in the wall: a thin one overheats in the box before the breaker trips. A ground's must carry a
fault until the breaker opens. Only a short tail to one light, or to one load that is wired in, may be
thinner, since the load itself limits what it carries: then for 15 A at least. So may the tail to the coil of
a contactor, in the box that both are in. A pigtail whose line says no size is not judged.

Source: NEC 240.4(D), 240.4(B), 210.19(D), 430.72(B), Table 250.122
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Load
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.guard_words import begun, kind, opens
from wirecheck.judge.guards import Guarded, behind, guards, largest
from wirecheck.judge.limit import over
from wirecheck.judge.motor_control import tail_limit
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.size_words import gauge
from wirecheck.judge.sizing import Largest, carries, larger_sizes
from wirecheck.language.quantity import amps
from wirecheck.model.board import Conductor, Join, Terminal
from wirecheck.tables.overcurrent import grounding_conductor
from wirecheck.tables.published import NotInTable
from wirecheck.tables.sizes import area


class ThinPigtail(Problem):
    """A pigtail of a `size` to a screw, and the least that would do behind that breaker or fuse.

    `tap` is whether a tail to a light or load that is wired in may be thinner than the circuit's wire.
    """

    terminal: Terminal
    join: Join
    guard: Guarded
    size: str
    least: str
    tap: bool
    source: str


def find(case: Case) -> Iterator[ThinPigtail]:
    """Each pigtail whose line says its size, by the circuit of the screw that it leads to."""
    for join in case.board.joins:
        for name, members in join.under.items():
            terminal = case.board.terminals[name]
            for size in dict.fromkeys(one.size for one in members if one.size is not None):
                ground = terminal.spec.role == "ground"
                yield from (_of_ground if ground else _of_circuit)(case, join, terminal, size)


def _of_circuit(case: Case, join: Join, terminal: Terminal, size: str) -> Iterator[ThinPigtail]:
    """By the breaker of the wires in its splice; what is as large as these is as right as they are."""
    wires = [case.board.conductors[one.name] for one in join.splice if one.kind == "end"]
    behind = [wire for wire in wires if wire.name in guards(case)]
    if not behind or any(area(size) >= area(wire.size) for wire in behind):
        return
    wire = max(behind, key=lambda one: guards(case)[one.name].amps)
    guard = guards(case)[wire.name]
    tail = wire._replace(material="copper") if join.connector and join.connector.metals else wire
    tap = _is_tap(case, terminal)
    must, source = guard.amps, None
    if tap:
        matter = "ampacity of a tap to a load"
        if guard.amps >= case.code.limit("large circuit with taps"):
            matter = "ampacity of a tap to a load on a large circuit"
        must, source = min(must, case.code.limit(matter)), case.code.section(matter)
    limit = _limit(case, guard, tail._replace(size=size))
    if limit is None or not over(must, limit.amps) or _controls(case, terminal, size, guard):
        return
    for least in larger_sizes(size, code=case.code):
        may = _limit(case, guard, tail._replace(size=least))
        does = (may is not None and not over(must, may.amps)) or _controls(case, terminal, least, guard)
        if least == wire.size or does:
            yield _thin(case, join, terminal, guard, size, least, tap, source or limit.source)
            return


def _limit(case: Case, guard: Guarded, tail: Conductor) -> Largest | None:
    """The largest breaker or fuse that a tail may have; None where no table has its size."""
    try:
        return largest(case, guard, carries(case, tail, guard.amps))
    except NotInTable:
        return None


def _controls(case: Case, terminal: Terminal, size: str, guard: Guarded) -> bool:
    """Whether it is of a control circuit, tapped in its box, and thick enough for that."""
    motor = any(isinstance(one, Load) and one.kind == "motor" for one in guard.drawers)
    most = tail_limit(case, terminal, size, motor)
    return most is not None and not over(guard.amps, most)


def _is_tap(case: Case, terminal: Terminal) -> bool:
    """Whether a screw is that of a light, or of a load that is wired in: no switch, and nothing plugs in."""
    device = case.board.devices.get(terminal.owner)
    if device is None:
        return False
    part = device.part
    return bool(part.loads) and not (part.outlets or part.positions or part.contacts or part.children)


def _of_ground(case: Case, join: Join, terminal: Terminal, size: str) -> Iterator[ThinPigtail]:
    """By the largest breaker of the circuits on its device, or in its splice where that has none."""
    runs = {case.board.conductors[one.name].run for one in join.splice if one.kind == "end"}
    circuits = list(_on(case, terminal.owner)) or [
        guard for name, guard in guards(case).items() if case.board.conductors[name].run in runs
    ]
    if not circuits:
        return
    guard = max(circuits, key=lambda one: one.amps)
    listed = grounding_conductor(guard.amps, "copper", code=case.code)
    own = max(guard.conductors, key=lambda one: area(one.size))
    if listed is None or area(size) >= min(area(listed), area(own.size)):
        return
    capped = area(own.size) < area(listed)
    section = case.code.section(
        "grounding conductor no larger than the circuit's own" if capped else "grounding conductors"
    )
    yield _thin(case, join, terminal, guard, size, own.size if capped else listed, False, section)


def _on(case: Case, device: str) -> Iterator[Guarded]:
    """The breaker or fuse of each wire that comes to a device, not counting its ground."""
    for join in case.board.joins:
        for name in join.under:
            terminal = case.board.terminals[name]
            guard = behind(case, join, name)
            if terminal.owner == device and terminal.spec.role != "ground" and guard is not None:
                yield guard


def _thin(
    case: Case,
    join: Join,
    terminal: Terminal,
    guard: Guarded,
    size: str,
    least: str,
    tap: bool,
    source: str,
) -> ThinPigtail:
    return ThinPigtail(
        at=spot(join),
        about=terminal,
        severity="violation",
        stage="trim",
        copper=frozenset((case.uses.piece[terminal.name],)),
        terminal=terminal,
        join=join,
        guard=guard,
        size=size,
        least=least,
        tap=tap,
        source=source,
    )


def words(problem: ThinPigtail, case: Case) -> Words:
    """The pigtail's size, the breaker's rating, and the size that goes with it."""
    guard, least = problem.guard, gauge(problem.least)
    needs = f"behind {amps(guard.amps)} it needs {least} or larger"
    ground = problem.terminal.spec.role == "ground"
    if ground:
        why = f"In a fault it can burn off before {guard.name} {opens(guard.protection)}."
    else:
        what = f"{kind(guard.protection)} {opens(guard.protection)}"
        why = f"It can overheat in the box before this {what}."
    if problem.tap:
        needs = f"even a short tail to one light or load needs {least} or larger"
    return Words(
        message=f"The pigtail to {problem.terminal.name} is {gauge(problem.size)}, and "
        f"{begun(guard.protection)[:1].lower()}{begun(guard.protection)[1:]} is {amps(guard.amps)}: "
        f"{needs}. {why}",
        help=f"Make the pigtail of {least} copper: pigtail {problem.least}",
        source=problem.source,
        also=(Note(f"{guard.name} is {amps(guard.amps)}", guard.protection.span),),
    )


RULE = rule(__name__, "trim", severities=("violation",), find=find, words=words)

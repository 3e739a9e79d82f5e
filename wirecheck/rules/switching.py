"""Rules about what switches do: every position is tried, and what the board shall do is compared with it."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from wirecheck.circuit.circuit import Circuit, Load, Outlet
from wirecheck.circuit.positions import Group, combinations
from wirecheck.circuit.series import in_series
from wirecheck.circuit.settle import Settled, resting, settle
from wirecheck.judge.case import Case
from wirecheck.judge.continuity import Wanted, why_no_volts
from wirecheck.judge.finding import Finding, Note
from wirecheck.judge.stop_words import remedy, said
from wirecheck.language.quantity import volts as in_volts
from wirecheck.language.syntax import ExpectFrom, ExpectLive, Span
from wirecheck.rules.old import rule

# An outlet is live with at least this share of its volts: ANSI C84.1 range B ends near it (common practice).
LIVE = 0.85
# How many states are worked out at most to find two wires that are exchanged in one box.
MOST_TRIALS = 500
# And how many positions, to find what is missing in all of them.
MOST_ROWS = 16
# An outlet with more than this share of its volts burns what is plugged in (common practice).
TOO_MUCH = 1.15
# A lamp that gets less than this share of its volts, and more than nothing, glows (common practice).
GLOWS = 0.1


@dataclass(frozen=True, slots=True)
class Row:
    """One position of a group's switches: whether the target is on, and its volts."""

    positions: Mapping[str, str]
    on: bool
    volts: float
    settled: Settled


@rule("final")
def switching(case: Case) -> Iterator[Finding]:
    """A light or an outlet does not answer to its switches as the board says it shall.

    Each switch that is named must turn it over from every position of the
    others, and no other switch may. Every position is tried.

    Source: the board's own `expect` lines; common practice for 3-way and 4-way switching
    """
    told: dict[tuple[Span, str | None], list[Finding]] = {}
    for expectation in case.board.expectations:
        if isinstance(expectation, ExpectFrom):
            found = _from_switches(case, expectation)
        elif isinstance(expectation, ExpectLive):
            found = _live(case, expectation)
        else:
            continue
        for finding in found:
            told.setdefault((finding.span, finding.help), []).append(finding)
    for first, *others in told.values():
        # What has the same cause is told once.
        names = ", ".join(finding.subject for finding in others)
        yield first._replace(
            message=first.message + (f" The same goes for {names}." if others else ""),
            also=(*first.also, *(note for finding in others for note in finding.also)),
        )


def targets(circuit: Circuit, name: str) -> tuple[tuple[str, str, str, float, float], ...]:
    """What a name in an `expect` line means: (name, two points, rated volts, volts needed) each."""
    load = circuit.load.get(name)
    if load is not None:
        return ((load.name, load.a, load.b, load.volts, load.works),)
    return tuple(
        (outlet.name, outlet.hot, outlet.neutral, outlet.volts, outlet.volts * LIVE)
        for outlet in circuit.outlets_of(name)
    )


def table(case: Case, circuit: Circuit, group: Group, a: str, b: str, needs: float) -> list[Row]:
    """Every position of a group's switches with the volts between two points."""
    if circuit is case.circuit:
        states = [(row.moved, row.settled) for row in case.rows(group)]
    else:
        choices = combinations(circuit, group)[0]
        states = [(moved, settle(circuit, resting(circuit, moved))) for moved in choices]
    return [
        Row(moved, (present := settled.across(a, b)) >= needs, present, settled) for moved, settled in states
    ]


def _group(case: Case, target: str) -> Group | None:
    return next((group for group in case.groups if target in group.loads or target in group.outlets), None)


def turned_by(rows: list[Row], switches: tuple[str, ...]) -> bool:
    """Whether each of the switches alone turns the target over, and no other does."""
    on = {tuple(row.positions.values()): row.on for row in rows}
    if not rows:
        return False
    names = list(rows[0].positions)
    if any(switch not in names for switch in switches):
        return False
    values = [sorted({row.positions[name] for row in rows}) for name in names]
    for key, index in itertools.product(on, range(len(names))):
        for value in values[index]:
            moved = (*key[:index], value, *key[index + 1 :])
            turned = on.get(moved, on[key]) != on[key]
            if moved != key and moved in on and turned != (names[index] in switches):
                return False
    return True


def _from_switches(case: Case, expectation: ExpectFrom) -> Iterator[Finding]:
    switches = tuple(word.text for word in expectation.switches)
    for name, a, b, rated, needs in targets(case.circuit, expectation.load.text):
        group = _group(case, name)
        if group is None:
            continue
        rows = table(case, case.circuit, group, a, b, needs)
        # A short is told by its own rule; what a tripped breaker leaves dark says nothing of the switches.
        if turned_by(rows, switches) or any(row.settled.opened for row in rows):
            continue
        repair = _repair(case, group, a, b, needs, switches)
        span, why, advice = _help(rows, case, (a, b, rated), name, expectation)
        also: tuple[Note, ...] = ()
        message = _says(rows, switches, rated, needs, name) + why
        if repair is not None:
            one, other = repair
            lines = sorted(line for screw in repair if (line := _line(case, screw)) is not None)
            span = lines[0] if lines else span
            message += f" The wires on {one} and {other} are exchanged."
            advice = f"Exchange the wires on {one} and {other}."
            also = tuple(Note("the other one", line) for line in lines[1:])
        yield Finding(
            rule="switching",
            severity="fault",
            message=message,
            span=span,
            subject=name,
            source="expect " + expectation.load.text + " from " + ", ".join(switches),
            help=advice,
            also=(*also, Note("what the board shall do", expectation.span)),
        )


def _line(case: Case, point: str) -> Span | None:
    return next((join.span for join in case.board.joins if any(m.point == point for m in join.members)), None)


def _says(rows: list[Row], switches: tuple[str, ...], rated: float, needs: float, name: str) -> str:
    """What the target does, and what it shall do, in a sentence."""
    does = behavior(rows, rated, needs, name)
    if any(GLOWS * rated < row.volts < needs for row in rows):
        return f"{does}."
    shall = " and ".join(switches)
    on = sum(row.on for row in rows)
    if on in (0, len(rows)):
        return f"{does}, and {shall} shall turn it on and off."
    turns = "turn" if len(switches) == 1 else "each turn"
    return f"{does}{',' if ' only while ' in does else ';'} and {shall} shall {turns} it over alone."


def behavior(rows: list[Row], rated: float, needs: float, name: str) -> str:
    """What a target does in the positions of its switches, as a sentence without its full stop."""
    glowing = [row for row in rows if GLOWS * rated < row.volts < needs]
    if glowing:
        worst = max(glowing, key=lambda row: row.volts)
        others = in_series(worst.settled, name)
        why = f"it is in series with {_listed(others)}" if others else "something is in series with it"
        return (
            f"{name} gets only {in_volts(worst.volts)}{_with(worst.positions)}, and is made for "
            f"{in_volts(rated)}: {why}"
        )
    lit = [row for row in rows if row.on]
    if not lit:
        return f"{name} never comes on"
    if len(lit) == len(rows):
        return f"{name} is on whatever the switches do"
    fixed = {
        switch: value
        for switch, value in lit[0].positions.items()
        if all(row.positions[switch] == value for row in lit)
    }
    count = 1
    for switch in rows[0].positions:
        if switch not in fixed:
            count *= len({row.positions[switch] for row in rows})
    if fixed and count == len(lit):
        return f"{name} is on only while " + " and ".join(
            f"{switch} is {value}" for switch, value in fixed.items()
        )
    shown = "; ".join(", ".join(f"{s} {v}" for s, v in row.positions.items()) for row in lit[:4])
    more = f", and {len(lit) - 4} more" if len(lit) > 4 else ""
    return f"{name} is on with {shown}{more}"


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]


def _with(positions: Mapping[str, str]) -> str:
    return (
        " with " + " and ".join(f"{switch} {value}" for switch, value in positions.items())
        if positions
        else ""
    )


def _help(
    rows: list[Row], case: Case, target: tuple[str, str, float], name: str, expectation: ExpectFrom
) -> tuple[Span, str, str]:
    """The line to look at, what is seen there, and what to do."""
    a, b, rated = target
    if all(row.on for row in rows):
        advice = "Look for a path that goes around the switches, or a feed on the wrong side of one."
    elif any(row.on for row in rows):
        parts = (case.circuit.devices[switch].part for switch in rows[0].positions)
        advice = "Follow the feed to each switch, and what leaves it to its own load and no other."
        if any("common" in part.terminals for part in parts):
            advice = "Look at which wire is on the common screw of each switch, and which are its travelers."
    elif any(row.volts > GLOWS * rated for row in rows):
        advice = "Give each load a path of its own: hot to its hot side, neutral to its neutral side."
    else:
        # In the position in which the least is missing: a wire, and no switch.
        stops = (
            why_no_volts(case, row.settled, Wanted(_thing(case, name), a, b, rated))
            for row in rows[:MOST_ROWS]
        )
        stop = min(stops, key=lambda stop: stop.steps)
        return stop.at.span if stop.at else expectation.span, f" {said(stop, case)}", remedy(stop)
    return expectation.span, "", advice


def _repair(
    case: Case, group: Group, a: str, b: str, needs: float, switches: tuple[str, ...]
) -> tuple[str, str] | None:
    """The one exchange of two wires in one place that would make it right, if there is one."""
    circuit = case.circuit
    known = [name for name in switches if name in circuit.variables]
    group = group._replace(switches=tuple(dict.fromkeys((*group.switches, *known))))
    if len(group.switches) > 6:
        return None
    for one, other in _exchanges(case, group, a, b):
        if circuit.node[one] != circuit.node[other]:
            node = circuit.node | {one: circuit.node[other], other: circuit.node[one]}
            changed = replace(circuit, node=node)
            if turned_by(table(case, changed, group, a, b, needs), switches) and _stays(case, changed):
                return min(one, other), max(one, other)
    return None


def _stays(case: Case, changed: Circuit) -> bool:
    """Whether what its switches turned over before is turned over by them in a changed circuit."""
    for expectation in case.board.expectations:
        if isinstance(expectation, ExpectFrom):
            switches = tuple(word.text for word in expectation.switches)
            for name, a, b, _, needs in targets(case.circuit, expectation.load.text):
                group = _group(case, name)
                if group is None or not turned_by(table(case, case.circuit, group, a, b, needs), switches):
                    continue
                if not turned_by(table(case, changed, group, a, b, needs), switches):
                    return False
    return True


def _exchanges(case: Case, group: Group, a: str, b: str) -> list[tuple[str, str]]:
    """The pairs of screws that a hand may have exchanged: on one device, then between two in one place."""
    circuit = case.circuit
    outlets = (outlet.device for outlet in circuit.outlets if (outlet.hot, outlet.neutral) == (a, b))
    loads = (load.device for load in circuit.loads if (load.a, load.b) == (a, b))
    devices = dict.fromkeys(name.partition(".")[0] for name in (*group.switches, *outlets, *loads))
    screws = [
        (device, f"{device}.{terminal.name}")
        for device in devices
        for terminal in circuit.devices[device].part.terminals.values()
        if terminal.role not in ("ground", "neutral")
    ]
    near: list[tuple[str, str]] = []
    far: list[tuple[str, str]] = []
    for (first, one), (second, other) in itertools.combinations(screws, 2):
        if first == second:
            near.append((one, other))
        elif circuit.devices[first].place == circuit.devices[second].place:
            far.append((one, other))
    # Every pair is tried in every position: with many switches in one box, one device at a time must do.
    return near + far if len(far) << len(group.switches) < MOST_TRIALS else near


def _thing(case: Case, name: str) -> Load | Outlet:
    """The load or the outlet of a name."""
    load = case.circuit.load.get(name)
    return load if load is not None else next(one for one in case.circuit.outlets if one.name == name)


def _live(case: Case, expectation: ExpectLive) -> Iterator[Finding]:
    told: set[str] = set()
    for name, a, b, rated, needs in targets(case.circuit, expectation.outlet.text):
        group = _group(case, name)
        rows = table(case, case.circuit, group, a, b, needs) if group else []
        if not rows or any(row.settled.opened for row in rows):
            continue
        most = max(rows, key=lambda row: row.volts)
        if most.volts > TOO_MUCH * rated:
            yield Finding(
                rule="switching",
                severity="hazard",
                message=f"{name} is made for {in_volts(rated)} and has {in_volts(most.volts)}"
                f"{_with(most.positions)}: it burns what is plugged in.",
                span=_line(case, b) or expectation.span,
                subject=name,
                value=round(most.volts, 1),
                limit=rated,
                unit="V",
                source=f"expect {expectation.outlet.text} live",
                help="Bring one hot and the neutral to it, and not two hots of different legs.",
                also=(Note("what the board shall do", expectation.span),),
            )
            continue
        if all(row.on for row in rows):
            continue
        if any((a, b) == (one.hot, one.neutral) and one.name in told for one in case.circuit.outlets):
            # The two halves of a receptacle with its tabs in place are one.
            continue
        told.add(name)
        dark = next(row for row in rows if not row.on)
        if any(row.on for row in rows):
            message = f"{name} shall always be live, and has {in_volts(dark.volts)}{_with(dark.positions)}."
            advice = "Feed it ahead of the switch, from the hot that is always live."
            span = expectation.span
        else:
            stop = why_no_volts(case, dark.settled, Wanted(_thing(case, name), a, b, rated))
            message = f"{name} shall be live, and has {in_volts(dark.volts)}. {said(stop, case)}"
            advice, span = remedy(stop), stop.at.span if stop.at else expectation.span
        yield Finding(
            rule="switching",
            severity="fault",
            message=message,
            span=span,
            subject=name,
            value=round(dark.volts, 1),
            limit=rated,
            unit="V",
            source=f"expect {expectation.outlet.text} live",
            help=advice,
            also=(Note("what the board shall do", expectation.span),) if span != expectation.span else (),
        )

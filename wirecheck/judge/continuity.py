"""Where a path stops: from the source to a load and back, terminal by terminal, to the one open place.

The path looked for is the cheapest to mend: copper costs nothing, a contact
that is open costs one step, a joint that was never made costs many. What is in
the way on the cheapest path is what keeps the load from running. Where a
control holds a contact open, what the control waits for is looked for in turn.
"""

from __future__ import annotations

import heapq
from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass, replace

from wirecheck.circuit.circuit import COILS, Circuit, Contact, Load, Move, Protection, number
from wirecheck.circuit.settle import Settled, View, holds
from wirecheck.judge.case import Case
from wirecheck.judge.old_blame import GROUND_COLORS, conductor_use
from wirecheck.language.quantity import volts as in_volts
from wirecheck.language.syntax import (
    AllOf,
    AnyOf,
    Called,
    Condition,
    HasVoltage,
    InPosition,
    IsState,
    Negation,
    Runs,
    Span,
    WasState,
)
from wirecheck.model.board import Member
from wirecheck.model.runs import CLASS_2_CABLES

OPEN_CONTACT = 1
OPENED = 2
# A joint that is missing: less where a loose wire or an empty screw waits for it.
WAITING_END, BUSY_END = 20, 45
# And much more where a hot would go on as a neutral.
MISFIT = 1000
DEEPEST = 6
# A way on that needs a call which was not made is no way on.
UNCALLED = 100
# A contact that no wiring keeps open: it waits for its time, or for a machine. It is no open place either.
UNWIRED = 50
MOST_WAYS = 4


@dataclass(frozen=True, slots=True)
class Stop:
    """Where a path stops: in words, what restores it, and the line to look at if it is in one.

    `steps` is how far it was looked for, much more where a call would have to
    be made first; `weak` the load that gets some of its volts, if that is it.
    """

    text: str
    help: str
    span: Span | None
    steps: int = 0
    weak: Load | None = None


def why_not(case: Case, settled: Settled, load: Load, depth: int = 0) -> Stop:
    """Why a load does not run in a state."""
    return why_no_volts(case, settled, load.a, load.b, load.volts, load.name, depth)


def why_no_volts(
    case: Case, settled: Settled, a: str, b: str, volts: float, what: str, depth: int = 0
) -> Stop:
    """Why there are not about `volts` between two points in a state."""
    present = settled.across(a, b)
    if present > 0.2 * volts:
        return Stop(
            f"{what} gets {in_volts(present)} where it needs about {in_volts(volts)}.",
            "Look for something in series with it, a run that is too long or too thin, or the wrong source.",
            None,
            weak=case.circuit.load.get(what),
        )
    told: Stop | None = None
    barred: frozenset[str] = frozenset()
    for _ in range(MOST_WAYS):
        stop, gap = _nearest(case, settled, a, b, volts, what, depth, barred)
        if told is None or stop.steps < UNWIRED:
            told = stop
        if stop.steps < UNWIRED or gap is None or not isinstance(gap.of, Contact):
            break
        # No wire is at fault on that way: it waits for another call, or for its time. There may be a better.
        barred |= {gap.of.name}
    assert told is not None
    return told


def _nearest(
    case: Case,
    settled: Settled,
    a: str,
    b: str,
    volts: float,
    what: str,
    depth: int,
    barred: frozenset[str],
) -> tuple[Stop, _Gap | None]:
    """What stops the cheapest way between a source and two points, some contacts left out of it."""
    best: tuple[int, list[_Gap]] | None = None
    source = ("", "")
    for one, other in _sources(case.circuit, volts):
        for near, far in ((one, other), (other, one)):
            first = _way(case, settled, near, a, barred)
            second = _way(case, settled, far, b, barred)
            if first is None or second is None:
                continue
            cost = first[0] + second[0]
            if best is None or cost < best[0]:
                best = cost, [*first[1], *second[1]]
                source = one, other
    if best is None:
        text = f"no source of {in_volts(volts)} on this board reaches {what}."
        return Stop(text, "Bring it a supply of its own voltage.", None, UNCALLED), None
    if not best[1]:
        return _unfed(case, settled, source, what, depth), None
    return _told(case, settled, best[1][0], what, depth), best[1][0]


def _unfed(case: Case, settled: Settled, source: tuple[str, str], what: str, depth: int) -> Stop:
    """Why no power comes along a path that is whole: the transformer at its beginning has none itself."""
    winding = next((each for each in case.circuit.windings if each.secondary == source), None)
    if winding is not None and depth < DEEPEST:
        fed = settled.across(*winding.primary)
        if fed < 0.2 * winding.primary_volts:
            name = winding.name
            deeper = why_no_volts(
                case, settled, *winding.primary, winding.primary_volts, f"{name}'s primary", depth + 1
            )
            return _further(f"{name} gives no {in_volts(winding.secondary_volts)}", deeper, 1)
    return Stop(f"{what} has its path, and no power comes along it.", "Look at what feeds it.", None)


@dataclass(frozen=True, slots=True)
class _Gap:
    """Something in the way: a contact or protection that is open, or (None) a joint that is missing."""

    a: str
    b: str
    of: Contact | Protection | None


def _sources(circuit: Circuit, volts: float) -> Iterator[tuple[str, str]]:
    """The pairs of points that stand at about that many volts, when all is well."""
    for index, leg in enumerate(circuit.legs):
        neutral = f"{leg.panel}.neutral"
        if neutral in circuit.node and 0.7 < abs(leg.volts) / volts < 1.4:
            yield leg.point, neutral
        for other in circuit.legs[index + 1 :]:
            if other.panel == leg.panel and 0.7 < abs(leg.volts - other.volts) / volts < 1.4:
                yield leg.point, other.point
    for winding in circuit.windings:
        if 0.7 < winding.secondary_volts / volts < 1.4:
            yield winding.secondary


def _way(
    case: Case, settled: Settled, origin: str, target: str, barred: frozenset[str]
) -> tuple[int, list[_Gap]] | None:
    """The cheapest way between two points and the gaps on it, from the origin on."""
    circuit = case.circuit
    opened = {opening.name for opening in settled.opened}
    joinable = _joinable(case)
    places: dict[str, list[str]] = {}
    for point, (place, _, _) in joinable.items():
        places.setdefault(place, []).append(point)
    cost = {origin: 0}
    before: dict[str, tuple[str, _Gap | None]] = {}
    waiting = [(0, origin)]
    entered: dict[tuple[str, str, str | None], int] = {}
    while waiting:
        spent, point = heapq.heappop(waiting)
        if spent > cost[point]:
            continue
        if point == target:
            break
        steps: list[tuple[int, str, _Gap | None]] = []
        for _, neighbor, data in circuit.graph.edges(point, data=True):
            of = data["of"]
            if data["kind"] in ("join", "wire"):
                steps.append((0, neighbor, None))
            elif isinstance(of, Contact) and of.name not in barred:
                closed = of.name in settled.closed
                steps.append(
                    (0 if closed else OPEN_CONTACT, neighbor, None if closed else _Gap(point, neighbor, of))
                )
            elif isinstance(of, Protection):
                closed = of.name not in opened
                steps.append(
                    (0 if closed else OPENED, neighbor, None if closed else _Gap(point, neighbor, of))
                )
        if point in joinable:
            place, price, use = joinable[point]
            # Of all points of a kind in a place, the first that is reached is the cheapest to join from; but
            # no two wires of one cable are joined, so each cable's wires have a first of their own.
            way_in = (place, _cable(point), use)
            if spent + price < entered.get(way_in, 1 << 30):
                entered[way_in] = spent + price
                steps += (
                    (
                        price + joinable[other][1] + _misfit(use, joinable[other][2]),
                        other,
                        _Gap(point, other, None),
                    )
                    for other in places[place]
                    if other != point and not (_cable(point) and _cable(point) == _cable(other))
                )
        for price, neighbor, gap in steps:
            if spent + price < cost.get(neighbor, 1 << 30):
                cost[neighbor] = spent + price
                before[neighbor] = (point, gap)
                heapq.heappush(waiting, (spent + price, neighbor))
    if target not in cost:
        return None
    gaps: list[_Gap] = []
    point = target
    while point != origin:
        point, gap = before[point]
        if gap is not None:
            gaps.append(gap)
    return cost[target], gaps[::-1]


def _cable(point: str) -> str:
    """The cable or wire that a point is an end of; nothing for a terminal."""
    return point.partition("@")[0].partition(".")[0] if "@" in point else ""


def _misfit(one: str | None, other: str | None) -> int:
    """What it costs to join a hot to a neutral, which nobody should."""
    return MISFIT if one and other and one != other else 0


def _joinable(case: Case) -> dict[str, tuple[str, int, str | None]]:
    """The points that a hand can join: their place, what it costs to join there, what they are for."""
    board = case.board
    busy = {member.point: member for join in board.joins for member in join.members}
    told: dict[str, tuple[str, int, str | None]] = {}
    for conductor in case.board.conductors.values():
        if conductor.color in GROUND_COLORS and conductor.insulation not in CLASS_2_CABLES:
            # Whatever is dead, a ground is never what it should be joined to.
            continue
        for point, place in zip(conductor.ends, conductor.places, strict=True):
            # A wire that waits may still be marked for whatever it is to be.
            use = conductor_use(busy[point], board) if point in busy else None
            told[point] = (place, BUSY_END if point in busy else WAITING_END, use)
    for terminal in case.board.terminals.values():
        if terminal.spec.role != "ground":
            name = terminal.name
            use = conductor_use(Member("terminal", name, name, None, board.span), board)
            told[name] = (terminal.place, BUSY_END if name in busy else WAITING_END, use)
    return told


def _told(case: Case, settled: Settled, gap: _Gap, what: str, depth: int) -> Stop:
    a, b = (point.partition("@")[0] for point in (gap.a, gap.b))
    if gap.of is None:
        joinable = _joinable(case)
        place, _, use = joinable[gap.a]
        if _misfit(use, joinable[gap.b][2]):
            return Stop(
                f"the path to {what} comes as far as {a} at {place}, and no wire of its kind goes on there.",
                "Two wires are exchanged on the way: bring hots to hot screws and whites to neutral screws.",
                _line(case, gap.a),
                UNWIRED,
            )
        waiting = WAITING_END in (joinable[gap.a][1], joinable[gap.b][1])
        return Stop(
            f"the path to {what} comes as far as {a} at {place} and goes no further.",
            f"At {place}, join {a} to {b}.",
            _line(case, gap.a, gap.b),
            0 if waiting else UNWIRED,
        )
    if isinstance(gap.of, Protection):
        return Stop(
            f"{gap.of.name} has opened.",
            "Find what made it open before it is closed again.",
            gap.of.span,
        )
    contact = gap.of
    view = _view(case, settled)
    steps = UNCALLED if _uncalled(contact.when, contact.scope, view) else 1
    if depth < DEEPEST:
        deeper = _waits_for(case, settled, contact.when, contact.scope, view, depth + 1)
        if deeper is not None:
            return _further(_held(case.circuit, contact), deeper, steps)
    return Stop(
        f"the contact from {a} to {b} is open: it closes when {in_words(contact.when, contact.scope)}.",
        f"Find out what keeps {contact.scope} from it.",
        case.circuit.devices[contact.scope].span,
        max(steps, UNWIRED),
    )


def _held(circuit: Circuit, contact: Contact) -> str:
    """What holds a contact open, where what comes next does not say it."""
    match contact.when:
        case Runs(name):
            load = circuit.load.get(f"{contact.scope}.{name.text}")
            told = load.name if load else f"{contact.scope}.{name.text}"
            return f"{told} {'is not pulled in' if load and load.kind in COILS else 'does not run'}"
        case IsState() | Negation() | AllOf() | AnyOf():
            return ""
    return f"{contact.scope} is open: it closes when {in_words(contact.when, contact.scope)}"


def _further(text: str, deeper: Stop, steps: int) -> Stop:
    """What stands at a place because of what stops farther on."""
    told = f"{text}. {deeper.text[0].upper()}{deeper.text[1:]}" if text else deeper.text
    return replace(deeper, text=told, steps=deeper.steps + steps)


def _line(case: Case, *points: str) -> Span | None:
    """The line where one of the points is capped or joined, else that of its conductor."""
    for point in points:
        if point in case.board.capped:
            return case.board.capped[point]
    for point in points:
        for join in case.board.joins:
            if any(member.point == point for member in join.members):
                return join.span
    for point in points:
        conductor = case.board.conductors.get(point.partition("@")[0])
        if conductor is not None:
            return conductor.span
    return None


def _view(case: Case, settled: Settled) -> View:
    return View(
        case.circuit,
        settled.positions,
        settled.calls,
        settled.running,
        settled.volts,
        settled.floating,
        {},
    )


def _waits_for(
    case: Case, settled: Settled, condition: Condition, scope: str, view: View, depth: int
) -> Stop | None:
    """What keeps a condition from being true, followed down to one open place.

    Of alternatives, the one that is nearest to come true is followed.
    """
    if holds(condition, scope, view):
        return None
    match condition:
        case AllOf(facts):
            stops = [_waits_for(case, settled, fact, scope, view, depth) for fact in facts]
            return next((stop for stop in stops if stop is not None), None)
        case AnyOf(facts):
            stops = [_waits_for(case, settled, fact, scope, view, depth) for fact in facts]
            return min(
                (stop for stop in stops if stop is not None), key=lambda stop: stop.steps, default=None
            )
        case HasVoltage(terminal, least, reference):
            wanted = number(least, case.circuit.devices[scope].values)
            a, b = f"{scope}.{terminal.text}", f"{scope}.{reference.text}"
            nominal = _nominal(case.circuit, wanted.value if wanted else 24.0)
            return why_no_volts(case, settled, a, b, nominal, a, depth)
        case Runs(name):
            load = case.circuit.load.get(f"{scope}.{name.text}")
            return why_not(case, settled, load, depth) if load is not None else None
        case InPosition(position):
            return _not_moved(case, settled, scope, position.text, view, depth)
        case IsState(name, state):
            return _not_moved(case, settled, f"{scope}.{name.text}", state.text, view, depth)
        case Negation(IsState(name, _)):
            return _not_moved(case, settled, f"{scope}.{name.text}", None, view, depth)
    return None


def _uncalled(condition: Condition, scope: str, view: View) -> bool:
    """Whether a condition can come true only with a call that is not made."""
    match condition:
        case AllOf(facts):
            return any(_uncalled(fact, scope, view) for fact in facts)
        case AnyOf(facts):
            return all(_uncalled(fact, scope, view) for fact in facts)
        case Called():
            return not holds(condition, scope, view)
    return False


def _nominal(circuit: Circuit, least: float) -> float:
    """The volts of the source that a control which needs `least` is meant for."""
    known = [winding.secondary_volts for winding in circuit.windings] + [
        abs(leg.volts) for leg in circuit.legs
    ]
    return min((volts for volts in known if volts >= least), default=least)


def _not_moved(
    case: Case, settled: Settled, variable: str, wanted: str | None, view: View, depth: int
) -> Stop | None:
    """Why a state or a sensing device is not where it should be: at `wanted`, or (None) anywhere else."""
    stands = settled.positions.get(variable, "")
    moves = [move for move in case.circuit.moves if move.variable == variable]
    came = {stands}
    steps: deque[tuple[str, Move | None]] = deque([(stands, None)])
    first: Move | None = None
    while steps:
        value, start = steps.popleft()
        if value == wanted or (wanted is None and value != stands):
            first = start
            break
        for move in moves:
            if (not move.origins or value in move.origins) and move.target not in came:
                came.add(move.target)
                steps.append((move.target, start or move))
    if first is None or first.when is None or depth > DEEPEST:
        return None
    lacking = _lacking(first.when, first.scope, view)
    text = f"{variable} is {stands}, and stays so until {in_words(lacking, first.scope)}"
    waits = _waits_for(case, settled, first.when, first.scope, view, depth + 1)
    if waits is None:
        owner = variable.rpartition(".")[0]
        return Stop(f"{text}.", f"Find out what keeps {owner} from it.", first.span, UNWIRED)
    return _further(text, waits, 1)


def _lacking(condition: Condition, scope: str, view: View) -> Condition:
    """Of facts that must all be so, those that are not; else the condition itself."""
    match condition:
        case AllOf(facts):
            absent = tuple(fact for fact in facts if not holds(fact, scope, view))
            return absent[0] if len(absent) == 1 else AllOf(absent) if absent else condition
    return condition


def in_words(condition: Condition, scope: str) -> str:
    """A condition as a sentence's end, its names in full.

    >>> from wirecheck.language.syntax import Word
    >>> here = Span(1, 1, 1, 5)
    >>> limit = IsState(Word("limit", here), Word("open", here))
    >>> in_words(AllOf((Called(Word("cool", here)), Negation(limit))), "F")
    'cool is called and F.limit is not open'
    """
    match condition:
        case AllOf(facts):
            return " and ".join(in_words(fact, scope) for fact in facts)
        case AnyOf(facts):
            return " or ".join(in_words(fact, scope) for fact in facts)
        case Negation(fact):
            words = in_words(fact, scope)
            for verb, negated in ((" is ", " is not "), (" runs", " does not run"), (" has ", " has not ")):
                if verb in words:
                    return words.replace(verb, negated, 1)
            return f"not {words}"
        case InPosition(position):
            return f"{scope} is {position.text}"
        case IsState(name, state):
            return f"{scope}.{name.text} is {state.text}"
        case Runs(load):
            return f"{scope}.{load.text} runs"
        case Called(call):
            return f"{call.text} is called"
        case HasVoltage(terminal, least, reference):
            return f"{scope}.{terminal.text} has {least.text} to {scope}.{reference.text}"
        case WasState(name, state, times):
            return f"{scope}.{name.text} was {state.text} {times} times"

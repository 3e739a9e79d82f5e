"""Rules about breakers, fuses and sources: what they protect, when they open, what is kept apart."""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from wirecheck.circuit.circuit import Load, Outlet, Protection, Winding
from wirecheck.circuit.routes import OVERCURRENT, Zone, equipment, nameplate, routes
from wirecheck.circuit.settle import Opening, Settled
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Finding, Note
from wirecheck.judge.sizing import (
    Guarded,
    arithmetic,
    carries,
    carrying_together,
    gauge,
    guarded,
    is_grounding,
    larger_sizes,
    may_have,
    named_size,
)
from wirecheck.judge.sizing import Largest as Limit
from wirecheck.language.quantity import amps, rounded, shown, volts
from wirecheck.language.syntax import Span
from wirecheck.model.board import Conductor, Device
from wirecheck.model.runs import CLASS_2_CABLES
from wirecheck.rules.old import rule
from wirecheck.tables.ampacity import Ampacity
from wirecheck.tables.motors import motor_protection
from wirecheck.tables.overcurrent import previous_standard, receptacle_ratings, standard_ratings
from wirecheck.tables.published import NotInTable
from wirecheck.tables.transformers import class_2_limit, primary_protection
from wirecheck.tables.trips import trip_seconds

# The largest protection ahead of a Class 2 transformer: 725.127.
CLASS_2_PRIMARY_AMPS = 20.0
# What a Class 2 source of a control circuit may have: Chapter 9 Table 11(A).
CLASS_2_VOLTS = 30.0
CLASS_2_VA = 100.0
# Below this share of its rated volts a 24 V supply is not to be trusted: 20 V of 24 V (common practice).
TRUSTED = 20 / 24
# A load that draws less than this share of its rated current is not running.
DRAWS = 0.5
# A breaker is not called overloaded until its current is that much of its rating.
HOLDS = 1.01
# Leakage that loads do not account for and that is no short circuit yet, in amperes.
GROUND_FAULT = 0.1
# The share of a current that loads must account for; the rest of it is a short circuit's.
BY_LOADS = 0.5


# ------------------------------------------------------------- overcurrent


@rule("rough-in")
def overcurrent_protection(case: Case) -> Iterator[Finding]:
    """A breaker or fuse is too large for the wire it protects, or too small for its load.

    A breaker is there to open before the wire overheats. On a larger breaker
    the wire can glow inside the wall while the breaker holds. Small wires have
    a limit of their own, whatever the table of ampacities says: 15 A for 14 AWG
    copper, 20 A for 12, 30 A for 10. Where an ampacity falls between two
    standard ratings the next one up may serve, but not where cords are plugged
    in at more than one receptacle. Motors and air-conditioning equipment start
    hard and go by their nameplate instead.

    Source: NEC 2023 240.4(B), 240.4(D), 240.4(G), 240.6(A), 210.20(A), 430.52, 440.22, 110.3(B)
    """
    bunched = carrying_together(case)
    told: set[tuple[str, float, str]] = set()
    for guard in guarded(case):
        plate = plate_limit(case, guard)
        if plate is not None:
            # The fuses of one disconnect are one choice: told once.
            holder = guard.name if guard.name in case.board.breakers else guard.name.rpartition(".")[0]
            pair = (plate[0].name, guard.amps, holder or guard.name)
            if guard.amps > plate[1] * (1 + 1e-9) and pair not in told:
                told.add(pair)
                yield _over_nameplate(guard, *plate)
        else:
            yield from _too_large(case, guard, bunched)
        yield from _too_small(case, guard)
        fuse = guard.zones[0].protection.kind == "fuse"
        if guard.amps not in standard_ratings(fuse) and guard.amps >= standard_ratings(fuse)[0]:
            yield Finding(
                rule="overcurrent-protection",
                severity="advice",
                message=f"{guard.name} is {amps(guard.amps)}, which is no standard rating.",
                span=guard.zones[0].protection.span,
                subject=guard.name,
                value=guard.amps,
                unit="A",
                source="NEC 2023 240.6(A)",
                help="Standard ratings near it: " + _near_ratings(guard.amps, fuse) + ".",
                stage="rough-in",
            )


def _near_ratings(rating: float, fuse: bool) -> str:
    below = previous_standard(rating, fuse)
    above = next((one for one in standard_ratings(fuse) if one > rating), None)
    return " and ".join(amps(one) for one in (below, above) if one is not None)


def _drawers(guard: Guarded) -> list[Load | Winding]:
    told: dict[str, Load | Winding] = {}
    for zone in guard.zones:
        told.update((load.name, load) for load in zone.loads)
        told.update((winding.name, winding) for winding in zone.windings)
    return list(told.values())


def _sole_equipment(case: Case, guard: Guarded) -> Device | None:
    """The one piece of equipment with a nameplate on a circuit, or None where it serves anything else."""
    if any(zone.outlets for zone in guard.zones):
        return None
    owners: dict[str, Device | None] = {}
    for drawer in _drawers(guard):
        around = equipment(case.circuit, drawer.device)
        owners[around.name if around else ""] = around
    return next(iter(owners.values())) if len(owners) == 1 else None


def _over_nameplate(guard: Guarded, around: Device, most: float) -> Finding:
    kind = "fuse" if guard.zones[0].protection.kind == "fuse" else "breaker"
    return Finding(
        rule="overcurrent-protection",
        severity="violation",
        message=f"{guard.name} is {amps(guard.amps)}; the nameplate of {around.name} allows {amps(most)} "
        f"at most (its MOCP): with more, a fault inside it can burn before the {kind} opens.",
        span=guard.zones[0].protection.span,
        subject=guard.name,
        value=guard.amps,
        limit=most,
        unit="A",
        source="NEC 2023 440.22(C), 110.3(B)",
        help=f"Put in a {kind} of {amps(previous_standard(most, kind == 'fuse') or most)}.",
        also=(Note(f"{around.name} is here", around.span),),
        stage="rough-in",
    )


class Allowed(NamedTuple):
    """The largest protection that a run may have, in A, by the conductor of it that allows the least."""

    run: str
    limit: Limit
    conductor: Conductor
    steps: Ampacity


def allowed(case: Case, guard: Guarded, bunched: dict[str, int]) -> Iterator[Allowed]:
    """The largest protection of each run behind a breaker or fuse; a size that no table holds is left out."""
    floor = None if any(zone.outlets for zone in guard.zones) else _motor_limit(guard)
    for run, conductors in guard.runs().items():
        least: Allowed | None = None
        for conductor in conductors:
            try:
                steps = carries(case, conductor, guard.amps, bunched[conductor.name])
            except NotInTable:
                # The ampacity rule says that this is not checked.
                continue
            limit = may_have(steps, _next_up(guard))
            if floor is not None and floor.amps > limit.amps:
                limit = floor
            if least is None or limit.amps < least.limit.amps:
                least = Allowed(run, limit, conductor, steps)
        if least is not None:
            yield least


def plate_limit(case: Case, guard: Guarded) -> tuple[Device, float] | None:
    """The one equipment on a circuit and the most its nameplate allows (its MOCP), or None without one."""
    around = _sole_equipment(case, guard)
    most = nameplate(around, "mocp") if around else None
    return (around, most) if around is not None and most is not None else None


def _next_up(guard: Guarded) -> bool:
    """Whether the next standard size up will do: not where several cords are plugged in (240.4(B)(1))."""
    return _faces({outlet.name: outlet for zone in guard.zones for outlet in zone.outlets}.values()) <= 1


def _too_large(case: Case, guard: Guarded, bunched: dict[str, int]) -> Iterator[Finding]:
    over = [one for one in allowed(case, guard, bunched) if guard.amps > one.limit.amps * (1 + 1e-9)]
    if not over:
        return
    next_up = _next_up(guard)
    also = [Note(f"{one.run} may have {amps(one.limit.amps)}", case.board.runs[one.run].span) for one in over]
    _, limit, conductor, steps = min(over, key=lambda one: one.limit.amps)
    size = _size_for(case, guard, conductor, bunched[conductor.name], next_up)
    smaller = previous_standard(limit.amps)
    kind = "fuse" if guard.zones[0].protection.kind == "fuse" else "breaker"
    offers = [f"a {amps(smaller)} {kind}"] if smaller else []
    if size:
        offers.append(f"{gauge(size)} {conductor.material} all the way")
    yield Finding(
        rule="overcurrent-protection",
        severity="violation",
        message=f"{conductor.run} is {named_size(conductor)}, which may have {amps(limit.amps)} protection; "
        f"{guard.name} is {amps(guard.amps)}, so the wire can overheat and the {kind} still hold.",
        span=guard.zones[0].protection.span,
        subject=guard.name,
        value=guard.amps,
        limit=round(limit.amps, 2),
        unit="A",
        source=limit.source,
        help=f"{arithmetic(steps)} {_why(limit, steps, next_up)}"
        + (f" Use {' or '.join(offers)}." if offers else ""),
        also=tuple(also),
        stage="rough-in",
    )


def _faces(outlets: Iterable[Outlet]) -> int:
    """How many plugs go in: what a device gives at two voltages, as a range's does, is one plug's."""
    told: dict[str, Counter[float]] = {}
    for outlet in outlets:
        told.setdefault(outlet.device, Counter())[outlet.volts] += 1
    return sum(max(count.values()) for count in told.values())


def _for_one_machine(outlet: Outlet, outlets: Iterable[Outlet]) -> bool:
    """Whether an outlet is a range's or a dryer's: two voltages on one face."""
    return len({one.volts for one in outlets if one.device == outlet.device}) > 1


def _starving(guard: Guarded, outlet: Outlet) -> Finding:
    """A range's or dryer's outlet on a breaker that is too small for what plugs into it."""
    return Finding(
        rule="receptacle-rating",
        severity="fault",
        message=f"{outlet.device} is an outlet of {amps(outlet.amps or 0)}, alone on {guard.name}, of "
        f"{amps(guard.amps)}: what is made to plug in there trips it.",
        span=outlet.span,
        subject=outlet.device,
        value=outlet.amps,
        limit=guard.amps,
        unit="A",
        source="common practice",
        help=f"Use a breaker of {amps(outlet.amps or 0)} on wire that it allows, or the outlet of the "
        "machine that this circuit is for.",
        also=(Note(f"{guard.name} is {amps(guard.amps)}", guard.zones[0].protection.span),),
        stage="trim",
    )


def _why(limit: Limit, steps: Ampacity, next_up: bool) -> str:
    section = limit.source.removeprefix("NEC 2023 ")
    if section.startswith("240.4(D)"):
        return f"{section} sets {amps(limit.amps)} for this size, whatever the table says."
    if section == "240.4(B)":
        return f"The next standard rating up is {amps(limit.amps)}."
    if section == "240.4" and not next_up and steps.result not in standard_ratings():
        return "With several outlets for cords its protection may not be the next size up."
    return f"{section} allows {amps(limit.amps)}."


def _motor_limit(guard: Guarded) -> Limit | None:
    """The largest protection of a circuit that serves one motor and nothing else (430.52), or None."""
    drawers = _drawers(guard)
    if len(drawers) != 1 or not isinstance(drawers[0], Load) or drawers[0].kind != "motor":
        return None
    kind = "dual_element_fuse" if guard.zones[0].protection.kind == "fuse" else "inverse_time_breaker"
    return Limit(motor_protection(drawers[0].amps, kind), "motor", "NEC 2023 430.52(C)(1)")


def _size_for(case: Case, guard: Guarded, conductor: Conductor, bunched: int, next_up: bool) -> str | None:
    """The least larger size that this protection allows."""
    for size in larger_sizes(conductor.size):
        try:
            steps = carries(case, conductor._replace(size=size), guard.amps, bunched)
        except NotInTable:
            continue
        if may_have(steps, next_up).amps >= guard.amps:
            return size
    return None


def _too_small(case: Case, guard: Guarded) -> Iterator[Finding]:
    """A breaker below 125 % of its rated continuous load plus the rest (210.20(A))."""
    worst: tuple[float, float, Settled] | None = None
    for zone in guard.zones:
        pole = zone.protection.pole(zone.pole)
        state = case.most.get(pole)
        if state is None or state.opened or abs(state.amps[pole]) > guard.amps:
            # What trips it is another rule's.
            continue
        drawing = [load for load in zone.loads if state.load_amps(load) >= DRAWS * load.amps]
        steady = sum(load.amps for load in drawing if "continuous" in load.flags)
        # Loads of one circuit are near enough in phase for their currents to be added.
        needed = sum(load.amps for load in drawing) + 0.25 * steady
        needed += sum(abs(state.amps.get(winding.name, 0)) for winding in zone.windings)
        if steady and (worst is None or needed > worst[0]):
            worst = needed, steady, state
    if worst is None or worst[0] <= guard.amps * (1 + 1e-9):
        return
    needed, steady_amps, state = worst
    yield Finding(
        rule="overcurrent-protection",
        severity="violation",
        message=f"{guard.name} is {amps(guard.amps)} and must be {amps(needed)} or more"
        f"{case.when(state, guard.name)}: "
        f"{amps(steady_amps)} of its load runs for hours, and counts 125 %.",
        span=guard.zones[0].protection.span,
        subject=guard.name,
        value=guard.amps,
        limit=round(needed, 2),
        unit="A",
        source="NEC 2023 210.20(A)",
        help=f"{amps(steady_amps)} x 1.25 = {amps(1.25 * steady_amps)}. Put less on it, or use larger wire "
        "and a larger breaker.",
        stage="rough-in",
    )


# ------------------------------------------------------------- receptacles


@rule("rough-in", "trim")
def receptacle_rating(case: Case) -> Iterator[Finding]:
    """A receptacle does not fit the rating of its circuit.

    Its face tells which plugs go in, and so how much will be drawn: a 20 A
    receptacle on a 15 A circuit invites a 20 A load, and a 15 A receptacle alone on
    a 20 A circuit can be overloaded with no breaker to notice.

    Source: NEC 2023 210.21(B)(1), 210.21(B)(3)
    """
    bunched = carrying_together(case)
    for guard in guarded(case):
        if any(_too_large(case, guard, bunched)):
            continue  # The breaker is what has to be changed, and that is told.
        outlets = {outlet.name: outlet for zone in guard.zones for outlet in zone.outlets}
        alone = _faces(outlets.values()) == 1 and not _drawers(guard)
        allowed = receptacle_ratings(guard.amps)
        by_device = {outlet.device: outlet for outlet in outlets.values()}
        for outlet in by_device.values():
            if outlet.amps is None:
                continue
            if alone:
                if outlet.amps >= guard.amps * (1 - 1e-9):
                    if _for_one_machine(outlet, outlets.values()) and outlet.amps not in allowed:
                        yield _starving(guard, outlet)
                    continue
                may = f"{amps(guard.amps)} or more, being alone on it"
                limit, section = guard.amps, "210.21(B)(1)"
            else:
                if outlet.amps in allowed:
                    continue
                may = " or ".join(amps(one) for one in allowed)
                limit, section = max(allowed, default=guard.amps), "210.21(B)(3)"
            if may:
                message = (
                    f"{outlet.device} is a {amps(outlet.amps)} receptacle; on {guard.name}, "
                    f"a {amps(guard.amps)} circuit, it must be {may}."
                )
            else:
                message = (
                    f"{outlet.device} is on {guard.name}, and a circuit of {amps(guard.amps)} may not have "
                    "several outlets: those that may are 15, 20, 30, 40 and 50 A."
                )
                section = "210.18"
            yield Finding(
                rule="receptacle-rating",
                severity="violation",
                message=message,
                span=outlet.span,
                subject=outlet.device,
                value=outlet.amps,
                limit=limit,
                unit="A",
                source=f"NEC 2023 {section}",
                help="Its slots tell which plugs go in, and so what will be drawn through it. "
                "Put in a receptacle that fits the circuit.",
                also=(Note(f"{guard.name} is {amps(guard.amps)}", guard.zones[0].protection.span),),
                stage="trim",
            )


# ------------------------------------------------------------------- trips


@rule("final")
def breaker_trips(case: Case) -> Iterator[Finding]:
    """A breaker or fuse carries more than its rating, and opens.

    A breaker that opens is doing its work; the circuit is what is wrong. Too
    much is plugged in or wired to it, or current leaves by a way it should not.
    How long it holds depends on how much too much it is: at twice its rating
    seconds to minutes, a little above it an hour or more.

    Source: UL 489: carries its rating, opens at 135 % within the hour; NEC 2023 210.23
    """
    told: set[str] = set()
    for protection, flows, state in _overloaded(case):
        told.add(protection.name)
        yield _overload(case, protection, flows, state)
    for settled in (*case.states, case.heaviest):
        for opening in settled.opened:
            if opening.kind != "ground-fault" or opening.name in told:
                continue
            state = settled.first or settled
            if opening.amps <= sum(state.load_amps(load) for load in case.circuit.loads) + GROUND_FAULT:
                # More than all loads draw is a short circuit's, and another rule's.
                told.add(opening.name)
                yield _leak(case, opening, settled)


def _overloaded(case: Case) -> Iterator[tuple[Protection, float, Settled]]:
    """Each breaker and fuse that its loads overload, with the most current and the state of that."""
    worst: dict[str, tuple[Protection, float, Settled]] = {}
    seen: dict[int, Settled] = {id(state): state for state in (*case.states, case.heaviest)}
    for settled in seen.values():
        state = settled.first or settled
        for protection in case.circuit.protections:
            if protection.kind not in OVERCURRENT:
                continue
            for pole in range(len(protection.pairs)):
                flows = abs(state.amps.get(protection.pole(pole), 0))
                known = worst.get(protection.name)
                if flows <= protection.amps * HOLDS or (known is not None and flows <= known[1]):
                    continue
                if _by_loads(case, state, protection.pole(pole)) >= BY_LOADS * flows:
                    worst[protection.name] = protection, flows, settled
    return iter(worst.values())


def _by_loads(case: Case, state: Settled, branch: str) -> float:
    """How much of the current in a branch is that of loads, in a state."""
    ways = routes(case.circuit, state)
    total = 0j
    drawers = [(load.name, load.a, load.b) for load in case.circuit.loads]
    drawers += [(winding.name, *winding.primary) for winding in case.circuit.windings]
    for name, a, b in drawers:
        for point, sense in ((a, 1), (b, -1)):
            for step in ways.back(case.circuit.node[point]):
                if step.name == branch:
                    total += sense * step.sign * state.amps.get(name, 0j)
    return abs(total)


def _overload(case: Case, protection: Protection, flows: float, settled: Settled) -> Finding:
    state = settled.first or settled
    dark = sorted(state.running - settled.running)
    opens = any(opening.name == protection.name for opening in settled.opened)
    fed = {
        load.name: state.load_amps(load)
        for zone in case.zones
        if zone.protection is protection
        for load in zone.loads
    }
    loads = sorted(fed.items(), key=lambda one: -one[1])
    drawn = ", ".join(f"{name} {amps(current)}" for name, current in loads[:6] if current > 1e-3)
    return Finding(
        rule="breaker-trips",
        severity="fault",
        message=f"{protection.name} carries {amps(flows)}{case.when(settled, protection.name)} and is rated "
        f"{amps(protection.amps)}: it opens {_how_soon(protection, flows)}"
        + (f", and {_stop(dark)}." if opens and dark else "."),
        span=protection.span,
        subject=protection.name,
        value=round(flows, 2),
        limit=protection.amps,
        unit="A",
        source="UL 248-14" if protection.kind == "fuse" else "UL 489; NEC 2023 210.23",
        help=(f"It feeds {drawn}. " if drawn else "") + "Move part of the load to another circuit.",
    )


def _stop(names: list[str]) -> str:
    return f"{_listed(names)} {'stops' if len(names) == 1 else 'stop'}"


def _listed(names: list[str]) -> str:
    return ", ".join(names[:4]) + (f" and {len(names) - 4} more" if len(names) > 4 else "")


def _how_soon(protection: Protection, flows: float) -> str:
    try:
        _, latest = trip_seconds(protection.kind, protection.amps, flows)
    except NotInTable:
        return "before long"
    if math.isinf(latest):
        return "sooner or later, though it need not within the hour"
    if latest < 120:
        return f"within {shown(latest, 'time', 2)}"
    return f"within {rounded(latest / 60, 2)} min"


def _leak(case: Case, opening: Opening, settled: Settled) -> Finding:
    protection = next(one for one in case.circuit.protections if one.name == opening.name)
    state = settled.first or settled
    dark = sorted(state.running - settled.running)
    return Finding(
        rule="breaker-trips",
        severity="fault",
        message=f"{opening.name} opens"
        f"{case.when(settled, opening.name)}: {amps(opening.amps)} of what goes out through it "
        f"comes back by another way, and it opens at {amps(opening.limit)}"
        + (f". {_stop(dark)}." if dark else "."),
        span=protection.span,
        subject=opening.name,
        value=round(opening.amps, 4),
        limit=opening.limit,
        unit="A",
        source="UL 943",
        help="The current comes back on another neutral or on a ground. "
        "Bring the neutral of each load back to the device that feeds it.",
    )


# --------------------------------------------------------------- multiwire


@rule("trim")
def breaker_neutral(case: Case) -> Iterator[Finding]:
    """The white of a circuit on a ground- or arc-fault breaker does not come back to that breaker.

    Such a breaker compares what goes out on its hot with what comes back on its
    own neutral screw. Where the white is on the bar instead, nothing comes back,
    and it opens as soon as anything is used. Some arc-fault breakers watch the
    hot alone and have no such screw, and a board may leave the screw unsaid, so a
    white on the bar is advice; a white on another breaker's screw is a fault.

    Source: NEC 2023 110.3(B), the breakers' own instructions; UL 943, UL 1699
    """
    board = case.board
    landed = {
        member.point: (join, screw)
        for join in board.joins
        for member in join.members
        for screw in join.under
        if member.kind == "end" and screw.endswith(".neutral") and join.place in board.panels
    }
    fed: dict[str, dict[str, Conductor]] = {}
    for zone in case.zones:
        if zone.protection.name in board.breakers:
            for conductor in zone.returns:
                if not is_grounding(conductor):
                    fed.setdefault(zone.protection.name, {})[conductor.name] = conductor
    for name, conductors in fed.items():
        own = f"{name}.neutral" if f"{name}.neutral" in board.terminals else None
        for conductor in conductors.values():
            join, screw = next((landed[end] for end in conductor.ends if end in landed), (None, ""))
            foreign = screw.rpartition(".")[0] in board.breakers
            if join is None or screw == own or (own is None and not foreign):
                continue
            there = screw.rpartition(".")[0]
            yield Finding(
                rule="breaker-neutral",
                severity="fault" if foreign else "advice",
                message=f"{conductor.name} brings back what {name} feeds, and is on {there}: "
                f"{there} sees a current that it did not send out, and opens."
                if foreign
                else f"{conductor.name} brings back what {name} feeds, and is on the neutral bar. A breaker "
                "that has a neutral screw of its own misses that current there, and opens as soon as "
                "anything is used.",
                span=join.span,
                subject=name,
                source="NEC 2023 110.3(B); UL 943, UL 1699",
                help=f"Bring {conductor.name} to {own or 'the neutral bar'}"
                + ("." if foreign else f", or leave it where {name} has no such screw."),
                stage="trim",
            )


@rule("rough-in", "trim")
def multiwire_circuit(case: Case) -> Iterator[Finding]:
    """Two hots share a neutral, and not in the way that is safe.

    On opposite legs the two currents cancel in the shared neutral. On the same
    leg they add, and no breaker watches a neutral. If one breaker alone is off,
    the neutral still carries the other's current and bites whoever opens it: both
    must open together. And if the neutral opens at a device's screws, the loads
    on both sides stand in series across 240 V, so it is spliced and tailed.

    Source: NEC 2023 210.4(B), 210.4(A), 300.13(B), 200.4
    """
    sharing: dict[str, list[Zone]] = {}
    neutral: dict[str, Conductor] = {}
    for zone in case.zones:
        if zone.origin.kind == "leg":
            for conductor in zone.returns:
                if not is_grounding(conductor):
                    sharing.setdefault(conductor.name, []).append(zone)
                    neutral[conductor.name] = conductor
    shared = {name: zones for name, zones in sharing.items() if len(zones) > 1}
    told: set[tuple[str, str]] = set()
    for name, zones in shared.items():
        for one, other in itertools.combinations(zones, 2):
            pair = (_pole_name(one), _pole_name(other))
            if pair in told:
                continue
            told.add(pair)
            if one.origin == other.origin:
                yield _same_leg(case, one, other, neutral[name])
            elif one.protection is not other.protection and not _tied(case, one.protection, other.protection):
                yield _not_together(one, other, neutral[name])
    yield from _from_hot_to_hot(case, told)
    yield from _through_devices(case, {name: neutral[name] for name in shared})


def _pole_name(zone: Zone) -> str:
    return zone.protection.pole(zone.pole)


def _tied(case: Case, one: Protection, other: Protection) -> bool:
    first, second = case.board.breakers.get(one.name), case.board.breakers.get(other.name)
    if first is None or second is None:
        return False
    return first.tied == second.name or second.tied == first.name


def _same_leg(case: Case, one: Zone, other: Zone, neutral: Conductor) -> Finding:
    most = one.protection.amps + other.protection.amps
    leg = one.origin.name.rpartition("leg-")[2]
    may, limit = "", None
    try:
        steps = carries(case, neutral, one.protection.amps, 0)
        limit = steps.result
        may = f", which is {named_size(neutral)} and may carry {amps(limit)}"
    except NotInTable:
        pass
    flows = abs(case.most[neutral.name].amps[neutral.name]) if neutral.name in case.most else 0.0
    return Finding(
        rule="multiwire-circuit",
        severity="hazard",
        message=f"{one.protection.name} and {other.protection.name} are both on leg {leg} and share the "
        f"neutral {neutral.name}{may}: their currents add in it, up to {amps(one.protection.amps)} + "
        f"{amps(other.protection.amps)} = {amps(most)}, and no breaker watches a neutral.",
        span=other.protection.span,
        subject=other.protection.name,
        value=most,
        limit=round(limit, 2) if limit is not None else None,
        unit="A",
        source="NEC 2023 210.4(A), 100 (branch circuit, multiwire)",
        help="Move one of the two hots to the other leg, on one two-pole breaker with the first"
        + (f"; as built, its own loads put {amps(flows)} on the neutral." if flows > 0.05 else "."),
        also=(
            Note(f"{one.protection.name} is on the same leg", one.protection.span),
            Note(f"{neutral.name} is shared", neutral.span),
        ),
        stage="rough-in",
    )


def _not_together(one: Zone, other: Zone, neutral: Conductor) -> Finding:
    return Finding(
        rule="multiwire-circuit",
        severity="violation",
        message=f"{one.protection.name} and {other.protection.name} share the neutral {neutral.name} and do "
        "not open together: with one of them off, the neutral still carries the current of the other.",
        span=other.protection.span,
        subject=other.protection.name,
        source="NEC 2023 210.4(B)",
        help="Feed both hots from one two-pole breaker, or join the two handles "
        f"(breaker {other.protection.name} ... tied to {one.protection.name}).",
        also=(
            Note(f"{one.protection.name} is the other", one.protection.span),
            Note(f"{neutral.name} is shared", neutral.span),
        ),
        stage="rough-in",
    )


def _from_hot_to_hot(case: Case, told: set[tuple[str, str]]) -> Iterator[Finding]:
    """What hangs between the hots of two breakers that do not open together (240.15(B)(2))."""
    fed: dict[str, list[Zone]] = {}
    for zone in case.zones:
        if zone.origin.kind == "leg" and zone.protection.name in case.board.breakers:
            takers = [load.name for load in zone.loads] + [outlet.name for outlet in zone.outlets]
            for taker in takers + [winding.name for winding in zone.windings]:
                fed.setdefault(taker, []).append(zone)
    for name, zones in fed.items():
        for one, other in itertools.combinations(zones, 2):
            pair = (_pole_name(one), _pole_name(other))
            together = one.protection is other.protection or _tied(case, one.protection, other.protection)
            if together or one.origin == other.origin or pair in told:
                continue
            told.add(pair)
            yield Finding(
                rule="multiwire-circuit",
                severity="violation",
                message=f"{name} is fed by {one.protection.name} and {other.protection.name}, and they do "
                "not open together: with one of them off, it stands still and is live from the other.",
                span=other.protection.span,
                subject=other.protection.name,
                source="NEC 2023 240.15(B)(2)",
                help="Feed it from one two-pole breaker, or join the two handles "
                f"(breaker {other.protection.name} ... tied to {one.protection.name}).",
                also=(Note(f"{one.protection.name} is the other", one.protection.span),),
                stage="rough-in",
            )


def _through_devices(case: Case, shared: dict[str, Conductor]) -> Iterator[Finding]:
    """Where a shared neutral goes on only by way of a device's screws (300.13(B))."""
    node = case.circuit.node
    at: dict[tuple[str, int], list[tuple[str, str, Span]]] = {}
    spliced: dict[tuple[str, str], object] = {}
    for join in case.board.joins:
        for member in join.splice:
            if member.kind == "end":
                spliced[join.place, member.name] = join.span
        for terminal, members in join.under.items():
            owner = case.board.terminals[terminal].owner
            if owner in case.board.panels or owner in case.board.breakers:
                continue
            for member in members:
                if member.kind == "end" and member.name in shared:
                    at.setdefault((join.place, node[terminal]), []).append((member.name, owner, join.span))
    for (place, _), ends in at.items():
        names = {name for name, _, _ in ends}
        if len(names) < 2 or len({spliced.get((place, name), name) for name in names}) < 2:
            continue
        _, owner, span = ends[-1]
        yield Finding(
            rule="multiwire-circuit",
            severity="violation",
            message=f"The shared neutral goes through {owner}: take {owner} out, and the neutral beyond it "
            "opens while both hots stay live, which puts up to 240 V on the loads beyond.",
            span=span,
            subject=owner,
            source="NEC 2023 300.13(B)",
            help=f"Splice {' and '.join(sorted(names))} with a pigtail to {owner}.",
            stage="trim",
        )


# ------------------------------------------------------------ transformers


@rule("final")
def transformer_load(case: Case) -> Iterator[Finding]:
    """More hangs on a transformer than it can feed, or its primary is not protected.

    What counts is all that draws at the same time. An overloaded transformer
    runs hot and its voltage sags, until coils let go or it burns out. At the
    moment that a coil pulls in it draws several times what it holds with.

    Source: UL 5085-3; NEC 2023 Table 450.3(B), 450.1(4), 725.127
    """
    for winding in case.circuit.windings:
        worst = _most_drawn(case, winding)
        if worst is not None and worst[0] > winding.capacity * (1 + 1e-3):
            yield _overdrawn(case, winding, *worst)
        else:
            yield from _pulled_in(case, winding)
        yield from _primary(case, winding)


def _most_drawn(case: Case, winding: Winding) -> tuple[float, Settled] | None:
    """The most VA, by their ratings, of what draws from a transformer at once, and the state of that."""
    loads = on_secondary(case, winding)
    worst: tuple[float, Settled] | None = None
    for settled in {id(state): state for state in (*case.states, case.heaviest)}.values():
        drawn = sum(load.apparent for load in _drawing(loads, settled))
        if worst is None or drawn > worst[0]:
            worst = drawn, settled
    return worst


def on_secondary(case: Case, winding: Winding) -> list[Load]:
    """The loads that a transformer feeds when every contact is closed."""
    ends = {case.circuit.node[end] for end in winding.secondary}
    told = []
    for load in case.circuit.loads:
        origins = [case.routes.origins.get(case.circuit.node[point]) for point in (load.a, load.b)]
        if all(origin is not None and origin.node in ends for origin in origins):
            told.append(load)
    return told


def _drawing(loads: list[Load], settled: Settled) -> list[Load]:
    """Those of some loads that draw what they are rated for, or near it, before anything opened."""
    state = settled.first or settled
    return [load for load in loads if state.load_amps(load) >= DRAWS * load.amps]


def _overdrawn(case: Case, winding: Winding, drawn: float, settled: Settled) -> Finding:
    each = [(load.name, load.apparent) for load in _drawing(on_secondary(case, winding), settled)]
    each.sort(key=lambda one: -one[1])
    parts = ", ".join(f"{name} {shown(va, 'apparent-power')}" for name, va in each[:6])
    burns = any(opening.name == winding.name for opening in settled.opened)
    return Finding(
        rule="transformer-load",
        severity="violation",
        message=f"{winding.name} feeds loads of {shown(drawn, 'apparent-power')}"
        f"{case.when(settled, winding.name)} and is "
        f"rated {shown(winding.capacity, 'apparent-power')}: it "
        + ("burns out." if burns else "overheats, and its voltage sags."),
        span=winding.span,
        subject=winding.name,
        value=round(drawn, 1),
        limit=winding.capacity,
        unit="VA",
        source="UL 5085-3; NEC 2023 110.3(B)",
        help=f"At once: {parts}. Use a transformer of {shown(drawn, 'apparent-power')} or more, "
        "or take some of the load off it.",
    )


def _pulled_in(case: Case, winding: Winding) -> Iterator[Finding]:
    """The moment that coils pull in, where it drags the transformer's own volts below what is trusted."""
    feeds = on_secondary(case, winding)
    worst: tuple[float, tuple[str, ...], Settled] | None = None
    for call in case.calls:
        for step in case.played([call]).steps:
            names = {change.name for change in step.changes if change.kind == "runs"}
            coils = [load for load in feeds if load.name in names and load.inrush]
            if not coils:
                continue
            drawn = sum(load.apparent for load in _drawing(feeds, step.settled))
            drawn += sum((load.inrush or 0.0) - load.apparent for load in coils)
            if worst is None or drawn > worst[0]:
                worst = drawn, tuple(load.name for load in coils), step.settled
    if worst is None:
        return
    drawn, names_in, settled = worst
    left = winding.open_volts - drawn / winding.secondary_volts * abs(winding.ohms)
    if left < TRUSTED * winding.secondary_volts:
        yield Finding(
            rule="transformer-load",
            severity="advice",
            message=f"When {_listed(list(names_in))} pulls in"
            f"{case.when(settled, winding.name)}, {winding.name} has to "
            f"give about {shown(drawn, 'apparent-power', 2)} for a moment, and is rated "
            f"{shown(winding.capacity, 'apparent-power')}.",
            span=winding.span,
            subject=winding.name,
            value=round(drawn),
            limit=winding.capacity,
            unit="VA",
            source="common practice: 20 V of 24 V is the least to trust",
            help=f"Its own winding alone leaves about {volts(round(left, 1))} then. "
            "Use a larger transformer.",
        )


def _is_class_2(winding: Winding) -> bool:
    return winding.secondary_volts <= CLASS_2_VOLTS and winding.capacity <= CLASS_2_VA


def _primary(case: Case, winding: Winding) -> Iterator[Finding]:
    """The protection ahead of a primary; inside equipment that is the maker's business (450.1(2))."""
    if equipment(case.circuit, winding.device) is not None or "." in winding.device:
        return
    rated = winding.capacity / winding.primary_volts
    if _is_class_2(winding):
        limit, section = CLASS_2_PRIMARY_AMPS, "725.127"
        words = f"A Class 2 transformer may have {amps(limit)} ahead of it."
    else:
        limit, section = primary_protection(rated), "Table 450.3(B)"
        words = (
            f"Its primary is rated {shown(winding.capacity, 'apparent-power')} / "
            f"{volts(winding.primary_volts)} = {amps(rated)}, for which the table allows {amps(limit)} "
            "at most."
        )
    for guard in guarded(case):
        if any(winding in zone.windings for zone in guard.zones) and guard.amps > limit * (1 + 1e-9):
            yield Finding(
                rule="transformer-load",
                severity="violation",
                message=f"{winding.name} is behind {guard.name}, which is {amps(guard.amps)}; its "
                f"primary may have {amps(limit)} protection: with more, a short inside it can burn before "
                "the breaker opens.",
                span=winding.span,
                subject=winding.name,
                value=guard.amps,
                limit=round(limit, 2),
                unit="A",
                source=f"NEC 2023 {section}",
                help=f"{words} Put a fuse of that size in its primary.",
                also=(Note(f"{guard.name} is {amps(guard.amps)}", guard.zones[0].protection.span),),
            )


# ----------------------------------------------------------------- Class 2


@rule("rough-in", "trim")
def class_2_supply(case: Case) -> Iterator[Finding]:
    """Thermostat cable hangs on a source that is not Class 2.

    Class 2 wire is thin, lightly insulated and run like string, which is safe
    because its source cannot deliver enough to start a fire: up to 30 V and
    100 VA, and either limited by its own winding or fused at 100 / V amperes.

    Source: NEC 2023 725.60(A) (from memory; 725.121(A) in earlier editions), Chapter 9 Table 11(A), 725.136
    """
    yield from _on_power(case)
    for winding in case.circuit.windings:
        fed = _class_2_runs(case, winding)
        if not fed:
            continue
        inherent = "inherently-limited" in winding.flags
        try:
            limit = class_2_limit(winding.secondary_volts, inherent)
        except NotInTable:
            yield _not_class_2(
                case,
                winding,
                fed[0],
                f"gives {volts(winding.secondary_volts)}, and a Class 2 source no more than "
                f"{volts(CLASS_2_VOLTS)}",
                winding.secondary_volts,
                CLASS_2_VOLTS,
                "V",
                "Use a 24 V transformer, or wiring for that voltage.",
            )
            continue
        if winding.capacity > limit.nameplate_va * (1 + 1e-9):
            yield _not_class_2(
                case,
                winding,
                fed[0],
                f"is rated {shown(winding.capacity, 'apparent-power')}, and a Class 2 source of "
                f"{volts(winding.secondary_volts)} no more than "
                f"{shown(limit.nameplate_va, 'apparent-power')}",
                winding.capacity,
                limit.nameplate_va,
                "VA",
                "Split the load over two Class 2 transformers, or wire it as a power circuit.",
            )
        elif limit.overcurrent is not None:
            largest = _secondary_protection(case, winding)
            if largest is None or largest > limit.overcurrent * (1 + 1e-9):
                has = f"fused at {amps(largest)}" if largest else "not fused"
                yield _not_class_2(
                    case,
                    winding,
                    fed[0],
                    f"does not limit itself and is {has}; its secondary must have a fuse of 100 / "
                    f"{rounded(winding.secondary_volts)} = {amps(limit.overcurrent)} or less",
                    largest,
                    limit.overcurrent,
                    "A",
                    "Put a fuse in its secondary's hot side, at the transformer.",
                )


def _class_2_runs(case: Case, winding: Winding) -> list[str]:
    """The Class 2 cables that a winding feeds."""
    ends = {case.circuit.node[end] for end in winding.secondary}
    told: dict[str, None] = {}
    for wire in case.circuit.wires:
        origin = case.routes.origins.get(case.circuit.node[wire.a])
        if wire.conductor.insulation in CLASS_2_CABLES and origin is not None and origin.node in ends - {0}:
            told[wire.conductor.run] = None
    return list(told)


def _secondary_protection(case: Case, winding: Winding) -> float | None:
    """The largest protection of a secondary's wires; None where a wire on each side has none."""
    bare: set[int] = set()
    found: list[float] = []
    ends = {case.circuit.node[end] for end in winding.secondary}
    for wire in case.circuit.wires:
        node = case.circuit.node[wire.a]
        origin = case.routes.origins.get(node)
        if origin is None or origin.node not in ends or wire.conductor.insulation not in CLASS_2_CABLES:
            continue
        guards = [step.of.amps for step in case.routes.back(node) if isinstance(step.of, Protection)]
        if guards:
            found.append(min(guards))
        else:
            bare.add(origin.node)
    return None if len(bare) > 1 or not found else max(found)


def _not_class_2(
    case: Case,
    winding: Winding,
    run: str,
    what: str,
    value: float | None,
    limit: float,
    unit: str,
    mend: str,
) -> Finding:
    return Finding(
        rule="class-2-supply",
        severity="violation",
        message=f"{winding.name} feeds the Class 2 cable {run}. It {what}: a short could set thin wire "
        "on fire.",
        span=winding.span,
        subject=winding.name,
        value=round(value, 2) if value is not None else None,
        limit=round(limit, 2),
        unit=unit,
        source="NEC 2023 725.60(A) (from memory; 725.121(A) before), Chapter 9 Table 11(A)",
        help=mend,
        also=(Note(f"{run} is Class 2 cable", case.board.runs[run].span),),
        stage="rough-in",
    )


def _on_power(case: Case) -> Iterator[Finding]:
    """Class 2 cable that carries a power circuit."""
    for protection, conductors in _on_legs(case).items():
        first, *others = conductors
        yield Finding(
            rule="class-2-supply",
            severity="hazard",
            message=f"{first.name} is in {first.insulation} cable, made for Class 2 circuits, and is on "
            f"{protection.name}, a {amps(protection.amps)} power circuit.",
            span=first.span,
            subject=first.run,
            source="NEC 2023 300.2, 310.10, 725.60 (from memory; 725.121 before)",
            help=f"Take it off {protection.name}. A power circuit needs power cable, "
            "as NM-B, of the size that the breaker asks for.",
            also=(
                Note(f"{protection.name} feeds it", protection.span),
                *(Note(f"{other.name} hangs on it too", other.span) for other in others[:5]),
            ),
            stage="rough-in",
        )


def _on_legs(case: Case) -> dict[Protection, list[Conductor]]:
    """Behind each breaker or fuse of a panel's leg, one conductor of every Class 2 cable."""
    told: dict[str, tuple[Protection, dict[str, Conductor]]] = {}
    for zone in case.zones:
        if zone.origin.kind == "leg":
            _, runs = told.setdefault(zone.protection.name, (zone.protection, {}))
            for conductor in (*zone.hots, *zone.returns):
                if conductor.insulation in CLASS_2_CABLES:
                    runs.setdefault(conductor.run, conductor)
    return {protection: list(runs.values()) for protection, runs in told.values() if runs}


@rule("rough-in")
def class_2_separation(case: Case) -> Iterator[Finding]:
    """Thermostat wire and power wire lie in the same box or raceway.

    Class 2 insulation is not made to touch power wires: a nick in one and the
    thermostat, which everyone touches, is at 120 V. They part company before they
    enter a box. Inside equipment the maker has kept them apart.

    Source: NEC 2023 725.136(A), 725.136(D)
    """
    low: dict[str, Conductor] = {}
    high: dict[str, Conductor] = {}
    for zone in case.zones:
        for conductor in (*zone.hots, *zone.returns):
            if zone.origin.kind == "leg" and not is_grounding(conductor):
                high[conductor.name] = conductor
    for conductor in case.board.conductors.values():
        if conductor.insulation in CLASS_2_CABLES and conductor.name not in high:
            low[conductor.name] = conductor
    for place in (*case.board.boxes, *case.board.panels, *case.board.raceways):
        one = next((each for each in low.values() if place in (*each.places, each.raceway)), None)
        other = next((each for each in high.values() if place in (*each.places, each.raceway)), None)
        if one is None or other is None:
            continue
        meets = _meeting_device(case, place)
        what = "raceway" if place in case.board.raceways else "panel" if place in case.board.panels else "box"
        yield Finding(
            rule="class-2-separation",
            severity="advice" if meets else "violation",
            message=f"{one.run}, a Class 2 cable, and {other.run}, a power circuit, are both in the {what} "
            f"{place}"
            + (
                f", which {meets} needs; keep them 1/4 in apart there."
                if meets
                else ": nothing but thin insulation keeps 120 V off the thermostat."
            ),
            span=one.span,
            subject=one.run,
            source="NEC 2023 725.136(D)" if meets else "NEC 2023 725.136(A)",
            help="Bring the low voltage in through its own opening and fasten it away from the power wires."
            if meets
            else f"Take {one.run} around {place}, or part the two with a barrier made for the {what}.",
            also=(Note(f"{other.run} is a power circuit", other.span),),
            stage="rough-in",
        )


def _meeting_device(case: Case, place: str) -> str | None:
    """A device in a box that stands on both circuits, such as a transformer or a relay."""
    for device in case.board.devices.values():
        roles = {spec.role for spec in device.part.terminals.values()}
        both = "class-2" in roles and roles & {"hot", "line", "switched"}
        if both and device.place == place and device.name != place:
            return device.name
    return None

"""Rules about breakers, fuses and sources: what they protect, when they open, what is kept apart."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from wirecheck.circuit.circuit import Protection, Winding
from wirecheck.circuit.routes import Zone
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Finding, Note
from wirecheck.judge.purpose import is_grounding
from wirecheck.judge.size_words import named_size
from wirecheck.judge.sizing import carries
from wirecheck.language.quantity import amps, rounded, shown, volts
from wirecheck.language.syntax import Span
from wirecheck.model.board import Conductor
from wirecheck.model.runs import CLASS_2_CABLES
from wirecheck.rules.old import rule
from wirecheck.tables.published import NotInTable
from wirecheck.tables.transformers import class_2_limit

# What a Class 2 source of a control circuit may have: Chapter 9 Table 11(A).
CLASS_2_VOLTS = 30.0


# ------------------------------------------------------------- overcurrent


# ------------------------------------------------------------- receptacles


# ------------------------------------------------------------------- trips


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
        steps = carries(case, neutral, one.protection.amps)
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

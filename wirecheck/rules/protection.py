"""Rules about breakers, fuses and sources: what they protect, when they open, what is kept apart."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Protection, Winding
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Finding, Note
from wirecheck.judge.purpose import is_grounding
from wirecheck.language.quantity import amps, rounded, shown, volts
from wirecheck.model.board import Conductor
from wirecheck.model.runs import CLASS_2_CABLES
from wirecheck.rules.old import rule
from wirecheck.tables.published import NotInTable
from wirecheck.tables.transformers import class_2_limit

# What a Class 2 source of a control circuit may have: Chapter 9 Table 11(A).
CLASS_2_VOLTS = 30.0


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
            limit = class_2_limit(winding.secondary_volts, inherent, code=case.code)
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

"""Rules about the rough-in: what fits in a box, what is long enough, what is held, how it is made up."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from wirecheck.judge.case import Case
from wirecheck.judge.finding import Finding, Note
from wirecheck.language.quantity import feet, inches, rounded
from wirecheck.model.board import Box, Raceway, Run, RunEnd
from wirecheck.model.runs import CLASS_2_CABLES
from wirecheck.rules.old import rule
from wirecheck.tables.published import NotInTable
from wirecheck.tables.raceways import SQUARE_INCH, trade_inches
from wirecheck.tables.raceways import raceway_fill as filled
from wirecheck.tables.supports import make_up, support

GROUND_COLORS = frozenset(("bare", "green", "green-yellow"))
# A tape is read to a sixteenth of an inch: what is short by less is not short.
HAIR = 0.0254 / 32
# Chapter 9 note 4: a raceway no longer than this may be filled to 60 %.
NIPPLE = 24 * 0.0254


@rule("rough-in")
def free_conductor(case: Case) -> Iterator[Finding]:
    """Too little wire, or too little jacket, is left in a box.

    Short wires cannot be made up outside the box: joints are made blind, and
    whoever changes the device later has nothing to hold. A jacket that ends
    outside the box leaves thin insulation against the edge of the opening.

    Source: NEC 2023 300.14, 314.17(B)(2)
    """
    least, least_source = make_up("free conductor")
    outside, _ = make_up("free conductor outside the opening")
    opening, _ = make_up("small opening")
    jacket, jacket_source = make_up("jacket in the box")
    for run, end in power_ends(case):
        # A panel is no outlet, junction or switch point, but a jacket must enter it all the same.
        if end.place not in case.board.panels and end.free is not None and end.free < least - HAIR:
            yield Finding(
                rule="free-conductor",
                severity="violation",
                message=f"{run.name} has {inches(end.free)} of free wire in {end.place}; at least "
                f"{inches(least)} are needed, measured from where the wire leaves the jacket. "
                "Shorter wires cannot be made up outside the box.",
                span=end.spans.get("free", end.span),
                subject=run.name,
                value=round(end.free / 0.0254, 3),
                limit=round(least / 0.0254, 3),
                unit="in",
                source=least_source,
                help=f"Pull more cable into {end.place}, or run it anew. Where the opening is smaller than "
                f"{inches(opening)}, the wire must also reach {inches(outside)} out of it.",
                stage="rough-in",
            )
        if run.jacketed and end.jacket is not None and end.jacket < jacket - HAIR:
            yield Finding(
                rule="free-conductor",
                severity="violation",
                message=f"The jacket of {run.name} comes {inches(end.jacket)} into {end.place}; at least "
                f"{inches(jacket)} must come in, past any clamp, so that no edge rubs on the wires.",
                span=end.spans.get("jacket", end.span),
                subject=run.name,
                value=round(end.jacket / 0.0254, 3),
                limit=round(jacket / 0.0254, 3),
                unit="in",
                source=jacket_source,
                help="Push the cable in until its jacket shows inside the box, then fasten it again.",
                stage="rough-in",
            )


@rule("rough-in")
def cable_support(case: Case) -> Iterator[Finding]:
    """A cable is not held near enough to its box, or its staples are too far apart.

    A pull on a cable that nothing holds goes straight to the joints in the box.

    Source: NEC 2023 334.30, 314.17(B)(2), 320.30, 330.30
    """
    for run, end in power_ends(case):
        rules = held(case, run, end)
        if rules is None:
            continue
        within, why, source = rules.within, "", rules.source
        if rules.by_staple_only:
            why = f": {end.place} is nonmetallic, single-gang and has no clamps, so only the staple holds it"
        if end.secured is not None and end.secured > within + HAIR:
            yield Finding(
                rule="cable-support",
                severity="violation",
                message=f"{run.name} is first held {inches(end.secured)} from {end.place}; it must be held "
                f"within {inches(within)}{why}. Otherwise a pull on the cable goes to the joints.",
                span=end.spans.get("secured", end.span),
                subject=run.name,
                value=round(end.secured / 0.0254, 3),
                limit=round(within / 0.0254, 3),
                unit="in",
                source=source,
                help=f"Put a staple within {inches(within)} of {end.place}, measured along the cable, "
                "and drive it snug, not tight.",
                stage="rough-in",
            )
        if end.every is not None and end.every > rules.every + HAIR:
            yield Finding(
                rule="cable-support",
                severity="violation",
                message=f"The supports of {run.name} are {inches(end.every)} apart; they may be at most "
                f"{inches(rules.every)} ({feet(rules.every)}) apart, so that the cable does not sag.",
                span=end.spans.get("every", end.span),
                subject=run.name,
                value=round(end.every / 0.0254, 3),
                limit=round(rules.every / 0.0254, 3),
                unit="in",
                source=rules.source,
                help="Add supports along the run. A bored hole in a stud counts as one.",
                stage="rough-in",
            )


class Held(NamedTuple):
    """How a cable is to be held at one end: its first support within, the widest spacing, in metres."""

    within: float
    every: float
    source: str
    by_staple_only: bool


def held(case: Case, run: Run, end: RunEnd) -> Held | None:
    """How a run is to be held at one end; None for what is not a cable by itself, or has no such rule."""
    rules = support(run.kind) if run.jacketed and run.raceway is None else None
    if rules is None:
        return None
    box = case.board.boxes.get(end.place)
    if box is not None and rules.nonmetallic_box is not None and _holds_no_cable(box):
        return Held(rules.nonmetallic_box, rules.every, f"{rules.source}, 314.17(B)(2)", True)
    return Held(rules.within, rules.every, rules.source, False)


def _holds_no_cable(box: Box) -> bool:
    return box.kind == "device" and box.gangs == 1 and not box.metal and not box.clamps


def power_ends(case: Case) -> Iterator[tuple[Run, RunEnd]]:
    """Both ends of every power run; Class 2 cable is under none of these sections."""
    for run in case.board.runs.values():
        if run.kind not in CLASS_2_CABLES:
            for end in run.ends:
                yield run, end


@rule("rough-in")
def separate_grounds(case: Case) -> Iterator[Finding]:
    """The grounds in a box are not all joined together.

    Each may find its own way to the panel, but when one of them opens, what hung
    on it is left bare. Joined, each backs up the others, and a fault has the
    shortest way home.

    Source: NEC 2023 250.148
    """
    board = case.board
    made_up = {member.point: join for join in board.joins for member in join.members if member.kind == "end"}
    apart: dict[str, dict[int, str]] = {}
    for conductor in board.conductors.values():
        if conductor.color in GROUND_COLORS:
            for place, end in zip(conductor.places, conductor.ends, strict=True):
                if place in board.boxes and end in made_up and case.uses.of(end) == "ground":
                    apart.setdefault(place, {}).setdefault(case.circuit.node[end], end)
    for place, groups in apart.items():
        if len(groups) < 2:
            continue
        ends = list(groups.values())
        names = [end.partition("@")[0] for end in ends]
        yield Finding(
            rule="separate-grounds",
            severity="violation",
            message=f"The grounds in {place} are {len(groups)} parts that are not joined, {_listed(names)}: "
            "where one of them opens, nothing stands in for it.",
            span=made_up[ends[1]].span,
            subject=place,
            value=float(len(groups)),
            limit=1.0,
            unit="parts",
            source="NEC 2023 250.148",
            help=f"Join all grounds in {place} under one connector, with a tail from there to each device: "
            f"{' -- '.join(names)} -- pigtail -- ...",
            also=(Note("the other part", made_up[ends[0]].span),),
            stage="rough-in",
        )


def _listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]


@rule("rough-in")
def neutral_at_switch(case: Case) -> Iterator[Finding]:
    """No neutral comes to a box where a switch controls lights.

    Timers, sensors and dimmers live on a neutral. Where none is in the box,
    somebody will one day use the ground for it.

    Source: NEC 2023 404.2(C); it asks for it in rooms, halls, stairs and bathrooms and has exceptions, which
    a board cannot show: so it is advice here.
    """
    board, uses = case.board, case.uses
    with_neutral: set[str] = set()
    in_cable: set[str] = set()
    for conductor in board.conductors.values():
        for place, end in zip(conductor.places, conductor.ends, strict=True):
            if conductor.raceway is None:
                in_cable.add(place)
            if uses.of(end) == "neutral":
                with_neutral.add(place)
    lights = {load.name for load in case.circuit.loads if load.kind == "lamp" and load.volts > 50}
    lights |= {
        load.name
        for load in case.circuit.loads
        if load.device in board.devices and load.name in _drivers(case)
    }
    for group in case.groups:
        lit = sorted(group.loads & lights)
        switches = [board.devices[name] for name in group.switches if name in board.devices]
        boxes = list(dict.fromkeys(one.place for one in switches if one.place in board.boxes))
        # One location with a neutral serves where several switches command the same light: 404.2(C).
        if not lit or not boxes or any(place in with_neutral or place not in in_cable for place in boxes):
            continue
        first = board.boxes[boxes[0]]
        yield Finding(
            rule="neutral-at-switch",
            severity="advice",
            message=f"No neutral comes to {_listed(boxes)}, where {_listed([one.name for one in switches])} "
            f"{'command' if len(switches) > 1 else 'commands'} {_listed(lit)}. "
            "In most rooms, halls, stairs and bathrooms one is asked for, "
            "because sensors, timers and dimmers need it.",
            span=first.span,
            subject=first.name,
            source="NEC 2023 404.2(C)",
            help="Run a cable with one more conductor to it, and cap its white if nothing needs it yet. "
            "Ask your instructor or inspector which exceptions hold where you work.",
            also=tuple(Note(f"{name} has none either", board.boxes[name].span) for name in boxes[1:]),
            stage="rough-in",
        )


def _drivers(case: Case) -> set[str]:
    """Lights that are electronics: LED lights are counted as lights by their load's name."""
    return {
        load.name
        for load in case.circuit.loads
        if load.kind == "electronics"
        and any(spec.name == "lamp" for spec in case.circuit.devices[load.device].part.loads)
    }


@rule("rough-in")
def raceway_fill(case: Case) -> Iterator[Finding]:
    """More wire is in a raceway than it may hold.

    Wires that fill a conduit are skinned as they are pulled in, and cannot get
    rid of their heat.

    Source: NEC 2023 Chapter 9 Table 1, Table 4, Table 5
    """
    for raceway in case.board.raceways.values():
        runs = [case.board.runs[name] for name in raceway.runs]
        # A cable counts by its own outside measure, which a board does not give: no number, no finding.
        if not runs or any(run.jacketed for run in runs):
            continue
        conductors = [
            ("bare" if one.color == "bare" else one.insulation, one.size)
            for run in runs
            for one in run.conductors
        ]
        try:
            fill = filled(raceway.kind, raceway.size, conductors, raceway.length <= NIPPLE)
        except NotInTable as error:
            yield Finding(
                rule="raceway-fill",
                severity="advice",
                message=f"How full {raceway.name} is is not checked: {error}.",
                span=raceway.span,
                subject=raceway.name,
                source="NEC 2023 Chapter 9 Table 4, Table 5",
                help="Look its area up for yourself, or write a kind and a size that the table lists.",
                stage="rough-in",
            )
            continue
        if fill.area <= fill.allowed * (1 + 1e-9):
            continue
        yield Finding(
            rule="raceway-fill",
            severity="violation",
            message=f"{raceway.name} is {rounded(100 * fill.fraction)} % full: its {len(conductors)} "
            f"{'wires take' if len(conductors) > 1 else 'wire takes'} {_square(fill.area)} of the "
            f"{_square(fill.allowed)} that may be filled, {rounded(100 * fill.limit)} % of a "
            f"{raceway.size_text} {raceway.kind}. Wires are skinned when they are pulled in, and run hot.",
            span=raceway.span,
            subject=raceway.name,
            value=round(100 * fill.fraction, 1),
            limit=round(100 * fill.limit, 1),
            unit="%",
            source=f"{fill.source}, Table 4, Table 5",
            help="Use the next size of raceway, or a second one." + _room(raceway, conductors),
            also=tuple(Note(f"{run.name} runs in it", run.span) for run in runs[:6]),
            stage="rough-in",
        )


def _square(surface: float) -> str:
    return f"{surface / SQUARE_INCH:.3g} sq in"


# Trade sizes in inches, in the order of Chapter 9 Table 4.
TRADE_SIZES = ("3/8", "1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "3-1/2", "4")


def _room(raceway: Raceway, conductors: list[tuple[str, str]]) -> str:
    """The smallest size of the same kind that would hold them."""
    for size in TRADE_SIZES:
        metres = trade_inches(size) * 0.0254
        if metres <= raceway.size + HAIR:
            continue
        try:
            fill = filled(raceway.kind, metres, conductors, raceway.length <= NIPPLE)
        except NotInTable:
            continue
        if fill.area <= fill.allowed * (1 + 1e-9):
            return f" {size} in {raceway.kind} holds them."
    return ""

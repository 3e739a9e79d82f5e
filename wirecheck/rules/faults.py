"""Rules about current where none belongs: shorts, live metal, open grounds, circuits tied together."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Leg, Protection, Winding
from wirecheck.circuit.pieces import pieces
from wirecheck.circuit.settle import Opening, Settled, copper
from wirecheck.judge import old_blame as blame
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Finding, Note, Stage
from wirecheck.language.quantity import amps, volts
from wirecheck.language.syntax import Span
from wirecheck.model.board import Conductor, Join, Terminal
from wirecheck.model.runs import CLASS_2_CABLES
from wirecheck.rules.old import rule

# Volts to ground above which metal that is touched is counted live: the limit for
# dry places of Chapter 9 Table 11(A) note 2.
TOUCH_VOLTS = 30.0
# Amperes on a grounding conductor that no meter's error or lamp's leakage explains.
STRAY_AMPS = 0.01
# Conduit and cable armor that is itself a grounding conductor: NEC 2023 250.118(A).
GROUNDING_RACEWAYS = frozenset(("EMT", "RMC", "IMC"))
# What becomes of that which opens on a short, in words.
_AFTER = {
    "overload": "opens, if it works as it should",
    "burned": "burns out",
    "limited": "takes itself off, as one that limits itself must",
}


@rule("trim")
def short_circuit(case: Case) -> Iterator[Finding]:
    """Copper leads from one side of a source to the other with nothing between to use the power.

    Nothing but the wire itself then limits the current: hundreds or thousands
    of amperes flow until a breaker or fuse opens, and a poor joint on the way
    may arc and burn before it does.

    Source: Ohm's law; NEC 2023 110.10, 240.4
    """
    told: set[Span | None] = set()
    for state in case.states:
        settled = state.first or state
        for pair, path in _shorts(case, settled):
            span = blame.culprit(path, case.board) or case.board.span
            if span not in told:
                told.add(span)
                yield _short(case, settled, state, pair, path, span)


def _shorts(case: Case, settled: Settled) -> Iterator[tuple[tuple[Leg | Winding, str], blame.Path]]:
    """Each source whose two sides are one piece of copper, with the path."""
    circuit = case.circuit
    pairs: list[tuple[Leg | Winding, str, str]] = []
    for index, leg in enumerate(circuit.legs):
        pairs.append((leg, leg.point, f"{leg.panel}.neutral"))
        for other in circuit.legs[index + 1 :]:
            if other.volts != leg.volts:
                pairs.append((leg, leg.point, other.point))
    pairs += ((winding, *winding.secondary) for winding in circuit.windings)
    head = copper(settled)
    if not any(head[circuit.node[a]] == head[circuit.node[b]] for _, a, b in pairs):
        return
    graph = blame.part_of(circuit, blame.conducting(settled))
    for source, a, b in pairs:
        if head[circuit.node[a]] == head[circuit.node[b]]:
            path = blame.path(
                graph, [a], [b, *([f"{source.panel}.ground"] if isinstance(source, Leg) else [])]
            )
            if path is not None:
                yield (source, b), path


def _short(
    case: Case,
    settled: Settled,
    state: Settled,
    pair: tuple[Leg | Winding, str],
    path: blame.Path,
    span: Span,
) -> Finding:
    source, end = pair
    low = isinstance(source, Winding)
    flows = abs(settled.amps.get(source.name, 0))
    if isinstance(source, Winding):
        flows *= source.primary_volts / source.open_volts
        what = f"the two sides of {source.name}'s {source.secondary_volts:g} V winding"
    elif end.endswith((".neutral", ".ground")):
        what = "a hot and the neutral or ground"
    else:
        what = "two hots of different legs"
    opens = next((opening for opening in state.opened if opening.kind in _AFTER), None)
    after = f" {opens.name} {_AFTER[opens.kind]}." if opens is not None else ""
    return Finding(
        rule="short-circuit",
        severity="fault" if low else "hazard",
        message=f"Short circuit{case.when(settled)}: {what} are joined with no load between, "
        f"and about {amps(flows)} flows.{after}",
        span=span,
        subject=source.name,
        value=round(flows, 1),
        unit="A",
        source="NEC 2023 110.10",
        help=f"Follow the copper: {path.words()}. "
        "Take apart the join where two kinds of wire meet that do not belong together.",
        stage="trim",
    )


@rule("trim")
def energized_metal(case: Case) -> Iterator[Finding]:
    """A ground screw, a bare wire or a metal box has voltage on it.

    Everything that is tied to it, from the box to the faceplate's screws and
    the case of what is plugged in, can then shock whoever touches it.

    Source: NEC 2023 250.4(A)
    """
    told: set[object] = set()
    for settled in case.states:
        live = [
            terminal
            for terminal in case.board.terminals.values()
            if terminal.spec.role == "ground"
            and case.circuit.node[terminal.name] not in settled.floating
            and abs(settled.volts[case.circuit.node[terminal.name]]) > TOUCH_VOLTS
        ]
        by_node: dict[int, list[Terminal]] = {}
        for terminal in live:
            by_node.setdefault(case.circuit.node[terminal.name], []).append(terminal)
        if not by_node:
            continue
        graph = blame.part_of(case.circuit, blame.conducting(settled))
        for node, terminals in by_node.items():
            first = terminals[0]
            path = blame.path(graph, (leg.point for leg in case.circuit.legs), [first.name])
            span = blame.at_fault(path.spans, case.board) if path else None
            if span is None:
                span = _line_of(case, first)
            if span in told:
                continue
            told.add(span)
            present = abs(settled.volts[node])
            yield Finding(
                rule="energized-metal",
                severity="hazard",
                message=f"{first.name} stands at {volts(present)} to ground{case.when(settled, first.name)}: "
                "whoever touches metal that is tied to it can be killed.",
                span=span,
                subject=first.name,
                value=round(present, 1),
                limit=TOUCH_VOLTS,
                unit="V",
                source="NEC 2023 250.4(A)",
                help=(f"The current's way there: {path.words()}. " if path else "")
                + "Take the hot off the ground, and join every ground to the panel's ground bar.",
                also=tuple(Note(f"{other.name} too", _line_of(case, other)) for other in terminals[1:4]),
                stage="trim",
            )


def _line_of(case: Case, terminal: Terminal) -> Span:
    """The line that says what is on a terminal, else the one that declares its owner."""
    for join in case.board.joins:
        if any(member.name == terminal.name for member in join.members):
            return join.span
    board = case.board
    for things in (board.devices, board.boxes, board.panels, board.breakers):
        if terminal.owner in things:
            return things[terminal.owner].span
    return board.span


@rule("rough-in", "trim")
def open_ground(case: Case) -> Iterator[Finding]:
    """A ground screw or a metal box has no grounding conductor back to the panel.

    Then a hot that touches the metal opens no breaker; the metal stays live
    and waits for a hand.

    Source: NEC 2023 250.148, 404.9(B), 406.4(A), 314.4
    """
    ties = ground_ties(case)
    piece = pieces(case.board.terminals, ties)
    grounded = {piece[f"{panel}.ground"] for panel in case.board.panels if f"{panel}.ground" in piece}
    made_up = pieces(case.board.terminals, [*ties, *_not_landed_yet(case)])
    lost = [
        terminal
        for terminal in case.board.terminals.values()
        if terminal.spec.role == "ground"
        and piece[terminal.name] not in grounded
        and terminal.owner not in case.board.panels
        # Where it is live, energized-metal tells the worse; where it stands on a neutral, ground-as-neutral.
        and case.uses.of(terminal.name) not in ("hot", "switched", "neutral")
    ]
    together: dict[str, list[Terminal]] = {}
    for terminal in lost:
        together.setdefault(piece[terminal.name], []).append(terminal)
    for terminals in together.values():
        first = terminals[0]
        owner = case.board.boxes.get(first.owner)
        # A ground that waits at its panel to be landed leaves the rough-in of the box whole.
        bonded = any(made_up[f"{panel}.ground"] == made_up[first.name] for panel in case.board.panels)
        stage: Stage = "rough-in" if owner is not None and not bonded else "trim"
        away = _left_loose(case, piece, piece[first.name])
        what = f"The metal box {first.owner}" if owner else f"The ground screw of {first.owner}"
        yield Finding(
            rule="open-ground",
            severity="hazard",
            message=f"{what} has no grounding conductor back to the panel's ground bar: "
            "if a hot wire touches that metal, no breaker opens and the metal stays live.",
            span=_line_of(case, first) if away is None else away[0].span,
            subject=first.owner,
            source="NEC 2023 314.4, 250.148" if owner else "NEC 2023 250.148, 404.9(B), 406.4(A)",
            help=f"Join {first.name} to the bare wires in {first.place} with a pigtail, "
            "and follow the bare wires to the panel: each must be joined in every box."
            if away is None
            else f"In {away[1]}, {away[0].name} is joined to nothing: put it under the connector with the "
            "other bare wires.",
            also=tuple(
                Note(f"{other.name} hangs on the same open ground", _line_of(case, other))
                for other in terminals[1:5]
            ),
            stage=stage,
        )
    yield from _leading_nowhere(case, piece, grounded | set(together))


def ground_ties(case: Case) -> list[tuple[str, str]]:
    """The pairs that grounding copper and metal raceways hold together; neutral bars are left apart."""
    bars = {(f"{panel}.neutral", f"{panel}.ground") for panel in case.board.panels}
    ties = [(a, b) for a, b, _ in case.circuit.bonds if (a, b) not in bars]
    ties += ((wire.a, wire.b) for wire in case.circuit.wires if wire.conductor.color in blame.GROUND_COLORS)
    for raceway in case.board.raceways.values():
        if raceway.kind in GROUNDING_RACEWAYS:
            ends = [ground for place in raceway.places if (ground := _metal_of(case, place)) is not None]
            if len(ends) == 2:
                ties.append((ends[0], ends[1]))
    return ties


def _left_loose(case: Case, piece: dict[str, str], lost: str) -> tuple[Conductor, str] | None:
    """The grounding conductor that would bring a lost piece home, and the place where it was left loose."""
    joined = {member.point for join in case.board.joins for member in join.members}
    for conductor in case.board.conductors.values():
        if conductor.color in blame.GROUND_COLORS and piece[conductor.ends[0]] == lost:
            for place, end in zip(conductor.places, conductor.ends, strict=True):
                if end not in joined:
                    return conductor, place
    return None


def _leading_nowhere(case: Case, piece: dict[str, str], told: set[str]) -> Iterator[Finding]:
    """Grounding conductors that are made up with one another and with no ground of a panel."""
    joined = {member.point for join in case.board.joins for member in join.members}
    nowhere: dict[str, list[Conductor]] = {}
    loose: set[str] = set()
    for conductor in case.board.conductors.values():
        if conductor.insulation in CLASS_2_CABLES:
            # Green in a thermostat's cable is the fan call.
            continue
        if conductor.color in blame.GROUND_COLORS and piece[conductor.ends[0]] not in told:
            nowhere.setdefault(piece[conductor.ends[0]], []).append(conductor)
            if any(end not in joined and end not in case.board.capped for end in conductor.ends):
                # A loose end is told by its own rule.
                loose.add(piece[conductor.ends[0]])
    for one, conductors in nowhere.items():
        # Where it is live, or serves as a neutral, that is told as the worse.
        if one in loose or case.uses.of(conductors[0].ends[0]) not in ("ground", "none"):
            continue
        names = [conductor.name for conductor in conductors]
        yield Finding(
            rule="open-ground",
            severity="hazard",
            message=f"{', '.join(names)} {'lead' if len(names) > 1 else 'leads'} to no ground bar: metal "
            "that is one day joined to it stays live when a hot touches it.",
            span=next(
                (
                    join.span
                    for join in case.board.joins
                    if any(member.point in conductors[0].ends for member in join.members)
                ),
                conductors[0].span,
            ),
            subject=names[0],
            source="NEC 2023 250.148, 250.110",
            help="Follow the bare wires to the panel: each must be joined to the others in every box.",
            stage="trim",
        )


def _not_landed_yet(case: Case) -> Iterator[tuple[str, str]]:
    """The grounding conductors that end at a panel and are joined to nothing there, each with its bar."""
    joined = {member.point for join in case.board.joins for member in join.members}
    for conductor in case.board.conductors.values():
        if conductor.color in blame.GROUND_COLORS:
            for place, end in zip(conductor.places, conductor.ends, strict=True):
                if place in case.board.panels and end not in joined:
                    yield end, f"{place}.ground"


def _metal_of(case: Case, place: str) -> str | None:
    """The ground terminal that a metal raceway bonds where it enters a place."""
    if place in case.board.panels or (place in case.board.boxes and case.board.boxes[place].metal):
        return f"{place}.ground"
    if place in case.board.devices and f"{place}.ground" in case.board.terminals:
        return f"{place}.ground"
    return None


@rule("trim")
def ground_as_neutral(case: Case) -> Iterator[Finding]:
    """Current comes back on a grounding conductor.

    The bare wire is there for a fault, not for work: while it carries current,
    every box and faceplate tied to it is part of the circuit, and where it
    opens, the metal beyond stands at line voltage.

    Source: NEC 2023 250.6(A), 250.24, 250.142(B)
    """
    told: set[Span] = set()
    for settled in case.states:
        if settled.opened:
            continue
        carrying = [
            wire
            for wire in case.circuit.wires
            if wire.conductor.color in blame.GROUND_COLORS
            and wire.conductor.insulation not in CLASS_2_CABLES
            # A bare or green wire that serves as a hot is told by its color, or by the metal it makes live.
            and case.uses.of(wire.a) not in ("hot", "switched")
            and abs(settled.amps.get(wire.conductor.name, 0)) > STRAY_AMPS
        ]
        if not carrying:
            continue
        wire = max(carrying, key=lambda wire: abs(settled.amps[wire.conductor.name]))
        flows = abs(settled.amps[wire.conductor.name])
        nodes = {case.circuit.node[end] for one in carrying for end in (one.a, one.b)}
        at_panel = set(case.board.panels)
        touching = [
            join
            for join in case.board.joins
            if join.place not in at_panel
            and any(case.circuit.node[m.point] in nodes for m in join.members if m.point)
        ]
        odd = [
            join
            for join in touching
            if "ground" in blame.mixed(join, case.board) and len(blame.mixed(join, case.board)) > 1
        ]
        span = (odd or touching)[0].span if touching else wire.conductor.span
        if span in told:
            continue
        told.add(span)
        yield Finding(
            rule="ground-as-neutral",
            severity="hazard",
            message=f"{wire.conductor.name} is a grounding conductor and carries {amps(flows)}"
            f"{case.when(settled, wire.conductor.name)}: metal that people touch is part of the circuit.",
            span=span,
            subject=wire.conductor.name,
            value=round(flows, 3),
            limit=0.0,
            unit="A",
            source="NEC 2023 250.6(A), 250.142(B)",
            help="Neutral and ground meet at the service panel and nowhere else. "
            "Bring the current back on the white wire, and keep the bare wires to themselves.",
            stage="trim",
        )
    if not told:
        yield from _will_carry(case)


def _will_carry(case: Case) -> Iterator[Finding]:
    """Neutrals that end on the ground, where nothing draws current yet: what is plugged in will."""
    told: dict[int, tuple[Terminal, Join | None, str]] = {}
    for terminal in case.board.terminals.values():
        piece = case.uses.piece[terminal.name]
        kinds = {feed.kind for feed in case.uses.direct[piece]}
        if terminal.spec.role != "neutral" or terminal.owner in case.board.panels:
            continue
        if "ground" not in kinds or not kinds <= {"ground", "neutral"}:
            continue
        if piece in told and told[piece][0].owner not in case.board.breakers:
            continue
        odd = next(
            (
                join
                for join in case.board.joins
                if {"neutral", "ground"} <= blame.mixed(join, case.board)
                and any(case.uses.piece[member.point] == piece for member in join.members if member.point)
            ),
            None,
        )
        told[piece] = terminal, odd, "not" if len(kinds) == 1 else "and not only"
    # What lies on the other side of a ground-fault device comes back to the same join.
    joined = any(odd is not None for _, odd, _ in told.values())
    spans: set[Span] = set()
    for terminal, odd, instead in told.values():
        span = odd.span if odd else _line_of(case, terminal)
        if span in spans or (odd is None and joined):
            continue
        spans.add(span)
        yield Finding(
            rule="ground-as-neutral",
            severity="hazard",
            message=f"{terminal.name} comes back to the ground, {instead} to the neutral: whatever runs "
            "there sends its current over metal that people touch."
            if odd is None
            else f"{_of_use(odd, case, 'neutral')} and {_of_use(odd, case, 'ground')} are joined in "
            f"{odd.place}: current that comes back by the neutral goes over metal that people touch.",
            span=span,
            subject=terminal.name,
            source="NEC 2023 250.6(A), 250.142(B)",
            help="Bring the white wire to the neutral bar, through whites alone, and leave the ground to the "
            "bare wires.",
            stage="trim",
        )
    if not told:
        # Where the two are exchanged, that is one mistake.
        yield from _grounds_on_neutral(case)


def _of_use(join: Join, case: Case, use: str) -> str:
    """The first member of a join that is a neutral's or a ground's, by its color or its screw."""
    return next(member.name for member in join.members if blame.conductor_use(member, case.board) == use)


def _grounds_on_neutral(case: Case) -> Iterator[Finding]:
    """Ground screws and bare wires that stand on the neutral alone."""
    points = {
        terminal.name: terminal.name for terminal in case.board.terminals.values() if _is_green(terminal)
    }
    for conductor in case.board.conductors.values():
        if conductor.color in blame.GROUND_COLORS and conductor.insulation not in CLASS_2_CABLES:
            points[conductor.ends[0]] = conductor.name
    together: dict[int, list[str]] = {}
    for point in points:
        if case.uses.of(point) == "neutral":
            together.setdefault(case.uses.piece[point], []).append(point)
    for piece, found in together.items():
        odd = [
            join
            for join in case.board.joins
            if {"neutral", "ground"} <= blame.mixed(join, case.board)
            and any(case.uses.piece[member.point] == piece for member in join.members if member.point)
        ]
        made_up = [join for join in case.board.joins if any(one.point in found for one in join.members)]
        if not odd and not made_up:
            continue
        names = [points[point] for point in found]
        yield Finding(
            rule="ground-as-neutral",
            severity="hazard",
            message=f"{names[0]} stands on the neutral, not on the ground: where that neutral opens, "
            "every metal part tied to it is live.",
            span=(odd or made_up)[0].span,
            subject=names[0],
            source="NEC 2023 250.142(B), 250.24, 408.40",
            help="Bring the bare wires to the ground bar, through bare wires alone.",
            also=tuple(
                Note(f"{name} stands on it too", made_up[0].span)
                for name in (names[1:2] if len(names) > 1 and made_up else ())
            ),
            stage="trim",
        )


def _is_green(terminal: Terminal) -> bool:
    return terminal.spec.role == "ground"


@rule("trim")
def backfeed(case: Case) -> Iterator[Finding]:
    """A circuit stays live when its own breaker is off, because another feeds it.

    Whoever turns off one breaker and starts work on what it names is working
    on a live circuit.

    Source: NEC 2023 110.22, 210.7; OSHA 29 CFR 1910.147
    """
    circuit = case.circuit
    leg = {leg.point: leg for leg in circuit.legs}
    breakers = [protection for protection in circuit.protections if protection.name in case.board.breakers]
    told: set[tuple[str, str]] = set()
    for settled in case.states:
        settled = settled.first or settled
        pieces = _without(settled, breakers)
        owners: dict[int, tuple[Protection, str, str]] = {}
        for breaker in breakers:
            for source, terminal in breaker.pairs:
                piece = pieces[circuit.node[terminal]]
                other = owners.setdefault(piece, (breaker, source, terminal))
                pair = (other[0].name, breaker.name)
                if other[0] is breaker or pair in told or leg[other[1]].volts != leg[source].volts:
                    continue
                told.add(pair)
                yield _backfed(case, settled, other, (breaker, source, terminal), breakers)


def _without(settled: Settled, left_out: list[Protection]) -> dict[int, int]:
    names = tuple(Opening(one.name, "off", 0.0, one.amps) for one in left_out)
    return copper(settled._replace(opened=names))


def _backfed(
    case: Case,
    settled: Settled,
    one: tuple[Protection, str, str],
    other: tuple[Protection, str, str],
    breakers: list[Protection],
) -> Finding:
    conducts = blame.conducting(settled)
    graph = blame.part_of(case.circuit, lambda kind, of: conducts(kind, of) and of not in breakers)
    path = blame.path(graph, [one[2]], [other[2]])
    spans = [span for span in (path.spans if path else ()) if _place(case, span) not in case.board.panels]
    span = blame.at_fault(spans, case.board) or other[0].span
    return Finding(
        rule="backfeed",
        severity="hazard",
        message=f"{one[0].name} and {other[0].name} feed the same wires{case.when(settled)}: "
        f"with {other[0].name} off, its circuit stays live through {one[0].name}.",
        span=span,
        subject=other[0].name,
        source="NEC 2023 110.22; OSHA 29 CFR 1910.147",
        help=f"The copper that ties them: {path.words()}. Part the two circuits."
        if path
        else "Part the two circuits.",
        stage="trim",
    )


def _place(case: Case, span: Span) -> str:
    return next((join.place for join in case.board.joins if join.span == span), "")

"""A ground screw or a metal box has no grounding conductor back to the panel.

Then a hot that touches the metal opens no breaker: the metal stays live and waits for a hand.
Every frame has one: of a motor, a heater, a contactor, a switch. In a metal box the fasteners of a
switch or a motor bond it to the box. Where all is Class 2, none is asked for.

Rigid metal conduit and the armor of AC are a ground by themselves. Flexible metal conduit is one
only up to 6 ft in all, behind a small breaker, and where nothing shakes or moves it. No switch and
no fuse stands in a ground.

Source: NEC 250.148, 250.110, 250.118(A), 404.9(B), 406.4(A), 314.4
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wirecheck.circuit.circuit import Contact, Protection
from wirecheck.judge import flexible, grounds, made_up, purpose, ways
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note, Stage
from wirecheck.judge.flexible import Refused
from wirecheck.judge.grouped import grouped
from wirecheck.judge.problem import LOOK_AGAIN, Problem, Spot, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.tape import INCH
from wirecheck.language.listing import listed
from wirecheck.language.quantity import amps, feet, inches
from wirecheck.model.board import Box, Conductor, Device, Panel, Raceway, Run, RunEnd, Terminal
from wirecheck.parts.part import TRIED
from wirecheck.tables import raceways

# How many more screws on one open ground are pointed at.
MOST_NOTED = 4
FOOT = 12 * INCH


class OpenGround(Problem):
    """Ground screws that hang together and have no way to a ground bar.

    `left` is the grounding conductor that would take them there, with the end that was joined to nothing.
    """

    terminals: tuple[Terminal, ...]
    left: tuple[Conductor, RunEnd] | None


class FlexibleGround(OpenGround):
    """Flexible metal conduit is their only way home, and it is no ground by itself."""

    refused: Refused


class SwitchedGround(OpenGround):
    """What takes them home goes through `cut`, a switch or a fuse of `device`."""

    cut: Contact | Protection
    device: Device


class LeadsNowhere(Problem):
    """Grounding conductors that are joined to one another, to no screw, and to no ground bar."""

    conductors: tuple[Conductor, ...]


class CappedGround(Problem):
    """A grounding conductor is capped at `end`, where wires beside it are in use and another ground is.

    Or it is under `idle`, a screw that is for no ground, and that nothing else is on.
    What it is there for is grounded by other metal, as the raceway around it.
    """

    conductor: Conductor
    end: RunEnd
    idle: Terminal | None


def find(case: Case) -> Iterator[OpenGround | LeadsNowhere | CappedGround]:
    """Each piece of ground that is cut off from every ground bar, once; and what is capped beside one."""
    yield from _capped(case)
    grounding = grounds.grounding(case)
    for piece, terminals in grounding.lost.items():
        switched = _switched(case, terminals)
        if switched is not None:
            yield switched
            continue
        refused = flexible.refused(case, grounding.piece, grounding.bars, piece)
        # With a green wire in it that waits to be joined the conduit need be no ground.
        waiting = _waiting(case, refused.flexible.raceway) if refused is not None else None
        if refused is None or waiting is not None:
            yield _open(case, piece, terminals, waiting)
        else:
            yield _flexible(case, terminals, refused)
    for conductors in _cut_off(case):
        there = [join for end in conductors[0].ends if (join := made_up.join_at(case, end)) is not None]
        yield LeadsNowhere(
            at=spot(min(there, key=lambda join: join.span) if there else conductors[0]),
            about=conductors[0],
            severity="hazard",
            stage="trim",
            copper=frozenset(case.uses.piece[end] for one in conductors for end in one.ends),
            conductors=conductors,
        )


def _open(
    case: Case, piece: str, terminals: tuple[Terminal, ...], left: tuple[Conductor, RunEnd] | None = None
) -> OpenGround:
    first = terminals[0]
    # A ground that waits at its panel to be landed leaves the rough-in of the box whole.
    waits = piece in grounds.landed(case) and (left is None or left[1].place in case.board.panels)
    left = left or _left_out(case, piece)
    if left is None and first.owner in case.board.subpanels:
        left = _left_at_panel(case, first.owner)
    stage: Stage = "rough-in" if first.owner in case.board.boxes and not waits else "trim"
    return OpenGround(
        at=made_up.at_screw(case, first) if left is None else spot(left[1]),
        about=made_up.owner_of(case, first),
        severity="hazard",
        stage=stage,
        copper=_copper(case, terminals),
        terminals=terminals,
        left=left,
    )


def _switched(case: Case, terminals: tuple[Terminal, ...]) -> SwitchedGround | None:
    """The contact or the fuse that stands between ground screws and a ground bar, if one does."""
    pieces = _copper(case, terminals)
    for piece in sorted(pieces):
        for other, cut in ways.next_pieces(case).get(piece, ()):
            if not any(feed.kind == "ground" for feed in case.uses.direct[other]):
                continue
            scope = cut.scope if isinstance(cut, Contact) else cut.device
            device = case.board.devices.get(scope)
            screw = next((one for one in _screws(cut) if case.uses.piece[one] == piece), None)
            if device is not None and screw is not None:
                return SwitchedGround(
                    at=spot(made_up.join_at(case, screw) or device),
                    about=made_up.owner_of(case, terminals[0]),
                    severity="hazard",
                    stage="trim",
                    copper=pieces | {other},
                    terminals=terminals,
                    left=None,
                    cut=cut,
                    device=device,
                )
    return None


def _screws(cut: Contact | Protection) -> tuple[str, ...]:
    return (cut.a, cut.b) if isinstance(cut, Contact) else tuple(end for pair in cut.pairs for end in pair)


def _flexible(case: Case, terminals: tuple[Terminal, ...], refused: Refused) -> FlexibleGround:
    raceway = refused.flexible.raceway
    return FlexibleGround(
        at=spot(raceway),
        about=made_up.owner_of(case, terminals[0]),
        severity="violation",
        stage="rough-in",
        copper=_copper(case, terminals),
        terminals=terminals,
        left=None,
        refused=refused,
    )


def _copper(case: Case, terminals: tuple[Terminal, ...]) -> frozenset[int]:
    return frozenset(case.uses.piece[one.name] for one in terminals)


def _left_out(case: Case, piece: str) -> tuple[Conductor, RunEnd] | None:
    """The first grounding conductor of a lost piece that was joined to nothing, and where."""
    for conductor in case.board.conductors.values():
        if purpose.is_grounding(conductor) and grounds.grounding(case).piece[conductor.ends[0]] == piece:
            for which, end in enumerate(conductor.ends):
                if end not in made_up.joins(case):
                    return conductor, made_up.run_end(case, conductor, which)
    return None


def _waiting(case: Case, raceway: Raceway) -> tuple[Conductor, RunEnd] | None:
    """A grounding conductor in a raceway that was joined to nothing at an end, and where: last at a panel."""
    loose = (
        (conductor, made_up.run_end(case, conductor, which))
        for conductor, which in made_up.loose_ends(case)
        if conductor.run in raceway.runs and purpose.is_grounding(conductor)
    )
    return min(loose, key=lambda one: one[1].place in case.board.panels, default=None)


def _left_at_panel(case: Case, panel: str) -> tuple[Conductor, RunEnd] | None:
    """The grounding conductor that comes to a subpanel from another panel and is joined to nothing there."""
    for conductor, which in grounds.unlanded(case):
        if conductor.places[which] == panel and conductor.places[1 - which] in case.board.panels:
            return conductor, made_up.run_end(case, conductor, which)
    return None


def _cut_off(case: Case) -> Iterable[tuple[Conductor, ...]]:
    """The grounding conductors that are on no screw and lead to nothing, those of one piece together."""
    grounding = grounds.grounding(case)
    elsewhere = {*grounding.home, *grounding.lost}
    earthed = {conductor.name for conductor, _ in grounds.to_electrodes(case)}
    return grouped(
        (piece, conductor)
        for conductor in filter(purpose.is_grounding, case.board.conductors.values())
        if conductor.name not in earthed
        and (piece := grounding.piece[conductor.ends[0]]) not in elsewhere
        and case.uses.of(conductor.ends[0]) in ("ground", "none")
    ).values()


def _capped(case: Case) -> Iterator[CappedGround]:
    """The grounding conductors that come home by other metal, and are capped where they should be joined."""
    grounding = grounds.grounding(case)
    with_ground = {
        _place(case, one) for one in case.board.terminals.values() if one.spec.role == "ground"
    } - {_place(case, one) for lost in grounding.lost.values() for one in lost}
    in_raceways = {run for raceway in case.board.raceways.values() for run in raceway.runs}
    for conductor in filter(purpose.is_grounding, case.board.conductors.values()):
        for which, end in enumerate(conductor.ends):
            place, idle = conductor.places[which], _idle(case, end)
            if (
                # A cable's ground that is capped was decided so, where another cable's grounds the rest.
                ((end in case.board.capped and conductor.run in in_raceways) or idle is not None)
                and place in with_ground
                and grounding.piece[conductor.ends[0]] in grounding.home
                and _in_use(case, conductor, place)
            ):
                yield CappedGround(
                    at=Spot(case.board.capped[end], conductor)
                    if idle is None
                    else made_up.at_screw(case, idle),
                    about=conductor,
                    severity="violation",
                    stage="trim",
                    copper=frozenset((case.uses.piece[end],)),
                    conductor=conductor,
                    end=made_up.run_end(case, conductor, which),
                    idle=idle,
                )


def _idle(case: Case, end: str) -> Terminal | None:
    """The screw that an end is alone under, where it is for no ground and what it leads to is not in use."""
    join = made_up.join_at(case, end)
    screws = [] if join is None else [case.board.terminals[name] for name in join.under]
    if join is None or len(screws) != 1 or len(join.members) != 2:
        return None
    (screw,) = screws
    beyond = [
        one.b if one.a == screw.name else one.a
        for one in case.circuit.contacts
        if screw.name in (one.a, one.b)
    ]
    used = any(made_up.join_at(case, other) is not None for other in beyond)
    return screw if beyond and not used and screw.spec.role not in ("ground", "neutral") else None


def _place(case: Case, terminal: Terminal) -> str:
    """Where a screw is: the box of its device, or what it is on."""
    device = case.board.devices.get(terminal.owner)
    return terminal.owner if device is None else device.place or device.name


def _in_use(case: Case, ground: Conductor, place: str) -> bool:
    """Whether a power wire of its cable or of its raceway is joined in a place."""
    around = next((one.runs for one in case.board.raceways.values() if ground.run in one.runs), (ground.run,))
    return any(
        end in made_up.joins(case)
        for one in filter(purpose.is_power, case.board.conductors.values())
        if one.run in around
        for end, there in zip(one.ends, one.places, strict=True)
        if there == place
    )


def words(problem: OpenGround | LeadsNowhere | CappedGround, case: Case) -> Words:
    """What metal is cut off, what that means, and where the way home was left open."""
    code = case.code
    if isinstance(problem, CappedGround):
        name, place = problem.conductor.name, problem.end.place
        stands = "capped" if problem.idle is None else f"under {problem.idle.name}"
        return Words(
            message=f"{name} is a ground and is {stands} in {place}, where the wires beside it are in use: "
            "what it was run for has other metal alone as its ground.",
            help=f"Join it to the grounds in {place}.",
            source=code.section("grounds are joined in each box"),
        )
    if isinstance(problem, LeadsNowhere):
        many = len(problem.conductors) > 1
        return Words(
            message=f"{listed(one.name for one in problem.conductors)} {'lead' if many else 'leads'} to no "
            "ground bar: metal that is joined to it later stays live when a hot touches it.",
            help="Follow the grounds to the panel: they must be joined to one another in every box, and land "
            "on the ground bar.",
            source=code.section("grounds are joined in each box", "equipment is grounded"),
        )
    if isinstance(problem, FlexibleGround):
        return _flexible_words(problem, case)
    if isinstance(problem, SwitchedGround):
        metal = listed(dict.fromkeys(terminal.owner for terminal in problem.terminals), MOST_NOTED)
        name = problem.device.name
        return Words(
            message=f"The ground of {metal} goes through {name}. While {name} is open, a hot that touches "
            "that metal opens no breaker, and the metal stays live.",
            help=f"Turn the power off. Take the grounds off {name} and splice them together: nothing that "
            "opens may stand in a ground.",
            source=code.section("no switch in a ground"),
        )
    first = problem.terminals[0]
    box = isinstance(problem.about, Box)
    if isinstance(problem.about, Panel):
        return _words_of_panel(problem, problem.about, case)
    return Words(
        message=f"{'Metal box' if box else 'The ground screw of'} {first.owner} has no ground wire back to "
        "the panel's ground bar: if a hot touches that metal, no breaker trips and the metal stays live.",
        help=_remedy(problem, case),
        source=code.section("metal boxes are grounded", "grounds are joined in each box")
        if box
        else code.section("grounds are joined in each box", _kind(problem)),
        also=tuple(
            Note(f"{other.name} is on the same open ground", made_up.at_screw(case, other).span)
            for other in problem.terminals[1 : 1 + MOST_NOTED]
        ),
        look=_at_the_box(problem, case) or _lacking(problem, case),
    )


def _words_of_panel(problem: OpenGround, panel: Panel, case: Case) -> Words:
    """A subpanel without a ground takes it from all that it feeds."""
    others = tuple(one for one in problem.terminals if one.owner != panel.name)
    behind = f", nor has {listed([one.owner for one in others], MOST_NOTED)} behind it" if others else ""
    remedy = (
        f"Run a ground with the wires of the feeder, bare or green, from the ground bar where {panel.name} "
        f"is fed to {panel.name}.ground. A rod in the earth does not stand in for it."
    )
    return Words(
        message=f"{panel.name} has no ground back to the panel that feeds it{behind}: if a hot touches that "
        "metal, no breaker trips and the metal stays live.",
        help=remedy if problem.left is None else _remedy(problem, case),
        source=case.code.section("equipment is grounded", "grounds of a separate building")
        if panel.detached
        else case.code.section("equipment is grounded"),
        also=tuple(
            Note(f"{other.name} is on the same open ground", made_up.at_screw(case, other).span)
            for other in others[:MOST_NOTED]
        ),
    )


def _kind(problem: OpenGround) -> str:
    """What the code says of the ground of such a thing."""
    if isinstance(problem.about, Device) and problem.about.part.outlets:
        return "receptacles are grounded"
    return "switches are grounded" if _is_switch(problem.about) else "equipment is grounded"


def _is_switch(thing: object) -> bool:
    return isinstance(thing, Device) and bool(thing.part.positions) and thing.part.moved_by in TRIED


def _flexible_words(problem: FlexibleGround, case: Case) -> Words:
    raceway, terms = problem.refused.flexible.raceway, problem.refused.flexible.terms
    why, numbers = _too_much(problem.refused, case)
    metal = listed(dict.fromkeys(terminal.owner for terminal in problem.terminals), MOST_NOTED)
    return Words(
        message=f"{raceway.name} is the only ground of {metal}. {raceway.kind} is a ground by itself only "
        f"{why}. Beyond that it may not carry enough current to trip the breaker.",
        help=f"Pull a green wire through {raceway.name} with the others, of the size that the breaker asks "
        "for, and join it to the grounds at both ends.",
        source=terms.section,
        value=numbers[0] if numbers else None,
        limit=numbers[1] if numbers else None,
        unit=numbers[2] if numbers else None,
    )


def _too_much(refused: Refused, case: Case) -> tuple[str, tuple[float, float, str] | None]:
    """Within what flexible conduit is a ground and what this is, in words and in numbers."""
    raceway, terms, guard = refused.flexible.raceway, refused.flexible.terms, refused.flexible.guard
    most = case.code.limit("flexible conduit as a ground")
    if refused.reason == "amps" and guard is not None and terms.amps is not None:
        told = f"behind {amps(terms.amps)} at most, and {guard.name} is {amps(guard.amps)}"
        return told, (guard.amps, terms.amps, "A")
    if refused.reason == "size" and terms.largest is not None:
        told = f"up to {inches(terms.largest)}, and this is {raceway.size_text}"
        return told, (raceway.size / INCH, terms.largest / INCH, "in")
    if refused.reason == "length":
        told = f"up to {feet(most)} in all on the way to the panel, and this is {feet(refused.length)}"
        return told, (refused.length / FOOT, most / FOOT, "ft")
    return "where nothing shakes or moves it, and a motor does both", None


def _remedy(problem: OpenGround, case: Case) -> str:
    told = _at_the_box(problem, case) or _lacking(problem, case)
    if told is not None:
        return told
    first = problem.terminals[0]
    metal = _by_itself(first.place, case)
    if metal is not None and problem.left is None:
        return f"Join {first.name} to {first.place}.ground: {metal} is a ground by itself."
    if problem.left is None:
        return (
            f"Join {first.name} to the other grounds in {first.place} with a pigtail. Then follow the "
            "grounds to the panel: they must be joined in every box."
        )
    conductor, end = problem.left
    where = (
        f"put it on the ground bar, {end.place}.ground."
        if end.place in case.board.panels
        else "put it under the connector with the other grounds."
    )
    return f"In {end.place}, {conductor.name} is joined to nothing: {where}"


def _lacking(problem: OpenGround, case: Case) -> str | None:
    """What is not there at all, so that no join mends it: a ground wire, or metal that armor leads to."""
    first = problem.terminals[0]
    wires = filter(purpose.is_grounding, case.board.conductors.values())
    if any(first.place in one.places for one in wires) or _by_itself(first.place, case) is not None:
        return None
    armored = _armored(first.place, case)
    if armored is not None:
        return (
            f"The armor of {armored.name} is its ground, and it leads only to metal. Put in a metal box, "
            f"with a connector that holds the armor, and join {first.name} to the box."
        )
    return (
        f"No ground wire comes to {first.place}. Run one with the wires of the circuit, bare or green, "
        f"from the panel's ground bar, and join {first.name} to it."
    )


def _at_the_box(problem: OpenGround, case: Case) -> str | None:
    """Where to look where rigid metal conduit, a ground, comes to a box that no line says is metal."""
    first = problem.terminals[0]
    box = case.board.boxes.get(first.place)
    way = _conduit(first.place, case)
    if box is None or box.metal or way is None or problem.left is not None:
        return None
    return (
        f"{LOOK_AGAIN} at {box.name}. {way.name} is {way.kind}, a ground by itself, and no line says that "
        f"{box.name} is metal. If it is, write metal at the end of its line, and join {first.name} to "
        f"{box.name}.ground. If not, a green wire goes through {way.name}."
    )


def _by_itself(place: str, case: Case) -> str | None:
    """The conduit or armor, a ground by itself, that comes to a metal box; None where none does."""
    box = case.board.boxes.get(place)
    way = (_conduit(place, case) or _armored(place, case)) if box is not None and box.metal else None
    return way.name if way is not None else None


def _conduit(place: str, case: Case) -> Raceway | None:
    """Rigid metal conduit that comes to a place."""
    for way in case.board.raceways.values():
        terms = raceways.grounds(way.kind, way.size, code=case.code) if place in way.places else None
        if terms is not None and terms.amps is None:
            return way
    return None


def _armored(place: str, case: Case) -> Run | None:
    """A cable that comes to a place and whose armor is its ground."""
    for run in case.board.runs.values():
        comes = place in (end.place for end in run.ends)
        if comes and raceways.grounds(run.kind, 0.0, code=case.code) is not None:
            return run
    return None


RULE = rule(__name__, "rough-in", "trim", severities=("hazard", "violation"), find=find, words=words)

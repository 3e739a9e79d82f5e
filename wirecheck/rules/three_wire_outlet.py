"""A range or dryer is on three wires, with its frame on the neutral, where that may not be.

On three wires the neutral is the only way back for a fault. Where it opens, the frame of the range stands
at line voltage, and whoever touches it and the sink closes the circuit. A new circuit has four wires. One
that was there before, which a board calls existing, may stay: where no ground comes to its box, its neutral
is large enough, and is insulated or the bare wire of a service-entrance cable from the service panel itself.

Source: NEC 250.140(A), 250.140(B), 250.142(B)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge import old_work
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.old_work import SERVICE_CABLES, Neutral
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.purpose import is_grounding
from wirecheck.judge.rule import rule
from wirecheck.judge.size_words import gauge, named_size
from wirecheck.model.board import Conductor, Device, Panel
from wirecheck.tables.published import NotInTable
from wirecheck.tables.sizes import size_at_least, trade_size

# What the trade calls the system that such an outlet must be on.
SYSTEMS = ("120/240", "208Y/120")
COVERED = "bare neutral of an old range or dryer, covered"


class NewWork(Problem):
    """A three-wire outlet on a circuit that the board does not say was found so."""

    device: Device
    bare: tuple[Conductor, ...]


class GroundIsThere(Problem):
    """A grounding conductor comes to the box of an old three-wire outlet."""

    device: Device
    ground: Conductor


class ThinNeutral(Problem):
    """The neutral of an old three-wire outlet is thinner than it may be."""

    device: Device
    neutral: Neutral
    least: str


class BareNeutral(Problem):
    """Its neutral is bare, and not in a service-entrance cable, or it is from a `panel` that is fed."""

    device: Device
    bare: tuple[Conductor, ...]
    panel: Panel | None


class OtherSystem(Problem):
    """An old three-wire outlet is fed from a panel of other volts."""

    device: Device
    panel: Panel


Kind = NewWork | GroundIsThere | ThinNeutral | BareNeutral | OtherSystem


def find(case: Case) -> Iterator[Kind]:
    """Each three-wire outlet of a range or dryer."""
    for device in old_work.three_wire(case):
        neutrals = list(old_work.neutrals(case, device))
        if not old_work.is_existing(device):
            yield NewWork(
                at=spot(device),
                about=device,
                severity="hazard",
                stage="trim",
                copper=frozenset(
                    case.uses.piece[name]
                    for name, terminal in case.board.terminals.items()
                    if terminal.owner == device.name
                ),
                device=device,
                bare=tuple(one.conductor for one in neutrals if is_grounding(one.conductor)),
            )
            continue
        yield from _ground_there(case, device, neutrals)
        for neutral in neutrals:
            yield from _judged(case, device, neutral)


def _ground_there(case: Case, device: Device, neutrals: list[Neutral]) -> Iterator[GroundIsThere]:
    own = {one.conductor.name for one in neutrals}
    for conductor in case.board.conductors.values():
        if not is_grounding(conductor) or device.place not in conductor.places or conductor.name in own:
            continue
        if case.uses.of(conductor.ends[0]) in ("ground", "none"):
            yield GroundIsThere(
                at=spot(device),
                about=device,
                severity="violation",
                stage="trim",
                copper=frozenset((case.uses.piece[conductor.ends[0]],)),
                device=device,
                ground=conductor,
            )
            return


def _judged(
    case: Case, device: Device, neutral: Neutral
) -> Iterator[ThinNeutral | BareNeutral | OtherSystem]:
    wire = neutral.conductor
    copper = frozenset(case.uses.piece[end] for end in wire.ends)
    matter = "least copper neutral of an old range or dryer"
    if wire.material == "aluminum":
        matter = "least aluminum neutral of an old range or dryer"
    least = trade_size(case.code.written(matter))
    try:
        thin = not size_at_least(wire.size, least)
    except NotInTable:
        thin = False
    run = case.board.runs[wire.run]
    if thin:
        yield ThinNeutral(
            at=spot(run), about=wire, severity="violation", stage="rough-in", copper=copper,
            device=device, neutral=neutral, least=least,
        )  # fmt: skip
    panel = next((case.board.panels[one] for one in wire.places if one in case.board.panels), None)
    if panel is not None and panel.system not in SYSTEMS:
        yield OtherSystem(
            at=spot(panel), about=device, severity="violation", stage="trim", copper=copper,
            device=device, panel=panel,
        )  # fmt: skip
    if is_grounding(wire):
        fed = panel if panel is not None and panel.fed and not _covered(case, wire, panel) else None
        if fed is not None or wire.insulation not in SERVICE_CABLES:
            yield BareNeutral(
                at=spot(run), about=wire, severity="hazard", stage="trim", copper=copper,
                device=device, bare=(wire,), panel=fed,
            )  # fmt: skip


def _covered(case: Case, wire: Conductor, panel: Panel) -> bool:
    """Whether a bare neutral is covered in the panel, marked white there, where the edition lets it be so."""
    if not case.code.asks(COVERED):
        return False
    return any(
        member.marked == "white"
        for join in case.board.joins
        if join.place == panel.name
        for member in join.members
        if member.name == wire.name
    )


FOUR = (
    "Run a cable with a ground, of four wires in all, put in a four-wire receptacle, and take the bonding "
    "strap out of the appliance."
)
OLD = "old circuits of ranges and dryers"


def words(problem: Kind, case: Case) -> Words:
    """What the frame is on, and what the code asks of such a circuit."""
    section = case.code.section
    device = problem.device
    if isinstance(problem, BareNeutral):
        return _words_of_bare(problem, case)
    if isinstance(problem, NewWork):
        return Words(
            message=f"{device.name} has three wires, and a new circuit takes four: the frame of what is "
            "plugged in there is grounded by the neutral alone. Where that opens, the frame stands at line "
            "voltage.",
            help=f"{FOUR} Only a circuit that was there before may stay as it is: then write existing after "
            f"{device.part.name}.",
            source=section("grounds of ranges and dryers", "neutral grounds no metal"),
        )
    if isinstance(problem, GroundIsThere):
        ground = problem.ground
        return Words(
            message=f"{device.name} has three wires, and a ground comes to its box: {ground.name}. An old "
            "circuit may keep its frame on the neutral only where there is no ground.",
            help=f"Put in a four-wire receptacle, join {ground.name} to its ground screw, and take the "
            "bonding strap out of the appliance.",
            source=section(OLD),
            also=(Note(f"{ground.name} comes from here", ground.span),),
        )
    if isinstance(problem, ThinNeutral):
        wire = problem.neutral.conductor
        return Words(
            message=f"{wire.name} grounds the frame at {device.name}, and is {named_size(wire)}. An old "
            f"circuit may stay with {gauge(problem.least)} {wire.material} or larger.",
            help=FOUR,
            source=section(OLD),
        )
    panel = problem.panel
    return Words(
        message=f"{device.name} has three wires, and {panel.name} is {panel.system} V. A frame may be on the "
        "neutral only of 120/240 V or 208Y/120 V.",
        help=FOUR,
        source=section(OLD),
    )


def _words_of_bare(problem: BareNeutral, case: Case) -> Words:
    """Why a neutral may not be bare there, and what may be done of it by the edition."""
    (wire,), panel, matter, remedy = problem.bare, problem.panel, OLD, FOUR
    if panel is None:
        why = f"It is in {wire.insulation}: a bare neutral may only be in a service-entrance cable."
    else:
        why = f"It comes from {panel.name}, which a breaker feeds: there its current goes over metal."
        remedy = f"Move the circuit to the service panel. {FOUR}"
        if case.code.asks(COVERED):
            matter = COVERED
            remedy = (
                f"Cover {wire.name} with listed insulation wherever it shows in {panel.name}, and say so "
                f"there: {wire.name} marked white. Or make it new: {FOUR}"
            )
    return Words(
        message=f"{wire.name} is bare, and is the neutral of {problem.device.name}. {why}",
        help=remedy,
        source=case.code.section(matter),
    )


RULE = rule(__name__, "rough-in", "trim", severities=("hazard", "violation"), find=find, words=words)

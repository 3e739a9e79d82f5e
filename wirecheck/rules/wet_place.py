"""A wire, a cable, a raceway or a light that must stay dry is in a wet place.

Water gets into every raceway outdoors, as rain or as dew on its inside. It wicks into the paper
of an indoor cable and creeps through insulation that is not made for it: current leaks, and the
wire corrodes where nobody sees it. A light there is one that is marked for wet places.

Source: NEC 300.9, 310.10(C), 334.12(B)(4), 348.12(1), 410.10(A)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note, Severity
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.wet import wet_end, wet_run
from wirecheck.language.listing import listed
from wirecheck.language.syntax import Word
from wirecheck.model.board import Device, Raceway, Run
from wirecheck.tables.ampacity import insulation
from wirecheck.tables.published import NotInTable
from wirecheck.tables.raceways import dry_raceway

# The rating that says what a light is marked for, and what it is where it may be wet.
LABEL, MARKED = "label", "wet-rated"
# A mark that is no better than none where water comes: for damp places, as under a roof outdoors.
DAMP = "damp-rated"
# More runs than this in a message tell a reader nothing.
MOST_NAMED = 3


class DryRun(Problem):
    """A wire or a cable for dry places, the wet place that it comes to, and others of its kind beside it.

    `raceway` is what it lies in. `section` is what keeps it out.
    """

    run: Run
    others: tuple[Run, ...]
    place: str
    raceway: Raceway | None
    section: str


class DryRaceway(Problem):
    """A raceway for dry places, and the wet place that it ends in."""

    raceway: Raceway
    place: str
    section: str


class DryLight(Problem):
    """A light in a wet box that is not marked for wet places; `damp` is whether it is for damp ones."""

    device: Device
    damp: bool


def find(case: Case) -> Iterator[DryRun | DryRaceway | DryLight]:
    """Each cable by itself, the wires of a kind in a raceway together, each raceway, and each light."""
    together: dict[tuple[str, str], list[Run]] = {}
    for run in case.board.runs.values():
        # A single wire outside a raceway may be nowhere (300.3(A)).
        held = run.jacketed or run.raceway is not None
        if held and wet_run(case, run.name) is not None and _kept_out(case, run):
            together.setdefault((run.raceway or run.name, run.kind), []).append(run)
    for first, *others in together.values():
        yield DryRun(
            at=spot(first),
            about=first,
            severity="violation",
            stage="rough-in",
            run=first,
            others=tuple(others),
            place=wet_run(case, first.name) or "",
            raceway=case.board.raceways.get(first.raceway or ""),
            section=_kept_out(case, first),
        )
    for raceway in case.board.raceways.values():
        place, section = wet_end(case, raceway), dry_raceway(raceway.kind, code=case.code)
        if place is not None and section:
            yield DryRaceway(
                at=spot(raceway),
                about=raceway,
                severity="violation",
                stage="rough-in",
                raceway=raceway,
                place=place,
                section=section,
            )
    for device in case.board.devices.values():
        box, label = case.board.boxes.get(device.place), device.values.get(LABEL)
        if box is not None and box.wet and isinstance(label, Word) and label.text != MARKED:
            damp = label.text == DAMP
            severity: Severity = "violation" if damp else "advice"
            yield DryLight(
                at=spot(device), about=device, severity=severity, stage="trim", device=device, damp=damp
            )


def _kept_out(case: Case, run: Run) -> str:
    """What keeps a run out of wet places; nothing where it may be there, or no table has its kind."""
    try:
        return insulation(run.kind, code=case.code).dry_source
    except NotInTable:
        return ""


def words(problem: DryRun | DryRaceway | DryLight, case: Case) -> Words:
    """What must stay dry, where it is wet, and what may be there."""
    match problem:
        case DryLight(device=device, damp=True):
            return Words(
                message=f"{device.name} is in {device.place}, a wet place, and its mark is for damp places "
                "alone. Water gets into it.",
                help="Put in one that is marked for wet places.",
                stands=True,
                source=case.code.section("lights in a wet place are marked for it"),
            )
        case DryLight(device=device):
            return Words(
                message=f"{device.name} is in {device.place}, a wet place, and nothing says that it is "
                "marked for that. Water gets into a light that is not.",
                help="Look for the mark, and say it: label wet-rated. If it has none, put in one that has.",
                source=case.code.section("lights in a wet place are marked for it"),
            )
        case DryRaceway(raceway=raceway, place=place, section=section):
            return Words(
                message=f"{raceway.name} is {raceway.kind}, which must stay dry, and it ends at {place}, a "
                "wet place. Water runs in between its turns and down to what it is joined to.",
                help="Use liquidtight flexible conduit here, LFMC or LFNC.",
                source=section,
            )
        case DryRun(run=run, others=others, place=place, raceway=raceway, section=section):
            also = tuple(Note(f"{one.name} is {one.kind} too", one.span) for one in others)
            if raceway is None:
                remedy = "Use a cable for wet places here, such as UF-B."
                if place in case.board.boxes:
                    remedy += (
                        f" If {run.name} lies dry in the wall all the way into {place}, then {place} is no "
                        "wet place: take wet off its line."
                    )
                return Words(
                    message=f"{run.name} is {run.kind}, which must stay dry, and it comes to {place}, a wet "
                    "place. Water ruins a cable that is made for indoors.",
                    help=remedy,
                    source=section,
                    also=also,
                )
            names = listed([one.name for one in (run, *others)], most=MOST_NAMED)
            said = f"{names} {'are' if others else 'is'} {run.kind}"
            cable = run.jacketed
            remedy = "Pull THWN-2 wires instead, or UF-B cable." if cable else "Pull THWN-2 instead."
            if not cable:
                remedy += " Most wire on the shelf is marked for both: if this is, write the wet one here."
            around = f"{raceway.name} around {'them' if others else 'it'}"
            return Words(
                message=f"{said}, which must stay dry, and {around} ends at "
                f"{place}, a wet place. The inside of a raceway there counts as wet, even a sealed "
                "one.",
                help=remedy,
                source=f"{case.code.section('inside of a raceway in a wet place')}; {section}",
                also=also,
            )


RULE = rule(__name__, "rough-in", "trim", severities=("violation", "advice"), find=find, words=words)

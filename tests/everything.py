"""Everything that is done with a board's text, as the commands do it, and in every form of output."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from wirecheck.arguments import Quantity, WrongArgument, reading
from wirecheck.assembly import NotABoard, read
from wirecheck.circuit.call import play_call
from wirecheck.circuit.meter import PowerOn
from wirecheck.drawing.picture import sheet
from wirecheck.drawing.sheet import dot_source
from wirecheck.drawing.timing import timing_sheet
from wirecheck.findings import findings
from wirecheck.judge.case import Case
from wirecheck.judge.unjudged import unjudged
from wirecheck.model.build import build
from wirecheck.parts.library import Library
from wirecheck.report import (
    checklist,
    checklist_html,
    energized,
    labels,
    materials,
    materials_html,
    position_table,
    sequence,
)
from wirecheck.report.formats import FORMATS, render
from wirecheck.report.report import Report
from wirecheck.report.spreadsheet import cells
from wirecheck.rules import manuals


def case_of(text: str | bytes, library: Library) -> Case | None:
    """The board of a text; None where it is no board, and is refused as none."""
    try:
        syntax = read(text, "made.wire")
    except NotABoard:
        return None
    case = Case(build(syntax, library))
    case.answers["text"] = syntax.text
    return case


def checked(case: Case) -> Iterator[str]:
    """The report in every format."""
    found, text = findings(case), str(case.answers["text"])
    report = Report("made.wire", case.board.title, text, found, unjudged(case), sampled=not case.whole)
    for form in FORMATS:
        yield render(form, [report], manuals())
    yield report._repr_html_()


def energize(case: Case) -> Iterator[str]:
    """The table of positions, every state as data, and the moment at which motors start."""
    yield position_table.render(case)
    yield repr(energized.as_data(case, energized.every_state(case)))
    yield energized.energized(case, None, (), True).render()


def listed(case: Case) -> Iterator[str]:
    """The checklist as text and as a page."""
    sections = checklist.checklist(case, "final")
    yield checklist.render(case.board.title, sections)
    yield checklist_html.render(case.board.title, "made.wire", sections)


def bought(case: Case) -> Iterator[str]:
    """The list of materials in every form."""
    items = materials.materials(case.board)
    listing = materials.Listing((case.board.title,), 2, materials.added(items, 2), (), 10)
    yield materials.render(listing)
    yield materials_html.render(listing)
    yield cells(materials.rows(listing.items, 10))
    yield labels.page(labels.labels(case.board))
    yield cells(labels.rows(labels.labels(case.board)))


def drawn(case: Case) -> Iterator[str]:
    """The picture with its flags, and that of the board at rest, laid out for Graphviz."""
    yield dot_source(sheet(case.board, findings(case)))
    yield dot_source(sheet(case.board, (), page="letter", state=case.standing({})))


def laddered(case: Case) -> Iterator[str]:
    """The ladder, plain and at rest, laid out for Graphviz."""
    yield dot_source(sheet(case.board, (), "ladder"))
    yield dot_source(sheet(case.board, (), "ladder", page="a4", state=case.standing({})))


def played(case: Case) -> Iterator[str]:
    """Calls from beginning to end, in words, as data and as a chart."""
    for call in case.calls[:2]:
        play = play_call(case.circuit, [call], {}, None)
        yield sequence.text(case, play)
        yield repr(sequence.as_data(case, play))
        yield dot_source(timing_sheet(play, call))


def measured(case: Case) -> Iterator[str]:
    """What a meter shows: volts and ohms between points near and far, amps in some branches."""
    points = list(case.circuit.node)
    asked: list[tuple[Quantity, tuple[str, ...]]] = []
    for a, b in [(points[0], points[-1]), (points[len(points) // 2], points[-1])] if points else []:
        asked += [("volts", (a, b)), ("ohms", (a, b))]
    names = [*case.board.conductors][:2] + [*case.circuit.load][:2] + [*case.board.breakers][:1]
    asked += [("amps", (name,)) for name in names]
    for quantity, held in asked:
        try:
            yield reading(case, quantity, held)[0].text
        except (WrongArgument, PowerOn) as refused:
            yield str(refused)


COMMANDS: dict[str, Callable[[Case], Iterator[str]]] = {
    "check": checked,
    "energize": energize,
    "sequence": played,
    "measure": measured,
    "checklist": listed,
    "materials": bought,
    "draw": drawn,
    "ladder": laddered,
}
"""What the commands of these names work out of a board."""


def failures(text: str | bytes, library: Library) -> dict[str, Exception]:
    """The commands that an exception ends, each with it; `read` for the way to the board itself."""
    failed: dict[str, Exception] = {}
    try:
        case = case_of(text, library)
    except Exception as error:
        return {"read": error}
    for name, command in COMMANDS.items() if case else ():
        try:
            for said in command(case) if case else ():
                said.encode()
        except Exception as error:
            failed[name] = error
    return failed

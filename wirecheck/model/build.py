"""From what a file says to the board as built: names resolved, cables opened into conductors.

A name that cannot be resolved becomes a `Problem`, and the board goes on
without what hung on it, so that one slip of the pen hides nothing else.
"""

from __future__ import annotations

from wirecheck.language import syntax
from wirecheck.language.syntax import Problem, Span, Statement, Syntax, Word
from wirecheck.model.alterations import alterations
from wirecheck.model.board import Board
from wirecheck.model.bundles import bundles
from wirecheck.model.connectors import connectors
from wirecheck.model.devices import add_device
from wirecheck.model.draft import Draft, Parts
from wirecheck.model.expectations import known_expectations
from wirecheck.model.joins import make_up
from wirecheck.model.places import add_box, add_breaker, add_panel
from wirecheck.model.rooms import rooms
from wirecheck.model.runs import add_cable, add_raceway, add_wire
from wirecheck.model.senses import senses
from wirecheck.tables.code import EDITIONS, LATEST, NEAR, Code, edition

AMBIENT = 30.0
# What each statement allows to be inside devices: a machine has some hundred things, and dozens of lines.
ROOM_A_STATEMENT = 40


def _elsewhere(statement: syntax.Statement) -> tuple[str, Span, str | None]:
    """What to say of a statement that belongs in another kind of file."""
    advice: str | None = "Write it in a file of its own, so that the board stays whole."
    if isinstance(statement, syntax.ExerciseStatement):
        kind, advice = "an exercise", None
    elif isinstance(statement, syntax.FaultsStatement):
        kind = "a list of faults"
    elif isinstance(statement, syntax.FoundStatement):
        kind = "a report of what was found"
    else:
        kind = "the file of a part"
        advice = (
            "A thing that moves by itself, or a load, is a part: write it in a file of its own beside "
            "the board, and put it on the board with: NAME is PART."
        )
    return f"This belongs in {kind}, and this file describes a board.", statement.span, advice


def build(source: Syntax, library: Parts) -> Board:
    """The board that a file describes.

    Parameters
    ----------
    source : what the reader made of the file.
    library : where parts are looked up by name.

    Returns
    -------
    A `Board`; its `problems` hold those of the file and those of its names.
    """
    draft = Draft(library, list(source.problems), broken=set(source.broken))
    draft.room += ROOM_A_STATEMENT * len(source.statements)
    title, code, ambient = _heading(source.statements, draft)
    for statement in source.statements:
        if isinstance(statement, syntax.PanelStatement):
            add_panel(statement, draft)
        elif isinstance(statement, syntax.BoxStatement):
            add_box(statement, draft)
        elif isinstance(statement, syntax.DeviceStatement) and statement.place is None:
            draft.places.setdefault(statement.name.text, statement.name.span)
        elif not isinstance(statement, syntax.BoardStatement):
            draft.wrong("syntax", *_elsewhere(statement))
    for statement in source.statements:
        if isinstance(statement, syntax.BreakerStatement):
            add_breaker(statement, draft)
        elif isinstance(statement, syntax.DeviceStatement):
            add_device(statement, draft)
    _know_what_is_seen(source.statements, draft)
    _know_what_is_tied(source.statements, draft)
    for statement in source.statements:
        if isinstance(statement, syntax.RacewayStatement):
            add_raceway(statement, draft)
    for statement in source.statements:
        if isinstance(statement, syntax.CableStatement):
            add_cable(statement, draft)
        elif isinstance(statement, syntax.WireStatement):
            add_wire(statement, draft)
    draft.connectors |= connectors(source.statements, draft)
    made_up = make_up(source.statements, draft)
    expectations = tuple(known_expectations(source.statements, draft))
    inside = alterations(source.statements, draft)
    acting = senses(source.statements, draft)
    together = bundles(source.statements, draft)
    where = rooms(source.statements, draft)
    draft.problems.sort(key=lambda problem: problem.span)
    return Board(
        title=title.text if title else "",
        code=code,
        ambient=ambient,
        panels=draft.panels,
        breakers=draft.breakers,
        boxes=draft.boxes,
        runs=draft.runs,
        conductors=draft.conductors,
        raceways=draft.raceways,
        devices=draft.devices,
        terminals=draft.terminals,
        screws=draft.screws,
        joins=made_up.joins,
        capped=made_up.capped,
        expectations=expectations,
        problems=tuple(draft.problems),
        span=title.span if title else Span(1, 1, 1, 1),
        remarks=tuple(draft.remarks),
        own_parts=tuple(part for part in draft.parts.values() if part is not None and part.file is not None),
        length=len(source.text),
        rooms=where,
        bundles=together,
        altered=inside,
        sensed=acting,
        unread=made_up.unread,
    )


def _know_what_is_seen(statements: tuple[Statement, ...], draft: Draft) -> None:
    """What a line says can be seen must be a device of the board, or a box with what is in it."""
    for statement in statements:
        if isinstance(statement, syntax.BreakerStatement | syntax.DeviceStatement):
            for sight in statement.sights:
                there = {**draft.devices, **draft.boxes}
                if sight.of.text not in there and sight.of.text not in draft.broken:
                    draft.unknown(sight.of, "The equipment", list(there), later=True)


def _know_what_is_tied(statements: tuple[Statement, ...], draft: Draft) -> None:
    """A handle is tied to that of another breaker of the board."""
    for statement in statements:
        if not isinstance(statement, syntax.BreakerStatement) or statement.tied is None:
            continue
        name, tied = statement.name.text, statement.tied
        if tied.text == name:
            draft.wrong("syntax", f"{name} can't be tied to itself.", tied.span)
        elif tied.text not in draft.breakers and tied.text not in draft.broken:
            draft.unknown(
                tied, "The breaker", [other for other in draft.breakers if other != name], later=True
            )


def _heading(statements: tuple[Statement, ...], draft: Draft) -> tuple[Word | None, Code, float]:
    title, code, ambient = None, LATEST, AMBIENT
    for statement in statements:
        if isinstance(statement, syntax.BoardTitle):
            if title is None:
                title = statement.title
            else:
                draft.wrong("syntax", "A board has one title, and this is a second one.", statement.span)
        elif isinstance(statement, syntax.Code):
            code = _edition(statement, draft)
        elif isinstance(statement, syntax.Ambient):
            ambient = statement.temperature.value
    if title is None:
        draft.wrong("syntax", "The board has no title.", Span(1, 1, 1, 1), 'Begin with: board "What it is"')
    return title, code, ambient


def _edition(statement: syntax.Code, draft: Draft) -> Code:
    """The edition to judge by; one that is not held here is said to be another."""
    year = statement.edition.value
    code = edition(round(year))
    if statement.name.text == "nec" and year in EDITIONS:
        return code
    known = f"The limits known here are those of nec {code.year}"
    if statement.name.text == "nec" and year in NEAR:
        remark, remedy = (
            ", and the board is checked by them.",
            "Compare what is found with the edition that holds where you work.",
        )
        draft.remarks.append(Problem("syntax", f"{known}{remark}", statement.span, remedy))
    else:
        draft.wrong("syntax", f"{known}.", statement.span, f"Write: code nec {code.year}")
    return code

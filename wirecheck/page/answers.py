"""What the page is answered: the verdict, the picture and the state of a board, and what the meter shows.

Each answer is made by what makes it on the command line, and is plain data as JSON, so that it goes from
the process that works it out to the browser as it is.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any, NamedTuple

from wirecheck import inputs
from wirecheck.assembly import NotABoard, library_beside, read
from wirecheck.circuit.work import WorkEnds
from wirecheck.page.placing import things
from wirecheck.page.question import Question
from wirecheck.page.seen import Noted

if TYPE_CHECKING:
    from wirecheck.circuit.circuit import Variable
    from wirecheck.drawing.area import Area
    from wirecheck.judge.case import Case
    from wirecheck.judge.finding import Finding
    from wirecheck.model.board import Board
    from wirecheck.report.energized import Energized
    from wirecheck.report.report import Report

EFFORT = 400
"""How many changes of a board are tried to find the mistakes behind its findings, as by `wirecheck check`."""
TOO_MUCH = "The board takes more work than is spent on one: this was not worked out."
READ = "All of it can be read."
NOT_TOLD = "What it is worth, and why, is on the sheet that comes back when it is handed in."
NO_MORE_MENDS = "Not every change was tried that might put this right."


class Checked(NamedTuple):
    """What the page is answered, and for the instructor what was found; the title is the board's."""

    answer: str
    title: str = ""
    found: tuple[Noted, ...] = ()


def board_answer(path: str, asked: Question) -> str:
    """Everything that the page shows of a board: findings, picture, state, and what can be asked next.

    Parameters
    ----------
    path : where the board's file is, beside which its own parts may lie
    asked : what stands in the page; switches and calls that the text no longer has are left out
    """
    return checked_board(path, asked).answer


def checked_board(path: str, asked: Question) -> Checked:
    """The same, with what was found in it, whatever of that the page shows."""
    from dataclasses import replace

    from wirecheck.grading.scoring import UNREAD
    from wirecheck.judge.case import Case
    from wirecheck.model.build import build
    from wirecheck.report.checked import checked

    library = library_beside(path)
    try:
        syntax = read(asked.text, asked.file)
    except NotABoard as error:
        return Checked(json.dumps({"refused": f"This is no board yet: {error}."}))
    board = build(syntax, library)
    case = Case(board)
    report = checked(case, syntax, library, "final", EFFORT if asked.mends else 0)
    told: dict[str, Any] = {"title": board.title, **_choices(case)}
    told["things"] = things(syntax.statements, syntax.text)
    found = tuple(
        Noted(one.rule, one.subject, one.message) for one in report.findings if one.severity != "advice"
    )
    if of_exercise(path):
        report = replace(report, findings=tuple(one for one in report.findings if one.rule in UNREAD))
        rest = [] if report.findings else [NOT_TOLD]
        told |= {**_verdict(report, asked.mends), "rest": rest, "unsaid": []}
        told |= {} if report.findings else {"verdict": READ, "passes": False}
    else:
        told |= _verdict(report, asked.mends)
    state = None
    if asked.power or asked.moved:
        try:
            state = _state(case, asked)
            if asked.power:
                told["power"] = {**_power(state), "events": [*_left_out(board), *state.events()]}
        except WorkEnds:
            told["power"] = {"state": TOO_MUCH}
    told["picture"] = _picture(board, report.findings, asked, state)
    return Checked(json.dumps(told), board.title, found)


def of_exercise(path: str) -> bool:
    """Whether a file is an exercise: what is wrong with a work of it is told by the sheet."""
    try:
        return inputs.is_exercise(inputs.read_head(path))
    except OSError:
        return False


def mends_answer(path: str, asked: Question) -> str:
    """What `board_answer` says, with the changes that put it right, each with the board's text after it."""
    return board_answer(path, asked._replace(mends=True))


def meter_answer(path: str, asked: Question) -> str:
    """What the meter shows on a board, in the words of `wirecheck measure`."""
    from wirecheck import arguments
    from wirecheck.assembly import assemble
    from wirecheck.circuit.meter import PowerOn
    from wirecheck.judge.case import Case
    from wirecheck.report.readings import sentences

    try:
        case = Case(assemble(asked.text, asked.file, library_beside(path))[1])
        moved, calls = as_far_as_there(case, asked)
        power: arguments.Power = "on" if asked.power else "off"
        reading, settled = arguments.reading(
            case, asked.quantity or "volts", asked.points, moved, calls, power
        )
    except NotABoard as error:
        return json.dumps({"refused": f"This is no board yet: {error}."})
    except arguments.WrongArgument as error:
        return json.dumps({"refused": str(error)})
    except PowerOn as error:
        return json.dumps({"danger": str(error)})
    except WorkEnds:
        return json.dumps({"refused": TOO_MUCH})
    says = [*sentences(reading, asked.points, settled), *_left_out(case.board)]
    return json.dumps({"display": reading.text, "says": says})


def ready() -> None:
    """Load what every answer needs, once for all processes that come of this one."""
    shed = 'board "Shed"\npanel LP 120 V\nbreaker LP.1 15 A'
    board_answer("shed.wire", Question("shed.wire", shed, power=True))


def _verdict(report: Report, mends: bool) -> dict[str, Any]:
    """What was found, and what could not be judged."""
    from dataclasses import replace

    from wirecheck.report.report import counts
    from wirecheck.report.verdict import clean, not_judged, own_parts, tally
    from wirecheck.rules import manuals

    known = dict(manuals()) if report.findings else {}
    # What the command line says of its own option has no place here.
    rest = [
        not_judged(replace(report, ended=False)),
        NO_MORE_MENDS if report.ended else "",
        own_parts(report),
    ]
    return {
        "verdict": f"{tally(counts([report]))}." if report.findings else clean(report),
        "passes": report.passes,
        "mends": mends,
        "findings": [
            _finding(one, known[one.rule].why if one.rule in known else "", report.text)
            for one in report.findings
        ],
        "rest": [words for words in rest if words],
        # What a line more would have judged: what it says, and the first thing that it can say it of.
        "unsaid": [
            {"what": what, "name": names[0]}
            for what, names in (("goal", report.unjudged), ("room", report.unplaced))
            if names
        ],
    }


def _finding(finding: Finding, why: str, text: str) -> dict[str, Any]:
    """A finding in the words of the report, with the board's text after each of its mends."""
    from wirecheck.language.rewriting import rewritten
    from wirecheck.report.measured import measured
    from wirecheck.report.mended import cause, follows, remedies

    return {
        "severity": finding.severity,
        "rule": finding.rule,
        "subject": finding.subject,
        "line": finding.to_change.line,
        "says": [words for words in (cause(finding), finding.message, measured(finding)) if words],
        "todo": list(remedies(finding)),
        "mended": [rewritten(text, mend.edits) for mend in finding.mends],
        "why": why,
        "source": finding.source or "",
        "follows": list(follows(finding)),
        "also": [{"line": note.span.line, "says": note.message} for note in finding.also],
    }


def _choices(case: Case) -> dict[str, Any]:
    """What can be moved, called and measured on the board, and which line made which part of the picture."""
    from wirecheck.judge.unjudged import purposes
    from wirecheck.page.deeds import places_of, screws_in, wires_in
    from wirecheck.page.places import marked, places

    circuit = case.circuit
    alone = {move.variable for move in circuit.moves}
    return {
        "lines": places(case.board),
        "marked": marked(case.board),
        "controls": [
            _control(variable, variable.name in alone)
            for variable in circuit.variables.values()
            if variable.moved_by != "state"
        ],
        "calls": list(case.calls),
        "purposes": [one._asdict() for one in purposes(case)],
        "points": list(circuit.point),
        "hands": {
            place: {"wires": wires_in(case.board, place), "screws": screws_in(case.board, place)}
            for place in places_of(case.board)
        },
        "carriers": [*case.board.conductors, *circuit.load, *case.board.breakers],
    }


def _control(variable: Variable, alone: bool) -> dict[str, Any]:
    """What can be moved; `alone` is whether its machine moves it by itself where nobody holds it."""
    kinds = {"hand": "switch", "overcurrent": "protection"}
    return {
        "name": variable.name,
        "device": variable.device,
        "values": list(variable.values),
        "alone": alone,
        "kind": "safety" if variable.safety else kinds.get(variable.moved_by, variable.moved_by),
    }


def as_far_as_there(case: Case, asked: Question) -> tuple[dict[str, str], tuple[str, ...]]:
    """What is moved and called, without what the text no longer has: it is typed while the power is on."""
    variables = case.circuit.variables
    moved = {
        name: value
        for name, value in asked.moved.items()
        if name in variables and value in variables[name].values
    }
    return moved, tuple(call for call in asked.calls if call in case.calls)


def _left_out(board: Board) -> list[str]:
    """That not all of the text could be read, so that a state or a reading is of what could."""
    from wirecheck.assembly import left_out

    words = left_out(board, "the text")
    return [words[0].upper() + words[1:]] if words else []


def _state(case: Case, asked: Question) -> Energized:
    """The board as it stands: with the power off, every breaker is, and no call does anything."""
    from wirecheck.report.energized import energized

    moved, calls = as_far_as_there(case, asked)
    if not asked.power:
        return energized(case, {**moved, **dict.fromkeys(case.board.breakers, "off")})
    return energized(case, moved, calls)


def _power(state: Energized) -> dict[str, Any]:
    """What runs and what is live, in the words of `wirecheck energize`."""
    from wirecheck.language.quantity import amps, volts

    return {
        "state": state.state,
        "loads": [[name, one.does, volts(one.volts), amps(one.amps)] for name, one in state.loads.items()],
        "outlets": [[name, volts(present)] for name, present in state.outlets.items()],
        "live": list(state.live),
        "positions": dict(state.positions),
    }


def _picture(
    board: Board, findings: tuple[Finding, ...], asked: Question, state: Energized | None
) -> dict[str, Any]:
    """The picture, with the findings as flags, in the state that is asked for."""
    from wirecheck.drawing.picture import sheet
    from wirecheck.drawing.render import to_svg
    from wirecheck.drawing.sheet import dot_source

    settled = state.settled if state else None
    fit = area_of(asked)
    drawn = sheet(board, findings, "wiring", asked.colors, None, settled, listed=False, fit=fit)
    return sized(to_svg(dot_source(drawn)))


def area_of(asked: Question) -> Area:
    """The room that the page has for a picture."""
    from wirecheck.drawing.area import LEAST_ON_SCREEN, Area
    from wirecheck.drawing.letters import SMALLEST

    return Area(asked.width, asked.height, LEAST_ON_SCREEN / SMALLEST, scrolls=True)


def sized(svg: str) -> dict[str, Any]:
    """A picture with its own width, and the least at which its words are read, in points."""
    from wirecheck.drawing.area import LEAST_ON_SCREEN
    from wirecheck.drawing.letters import SMALLEST
    from wirecheck.drawing.page import size

    width, _ = size(svg)
    return {"svg": svg, "width": width, "least": width * min(1.0, LEAST_ON_SCREEN / SMALLEST)}

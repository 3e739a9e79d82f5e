"""What a text is tried on: each target does what a command does, and says by an exception what is wrong.

Nothing of wirecheck is imported before a target runs, since the fuzzer imports it in its own way.
"""

from __future__ import annotations

import json
import warnings
from collections.abc import Callable, Iterator
from functools import cache
from typing import TYPE_CHECKING, Any, NamedTuple
from zlib import crc32

if TYPE_CHECKING:
    from wirecheck.grading.exercise import Exercise
    from wirecheck.judge.case import Case
    from wirecheck.parts.library import Library

MOST_CALLS = 2
"""How many calls of a board are played."""


def reader(data: bytes) -> None:
    """The statements and the mistakes, each of them in the text."""
    from wirecheck.language.reader import read

    syntax = read(data)
    rows = syntax.text.count("\n") + 1
    for each in (*syntax.statements, *syntax.problems):
        span = each.span
        assert 1 <= span.line <= span.end_line <= rows, span
        assert span.column >= 1 and (span.line < span.end_line or span.column <= span.end_column), span


def tidy(data: bytes) -> None:
    """Tidied twice it is as tidied once, and says what it said before."""
    from wirecheck.language.reader import read
    from wirecheck.language.tidy import meaning, tidy

    text = data.decode("utf-8", "replace")
    tidied = tidy(text)
    assert tidy(tidied) == tidied, "tidying once more changed it"
    before, after = read(text), read(tidied)
    assert [*map(meaning, before.statements)] == [*map(meaning, after.statements)], "its meaning changed"
    assert len(before.problems) == len(after.problems), "its mistakes changed"
    assert before.text.count("#") == after.text.count("#"), "a comment was lost"


def check(data: bytes) -> None:
    """The findings of a board at some stage, in every format."""
    import wirecheck
    from wirecheck.judge.finding import STAGES

    report = wirecheck.check(data, file="fuzzed.wire", library=_shipped(), stage=STAGES[crc32(data) % 4 % 3])
    _rendered(report, crc32(data))


def draw(data: bytes) -> None:
    """Both pictures, with flags; few are laid out, since that takes much longer than all the rest."""
    from wirecheck.drawing.picture import KINDS, sheet
    from wirecheck.drawing.render import to_pdf, to_png, to_svg
    from wirecheck.drawing.sheet import dot_source
    from wirecheck.findings import findings
    from wirecheck.judge.case import Case

    case = Case(_board(data, _shipped()))
    dice = crc32(data)
    found = findings(case) if dice % 4 == 0 else ()
    state = case.standing({}, case.calls[:1]) if dice % 4 == 1 else None
    page = (None, "letter", "a4")[dice % 3]
    for kind in KINDS:
        source = dot_source(sheet(case.board, found, kind, ("paper", "dark")[dice % 2], page, state))
        if dice // 8 % 32 == 0:
            picture = to_svg(source, page)
            if dice // 256 % 4 == 0:
                to_png(picture, 0.2)
                to_pdf(picture)


def energize(data: bytes) -> None:
    """What is live in every position, and in one with a control moved."""
    from wirecheck.report import energized, position_table

    for case in _case(data):
        position_table.render(case)
        _written(energized.as_data(case, energized.every_state(case)))
        one = energized.energized(case, _moved(case, crc32(data)), case.calls[:1], crc32(data) % 2 == 0)
        one.render()
        _written(one.as_data())
        one._repr_html_()


def sequence(data: bytes) -> None:
    """The calls played out, in words, as data, and as a chart."""
    from wirecheck.circuit.call import play_call
    from wirecheck.drawing.sheet import dot_source
    from wirecheck.drawing.timing import timing_sheet
    from wirecheck.report import sequence

    for case in _case(data):
        dice = crc32(data)
        for call in case.calls[:MOST_CALLS]:
            held = _moved(case, dice) if dice % 2 else {}
            played = play_call(case.circuit, (call,), held, (None, 0.5, 600.0)[dice % 3])
            sequence.text(case, played)
            _written(sequence.as_data(case, played))
            dot_source(timing_sheet(played, case.board.title))


def measure(data: bytes) -> None:
    """Volts, ohms and amps between points that are drawn by lot."""
    from wirecheck import PowerOn, WrongArgument
    from wirecheck.arguments import reading
    from wirecheck.report.readings import said

    for case in _case(data):
        dice = crc32(data)
        board = case.board
        points = [end for each in board.conductors.values() for end in each.ends]
        points += [
            f"{device.name}.{each}" for device in board.devices.values() for each in device.part.terminals
        ]
        names = [*board.conductors, *board.breakers, *board.devices]
        lifted = points[dice % 97 % len(points)] if points and dice % 3 == 0 else None
        for turn in range(4):
            if not points or not names:
                break
            a, b = (points[dice // 7**place % len(points)] for place in (turn, turn + 4))
            power = ("on", "off", None)[(dice + turn) % 3]
            asked: Iterator[tuple[Any, tuple[str, ...]]] = iter(
                (("volts", (a, b)), ("ohms", (a, b)), ("amps", (names[dice // 5**turn % len(names)],)))
            )
            for quantity, where in asked:
                try:
                    shown, settled = reading(
                        case, quantity, where, _moved(case, dice), (), power, (lifted,) if lifted else ()
                    )
                except (WrongArgument, PowerOn):
                    continue
                said(shown, where, settled)


def checklist(data: bytes) -> None:
    """The list to take to the board, as text and as a page."""
    from wirecheck.judge.finding import STAGES
    from wirecheck.report import checklist, checklist_html

    for case in _case(data):
        sections = checklist.checklist(case, STAGES[crc32(data) % 3])
        checklist.render(case.board.title, sections)
        checklist_html.render(case.board.title, "fuzzed.wire", sections)


def listed(data: bytes) -> None:
    """The list of materials, in every form."""
    from wirecheck.report import labels, materials, materials_html
    from wirecheck.report.spreadsheet import cells

    for case in _case(data):
        items = materials.materials(case.board)
        listing = materials.Listing((case.board.title,), 12, materials.added(items, 12), (), 10)
        materials.render(listing)
        materials_html.render(listing)
        cells(materials.rows(listing.items, 10))
        labels.page(labels.labels(case.board))


def grade(data: bytes) -> None:
    """The text as a student's work, and as an exercise with the file that a student begins with."""
    from wirecheck.grading import exercise, pages, plain, scoring, starting, words
    from wirecheck.grading.judging import Judging

    given = _stair()
    judging = Judging(_shipped(), None, 0, None, {}, {})
    sheet = scoring.graded(given, data, "fuzzed.wire", "Ana", judging).sheet
    for stage in sheet.stages:
        taken = sum(one.points for one in sheet.taken if one.stage == stage.stage)
        assert sheet.refused or stage.score + taken == stage.points, "the points do not add up"
    assert plain.sheet_of_json(plain.as_json(sheet)) == sheet, "the record has another sheet"
    pages.student_page(sheet)
    words.sheet_text(sheet)
    try:
        other = exercise.exercise(data.replace(b"board", b"exercise", 1), "fuzzed.wire", _shipped())
    except exercise.NotAnExercise:
        return
    begun = starting.starting(other, _shipped())
    assert scoring.graded(other, begun, "begun.wire", "Ana", judging).sheet.refused, "nothing has points"


def troubles(data: bytes) -> None:
    """The text as a board with a fault, as a list of faults, as a report, and as what is asked at a bench."""
    from wirecheck.arguments import WrongArgument
    from wirecheck.circuit.circuit import circuit
    from wirecheck.faults.listed import fault, faults
    from wirecheck.faults.suspects import suspects
    from wirecheck.faults.words import said
    from wirecheck.language.asking import NotUnderstood, asked
    from wirecheck.report import dangers
    from wirecheck.report.bench import answered
    from wirecheck.troubles.bench import Bench
    from wirecheck.troubles.found import found

    stair = next(_case(_stair_board()))
    faults(data, stair.circuit)
    found(data, stair)
    bench = Bench(stair)
    for line in data.decode("utf-8", "replace").splitlines()[:20]:
        try:
            one = asked(line)
            told = bench.do(one) if one is not None and one.verb not in ("diagnose", "help", "stop") else None
        except (NotUnderstood, WrongArgument):
            continue
        if told is not None:
            answered(told)
            _written(told.as_data())
    board, dice = _board(data, _shipped()), crc32(data)
    good = circuit(board)
    every = suspects(good)
    if every:
        one_of_them = every[dice % len(every)].fault
        assert fault(said(one_of_them, good), good) == one_of_them, "what is said is not understood"
        from wirecheck.troubles.trials import Tried, trials

        bad = Tried(board, (one_of_them,))
        for state in trials(bad.case)[:2]:
            bad.seen(state)
            dangers.told(bad.case, [state])


def part(data: bytes) -> None:
    """The text as a part: its page, and a board that has two of it, wired and idle."""
    import wirecheck
    from wirecheck import files, inputs
    from wirecheck.assembly import assemble
    from wirecheck.judge.case import Case
    from wirecheck.parts.library import Library
    from wirecheck.report import catalog, position_table

    name = inputs.part_name(data) or "fuzzed"
    text = data.decode("utf-8", "replace")
    library = Library(lambda asked: text if asked == name else files.part_text(asked), lambda: [name])
    made = library.part(name)
    if made is None:
        return
    inside = {child.part: found for child in made.children if (found := library.part(child.part))}
    catalog.page(made, inside)
    catalog.listing([made])
    wired = _wired(name, list(made.terminals)[:24])
    _rendered(wirecheck.check(wired, library=library), crc32(data))
    case = Case(assemble(wired, "-", library)[1])
    position_table.render(case)
    for call in case.calls[:MOST_CALLS]:
        case.standing({}, (call,))


def _wired(name: str, terminals: list[str]) -> str:
    """A board with two of a part, and a wire from each terminal of the first to hot, neutral and so on."""
    lines = [
        'board "Fuzzed"',
        "panel LP 120/240 V, 10 kA available",
        "breaker LP.1 15 A",
        "breaker LP.2 15 A",
    ]
    lines += ["box A device 40 cu in", f"D1 is {name} in A", f"D2 is {name} in A"]
    lines += [f"wire W{number} 12 THHN black 9 ft from LP to A" for number, _ in enumerate(terminals)]
    feeds = ("LP.1", "LP.neutral", "LP.ground", "LP.2")
    lines.append("at LP")
    lines += [f"  W{number} -- {feeds[number % len(feeds)]}" for number, _ in enumerate(terminals)]
    lines.append("at A")
    lines += [f"  W{number} -- D1.{terminal}" for number, terminal in enumerate(terminals)]
    return "\n".join([*lines, ""])


class Target(NamedTuple):
    """What a text is tried on, which rooms of the house that is, and the longest text that is tried.

    `parts` is whether the text is a part file.
    """

    run: Callable[[bytes], None]
    rooms: tuple[str, ...]
    longest: int
    parts: bool = False


READING = ("language", "files", "inputs")
JUDGING = (*READING, "parts", "tables", "model", "circuit", "judge", "rules", "causes", "findings")
JUDGING += ("arguments", "assembly", "report")

TARGETS = {
    "reader": Target(reader, READING, 160),
    "tidy": Target(tidy, READING, 200),
    "check": Target(check, JUDGING, 800),
    "draw": Target(draw, (*JUDGING, "drawing"), 1000),
    "energize": Target(energize, JUDGING, 1200),
    "sequence": Target(sequence, (*JUDGING, "drawing"), 1600),
    "measure": Target(measure, JUDGING, 1200),
    "checklist": Target(checklist, JUDGING, 1200),
    "materials": Target(listed, JUDGING, 1200),
    "grade": Target(grade, (*JUDGING, "grading"), 1600),
    "troubles": Target(troubles, (*JUDGING, "faults", "troubles"), 1200),
    "part": Target(part, JUDGING, 1600, parts=True),
}


@cache
def _stair() -> Exercise:
    from wirecheck import files
    from wirecheck.grading.exercise import exercise

    text = (files.folder("boards") / "exercises" / "stair-light" / "exercise.wire").read_bytes()
    return exercise(text, "exercise.wire", _shipped())


@cache
def _stair_board() -> bytes:
    from wirecheck import files

    return (files.folder("boards") / "stair-light" / "right.wire").read_bytes()


@cache
def _shipped() -> Library:
    from wirecheck.assembly import shipped_parts

    return shipped_parts()


def _board(data: bytes, library: Library) -> Any:
    from wirecheck.assembly import assemble

    return assemble(data, "fuzzed.wire", library)[1]


def _case(data: bytes) -> Iterator[Case]:
    """The case of a board; none for a text that is none."""
    from wirecheck.judge.case import Case

    yield Case(_board(data, _shipped()))


def _moved(case: Case, dice: int) -> dict[str, str]:
    """One control of a board in some position."""
    variables = case.circuit.variables
    if not variables:
        return {}
    name = sorted(variables)[dice % len(variables)]
    values = variables[name].values
    return {name: values[dice // 7 % len(values)]}


def _rendered(report: Any, dice: int) -> None:
    """The report as text, and in one of the other formats by lot: all of them take as long as a check."""
    from wirecheck.report.formats import FORMATS, render
    from wirecheck.report.html import fragment

    form = FORMATS[dice // 16 % len(FORMATS)]
    for each in {"text", form}:
        said = render(each, [report], _manuals())
        said.encode()
        if each in ("json", "sarif"):
            json.loads(said)
    if dice // 128 % 4 == 0:
        fragment(report)


@cache
def _manuals() -> Any:
    from wirecheck.rules import manuals

    return manuals()


def _written(data: object) -> None:
    json.dumps(data, allow_nan=False)


def attempt(target: Target, data: bytes) -> None:
    """Try a text on a target; an exception that is declared is no trouble.

    Raises
    ------
    Exception
        Whatever the target raises that is not declared.
    """
    from wirecheck.arguments import WrongArgument
    from wirecheck.assembly import NotABoard

    try:
        target.run(data)
    except (NotABoard, WrongArgument):
        return


def strict() -> None:
    """Make every warning an exception."""
    warnings.simplefilter("error")

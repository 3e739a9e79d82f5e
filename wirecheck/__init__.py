"""wirecheck: a wiring board written as text, checked, energized, measured and drawn.

`check` below is the whole way of a board, from text to report:

>>> report = check('board "Nothing on it yet"')
>>> report.board, report.passes
('Nothing on it yet', True)

Every function takes a board's text, or the path of its file as a `pathlib.Path`; parts of one's own
that lie beside that file are found by their files' names. What is asked for and is not there raises
`WrongArgument`.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from importlib import import_module
from typing import TYPE_CHECKING, Any

from wirecheck.caution import CAUTION
from wirecheck.version import __version__

if TYPE_CHECKING:
    from wirecheck.arguments import Power, Quantity, WrongArgument
    from wirecheck.assembly import NotABoard, PartlyRead, assemble, parts_of, shipped_parts
    from wirecheck.circuit.meter import PowerOn, Reading
    from wirecheck.grading.exercise import NotAnExercise
    from wirecheck.grading.sheet import Sheet
    from wirecheck.judge.case import Case
    from wirecheck.judge.finding import Finding, Stage
    from wirecheck.parts.library import Library
    from wirecheck.picture import Colors, Kind, Paper, Picture
    from wirecheck.report.energized import Energized
    from wirecheck.report.report import Report

__all__ = [
    "CAUTION",
    "Energized",
    "Finding",
    "NotABoard",
    "NotAnExercise",
    "PartlyRead",
    "Picture",
    "PowerOn",
    "Reading",
    "Report",
    "Sheet",
    "WrongArgument",
    "__version__",
    "assemble",
    "check",
    "check_file",
    "draw",
    "energize",
    "grade",
    "measure",
    "parts_of",
    "shipped_parts",
]

# Where each name lives that is not on this page. It is loaded when it is first asked for, here and in
# the functions below, so that `import wirecheck` and every command stay quick.
_ELSEWHERE = {
    "Energized": "wirecheck.report.energized",
    "Finding": "wirecheck.judge.finding",
    "NotABoard": "wirecheck.assembly",
    "NotAnExercise": "wirecheck.grading.exercise",
    "PartlyRead": "wirecheck.assembly",
    "Picture": "wirecheck.picture",
    "PowerOn": "wirecheck.circuit.meter",
    "Reading": "wirecheck.circuit.meter",
    "Report": "wirecheck.report.report",
    "Sheet": "wirecheck.grading.sheet",
    "WrongArgument": "wirecheck.arguments",
    "assemble": "wirecheck.assembly",
    "parts_of": "wirecheck.assembly",
    "shipped_parts": "wirecheck.assembly",
}


if not TYPE_CHECKING:  # To a reader of types, a name that is not above is a mistake.

    def __getattr__(name: str) -> Any:
        if name not in _ELSEWHERE:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        return getattr(import_module(_ELSEWHERE[name]), name)


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})


def check(
    board: str | bytes | os.PathLike[str],
    *,
    stage: Stage = "final",
    file: str | None = None,
    library: Library | None = None,
    effort: int = 0,
) -> Report:
    """Everything that is wrong with a board, as far as it is built.

    Parameters
    ----------
    board : its text, in the language of grammar/board.lark (bytes are taken as UTF-8), or its path
    stage : `rough-in`, `trim` or `final`: what belongs to a later one is not asked of it
    file : its name in the report, where it is not that of its file
    library : where parts are looked up before those beside the file, as `parts_of` makes it; the parts
        that ship, if None
    effort : how many changes of the board are tried to find the mistakes behind the findings, each by a
        check of its own: 400 do for most boards; none where it is 0

    Returns
    -------
    The findings in order of place, with counts, by severity and by rule; and what could not be judged.

    Raises
    ------
    NotABoard
        The text is of another kind.
    WrongArgument
        There is no such stage, or the text is a path.
    OSError
        The file cannot be read.

    Examples
    --------
    >>> report = check('board "Shed"\\npanel LP 120 V\\nS1 is single-pole-swich')
    >>> [(finding.line, finding.rule) for finding in report.findings]
    [(3, 'unknown-part')]
    """
    from wirecheck.arguments import one_of
    from wirecheck.assembly import read, source
    from wirecheck.judge.case import Case
    from wirecheck.judge.finding import STAGES
    from wirecheck.model.build import build
    from wirecheck.report.checked import checked

    one_of(stage, STAGES, "stage")
    text, name, parts = source(board, file, library)

    syntax = read(text, name)  # what the text says, line by line
    built = build(syntax, parts)  # the board that it describes
    case = Case(built)  # its circuit, in every state that it can be in
    # what the rules see of it, the mistakes behind that, and what could not be judged
    return checked(case, syntax, parts, stage, effort)


def check_file(
    path: str | os.PathLike[str],
    *,
    stage: Stage = "final",
    library: Library | None = None,
    effort: int = 0,
) -> Report:
    """Everything that is wrong with the board in a file; the arguments are those of `check`.

    Raises
    ------
    NotABoard
        The file holds something else.
    WrongArgument
        There is no such stage, or the path is a board's text.
    OSError
        The file cannot be read.
    """
    from wirecheck.assembly import path_of

    return check(path_of(path), stage=stage, library=library, effort=effort)


def energize(
    board: str | bytes | os.PathLike[str],
    *,
    moved: Mapping[str, str] | None = None,
    calls: Iterable[str] = (),
    starting: bool = False,
    faults: Iterable[str] = (),
    library: Library | None = None,
) -> Energized:
    """What is live and what runs on a board, when its controls have had their time.

    Parameters
    ----------
    board : its text or its path, as in `check`
    moved : positions of switches, safeties, breakers (`on`, `off`) and fuses (`in`, `out`) by name
    calls : the calls that are made, as `["cool"]`
    starting : the moment at which the motors start, and draw locked-rotor current
    faults : what is wrong on it, each as a line of a list of faults says it: `["F.fuse blown"]`
    library : as in `check`

    Raises
    ------
    NotABoard
        The text is of another kind.
    WrongArgument
        The board lacks one of that name, or it has no such position, or nothing makes that call.
    OSError
        The file cannot be read.

    Warns
    -----
    PartlyRead
        A part of the text could not be read, and is left out.

    Examples
    --------
    >>> shed = '''board "Shed"
    ... panel LP 120 V
    ... breaker LP.1 15 A
    ... L1 is lampholder 60 W
    ... wire W1 14 THHN black 9 ft from LP to L1
    ... wire W2 14 THHN white 9 ft from LP to L1
    ... at LP
    ...   W1 -- LP.1
    ...   W2 -- LP.neutral
    ... at L1
    ...   W1 -- L1.hot
    ...   W2 -- L1.neutral
    ... '''
    >>> lit = energize(shed)
    >>> lit.running, round(lit.loads["L1"].amps, 2), lit.live
    (('L1',), 0.5, ('W1',))
    >>> energize(shed, moved={"LP.1": "off"}).live
    ()
    >>> dark = energize(shed, faults=["L1 burnt out"])
    >>> dark.running, dark.live
    ((), ('W1',))
    """
    from wirecheck.arguments import named_faults, with_faults
    from wirecheck.report.energized import energized

    case = _whole(_case(board, library))
    return energized(with_faults(case, named_faults(case, faults)), moved, calls, starting)


def measure(
    board: str | bytes | os.PathLike[str],
    quantity: Quantity,
    *points: str,
    moved: Mapping[str, str] | None = None,
    calls: Iterable[str] = (),
    power: Power | None = None,
    lifted: Iterable[str] = (),
    after: float | None = None,
    faults: Iterable[str] = (),
    library: Library | None = None,
) -> Reading:
    """What a meter shows on a board.

    Parameters
    ----------
    board : its text or its path, as in `check`
    quantity : `volts` or `ohms` between two points; `amps` in one conductor, load or breaker
    points : a screw, as `S1.common`, or a wire's end in its place, as `W1.black@A`; for amps one name
    moved, calls : as in `energize`
    power : `on` or `off`; off for ohms where nothing is said, else on
    lifted : wires' ends that are off their screws while it is measured, as `W1.white@A`
    after : seconds from the last call being made; without it, when the controls have had their time
    faults : as in `energize`
    library : as in `check`

    Returns
    -------
    The value in SI with its unit, and the text of the display: `OL` for open, `floating` between points
    that nothing joins, `typical` for the least and the most of a coil or a winding.

    Raises
    ------
    NotABoard
        The text is of another kind.
    WrongArgument
        The board lacks what is named.
    PowerOn
        Ohms are asked of a live circuit.
    OSError
        The file cannot be read.

    Warns
    -----
    PartlyRead
        A part of the text could not be read, and is left out.

    Examples
    --------
    >>> panel = 'board "Panel"\\npanel LP 120/240 V\\nbreaker LP.1 15 A'
    >>> measure(panel, "volts", "LP.1", "LP.neutral").text
    '120 V'
    >>> measure(panel, "ohms", "LP.1", "LP.neutral").text
    'OL'
    """
    from wirecheck.arguments import named_faults, reading, with_faults

    case = _whole(_case(board, library))
    case = with_faults(case, named_faults(case, faults))
    return reading(case, quantity, points, moved, calls, power, lifted, after)[0]


def draw(
    board: str | bytes | os.PathLike[str],
    *,
    kind: Kind = "wiring",
    colors: Colors = "paper",
    page: Paper | None = None,
    moved: Mapping[str, str] | None = None,
    calls: Iterable[str] = (),
    flags: bool = True,
    inside: str | None = None,
    library: Library | None = None,
    effort: int = 0,
) -> Picture:
    """A board's picture, with its findings as numbered flags.

    Parameters
    ----------
    board : its text or its path, as in `check`
    kind : `wiring`, where things are; `ladder`, how it works (it has no flags)
    colors : `paper`, or `dark` for a dark page
    page : `letter` or `a4` to lay it out for paper, on sheets that join where it must; else its own size
    moved, calls : as in `energize`; where there are any, the picture shows that state
    flags : whether the findings are on it
    inside : a device of the board; then the picture is what is inside it, wired (it has no flags)
    library : as in `check`
    effort : as in `check`; where a mistake is found, its flag is on what the hand would change, and small
        ones are on what suffers from it

    Raises
    ------
    NotABoard
        The text is of another kind.
    WrongArgument
        There is no such kind, colors or page, or the board lacks what is named.
    OSError
        The file cannot be read.

    Examples
    --------
    >>> picture = draw('board "One box"\\nbox A device 18 cu in')
    >>> 'id="room-A"' in picture.svg
    True
    """
    from wirecheck.arguments import state
    from wirecheck.assembly import assemble, source
    from wirecheck.drawing.picture import sheet
    from wirecheck.findings import findings
    from wirecheck.judge.case import Case
    from wirecheck.mend.explained import explained
    from wirecheck.picture import Picture

    given = source(board, None, library)
    syntax, built = assemble(*given)
    case = Case(built)
    shown = state(case, moved, calls)
    found = findings(case) if flags and kind == "wiring" and inside is None else ()
    found = explained(found, case, syntax, given[2], "final", effort).findings
    return Picture(sheet(built, found, kind, colors, page, shown, inside=inside), page)


def grade(
    exercise: str | bytes | os.PathLike[str],
    work: str | bytes | os.PathLike[str],
    *,
    student: str = "",
    stage: Stage | None = None,
    library: Library | None = None,
    effort: int = 400,
) -> Sheet:
    """What a student's work is worth by an exercise, and why.

    Parameters
    ----------
    exercise : its text or its path; parts beside its file are found by their files' names
    work : its text or its path; parts beside it have no say
    student : whose it is, where the work does not say it
    stage : the stage up to which the board is built, which alone is graded; all of them where it is None
    library : as in `check`, before the parts beside the exercise
    effort : as in `check`; with none, each finding costs by itself and not each mistake

    Returns
    -------
    The points of each stage, and every mistake with what it takes; a work that cannot be graded has none,
    and the reason in `refused`.

    Raises
    ------
    NotAnExercise
        The exercise is none, or has mistakes.
    WrongArgument
        There is no such stage, or a text is a path.
    OSError
        A file cannot be read.

    Examples
    --------
    >>> shed = '''exercise "Shed"
    ... stage final 40 points
    ... panel LP 120 V
    ... breaker LP.1 15 A
    ... S1 is single-pole-switch
    ... cable W1 14/2 NM-B 9 ft from LP to S1'''
    >>> sheet = grade(shed, 'board "Shed"\\nat LP\\n  W1.black -- LP.1', student="Ana")
    >>> sheet.score, sheet.points, sheet.taken[0].rule
    (0.0, 40.0, 'open-ground')
    """
    from wirecheck.arguments import one_of
    from wirecheck.assembly import source
    from wirecheck.grading import scoring
    from wirecheck.grading.exercise import exercise as read_exercise
    from wirecheck.grading.judging import Judging
    from wirecheck.judge.finding import STAGES

    if stage is not None:
        one_of(stage, STAGES, "stage")
    given, name, parts = source(exercise, None, library)
    text, file, _ = source(work, None, library)
    judging = Judging(parts, stage, effort, None, {}, {})
    return scoring.graded(read_exercise(given, name, parts), text, file, student, judging).sheet


def _case(board: str | bytes | os.PathLike[str], library: Library | None) -> Case:
    from wirecheck.assembly import assemble, source
    from wirecheck.judge.case import Case

    return Case(assemble(*source(board, None, library))[1])


def _whole(case: Case) -> Case:
    """The same case, after a warning where a part of its board is left out."""
    import warnings

    from wirecheck.assembly import PartlyRead, left_out

    missing = left_out(case.board, "the board")
    if missing:
        warnings.warn(missing, PartlyRead, stacklevel=3)
    return case

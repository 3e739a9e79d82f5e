"""From a work to its sheet: the mistakes priced, and the points taken."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from wirecheck.assembly import NotABoard, need_board
from wirecheck.grading.board_drawn import NOT_DRAWN, Drawn
from wirecheck.grading.exercise import CHANGE, Asked, Exercise, StageWorth
from wirecheck.grading.handed_out import Altered, Work, prepared
from wirecheck.grading.judging import Judging, Verdict
from wirecheck.grading.sheet import Sheet, StageScore, Taken, Trace
from wirecheck.grading.tracing import traced
from wirecheck.judge.finding import SEVERITIES, STAGES, Finding, Severity, Stage
from wirecheck.language import reader
from wirecheck.language.listing import first_sentence, listed
from wirecheck.language.syntax import Syntax, Word
from wirecheck.report.mended import cause, remedies

MOST_NAMED = 12
MOST_ADVICE = 5
UNREAD = frozenset(("syntax", "unknown-name", "unknown-part"))
"""The rules about what cannot be read: slips of the pen."""
OPEN = "open-splice"
"""The rule about splices of the rough-in."""
NOT_JOINED = "Nothing is joined in it yet."
_SPACES = re.compile(r"\s+")


class Graded(NamedTuple):
    """A work's sheet, and the picture of the board as it was judged, where one was asked for."""

    sheet: Sheet
    picture: Drawn = NOT_DRAWN


class Ready(NamedTuple):
    """A work that is ready to be judged, or the reason why it cannot be.

    Attributes
    ----------
    file, student : the work, and whose it is
    work : what is judged, and what she did to what was handed out
    trace : what near copies are known by
    refused : why there is nothing to judge; nothing where there is
    """

    file: str
    student: str
    work: Work
    trace: Trace
    refused: str


def ready(exercise: Exercise, text: str | bytes, file: str, student: str, judging: Judging) -> Ready:
    """A work made ready to be judged by an exercise.

    Parameters
    ----------
    text : the work
    file, student : its name, and whose it is where it does not say it itself
    """
    source = reader.read(text, file)
    work = prepared(source, exercise)
    refused = _refused(source, work, exercise)
    if refused:
        # What is not judged may be large, and is not carried along.
        work = work._replace(text="", lines=())
    elif not source.problems and judging.unread(work.text):
        # What is said of a name that is not there, or is there twice, names lines.
        work = prepared(source, exercise, as_it_stands=True)
    return Ready(file, work.student or student, work, traced(source, exercise), refused)


def graded(exercise: Exercise, text: str | bytes, file: str, student: str, judging: Judging) -> Graded:
    """What a work is worth by an exercise.

    Parameters
    ----------
    exercise : what was handed out and asked
    text : the work
    file, student : its name, and whose it is where it does not say it itself
    judging : how it is judged. Its parts are those of the exercise: the student's folder has no say. Where it
        has a stage, that one alone is graded; with no effort, each finding counts by itself

    Examples
    --------
    >>> from wirecheck import shipped_parts
    >>> from wirecheck.grading.exercise import exercise
    >>> shed = exercise('exercise "Shed"\\nstage final 40 points\\npanel LP 120 V\\nbreaker LP.1 15 A')
    >>> graded(shed, "", "ana.wire", "ana", Judging(shipped_parts(), None, 0, None, {}, {})).sheet.refused
    'There is nothing in it.'
    """
    one = ready(exercise, text, file, student, judging)
    verdict = Verdict() if one.refused else judging.verdict(one.work.text)
    return Graded(sheet_of(exercise, one, verdict, judging.stage), verdict.picture)


def sheet_of(exercise: Exercise, one: Ready, verdict: Verdict, stage: Stage | None) -> Sheet:
    """The sheet of a work, by the verdict on its text.

    Parameters
    ----------
    verdict : an empty one where there was nothing to judge
    stage : the one that alone is graded; all of them where it is None
    """
    why_not = one.refused or verdict.failed
    if why_not:
        return not_graded(exercise, one.file, one.student, stage, why_not)
    worth = _worth(exercise, stage)
    left = {each.stage: each.points for each in worth}
    lost: set[Stage] = set()
    taken: list[Taken] = []
    for mistake in sorted(_mistakes(exercise, one.work, verdict), key=_order):
        if mistake.stage not in left:
            continue
        rest = left[mistake.stage]
        points = rest if mistake.costs is None else min(mistake.costs, rest)
        if mistake.costs is None:
            lost.add(mistake.stage)
        left[mistake.stage] = rest - points
        taken.append(mistake._replace(points=points))
    scores = tuple(
        StageScore(each.stage, each.points, left[each.stage], each.stage in lost) for each in worth
    )
    remarks = tuple(_remarks(one.work, verdict, any(each.stage == STAGES[0] for each in worth)))
    return Sheet(one.file, one.student, exercise.title, scores, tuple(taken), remarks, trace=one.trace)


def not_graded(exercise: Exercise, file: str, student: str, stage: Stage | None, why: str) -> Sheet:
    """The sheet of a work that could not be graded: it has nothing, and the reason is on it.

    >>> from wirecheck.grading.exercise import exercise
    >>> shed = exercise('exercise "Shed"\\nstage final 40 points')
    >>> not_graded(shed, "a.wire", "Ana", None, "It is empty.").score
    0.0
    """
    nothing = tuple(StageScore(one.stage, one.points, 0.0, True) for one in _worth(exercise, stage))
    return Sheet(file, student, exercise.title, nothing, refused=why)


def _worth(exercise: Exercise, stage: Stage | None) -> list[StageWorth]:
    """The stages that are graded: all, or the one at which what belongs to a stage is counted."""
    return [one for one in exercise.stages if stage is None or one.stage == exercise.stage_of[stage]]


def _order(one: Taken) -> tuple[int, bool, int, int, str]:
    """What costs a stage comes before what costs some of it: what is left for the rest is then nothing."""
    return (
        STAGES.index(one.stage),
        one.costs is not None,
        one.line or 0,
        SEVERITIES.index(one.severity),
        one.message,
    )


def _refused(source: Syntax, work: Work, exercise: Exercise) -> str:
    """Why a work is not graded; nothing where it is."""
    if not source.text.strip():
        # Of what is too large nothing is read.
        too_large = next((f"T{one.message[1:]}." for one in source.problems), "")
        return too_large or "There is nothing in it."
    try:
        need_board(source)
    except NotABoard as error:
        return f"It is not a board: {error}."
    if len(source.problems) > reader.MOST_PROBLEMS:
        return (
            f"More than {reader.MOST_PROBLEMS} lines of it cannot be read, and it was read no further. "
            f"The first is line {source.problems[0].span.line}: {source.problems[0].message}."
        )
    if work.exercise and _plain(work.exercise) != _plain(exercise.title):
        return f'It is for "{work.exercise}" and not for "{exercise.title}".'
    if work.joined:
        return ""
    if source.problems:
        first = source.problems[0]
        said = f"No joint of it can be read. On line {first.span.line}, {first.message}"
        return f"{said}: {first.help}." if first.help else f"{said}."
    return NOT_JOINED


def _plain(title: str) -> str:
    """A title whatever its capitals and spaces are."""
    return _SPACES.sub(" ", title.strip()).casefold()


def _mistakes(exercise: Exercise, work: Work, verdict: Verdict) -> Iterator[Taken]:
    """Every mistake as the search for the fewest changes tells it, with its price; nothing is taken yet."""
    for altered in work.altered:
        yield _altered(altered, exercise.prices[CHANGE], exercise.stages[0].stage)
    if verdict.untouched:
        said = f"Wires come to {listed(verdict.untouched, MOST_NAMED)}, and nothing is joined there yet."
        yield from _not_done(exercise, said)
    elif verdict.unwired:
        said = f"No wire that is to carry current is on {listed(verdict.unwired, MOST_NAMED)} yet."
        yield from _not_done(exercise, said)
    if verdict.unspliced and exercise.stage_of[STAGES[0]] == STAGES[0]:
        yield from _not_spliced(exercise, verdict)
    yield from _unread_once(_found(exercise, work, verdict), work)


class _Found(NamedTuple):
    """A mistake with the thing that it is about, and whether an expectation is not met because of it."""

    taken: Taken
    about: str
    unmet: bool


def _found(exercise: Exercise, work: Work, verdict: Verdict) -> Iterator[_Found]:
    """What was found in the board, each with its price."""
    named = dict(work.named)
    changed = {altered.name for altered in work.altered if altered.name}
    told = zip(verdict.findings, verdict.questions, verdict.asked, strict=True)
    for flag, (finding, question, lines) in enumerate(told, 1):
        line = _own_line(finding, work)
        if finding.rule in UNREAD and changed.intersection(named.get(line or 0, ())):
            # What she says of a thing as she changed it, the thing that was handed out may not have.
            continue
        every = [finding, *finding.follows]
        unmet = [exercise.asked[line - work.first_asked] for line in lines]
        prices = [exercise.price(one) for one in every]
        priced = [one for one, price in zip(every, prices, strict=True) if price is None or price > 0]
        prices += [exercise.price_of(one) for one in unmet]
        if not any(price is None or price > 0 for price in prices):
            continue
        seen = finding.seen or finding.message
        in_full = exercise.shown == "in full"
        questions = (question,) if question and exercise.shown != "not" else ()
        asked = _asked(finding, work, exercise)
        taken = Taken(
            stage=exercise.stage_of[min((one.stage for one in priced or every), key=STAGES.index)],
            points=0.0,
            costs=None if None in prices else max(price for price in prices if price is not None),
            rule=finding.rule,
            severity=min((one.severity for one in every), key=SEVERITIES.index),
            line=line,
            asked=asked.text if asked else "",
            message=" ".join(part for part in (cause(finding), finding.message) if part) if in_full else seen,
            to_do=_to_do(finding) if in_full or finding.rule in UNREAD else questions,
            follows=_follows(finding, work, exercise) if exercise.shown != "not" else (),
            source=finding.source or "",
            mistake=(finding.mistakes or (seen,))[0],
            flag=flag,
        )
        yield _Found(taken, Word(finding.subject, finding.span).path[0], bool(unmet))


def _to_do(finding: Finding) -> tuple[str, ...]:
    """What to do: of a slip of the pen its help, which gives nothing away."""
    return (finding.help,) if finding.rule in UNREAD and finding.help else remedies(finding)


def _unread_once(found: Iterable[_Found], work: Work) -> Iterator[Taken]:
    """The mistakes, with what comes of a line that cannot be read under that line.

    Each such line takes in one mistake: the dearest for which an expectation is not met, or else one about
    a thing that the line names. It costs what the dearer of the two does, so that no such line is a gain.
    """
    named = dict(work.named)
    left = list(found)
    unread = [one for one in left if one.taken.rule in UNREAD]
    left = [one for one in left if one.taken.rule not in UNREAD]
    for one in unread:
        merged = one.taken
        things = named.get(one.taken.line or 0, ())
        unmet = [each for each in left if each.unmet]
        likely = unmet or [each for each in left if each.about in things]
        dearest = max(likely, key=_cost, default=None)
        if dearest is not None:
            left.remove(dearest)
            merged = _merged(merged, dearest.taken)
        yield merged
    yield from (one.taken for one in left)


def _cost(one: _Found) -> float:
    return one.taken.costs if one.taken.costs is not None else float("inf")


def _merged(unread: Taken, other: Taken) -> Taken:
    """A line that cannot be read, with a mistake that may come of it."""
    costs = None if None in (unread.costs, other.costs) else max(unread.costs or 0.0, other.costs or 0.0)
    where = f"line {other.line}" if other.line else f"asked: {other.asked}"
    told = f"{', '.join(part for part in (other.rule, where) if part)}: {first_sentence(other.message)}"
    return unread._replace(
        stage=other.stage,
        costs=costs,
        severity=min(unread.severity, other.severity, key=SEVERITIES.index),
        follows=(*unread.follows, told, *other.follows),
    )


def _not_done(exercise: Exercise, message: str) -> Iterator[Taken]:
    """What comes after the rough-in is not there to be graded where part of the board is not wired."""
    for one in exercise.stages:
        if one.stage != STAGES[0]:
            yield _plainly(one.stage, None, "fault", None, message, "Part of the board is not joined yet.")


def _not_spliced(exercise: Exercise, verdict: Verdict) -> Iterator[Taken]:
    """What the rough-in lacks: all of it where no splice is made, or the boxes in which none is.

    Later stages tell what comes of it; each box costs what it does where the rough-in alone is graded.
    """
    if not verdict.spliced:
        boxes, costs = [listed(verdict.unspliced, MOST_NAMED)], None
    elif any(one.rule == OPEN for each in verdict.findings for one in (each, *each.follows)):
        return
    else:
        boxes, costs = list(verdict.unspliced), exercise.prices.get(OPEN, exercise.prices["violation"])
    for box in boxes:
        said = f"What belongs in one splice in {box} is not spliced yet."
        yield _plainly(STAGES[0], costs, "violation", None, said, "A splice of the rough-in is not made yet.")


def _altered(altered: Altered, costs: float | None, stage: Stage) -> Taken:
    if not altered.was:
        message = f"The exercise does not say {altered.now}, and the work does. It is judged without it."
    elif altered.line is None:
        message = f"{altered.was} was handed out, and is not in the work. It is judged with it."
    else:
        message = f"{altered.was} was handed out, and the work has: {altered.now}. It is judged as it was."
    return _plainly(stage, costs, "violation", altered.line, message, "What was handed out was changed.")


def _plainly(
    stage: Stage, costs: float | None, severity: Severity, line: int | None, message: str, mistake: str
) -> Taken:
    """What the exercise itself finds, and no rule."""
    return Taken(stage, 0.0, costs, "", severity, line, "", message, (), (), "", mistake)


def _follows(finding: Finding, work: Work, exercise: Exercise) -> tuple[str, ...]:
    """What else comes of a mistake, each with its line of the work or of what is asked."""
    told = []
    for one in finding.follows:
        asked = _asked(one, work, exercise)
        line = _own_line(one, work)
        where = f"asked: {asked.text}" if asked else f"line {line}" if line else ""
        told.append(f"{', '.join(part for part in (one.rule, where) if part)}: {first_sentence(one.message)}")
    return tuple(told)


def _own_line(finding: Finding, work: Work) -> int | None:
    """The line of the student's text that a finding is on, or None."""
    return work.lines[finding.line - 1] if finding.line <= len(work.lines) else None


def _asked(finding: Finding, work: Work, exercise: Exercise) -> Asked | None:
    """The expectation on whose line a finding is, or None."""
    number = finding.line - work.first_asked
    return exercise.asked[number] if 0 <= number < len(exercise.asked) else None


def _remarks(work: Work, verdict: Verdict, rough_in: bool) -> Iterator[str]:
    if work.added:
        yield f"On the board beside what was handed out: {listed(work.added, MOST_NAMED)}."
    for one in [one for one in verdict.findings if one.severity == "advice"][:MOST_ADVICE]:
        yield f"Advice: {one.message}"
    if work.unmeasured and rough_in:
        yield (
            "Not judged: what a tape measure tells. No end of a cable or wire was measured, as in: "
            "to A (free 8 in, jacket 1/2 in, secured 8 in)."
        )
    if verdict.ended:
        yield "Not every change was tried that might put this right, so one mistake may count as several."
    if verdict.unjudged:
        yield verdict.unjudged

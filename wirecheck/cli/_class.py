"""A class's works by an exercise: each made ready, what it says judged, and what it came to.

Both are done in processes of their own, here or on a cluster, and what several works say is judged once.
"""

from __future__ import annotations

import functools
import os
from collections.abc import Callable, Generator, Iterable, Sequence
from contextlib import closing
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar

import click

from wirecheck import inputs
from wirecheck.cli._attempts import Done, Ended, Limits, Outcome, Refused, attempt, show_traceback, value
from wirecheck.cli._sources import Named, Unreadable, content, named
from wirecheck.judge.finding import Stage

if TYPE_CHECKING:
    from wirecheck.grading.exercise import Exercise
    from wirecheck.grading.judging import Judging, Verdict
    from wirecheck.grading.scoring import Graded, Ready
    from wirecheck.parts.library import PartFile

Value = TypeVar("Value")

BLOCK = 1000
"""The works that are made ready together, before what they say is judged."""
MOST_KEPT, MOST_PICTURES = 20_000, 500
"""The verdicts that are kept from block to block, and those with a picture."""
MOST_PARTS = 200
"""The most part files beside an exercise."""


class Worked(NamedTuple):
    """What a work came to, and whose it is, where its `student` line was read."""

    outcome: Outcome[Graded | None]
    student: str | None


class Asked(NamedTuple):
    """What is asked of every work, wherever it is graded.

    Attributes
    ----------
    exercise, text : the file of the exercise, and what is in it
    parts : the part files beside it, by the names of the parts
    stage, effort : as in the options
    picture : whether the board is drawn
    """

    exercise: str
    text: bytes
    parts: tuple[tuple[str, PartFile], ...]
    stage: Stage | None
    effort: int
    picture: bool


def parts_beside(exercise: str, text: bytes, works: Sequence[Named]) -> tuple[tuple[str, PartFile], ...]:
    """The part files beside an exercise. They are read once, so that every work has the same, anywhere.

    One that lies among the works may be a student's own. It counts only where the exercise names the part.
    """
    from wirecheck.assembly import shipped_parts
    from wirecheck.grading.exercise import parts_named
    from wirecheck.parts.folder import NO_PART, PartFolder
    from wirecheck.parts.library import not_used

    folder = PartFolder(os.path.dirname(exercise) if exercise != "-" else "", beside=True)
    looked_at = ((name, folder.find(name)) for name in folder.names())
    found = ((name, file) for name, file in looked_at if file is not None and file.unread != NO_PART)
    parts = dict(islice(found, MOST_PARTS))
    theirs = {inputs.identity(each.path) for each in works if each.path != "-"}
    known = parts_named(text, parts)
    shipped = set(shipped_parts().names()) if parts else set()
    for name, file in list(parts.items()):
        if name not in known and inputs.identity(file.file or "") in theirs:
            del parts[name]
        elif name in shipped:
            click.echo(f"wirecheck: {not_used(inputs.shown_path(file.file or name), None)}", err=True)
    return tuple(parts.items())


@functools.cache
def exercise_of(asked: Asked) -> tuple[Exercise, Judging]:
    """The exercise as a process that grades many works knows it, with the verdicts that it keeps.

    Where the exercise has mistakes, all of them are said.
    """
    from wirecheck.assembly import shipped_parts
    from wirecheck.grading.exercise import NotAnExercise, exercise
    from wirecheck.grading.judging import Judging
    from wirecheck.parts.library import Library
    from wirecheck.report.plain import plain

    parts = dict(asked.parts)
    library = Library(parts.get, lambda: parts, shipped_parts())
    try:
        given = exercise(asked.text, inputs.shown_path(asked.exercise), library)
    except NotAnExercise as error:
        for problem in error.problems[1:]:
            said = f"{asked.exercise}, line {problem.span.line}: {problem.message} {problem.help or ''}"
            click.echo(f"wirecheck: {plain(said.strip())}", err=True)
        raise Unreadable(f"{asked.exercise} cannot be used: {error}") from error
    return given, Judging(library, asked.stage, asked.effort, given.shown if asked.picture else None, {}, {})


def works_of(exercise: str, paths: Sequence[str]) -> list[Named]:
    """The works that paths stand for: of a folder all but the exercise itself, parts, and other exercises.

    A work may have been handed in under a wrong name, so what a folder has beside its .wire files is said.
    """
    from wirecheck.report.plain import plain
    from wirecheck.report.verdict import not_wire

    def complain(error: click.ClickException) -> None:
        error.show()

    works: dict[str, Named] = {}
    others: list[str] = []
    found = named(paths, complain, others.append)
    if others:
        click.echo(f"wirecheck: {plain(not_wire(others))}", err=True)
    for each in found:
        if not inputs.same(each.path, exercise):
            place = each.path if each.path == "-" else os.path.abspath(each.path)
            known = works.setdefault(place, each)
            works[place] = known._replace(asked=known.asked or each.asked)
    if not works:
        raise Unreadable("there is no work here to grade.")
    return list(works.values())


def outcomes(
    files: Sequence[Named], asked: Asked, limits: Limits, cluster: str | None
) -> Generator[Worked, None, None]:
    """What each work came to, in their order: in processes of their own, here or on a cluster.

    Each is made ready there, and then what it says is judged: once, for all works that say the same.
    """
    from wirecheck.grading.judging import Verdict

    kept: dict[str, Outcome[Verdict]] = {}
    for begin in range(0, len(files), BLOCK):
        block = files[begin : begin + BLOCK]
        # On a cluster the files are not.
        works = (
            (each, asked, attempt(content, each.path) if cluster is not None else None) for each in block
        )
        made = list(_worked_on(_ready, works, limits, cluster, block))
        if len(kept) > (MOST_PICTURES if asked.picture else MOST_KEPT):
            kept.clear()
        texts = dict.fromkeys(one.work.text for one in map(_to_judge, made) if one is not None)
        order = [text for text in texts if text not in kept]
        verdicts = _worked_on(_verdict, ((text, asked) for text in order), limits, cluster, [])
        left = iter(order)
        with closing(verdicts):
            for outcome in made:
                one = _to_judge(outcome)
                while one is not None and one.work.text not in kept:
                    kept[next(left)] = next(verdicts)
                judged = kept[one.work.text] if one is not None else Done(Verdict())
                yield Worked(_together(outcome, judged, asked), one.student if one is not None else None)


def _worked_on(
    function: Callable[..., Value],
    work: Iterable[tuple[Any, ...]],
    limits: Limits,
    cluster: str | None,
    files: Sequence[Named],
) -> Generator[Outcome[Value], None, None]:
    """What a function makes of each tuple of its arguments, here or on a cluster."""
    if cluster is not None:
        from wirecheck.cli._cluster import on_cluster

        yield from on_cluster(function, work, limits, cluster)
        return
    from wirecheck import check
    from wirecheck.cli._workers import in_workers

    # What a board needs is loaded here once, and not in each process.
    check('board "None"')
    given = content("-") if any(each.path == "-" for each in files) else b""
    yield from in_workers(function, list(work), limits, given)


def _ready(each: Named, asked: Asked, read: Outcome[bytes] | None) -> Ready | None:
    """A work ready to be judged; None for what lies beside works in a folder, as a part or an exercise."""
    from wirecheck.grading.scoring import ready

    given, judging = exercise_of(asked)
    data = content(each.path) if read is None else value(each.path, read)
    if not each.asked and inputs.is_beside_boards(data):
        return None
    return ready(given, data, inputs.shown_path(each.path), student_of(each.path), judging)


def _verdict(text: str, asked: Asked) -> Verdict:
    return exercise_of(asked)[1].verdict(text)


def _to_judge(outcome: Outcome[Ready | None]) -> Ready | None:
    """What there is to judge of a work."""
    one = outcome.value if isinstance(outcome, Done) else None
    return one if one is not None and not one.refused else None


def _together(
    outcome: Outcome[Ready | None], judged: Outcome[Verdict], asked: Asked
) -> Outcome[Graded | None]:
    """What a work came to: what became of making it ready and of judging what it says."""
    from wirecheck.grading.scoring import Graded, sheet_of

    if not isinstance(outcome, Done):
        return outcome
    one = outcome.value
    if one is None:
        return Done(None)
    if not isinstance(judged, Done):
        return judged
    given, _ = exercise_of(asked)
    return Done(Graded(sheet_of(given, one, judged.value, asked.stage), judged.value.picture))


def student_of(path: str) -> str:
    """Whose work it is, by the name of its file."""
    return Path(inputs.shown_path(path)).stem


def result(each: Named, worked: Worked, given: Exercise, stage: Stage | None) -> Graded | None:
    """What a work came to; one that could not be graded has nothing, and the reason."""
    from wirecheck.grading.scoring import Graded, not_graded

    match worked.outcome:
        case Done(None):
            return None
        case Done(Graded() as done):
            return done
        case Refused(error):
            why = error.format_message()
        case Ended(message, to_do) as ended:
            show_traceback(ended)
            why = f"{message} {to_do}"
    student = worked.student or student_of(each.path)
    sheet = not_graded(given, inputs.shown_path(each.path), student, stage, why)
    return Graded(sheet)

"""From a case to its report: what the rules see, the mistakes behind it, and what could not be judged."""

from __future__ import annotations

from wirecheck.findings import findings
from wirecheck.judge.case import Case
from wirecheck.judge.finding import STAGES, Stage
from wirecheck.judge.unfinished import unfinished
from wirecheck.judge.unjudged import unjudged
from wirecheck.judge.unplaced import unplaced
from wirecheck.language.syntax import Syntax
from wirecheck.mend.explained import explained
from wirecheck.parts.library import Library
from wirecheck.report.report import OwnPart, Report


def checked(case: Case, syntax: Syntax, library: Library, stage: Stage, effort: int) -> Report:
    """Everything that is wrong with a board that is built up to a stage; `effort` is as in `wirecheck.check`.

    Parameters
    ----------
    case : of the board
    syntax : what its text says
    library : where its parts were looked up
    """
    built = case.board
    # what the rules see, less what follows from something else, in words
    found = findings(case, stage)
    # what no line of the board says how it should work, once it is built so far: a line that could not be
    # read may say it
    left = unjudged(case) if stage == STAGES[-1] and not built.problems else ()
    # where what a kitchen, a bath or a bedroom needs is not asked for
    nowhere = unplaced(case) if stage == STAGES[-1] else ()
    # the mistakes behind them, by the fewest changes after which nothing is found
    found, ended = explained(found, case, syntax, library, stage, effort)
    own = tuple(OwnPart(part.name, part.file or "", part.beside) for part in built.own_parts)
    sampled = not case.whole
    cut = unfinished(case, syntax.text)
    return Report(
        syntax.file, built.title, syntax.text, found, left, sampled, own, ended, case.left_out, cut, nowhere
    )

"""An exercise: what is handed out, what is asked, and what a mistake costs.

It is written in the board's own language: a board without its joins, with its stages and prices.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from wirecheck.judge.finding import SEVERITIES, STAGES, Finding, Stage
from wirecheck.language import reader, syntax
from wirecheck.language.reader import on_one_line
from wirecheck.language.syntax import Price, Problem, Shown, Span, Statement, Syntax
from wirecheck.language.words import nearest
from wirecheck.model.board import Board, Expectation
from wirecheck.model.build import build
from wirecheck.model.draft import Parts
from wirecheck.parts.library import PartFile
from wirecheck.rules import rules

EXPECTATION, CHANGE = "expectation", "change"
"""What a price may be set for beside the severities and the rules."""

USUAL: Mapping[str, float | None] = {
    "hazard": None,
    "violation": 5.0,
    "fault": 10.0,
    "advice": 0.0,
    CHANGE: 5.0,
}
"""What a mistake costs where the exercise does not say it; None is all that its stage has."""

Heading = (
    syntax.ExerciseTitle
    | syntax.BoardTitle
    | syntax.StageStatement
    | syntax.CostsStatement
    | syntax.ShowStatement
    | syntax.StudentStatement
    | syntax.ForStatement
)

_PRICE = re.compile(r"\s+costs\s+(?:the\s+stage|\S+\s+points)\s*\Z")


class NotAnExercise(ValueError):
    """A text that holds no exercise, or one with mistakes: `problems` are all of them, in order of place."""

    def __init__(self, message: str, problems: tuple[Problem, ...] = ()) -> None:
        super().__init__(message)
        self.problems = problems


class StageWorth(NamedTuple):
    """What a stage is worth."""

    stage: Stage
    points: float


class Asked(NamedTuple):
    """What the board should do, on a line of the exercise without its price."""

    text: str
    costs: Price | None


@dataclass(frozen=True)
class Exercise:
    """An exercise as read.

    Attributes
    ----------
    title : its title, which a work names in its `for` line
    stages : what each is worth, in their order
    prices : by severity, rule, `expectation` and `change`; None is all that the stage has
    shown : how a student is told of the mends
    handed_out : the statements that a work may not change
    asked : the expectations, in order
    source : what was read
    """

    title: str
    stages: tuple[StageWorth, ...]
    prices: Mapping[str, float | None]
    shown: Shown
    handed_out: tuple[Statement, ...]
    asked: tuple[Asked, ...]
    source: Syntax

    @cached_property
    def _lines(self) -> Mapping[Span, str]:
        return {one.span: on_one_line(self.source.text, one.span) for one in self.handed_out}

    @property
    def points(self) -> float:
        """What a work without a mistake has.

        >>> exercise('exercise "Shed"\\nstage trim 30 points\\nstage final 70 points').points
        100.0
        """
        return sum(one.points for one in self.stages)

    def line(self, statement: Statement) -> str:
        """What a statement of it says, on one line."""
        return self._lines[statement.span]

    def price(self, finding: Finding) -> float | None:
        """What a finding costs by its rule or its severity; None is all that its stage has."""
        return self.prices.get(finding.rule, self.prices[finding.severity])

    def price_of(self, asked: Asked) -> float | None:
        """What it costs that an expectation is not met: nothing of its own, where the exercise says nothing.

        The line's own price comes before that of all expectations.
        """
        return asked.costs.points if asked.costs is not None else self.prices.get(EXPECTATION, 0.0)

    @cached_property
    def stage_of(self) -> Mapping[Stage, Stage]:
        """The stage of the exercise at which what belongs to a stage of the work is counted.

        That is the same one, or the next that the exercise has, or its last.

        >>> exercise('exercise "Shed"\\nstage trim 30 points').stage_of["rough-in"]
        'trim'
        """
        own = [one.stage for one in self.stages]
        found: dict[Stage, Stage] = {}
        for number, stage in enumerate(STAGES):
            found[stage] = next((one for one in own if STAGES.index(one) >= number), own[-1])
        return found


def exercise(text: str | bytes, file: str = "-", library: Parts | None = None) -> Exercise:
    """The exercise that a text describes.

    Parameters
    ----------
    text : in the language of grammar/board.lark
    file : its name
    library : where its parts are looked up; none are, where it is None

    Raises
    ------
    NotAnExercise
        It is none, or it has mistakes.

    Examples
    --------
    >>> shed = exercise('exercise "Shed"\\nstage final 40 points\\nbox-fill costs 3 points\\npanel LP 120 V')
    >>> shed.points, shed.prices["box-fill"], len(shed.handed_out)
    (40.0, 3.0, 1)
    >>> exercise('exercise "Shed"\\nstage finnal 40 points')
    Traceback (most recent call last):
    wirecheck.grading.exercise.NotAnExercise: on line 2: finnal is no stage. Did you mean final?
    """
    source = reader.read(text, file)
    titles = [one for one in source.statements if isinstance(one, syntax.ExerciseTitle)]
    if not titles:
        raise NotAnExercise('no exercise is begun in it: exercise "What it is"')
    reading = _Reading(source)
    made = reading.made(titles)
    problems = [*source.problems, *reading.problems]
    if library is not None:
        known = {problem.span for problem in problems}
        problems += (one for one in board_of(made, library).problems if one.span not in known)
    if problems:
        problems.sort(key=lambda one: one.span)
        first = problems[0]
        said = f"on line {first.span.line}: {first.message}"
        raise NotAnExercise(f"{said} {first.help}" if first.help else said, tuple(problems))
    return made


def board_of(made: Exercise, library: Parts) -> Board:
    """The board of what is handed out and asked, as nobody has joined it yet."""
    source = made.source
    title = next(one for one in source.statements if isinstance(one, syntax.ExerciseTitle))
    statements: tuple[Statement, ...] = (
        syntax.BoardTitle(title.title, title.span),
        *(one for one in source.statements if not isinstance(one, Heading)),
    )
    return build(source._replace(statements=statements), library)


def parts_named(text: str | bytes, files: Mapping[str, PartFile]) -> set[str]:
    """The parts that an exercise names, and those that they are made of, of those that are in `files`.

    >>> own = {"bell": PartFile('part bell "B"\\nC is coil'), "coil": PartFile('part coil "C"')}
    >>> sorted(parts_named("B1 is bell", own)), parts_named("B1 is lampholder", own)
    (['bell', 'coil'], set())
    """
    found: set[str] = set()
    left = [text]
    while left:
        for one in reader.read(left.pop()).statements:
            name = one.part.text if isinstance(one, syntax.DeviceStatement) else ""
            if name in files and name not in found:
                found.add(name)
                left.append(files[name].text)
    return found


class _Reading:
    """What the lines of one exercise say, and the mistakes in them."""

    def __init__(self, source: Syntax) -> None:
        self.source = source
        self.problems: list[Problem] = []

    def wrong(self, message: str, span: Span, advice: str | None = None) -> None:
        self.problems.append(Problem("syntax", message, span, advice))

    def made(self, titles: list[syntax.ExerciseTitle]) -> Exercise:
        stages: dict[Stage, float] = {}
        prices = dict(USUAL)
        priced: set[str] = set()
        shown: Shown = "as questions"
        handed_out: list[Statement] = []
        asked: list[Asked] = []
        for second in titles[1:]:
            self.wrong("An exercise has one title, and this is a second one.", second.span)
        for one in self.source.statements:
            match one:
                case syntax.StageStatement():
                    self.stage(one, stages)
                case syntax.CostsStatement():
                    self.cost(one, prices, priced)
                case syntax.ShowStatement(mends):
                    shown = mends
                case syntax.BoardTitle() | syntax.StudentStatement() | syntax.ForStatement():
                    self.wrong("This belongs in a student's work, and this file is an exercise.", one.span)
                case syntax.ExerciseTitle():
                    pass
                case _ if isinstance(one, Expectation):
                    asked.append(Asked(_without_price(self.source.text, one), one.costs))
                case _:
                    handed_out.append(one)
        if not stages and not self.problems:
            self.wrong(
                "The exercise has no stage that is worth points.",
                titles[0].span,
                "Write, as an example: stage final 100 points",
            )
        worth = tuple(StageWorth(stage, stages[stage]) for stage in STAGES if stage in stages)
        title = titles[0].title.text
        return Exercise(title, worth, prices, shown, tuple(handed_out), tuple(asked), self.source)

    def stage(self, said: syntax.StageStatement, stages: dict[Stage, float]) -> None:
        stage = next((one for one in STAGES if one == said.name.text), None)
        if stage is None:
            near = nearest(said.name.text, STAGES)
            advice = f"Did you mean {near}?" if near else f"The stages are {', '.join(STAGES)}."
            self.wrong(f"{said.name.text} is no stage.", said.name.span, advice)
        elif stage in stages:
            self.wrong(f"{stage} has its points already.", said.span, "Give each stage one line.")
        elif not said.points:
            self.wrong("A stage that is worth nothing cannot be graded.", said.span, "Leave the line out.")
        else:
            stages[stage] = said.points

    def cost(self, said: syntax.CostsStatement, prices: dict[str, float | None], priced: set[str]) -> None:
        name = said.name.text
        known = [*SEVERITIES, EXPECTATION, CHANGE, *(rule.name for rule in rules())]
        if name not in known:
            near = nearest(name, known)
            advice = f"Did you mean {near}?" if near else "wirecheck rules lists the names of the rules."
            self.wrong(f"{name} is no severity and no rule.", said.name.span, advice)
        elif name in priced:
            self.wrong(f"What {name} costs is said already.", said.span, "Give each one line.")
        else:
            priced.add(name)
            prices[name] = said.price.points


def _without_price(text: str, one: Expectation) -> str:
    """An expectation on one line, as a board would have it."""
    return _PRICE.sub("", on_one_line(text, one.span))

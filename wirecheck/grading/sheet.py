"""A student's sheet: what her work is worth at each stage, and line by line why. Plain values throughout."""

from __future__ import annotations

from typing import NamedTuple

from wirecheck.judge.finding import Severity, Stage


class Taken(NamedTuple):
    """A mistake, and the points that it takes.

    Attributes
    ----------
    stage : where it is counted
    points : what it takes: no more than its stage has left
    costs : what the exercise asks for it; None is all that the stage has
    rule : the rule of its head; nothing for a change of what was handed out
    severity : the gravest of what it brings
    line : in the student's file; None where it is on none of hers
    asked : the expectation on whose line it is, where it is on one
    message : what is wrong, in words that teach
    to_do : as the exercise says: where to look again, or any one of the mends, or nothing
    follows : what else comes of it
    source : where it is published
    mistake : what it is called where a class's are counted
    flag : the number of its flag on the picture of the board; 0 where it has none
    """

    stage: Stage
    points: float
    costs: float | None
    rule: str
    severity: Severity
    line: int | None
    asked: str
    message: str
    to_do: tuple[str, ...]
    follows: tuple[str, ...]
    source: str
    mistake: str
    flag: int = 0


class StageScore(NamedTuple):
    """What is left of a stage: `score` of `points`; `lost` where one mistake cost all of it."""

    stage: Stage
    points: float
    score: float
    lost: bool


class Trace(NamedTuple):
    """What a work has in common with others beside being right.

    `same` is equal of works that say the same, whatever their names, order and layout are; `comments` and
    `names` are the student's own.
    """

    same: str = ""
    comments: tuple[str, ...] = ()
    names: tuple[str, ...] = ()


class Sheet(NamedTuple):
    """What a work came to.

    Attributes
    ----------
    file, student : the work, and whose it is
    exercise : the title of the exercise
    stages : each that was graded
    taken : the mistakes, in order of stages and then of lines
    remarks : what to know beside it, in sentences: what was not judged, what she put on the board herself
    refused : why the work could not be graded and has nothing; empty where it was
    trace : what near copies of it are known by
    """

    file: str
    student: str
    exercise: str
    stages: tuple[StageScore, ...]
    taken: tuple[Taken, ...] = ()
    remarks: tuple[str, ...] = ()
    refused: str = ""
    trace: Trace = Trace()

    @property
    def score(self) -> float:
        """What the work has.

        >>> Sheet("a.wire", "Ana", "Shed", (StageScore("trim", 30, 25, False),)).score
        25
        """
        return sum(one.score for one in self.stages)

    @property
    def points(self) -> float:
        """What it could have."""
        return sum(one.points for one in self.stages)


def points(value: float) -> str:
    """Points as people write them: halves and quarters where there are any.

    >>> points(5.0), points(2.5), points(-0.0)
    ('5', '2.5', '0')
    """
    return f"{value or 0.0:.7g}"

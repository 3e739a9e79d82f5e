"""What a rule is: a value with a name, its stages, what it sees and how it says it.

Each rule's file ends in `RULE = rule(__name__, ...)`. The file's docstring is the rule's
manual: a first line, the reason, and `Source:`. Its boards lie in `boards/rules/NAME/`.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Sequence
from typing import Any, NamedTuple, TypeVar

from wirecheck.circuit.work import WorkEnds
from wirecheck.judge.case import Case
from wirecheck.judge.finding import STAGES, Finding, Note, Severity, Stage
from wirecheck.judge.problem import Problem, Words
from wirecheck.language.quantity import figure

# The lines that a finding points at beside its own.
MOST_NOTES = 20
TOO_MUCH = "The board takes too much work to say more of it."

Kind = TypeVar("Kind", bound=Problem)


class Manual(NamedTuple):
    """What `wirecheck rules NAME` prints beside the two boards.

    `stages` are those it has findings for, `severities` what its findings can be, the gravest first.
    """

    name: str
    summary: str
    why: str
    source: str
    stages: tuple[Stage, ...]
    severities: tuple[Severity, ...] = ()


class Rule(NamedTuple):
    """`find` sees problems of a case, `words` says one of them.

    It is asked of boards that are built no further than `until`: what other rules say better
    once more is built need not be said twice. `surely` is whether it finds something worse than
    advice, where that can be told without the reason: quicker than `find`, if what it found on a
    board nearly the same is there still. False says nothing. What a rule `of_ties` finds hangs on what the
    things of a board are, and on which screws are tied: not on which wire ties them, its color or its size.
    """

    name: str
    stages: tuple[Stage, ...]
    until: Stage
    find: Callable[[Case], Iterable[Problem]]
    words: Callable[[Any, Case], Words]
    manual: Manual
    surely: Callable[[Case, Sequence[Any]], bool] = lambda case, before: False
    of_ties: bool = False

    def asked(self, stage: Stage) -> bool:
        """Whether it has anything to say of a board that is built up to a stage."""
        reach = STAGES.index(stage)
        return any(STAGES.index(one) <= reach <= STAGES.index(self.until) for one in self.stages)

    def finding(self, problem: Problem, case: Case) -> Finding:
        """One of its problems in words."""
        try:
            words = self.words(problem, case)
        except WorkEnds:
            words = Words(f"{self.manual.summary} {TOO_MUCH}", f"Look at {problem.subject} first.", "")
        return Finding(
            rule=self.name,
            severity=problem.severity,
            message=f"{words.message} {words.guess}" if words.guess else words.message,
            span=problem.at.span,
            subject=problem.subject,
            value=_figure(words.value, words.unit, words.limit),
            limit=_figure(words.limit, words.unit, words.value),
            unit=words.unit,
            source=words.source,
            help=words.help,
            also=_most_telling(words.also),
            stage=problem.stage,
            problem=problem,
            seen=words.message,
            look=words.look or (words.help if words.stands else None),
        )


def _most_telling(notes: tuple[Note, ...]) -> tuple[Note, ...]:
    """As many lines as somebody would look at, and how many more there are."""
    if len(notes) <= MOST_NOTES:
        return notes
    more = len(notes) - MOST_NOTES + 1
    return (
        *notes[: MOST_NOTES - 1],
        Note(f"the same on {more} lines, of which this is the first", notes[MOST_NOTES - 1].span),
    )


def _figure(value: float | None, unit: str | None, beside: float | None) -> float | None:
    """A number as it is shown to people: it is no more exact than that."""
    return None if value is None else figure(value, unit or "", beside=beside)


def rule(
    module: str,
    *stages: Stage,
    severities: tuple[Severity, ...] = (),
    find: Callable[[Case], Iterable[Kind]],
    words: Callable[[Kind, Case], Words],
    until: Stage = "final",
    surely: Callable[[Case, Sequence[Kind]], bool] = lambda case, before: False,
    of_ties: bool = False,
) -> Rule:
    """The rule that a file of the rules' room holds; its name is the file's.

    Raises
    ------
    ValueError
        Where it has no stage or one that does not exist, or its manual lacks a part.
    """
    name = _name(module)
    for stage in (*stages, until):
        if stage not in STAGES:
            raise ValueError(f"the rule {name} has a stage {stage!r}; there are {', '.join(STAGES)}")
    if not stages:
        raise ValueError(f"the rule {name} has no stage")
    told = manual(module, *stages, severities=severities)
    return Rule(name, stages, until, find, words, told, surely, of_ties)


def manual(module: str, *stages: Stage, severities: tuple[Severity, ...] = ()) -> Manual:
    """The manual in a module's docstring; its name is the module's.

    Raises
    ------
    ValueError
        Where it lacks a part.
    """
    read = _manual(_name(module), sys.modules[module].__doc__ or "", stages)
    return read._replace(severities=severities)


def _name(module: str) -> str:
    return module.rpartition(".")[2].replace("_", "-")


def _manual(name: str, text: str, stages: tuple[Stage, ...]) -> Manual:
    """The manual in a docstring.

    >>> text = "A box is too small.\\n\\nWires get nicked.\\n\\nSource: NEC 314.16"
    >>> told = _manual("box-fill", text, ("trim",))
    >>> told.summary, told.why, told.source
    ('A box is too small.', 'Wires get nicked.', 'NEC 314.16')
    """
    told, _, source = text.partition("\nSource:")
    summary, _, why = told.strip().partition("\n")
    if not (summary and why.strip() and source.strip()):
        raise ValueError(f"the manual of the rule {name} needs a first line, a reason and a source")
    return Manual(name, summary.strip(), why.strip(), " ".join(source.split()), stages)

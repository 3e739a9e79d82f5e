"""What is reported of a board, in three steps: what the rules see, what of it has no cause, and its words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import cast

from wirecheck.circuit.work import WorkEnds
from wirecheck.judge.case import Case
from wirecheck.judge.finding import SEVERITIES, STAGES, Finding, Stage, in_order
from wirecheck.judge.problem import Problem
from wirecheck.judge.rule import Rule
from wirecheck.language.syntax import Span
from wirecheck.rules import rules

# The most that all rules together, and one of them, may take of the work that is left; then the causes.
RULES_SHARE = 0.8
RULE_SHARE = 0.6
CAUSES_SHARE = 0.5

Seen = tuple[Rule, Problem]
"""A problem, with the rule that sees it."""


def findings(case: Case, stage: Stage = "final") -> tuple[Finding, ...]:
    """What is reported of a board that is built up to a stage, in order of place.

    Its systems are judged one after another; what the text alone says is said of one of them.
    """
    found: dict[tuple[str, str, Span], Finding] = {}
    for system in case.systems:
        for one in in_words(standing(problems(system, stage), system), system):
            found.setdefault((one.rule, one.subject, one.span), one)
    return in_order(found.values())


def problems(case: Case, stage: Stage = "final") -> list[Seen]:
    """All that the rules see of a board that is built up to a stage, each with its rule; looked for once.

    Raises
    ------
    ValueError
        Where a rule sees something of a stage that it does not declare.
    """
    key = (problems, stage)
    if key not in case.answers:
        case.answers[key] = tuple(_problems(case, stage))
    return list(cast("tuple[Seen, ...]", case.answers[key]))


def _problems(case: Case, stage: Stage) -> list[Seen]:
    seen: list[Seen] = []
    with case.work.share(RULES_SHARE):
        for rule in rules():
            if rule.asked(stage):
                try:
                    with case.work.share(RULE_SHARE):
                        seen += ((rule, problem) for problem in _seen(rule, case, stage))
                except WorkEnds:
                    case.leave("rule", rule.name)
    return seen


def _seen(rule: Rule, case: Case, stage: Stage) -> Iterator[Problem]:
    """What one rule sees of a board that is built up to a stage."""
    for problem in rule.find(case):
        if problem.stage not in rule.stages:
            raise ValueError(f"{rule.name} found something of the stage {problem.stage}, not its own")
        if STAGES.index(problem.stage) <= STAGES.index(stage):
            yield problem


def standing(seen: Sequence[Seen], case: Case) -> list[Seen]:
    """The problems that stand by themselves: those that follow from another are left out."""
    if len(seen) < 2:
        return list(seen)
    # A right board needs no table of causes, and does not wait for it.
    from wirecheck.causes.hiding import causes

    with case.work.share(CAUSES_SHARE):
        hidden = causes([problem for _, problem in seen], case)
    return [one for one, cause in zip(seen, hidden, strict=True) if cause is None]


def in_words(seen: Sequence[Seen], case: Case) -> tuple[Finding, ...]:
    """Problems in words, in order of place; of those of one rule about one thing at one place the gravest."""
    kept: dict[tuple[str, str, Span], Seen] = {}
    for rule, problem in seen:
        before = kept.setdefault((rule.name, problem.subject, problem.at.span), (rule, problem))[1]
        if SEVERITIES.index(problem.severity) < SEVERITIES.index(before.severity):
            kept[rule.name, problem.subject, problem.at.span] = (rule, problem)
    found = (rule.finding(problem, case) for rule, problem in kept.values())
    return in_order(found)

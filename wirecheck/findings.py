"""What is reported of a board: what the rules see, less what follows from something else, in words."""

from __future__ import annotations

from wirecheck.causes.hiding import causes
from wirecheck.judge.case import Case
from wirecheck.judge.finding import SEVERITIES, STAGES, Finding, Stage
from wirecheck.judge.problem import Problem
from wirecheck.judge.rule import Rule
from wirecheck.rules import checks, rules


def findings(case: Case, stage: Stage = "final") -> tuple[Finding, ...]:
    """What every rule finds, up to a stage of the work, in order of place.

    Each mistake is reported once: of findings of one rule about one subject at one place, the
    gravest stays.

    Raises
    ------
    ValueError: where a rule finds something of a stage that it does not declare.
    """
    reach = STAGES.index(stage)
    seen = problems(case, stage)
    found = [
        rule.finding(problem, case)
        for (rule, problem), cause in zip(seen, causes([one for _, one in seen], case), strict=True)
        if cause is None
    ]
    for check in checks():
        if any(
            STAGES.index(one) <= reach <= STAGES.index(check.__dict__["until"])
            for one in check.__dict__["stages"]
        ):
            found += [finding for finding in check(case) if STAGES.index(finding.stage) <= reach]
    told: dict[tuple[object, ...], Finding] = {}
    for finding in found:
        key = (finding.rule, finding.subject, finding.span)
        if key not in told or SEVERITIES.index(finding.severity) < SEVERITIES.index(told[key].severity):
            told[key] = finding
    return tuple(
        sorted(told.values(), key=lambda found: (found.span, SEVERITIES.index(found.severity), found.rule))
    )


def problems(case: Case, stage: Stage = "final") -> list[tuple[Rule, Problem]]:
    """All that the rules see of a board that is built up to a stage, each with its rule.

    Raises
    ------
    ValueError: where a rule sees something of a stage that it does not declare.
    """
    reach = STAGES.index(stage)
    told = []
    for rule in rules():
        if rule.asked(stage):
            for problem in rule.find(case):
                if problem.stage not in rule.stages:
                    raise ValueError(f"{rule.name} found something of the stage {problem.stage}, not its own")
                if STAGES.index(problem.stage) <= reach:
                    told.append((rule, problem))
    return told

"""Every rule: plain functions over the same case, found by their mark in the files beside this one.

Adding a rule is adding a function, in one of these files or in a new one.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator
from types import FunctionType

from wirecheck.judge.case import Case
from wirecheck.judge.finding import SEVERITIES, STAGES, Finding, Stage
from wirecheck.judge.rule import Check, Manual, manual, name


def checks() -> Iterator[Check]:
    """Each rule's function, in order of file and place."""
    for module in sorted(info.name for info in pkgutil.iter_modules(__path__)):
        for value in vars(importlib.import_module(f"{__name__}.{module}")).values():
            if _is_rule(value) and value.__module__.endswith(f".{module}"):
                yield value


def _is_rule(value: object) -> bool:
    return isinstance(value, FunctionType) and hasattr(value, "stages")


def manuals() -> dict[str, Manual]:
    """Every rule's manual by the rule's name."""
    return {name(check): manual(check) for check in checks()}


def findings(case: Case, stage: Stage = "final") -> tuple[Finding, ...]:
    """What every rule finds, up to a stage of the work, in order of place.

    Each mistake is told once: of findings of one rule about one subject at
    one place, the gravest stays.
    """
    reach = STAGES.index(stage)
    told: dict[tuple[object, ...], Finding] = {}
    for check in checks():
        if not any(
            STAGES.index(one) <= reach <= STAGES.index(check.__dict__["until"])
            for one in check.__dict__["stages"]
        ):
            continue
        for finding in check(case):
            if STAGES.index(finding.stage) > reach:
                continue
            key = (finding.rule, finding.subject, finding.span)
            if key not in told or SEVERITIES.index(finding.severity) < SEVERITIES.index(told[key].severity):
                told[key] = finding
    return tuple(
        sorted(told.values(), key=lambda found: (found.span, SEVERITIES.index(found.severity), found.rule))
    )

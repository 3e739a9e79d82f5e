"""How two problems can lie to each other on a board: each a function of (cause, effect, case)."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from wirecheck.judge.case import Case
from wirecheck.judge.problem import Problem
from wirecheck.judge.transformers import on_secondary

# Each row of the table pairs a relation with the two kinds of problem that it is written for.
Relation = Callable[[Any, Any, Case], bool]


def anywhere(cause: Problem, effect: Problem, case: Case) -> bool:
    """Wherever the two are on the board."""
    return True


def same_copper(cause: Problem, effect: Problem, case: Case) -> bool:
    """They concern a piece of copper in common."""
    return not cause.copper.isdisjoint(effect.copper)


def same_thing(cause: Problem, effect: Problem, case: Case) -> bool:
    """They are about the same thing."""
    return cause.about is not None and effect.about is not None and cause.about.name == effect.about.name


def same_screw(cause: Any, effect: Any, case: Case) -> bool:
    """They are about what is under the same screw, the `terminal` of each."""
    return bool(cause.terminal.name == effect.terminal.name)


def from_its_secondary(cause: Any, effect: Any, case: Case) -> bool:
    """All loads of the one are fed from the transformer that the other is about."""
    fed = {load.name for load in on_secondary(case, cause.winding)}
    return all(load.name in fed for load in effect.loads)


def same_transformers(cause: Any, effect: Any, case: Case) -> bool:
    """They are about the same two transformers."""
    return bool((cause.one.name, cause.other.name) == (effect.one.name, effect.other.name))

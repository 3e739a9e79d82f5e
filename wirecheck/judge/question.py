"""A question that several rules ask of a case: answered once, and kept with the case."""

from __future__ import annotations

import functools
from collections.abc import Callable
from typing import TYPE_CHECKING, TypeVar, cast

if TYPE_CHECKING:
    from wirecheck.judge.case import Case

Answer = TypeVar("Answer")


def question(answer: Callable[[Case], Answer]) -> Callable[[Case], Answer]:
    """Mark a function of a case whose answer is worked out when it is first asked for, and then kept.

    >>> from types import SimpleNamespace
    >>> asked = []
    >>> @question
    ... def size(case):
    ...     asked.append(case)
    ...     return 3
    >>> case = SimpleNamespace(answers={})
    >>> size(case), size(case), len(asked)
    (3, 3, 1)
    """

    @functools.wraps(answer)
    def answered(case: Case) -> Answer:
        if answer not in case.answers:
            case.answers[answer] = answer(case)
        return cast("Answer", case.answers[answer])

    return answered

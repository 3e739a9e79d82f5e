"""Line by line of what a board expects, as far as the work lasts: what is left is known as not judged."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import TypeVar

from wirecheck.circuit.work import WorkEnds
from wirecheck.judge.case import Case
from wirecheck.model.board import Expectation

Line = TypeVar("Line", bound=Expectation)
Found = TypeVar("Found")

# The most that one line may take of the work that is left.
SHARE = 0.25


def judged(case: Case, lines: Iterable[Line], of: Callable[[Case, Line], Iterable[Found]]) -> Iterator[Found]:
    """What there is to find of each line; a line that takes more work than is left goes to `Case.left`."""
    for line in lines:
        try:
            with case.work.share(SHARE):
                found = tuple(of(case, line))
        except WorkEnds:
            case.leave("line", line)
        else:
            yield from found

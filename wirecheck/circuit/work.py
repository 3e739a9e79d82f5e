"""What one board may cost: steps of work, counted and not timed, so that every machine judges the same.

A step is about what a few looks from a point to its neighbors cost. Whatever solves or searches says here
what it takes. When a board's steps are spent, `WorkEnds` is raised, and who asked says what was not judged.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

LEAST_STEPS = 300_000
"""What a board may cost: a second or so. What ships takes a quarter of it at most, and mostly a thirtieth."""

SHORT = 20_000
STEPS_A_CHARACTER = 60
"""What each character of a board's text adds to that, beyond so many of them: it is a house or more."""


class WorkEnds(Exception):
    """The steps that may be spent on a board, or on a part of its judging, are spent."""


class Work:
    """The steps that were spent on a board, and how many may be; `bounded` where more opens than is followed.

    Examples
    --------
    >>> work = Work(100)
    >>> with work.share(0.5):
    ...     work.spend(51)
    Traceback (most recent call last):
    wirecheck.circuit.work.WorkEnds: 50 steps were to be spent
    >>> work.spend(40), work.spent
    (None, 91)
    """

    __slots__ = ("bounded", "most", "on_reasons", "spent", "whole")

    def __init__(self, most: int) -> None:
        self.whole = self.most = most
        self.spent = 0
        self.on_reasons = 0
        self.bounded = False

    def spend(self, steps: int) -> None:
        """Count steps before they are made.

        Raises
        ------
        WorkEnds
            Where they are more than may be spent.
        """
        self.spent += steps
        if self.spent > self.most:
            raise WorkEnds(f"{self.most} steps were to be spent")

    @property
    def over(self) -> bool:
        """Whether nothing more may be spent."""
        return self.spent >= self.most

    @contextmanager
    def reason(self, part: float) -> Iterator[None]:
        """A `share` for what says why something is wrong, and not whether: `on_reasons` counts all of it.

        >>> work = Work(100)
        >>> with work.reason(0.5):
        ...     work.spend(40)
        >>> work.spend(2), work.spent - work.on_reasons
        (None, 2)
        """
        begun, before = self.spent, self.on_reasons
        try:
            with self.share(part):
                yield
        finally:
            # What one reason asks of another is counted once.
            self.on_reasons = before + self.spent - begun

    @contextmanager
    def share(self, part: float) -> Iterator[None]:
        """Let no more than a part of all that is left be spent on something, so that the rest has some."""
        most = self.most
        self.most = min(most, self.spent + int(part * max(0, self.whole - self.spent)))
        try:
            yield
        finally:
            self.most = most


def allowed(length: int) -> int:
    """The steps that a board with so many characters of text may cost.

    >>> allowed(500), allowed(30_000)
    (300000, 900000)
    """
    return LEAST_STEPS + STEPS_A_CHARACTER * max(0, length - SHORT)

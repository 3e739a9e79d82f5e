"""What a rule sees of a load that is between two hots, and is made for one and the neutral."""

from __future__ import annotations

from wirecheck.judge.problem import Problem


class TwoHots(Problem):
    """A load with too many volts; `second_hot` is its screw that wants the neutral, if it is known."""

    second_hot: str | None

"""The states that last: what is in for the moment of a start is out in them."""

from __future__ import annotations

from wirecheck.circuit.settle import Settled
from wirecheck.judge.buttons import pushes
from wirecheck.judge.case import Case
from wirecheck.judge.question import question


@question
def lasting(case: Case) -> tuple[Settled, ...]:
    """The board with no call, in the end of each button, held and let go, and in the end of each call."""
    pushed = (state for one in pushes(case) for state in (one.held, one.after))
    called = (played.rest for call in case.heard for played in case.tried([call]))
    return (case.standing({}), *pushed, *called)

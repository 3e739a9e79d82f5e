"""What copper is used for while a breaker, a fuse or a ground-fault device is open."""

from __future__ import annotations

from typing import cast

from wirecheck.circuit.uses import Uses, uses
from wirecheck.judge.case import Case


def uses_opened(case: Case, protection: str) -> Uses:
    """What each wire and screw is used for with that one open, so that its two sides are told apart."""
    key = (uses_opened, protection)
    if key not in case.answers:
        case.answers[key] = uses(case.circuit, without=[protection])
    return cast(Uses, case.answers[key])

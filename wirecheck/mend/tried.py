"""An edit that was tried and does, with what is known of it."""

from __future__ import annotations

from typing import NamedTuple

from wirecheck.mend.edits import Edit
from wirecheck.mend.harm import Served
from wirecheck.mend.sheet import Sheet

Key = tuple[str, str]
"""A problem as it is known from one try to the next: its rule and what it is about."""

Drawbacks = tuple[int, int, int, int, int, int, int]
"""What speaks against a mend, the worst first; the fewer the better."""


class Tried(NamedTuple):
    """An edit that was tried, the sheet with it made, and the problems that went.

    `drawbacks` are how much has lost its ground-fault protection, how much runs that no line wants and that
    did not, how much of what problems name runs with no call, how many wires only do what another does, how
    much the safeties stop, which may be more than they should, how much advice is left, and how many wires
    of a thermostat are of an odd color; the fewer the better. `apart` is whether nothing else is left of the
    things that it clears a problem of. `after` is how the board is served then. `waits` is whether it lets
    something work that is not safe before the mends made before it are.
    """

    edit: Edit
    sheet: Sheet
    clears: frozenset[Key]
    drawbacks: Drawbacks
    apart: bool
    after: Served
    waits: bool = False

    @property
    def runs_besides(self) -> bool:
        """Whether something runs with it that no line wants and that did not, or with no call."""
        return any(self.drawbacks[1:3])

"""The screws that copper ties together, and which of them are a thermostat's."""

from __future__ import annotations

from collections.abc import Mapping

from wirecheck.judge.case import Case
from wirecheck.judge.grouped import grouped
from wirecheck.judge.question import question
from wirecheck.model.board import Terminal


@question
def screws_on(case: Case) -> Mapping[int, tuple[Terminal, ...]]:
    """The screws on each piece of copper."""
    return grouped((case.uses.piece[one.name], one) for one in case.board.terminals.values())


def is_thermostats(case: Case, terminal: Terminal) -> bool:
    """Whether a screw is of what makes calls."""
    device = case.board.devices.get(terminal.owner)
    return device is not None and bool(device.part.calls)

"""What of the board a screw belongs to."""

from __future__ import annotations

from wirecheck.judge.case import Case
from wirecheck.model.board import Box, Breaker, Device, Panel, Terminal


def holder(case: Case, terminal: Terminal) -> Device | Breaker | Panel | Box:
    """The device, breaker, panel or metal box that has a screw."""
    board, name = case.board, terminal.owner
    return board.devices.get(name) or board.breakers.get(name) or board.panels.get(name) or board.boxes[name]

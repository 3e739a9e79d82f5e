"""What a wire or a screw says that it is for: a wire by its color and its marks, a screw by its role.

This is what hands and eyes go by. What copper is used for, by where it leads, is `case.uses`.
"""

from __future__ import annotations

from typing import Literal

from wirecheck.model.board import Board, Conductor, Join, Member, Terminal
from wirecheck.model.colors import GROUND_COLORS, NEUTRAL_COLORS
from wirecheck.model.runs import CLASS_2_CABLES

Purpose = Literal["hot", "neutral", "ground"]


def is_class_2(conductor: Conductor) -> bool:
    """Whether it lies in a Class 2 cable."""
    return conductor.insulation in CLASS_2_CABLES


def is_grounding(conductor: Conductor) -> bool:
    """Whether its color makes it a grounding conductor; green in a thermostat's cable is the fan call."""
    return conductor.color in GROUND_COLORS and not is_class_2(conductor)


def of_color(color: str) -> Purpose:
    """What a color is for on a power circuit (200.6, 250.119, 310.6).

    >>> of_color("white"), of_color("bare"), of_color("red")
    ('neutral', 'ground', 'hot')
    """
    return "ground" if color in GROUND_COLORS else "neutral" if color in NEUTRAL_COLORS else "hot"


def of_terminal(terminal: Terminal) -> Purpose | None:
    """What belongs on a screw; None where it does not say, or takes either side."""
    role = terminal.spec.role
    if role in ("hot", "switched"):
        return "hot"
    return "neutral" if role == "neutral" else "ground" if role == "ground" else None


def of_conductor(conductor: Conductor, marked: str | None = None) -> Purpose | None:
    """What a wire is for by its color, or by the mark at one end; None in a Class 2 cable.

    Bare and green stay grounds whatever is wound around them (250.119).
    """
    if is_class_2(conductor):
        return None
    return of_color(conductor.color if conductor.color in GROUND_COLORS else marked or conductor.color)


def of_member(member: Member, board: Board) -> Purpose | None:
    """What a member of a join says that it is for."""
    if member.kind == "terminal":
        return of_terminal(board.terminals[member.name])
    conductor = board.conductors.get(member.name)
    return None if conductor is None else of_conductor(conductor, member.marked)


def meeting(join: Join, board: Board) -> frozenset[Purpose]:
    """The purposes that meet in a join."""
    return frozenset(purpose for member in join.members if (purpose := of_member(member, board)) is not None)


def is_power(conductor: Conductor) -> bool:
    """Whether it is there to carry current at line voltage: no grounding conductor, no Class 2 cable."""
    return of_conductor(conductor) in ("hot", "neutral")

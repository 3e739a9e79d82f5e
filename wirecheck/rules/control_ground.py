"""A stop or start button is on the grounded side of a control circuit.

Where its wire then touches metal, the coil has both of its sides without the button: the motor starts by
itself, or runs on with the stop button pressed.

Source: NEC 430.74 (from memory)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Contact, Load
from wirecheck.judge.case import Case
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.model.board import Device

MOMENTARY = "momentary"


class ButtonInGround(Problem):
    """`buttons` lie between `coil` and the side of its circuit that is on ground."""

    buttons: tuple[Device, ...]
    coil: Load


def find(case: Case) -> Iterator[ButtonInGround]:
    """Each coil behind buttons that none before it is behind."""
    copper, node = case.circuit.copper(), case.circuit.node
    ends = {node[end] for winding in case.circuit.windings for end in winding.secondary}
    grounded = {end for end in ends if copper[end] == copper[0]}
    told: set[str] = set()
    for coil in case.circuit.loads if grounded else ():
        buttons = [one for one in _buttons(case, coil, grounded) if one.name not in told]
        if coil.kind == "coil" and buttons:
            told.update(one.name for one in buttons)
            yield ButtonInGround(
                at=spot(buttons[0]),
                about=buttons[0],
                severity="hazard",
                stage="final",
                copper=frozenset((case.uses.piece[coil.a], case.uses.piece[coil.b])),
                buttons=tuple(buttons),
                coil=coil,
            )


def _buttons(case: Case, coil: Load, grounded: set[int]) -> Iterator[Device]:
    """What a hand presses on the way from ground to a coil."""
    for end in (coil.a, coil.b):
        node = case.circuit.node[end]
        origin = case.routes.origins.get(node)
        if origin is None or (origin.kind != "earth" and origin.node not in grounded):
            continue
        for step in case.routes.back(node):
            if isinstance(step.of, Contact) and MOMENTARY in step.of.flags:
                device = case.board.devices.get(case.circuit.devices[step.of.scope].outer)
                if device is not None:
                    yield device


def words(problem: ButtonInGround, case: Case) -> Words:
    """Which buttons, and which coil has its power without them once a wire touches metal."""
    names, coil = listed(one.name for one in problem.buttons), problem.coil.name
    are, do = ("is", "it does") if len(problem.buttons) == 1 else ("are", "they do")
    return Words(
        message=f"{names} {are} between {coil} and the grounded side of its circuit. Where a wire there "
        f"touches metal, {coil} is on, whatever {do}.",
        help=f"Bring the grounded side straight to {coil}, and {names} into its other side.",
        source=case.code.section("a grounded control circuit"),
    )


RULE = rule(__name__, "final", severities=("hazard",), find=find, words=words)

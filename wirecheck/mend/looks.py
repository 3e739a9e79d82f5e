"""Where to look, where no mend was found: a line from the problem's own objects, which claims no remedy."""

from __future__ import annotations

from wirecheck.circuit.circuit import Load, Outlet
from wirecheck.judge.problem import Problem
from wirecheck.language.listing import listed
from wirecheck.model.board import Conductor, Device, Join

POWER_OFF = "Look again, with the power off,"


def where_to_look(problem: Problem) -> str | None:
    """The joint, the wire or the device to look at; None where its line is all there is to see.

    A line of the board that only asks for something is not to blame: the wires of what it asks for are.
    """
    match problem.at.of:
        case Join(place):
            return f"{POWER_OFF} at this joint in {place}, and at the other ends of its wires."
        case Conductor() as wire:
            ends = listed(dict.fromkeys(wire.places))
            return f"{POWER_OFF} at both ends of {wire.name}: in {ends}."
        case Device(name):
            return f"{POWER_OFF} at each wire on {name}, and where it comes from."
    if isinstance(problem.about, Device | Load | Outlet):
        return f"{POWER_OFF} at each wire on the way to {problem.about.name} and back."
    return None

"""Where to look, where no mend was found: a line from the problem's own objects, which claims no remedy."""

from __future__ import annotations

from wirecheck.circuit.circuit import Load, Outlet
from wirecheck.judge.finding import Finding
from wirecheck.judge.problem import LOOK_AGAIN
from wirecheck.language.listing import listed
from wirecheck.model.board import Conductor, Device, Join


def where_to_look(finding: Finding) -> str | None:
    """The joint, the wire or the device to look at; None where its line is all there is to see.

    A line of the board that only asks for something is not to blame: the wires of what it asks for are. The
    rule's own word goes first.
    """
    problem = finding.problem
    if finding.look is not None or problem is None:
        return finding.look
    match problem.at.of:
        case Join(place):
            return f"{LOOK_AGAIN} at this joint in {place}, and at the other ends of its wires."
        case Conductor() as wire:
            ends = listed(dict.fromkeys(wire.places))
            return f"{LOOK_AGAIN} at both ends of {wire.name}: in {ends}."
        case Device(name):
            return f"{LOOK_AGAIN} at each wire on {name}, and where it comes from."
    if isinstance(problem.about, Device | Load | Outlet):
        return f"{LOOK_AGAIN} at each wire on the way to {problem.about.name} and back."
    return None

"""Where to look, where no mend was found: a line from the problem's own objects, which claims no remedy."""

from __future__ import annotations

from wirecheck.circuit.circuit import Load, Outlet
from wirecheck.judge.problem import Problem
from wirecheck.language.listing import listed
from wirecheck.model.board import Conductor, Device, Join
from wirecheck.rules.wrong_voltage import OneLeg, TooLittle

POWER_OFF = "Look again, with the power off,"


def where_to_look(problem: Problem) -> str | None:
    """The joint, the wire or the device to look at; None where its line is all there is to see.

    A line of the board that only asks for something is not to blame: the wires of what it asks for are.
    """
    if isinstance(problem, TooLittle) and problem.one_leg is not None:
        return _at_the_panel(problem, problem.one_leg)
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


def _at_the_panel(problem: TooLittle, circuit: OneLeg) -> str:
    """Where a load that takes two hots has one: the joint of the white is the place, and not the load."""
    breaker, white = circuit.breaker, circuit.white.name
    poles = "one pole" if len(breaker.poles) == 1 else f"{len(breaker.poles)} poles"
    there = (
        f"{POWER_OFF} in {breaker.panel}: breaker {breaker.name} has {poles}, and {white} is on the neutral."
    )
    takes = f"{problem.load.name} takes both legs, from a 2-pole breaker"
    if not circuit.alone:
        return f"{there} {takes} of its own: something else here takes the neutral."
    if circuit.of_cable:
        return f"{there} {takes}, and {white} is then a hot, marked so at each end."
    return f"{there} {takes}, with a second hot in the place of {white}."

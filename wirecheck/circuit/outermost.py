"""What on the board a thing belongs to: what a person would point at."""

from __future__ import annotations

from collections.abc import Mapping

from wirecheck.circuit.circuit import Leg, Load, Outlet, Protection, Variable, Winding
from wirecheck.model.board import Box, Breaker, Conductor, Device, Panel, Point, Raceway, Run, Terminal


def outermost(thing: object, devices: Mapping[str, Device]) -> str:
    """The name of what a thing belongs to, or nothing for what is no thing of a board.

    Parameters
    ----------
    thing : a piece of the board or of its circuit
    devices : every device of the board, at any depth, by name

    Examples
    --------
    >>> from wirecheck.language.syntax import Span
    >>> outermost(Panel("LP", "120", {}, None, Span(1, 1, 1, 1)), {})
    'LP'
    """
    match thing:
        case Device(outer=name) | Point(outer=name) | Terminal(owner=name) | Leg(panel=name):
            return name
        case Conductor(run=name) | Run(name=name) | Raceway(name=name):
            return name
        case Breaker(name=name) | Box(name=name) | Panel(name=name):
            return name
        case Load() | Outlet() | Winding() | Protection() | Variable():
            return devices[thing.device].outer if thing.device in devices else thing.device
    return ""

"""A wire on the wrong screw, or two that are on each other's, in words."""

from __future__ import annotations

from wirecheck.judge.control_wires import Crossing
from wirecheck.judge.swaps import Misplaced, Swap, Swapped


def crossing(crossed: Crossing) -> str:
    """Where the two ends of a crossed wire are, as a sentence."""
    return (
        f"At {crossed.join.place}, {crossed.conductor.name} is on {crossed.here.name}, "
        f"and its other end is on {crossed.origin.name}."
    )


def seen(swap: Swap) -> str:
    """What is seen, as a sentence."""
    if swap.crossed is not None:
        return crossing(swap.crossed)
    match swap:
        case Swapped(one, other):
            return (
                f"On {one.owner}, the wires on the {one.spec.name} and {other.spec.name} screws are swapped."
            )
        case Misplaced(here, meant):
            return f"The wire that belongs on {meant.name} is on {here.name}."


def remedy(swap: Swap) -> str:
    """What to do about it, as a sentence."""
    match swap:
        case Swapped(one, other, join, members):
            if swap.crossed is not None:
                return f"At {join.place}, swap {members[0].name} and {members[1].name}."
            return f"Swap the wires on {one.name} and {other.name}."
        case Misplaced(here, meant, _, member):
            wire = "the wire" if swap.crossed is None else member.name
            return f"Move {wire} from {here.name} to {meant.name}."

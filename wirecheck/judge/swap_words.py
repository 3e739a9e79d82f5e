"""A wire on the wrong screw, or two that are on each other's, in words."""

from __future__ import annotations

from wirecheck.judge.control_wires import Crossing
from wirecheck.judge.swaps import Misplaced, Swap, Swapped


def crossing(crossed: Crossing) -> str:
    """Where the two ends of a crossed wire are, as a sentence."""
    return (
        f"At {crossed.join.place}, {crossed.conductor.name} is on {crossed.here.name}, "
        f"and {'comes by a splice from' if crossed.spliced else 'its other end is on'} {crossed.origin.name}."
    )


def seen(swap: Swap) -> str:
    """What is seen, as a sentence."""
    if swap.crossed is not None:
        return crossing(swap.crossed)
    match swap:
        case Swapped(one, other, join):
            return f"At {join.place}, the wires on {one.name} and {other.name} are swapped."
        case Misplaced(here, meant):
            return f"The wire that belongs on {meant.name} is on {here.name}."


def remedy(swap: Swap) -> str:
    """What to do about it, as a sentence."""
    match swap:
        case Swapped(one, other, join):
            wires = f"{one.name} and {other.name}"
            return f"At {join.place}, swap {wires if swap.crossed else f'the wires on {wires}'}."
        case Misplaced(here, meant, _, member):
            wire = member.name if swap.crossed else "the wire"
            return f"Move {wire} from {here.name} to {meant.name}."

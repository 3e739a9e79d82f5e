"""A breaker or a fuse in words."""

from __future__ import annotations

from wirecheck.circuit.circuit import Protection


def kind(protection: Protection) -> str:
    """What it is: "breaker" or "fuse"."""
    return "fuse" if protection.kind == "fuse" else "breaker"


def opens(protection: Protection) -> str:
    """What it does: "trips" or "blows"."""
    return "blows" if protection.kind == "fuse" else "trips"


def begun(protection: Protection) -> str:
    """What it is and its name, as a sentence begins: "Breaker LP.3"."""
    return f"{kind(protection).capitalize()} {protection.name}"

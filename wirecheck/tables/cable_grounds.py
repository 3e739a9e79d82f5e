"""The grounding conductor that a cable is made with, which may be smaller than its other conductors."""

from __future__ import annotations

from wirecheck.tables.published import keyed
from wirecheck.tables.sizes import trade_size


def cable_ground(kind: str, material: str, size: str) -> str:
    """The size of the ground in a cable whose other conductors are of this size and metal.

    Examples
    --------
    >>> [cable_ground("NM-B", "copper", size) for size in ("14", "10", "8", "6", "4")]
    ['14', '10', '10', '10', '8']
    """
    row = keyed("cable_grounds", "kind", "material", "size").get((kind, material, trade_size(size)))
    return row["ground"] if row else size

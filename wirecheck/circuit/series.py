"""Loads in series: the same current through one after the other, with nothing else on the copper between."""

from __future__ import annotations

from wirecheck.circuit.settle import Settled, copper

# Amperes below which nothing is said to flow.
FLOWS = 1e-6


def in_series(settled: Settled, load: str) -> tuple[str, ...]:
    """The other loads that a load is in series with in a state, in the order that the board names them.

    Two loads are in series where the copper between them, closed contacts
    included, feeds nothing else and is tied to no source and not to earth.
    """
    circuit = settled.circuit
    if load not in circuit.load:
        return ()
    piece_of = copper(settled)
    tied = {piece_of[0], *(piece_of[circuit.node[leg.point]] for leg in circuit.legs)}
    for winding in circuit.windings:
        tied |= {piece_of[circuit.node[point]] for point in (*winding.primary, *winding.secondary)}
    fed: dict[int, list[str]] = {}
    ends: dict[str, tuple[int, int]] = {}
    for each in circuit.loads:
        one, other = piece_of[circuit.node[each.a]], piece_of[circuit.node[each.b]]
        if one != other and settled.load_amps(each) > FLOWS:
            ends[each.name] = (one, other)
            for piece in (one, other):
                fed.setdefault(piece, []).append(each.name)
    chain = [load] if load in ends else []
    for name in chain:
        for piece in ends[name]:
            if piece not in tied and len(fed[piece]) == 2:
                chain += (other for other in fed[piece] if other not in chain)
    return tuple(each.name for each in circuit.loads if each.name in chain and each.name != load)

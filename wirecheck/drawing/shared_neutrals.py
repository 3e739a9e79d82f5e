"""Neutrals that bring back the current of two hots: on a ladder each hot has an N, and the wire is one.

What such a neutral carries is what a multiwire circuit is about (NEC, Article 100): on opposite legs the
difference of the two currents, on one leg, by mistake, their sum.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set
from itertools import combinations

from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.routes import Zone, routes, zones
from wirecheck.judge.purpose import is_grounding
from wirecheck.language.listing import listed

MOST = 3
"""So many neutrals of two hots are named; of more no more than how many."""
OPPOSITE = 1.0
"""Two legs are opposite whose volts add up to less than this."""


def shared_neutrals(circuit: Circuit) -> Iterator[str]:
    """A sentence for each two hots of breakers that share a neutral.

    >>> from wirecheck.assembly import assemble
    >>> from wirecheck.circuit.circuit import circuit
    >>> from wirecheck.files import folder
    >>> text = (folder("boards") / "split-wired-receptacle" / "right.wire").read_text("utf-8")
    >>> list(shared_neutrals(circuit(assemble(text)[1])))
    ['Two poles of TP.34 have one neutral, W1.white: it carries the difference of their currents.']
    """
    volts = {leg.name: leg.volts for leg in circuit.legs}
    every = zones(circuit, routes(circuit)) if len(circuit.legs) > 1 else ()
    breakers = circuit.board.breakers
    fed = [each for each in every if each.origin.kind == "leg" and each.protection.name in breakers]
    # The neutral of a feeder is that of a panel, whose circuits may be on one leg.
    fed = [each for each in fed if each.loads or each.outlets or each.windings]
    behind = [dict.fromkeys(wire.name for wire in zone.returns if not is_grounding(wire)) for zone in fed]
    for (one, back), (other, theirs) in combinations(zip(fed, behind, strict=True), 2):
        neutrals = [name for name in back if name in theirs]
        if not neutrals or {wire.name for wire in one.hots} & {wire.name for wire in other.hots}:
            continue  # two hots that are joined are one
        beside = list(_beside(circuit, neutrals, {*back, *theirs}))
        carried = ""
        if beside:
            carried = f", and beside it {listed(beside, MOST)}: each carries a part of their currents"
        elif one.origin == other.origin:
            carried = ": it carries the sum of their currents"
        elif abs(sum(volts[zone.origin.name] for zone in (one, other))) < OPPOSITE:
            carried = ": it carries the difference of their currents"
        yield f"{_both(one, other)} have one neutral, {listed(neutrals, MOST)}{carried}."


def _beside(circuit: Circuit, neutrals: Sequence[str], known: Set[str]) -> Iterator[str]:
    """The wires that are no ground and lie between the same two places as a neutral, joined as it is."""
    wires = circuit.board.conductors
    run = [(set(wires[name].places), {circuit.node[end] for end in wires[name].ends}) for name in neutrals]
    for wire in wires.values():
        if wire.name in known or is_grounding(wire) or wire.stays:
            continue
        ends = {circuit.node[end] for end in wire.ends}
        if any(set(wire.places) == places and ends <= joined for places, joined in run):
            yield wire.name


def _both(one: Zone, other: Zone) -> str:
    if one.protection.name == other.protection.name:
        return f"Two poles of {one.protection.name}"
    return f"{one.protection.name} and {other.protection.name}"

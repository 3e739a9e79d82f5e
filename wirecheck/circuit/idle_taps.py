"""The taps of motors that run on another of their taps: nobody knows the volts there, and they are not dead.

The windings of a motor's speeds are on one core, and make a transformer: on an idle tap a meter shows volts
from the winding that runs, about as many as that has or more (common practice: each unused lead is capped by
itself). What is worked out here has no such core, and would show the common lead's own volts there.
"""

from __future__ import annotations

from wirecheck.circuit.circuit import Load
from wirecheck.circuit.settle import Settled, not_conducting

NONE = 0.02
"""So small a share of its volts is none: the tap is fed by nothing."""


def idle_taps(settled: Settled) -> dict[int, Load]:
    """The nodes that lead to nothing but an idle tap of a motor that runs; of each, the load that runs."""
    circuit = settled.circuit
    node = circuit.node
    motors = [load for load in circuit.loads if load.kind == "motor"]
    running = {
        (load.device, node[load.b]): load for load in motors if load.inrush and load.name in settled.running
    }
    idle = {
        node[load.a]: running[load.device, node[load.b]]
        for load in motors
        if load.name not in settled.running
        and (load.device, node[load.b]) in running
        and settled.load_volts(load) <= NONE * load.volts
    }
    if not idle:
        return {}
    one = circuit.copper(settled.closed, not_conducting(circuit, settled.positions, settled.opened))
    held = {one[node[leg.point]] for leg in circuit.legs} | {one[0]}
    taps = {one[each]: load for each, load in idle.items() if one[each] not in held}
    return {each: taps[first] for each, first in one.items() if first in taps}

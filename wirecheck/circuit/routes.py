"""The way back from each point to the source it hangs on, and what each breaker or fuse protects.

A route leads through conductors, contacts and protection, never through a load,
so each point belongs to one side of one source: a panel's leg, earth, or one
end of a transformer's secondary. Of several ways it is the one of least impedance.
"""

from __future__ import annotations

import heapq
from typing import NamedTuple

from wirecheck.circuit.circuit import (
    CONTACT_OHMS,
    LOOKS_A_STEP,
    Circuit,
    Contact,
    Load,
    Outlet,
    Protection,
    Winding,
    Wire,
    number,
)
from wirecheck.circuit.settle import Settled
from wirecheck.model.board import Conductor, Device

# What protects conductors; a ground-fault device, a thermal cutout or a supplementary protector does not.
OVERCURRENT = frozenset(("breaker", "fuse"))


class Origin(NamedTuple):
    """Where a route begins: `kind` is leg, earth or winding; `name` the leg's or the winding's."""

    kind: str
    name: str
    node: int


class Step(NamedTuple):
    """One conductor, contact or pole on a route, from the node nearer the source to the other.

    `sign` is 1 where that is from the element's own `a` to its `b`, so that
    a solution's current times `sign` is what flows away from the source.
    """

    origin: int
    target: int
    name: str
    sign: int
    of: Wire | Contact | Protection


class Routes(NamedTuple):
    """`origins` and the last `steps` of the route to each node that hangs on a source."""

    origins: dict[int, Origin]
    steps: dict[int, Step]

    def back(self, node: int) -> tuple[Step, ...]:
        """The route from the source to a node; empty at the source itself and where there is none."""
        steps: list[Step] = []
        while node in self.steps:
            steps.append(self.steps[node])
            node = self.steps[node].origin
        return tuple(reversed(steps))


def routes(circuit: Circuit, settled: Settled | None = None) -> Routes:
    """The routes of a circuit in one state, or with every contact taken as closed.

    Dijkstra's algorithm from all sources at once, with impedance as length.
    """
    near = _neighbors(circuit, settled)
    origins = {0: Origin("earth", "earth", 0)}
    for leg in circuit.legs:
        node = circuit.node[leg.point]
        origins.setdefault(node, Origin("leg", leg.name, node))
    for winding in circuit.windings:
        for end in winding.secondary:
            node = circuit.node[end]
            origins.setdefault(node, Origin("winding", winding.name, node))
    steps: dict[int, Step] = {}
    distance = dict.fromkeys(origins, 0.0)
    waiting = [(0.0, node) for node in origins]
    heapq.heapify(waiting)
    while waiting:
        far, node = heapq.heappop(waiting)
        if far > distance[node]:
            continue
        for step, ohms in near.get(node, ()):
            if far + ohms < distance.get(step.target, float("inf")):
                distance[step.target] = far + ohms
                steps[step.target] = step
                origins[step.target] = origins[node]
                heapq.heappush(waiting, (far + ohms, step.target))
    return Routes(origins, steps)


def _neighbors(circuit: Circuit, settled: Settled | None) -> dict[int, list[tuple[Step, float]]]:
    opened = {opening.name for opening in settled.opened} if settled else set()
    near: dict[int, list[tuple[Step, float]]] = {}

    def lay(a: int, b: int, name: str, of: Wire | Contact | Protection, ohms: float) -> None:
        near.setdefault(a, []).append((Step(a, b, name, 1, of), ohms))
        near.setdefault(b, []).append((Step(b, a, name, -1, of), ohms))

    for wire, branch in zip(circuit.wires, circuit.cold_wires, strict=True):
        lay(branch.a, branch.b, wire.conductor.name, wire, abs(branch.ohms))
    for contact in circuit.contacts:
        if settled is None or contact.name in settled.closed:
            lay(circuit.node[contact.a], circuit.node[contact.b], contact.name, contact, CONTACT_OHMS)
    for protection in circuit.protections:
        if protection.name not in opened:
            for pole, (a, b) in enumerate(protection.pairs):
                lay(circuit.node[a], circuit.node[b], protection.pole(pole), protection, CONTACT_OHMS)
    return near


# -------------------------------------------------------------------- zones


class Zone(NamedTuple):
    """What one pole of a breaker or fuse protects, up to the next one and to the loads.

    `hots` are all conductors that it feeds; `returns` those that bring the
    current of its loads and outlets back to the source, or to the neutral bar of
    the subpanel on their way. `feeds` are the subpanels whose lugs it feeds: the
    neutral of a feeder is among its returns.
    """

    protection: Protection
    pole: int
    origin: Origin
    hots: tuple[Conductor, ...]
    returns: tuple[Conductor, ...]
    loads: tuple[Load, ...]
    outlets: tuple[Outlet, ...]
    windings: tuple[Winding, ...]
    feeds: tuple[str, ...] = ()


def zones(circuit: Circuit, every: Routes) -> tuple[Zone, ...]:
    """The zone of each pole of each breaker and fuse; `every` are the routes with all contacts closed."""
    near = _neighbors(circuit, None)
    sources = {0} | {circuit.node[leg.point] for leg in circuit.legs}
    sources |= {circuit.node[end] for winding in circuit.windings for end in winding.secondary}
    found = []
    for protection in circuit.protections:
        if protection.kind not in OVERCURRENT:
            continue
        circuit.work.spend(1 + (len(circuit.loads) + len(circuit.outlets)) // LOOKS_A_STEP)
        for pole, (a, b) in enumerate(protection.pairs):
            upstream, start = circuit.node[a], circuit.node[b]
            step = every.steps.get(upstream)
            if step is not None and step.of is protection:
                upstream, start = start, upstream
            origin = every.origins.get(upstream)
            if origin is not None and start not in sources:
                found.append(_zone(circuit, every, near, protection, pole, origin, start, sources))
    return tuple(found)


def _zone(
    circuit: Circuit,
    every: Routes,
    near: dict[int, list[tuple[Step, float]]],
    protection: Protection,
    pole: int,
    origin: Origin,
    start: int,
    sources: set[int],
) -> Zone:
    inside = {start}
    waiting = [start]
    hots: dict[str, Conductor] = {}
    while waiting:
        for step, _ in near.get(waiting.pop(), ()):
            if isinstance(step.of, Protection) and step.of.kind in OVERCURRENT:
                continue
            if isinstance(step.of, Wire):
                hots[step.name] = step.of.conductor
            if step.target not in inside and step.target not in sources:
                inside.add(step.target)
                waiting.append(step.target)
    at = circuit.node
    loads = tuple(one for one in circuit.loads if any(at[end] in inside for end in one.ends))
    fed = tuple(one for one in circuit.outlets if at[one.hot] in inside or at[one.neutral] in inside)
    windings = tuple(one for one in circuit.windings if any(at[end] in inside for end in one.primary))
    ends: list[tuple[str, ...]] = [load.ends for load in loads]
    ends += [(one.hot, one.neutral) for one in fed]
    ends += [one.primary for one in windings]
    panels = circuit.board.subpanels.values() if circuit.board.subpanels else ()
    feeds = tuple(one.name for one in panels if any(at[one.lug(leg)] in inside for leg in one.legs))
    home = [at[point] for pair in ends for point in pair] + [at[f"{name}.neutral"] for name in feeds]
    returns: dict[str, Conductor] = {}
    for node in home:
        back = every.origins.get(node)
        if node not in inside and back is not None and back.kind != "leg":
            for step in behind_the_last_panel(circuit, every.back(node)):
                if isinstance(step.of, Wire) and step.name not in hots:
                    returns[step.name] = step.of.conductor
    return Zone(
        protection, pole, origin, tuple(hots.values()), tuple(returns.values()), loads, fed, windings, feeds
    )


def behind_the_last_panel(circuit: Circuit, steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """Of a way, what is behind the bus or neutral bar of the last subpanel on it: the rest is a feeder's."""
    panels = circuit.board.subpanels.values()
    if not panels:
        return steps
    bars = {circuit.node[f"{panel.name}.neutral"] for panel in panels}
    bars |= {circuit.node[panel.on_bus(leg)] for panel in panels for leg in panel.legs}
    last = max((number for number, step in enumerate(steps) if step.origin in bars), default=0)
    return steps[last:]


# ---------------------------------------------------------------- equipment


def equipment(circuit: Circuit, device: str) -> Device | None:
    """The outermost device around one (or itself) whose nameplate states a minimum circuit ampacity."""
    return next((one for one in circuit.around[device] if nameplate(one, "mca") is not None), None)


def nameplate(device: Device, name: str) -> float | None:
    """A rating of a device in SI, or None where its part has no such figure."""
    value = number(device.values.get(name), device.values)
    return value.value if value else None

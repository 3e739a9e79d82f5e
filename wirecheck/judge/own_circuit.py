"""Which wires bring a machine with a nameplate its power, and which leave its screws again for a control."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from wirecheck.circuit.circuit import Wire
from wirecheck.circuit.routes import equipment, nameplate
from wirecheck.judge.case import Case
from wirecheck.judge.currents import drawers
from wirecheck.judge.question import question
from wirecheck.model.board import Device


class OwnCircuit(NamedTuple):
    """By conductor, the machines that it feeds, and those that it is a part of the control of, by name.

    A room thermostat's wires, from a screw of the machine and back to another one, feed nothing: they carry
    what the thermostat turns on.
    """

    feeds: Mapping[str, Mapping[str, Device]]
    controls: Mapping[str, Mapping[str, Device]]


@question
def own_circuit(case: Case) -> OwnCircuit:
    """The wires at line voltage on the way of all that draws current in such a machine, by its screws."""
    node, routes = case.circuit.node, case.routes
    feeds: dict[str, dict[str, Device]] = {}
    controls: dict[str, dict[str, Device]] = {}
    for drawer in drawers(case):
        around = equipment(case.circuit, drawer.of.device)
        if around is None or nameplate(around, "mca") is None:
            continue
        screws = {node[f"{around.name}.{name}"] for name in around.part.terminals}
        for point in (drawer.a, drawer.b):
            origin = routes.origins.get(node[point])
            if origin is None or origin.kind == "winding":
                continue
            told = feeds
            for step in routes.back(node[point]):
                if isinstance(step.of, Wire):
                    told.setdefault(step.name, {})[around.name] = around
                if step.target in screws:
                    told = controls
    return OwnCircuit(feeds, {name: there for name, there in controls.items() if name not in feeds})

"""What a meter shows: volts between two points, amperes in a conductor, ohms with the power off.

A voltmeter is a 10 megohm resistor between its leads, and conductors that run
beside each other in a cable are the plates of a small capacitor: so a wire that
is joined to nothing shows the phantom volts that it shows at the bench.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import Literal, NamedTuple

from wirecheck.circuit.circuit import COILS, CONTACT_OHMS, Circuit, Load
from wirecheck.circuit.idle_taps import idle_taps
from wirecheck.circuit.network import Branch, Impedance, Network, Source, Transformer
from wirecheck.circuit.settle import Settled, copper, input_branches, network, solved
from wirecheck.language.quantity import shown
from wirecheck.language.words import nearest

# The input of a common digital multimeter on volts (common practice).
METER_OHMS = 10e6
# Between two neighboring conductors of a cable: some 20 pF a foot (common practice, from memory).
FARADS_PER_METRE = 20e-12 / 0.3048
HERTZ = 60.0
# Less than this between two points and a source is no power (common practice: a meter's last digits).
POWER_OFF_VOLTS = 1.0
# Less than this through a point is none (common practice: a clamp meter's last digits).
POWER_OFF_AMPS = 0.01
# Less than this is a path of plain copper, joint to joint (common practice).
COPPER_OHMS = 0.5
# A heating element has nearly the same resistance cold and hot (common practice).
KNOWN_COLD = ("heater",)
# The copper of a coil takes from so much of its watts, to all of them (the least from memory, the most by the
# conservation of energy: what its iron takes does not heat its copper).
LEAST_OF_A_COIL = 0.25
# Of a transformer's impedance each winding has about a half, referred to its own side (common practice).
OF_A_WINDING = (0.25, 0.75)
DIMENSION = {"V": "voltage", "A": "current", "ohm": "resistance"}
# What stands in the place of volts at an idle tap of a motor that runs.
INDUCED = "not 0 V"
# More than this an ohmmeter shows as open.
MOST_OHMS = 40e6


class Ambiguous(LookupError):
    """A name that means no point of the board, or more than one; `choices` are the points near it."""

    def __init__(self, message: str, choices: tuple[str, ...] = ()) -> None:
        super().__init__(message)
        self.choices = choices


class PowerOn(ValueError):
    """Ohms cannot be measured here: there is power."""

    def __init__(self) -> None:
        super().__init__(
            "There is power between these points. An ohmmeter on a live circuit shows nothing true and can "
            "burst in your hand: de-energize, lock out, prove absence of voltage, and then measure ohms."
        )


class Reading(NamedTuple):
    """What the meter shows, in SI; `value` is None where it shows open, or what it shows cannot be known.

    `phantom` says that volts come from wires alongside, and not through copper;
    `floating` that nothing joins the two points, so that the display drifts.
    `induced` that they come from the winding of a motor that runs, on whose core another is: nobody knows how
    many.
    `through` names the loads that the meter's own current goes through. `between` are the least
    and the most that coils and windings of their volts and VA have, where the path is through one.
    `most` is what the other paths leave beside those of which nothing is known: it shows no more.
    """

    value: float | None
    unit: Literal["V", "A", "ohm"]
    phantom: bool = False
    floating: bool = False
    through: tuple[str, ...] = ()
    between: tuple[float, float] | None = None
    most: float | None = None
    induced: bool = False

    @property
    def text(self) -> str:
        """What stands on the display, and a word where that word is the reading.

        Examples
        --------
        >>> Reading(None, "ohm", between=(2.52, 10.1)).text
        '2.52 ohm to 10.1 ohm, typical'
        >>> Reading(None, "ohm", through=("L1",), most=0.61).text
        '0.61 ohm or less'
        >>> Reading(119.84, "V").text, Reading(0.0, "V", floating=True).text, Reading(None, "ohm").text
        ('120 V', '0 V, floating', 'OL')
        """
        if self.between is not None:
            least, most = (shown(ohms, "resistance") for ohms in self.between)
            return f"{least} to {most}, typical"
        if self.most is not None:
            return f"{shown(self.most, 'resistance')} or less"
        if self.induced:
            return INDUCED
        if self.value is None:
            return "not known cold" if self.through else "OL"
        word = ", phantom" if self.phantom else ", floating" if self.floating else ""
        return f"{shown(self.value, DIMENSION[self.unit])}{word}"


def point(circuit: Circuit, name: str) -> str:
    """The point that a name means: a terminal, a conductor's end, a conductor whose ends are joined alike.

    Raises
    ------
    Ambiguous
        For a conductor, whose two ends are two points; and for no point at all.
    """
    name = circuit.board.screws.get(name, name)
    if name in circuit.node:
        return name
    conductor = circuit.board.conductors.get(name)
    if conductor is not None:
        raise Ambiguous(f"{name} has two ends: say which.", conductor.ends)
    inside = tuple(each.name for each in circuit.point.values() if name in (each.owner, each.outer))
    raise Ambiguous(
        f"{name} is no screw and no wire's end on this board.", inside[:12] or _near(name, circuit.node)
    )


def _near(name: str, names: Iterable[str]) -> tuple[str, ...]:
    near = nearest(name, names)
    return (near,) if near else ()


def volts(settled: Settled, a: str, b: str) -> Reading:
    """Volts between two points in a state, as the meter shows them."""
    circuit = settled.circuit
    one, other = circuit.node[a], circuit.node[b]
    if one == other:
        return Reading(0.0, "V")
    taps = idle_taps(settled).keys()
    if len({one, other} & taps) == 1 or ({one, other} <= taps and not _tied(settled, one, other)):
        return Reading(None, "V", induced=True)
    meter = Impedance("meter/", one, other, METER_OHMS)
    alone = solved(network(settled, [meter]))
    beside = solved(network(settled, [meter, *_cable_capacitance(circuit)]))
    reads = abs(beside.volts[one] - beside.volts[other])
    through_copper = abs(alone.volts[one] - alone.volts[other])
    phantom = reads > 0.5 and through_copper < 0.5 * reads
    apart = settled.islands[one] != settled.islands[other]
    return Reading(reads, "V", phantom=phantom, floating=apart and not phantom)


def _tied(settled: Settled, one: int, other: int) -> bool:
    """Whether copper holds two nodes together."""
    together = copper(settled)
    return together[one] == together[other]


def _cable_capacitance(circuit: Circuit) -> Iterator[Branch]:
    """Each two conductors of a cable as the capacitor that they are."""
    for run in circuit.board.runs.values():
        if not run.jacketed:
            continue
        ohms = -1j / (math.tau * HERTZ * FARADS_PER_METRE * run.length)
        for index, one in enumerate(run.conductors):
            for other in run.conductors[index + 1 :]:
                a, b = circuit.node[one.ends[0]], circuit.node[other.ends[0]]
                if a != b:
                    yield Impedance(f"{one.name} beside {other.name}", a, b, ohms)


def amps(settled: Settled, name: str) -> Reading:
    """Amperes in a conductor, a load, a breaker or a leg, as a clamp around it shows them.

    Raises
    ------
    Ambiguous
        Where nothing of that name carries current.
    """
    load = settled.circuit.load.get(name)
    if load is not None:
        return Reading(settled.load_amps(load), "A")
    if name in settled.amps:
        return Reading(abs(settled.amps[name]), "A")
    conductors = settled.circuit.board.conductors
    # A wire that is broken on its way carries nothing.
    if name in conductors and all(one.conductor.name != name for one in settled.circuit.wires):
        return Reading(0.0, "A")
    inside = tuple(each.name for each in conductors.values() if each.run == name)
    near = inside[:12] or _near(name, [*conductors, *settled.circuit.load])
    raise Ambiguous(f"{name} is no conductor, load or breaker of this board.", near)


def ohms(settled: Settled, a: str, b: str) -> Reading:
    """Ohms between two points with every source off, contacts and switches as they stand in the state.

    Conductors, contacts and heaters have the resistance that they have when
    they work. A coil and a transformer's winding have the least and the most
    that their volts and VA allow. What a lamp or a motor shows cold its
    nameplate does not tell, so a path through one is named and gets no number.

    Raises
    ------
    PowerOn
        Where a source stands between either point and anything else.
    """
    circuit = settled.circuit
    one, other = circuit.node[a], circuit.node[b]
    for node in (one, other):
        if node not in settled.floating and abs(settled.volts[node]) > POWER_OFF_VOLTS:
            raise PowerOn
    if settled.across(a, b) > POWER_OFF_VOLTS or _carries(settled, one, other):
        raise PowerOn
    if one == other:
        return Reading(0.0, "ohm")
    loads = circuit.load_of
    inputs = {branch.name for branch in input_branches(circuit)}
    known = [
        branch
        for branch in network(settled).branches
        if isinstance(branch, Impedance)
        and branch.name not in inputs
        and (branch.name not in loads or loads[branch.name].kind in KNOWN_COLD)
    ]
    wound, cold = list(_wound(circuit)), dict(_unknown(circuit))
    value, _ = _ohmmeter(circuit, known, one, other)
    most, flows = _ohmmeter(circuit, [*known, *(each.most for each in wound), *cold], one, other)
    if most is None:
        return Reading(None, "ohm")
    owner = {branch.name: name for branch, name in cold.items()}
    owner |= {each.most.name: each.owner for each in wound}
    owner |= {branch.name: branch.name for branch in known if branch.name in loads}
    through = tuple(dict.fromkeys(owner[name] for name in flows if name in owner))
    # Beside plain copper nothing that a nameplate hides makes a difference.
    if value is not None and value < COPPER_OHMS:
        return Reading(value, "ohm")
    if not flows.keys().isdisjoint(branch.name for branch in cold):
        # A path more never makes more ohms of those that are there.
        beside, _ = _ohmmeter(circuit, [*known, *(each.most for each in wound)], one, other)
        return Reading(None, "ohm", through=through, most=beside)
    if flows.keys().isdisjoint(each.most.name for each in wound):
        return Reading(value, "ohm", through=through)
    least, _ = _ohmmeter(circuit, [*known, *(each.least for each in wound)], one, other)
    return Reading(None, "ohm", through=through, between=None if least is None else (least, most))


def _carries(settled: Settled, *nodes: int) -> bool:
    """Whether current flows through one of these nodes, as it does through a neutral at no volts."""
    return any(
        abs(settled.amps.get(branch.name, 0)) > POWER_OFF_AMPS
        for branch in network(settled).branches
        if not _ends(branch).isdisjoint(nodes)
    )


def _ends(branch: Branch) -> set[int]:
    if isinstance(branch, Transformer):
        return {branch.p1, branch.p2, branch.s1, branch.s2}
    return {branch.a, branch.b}


def _ohmmeter(
    circuit: Circuit, branches: list[Impedance], a: int, b: int
) -> tuple[float | None, dict[str, complex]]:
    """The ohms that a volt of the meter's own finds, None for open, and what its current goes through."""
    answer = solved(Network(circuit.nodes, (*branches, Source("ohmmeter/", a, b, 1.0, CONTACT_OHMS))))
    current = abs(answer.amps["ohmmeter/"])
    flows = {name: amps for name, amps in answer.amps.items() if abs(amps) > 1e-6 * current}
    return (1.0 / current - CONTACT_OHMS if current > 1.0 / MOST_OHMS else None), flows


class Wound(NamedTuple):
    """A coil or a winding with the least and the most ohms that its copper has, and whose it is."""

    owner: str
    least: Impedance
    most: Impedance


def _wound(circuit: Circuit) -> Iterator[Wound]:
    """The coils and windings of a circuit, whose copper their volts and VA hold between two bounds.

    What heats a coil's copper is no more than its watts, with its iron drawn in or not: R is no
    more than the real part of its impedance (W = I^2 R; conservation of energy).
    """
    for load in filter(_is_coil, circuit.loads):
        if load.name in circuit.dead:
            continue
        most = min(load.ohms.real, load.inrush_ohms.real)
        yield from _between(circuit, load.name, load.name, (load.a, load.b), (LEAST_OF_A_COIL * most, most))
    for winding in circuit.windings:
        if winding.name in circuit.dead:
            continue
        secondary = abs(winding.ohms)
        primary = secondary * (winding.primary_volts / winding.secondary_volts) ** 2
        for name, ends, ohms in (
            (winding.name, winding.primary, primary),
            (f"{winding.name}/2", winding.secondary, secondary),
        ):
            least, most = OF_A_WINDING
            yield from _between(circuit, name, winding.name, ends, (least * ohms, most * ohms))


def _is_coil(load: Load) -> bool:
    """Whether it is a coil around iron; a valve without an inrush has a motor or a board in it."""
    return load.kind == "coil" or (load.kind in COILS and load.inrush is not None)


def _between(
    circuit: Circuit, name: str, owner: str, ends: tuple[str, str], ohms: tuple[float, float]
) -> Iterator[Wound]:
    a, b = (circuit.node[end] for end in ends)
    if a != b:
        least, most = (Impedance(name, a, b, one) for one in ohms)
        yield Wound(owner, least, most)


def _unknown(circuit: Circuit) -> Iterator[tuple[Impedance, str]]:
    """What conducts, and how well cold nobody knows, as one ohm: enough to see whether there is a path.

    Each with the name of its load.
    """
    for name, one, other in circuit.drawn:
        load, a, b = circuit.load_of[name], circuit.node[one], circuit.node[other]
        # Once it is charged no current of the meter's goes through a capacitor.
        measured = load.kind in (*KNOWN_COLD, "capacitor") or _is_coil(load)
        if not measured and load.name not in circuit.dead and a != b:
            yield Impedance(name, a, b, 1.0), load.name

"""What is lost of the voltage in the wire, on the way to each load and to each outlet."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from wirecheck.circuit.circuit import COILS, Load, Outlet, Wire, wire_ohms
from wirecheck.circuit.routes import Origin, Routes, Step, behind_the_last_panel, routes
from wirecheck.circuit.settle import Settled, settle
from wirecheck.judge.case import Case
from wirecheck.judge.guards import Guarded, fits, guarded, guards
from wirecheck.judge.limit import over
from wirecheck.judge.question import question
from wirecheck.judge.sizing import carries, larger_sizes
from wirecheck.judge.supply import is_fed
from wirecheck.model.board import Breaker, Conductor
from wirecheck.tables.ampacity import Ampacity
from wirecheck.tables.overcurrent import receptacle_plug_load
from wirecheck.tables.published import NotInTable
from wirecheck.tables.sizes import area

# The ambient for which the table of ampacities holds, in C (Table 310.16).
TABLE_AMBIENT = 30.0
# Where the code names no largest plug-in load, as on a circuit of 30 A (common practice).
PLUG_SHARE = 0.8


class Fall(NamedTuple):
    """What one conductor on the way loses, in V: `outward` on the way to the load, else on the way back.

    `feeder` is whether it lies before the last subpanel on the way.
    """

    conductor: Conductor
    outward: bool
    volts: float
    feeder: bool = False


class Drop(NamedTuple):
    """What is lost on the way to one load or outlet: volts of the supply, there, lost out and back.

    `guard` is the breaker that the circuit is named by, None behind a transformer; `other_hot` tells
    whether the way back is another hot.
    """

    of: Load | Outlet
    guard: Guarded | None
    nominal: float
    present: float
    out: float
    back: float
    flows: float
    falls: tuple[Fall, ...]
    other_hot: bool
    state: Settled

    @property
    def circuit(self) -> str:
        """The name of its circuit: that of its breaker, or its own where it has none."""
        return self.guard.name if self.guard is not None else self.of.name

    @property
    def on_branch(self) -> bool:
        """Whether it is on a branch circuit, and not behind a transformer."""
        return self.guard is not None

    @property
    def lost(self) -> float:
        """Volts lost out and back."""
        return self.out + self.back

    @property
    def share(self) -> float:
        """The part of the supply that is lost."""
        return self.lost / self.nominal

    @property
    def branch(self) -> Drop:
        """What is lost of it behind the last subpanel on the way; itself where there is none."""
        return self._part(False) if any(fall.feeder for fall in self.falls) else self

    @property
    def feeder(self) -> Drop:
        """What is lost of it in the wires of feeders."""
        return self._part(True)

    def _part(self, feeder: bool) -> Drop:
        falls = tuple(fall for fall in self.falls if fall.feeder is feeder)
        other = [fall for fall in self.falls if fall.feeder is not feeder]
        out = self.out - sum(fall.volts for fall in other if fall.outward)
        back = self.back - sum(fall.volts for fall in other if not fall.outward)
        return self._replace(falls=falls, out=out, back=back)

    @property
    def steepest(self) -> Conductor | None:
        """The conductor that loses most."""
        return max(self.falls, key=lambda fall: fall.volts).conductor if self.falls else None


def exceeds(share: float, limit: float) -> bool:
    """Whether a share of the voltage is over a limit by as much as can be shown, a hundredth of a percent.

    >>> exceeds(0.03004, 0.03), exceeds(0.03006, 0.03)
    (False, True)
    """
    return round(share, 4) > limit


@question
def drops(case: Case) -> dict[str, Drop]:
    """What is lost on the way to each load where it has the least volts, its wires as warm as they get.

    Loads that no copper feeds are left out, and coils: they are judged by what they need to pull in.
    """
    found = (_drop(case, load) for load in case.circuit.loads if load.kind not in (*COILS, "capacitor"))
    return {drop.of.name: drop for drop in found if drop is not None}


def _drop(case: Case, load: Load) -> Drop | None:
    states = (case.heaviest, *(step.settled for call in case.heard for step in case.played([call]).steps))
    fed = [state for state in states if is_fed(load, state) and not state.opened]
    if not fed:
        return None
    settled, ways = _warmed(case, min(fed, key=lambda state: state.load_volts(load)))
    a, b = settled.circuit.node[load.a], settled.circuit.node[load.b]
    one, other = ways.origins.get(a), ways.origins.get(b)
    if one is None or other is None:
        return None
    if one.kind == "earth":
        a, b, one, other = b, a, other, one
    nominal = nominal_volts(case, one, other)
    if not nominal:
        return None
    supply = settled.volts[one.node] - settled.volts[other.node]
    along = (supply / abs(supply)).conjugate()

    def lost(origin: int, target: int) -> float:
        return ((settled.volts[origin] - settled.volts[target]) * along).real

    out = [
        Fall(of.conductor, True, lost(step.origin, step.target), feeder)
        for step, of, feeder in _wires(case, ways.back(a))
    ]
    home = [
        Fall(of.conductor, False, lost(step.target, step.origin), feeder)
        for step, of, feeder in _wires(case, ways.back(b))
    ]
    return Drop(
        of=load,
        guard=_breaker(case, (*ways.back(a), *ways.back(b))),
        nominal=nominal,
        present=settled.load_volts(load),
        out=lost(one.node, a),
        back=lost(b, other.node),
        flows=settled.load_amps(load),
        falls=(*out, *home),
        other_hot=other.kind == "leg",
        state=settled,
    )


def nominal_volts(case: Case, one: Origin, other: Origin) -> float | None:
    """The volts between two origins by their ratings; None where they belong to two sources."""
    if "winding" in (one.kind, other.kind):
        winding = next(each for each in case.circuit.windings if each.name in (one.name, other.name))
        ends = {case.circuit.node[end] for end in winding.secondary}
        return winding.secondary_volts if ends == {one.node, other.node} else None
    legs = {leg.name: leg.volts for leg in case.circuit.legs}
    return abs(legs.get(one.name, 0j) - legs.get(other.name, 0j))


def _wires(case: Case, steps: tuple[Step, ...]) -> list[tuple[Step, Wire, bool]]:
    """The wires on a way, and whether each is a feeder's."""
    feeder = len(steps) - len(behind_the_last_panel(case.circuit, steps))
    return [(step, step.of, place < feeder) for place, step in enumerate(steps) if isinstance(step.of, Wire)]


def _breaker(case: Case, steps: Iterable[Step]) -> Guarded | None:
    """The last breaker of a panel on some steps."""
    breakers = {guard.name: guard for guard in guarded(case) if isinstance(guard.holder, Breaker)}
    names = [step.of.name for step in steps if not isinstance(step.of, Wire) and step.of.name in breakers]
    return breakers[names[-1]] if names else None


# ------------------------------------------------------------------ warmth


def _warmed(case: Case, cold: Settled) -> tuple[Settled, Routes]:
    """A state solved with every conductor at the temperature that its current gives it, and its routes."""
    known = _known(case)
    if id(cold) not in known:
        warmth = {
            wire.conductor.name: _temperature(
                case, wire.conductor, abs(cold.amps.get(wire.conductor.name, 0))
            )
            for wire in case.circuit.wires
        }
        warm = settle(case.circuit, cold.positions, cold.calls, cold, temperatures=warmth)
        known[id(cold)] = cold, warm, routes(case.circuit, warm)
    _, settled, ways = known[id(cold)]
    return settled, ways


@question
def _known(case: Case) -> dict[int, tuple[Settled, Settled, Routes]]:
    """The states that were asked for, each with itself solved warm; what is kept keeps its identity."""
    return {}


def _temperature(case: Case, conductor: Conductor, flows: float) -> float:
    """A conductor's own temperature at a current, in C; the ambient where no table holds it."""
    try:
        return warmed(carries(case, conductor, 0.0), case.board.ambient, flows)
    except NotInTable:
        return case.board.ambient


def warmed(steps: Ampacity, ambient: float, flows: float) -> float:
    """The temperature of a conductor in C: its rise goes with the square of its current.

    Table 310.16 states the current that raises a conductor from 30 C to its
    rating; bunched with others it reaches that with less (310.15(C)(1)). A
    conductor that is overloaded is taken at its rating or at the ambient, whichever is more.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> from wirecheck.tables.ampacity import conductor_ampacity
    >>> steps = conductor_ampacity("NM-B", "14", code=nec)
    >>> warmed(steps, 30, 0), warmed(steps, 30, 12.5), warmed(steps, 30, 25), warmed(steps, 30, 100)
    (30.0, 45.0, 90.0, 90.0)
    """
    full = steps.table * steps.adjustment
    rise = (steps.insulation_c - TABLE_AMBIENT) * (flows / full) ** 2
    return max(float(ambient), min(ambient + rise, steps.insulation_c))


# ------------------------------------------------------------------ outlets


def outlet_drop(case: Case, guard: Guarded, outlet: Outlet) -> Drop | None:
    """What an outlet would lose with the largest plug-in load and nothing else; None where no leg feeds it.

    An outlet has no load of its own: the largest plug-in load of 210.21(B)(2) is taken there, which goes by
    the receptacle where that is rated for less than its circuit.
    """
    node = case.circuit.node
    ends = [node[outlet.hot], node[outlet.neutral]]
    origins = [case.routes.origins.get(end) for end in ends]
    one, other = origins
    if one is None or other is None or "winding" in (one.kind, other.kind):
        return None
    nominal = nominal_volts(case, one, other)
    if not nominal:
        return None
    if one.kind == "earth":
        ends.reverse()
    rating = min(guard.amps, outlet.amps or guard.amps)
    flows = receptacle_plug_load(rating, code=case.code) or PLUG_SHARE * rating
    falls = tuple(
        Fall(of.conductor, outward, flows * _ohms(case, of.conductor, flows), feeder)
        for end, outward in zip(ends, (True, False), strict=True)
        for _, of, feeder in _wires(case, case.routes.back(end))
    )
    out = sum(fall.volts for fall in falls if fall.outward)
    back = sum(fall.volts for fall in falls if not fall.outward)
    return Drop(
        of=outlet,
        guard=guard,
        nominal=nominal,
        present=nominal - out - back,
        out=out,
        back=back,
        flows=flows,
        falls=falls,
        other_hot=one.kind == other.kind == "leg",
        state=case.heaviest,
    )


def _ohms(case: Case, conductor: Conductor, flows: float) -> float:
    """A conductor's resistance when a current has warmed it."""
    return wire_ohms(conductor, case.board, _temperature(case, conductor, flows)).real


# ------------------------------------------------------------------- sizes


def size_that_does(case: Case, drop: Drop, most: float) -> str | None:
    """The least wire size, all the way, with which no more than `most` volts are lost, or None."""
    if not drop.falls:
        return None
    elsewhere = drop.lost - sum(fall.volts for fall in drop.falls)
    smallest = min((fall.conductor.size for fall in drop.falls), key=area)
    for size in larger_sizes(smallest, code=case.code):
        try:
            left = elsewhere + sum(_fall_with(case, fall, size) for fall in drop.falls)
        except NotInTable:
            return None
        if left * _grows(drop, left) <= most and _allowed(case, drop, size):
            return size
    return None


def _grows(drop: Drop, left: float) -> float:
    """How much more a load draws when no more than `left` volts were lost at what it draws now.

    A resistance draws in step with its volts. A motor or a supply draws what it is rated for once it
    has them.
    """
    if isinstance(drop.of, Outlet):
        return 1.0
    more = drop.nominal / (drop.present + left)
    if drop.of.model == "constant-impedance":
        return more
    return min(more, max(1.0, drop.of.amps / drop.flows))


def _fall_with(case: Case, fall: Fall, size: str) -> float:
    """What a conductor would lose with that size in its place, where it is smaller now."""
    conductor = fall.conductor
    if area(conductor.size) >= area(size):
        return fall.volts
    now = abs(wire_ohms(conductor._replace(size=size), case.board, case.board.ambient))
    return fall.volts * now / abs(wire_ohms(conductor, case.board, case.board.ambient))


def _allowed(case: Case, drop: Drop, size: str) -> bool:
    """Whether a circuit may have that size: by its breaker, and by the least that the code allows."""
    if drop.guard is None:
        return True
    if over(case.code.limit("least conductor of a branch circuit"), area(size)):
        return False
    first = drop.falls[0].conductor
    guard = guards(case).get(first.name, drop.guard) if drop.falls[0].feeder else drop.guard
    try:
        return fits(case, guard, carries(case, first._replace(size=size), guard.amps))
    except NotInTable:
        return False

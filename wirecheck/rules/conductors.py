"""Rules about the size of conductors: what they may carry, what they lose, what grounds them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wirecheck.circuit.circuit import COILS, Load, Outlet, Winding, Wire, wire_ohms
from wirecheck.circuit.routes import Routes, Step, equipment, nameplate, routes
from wirecheck.circuit.settle import Settled, settle
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Finding, Note
from wirecheck.judge.sizing import (
    Guarded,
    arithmetic,
    carries,
    carrying_together,
    gauge,
    guarded,
    is_grounding,
    larger_sizes,
    may_have,
    named_size,
    power,
)
from wirecheck.language.quantity import amps, percent, rounded, volts
from wirecheck.model.board import Conductor
from wirecheck.rules.old import rule
from wirecheck.tables.ampacity import Ampacity, insulation
from wirecheck.tables.overcurrent import grounding_conductor, receptacle_plug_load
from wirecheck.tables.published import NotInTable
from wirecheck.tables.sizes import area, trade_sizes

# Continuous loads (210.19(A)(1)) and the largest motor (430.22, 430.24) count a quarter more.
QUARTER_MORE = 0.25
# The informational notes to 210.19 and 215.2.
BRANCH_DROP = 0.03
WHOLE_DROP = 0.05
# A load that draws less than this share of its rated current is not running.
RUNS_AT = 0.5
# The largest share for which a load's current is what it was taken to be.
MEANT = 0.5
# How far above the most that a load works at its voltage must be to be called wrong.
OVER = 1.05
# Table 310.16 holds for 30 C around the conductor.
TABLE_AMBIENT = 30.0
# Where the code names no largest plug-in load, as on a circuit of 30 A (common practice).
PLUG_SHARE = 0.8


# ----------------------------------------------------------------- ampacity


@rule("rough-in")
def ampacity(case: Case) -> Iterator[Finding]:
    """A wire has to carry more current than it may.

    A wire's ampacity is the current that brings its insulation to the
    temperature it can stand without end. Above it the insulation grows brittle
    and cracks, the screws at its ends loosen, and the wire can set fire to what
    it lies on. Heat around it and other loaded wires beside it lower it.
    A load that runs three hours or more, and the largest motor, count 125 %;
    equipment with a nameplate counts its minimum circuit ampacity.

    Source: NEC 2023 310.16, 310.15(B), 310.15(C)(1), 110.14(C), 334.80, 210.19(A)(1), 430.22, 440.32
    """
    bunched = carrying_together(case)
    guards = {conductor.name: guard for guard in guarded(case) for conductor in guard.conductors}
    rating = {name: guard.amps for name, guard in guards.items()}
    demands = _demands(case)
    worst: dict[str, tuple[float, Conductor, Ampacity]] = {}
    unknown: dict[str, str] = {}
    for conductor in power(case.board.conductors.values()):
        demand = demands.get(conductor.name)
        if demand is None and conductor.name not in rating:
            continue
        try:
            steps = carries(case, conductor, rating.get(conductor.name, 0.0), bunched[conductor.name])
        except NotInTable as error:
            unknown.setdefault(conductor.run, str(error))
            continue
        if demand is not None and demand.amps > steps.result * (1 + 1e-9):
            share = demand.amps / steps.result if steps.result else float("inf")
            if conductor.run not in worst or share > worst[conductor.run][0]:
                worst[conductor.run] = (share, conductor, steps)
    for run, reason in unknown.items():
        yield Finding(
            rule="ampacity",
            severity="advice",
            message=f"What {run} may carry is not checked: {reason}.",
            span=case.board.runs[run].span,
            subject=run,
            source="NEC 2023 Table 310.16",
            help="Look its ampacity up for yourself, or write a size and a kind that the table lists.",
            stage="rough-in",
        )
    # What overloads the cables of one circuit is one mistake: told at the worst of them.
    circuits: dict[str, list[str]] = {}
    for run, (_, conductor, _steps) in worst.items():
        circuits.setdefault(guards[conductor.name].name if conductor.name in guards else run, []).append(run)
    for runs in circuits.values():
        run = max(runs, key=lambda one: worst[one][0])
        _, conductor, steps = worst[run]
        demand = demands[conductor.name]
        when = case.when(demand.state, conductor.name) if demand.state and not demand.nameplate else ""
        cap = insulation(conductor.insulation).cap_source
        limit = rating.get(conductor.name, 0.0)
        size = _size_for(case, conductor, limit, bunched[conductor.name], demand.amps)
        yield Finding(
            rule="ampacity",
            severity="hazard" if demand.flows > steps.result else "violation",
            message=f"{conductor.name} is {named_size(conductor)}, which may carry {amps(steps.result)} "
            f"here, and must be able to carry {amps(demand.amps)}{when}.",
            span=conductor.span,
            subject=run,
            value=round(demand.amps, 2),
            limit=round(steps.result, 2),
            unit="A",
            source="; ".join(part for part in (steps.source, cap, demand.source) if part),
            help=f"{demand.words} {arithmetic(steps)} "
            + (f"{gauge(size)} {conductor.material} would do." if size else "Put less on this circuit."),
            also=tuple(
                Note(
                    f"{other} may carry {amps(worst[other][2].result)}, and must be able to carry "
                    f"{amps(demands[worst[other][1].name].amps)}",
                    case.board.runs[other].span,
                )
                for other in runs
                if other != run
            ),
            stage="rough-in",
        )


def _size_for(case: Case, conductor: Conductor, protection: float, bunched: int, needed: float) -> str | None:
    """The least larger size that carries that much, or None."""
    for size in larger_sizes(conductor.size):
        try:
            if carries(case, conductor._replace(size=size), protection, bunched).result >= needed:
                return size
        except NotInTable:
            continue
    return None


@dataclass(frozen=True, slots=True)
class _Demand:
    """What a conductor must be able to carry: `flows` is what it does carry in that state.

    `nameplate` says that equipment asks for it, whatever the state.
    """

    amps: float
    flows: float
    words: str
    source: str
    state: Settled | None
    nameplate: bool


def _demands(case: Case) -> dict[str, _Demand]:
    """What each conductor must be able to carry, by name."""
    marked = _nameplates(case)
    shares: dict[int, dict[str, list[tuple[Load | Winding, complex]]]] = {}
    told: dict[str, _Demand] = {}
    for wire in case.circuit.wires:
        name = wire.conductor.name
        state = case.most.get(name)
        flows = state.amps[name] if state else 0j
        plates = marked.get(name, {})
        if state is None and not plates:
            continue
        parts: list[tuple[Load | Winding, complex]] = []
        if state is not None:
            if id(state) not in shares:
                shares[id(state)] = _shares(case, state)
            parts = shares[id(state)].get(name, [])
            if abs(sum(current for _, current in parts) - flows) > 0.05 * abs(flows) + 0.01:
                # Current that takes more than one way belongs to no load in particular.
                parts = []
        told[name] = _demand(case, flows, parts, plates, state)
    return told


def _demand(
    case: Case,
    flows: complex,
    parts: list[tuple[Load | Winding, complex]],
    plates: dict[str, float],
    state: Settled | None,
) -> _Demand:
    others = [
        (load, _rated(load, current))
        for load, current in parts
        if (around := equipment(case.circuit, load.device)) is None or around.name not in plates
    ]
    loads = [(load, current) for load, current in others if isinstance(load, Load)]
    continuous = [(load, current) for load, current in loads if "continuous" in load.flags]
    motors = [one for one in loads if one[0].kind == "motor" and one not in continuous]
    largest = max(motors, key=lambda one: abs(one[1]), default=None)
    more = QUARTER_MORE * sum((current for _, current in continuous), largest[1] if largest else 0j)
    rest = sum((current for _, current in others), 0j) if parts or plates else flows
    words, sources = [], []
    for name, least in plates.items():
        words.append(
            f"{name}'s nameplate asks for conductors of {amps(least)} (its minimum circuit ampacity)."
        )
        sources.append("NEC 2023 440.4(B), 110.3(B)")
    if not parts and not plates:
        words.append(f"It carries {amps(abs(flows))}.")
    elif abs(rest) > 0.05:
        words.append(f"{'Other loads' if plates else 'Loads'} on it are rated {amps(abs(rest))}.")
    if continuous:
        together = abs(sum(current for _, current in continuous))
        words.append(f"{amps(together)} of that is continuous and counts 125 %: {amps(1.25 * together)}.")
        sources.append("NEC 2023 210.19(A)(1)")
    if largest is not None:
        words.append(
            f"The largest motor, {largest[0].name}, takes {amps(abs(largest[1]))} of that and counts 125 %: "
            f"{amps(1.25 * abs(largest[1]))}."
        )
        sources.append("NEC 2023 430.22")
    return _Demand(
        abs(rest + more) + sum(plates.values()),
        abs(flows),
        " ".join(words),
        "; ".join(dict.fromkeys(sources)),
        state,
        bool(plates),
    )


def _rated(load: Load | Winding, current: complex) -> complex:
    """A load's current as its nameplate states it: the code counts that, not what low volts make of it."""
    if isinstance(load, Winding) or abs(current) < RUNS_AT * load.amps:
        return current
    return current / abs(current) * load.amps


def _nameplates(case: Case) -> dict[str, dict[str, float]]:
    """For each conductor, the equipment that it serves at line voltage, with its minimum circuit ampacity."""
    told: dict[str, dict[str, float]] = {}
    for drawer, a, b in _drawers(case):
        around = equipment(case.circuit, drawer.device)
        least = nameplate(around, "mca") if around else None
        if around is None or least is None:
            continue
        for point in (a, b):
            node = case.circuit.node[point]
            origin = case.routes.origins.get(node)
            if origin is None or origin.kind == "winding":
                continue
            for step in case.routes.back(node):
                if isinstance(step.of, Wire):
                    told.setdefault(step.name, {})[around.name] = least
    return told


def _shares(case: Case, settled: Settled) -> dict[str, list[tuple[Load | Winding, complex]]]:
    """Whose current flows in each conductor in a state, along the conductor from its first end."""
    ways = routes(case.circuit, settled)
    told: dict[str, list[tuple[Load | Winding, complex]]] = {}
    for drawer, a, b in _drawers(case):
        current = settled.amps.get(drawer.name, 0j)
        if not current:
            continue
        for point, sense in ((a, 1), (b, -1)):
            for step in ways.back(case.circuit.node[point]):
                if isinstance(step.of, Wire):
                    told.setdefault(step.name, []).append((drawer, sense * step.sign * current))
    return told


def _drawers(case: Case) -> Iterator[tuple[Load | Winding, str, str]]:
    """What draws current: loads, and the primaries of transformers."""
    for load in case.circuit.loads:
        yield load, load.a, load.b
    for winding in case.circuit.windings:
        yield winding, *winding.primary


# ------------------------------------------------------------- voltage drop


@rule("rough-in", "final")
def voltage_drop(case: Case) -> Iterator[Finding]:
    """Too much of the voltage is lost in the wire on the way to a load.

    Wire has resistance, and the current of the load pays for it twice, on the
    way out and on the way back. Lamps dim, heaters heat less, motors draw more
    and run hot, and below a certain voltage a load does not work at all.

    The loss is that of the circuit as solved, in the state in which the load
    has the least voltage, with each wire at the temperature its load gives it:
    ambient + (rating - 30 C) x (amps / table amps) squared, at most its rating,
    since Table 310.16 states the current that takes a wire from 30 C to its
    rating and the rise goes with the square of the current. An outlet has no
    load of its own: the largest plug-in load of 210.21(B)(2) is taken there,
    12 A on a 15 A circuit and 16 A on 20 A, with nothing else running.

    Source: NEC 2023 210.19 and 215.2, informational notes (3 % and 5 %); Chapter 9 Table 8
    """
    warm = _Warm(case)
    worst: dict[str, Drop] = {}
    for load in case.circuit.loads:
        drop = _drop(case, load, warm)
        if drop is None:
            continue
        if drop.nominal < load.works:
            # It is fed what it is not made for: told by wrong-voltage.
            continue
        if drop.present < load.works:
            if drop.present + drop.lost >= load.works:
                # Where the source itself sags, its load or a short is to blame, by other rules.
                yield _starved(case, load, drop)
        elif (
            _over(drop.share)
            and drop.on_branch
            and (drop.circuit not in worst or drop.share > worst[drop.circuit].share)
        ):
            worst[drop.circuit] = drop
    for drop in worst.values():
        yield _wasteful(case, drop)
    yield from _outlet_drops(case, warm)


@dataclass(frozen=True, slots=True)
class Drop:
    """What is lost on the way to one load: volts of the supply, at the load, lost out and back."""

    name: str
    circuit: str
    nominal: float
    present: float
    out: float
    back: float
    flows: float
    wires: tuple[tuple[Step, bool, float], ...]
    other_hot: bool
    on_branch: bool
    state: Settled

    @property
    def lost(self) -> float:
        """Volts lost out and back."""
        return self.out + self.back

    @property
    def share(self) -> float:
        """The part of the supply that is lost."""
        return self.lost / self.nominal


def drops(case: Case) -> tuple[Drop, ...]:
    """What is lost on the way to each load, where it has the least volts, its wires as warm as they get."""
    warm = _Warm(case)
    return tuple(drop for load in case.circuit.loads if (drop := _drop(case, load, warm)) is not None)


class _Warm:
    """States solved with every conductor at the temperature that its current gives it."""

    def __init__(self, case: Case) -> None:
        self.case = case
        self.bunched = carrying_together(case)
        steps = [step.settled for call in case.calls for step in case.played([call]).steps]
        self.states = (case.heaviest, *steps)
        self._warm: dict[int, tuple[Settled, dict[str, float], Routes]] = {}

    def state(self, cold: Settled) -> tuple[Settled, dict[str, float], Routes]:
        """A state solved warm, with the temperatures in C and the routes."""
        if id(cold) not in self._warm:
            warmth = {
                wire.conductor.name: self.temperature(
                    wire.conductor, abs(cold.amps.get(wire.conductor.name, 0))
                )
                for wire in self.case.circuit.wires
            }
            warm = settle(self.case.circuit, cold.positions, cold.calls, cold, temperatures=warmth)
            self._warm[id(cold)] = warm, warmth, routes(self.case.circuit, warm)
        return self._warm[id(cold)]

    def temperature(self, conductor: Conductor, flows: float) -> float:
        """A conductor's own temperature at a current, in C."""
        ambient = self.case.board.ambient
        try:
            steps = carries(self.case, conductor, 0.0, self.bunched.get(conductor.name, 0))
        except NotInTable:
            return ambient
        return warmed(steps, ambient, flows)


def warmed(steps: Ampacity, ambient: float, flows: float) -> float:
    """The temperature of a conductor in C: its rise goes with the square of its current.

    Table 310.16 states the current that raises a conductor from 30 C to its
    rating; bunched with others it reaches that with less (310.15(C)(1)). A
    conductor that is overloaded is taken at its rating or at the ambient, whichever is more.

    Examples
    --------
    >>> from wirecheck.tables.ampacity import conductor_ampacity
    >>> steps = conductor_ampacity("NM-B", "14")
    >>> warmed(steps, 30, 0), warmed(steps, 30, 12.5), warmed(steps, 30, 25), warmed(steps, 30, 100)
    (30.0, 45.0, 90.0, 90.0)
    """
    full = steps.table * steps.adjustment
    rise = (steps.insulation_c - TABLE_AMBIENT) * (flows / full) ** 2
    return max(float(ambient), min(ambient + rise, steps.insulation_c))


def _drop(case: Case, load: Load, warm: _Warm) -> Drop | None:
    """The loss on the way to a load where it has the least volts; None where no copper feeds it.

    Coils are judged by what they need to pull in, by another rule.
    """
    if load.kind in COILS:
        return None
    running = [
        state
        for state in warm.states
        if state.load_amps(load) > 1e-6 and not state.opened and _whole(state, load)
    ]
    if not running:
        return None
    cold = min(running, key=lambda state: state.load_volts(load))
    settled, _, ways = warm.state(cold)
    node = case.circuit.node
    a, b = node[load.a], node[load.b]
    one, other = ways.origins.get(a), ways.origins.get(b)
    if one is None or other is None or one.node == other.node:
        return None
    if "winding" in (one.kind, other.kind):
        winding = next(w for w in case.circuit.windings if w.name in (one.name, other.name))
        if {node[end] for end in winding.secondary} != {one.node, other.node}:
            return None
        nominal = winding.secondary_volts
    else:
        legs = {leg.name: leg.volts for leg in case.circuit.legs}
        nominal = abs(legs.get(one.name, 0j) - legs.get(other.name, 0j))
    if one.kind == "earth":
        a, b, one, other = b, a, other, one
    supply = settled.volts[one.node] - settled.volts[other.node]
    if not nominal or not abs(supply):
        return None
    along = supply / abs(supply)
    wires = []
    for end, sense in ((a, 1), (b, -1)):
        for step in ways.back(end):
            if isinstance(step.of, Wire):
                fall = settled.volts[step.origin] - settled.volts[step.target]
                wires.append((step, sense == 1, sense * (fall * along.conjugate()).real))
    guards = [
        step.of.name
        for step in (*ways.back(a), *ways.back(b))
        if not isinstance(step.of, Wire) and step.of.name in case.board.breakers
    ]
    return Drop(
        name=load.name,
        circuit=guards[-1] if guards else load.name,
        nominal=nominal,
        present=settled.load_volts(load),
        out=((settled.volts[one.node] - settled.volts[a]) * along.conjugate()).real,
        back=((settled.volts[b] - settled.volts[other.node]) * along.conjugate()).real,
        flows=settled.load_amps(load),
        wires=tuple(wires),
        other_hot=other.kind == "leg",
        on_branch="winding" not in (one.kind, other.kind),
        state=settled,
    )


def _whole(state: Settled, load: Load) -> bool:
    return (state.circuit.node[load.a] in state.floating) == (state.circuit.node[load.b] in state.floating)


def _ways(drop: Drop) -> str:
    """Where the volts go: how many out, how many back, and along which conductors."""
    out = ", ".join(step.name for step, outward, _ in drop.wires if outward)
    back = ", ".join(step.name for step, outward, _ in drop.wires if not outward)
    told = [f"{volts(drop.out)} on the way out ({out})"] if out else []
    if back:
        side = "through the other hot" if drop.other_hot else "back"
        if drop.back < -0.05:
            told.append(
                f"less {volts(-drop.back)} on the way {side} ({back}), where another circuit's current helps"
            )
        else:
            told.append(f"{volts(max(drop.back, 0.0))} on the way {side} ({back})")
    return " and ".join(told)


def _over(share: float) -> bool:
    """Whether a drop is over the limit by as much as can be shown, a hundredth of a percent."""
    return round(share, 4) > BRANCH_DROP


def _share(share: float) -> str:
    """A share of the voltage, told apart from the limit that it is over."""
    told = percent(share)
    return told if told not in (percent(BRANCH_DROP), percent(WHOLE_DROP)) else f"{100 * share:.2f} %"


def _larger(size: str | None, worst: Conductor | None) -> str | None:
    """A larger size in words: of the same metal as the conductor that loses most."""
    aluminum = worst is not None and worst.material == "aluminum"
    return None if size is None else gauge(size) + (" aluminum" if aluminum else "")


def _size_that_does(case: Case, drop: Drop, most: float) -> str | None:
    """The least wire size, all the way, with which no more than `most` volts are lost, or None."""
    names = {step.name: step for step, _, _ in drop.wires}
    if not names:
        return None
    elsewhere = drop.lost - sum(fall for _, _, fall in drop.wires)
    smallest = min((case.board.conductors[name].size for name in names), key=area)
    for size in larger_sizes(smallest):
        if drop.on_branch and not _allowed(case, drop, size):
            continue
        left = elsewhere
        for step, _, fall in drop.wires:
            conductor = case.board.conductors[step.name]
            if area(conductor.size) < area(size):
                try:
                    now = abs(wire_ohms(conductor._replace(size=size), case.board, TABLE_AMBIENT))
                    fall *= now / abs(wire_ohms(conductor, case.board, TABLE_AMBIENT))
                except NotInTable:
                    return None
            left += fall
        if left <= most:
            return size
    return None


def _allowed(case: Case, drop: Drop, size: str) -> bool:
    """Whether the circuit's breaker allows that size; 14 AWG is the least of a branch circuit (310.3(A))."""
    breaker = case.board.breakers.get(drop.circuit)
    first = next(step.of for step, _, _ in drop.wires)
    if area(size) < area("14") or breaker is None or not isinstance(first, Wire):
        return area(size) >= area("14")
    try:
        steps = carries(case, first.conductor._replace(size=size), breaker.amps, 0)
    except NotInTable:
        return False
    return may_have(steps, True).amps >= breaker.amps


def _when(case: Case, drop: Drop) -> str:
    """The state of a drop, in the switches of the load and of what shares wires with it."""
    return case.when(drop.state, drop.name, *(step.name for step, _, _ in drop.wires))


def _blamed(drop: Drop) -> Conductor | None:
    """The conductor that loses most."""
    wires = [(fall, step.of) for step, _, fall in drop.wires if isinstance(step.of, Wire)]
    return max(wires, key=lambda one: one[0])[1].conductor if wires else None


@rule("final")
def wrong_voltage(case: Case) -> Iterator[Finding]:
    """A load is fed a voltage that it is not made for.

    A 240 V heater on 120 V gives a quarter of its heat, and a motor hums and
    does not start. A 120 V lamp on 240 V is fed four times its power, and bursts.

    Source: NEC 2023 110.3(B), 110.4: equipment is used at the voltage it is made for
    """
    warm = _Warm(case)
    told: dict[str, Finding] = {}
    for load in case.circuit.loads:
        if load.kind in COILS:
            # What a coil gets is told by coil-voltage.
            continue
        running = [state for state in (*case.states, *warm.states) if _runs_whole(state, load)]
        if not running:
            continue
        most = max(running, key=lambda state: state.load_volts(load))
        finding = None
        if most.load_volts(load) > load.works_to * OVER:
            if not _on_a_wrong_tap(case, load, most):
                finding = _too_much(case, load, most)
        elif min(state.load_volts(load) for state in running) < load.works:
            drop = _drop(case, load, warm)
            if drop is not None and drop.nominal < load.works:
                finding = _too_little(load, drop)
        if finding is None:
            continue
        # One feed is one mistake, whatever hangs on it in a machine.
        around = equipment(case.circuit, load.device)
        owner = around.name if around else load.name
        if owner in told:
            note = Note(f"{load.name} is fed it too", load.span)
            told[owner] = told[owner]._replace(also=(*told[owner].also, note))
        else:
            told[owner] = finding
    yield from told.values()


def _runs_whole(state: Settled, load: Load) -> bool:
    return state.load_amps(load) > 1e-6 and not state.opened and _whole(state, load)


def _on_a_wrong_tap(case: Case, load: Load, state: Settled) -> bool:
    """Whether the transformer that feeds a load is itself fed too much: coil-voltage tells that."""
    origins = [case.routes.origins.get(case.circuit.node[point]) for point in (load.a, load.b)]
    names = {origin.name for origin in origins if origin is not None and origin.kind == "winding"}
    return any(
        winding.name in names and state.across(*winding.primary) > winding.primary_volts * OVER
        for winding in case.circuit.windings
    )


def _too_much(case: Case, load: Load, state: Settled) -> Finding:
    present = state.load_volts(load)
    return Finding(
        rule="wrong-voltage",
        severity="hazard",
        message=f"{load.name} gets {volts(present)}{case.when(state)} and is made for {volts(load.volts)}: "
        "it burns out, or worse.",
        span=load.span,
        subject=load.name,
        value=round(present, 1),
        limit=round(load.works_to, 1),
        unit="V",
        source="the part's own rating; NEC 2023 110.3(B), 110.4",
        help=f"Feed it from a source of {volts(load.volts)}, or put in one that is made for what it is fed.",
    )


def _too_little(load: Load, drop: Drop) -> Finding:
    return Finding(
        rule="wrong-voltage",
        severity="fault",
        message=f"{load.name} is made for {volts(load.volts)} and is fed {volts(drop.nominal)}: "
        f"it needs {volts(load.works)} to work.",
        span=load.span,
        subject=load.name,
        value=round(drop.present, 1),
        limit=round(load.works, 1),
        unit="V",
        source="NEC 2023 110.3(B), 110.4",
        help="Feed it from a source of its own voltage"
        + (": both legs, from a two-pole breaker." if drop.nominal < 130 < load.volts else "."),
    )


def _starved(case: Case, load: Load, drop: Drop) -> Finding:
    size = _size_that_does(case, drop, drop.nominal - load.works)
    worst = _blamed(drop)
    return Finding(
        rule="voltage-drop",
        severity="fault",
        message=f"{load.name} has {volts(drop.present)}"
        f"{_when(case, drop)} and needs {volts(load.works)} "
        f"to work: {volts(drop.lost)} of {volts(drop.nominal)} are lost on the way.",
        span=worst.span if worst else load.span,
        subject=load.name,
        value=round(drop.present, 2),
        limit=round(load.works, 2),
        unit="V",
        source="NEC 2023 110.3(B); Chapter 9 Table 8",
        help=f"Lost: {_ways(drop)}."
        + (
            f" {_larger(size, worst)} all the way would leave it enough."
            if size
            else " Bring the source nearer."
        ),
        also=(Note(f"{load.name} is here", load.span),) if worst else (),
    )


def _wasteful(case: Case, drop: Drop) -> Finding:
    size = _size_that_does(case, drop, BRANCH_DROP * drop.nominal)
    worst = _blamed(drop)
    load = case.circuit.load[drop.name]
    beyond = (
        f", and feeder and branch circuit together no more than {percent(WHOLE_DROP)}"
        if drop.share > WHOLE_DROP
        else ""
    )
    return Finding(
        rule="voltage-drop",
        severity="advice",
        message=f"{drop.name} loses {_share(drop.share)} of its voltage on the way"
        f"{_when(case, drop)}: "
        f"{volts(drop.lost)} of {volts(drop.nominal)}. A branch circuit should lose no more than "
        f"{percent(BRANCH_DROP)}{beyond}.",
        span=worst.span if worst else load.span,
        subject=drop.name,
        value=round(100 * drop.share, 2),
        limit=100 * BRANCH_DROP,
        unit="%",
        source="NEC 2023 210.19, informational note",
        help=f"At {amps(drop.flows)}, lost: {_ways(drop)}."
        + (f" {_larger(size, worst)} all the way would do." if size else " Shorten the run."),
        also=(Note(f"{drop.name} is here", load.span),) if worst else (),
        stage="rough-in",
    )


def _outlet_drops(case: Case, warm: _Warm) -> Iterator[Finding]:
    """What the farthest outlet of each circuit would lose with the largest plug-in load."""
    for guard in guarded(case):
        told: list[tuple[float, Outlet, Drop]] = []
        outlets = {outlet.name: outlet for zone in guard.zones for outlet in zone.outlets}.values()
        for outlet in outlets:
            if outlet.volts < max(one.volts for one in outlets if one.device == outlet.device):
                # The 120 V of a range's or dryer's outlet serve its clock and motor, not its heat.
                continue
            drop = _outlet_drop(case, guard, outlet, warm)
            if drop is not None:
                told.append((drop.share, outlet, drop))
        if not told:
            continue
        share, outlet, drop = max(told, key=lambda one: one[0])
        worst = _blamed(drop)
        if not _over(share) or worst is None:
            continue
        size = _size_that_does(case, drop, BRANCH_DROP * drop.nominal)
        # Beyond half of the voltage no load draws the current that it was taken to.
        would = (
            f"lose {_share(share)} of its voltage on the way: {volts(drop.lost)} of {volts(drop.nominal)}"
            if share <= MEANT
            else f"lose more than {percent(MEANT)} of its voltage on the way"
        )
        yield Finding(
            rule="voltage-drop",
            severity="advice",
            message=f"A load of {amps(drop.flows)} plugged in at {outlet.name}, with nothing else on "
            f"{guard.name}, would {would}. A branch circuit should lose no more than {percent(BRANCH_DROP)}.",
            span=worst.span,
            subject=outlet.name,
            value=round(100 * share, 2) if share <= MEANT else None,
            limit=100 * BRANCH_DROP,
            unit="%",
            source="NEC 2023 210.19, informational note; 210.21(B)(2)",
            help=f"{amps(drop.flows)} is the largest plug-in load on a {amps(guard.amps)} circuit."
            + (f" Lost: {_ways(drop)}." if share <= MEANT else "")
            + (f" {_larger(size, worst)} all the way would do." if size else " Shorten the run."),
            also=(Note(f"{outlet.name} is here", outlet.span),),
            stage="rough-in",
        )


def _outlet_drop(case: Case, guard: Guarded, outlet: Outlet, warm: _Warm) -> Drop | None:
    node = case.circuit.node
    ends = [(node[outlet.hot], True), (node[outlet.neutral], False)]
    origins = [case.routes.origins.get(end) for end, _ in ends]
    if any(origin is None or origin.kind == "winding" for origin in origins):
        return None
    legs = {leg.name: leg.volts for leg in case.circuit.legs}
    sides = [legs.get(origin.name, 0j) for origin in origins if origin is not None]
    nominal = abs(sides[0] - sides[1])
    if not nominal:
        return None
    if not sides[0]:
        ends.reverse()
    flows = receptacle_plug_load(guard.amps) or PLUG_SHARE * guard.amps
    wires = []
    for end, outward in ends:
        for step in case.routes.back(end):
            if isinstance(step.of, Wire):
                conductor = step.of.conductor
                ohms = wire_ohms(conductor, case.board, warm.temperature(conductor, flows))
                wires.append((step, outward, flows * ohms.real))
    out = sum(fall for _, outward, fall in wires if outward)
    back = sum(fall for _, outward, fall in wires if not outward)
    return Drop(
        name=outlet.name,
        circuit=guard.name,
        nominal=nominal,
        present=nominal - out - back,
        out=out,
        back=back,
        flows=flows,
        wires=tuple(wires),
        other_hot=all(sides),
        on_branch=True,
        state=case.heaviest,
    )


# ---------------------------------------------------- grounding conductors


@rule("rough-in")
def grounding_conductor_size(case: Case) -> Iterator[Finding]:
    """A grounding conductor is too thin for the breaker that must open through it.

    When a hot touches metal, the grounding conductor carries the whole fault
    current until the breaker opens. Too thin, it burns off first, and the metal
    stays live. Where the circuit's wires are made larger than they need be, the
    grounding conductor grows with them, by the same ratio of area.

    Source: NEC 2023 250.122(A), 250.122(B), 250.122(C), Table 250.122
    """
    bunched = carrying_together(case)
    needs: dict[object, tuple[Guarded, str, str, str]] = {}
    grounds: dict[object, list[Conductor]] = {}
    for conductor in case.board.conductors.values():
        if is_grounding(conductor):
            grounds.setdefault(_bunch(conductor), []).append(conductor)
    for guard in guarded(case):
        together: dict[object, list[Conductor]] = {}
        for conductor in guard.conductors:
            together.setdefault(_bunch(conductor), []).append(conductor)
        for bunch, conductors in together.items():
            if bunch not in grounds:
                continue
            need = _needed_ground(case, guard, conductors, grounds[bunch][0].material, bunched)
            if need is not None and (bunch not in needs or area(need[0]) > area(needs[bunch][1])):
                needs[bunch] = (guard, *need)
    for bunch, (guard, size, words, section) in needs.items():
        largest = max(grounds[bunch], key=lambda conductor: area(conductor.size))
        if area(largest.size) < area(size) * (1 - 1e-9):
            yield Finding(
                rule="grounding-conductor-size",
                severity="hazard",
                message=f"{largest.name} is {named_size(largest)}; behind {guard.name}, which is "
                f"{amps(guard.amps)}, the grounding conductor must be {gauge(size)} or larger, "
                "or it can burn off before the breaker opens.",
                span=largest.span,
                subject=largest.name,
                value=None,
                source=f"NEC 2023 {section}",
                help=f"{words} Use {gauge(size)} {largest.material}.",
                also=(Note(f"{guard.name} is {amps(guard.amps)}", guard.zones[0].protection.span),),
                stage="rough-in",
            )


def _bunch(conductor: Conductor) -> object:
    """What a grounding conductor shares with its circuit's wires: a cable, a raceway, or both places."""
    jacketed = conductor.run != conductor.name
    if jacketed:
        return conductor.run
    return conductor.raceway or frozenset(conductor.places)


def _needed_ground(
    case: Case, guard: Guarded, conductors: list[Conductor], material: str, bunched: dict[str, int]
) -> tuple[str, str, str] | None:
    """The least grounding conductor beside these: its size, the way to it, the section."""
    listed = grounding_conductor(guard.amps, material)
    if listed is None:
        return None
    size, section = listed, "Table 250.122"
    words = f"Table 250.122 asks for {gauge(listed)} {material} behind {amps(guard.amps)}."
    thinnest = min(conductors, key=lambda conductor: area(conductor.size))
    least = _least_size(case, thinnest, guard.amps, bunched[thinnest.name])
    if least is not None and area(thinnest.size) > area(least) * (1 + 1e-9):
        ratio = area(thinnest.size) / area(least)
        grown = next(
            (one for one in trade_sizes() if area(one) >= area(listed) * ratio * (1 - 1e-3)),
            trade_sizes()[-1],
        )
        if area(grown) > area(size):
            size, section = grown, "250.122(B)"
            words += (
                f" {thinnest.name} is {gauge(thinnest.size)} where {gauge(least)} would do, {rounded(ratio)} "
                "times the area, so the grounding conductor grows by as much."
            )
    largest = max(conductors, key=lambda conductor: area(conductor.size))
    if area(largest.size) < area(size) and largest.material == material:
        size, section = largest.size, "250.122(A)"
        words += f" It need not be larger than the circuit's own {gauge(largest.size)}."
    return size, words, section


def _least_size(case: Case, conductor: Conductor, protection: float, bunched: int) -> str | None:
    """The least size whose ampacity is that of the protection, where the conductor lies.

    The size that 240.4(B) would allow may be smaller still; it is no measure of what was
    made larger than need be.
    """
    for size in trade_sizes():
        try:
            steps = carries(case, conductor._replace(size=size), protection, bunched)
        except NotInTable:
            continue
        if may_have(steps, False).amps >= protection:
            return size
    return None

"""AC steady state of a network, in RMS phasors, by nodal analysis.

Every branch is an admittance between nodes with, at most, a current injected
beside it, so that the volts at the nodes are the only unknowns: a source is
its Norton equivalent, a transformer the admittance of its two ports. Loads of
constant power or current are admittances with a current that is corrected
until the load draws what it should. The result is then refined until
Kirchhoff's current law holds at every node.
"""

from __future__ import annotations

from cmath import rect

from wirecheck.circuit.elimination import Frame, Reduction, Undetermined
from wirecheck.circuit.network import (
    Branch,
    ConstantCurrent,
    ConstantPower,
    Impedance,
    Network,
    Solution,
    Source,
    Transformer,
)

# Ohms, ratios and floors between these, and volts, watts and amps below, can be solved.
SMALLEST, LARGEST = 1e-18, 1e30

# A winding whose volts nothing else fixes takes this share of its own admittance as magnetizing.
MAGNETIZING = 1e-6

# Loads of constant power or current: corrections in all and how many of them are
# remembered, how still the volts must stand at the end, and how light the loads
# start, so that the upper of two answers is found.
CORRECTIONS = 300
MEMORY = 5
STILL = 1e-13
LIGHT = 1e-3

# Kirchhoff's current law at a node: against its own currents, the network's largest, and in amperes.
IMBALANCE = 1e-9
NOISE = 1e-13
FEMTOAMPERE = 1e-15
REFINEMENTS = 4

Load = ConstantPower | ConstantCurrent


class NoSolution(ArithmeticError):
    """The network has no answer that can be trusted; `branch` names where it failed, or is None."""

    def __init__(self, message: str, branch: str | None = None) -> None:
        super().__init__(message)
        self.branch = branch


def solve(network: Network) -> Solution:
    """Solve a network for the volts at its nodes and the amperes in its branches.

    Parameters
    ----------
    network
        Volts, ohms and watts as RMS phasors at one frequency.

    Returns
    -------
    Solution
        Volts to earth and amps from `a` to `b` (of a transformer, from `p1` to
        `p2` and with its magnetizing current), to about 1e-12 of the branch's
        own. A part without a path to earth is in `floating`: its volts are
        right against each other, with its first node at 0. Where nothing fixes
        the volts of a winding (primary and secondary both open), it is taken to
        have a magnetizing impedance of a million times its own.

        Where a load of constant power has two answers, the upper one (the
        smaller current) is given.

    Raises
    ------
    ValueError
        A branch without ohms or with a node that is not there, a load without
        a floor, a number that is not finite, two branches of one name.
    NoSolution
        Loads that do not settle, or a resonance without damping.

    Examples
    --------
    A 12 ohm heater on 120 V, 0.1 ohm of wire out and 0.1 ohm back:

    >>> answer = solve(Network(4, (
    ...     Source("LP", 1, 0, 120, 1e-9),
    ...     Impedance("out", 1, 2, 0.1),
    ...     Impedance("heater", 2, 3, 12),
    ...     Impedance("back", 3, 0, 0.1),
    ... )))
    >>> round(abs(answer.amps["heater"]), 4), round(abs(answer.volts[2] - answer.volts[3]), 4)
    (9.8361, 118.0328)
    """
    equations = _Equations(network)
    return equations.refined(equations.settle_loads())


def load_amps(load: Load, volts: complex) -> complex:
    """Amps that a load of constant power or current draws at `volts`, from `a` to `b`.

    Examples
    --------
    1200 W at 120 V; at 50 V, below the floor of 100 V, it is 8.333 ohms:

    >>> load_amps(ConstantPower("M", 1, 0, 1200, 100), 120)
    10.0
    >>> load_amps(ConstantPower("M", 1, 0, 1200, 100), 50)
    6.0
    """
    size = abs(volts)
    if isinstance(load, ConstantPower):
        if size >= load.floor:
            return (load.power / volts).conjugate()
        return load.power.conjugate() * volts / load.floor**2
    return rect(load.amps, -load.angle) * volts / max(size, load.floor)


def _check(branch: Branch, nodes: int) -> None:
    """Raise ValueError where the branch cannot be solved."""
    ends: tuple[int, ...]
    match branch:
        case Impedance(a=a, b=b, ohms=ohms):
            ends, sound = (a, b), _size(ohms)
        case Transformer(p1=p1, p2=p2, s1=s1, s2=s2, ratio=ratio, ohms=ohms, magnetizing_ohms=magnetizing):
            ends = (p1, p2, s1, s2)
            sound = _size(ohms) and _size(ratio) and (magnetizing is None or _size(magnetizing))
        case Source(a=a, b=b, volts=volts, ohms=ohms):
            ends, sound = (a, b), _size(ohms) and abs(volts) < LARGEST
        case ConstantPower(a=a, b=b, power=power, floor=floor):
            ends, sound = (a, b), abs(power) < LARGEST and floor > 0 and _size(floor)
        case ConstantCurrent(a=a, b=b, amps=amps, angle=angle, floor=floor):
            ends, sound = (a, b), abs(amps) < LARGEST and abs(angle) < 10 and floor > 0 and _size(floor)
    if min(ends) < 0 or max(ends) >= nodes:
        raise ValueError(f"{branch.name}: it ends at a node that the network does not have")
    if not sound:
        raise ValueError(
            f"{branch.name}: its volts, ohms, ratio, floor or what it draws is 0 where it cannot be, "
            "or no finite number"
        )


def _size(value: complex) -> bool:
    return SMALLEST < abs(value) < LARGEST


class _Islands:
    """Which nodes conduct to each other; the lowest number leads each island."""

    def __init__(self, nodes: int) -> None:
        self.leader = list(range(nodes))

    def find(self, node: int) -> int:
        leader = self.leader
        while leader[node] != node:
            leader[node] = node = leader[leader[node]]
        return node

    def join(self, a: int, b: int) -> None:
        a, b = self.find(a), self.find(b)
        if a < b:
            self.leader[b] = a
        else:
            self.leader[a] = b


class _Pass:
    """What one correction assumed and found, in units of each load's floor."""

    def __init__(self, assumed: list[complex], found: list[complex], scale: list[float]) -> None:
        self.scale = scale
        self.found = [v * s for v, s in zip(found, scale, strict=True)]
        self.error = [(v - old) * s for v, old, s in zip(found, assumed, scale, strict=True)]


def _extrapolated(passes: list[_Pass]) -> list[complex]:
    """The volts to assume next, from how earlier errors changed (D. G. Anderson, J. ACM 12, 1965).

    Of all blends of the passes, it takes the one whose error, were the
    network linear, would be least.
    """
    last = passes[-1]
    found, error = last.found, last.error
    basis: list[tuple[list[complex], list[complex]]] = []
    for earlier in reversed(passes[:-1]):
        change = [e - old for e, old in zip(last.error, earlier.error, strict=True)]
        step = [v - old for v, old in zip(last.found, earlier.found, strict=True)]
        size = _dot(change, change)
        for other, along in basis:
            part = _dot(other, change)
            change = [c - part * o for c, o in zip(change, other, strict=True)]
            step = [c - part * o for c, o in zip(step, along, strict=True)]
        left = _dot(change, change)
        if left <= 1e-8 * size:
            continue  # says nothing that the later passes have not said
        unit = left**-0.5
        change = [c * unit for c in change]
        step = [c * unit for c in step]
        basis.append((change, step))
        part = _dot(change, error)
        error = [e - part * c for e, c in zip(error, change, strict=True)]
        found = [v - part * c for v, c in zip(found, step, strict=True)]
    return [v / s for v, s in zip(found, last.scale, strict=True)]


def _dot(a: list[complex], b: list[complex]) -> float:
    return sum([x.real * y.real + x.imag * y.imag for x, y in zip(a, b, strict=True)])


class _Equations:
    """The nodal equations of one network.

    `lines` are impedances and sources: name, the places of both ends, and the
    siemens and the volts between them; `windings` are transformers with the siemens in series with the
    secondary and across the primary; `place` is a node's place in the
    equations, 0 for earth and for the first node of a floating island.
    """

    def __init__(self, network: Network) -> None:
        nodes = network.nodes
        islands = _Islands(nodes)
        self.branches = network.branches
        self.windings: list[tuple[Transformer, complex, complex]] = []
        if len({branch.name for branch in network.branches}) < len(network.branches):
            raise ValueError("two branches of the network have one name")
        self.loads: list[Load] = []
        self.wary = False
        transformers: list[Transformer] = []
        join = islands.join
        lines = []
        for branch in network.branches:
            if isinstance(branch, Impedance):
                a, b, ohms = branch.a, branch.b, branch.ohms
                if not (0 <= a < nodes and 0 <= b < nodes and SMALLEST < abs(ohms) < LARGEST):
                    _check(branch, nodes)
                lines.append((branch.name, a, b, 1 / ohms, 0j))
                if ohms.imag < 0 or ohms.real < 0:
                    self.wary = True
                join(a, b)
                continue
            _check(branch, nodes)
            if isinstance(branch, Transformer):
                transformers.append(branch)
            elif isinstance(branch, Source):
                lines.append((branch.name, branch.a, branch.b, 1 / branch.ohms, branch.volts))
                join(branch.a, branch.b)
            else:
                self.loads.append(branch)
                if load_amps(branch, branch.floor):
                    join(branch.a, branch.b)
        self._add_windings(transformers, islands)
        leaders = [islands.find(node) for node in range(nodes)]
        self.islands = tuple(leaders)
        self.place = place = [0 if node == leader else node for node, leader in enumerate(leaders)]
        self.lines = [(name, place[a], place[b], siemens, volts) for name, a, b, siemens, volts in lines]

    def _add_windings(self, waiting: list[Transformer], islands: _Islands) -> None:
        """Join the islands that windings join, and magnetize the transformers that nothing excites.

        Volts across one winding fix those across the other. So a transformer
        is fixed once either winding's ends conduct to each other some other
        way; those that never are get a magnetizing impedance of their own.
        """
        idle = False
        while waiting:
            left = []
            for transformer in waiting:
                p1, p2, s1, s2 = transformer.p1, transformer.p2, transformer.s1, transformer.s2
                ohms = transformer.magnetizing_ohms
                series = 1 / transformer.ohms
                across = 0j if ohms is None else 1 / ohms
                if idle:
                    across = MAGNETIZING * series / transformer.ratio**2
                if across or islands.find(p1) == islands.find(p2) or islands.find(s1) == islands.find(s2):
                    islands.join(p1, p2)
                    islands.join(s1, s2)
                    self.windings.append((transformer, series, across))
                else:
                    left.append(transformer)
            idle = len(left) == len(waiting)
            waiting = left

    def mesh(self) -> list[dict[int, complex]]:
        """The admittances between the places, without those of the loads."""
        place = self.place
        mesh: list[dict[int, complex]] = [{} for _ in place]
        for _, a, b, siemens, _ in self.lines:
            if a != b:
                mesh[a][b] = mesh[b][a] = mesh[a].get(b, 0) + siemens
        for winding, series, across in self.windings:
            p1, p2, s1, s2 = place[winding.p1], place[winding.p2], place[winding.s1], place[winding.s2]
            mutual = series / winding.ratio
            _join(mesh, p1, p2, mutual / winding.ratio + across)
            _join(mesh, s1, s2, series)
            _join(mesh, p1, s1, mutual)
            _join(mesh, p2, s2, mutual)
            _join(mesh, p1, s2, -mutual)
            _join(mesh, p2, s1, -mutual)
        for node in range(1, len(mesh)):
            if not place[node]:
                mesh[node][0] = mesh[0][node] = 1 + 0j
        return mesh

    def undetermined(self, node: int) -> NoSolution:
        for branch in self.branches:
            ends = (
                (branch.p1, branch.p2, branch.s1, branch.s2)
                if isinstance(branch, Transformer)
                else (branch.a, branch.b)
            )
            if node in ends:
                return NoSolution(
                    f"{branch.name}: what is joined to it cancels out (a resonance without damping), "
                    "so its volts cannot be told",
                    branch.name,
                )
        return NoSolution("what is joined there cancels out, so the volts cannot be told")

    def inject(self) -> list[complex]:
        """Amps into each place from the sources."""
        amps = [0j] * len(self.place)
        for _, a, b, siemens, volts in self.lines:
            if volts:
                amps[a] += volts * siemens
                amps[b] -= volts * siemens
        return amps

    def settle_loads(self) -> _Drawn:
        """Find what each load draws: an admittance and a current beside it.

        A load of constant power starts light and is then corrected, with the
        network's own volts, until it stands still. All that is not at the loads is
        taken out before, so that a correction costs one substitution among them.
        The network is reduced anew when loads cross their floors,
        but not twice for the same ones: where a load stands at its floor, that
        would go round for ever.
        """
        loads = self.loads
        drawn = _Drawn(self)
        drawn.reduce([LIGHT * load_amps(load, load.floor) / load.floor for load in loads])
        if not loads:
            return drawn
        below: tuple[bool, ...] = ()
        seen: set[tuple[bool, ...]] = set()
        assumed: list[complex] = []
        passes: list[_Pass] = []
        worst = loads[0]
        for _ in range(CORRECTIONS):
            found = drawn.load_volts()
            now = tuple([abs(v) < load.floor for v, load in zip(found, loads, strict=True)])
            if now != below and now not in seen:
                below, passes = now, []
                seen.add(now)
                drawn.reduce(
                    [
                        load_amps(load, v or load.floor) / (v or load.floor)
                        for load, v in zip(loads, found, strict=True)
                    ]
                )
                assumed = found
                continue
            moves = [
                abs(v - old) / max(abs(v), load.floor)
                for load, v, old in zip(loads, found, assumed, strict=True)
            ]
            if max(moves) <= STILL:
                return drawn
            worst = loads[moves.index(max(moves))]
            passes = [*passes[-MEMORY:], _Pass(assumed, found, [1 / load.floor for load in loads])]
            assumed = _extrapolated(passes)
            drawn.injections = [
                load_amps(load, v) - y * v
                for load, v, y in zip(loads, assumed, drawn.admittances, strict=True)
            ]
        raise NoSolution(
            f"{worst.name}: its volts do not settle; the wiring cannot carry what it draws", worst.name
        )

    def refined(self, drawn: _Drawn) -> Solution:
        """The solution, corrected until the currents at every node add up to nothing.

        Corrections are kept apart from the volts they correct. Their difference
        across a wire would be lost in the volts' own rounding, and with it the
        microamperes of a meter at the end of milliohms of wire.
        """
        place = self.place
        volts = drawn.volts()
        small = [0j] * len(volts)
        for refinement in range(REFINEMENTS):
            amps, astray, through = self._currents(volts, small, drawn.admittances, drawn.injections)
            bound = NOISE * max(through) + FEMTOAMPERE
            if refinement and all(
                abs(a) <= IMBALANCE * t + bound for a, t in zip(astray, through, strict=True)
            ):
                break
            small = [s + fix for s, fix in zip(small, drawn.answer([-a for a in astray]), strict=True)]
        else:
            raise NoSolution(
                "the currents at a node do not add up to nothing; the network is too close to a resonance"
            )
        for load in self.loads:
            a, b = place[load.a], place[load.b]
            wanted = load_amps(load, volts[a] - volts[b] + (small[a] - small[b]))
            if not abs(wanted - amps[load.name]) <= IMBALANCE * abs(wanted) + bound:
                raise NoSolution(f"{load.name}: what it draws does not settle", load.name)
        return Solution(
            volts=tuple([volts[p] + small[p] for p in place]),
            amps=amps,
            floating=frozenset([node for node, first in enumerate(self.islands) if first]),
            islands=self.islands,
        )

    def _currents(
        self,
        volts: list[complex],
        small: list[complex],
        admittances: list[complex],
        injections: list[complex],
    ) -> tuple[dict[str, complex], list[complex], list[float]]:
        """Amps by branch; of every place, the sum of amps out of it and the sum of their sizes."""
        place = self.place
        amps: dict[str, complex] = {}
        astray = [0j] * len(place)
        through = [0.0] * len(place)

        def flow(a: int, b: int, amp: complex) -> None:
            size = abs(amp)
            astray[a] += amp
            astray[b] -= amp
            through[a] += size
            through[b] += size

        for name, a, b, siemens, behind in self.lines:
            amp = (volts[a] - volts[b] - behind) * siemens + (small[a] - small[b]) * siemens
            amps[name] = amp
            size = abs(amp)
            astray[a] += amp
            astray[b] -= amp
            through[a] += size
            through[b] += size
        for load, siemens, injection in zip(self.loads, admittances, injections, strict=True):
            a, b = place[load.a], place[load.b]
            amps[load.name] = amp = (volts[a] - volts[b] + (small[a] - small[b])) * siemens + injection
            flow(a, b, amp)
        for winding, series, across in self.windings:
            p1, p2, s1, s2 = place[winding.p1], place[winding.p2], place[winding.s1], place[winding.s2]
            ratio = winding.ratio
            amp = ((volts[p1] - volts[p2]) / ratio - (volts[s1] - volts[s2])) * series
            amp += ((small[p1] - small[p2]) / ratio - (small[s1] - small[s2])) * series
            flow(s2, s1, amp)
            amp /= ratio
            if across:
                amp += (volts[p1] - volts[p2] + (small[p1] - small[p2])) * across
            amps[winding.name] = amp
            flow(p1, p2, amp)
        astray[0] = 0j  # earth takes whatever comes
        return amps, astray, through


def _join(mesh: list[dict[int, complex]], a: int, b: int, siemens: complex) -> None:
    """Put a branch between two places."""
    if a != b:
        mesh[a][b] = mesh[b][a] = mesh[a].get(b, 0) + siemens


class _Drawn:
    """A network with what its loads draw: an admittance each, and a current beside it."""

    def __init__(self, equations: _Equations) -> None:
        place = equations.place
        self.equations = equations
        self.admittances: list[complex] = []
        self.injections: list[complex] = []
        ends = [(place[load.a], place[load.b]) for load in equations.loads]
        self.frame = Frame(equations.mesh(), {node for pair in ends for node in pair}, equations.wary)
        at = {node: index for index, node in enumerate(self.frame.nodes)}
        # The places of the loads' ends among the nodes that are left.
        self.ends = [(at[a], at[b]) for a, b in ends]
        self.inflow = self.frame.inward(equations.inject())
        self.sources = [self.inflow[node] for node in self.frame.nodes]

    def reduce(self, admittances: list[complex]) -> None:
        """Make the network ready to be solved, each load an admittance."""
        mesh = [row.copy() for row in self.frame.mesh]
        for (a, b), siemens in zip(self.ends, admittances, strict=True):
            if siemens:
                _join(mesh, a, b, siemens)
        try:
            self.reduction = Reduction(mesh, self.equations.wary)
        except Undetermined as error:
            raise self.equations.undetermined(self.frame.nodes[error.node]) from error
        self.admittances = admittances
        self.injections = [0j] * len(admittances)

    def _left(self) -> list[complex]:
        """Volts of the nodes that are left."""
        amps = self.sources.copy()
        for (a, b), amp in zip(self.ends, self.injections, strict=True):
            amps[a] -= amp
            amps[b] += amp
        return self.reduction.volts(amps)

    def load_volts(self) -> list[complex]:
        """Volts across each load."""
        volts = self._left()
        return [volts[a] - volts[b] for a, b in self.ends]

    def volts(self) -> list[complex]:
        """Volts of every place."""
        return self.frame.outward(self.inflow, self._left())

    def answer(self, amps: list[complex]) -> list[complex]:
        """Volts of every place that `amps` into each bring by themselves."""
        inflow = self.frame.inward(amps)
        return self.frame.outward(inflow, self.reduction.volts([inflow[node] for node in self.frame.nodes]))

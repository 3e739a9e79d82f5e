"""Node elimination by star-mesh transformation: the linear algebra of a network.

Taking a node out of a network leaves its neighbours joined pairwise by
`y_i y_j / (y_1 + ... + y_n)` (A. Rosen, "A new network theorem", J. IEE 62,
1924, pp. 916-918), and its injected current shared among them as the branches
share it. Done to every node, this is Gaussian elimination of the nodal
equations that never subtracts: a diagonal is always the sum of the branches at
its node. So a 10 megohm meter on a milliohm wire keeps all its digits, which
the same matrix stored with its diagonal would lose (the idea of W. K. Grassmann,
M. I. Taksar and D. P. Heyman, Operations Research 33, 1985, pp. 1107-1116).

Wiring is nearly a tree, so taking the node with the fewest neighbours first
(H. M. Markowitz, Management Science 3, 1957; W. F. Tinney and J. W. Walker,
Proc. IEEE 55, 1967) costs time in proportion to the nodes. What is left of a
network that is a dense mesh goes to SuperLU by way of scipy.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterable, Sequence

# A mesh goes to SuperLU from this many nodes with at least that many neighbours
# each: below it, importing scipy alone takes longer than finishing here.
CORE_NODES = 150
CORE_NEIGHBOURS = 12

# A frame keeps nodes with so many neighbours: fewer leave no more branches than they had.
MANY_NEIGHBOURS = 4

# A node whose branches cancel each other this far (resonance) waits for its neighbours.
CANCELLATION = 1e-8

Step = tuple[int, complex, list[tuple[int, complex]]]
"""A node that was taken out: its ohms to all of its neighbours, and the share of each of them."""


class Undetermined(ArithmeticError):
    """Nothing fixes the volts at `node`."""

    def __init__(self, node: int) -> None:
        super().__init__(f"nothing fixes the volts at node {node}")
        self.node = node


class Reduction:
    """A network without its sources, reduced and ready to be solved for any injection.

    Parameters
    ----------
    mesh
        For every node its neighbours, each with the admittance in siemens
        between the two (so each stands twice); node 0 is earth and every node
        has a path to it. The mesh is used up.
    wary
        Whether admittances can cancel (capacitors beside coils).

    Raises
    ------
    Undetermined
        Where the admittances at a node cancel out.

    Examples
    --------
    Two nodes, 1 S from each to earth and 2 S between them; 5 A into node 1.

    >>> mesh = [{1: 1 + 0j, 2: 1 + 0j}, {0: 1 + 0j, 2: 2 + 0j}, {0: 1 + 0j, 1: 2 + 0j}]
    >>> Reduction(mesh).volts([0, 5, 0])
    [0j, (3+0j), (2+0j)]
    """

    def __init__(self, mesh: list[dict[int, complex]], wary: bool = False) -> None:
        self._nodes = len(mesh)
        self._core: list[int] = []
        self._solve_core: Callable[[Sequence[complex]], list[complex]] | None = None
        done = bytearray(len(mesh))
        done[0] = 1
        self._steps, dense = _taken_out(mesh, done, wary, CORE_NEIGHBOURS, CORE_NODES)
        if dense:
            self._factor_core(mesh, [node for node, gone in enumerate(done) if not gone])
        elif 0 in done:
            raise Undetermined(done.index(0))

    def _factor_core(self, mesh: list[dict[int, complex]], core: list[int]) -> None:
        import numpy as np
        from scipy.sparse import csc_array
        from scipy.sparse.linalg import splu

        place = {node: index for index, node in enumerate(core)}
        rows: list[int] = []
        columns: list[int] = []
        values: list[complex] = []
        for index, node in enumerate(core):
            rows.append(index)
            columns.append(index)
            values.append(sum(mesh[node].values()))
            for other, y in mesh[node].items():
                if other:
                    rows.append(index)
                    columns.append(place[other])
                    values.append(-y)
        matrix = csc_array((values, (rows, columns)), shape=(len(core), len(core)), dtype=complex)
        try:
            factors = splu(matrix, permc_spec="MMD_AT_PLUS_A", options={"SymmetricMode": True})
        except RuntimeError as error:  # SuperLU's word for a singular matrix
            raise Undetermined(core[0]) from error
        self._core = core
        self._solve_core = lambda amps: factors.solve(np.array(amps, dtype=complex)).tolist()

    def volts(self, amps: Sequence[complex]) -> list[complex]:
        """Volts to earth of every node with `amps` injected into each."""
        inflow = list(amps)
        _inward(self._steps, inflow)
        volts = [0j] * self._nodes
        if self._solve_core is not None:
            for node, value in zip(
                self._core, self._solve_core([inflow[n] for n in self._core]), strict=True
            ):
                volts[node] = value
        _outward(self._steps, inflow, volts)
        return volts


class Frame:
    """A network with the nodes taken out at which nothing will change.

    Parameters
    ----------
    mesh
        As in `Reduction`, but that some of `kept` may have no path to earth yet. It is used up.
    kept
        The nodes to which branches will be added.

    Attributes
    ----------
    nodes
        The nodes that are left, earth first; with `kept` they hold what has many neighbours.
    mesh
        The network of those, each by its place in `nodes`.

    Examples
    --------
    Node 1 of the network in `Reduction` is kept, and gets 1 S more to earth.

    >>> frame = Frame([{1: 1 + 0j, 2: 1 + 0j}, {0: 1 + 0j, 2: 2 + 0j}, {0: 1 + 0j, 1: 2 + 0j}], [1])
    >>> frame.nodes, frame.mesh[1]
    ([0, 1], {0: (1.6666666666666665+0j)})
    >>> frame.mesh[0][1] = frame.mesh[1][0] = frame.mesh[1][0] + 1
    >>> inflow = frame.inward([0, 8, 0])
    >>> [round(abs(volts), 9) for volts in frame.outward(inflow, Reduction(frame.mesh).volts(inflow[:2]))]
    [0.0, 3.0, 2.0]
    """

    def __init__(self, mesh: list[dict[int, complex]], kept: Iterable[int], wary: bool = False) -> None:
        done = bytearray(len(mesh))
        done[0] = 1
        for node in kept:
            done[node] = 1
        self._steps, _ = _taken_out(mesh, done, wary, MANY_NEIGHBOURS, 0)
        gone = {node for node, _, _ in self._steps}
        self.nodes = [node for node in range(len(mesh)) if node not in gone]
        place = {node: index for index, node in enumerate(self.nodes)}
        self.mesh = [{place[other]: y for other, y in mesh[node].items()} for node in self.nodes]

    def inward(self, amps: Sequence[complex]) -> list[complex]:
        """What `amps` into each node come to at the nodes that are left, where they are."""
        inflow = list(amps)
        _inward(self._steps, inflow)
        return inflow

    def outward(self, inflow: Sequence[complex], left: Sequence[complex]) -> list[complex]:
        """Volts of every node, from those of the nodes that are left."""
        volts = [0j] * len(inflow)
        for node, value in zip(self.nodes, left, strict=True):
            volts[node] = value
        _outward(self._steps, inflow, volts)
        return volts


def _taken_out(
    mesh: list[dict[int, complex]], done: bytearray, wary: bool, neighbours: int, nodes: int
) -> tuple[list[Step], bool]:
    """Take nodes out, those with the fewest neighbours first, but for those that are `done`.

    It ends where every node has so many neighbours and so many nodes are left; the second value says so.
    """
    count = len(mesh)
    steps: list[Step] = []
    left = done.count(0)
    heappush = heapq.heappush
    # One integer holds (neighbours, node), so that comparing is cheap.
    queue = [len(branches) * count + node for node, branches in enumerate(mesh) if not done[node]]
    heapq.heapify(queue)
    while queue:
        degree, node = divmod(heapq.heappop(queue), count)
        branches = mesh[node]
        if done[node] or degree != len(branches):
            continue
        if degree >= neighbours and left >= nodes:
            return steps, True
        total = sum(branches.values())
        if not total or (wary and abs(total) < CANCELLATION * sum(map(abs, branches.values()))):
            continue
        done[node] = 1
        left -= 1
        if degree == 1:  # the end of a run: it takes the volts of its neighbour
            ((i, y),) = branches.items()
            steps.append((node, 1 / y, [(i, 1)]))
            del mesh[i][node]
            if i:
                heappush(queue, len(mesh[i]) * count + i)
            continue
        if degree == 2:  # a joint of a run, as most nodes are
            (i, y), (j, z) = branches.items()
            shares = [(i, y / total), (j, z / total)]
            steps.append((node, 1 / total, shares))
            one, other = mesh[i], mesh[j]
            del one[node], other[node]
            one[j] = other[i] = one.get(j, 0) + y * z / total
            if i:
                heappush(queue, len(one) * count + i)
            if j:
                heappush(queue, len(other) * count + j)
            continue
        items = list(branches.items())
        shares = [(other, y / total) for other, y in items]
        steps.append((node, 1 / total, shares))
        for index, (i, y) in enumerate(items):
            row = mesh[i]
            del row[node]
            for j, share in shares[:index]:
                row[j] = mesh[j][i] = row.get(j, 0) + y * share
        for i in branches:
            if i:
                heappush(queue, len(mesh[i]) * count + i)
    return steps, False


def _inward(steps: Sequence[Step], inflow: list[complex]) -> None:
    """Share what flows into each node that was taken out among those that were left then."""
    for node, _, shares in steps:
        amp = inflow[node]
        if amp:
            for other, share in shares:
                inflow[other] += amp * share


def _outward(steps: Sequence[Step], inflow: Sequence[complex], volts: list[complex]) -> None:
    """The volts of the nodes that were taken out, the last one first."""
    for node, ohms, shares in reversed(steps):
        value = inflow[node] * ohms
        for other, share in shares:
            value += share * volts[other]
        volts[node] = value

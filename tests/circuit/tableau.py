"""A second way to the same answer: the sparse tableau, every branch current an unknown.

Written from G. D. Hachtel, R. K. Brayton and F. G. Gustavson, "The sparse
tableau approach to network analysis and design", IEEE Transactions on Circuit
Theory 18, 1971: Kirchhoff's current law at every node and the law of every
branch, side by side, solved by SuperLU. It shares nothing with the solver.
"""

from __future__ import annotations

import networkx
import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.linalg import splu

from wirecheck.circuit.network import Impedance, Network, Source, Transformer


def reference_nodes(network: Network) -> list[int]:
    """Node 0 and the lowest node of every part without a path to it."""
    graph = networkx.Graph()
    graph.add_nodes_from(range(network.nodes))
    for branch in network.branches:
        if isinstance(branch, Transformer):
            graph.add_edges_from([(branch.p1, branch.p2), (branch.s1, branch.s2)])
        else:
            graph.add_edge(branch.a, branch.b)
    return sorted(min(part) for part in networkx.connected_components(graph))


def solve_tableau(network: Network) -> tuple[list[complex], dict[str, complex]]:
    """Volts by node and amps by branch; only impedances, sources and transformers."""
    columns = {branch.name: network.nodes + index for index, branch in enumerate(network.branches)}
    extra = network.nodes + len(columns)  # a second current for each transformer
    entries: list[tuple[int, int, complex]] = []
    right: dict[int, complex] = {}
    for branch in network.branches:
        i = columns[branch.name]
        match branch:
            case Impedance():
                entries += [(branch.a, i, 1), (branch.b, i, -1)]
                entries += [(i, branch.a, 1), (i, branch.b, -1), (i, i, -branch.ohms)]
            case Source():
                entries += [(branch.a, i, 1), (branch.b, i, -1)]
                entries += [(i, branch.a, 1), (i, branch.b, -1), (i, i, -branch.ohms)]
                right[i] = branch.volts
            case Transformer(p1=p1, p2=p2, s1=s1, s2=s2, ratio=ratio, ohms=ohms):
                out, extra = extra, extra + 1
                entries += [(p1, i, 1), (p2, i, -1), (s1, out, -1), (s2, out, 1)]
                entries += [(out, p1, 1 / ratio), (out, p2, -1 / ratio), (out, s1, -1), (out, s2, 1)]
                entries += [(out, out, -ohms), (i, i, ratio), (i, out, -1)]
                if branch.magnetizing_ohms is not None:
                    share = ratio / branch.magnetizing_ohms
                    entries += [(i, p1, -share), (i, p2, share)]
    for node in reference_nodes(network):
        entries = [entry for entry in entries if entry[0] != node] + [(node, node, 1)]
    rows, cols, values = zip(*entries, strict=True)
    matrix = coo_array((np.array(values, complex), (rows, cols)), shape=(extra, extra)).tocsc()
    # Rows to one size: they hold volts beside amperes.
    scale = 1 / abs(matrix).max(axis=1).toarray().ravel()
    matrix = matrix.multiply(scale[:, None]).tocsc()
    known = np.zeros(extra, complex)
    for row, value in right.items():
        known[row] = value * scale[row]
    factors = splu(matrix)
    answer = factors.solve(known)
    answer += factors.solve(known - matrix @ answer)
    return answer[: network.nodes].tolist(), {name: complex(answer[i]) for name, i in columns.items()}

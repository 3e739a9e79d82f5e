"""What a call begins in the device that makes it, as a clock its defrost: it may end that by itself."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from wirecheck.circuit.circuit import Circuit, Move
from wirecheck.language.syntax import Called


def begun(circuit: Circuit, calls: Collection[str]) -> Iterator[tuple[str, Move]]:
    """Each call of some with the move that its own device makes for it and nothing else."""
    for move in circuit.moves:
        if isinstance(move.when, Called):
            call = move.when.call.text
            for name in (call, f"{move.scope}.{call}"):
                if name in calls:
                    yield name, move

"""What a full heat call of the furnace board costs, all events: under 0.3 s in process."""

from __future__ import annotations

from wirecheck import assemble, files
from wirecheck.circuit.call import CallPlayed, play_call
from wirecheck.circuit.circuit import circuit

MOST_SECONDS = 0.3


def test_a_full_heat_call(benchmark) -> None:
    board = assemble((files.folder("boards") / "condensing-furnace" / "right.wire").read_bytes())[1]

    def heat() -> CallPlayed:
        # The circuit is made anew each time, so that nothing of it is ready.
        return play_call(circuit(board), ["heat"])

    played = benchmark.pedantic(heat, rounds=5, warmup_rounds=1)
    assert "F.blower" in {change.name for step in played.steps for change in step.changes}
    assert played.rest.running == played.before.running
    if benchmark.stats:
        assert benchmark.stats.stats.min < MOST_SECONDS

"""A wire that is left off leaves the ladder of the right board as it is, with a gap in it."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from tests.drawing.test_ladder import in_order, of_text
from tests.drawing.test_places import PAIRS
from wirecheck.circuit.circuit import circuit
from wirecheck.circuit.rungs import ladder
from wirecheck.drawing.picture import sheet
from wirecheck.model.board import Board

NEARLY = 18.0
"""How far a sign of 30 points may be from its place: words that are on the wrong board alone take room."""
OTHER = {
    "common-wire-kit/wrong-receiver-without-common": "one missing wire ends two rungs, which stand together",
    "heat-pump/wrong-outdoor-common-left-off": "one missing wire ends two rungs, which stand together",
    "one-transformer/wrong-jumper-left-out": "the wire behind the rail has a number of its own",
    "one-transformer/wrong-red-on-rh-alone": "one missing wire begins several rungs, which stand together",
    "heat-pump-b/wrong-b-left-off": "the upright wire keeps off the words under a sign",
    "motor-control-transformer/wrong-feed-left-off": "the wire behind the rail has a number of its own",
    "oil-furnace/wrong-neutral-left-off": "what is said beside its rungs pushes a ladder aside",
    "primary-secondary-boiler/wrong-system-circulator-left-off": "what is said pushes a ladder aside",
    "split-air-conditioner/wrong-24-volts-on-one-leg": "what is said beside its rungs pushes a ladder aside",
}
"""Where more moves than that, and why."""


def rungs(board: Board) -> tuple[Counter[frozenset[str]], int]:
    """What stands on each rung but for missing wires, and how many of these there are."""
    told = in_order(ladder(circuit(board)))
    return Counter(frozenset(rung) - {"|"} for rung in told), sum("|" in rung for rung in told)


def placed(board: Board) -> dict[str, tuple[float, float]]:
    """The middle of each sign but a missing wire's, by its name."""
    found: dict[str, tuple[float, float]] = {}
    for line in sheet(board, kind="ladder").lines:
        if line.kind.startswith("sign") and not line.id.startswith("gap-"):
            xs, ys = zip(*(point for piece in line.pieces for point in piece), strict=True)
            found.setdefault(line.id, ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2))
    return found


def moved(right: Path, wrong: Path) -> dict[str, tuple[float, float]]:
    """How far each sign is from its place on the right board, where it is not there."""
    one, other = (placed(of_text(path.read_text("utf-8"))) for path in (right, wrong))
    assert one.keys() == other.keys()
    away = {name: (other[name][0] - x, other[name][1] - y) for name, (x, y) in one.items()}
    return {name: by for name, by in away.items() if max(map(abs, by)) > NEARLY}


@pytest.mark.parametrize(
    ("right", "wrong"),
    [pytest.param(*pair, marks=[pytest.mark.slow] * (pair[1].stem != "wrong-c-left-off")) for pair in PAIRS],
    ids=[f"{wrong.parent.name}-{wrong.stem}" for _, wrong in PAIRS],
)
def test_a_wire_that_is_left_off_moves_no_sign(right: Path, wrong: Path) -> None:
    (one, _), (other, gaps) = (rungs(of_text(path.read_text("utf-8"))) for path in (right, wrong))
    if gaps and one == other:
        assert bool(moved(right, wrong)) == (f"{wrong.parent.name}/{wrong.stem}" in OTHER)

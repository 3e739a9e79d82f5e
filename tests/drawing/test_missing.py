"""A wire that is left off leaves the ladder of the right board as it is, with a gap in it."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from tests.drawing.test_ladder import in_order
from tests.drawing.test_places import PAIRS
from tests.drawing.test_wiring import of_text
from wirecheck import files
from wirecheck.circuit.circuit import circuit
from wirecheck.circuit.rungs import ladder
from wirecheck.drawing.picture import sheet
from wirecheck.drawing.sheet import Sheet, Spot, Words
from wirecheck.model.board import Board

NEARLY = 18.0
"""How far a sign of 30 points may be from its place: words that are on the wrong board alone take room."""
OTHER = {
    "common-wire-kit/wrong-receiver-without-common": "one missing wire ends two rungs, which stand together",
    "heat-pump/wrong-outdoor-common-left-off": "one missing wire ends two rungs, which stand together",
    "timer-defrost/wrong-clock-without-its-second-hot": "one missing wire ends two rungs side by side",
    "one-transformer/wrong-jumper-left-out": "the wire behind the rail has a number of its own",
    "one-transformer/wrong-red-on-rh-alone": "one missing wire begins several rungs, which stand together",
    "heat-pump-b/wrong-b-left-off": "the upright wire keeps off the words under a sign",
    "motor-control-transformer/wrong-feed-left-off": "the wire behind the rail has a number of its own",
    "oil-furnace/wrong-neutral-left-off": "what is said beside its rungs pushes a ladder aside",
    "primary-secondary-boiler/wrong-system-circulator-left-off": "what is said pushes a ladder aside",
    "split-air-conditioner/wrong-24-volts-on-one-leg": "what is said beside its rungs pushes a ladder aside",
    "workshop-subpanel/wrong-feeder-hot-left-off": "what follows in the rail stands on the rung then",
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


def drawn(name: str) -> Sheet:
    return sheet(of_text((files.folder("boards") / f"{name}.wire").read_text("utf-8")), kind="ladder")


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("pump-down-cooler/wrong-condenser-fan-left-off", "no wire"),
        ("dual-fuel/wrong-w2-straight-to-the-furnace", "capped"),
        ("three-switch-hall/wrong-splice-open", "open"),
        # Where it is joined with what is no source, that is told, and not what is on the other side.
        ("dimmer-and-fan-control/wrong-ground-as-neutral", "to OS.ground"),
        ("stair-light/wrong-bare-to-hot", "to L1.ground"),
        ("smoke-alarms/wrong-interconnect-on-the-hot", "to interconnect"),
    ],
)
def test_a_gap_says_whether_a_wire_is_there(name: str, said: str) -> None:
    words = [mark.text for mark in drawn(name).marks if isinstance(mark, Words)]
    told = ("no wire", "capped", "open", "to OS.ground", "to L1.ground", "to interconnect")
    assert [word for word in words if word in told] == [said]


def test_a_load_that_returns_on_a_ground_which_ends_at_a_device_says_at_which() -> None:
    marks = drawn("dimmer-and-fan-control/wrong-ground-as-neutral").marks
    notes = [mark.text for mark in marks if isinstance(mark, Words) and mark.kind == "note"]
    assert notes == ["one end leads to", "OS.ground alone"]


@pytest.mark.parametrize(
    ("name", "count"),
    [
        ("pump-down-cooler/wrong-condenser-fan-left-off", 2),
        # Beside the gap the relay's contact to the capped wire of W has one.
        ("dual-fuel/wrong-w2-straight-to-the-furnace", 3),
    ],
)
def test_the_ring_of_a_missing_wire_is_clear_of_the_joint_that_it_would_lead_to(
    name: str, count: int
) -> None:
    spots = [mark for mark in drawn(name).marks if isinstance(mark, Spot)]
    rings = [spot for spot in spots if spot.kind == "open-end"]
    assert len(rings) == count
    for ring in rings:
        dots = [dot for dot in spots if dot.kind == "dot" and abs(dot.y - ring.y) < 1]
        assert all(abs(dot.x - ring.x) > (dot.width + ring.width) / 2 for dot in dots)


def test_the_number_of_a_wire_that_is_missed_stands_by_its_own_end() -> None:
    marks = drawn("pump-down-cooler/wrong-condenser-fan-left-off").marks
    left, _ = sorted(mark.x for mark in marks if isinstance(mark, Spot) and mark.kind == "open-end")
    (number,) = (mark for mark in marks if isinstance(mark, Words) and mark.text == "9")
    assert left - 8 < number.x < left


def in_rows(name: str, load: str) -> list[str]:
    """What leads to a load, in order; a missing wire is "|"."""
    told = in_order(ladder(circuit(of_text((files.folder("boards") / f"{name}.wire").read_text("utf-8")))))
    return next(rung for rung in told if load in rung)


def test_what_a_subpanels_main_feeds_is_missed_before_its_pole() -> None:
    rung = in_rows("workshop-subpanel/wrong-feeder-hot-left-off", "R1.top")
    assert rung == ["LP.2/2", "|", "SP.main/2", "SP.3", "R1.top"]


def test_a_coil_is_never_fed_through_the_contact_that_it_moves() -> None:
    rung = in_rows("dual-fuel/wrong-w2-straight-to-the-furnace", "K.relay")
    assert not any(step.startswith("K.relay.") for step in rung)
    assert any(step.startswith("TS.") and step.endswith("W2") for step in rung)


def test_what_a_switch_feeds_where_nothing_draws_is_drawn_with_where_it_leads() -> None:
    """A bare and a hot that are exchanged at a light: its metal hangs on the breaker and the switches."""
    board = of_text((files.folder("boards") / "stair-light" / "wrong-bare-to-hot.wire").read_text("utf-8"))
    ladder_drawn = sheet(board, kind="ladder")
    said = " ".join(mark.text for mark in ladder_drawn.marks if isinstance(mark, Words))
    for word in ("TP.1", "S1", "S2", "leads to L1.ground alone", "both ends on one wire"):
        assert word in said, word


def test_a_side_that_an_input_is_told_from_is_missed_on_its_own_rung() -> None:
    """A delay without its common stands on the rung of its call, and not on a ladder of its own."""
    name = "condenser-fan-cycling/wrong-delay-without-common.wire"
    drawn = sheet(of_text((files.folder("boards") / name).read_text("utf-8")), kind="ladder")
    fuses = {line.id.partition(".stroke")[0] for line in drawn.lines if "-F.fuse" in line.id}
    assert len(fuses) == 1


def test_one_missing_wire_of_two_loads_is_drawn_once() -> None:
    name = "timer-defrost/wrong-clock-without-its-second-hot.wire"
    drawn = sheet(of_text((files.folder("boards") / name).read_text("utf-8")), kind="ladder")
    assert sum(isinstance(mark, Spot) and mark.kind == "open-end" for mark in drawn.marks) == 1

"""A board is checked as far as it is built: what comes later is not asked of it, what is wrong is told."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.boards.test_boards import LATER
from tests.rules.built import roughed_in, trimmed
from tests.rules.hands import COOLING, LOOP, STAIR, case, changed
from tests.rules.motors import STARTER
from wirecheck import check, files
from wirecheck.causes.hiding import causes
from wirecheck.findings import problems
from wirecheck.judge.finding import STAGES, Stage

BOARDS = files.folder("boards")
RIGHT = sorted(BOARDS.glob("*/right.wire"))
# The calls of equipment take their time to play; what a stage is shows on the boards of a house.
WRONG = [path for path in sorted(BOARDS.glob("*/wrong-*.wire")) if "CL2" not in path.read_text("utf-8")]

METAL = """\
board "A metal box"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
box A square 4 x 2-1/8 in metal
box B octagon 15.5 cu in
cable W1 14/2 NM-B 22 ft from LP (free 8 in) to A (free 7 in, secured 8 in)
cable W2 14/2 NM-B 16 ft from A (free 7 in, secured 8 in) to B (free 7 in, secured 8 in)
at A
  W1.black -- W2.black
  W1.white -- W2.white
  W1.bare -- W2.bare -- pigtail -- A.ground
"""

ROOFTOP = (BOARDS / "rooftop-unit" / "right.wire").read_text(encoding="utf-8")


def some(paths: list[Path], each: int) -> list[object]:
    """Every so many of these boards; the long tests take the others too."""
    return [
        pytest.param(path, marks=[pytest.mark.slow] * (number % each > 0 or path.parent.name in LATER))
        for number, path in enumerate(paths)
    ]


def worse(text: str, stage: str) -> list[str]:
    """The rules that find something worse than advice."""
    return [each.rule for each in check(text, stage=stage).findings if each.severity != "advice"]


def named(path: Path) -> str:
    return str(path.relative_to(BOARDS))


@pytest.mark.parametrize("path", some(RIGHT, 8), ids=named)
@pytest.mark.parametrize("landed", [True, False], ids=["on the bars", "panel not made up"])
@pytest.mark.parametrize("declared", [True, False], ids=["devices declared", "no devices"])
def test_a_right_board_is_right_in_its_rough_in(path: Path, declared: bool, landed: bool) -> None:
    text = roughed_in(path.read_text(encoding="utf-8"), declared, landed)
    assert worse(text, "rough-in") == []


@pytest.mark.parametrize("path", some(RIGHT, 2), ids=named)
def test_a_right_board_is_right_in_its_trim(path: Path) -> None:
    assert worse(trimmed(path.read_text(encoding="utf-8")), "trim") == []


@pytest.mark.parametrize("path", some(RIGHT, 8), ids=named)
def test_the_rough_in_that_is_taken_back_is_no_finished_board(path: Path) -> None:
    """The boards that the tests above are silent about do lack something: the later stages say so."""
    assert worse(roughed_in(path.read_text(encoding="utf-8")), "final")


@pytest.mark.parametrize("path", some(WRONG, 8), ids=named)
def test_each_stage_tells_what_the_one_before_told(path: Path) -> None:
    """What is wrong in the rough-in is still wrong later, and no finding is of a later stage than asked."""
    text = path.read_text(encoding="utf-8")
    told: list[set[tuple[str, int]]] = []
    advised: set[tuple[str, int]] = set()
    for stage in STAGES:
        found = [each for each in check(text, stage=stage).findings if each.rule != "open-splice"]
        assert all(STAGES.index(each.stage) <= STAGES.index(stage) for each in found)
        told.append({(each.rule, each.span.line) for each in found})
        if gone := told[-2] - told[-1] if len(told) > 1 else set():
            # Advice may go, where it is still seen and follows from what is worse and of this stage only.
            assert gone <= advised & hidden(text, stage)
        advised = {(each.rule, each.span.line) for each in found if each.severity == "advice"}


def hidden(text: str, stage: Stage) -> set[tuple[str, int]]:
    """What is seen in a stage and goes under something worse that is of that stage: each rule and line."""
    board = case(text)
    seen = problems(board, stage)
    alone = [one for _, one in seen]
    behind = dict(zip(map(id, alone), causes(alone, board), strict=True))
    told = set()
    for rule, one in seen:
        cause = behind[id(one)]
        while cause is not None and behind[id(cause)] is not None:
            cause = behind[id(cause)]
        if cause is not None and cause.stage == stage and cause.severity != "advice":
            told.add((rule.name, one.at.span.line))
    return told


ROUGH_IN_MISTAKES = {
    "box too small": (STAIR, "A device 20.3 cu in", "A device 12 cu in", "box-fill"),
    "cut short": (STAIR, "to A (free 7 in", "to A (free 4 in", "free-conductor"),
    "stapled far": (STAIR, "(free 6 in, secured 10 in)", "(free 6 in, secured 14 in)", "cable-support"),
    "breaker too large": (STAIR, "LP.3 15 A", "LP.3 20 A", "overcurrent-protection"),
    "grounds open": (STAIR, "W1.bare -- W2.bare -- pigtail -- S1.ground", "cap W1.black", "open-splice"),
    "neutral open": (STAIR, "  W1.white -- W2.white\n", "", "open-splice"),
    "one ground left out": (LOOP, "W1.bare -- W2.bare -- pigtail", "W1.bare", "open-splice"),
    "cable too thin": (COOLING, "PC 10/2 NM-B", "PC 14/2 NM-B", "overcurrent-protection"),
    "breaker too large for the motor to come": (STARTER, "SP.1 40 A", "SP.1 60 A", "overcurrent-protection"),
    "wire too thin for the motor to come": (STARTER, "A1 10 THHN", "A1 14 THHN", "overcurrent-protection"),
    "wire too thin for the unit to come": (ROOFTOP, "P1 8 THWN-2", "P1 10 THWN-2", "overcurrent-protection"),
    "breaker of another circuit": (
        STARTER,
        "at SP\n",
        "breaker SP.2 20 A\nwire X 14 THHN black 21 ft from SP to E in R1\nat SP\n  X -- SP.2\n",
        "overcurrent-protection",
    ),
    "metal box open": (METAL, " -- pigtail -- A.ground", "", "open-ground"),
}


@pytest.mark.parametrize(("text", "old", "new", "rule"), ROUGH_IN_MISTAKES.values(), ids=ROUGH_IN_MISTAKES)
def test_a_mistake_of_the_rough_in_is_found_there(text: str, old: str, new: str, rule: str) -> None:
    assert rule not in worse(roughed_in(text), "rough-in")
    assert rule in worse(roughed_in(changed(text, (old, new))), "rough-in")


LAMP = "W3.black -- L1.hot\n  W3.white -- L1.neutral\n  W3.bare -- L1.ground"
TURNED = "W3.white -- L1.hot\n  W3.black -- L1.neutral\n  W3.bare -- L1.ground"
LIVE_METAL = "W3.bare -- L1.hot\n  W3.white -- L1.neutral\n  W3.black -- L1.ground"
TRIM_MISTAKES = {
    "hot on silver": (STAIR, LAMP, TURNED, "reversed-polarity"),
    "two under a screw": (STAIR, "W3.bare -- pigtail", "W3.bare", "terminal-crowding"),
    "ground off": (STAIR, "W3.bare -- L1.ground", "cap W3.bare", "open-ground"),
    "traveler loose": (STAIR, "  W2.red -- S2.traveler-2\n", "", "loose-conductor"),
    "live metal": (STAIR, LAMP, LIVE_METAL, "energized-metal"),
    "short": (STAIR, "  W1.white -- W2.white\n", "  W1.white -- W2.white -- W1.black\n", "short-circuit"),
    "white not marked": (LOOP, "W2.white marked black -- S1.line", "W2.white -- S1.line", "conductor-color"),
}


@pytest.mark.parametrize(("text", "old", "new", "rule"), TRIM_MISTAKES.values(), ids=TRIM_MISTAKES)
def test_a_mistake_of_the_trim_is_found_there_and_not_before(
    text: str, old: str, new: str, rule: str
) -> None:
    wrong = trimmed(changed(text, (old, new)))
    assert rule not in worse(trimmed(text), "trim")
    assert rule in worse(wrong, "trim")
    assert rule not in worse(wrong, "rough-in")


def test_a_ground_that_waits_for_its_only_device_is_right() -> None:
    """In the last box of a run one cable comes in, and all its wires wait."""
    text = roughed_in(STAIR)
    assert "W3.bare -- L1" not in text
    assert worse(text, "rough-in") == []


def test_neutrals_that_wait_for_line_and_load_of_a_device_are_right() -> None:
    """A ground-fault receptacle takes the neutral in on one screw and sends it on from another."""
    path = BOARDS / "gfci-circuit" / "right.wire"
    text = roughed_in(path.read_text(encoding="utf-8"))
    assert worse(text, "rough-in") == []


def test_a_metal_box_is_bonded_before_the_panel_is_made_up() -> None:
    assert worse(METAL, "rough-in") == []
    assert "open-ground" in worse(METAL, "final")


@pytest.mark.parametrize(("text", "gone"), [(STARTER, "M"), (ROOFTOP, "P")], ids=["motor", "unit"])
def test_a_breaker_that_a_motor_to_come_may_have_waits_for_it(text: str, gone: str) -> None:
    """430.52, 440.4(B): what sets the breaker is there and not joined yet; in the trim it has to be."""
    rough = roughed_in(text)
    assert "overcurrent-protection" not in worse(rough, "rough-in")
    assert "overcurrent-protection" in worse(rough, "trim")
    alone = "".join(line for line in rough.splitlines(True) if not line.startswith(f"{gone} is "))
    alone += f"box {gone} junction 100 cu in\n"
    assert "overcurrent-protection" in worse(alone, "rough-in")

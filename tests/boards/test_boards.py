"""The boards that ship: a wrong one raises what it is marked with, where it is marked, and nothing else.

A mark is a comment at the end of a line, `# finds: short-circuit`; several are parted by commas. Advice is
not marked.
"""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest
from click.testing import CliRunner

from wirecheck import assemble, check, files
from wirecheck.cli import commands
from wirecheck.model.board import Board

BOARDS = files.folder("boards")
EXERCISES = sorted((BOARDS / "exercises").glob("*/exercise.wire"))
TROUBLES = sorted((BOARDS / "troubles").glob("*/faults.wire"))
APART = {BOARDS / "rules", BOARDS / "exercises", BOARDS / "troubles"}
FILES = sorted(path for path in BOARDS.rglob("*.wire") if APART.isdisjoint(path.parents))
WRONG = [path for path in FILES if path.name.startswith("wrong-")]
RIGHT = [path for path in FILES if path.name == "right.wire"]
DEMO = BOARDS / "demo.wire"
MARK = re.compile(r"# finds: (.+)$")

# A board for each circuit of the trade that a student or a technician meets first.
LEAST_BOARDS = 21
LEAST_WRONG = 3


# Boards of one device or machine more, which the long tests try.
LATER = frozenset(
    (
        "air-compressor",
        "aquastat-boiler",
        "arc-fault-outlet",
        "attic-fan",
        "bath-lights",
        "bath-sensor-and-timer",
        "common-wire-kit",
        "dehumidifier",
        "condensate-pump",
        "condenser-fan-cycling",
        "dimmer-and-fan-control",
        "dual-fuel",
        "ductless-pair",
        "economizer",
        "electric-furnace",
        "fresh-air-damper",
        "furnace-on-a-sequencer",
        "garage-panel",
        "garage-vehicle-outlet",
        "heater-contactor",
        "laundry-dual-function",
        "old-dryer-outlet",
        "old-range-outlet",
        "porch-light-photocell",
        "power-vent-water-heater",
        "primary-secondary-boiler",
        "rack-compressor",
        "reach-in-cooler",
        "reversing-starter",
        "spa",
        "sump-pump",
        "timer-defrost",
        "two-speed-blower",
        "two-stage-furnace",
        "two-units-one-thermostat",
        "variable-speed-furnace",
        "water-chiller",
        "water-heater-on-time-clock",
        "well-pump",
        "workshop-outlets",
    )
)


def tried(paths: list[Path]) -> list[object]:
    """These boards; those of `LATER`, and of the wrong ones two in three, by the long tests."""
    return [
        pytest.param(
            path,
            marks=[pytest.mark.slow] * (path.parent.name in LATER or (path not in RIGHT and at % 3 > 0)),
            id=named(path),
        )
        for at, path in enumerate(paths)
    ]


def named(path: Path) -> str:
    return str(path.relative_to(BOARDS))


def marks(text: str) -> Counter[tuple[int, str]]:
    """The findings that a text says it must raise: how many of each line and rule."""
    return Counter(
        (number, rule.strip())
        for number, line in enumerate(text.splitlines(), 1)
        if (found := MARK.search(line))
        for rule in found[1].split(",")
    )


def raised(path: Path) -> Counter[tuple[int, str]]:
    """The findings worse than advice that the checker raises."""
    report = check(path.read_bytes(), file=named(path))
    return Counter((each.span.line, each.rule) for each in report.findings if each.severity != "advice")


@pytest.mark.parametrize("path", tried(FILES))
def test_what_is_found_is_what_is_marked(path: Path) -> None:
    assert raised(path) == marks(path.read_text(encoding="utf-8"))


def test_a_mark_is_read() -> None:
    text = "board\n  W1.black -- S1.line  # finds: short-circuit, open-ground, open-ground\n# finds nothing"
    assert marks(text) == {(2, "short-circuit"): 1, (2, "open-ground"): 2}


@pytest.mark.parametrize("path", [DEMO, *WRONG], ids=named)
def test_a_wrong_board_is_marked_and_says_what_was_done(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert marks(text)
    assert text.startswith("# ")


@pytest.mark.parametrize("path", RIGHT, ids=named)
def test_a_right_board_says_what_it_shall_do_and_has_no_mark(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert not marks(text)
    assert assemble(text)[1].expectations


def measured(board: Board) -> bool:
    """Whether the tape was put to every cable's end in a box."""
    return all(
        end.free is not None and end.jacket is not None and end.secured is not None
        for run in board.runs.values()
        if run.jacketed
        for end in run.ends
        if end.place in board.boxes
    )


@pytest.mark.parametrize("path", RIGHT, ids=named)
def test_the_tape_was_put_to_every_end_in_a_box(path: Path) -> None:
    board = assemble(path.read_bytes())[1]
    assert measured(board)
    assert all(box.volume or box.trade_size for box in board.boxes.values())


def test_there_are_boards_enough() -> None:
    assert len(RIGHT) >= LEAST_BOARDS
    for path in RIGHT:
        assert len(list(path.parent.glob("wrong-*.wire"))) >= LEAST_WRONG, path.parent.name


def test_no_file_lies_outside() -> None:
    assert set(FILES) == {DEMO, *RIGHT, *WRONG}
    assert {*EXERCISES} == {*(BOARDS / "exercises").rglob("*.wire")} and EXERCISES
    assert {*TROUBLES} == {*(BOARDS / "troubles").rglob("*.wire")} and TROUBLES


def test_the_wrong_ones_are_all_different() -> None:
    found: dict[tuple[str, frozenset[tuple[int, str]]], Path] = {}
    for path in WRONG:
        text = path.read_text(encoding="utf-8")
        body = MARK.sub("", "\n".join(line for line in text.splitlines() if not line.startswith("#")))
        key = (body, frozenset(marks(text)))
        assert key not in found, (path, found.get(key))
        found[key] = path


@pytest.mark.slow
def test_boards_tidy_to_themselves() -> None:
    result = CliRunner().invoke(commands, ["tidy", "--check", *(str(path) for path in FILES)])
    assert result.exit_code == 0, result.output

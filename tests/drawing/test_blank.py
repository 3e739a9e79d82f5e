"""The handout: nothing of a wire is on it, and all else stands where the answer sheet has it."""

from __future__ import annotations

from pathlib import Path

import pytest

import wirecheck
from tests.cli.boards import NEVER_LIT, RIGHT
from tests.cli.boards import wirecheck as command
from tests.samples import shipped
from wirecheck import files
from wirecheck.drawing.picture import sheet
from wirecheck.drawing.sheet import Sheet
from wirecheck.findings import findings
from wirecheck.judge.case import Case
from wirecheck.model.board import Board

BOARDS = sorted(path.parent.name for path in files.folder("boards").glob("*/right.wire"))


def words_of(drawn: Sheet) -> set[str]:
    return {mark.text for mark in drawn.marks if hasattr(mark, "text")}


def held(board: Board, page: str | None) -> None:
    """What stays is on the whole picture, in its place; what goes is a wire's, and so is all of a wire's."""
    found = findings(Case(board))
    whole, blank = sheet(board, found, page=page), sheet(board, found, page=page, unwired=True)
    places = {(mark.id, mark.x, mark.y) for mark in whole.marks}
    assert blank.frames == whole.frames and set(blank.lines) <= set(whole.lines)
    assert {(mark.id, mark.y) for mark in blank.marks} <= {(mark.id, mark.y) for mark in whole.marks}
    assert {(mark.id, mark.x, mark.y) for mark in blank.marks if mark.id != "kind"} <= places
    there = {shape.id for shape in (*blank.frames, *blank.lines, *blank.marks)}
    screws = {mark.id for mark in whole.marks if mark.kind == "terminal"}
    assert screws <= there and all(f"device-{name}" in there for name in board.breakers)
    gone = [mark.id for mark in (*whole.lines, *whole.marks) if mark.id not in there]
    assert {f"conductor-{name}" for name in board.conductors} <= set(gone)
    # No color of a wire is told, neither in words nor by a line of that kind.
    shapes = [shape for shape in (*blank.lines, *blank.marks) if not shape.id.startswith("lead-")]
    kinds = {shape.kind.partition(" ")[0] for shape in shapes}
    assert kinds <= {
        "jacket",
        "sign",
        "leg",
        "stab",
        "gap",
        "tap",
        "tie",
        "bond",
        "leader",
        "terminal",
        "label",
        "letter",
    } | {
        "caution",
        "icon",
        "unit",
        "figure",
        "inside",
        "bar",
        "face",
        "clear",
        "hand",
    }, kinds
    marks = {mark.id: mark for mark in blank.marks}
    assert not {f"label-{end}" for each in board.conductors.values() for end in each.ends} & set(marks)
    widths = {mark.width for mark in blank.marks if mark.kind == "terminal" and mark.shape == "ellipse"}
    assert len(widths) <= 1


@pytest.mark.parametrize(
    "name", [pytest.param("stair-light"), pytest.param("motor-starter", marks=pytest.mark.slow)]
)
def test_no_wire_is_on_it_and_nothing_has_moved(name: str) -> None:
    held(shipped(name), "letter")


@pytest.mark.slow
@pytest.mark.parametrize("name", BOARDS)
def test_so_it_is_with_every_board_that_ships(name: str) -> None:
    held(shipped(name), None)


def test_the_pigtail_of_a_breaker_is_named() -> None:
    board = shipped("garage-panel")
    assert {"pigtail of GP.1", "pigtail of GP.2"} <= words_of(sheet(board, unwired=True))


def test_flags_of_a_wrong_board_are_gone_and_move_nothing() -> None:
    held(wirecheck.assemble(NEVER_LIT)[1], None)


def test_it_says_what_to_do() -> None:
    said = words_of(sheet(wirecheck.assemble(RIGHT)[1], unwired=True))
    assert any("draw every wire" in text for text in said) and "Wiring diagram" not in said
    assert {"W1 22 ft", "S1", "line"} <= said and not {"black", "white", "bare", "wires joined"} & said


@pytest.mark.slow
def test_the_command_writes_it_in_every_form_and_its_answer_sheet_without_the_word(tmp_path: Path) -> None:
    (tmp_path / "lamp.wire").write_text(RIGHT, encoding="utf-8")
    for ending, begins in (("svg", b"<?xml"), ("png", b"\x89PNG"), ("pdf", b"%PDF"), ("dot", b"graph")):
        name = f"blank.{ending}"
        done = command("draw", "lamp.wire", "--blank", "--page", "letter", "-o", name, folder=tmp_path)
        assert (done.returncode, done.stdout, done.stderr) == (0, b"", b"")
        assert (tmp_path / name).read_bytes().startswith(begins)
    command("draw", "lamp.wire", "--page", "letter", "-o", "answer.svg", folder=tmp_path)
    blank, answer = ((tmp_path / name).read_text(encoding="utf-8") for name in ("blank.svg", "answer.svg"))
    assert blank[: blank.index("<g")] == answer[: answer.index("<g")]  # One size.
    assert "W1.black" in answer and "W1.black" not in blank


@pytest.mark.parametrize(
    "more",
    [
        ("--kind", "ladder"),
        ("--set", "S1=on"),
        ("--call", "heat"),
        ("--steps", "--call", "heat"),
        ("--open", "S1"),
    ],
)
def test_what_it_is_not_for_is_refused(more: tuple[str, ...], tmp_path: Path) -> None:
    from click.testing import CliRunner

    from wirecheck.cli import commands

    out = tmp_path / "blank.svg"
    for file, output in (("lamp.wire", out), (str(tmp_path), tmp_path / "all.html")):
        done = CliRunner().invoke(commands, ["draw", file, "--blank", *more, "-o", str(output)])
        assert done.exit_code == 2 and "--" in done.stderr and not output.exists()

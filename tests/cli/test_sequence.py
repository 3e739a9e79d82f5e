"""`wirecheck sequence` as a user runs it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.cli.boards import ROOT, wirecheck
from wirecheck.cli import commands

FURNACE = str(ROOT / "boards" / "condensing-furnace" / "right.wire")


def run(*words: str) -> Result:
    return CliRunner().invoke(commands, ["sequence", *words])


def test_a_heat_call_is_told_step_by_step_to_its_end() -> None:
    done = wirecheck("sequence", FURNACE, "--call", "heat")
    assert (done.returncode, done.stderr) == (0, b"")
    text = done.stdout.decode()
    # The order that is printed inside a furnace door (common practice).
    order = [
        "heat is called",
        "F.inducer runs",
        "F.pressure-switch closes",
        "F.igniter heats",
        "F.gas-valve opens",
        "F.flame goes from off to on",
        "F.blower runs",
        "heat call ends",
        "F.gas-valve closes",
        "F.inducer stops",
        "F.blower stops",
        "At rest after",
    ]
    places = [text.index(words) for words in order]
    assert places == sorted(places)
    assert "de-energize" in text


def test_the_data_have_times_volts_and_amps() -> None:
    told = json.loads(run(FURNACE, "--call", "heat", "--format", "json").output)
    assert told["version"] == 1 and told["calls"] == ["heat"] and told["stopped_by"] is None
    steps = told["steps"]
    assert [step["time"] for step in steps] == sorted(step["time"] for step in steps)
    blower = next(
        change | {"time": step["time"]}
        for step in steps
        for change in step["changes"]
        if (change["kind"], change["name"]) == ("runs", "F.blower")
    )
    assert blower["time"] == 68
    # A motor of 9.2 A on 30 ft of 14 AWG, there and back (NEC Chapter 9 Table 8: 3.07 ohm/kft at 75 C).
    assert blower["amps"] == pytest.approx(9.2, rel=0.01)
    assert 120 - 9.2 * 2 * 30 * 3.07e-3 * 1.2 < blower["volts"] < 120
    assert told["call_ends"] == 128
    assert steps[-1]["running"] == told["before"]["running"]


def test_a_safety_held_open_shows_what_it_stops() -> None:
    text = run(FURNACE, "--call", "heat", "--set", "F.limit=open").output
    assert "F.limit held open" in text
    assert "F.gas-valve opens" not in text


def test_what_finds_no_rest_says_so() -> None:
    text = run(FURNACE, "--call", "heat", "--set", "F.flame=off").output
    assert "It never comes to rest: the same thing repeats every 1 h 4 min." in text
    assert "heat call ends" not in text
    ended = run(FURNACE, "--call", "heat", "--set", "F.flame=off", "--off-after", "10 min").output
    assert "10 min  heat call ends" in ended and "At rest after" in ended


@pytest.mark.parametrize(
    ("ending", "begins"), [(".svg", b"<?xml"), (".png", b"\x89PNG"), (".pdf", b"%PDF"), (".dot", b"graph")]
)
def test_the_chart_is_what_its_ending_says(tmp_path: Path, ending: str, begins: bytes) -> None:
    out = tmp_path / f"heat{ending}"
    assert run(FURNACE, "--call", "heat", "-o", str(out)).exit_code == 0
    assert out.read_bytes().startswith(begins)


def test_the_same_call_gives_the_same_bytes(tmp_path: Path) -> None:
    one, other = tmp_path / "1.svg", tmp_path / "2.svg"
    first = run(FURNACE, "--call", "heat", "-o", str(one))
    second = run(FURNACE, "--call", "heat", "-o", str(other))
    assert first.output == second.output
    assert one.read_bytes() == other.read_bytes()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "Name a call to play, as --call heat. This board has: heat, cool, fan."),
        (["--call", "haet"], "Did you mean heat?"),
        (["--call", "heat", "--off-after", "10"], "write a time with its unit"),
        (["--call", "heat", "--off-after", "10 ft"], "write a time with its unit"),
        (["--call", "heat", "--off-after", "soon"], "is not a number with a unit"),
        (["--call", "heat", "--off-after", "9 h"], "6 h at most"),
        (["--call", "heat", "--set", "F.limti=open"], "Did you mean F.limit?"),
        (["--call", "heat", "--set", "F.limit=ajar"], "F.limit can be closed, open."),
        (["--call", "heat", "-o", "heat.gif"], "must end in one of: .svg .png .pdf .dot"),
    ],
)
def test_a_bad_word_is_answered_with_what_would_do(words: list[str], said: str) -> None:
    done = run(FURNACE, *words)
    assert done.exit_code == 2
    assert said in done.output


def test_a_board_with_no_call_says_that_it_has_none(tmp_path: Path) -> None:
    board = tmp_path / "empty.wire"
    board.write_text('board "Nothing on it yet"\n')
    done = run(str(board))
    assert done.exit_code == 2
    assert "This board has none." in done.output


def test_a_control_that_nothing_moves_is_named_and_a_thermostat_that_is_satisfied_says_so(
    tmp_path: Path,
) -> None:
    """Not a safety: that stands still until something is wrong."""
    board = (ROOT / "boards/pump-down-cooler/right.wire").read_text(encoding="utf-8")
    assert "TH is satisfied, and its call for cool ends" in text(board, tmp_path)
    assert "still" not in text(board, tmp_path)
    bare = "\n".join(line for line in board.splitlines() if " senses " not in line)
    said = " ".join(text(bare, tmp_path).split())
    assert "LPC stands still: no line says what acts on it, as: LPC senses COMP, LLS." in said


def text(board: str, folder: Path) -> str:
    (folder / "board.wire").write_text(board, encoding="utf-8")
    result = CliRunner().invoke(commands, ["sequence", str(folder / "board.wire"), "--call", "cool"])
    assert result.exit_code == 0
    return result.output

"""`wirecheck energize` as a user runs it."""

from __future__ import annotations

import json
import re

import pytest

from tests.cli.boards import RIGHT, wirecheck
from tests.samples import SAMPLES
from wirecheck import files

STAIR = SAMPLES / "stair-light.wire"
COOLING = SAMPLES / "cooling-call.wire"
SHORTED = RIGHT.replace("  W2.black -- L1.hot\n", "  W2.black -- W2.white -- L1.hot\n")


def shown(*arguments: object, stdin: str = "") -> str:
    done = wirecheck("energize", *arguments, stdin=stdin)
    assert (done.returncode, done.stderr) == (0, b"")
    return done.stdout.decode()


def test_without_options_every_position_is_in_a_table() -> None:
    text = shown(STAIR)
    rows = re.findall(r"^  (up|down) +(up|down) +(on 120 V|-)", text, re.MULTILINE)
    lit = {(one, other): cell != "-" for one, other, cell in rows}
    assert lit == {("up", "up"): True, ("up", "down"): False, ("down", "up"): False, ("down", "down"): True}
    assert "lock out" in text


def test_one_position_in_full() -> None:
    text = shown(STAIR, "--set", "S1=down")
    assert "with S1 down" in text and re.search(r"L1 +off +0 V +0 A", text)
    assert "Live: W1.black, W2.red." in text
    lit = shown(STAIR, "--set", "S1=down", "--set", "S2=down")
    # 60 W at 120 V are half an ampere.
    volts, amps = re.search(r"L1 +runs +([\d.]+) V +([\d.]+) A", lit).groups()
    assert float(volts) == pytest.approx(120, rel=0.01) and float(amps) == pytest.approx(0.5, rel=0.01)


def test_a_breaker_that_is_off_leaves_everything_dark() -> None:
    assert "Live: nothing." in shown(STAIR, "--set", "LP.3=off")


def test_a_call_is_played_to_its_end() -> None:
    text = shown(COOLING, "--call", "cool")
    for load in ("CU.compressor", "CU.fan", "F.blower"):
        assert re.search(rf"{re.escape(load)} +runs", text)
    assert re.search(r"F\.igniter +off", text)


@pytest.mark.slow
def test_the_moment_the_motors_start_shows_locked_rotor_current() -> None:
    runs, starts = shown(COOLING, "--call", "cool"), shown(COOLING, "--call", "cool", "--starting")
    assert "CU.compressor, CU.fan, F.blower start" in starts

    def figures(text: str) -> tuple[float, float]:
        volts, amps = re.search(r"CU\.compressor +\w+ +([\d.]+) V +([\d.]+) A", text).groups()
        return float(volts), float(amps)

    # 5.5 times the running current at full volts, and the volts dip.
    assert 4.5 < figures(starts)[1] / figures(runs)[1] < 5.5
    assert figures(starts)[0] < figures(runs)[0]


def test_what_a_short_opens_is_said() -> None:
    text = shown("-", "--set", "S1=on", stdin=SHORTED)
    assert re.search(r"BP\.3 opens: \d+ A, and it is rated 15 A", text)


@pytest.mark.slow
def test_json_has_the_same_figures() -> None:
    told = json.loads(shown(STAIR, "--format", "json"))
    states = {state["state"]: state for state in told["states"]}
    assert told["board"] == "Stair light from two landings"
    assert states["at rest"]["running"] == ["L1"] and states["S1 down"]["running"] == []
    assert states["at rest"]["loads"]["L1"]["amps"] == pytest.approx(0.5, rel=0.01)
    one = json.loads(shown(COOLING, "--call", "cool", "--starting", "-f", "json"))
    assert one["states"][0]["state"] == "cool called, as the motors start"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--set", "S3=down"], "nothing called S3"),
        (["--set", "S1=sideways"], "S1 can be up, down."),
        (["--set", "S1"], "NAME=POSITION"),
        (["--set", "LP.33=off"], "Did you mean LP.3?"),
        (["--call", "cool"], "nothing on this board makes that call"),
        (["--format", "xml"], "'text', 'json'"),
    ],
)
def test_what_it_cannot_do_is_said_with_status_2(arguments: list[str], said: str) -> None:
    done = wirecheck("energize", STAIR, *arguments)
    assert done.returncode == 2 and done.stdout == b""
    assert said in " ".join(done.stderr.decode().split())
    assert b"Traceback" not in done.stderr


def test_a_handle_tie_moves_the_other_breaker_too() -> None:
    board = files.folder("boards") / "kitchen-multiwire" / "right.wire"
    told = json.loads(shown(board, "--set", "TP.15=off", "-f", "json"))
    assert told["states"][0]["running"] == [] and "TP.13 off" in told["states"][0]["state"]
    done = wirecheck("energize", board, "--set", "TP.15=off", "--set", "TP.13=on")
    assert done.returncode == 2 and b"tied to that of" in done.stderr


def test_a_misspelt_call_is_answered_with_the_near_one() -> None:
    done = wirecheck("energize", COOLING, "--call", "cooll")
    assert done.returncode == 2 and b"Did you mean cool?" in done.stderr


def test_a_file_that_is_no_board_is_status_2() -> None:
    assert wirecheck("energize", "missing.wire").returncode == 2
    assert wirecheck("energize", "-", stdin='part x "X"\nterminal a contact\n').returncode == 2

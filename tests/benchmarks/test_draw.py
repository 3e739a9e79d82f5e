"""How fast pictures are drawn: a first one, the largest board that ships, and one of a thousand devices."""

from __future__ import annotations

import os
import resource
import statistics
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import wirecheck
from wirecheck import files
from wirecheck.drawing.picture import draw
from wirecheck.judge.case import Case
from wirecheck.model.board import Board

LARGEST = max(files.folder("boards").glob("**/*.wire"), key=lambda path: path.stat().st_size)


def house(devices: int, boxes_a_circuit: int = 12) -> Board:
    """Circuits of boxes one after another, each with a switch and a receptacle, fed through."""
    lines = ['board "House"', "panel LP 120/240 V"]
    feeds, make_up = ["at LP"], []
    for circuit in range(-(-devices // (2 * boxes_a_circuit))):
        lines.append(f"breaker LP.{circuit + 1} 15 A")
        feeds += [
            f"W{circuit}-0.black -- LP.{circuit + 1}",
            f"W{circuit}-0.white -- LP.neutral",
            f"W{circuit}-0.bare -- LP.ground",
        ]
        for number in range(boxes_a_circuit):
            name, before = f"{circuit}-{number}", f"{circuit}-{number - 1}"
            lines += [
                f"box B{name} device 34 cu in",
                f"cable W{name} 14/2 NM-B 12 ft from {f'B{before}' if number else 'LP'} to B{name}",
                f"S{name} is single-pole-switch in B{name}",
                f"R{name} is duplex-receptacle in B{name}",
            ]
            on = f" -- W{circuit}-{number + 1}" if number + 1 < boxes_a_circuit else ""
            black, white, bare = (f"{on}.{color}" if on else "" for color in ("black", "white", "bare"))
            make_up += [
                f"at B{name}",
                f"W{name}.black{black} -- pigtail -- S{name}.line -- pigtail -- R{name}.hot",
                f"W{name}.white{white} -- pigtail -- R{name}.neutral",
                f"W{name}.bare{bare} -- pigtail -- S{name}.ground -- pigtail -- R{name}.ground",
            ]
    return wirecheck.assemble("\n".join([*lines, *feeds, *make_up]) + "\n")[1]


@pytest.mark.parametrize("kind", ["wiring", "ladder"])
def test_the_largest_board_that_ships(benchmark: Any, kind: str) -> None:
    board = wirecheck.assemble(LARGEST.read_text("utf-8"))[1]
    benchmark.extra_info["conductors"] = len(board.conductors)
    picture = benchmark.pedantic(draw, args=(board, (), kind), rounds=5, warmup_rounds=1)
    assert picture.endswith("</svg>\n")


def test_the_largest_board_in_a_state(benchmark: Any) -> None:
    case = Case(wirecheck.assemble(LARGEST.read_text("utf-8"))[1])
    state = case.standing({}, case.calls[:1])
    picture = benchmark.pedantic(draw, args=(case.board,), kwargs={"state": state}, rounds=5, warmup_rounds=1)
    assert 'class="edge live' in picture


@pytest.mark.slow
def test_a_thousand_devices(benchmark: Any) -> None:
    board = house(1_000)
    assert len(board.devices) >= 1_000
    benchmark.extra_info["conductors"] = len(board.conductors)
    picture = benchmark.pedantic(draw, args=(board,), rounds=1)
    assert picture.count('class="node device"') == len(board.devices) + len(board.breakers)


MOST = 0.6
"""Seconds of processor time of a whole `wirecheck draw` of a small board, from the second run on."""


@pytest.mark.slow
def test_a_whole_draw_from_the_second_run_on(tmp_path: Path) -> None:
    """Its processes' own time, which a busy machine does not lengthen by much; the median counts."""
    board = files.folder("boards") / "stair-light" / "right.wire"
    command = [sys.executable, "-m", "wirecheck", "draw", str(board), "-o", str(tmp_path / "picture.svg")]
    # An installed package is compiled once; so is a clone, after its first run.
    compiled = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}

    def seconds() -> float:
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run(command, check=True, env={**compiled, "XDG_CACHE_HOME": str(tmp_path)})
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime

    first, later = seconds(), [seconds() for _ in range(5)]
    assert statistics.median(later) < MOST, f"{first:.2f} s, then from {min(later):.2f} to {max(later):.2f} s"

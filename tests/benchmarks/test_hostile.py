"""Small boards made to be slow: each is judged with a bounded work, says what it was not judged for, and no
command on it takes long.

What a check of each took before there was a budget, and takes with it, in checks of a stair light on the same
machine, is in slow_boards.csv; what was stopped after a minute is "over".
`python -m tests.benchmarks.slow_boards` prints what it takes now.
"""

from __future__ import annotations

from pathlib import Path

import pytest

import wirecheck
from tests.benchmarks.hostile import BOARDS, Slow
from tests.benchmarks.slow_boards import STAIR, cost, times
from tests.samples import board
from wirecheck import files
from wirecheck.circuit.work import LEAST_STEPS, allowed
from wirecheck.findings import findings
from wirecheck.judge.case import Case
from wirecheck.parts.library import Library
from wirecheck.report.report import Report
from wirecheck.report.verdict import clean, not_judged

# Those that take no longer than other quick tests do.
QUICK = (
    "a part that oscillates and 20 calls",
    "timers of a millisecond in 20 devices with calls and safeties",
    "relays 61 in a ring",
    "expectations of combined calls 199",
    "mesh of 12 switches",
    "ripple counter of 60 timers",
)
# One step may be as large as the board is to solve: the last one goes over the bound.
OVER = 1.05


def report(made: Slow) -> Report:
    """The report of a board with its own parts beside it."""
    library = Library(
        lambda name: made.parts.get(name) or files.part_text(name), lambda: [*made.parts, *files.part_names()]
    )
    return wirecheck.check(made.text, library=library)


@pytest.mark.parametrize(
    "name", [pytest.param(name, marks=[] if name in QUICK else pytest.mark.slow) for name in BOARDS]
)
def test_a_board_is_judged_with_no_more_work_than_is_spent_on_one(name: str) -> None:
    made = BOARDS[name]
    case = Case(board(made.text, made.parts))
    findings(case)
    assert case.work.spent <= OVER * allowed(len(made.text))
    told = report(made)
    if case.all_left() or not case.whole:
        assert not_judged(told)
        assert clean(told) == "No problem found in what was judged."


def test_a_longer_board_may_cost_more() -> None:
    assert allowed(0) == allowed(20_000) == LEAST_STEPS
    assert allowed(600_000) > 50 * LEAST_STEPS


@pytest.mark.slow
@pytest.mark.parametrize("command", ["check", "energize", "draw", "checklist", "sequence", "measure"])
def test_no_command_takes_long_or_much_memory_on_any(command: str, tmp_path: Path) -> None:
    usual = min(cost(STAIR, "check", tmp_path) for _ in range(3))
    # Two seconds, where the check of the stair light takes a fifth of one; a picture of 1,800 conductors
    # or 15,000 loads, most of it written by Graphviz, takes three times as long.
    most = 30 if command == "draw" else 10
    for name, made in BOARDS.items():
        here = cost(made, command, tmp_path)
        if times(here, usual) >= most:
            # Other work on the machine only adds to what a command takes.
            here = min(here, *(cost(made, command, tmp_path) for _ in range(2)))
        assert here.megabytes < 300, name
        assert times(here, usual) < most, (name, here)


def test_each_board_is_in_the_table() -> None:
    table = (Path(__file__).parent / "slow_boards.csv").read_text(encoding="utf-8").splitlines()
    assert [line.split(",")[0] for line in table[1:]] == list(BOARDS)

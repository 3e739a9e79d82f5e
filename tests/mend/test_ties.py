"""What rules of ties find is the same on boards whose screws are tied alike, whichever wires do it."""

from __future__ import annotations

from random import Random

import pytest

from wirecheck import assemble, files, shipped_parts
from wirecheck.findings import problems
from wirecheck.judge.case import Case
from wirecheck.language.reader import read
from wirecheck.mend.candidates import candidates
from wirecheck.mend.edits import Move, edited
from wirecheck.mend.sheet import Sheet, sheet
from wirecheck.mend.ties import ties
from wirecheck.model.board import Board
from wirecheck.model.build import build
from wirecheck.rules import rules

MOST = 8
BOARDS = (
    "stair-light/wrong-traveler-on-common",
    "heat-pump/wrong-o-left-off",
    "float-switch-in-y/wrong-in-the-wrong-wire",
    "capacitor-compressor/wrong-start-and-run-exchanged",
    "walk-in-freezer/wrong-thermostat-jumpered",
    "water-chiller/wrong-pump-ahead-of-the-thermostat",
    "two-speed-blower/wrong-both-taps-joined",
    "garage-panel/wrong-hot-and-neutral-exchanged",
)


def found(board: Board) -> set[tuple[str, str]]:
    told = [
        (rule, problem)
        for system in Case(board).systems
        for rule in rules()
        if rule.of_ties
        for problem in rule.find(system)
    ]
    return {(rule.name, problem.subject) for rule, problem in told if problem.severity != "advice"}


def built(changed: Sheet) -> Board:
    return build(changed.now, shipped_parts())


@pytest.mark.slow
@pytest.mark.parametrize("name", BOARDS)
def test_rules_of_ties_find_the_same_where_the_same_is_tied(name: str) -> None:
    syntax, board = assemble((files.folder("boards") / f"{name}.wire").read_bytes())
    start, alike = sheet(syntax), 0
    tied, seen = ties(board, start), found(board)
    assert seen
    for system in Case(board).systems:
        told = [problem for _, problem in problems(system, "final") if problem.severity != "advice"]
        listed = candidates(told, system, start, shipped_parts())
        Random(name).shuffle(listed)
        for one in listed:
            changed = edited(start, one.edit)
            if alike == MOST or changed is None or ties(built(changed), changed) != tied:
                continue
            alike += 1
            assert found(built(changed)) == seen
    assert alike == MOST


def test_ties_tell_screws_apart_and_not_the_wires_between() -> None:
    syntax = read((files.folder("boards") / "stair-light" / "right.wire").read_text(encoding="utf-8"))
    start = sheet(syntax)
    tied = ties(built(start), start)
    one = edited(start, Move("FOOT", "W2.white", "S1.common"))
    assert one is not None and ties(built(one), one) != tied
    for number, line in enumerate(start.lines):
        if getattr(getattr(line.statement, "name", None), "text", "") == "TP.1":
            other = start.changed(number, "breaker TP.1 20 A")
            assert ties(built(other), other)[0] == tied[0] and ties(built(other), other) != tied
            break
    else:
        pytest.fail("no breaker")

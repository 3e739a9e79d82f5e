"""What has no power while a safety stands open: by the copper alone, and never against what is solved."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, case
from tests.samples import fed
from wirecheck import files
from wirecheck.judge import safeties
from wirecheck.judge.case import Case
from wirecheck.judge.cut_off import cut_off

SHIPPED = (
    "heat-pump",
    "condensing-furnace",
    "boiler-two-zones",
    "walk-in-freezer",
    "oil-furnace",
    "ice-machine",
)


def dead(board: Case, safety: str) -> frozenset[str]:
    variable = board.circuit.variables[safety]
    return cut_off(board.circuit, safety, safeties.opened_position(variable))


def test_what_is_in_series_and_what_waits_for_a_coil_behind_it_is_cut_off() -> None:
    board = case(COOLING)
    assert dead(board, "CU.compressor.protector") == {"CU.compressor"}
    # The pressure switch is before the contactor's coil, and compressor and fan are behind its contacts.
    assert dead(board, "CU.high-pressure") == {"CU.contactor", "CU.compressor", "CU.fan"}
    assert cut_off(board.circuit, "CU.high-pressure", "closed") == frozenset()


def test_what_has_a_way_around_is_not() -> None:
    lines = (
        "box A junction 40 cu in",
        "cable W1 14/2 NM-B 10 ft from LP to A",
        "LS is limit-switch in A",
        "L1 is lampholder 60 W in A",
        "L2 is lampholder 60 W in A",
        "at LP",
        "W1.black -- LP.3",
        "W1.white -- LP.neutral",
        "at A",
        "W1.black -- LS.a",
        "LS.b -- L1.hot",
        "W1.white -- L1.neutral",
    )
    assert dead(case(fed(*lines)), "LS") == {"L1", "L2"}
    assert dead(case(fed(*lines, "LS.a -- L1.hot")), "LS") == {"L2"}
    # A lamp beside it is a way too, if only for a trickle.
    beside = case(fed(*lines, "LS.a -- L2.hot", "L2.neutral -- L1.hot"))
    assert dead(beside, "LS") == frozenset()


@pytest.mark.parametrize("name", SHIPPED)
def test_what_is_solved_says_the_same(name: str) -> None:
    """Nothing that is cut off runs in any state in which the safety stands open."""
    board = case((files.folder("boards") / name / "right.wire").read_text(encoding="utf-8"))
    plays = safeties.played(board)
    found = 0
    for safety in [one for one in board.circuit.variables.values() if one.safety]:
        off = dead(board, safety.name)
        loads = [load for load in board.circuit.loads if load.name in off]
        for opened in safeties.opened(board.circuit, plays, safety, loads):
            assert not opened.runs_on, (safety.name, opened.runs_on)
            found += len(opened.ran)
    # What an electronic control does is not seen in the copper.
    assert found or name not in ("heat-pump", "split-air-conditioner")

"""A joint that is missing, tried: whether it runs or opens something that it should not."""

from __future__ import annotations

import pytest

from tests.rules.hands import LIGHT, case, changed
from tests.rules.hookups import HOOKUP, hooked, made
from wirecheck.judge import joints
from wirecheck.judge.case import Case
from wirecheck.judge.continuity import NotJoined, WithoutCall

OPEN = changed(HOOKUP, ("  TW.white -- F.W\n", "  cap TW.white\n"))


def joint(told: Case, here: str, on: str, *off: str) -> NotJoined:
    point = told.circuit.point
    return NotJoined(point[here], point[on], tuple(told.board.conductors[name] for name in off))


def test_what_only_closes_the_path_of_its_call_is_the_joint() -> None:
    told = hooked(OPEN)
    missing = joint(told, "TW.white@F", "F.W")
    assert joints.safe(told, missing) == missing
    assert (
        hooked(HOOKUP).played(["heat"]).started().keys()
        == joints.made(told, missing).played(["heat"]).started().keys()
    )


@pytest.mark.parametrize(
    "expects",
    [
        # It runs before the call and runs on.
        "expect heat runs F.heating\n",
        # It runs in another call, and with none.
        "expect cool runs F.cooling\n",
        "expect idle runs nothing\n",
    ],
)
def test_what_runs_without_its_call_is_no_joint(expects: str) -> None:
    told = hooked(OPEN[: OPEN.index("expect")] + expects)
    assert joints.safe(told, joint(told, "F.R", "F.W")) == WithoutCall(
        told.circuit.point["F.R"], told.circuit.point["F.W"]
    )


def test_what_runs_so_already_is_not_held_against_it() -> None:
    told = hooked(made(HOOKUP, "F: TW.yellow -- F.Y -- F.G"))
    missing = joint(told, "TW.yellow@F", "F.G")
    assert joints.safe(told, missing) == missing


def test_what_would_short_comes_off_first() -> None:
    text = changed(LIGHT, ("  W1.white -- W2.white\n", ""), ("  W2.black -- S1.load\n", ""))
    text = changed(text, ("  W1.black -- S1.line\n", "  W1.black -- W2.white -- S1.line\n"))
    told = case(text)
    mended = joints.safe(told, joint(told, "W1.white@A", "W2.white@A"))
    assert isinstance(mended, NotJoined) and [wire.name for wire in mended.off] == ["W2.white"]
    assert not any(state.opened for state in joints.made(told, mended).states)


def test_only_what_is_in_the_place_comes_off() -> None:
    told = case(LIGHT)
    after = joints.made(told, joint(told, "W1.black@A", "S1.load", "W1.black"))
    names = [[member.name for member in join.members] for join in after.board.joins]
    assert ["W1.black", "LP.3"] in names and ["S1.line"] in names and ["W1.black", "S1.load"] in names

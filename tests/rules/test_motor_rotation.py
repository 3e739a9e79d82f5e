"""Motors on three phases that turn backward."""

from __future__ import annotations

import itertools
from pathlib import Path

import pytest

from tests.rules.hands import changed, reported, said, seen
from tests.rules.motors import SMALL, STARTER
from wirecheck import check, files
from wirecheck.rules.motor_rotation import RULE

LEADS = "  W2.black -- M.T1\n  W2.red -- M.T2\n  W2.white marked blue -- M.T3\n"


@pytest.mark.slow
@pytest.mark.parametrize("order", list(itertools.permutations((1, 2, 3))))
def test_every_order_of_three_lines(order: tuple[int, int, int]) -> None:
    """An even exchange turns the same way, an odd one the other (rotating fields, any text on motors)."""
    one, two, three = order
    wired = f"  W2.black -- M.T{one}\n  W2.red -- M.T{two}\n  W2.white marked blue -- M.T{three}\n"
    backward = order in ((1, 3, 2), (2, 1, 3), (3, 2, 1))
    assert bool(seen(RULE, changed(SMALL, (LEADS, wired)))) == backward


def test_the_words_name_each_leg() -> None:
    text = changed(
        SMALL, ("  W2.black -- M.T1\n  W2.red -- M.T2\n", "  W2.black -- M.T2\n  W2.red -- M.T1\n")
    )
    assert "M.T1 is on SP.leg-b, M.T2 is on SP.leg-a and M.T3 is on SP.leg-c" in said(RULE, text)[0].message
    assert reported(text) == ["motor-rotation"]


@pytest.mark.slow
def test_exchanged_twice_it_turns_forward() -> None:
    once = ("  A1 -- SP.1.a\n  A2 -- SP.1.b\n", "  A1 -- SP.1.b\n  A2 -- SP.1.a\n")
    again = ("  M1 -- M.T1\n  M2 -- M.T2\n", "  M1 -- M.T2\n  M2 -- M.T1\n")
    assert len(seen(RULE, changed(STARTER, once))) == 1
    assert seen(RULE, changed(STARTER, once, again)) == []


@pytest.mark.slow
def test_one_that_does_not_run_turns_no_way() -> None:
    assert seen(RULE, changed(SMALL, (LEADS, "  W2.black -- M.T2\n  W2.red -- M.T1\n  cap W2.white\n"))) == []


@pytest.mark.slow
@pytest.mark.parametrize("system", ["480Y/277", "120/240 delta"])
def test_on_every_source_the_legs_follow_each_other_alike(system: str) -> None:
    written = f"panel SP {system.replace(' delta', '')} V{' delta' if 'delta' in system else ''}, 10 kA"
    volts = 480 if "480" in system else 240
    text = changed(SMALL, ("panel SP 208Y/120 V, 10 kA", written), ("voltage 208 V", f"voltage {volts} V"))
    assert seen(RULE, text) == []


BY_HAND = Path(__file__).parents[1] / "boards" / "by_hand" / "subpanels"
FAN = (BY_HAND / "fan-backward.wire").read_text(encoding="utf-8")
# The two hots of the feeder where they belong.
BACK = (("  FC -- SP.b ", "  FB -- SP.b "), ("  FB -- SP.c ", "  FC -- SP.c "))


def test_a_feeder_out_of_order_turns_every_motor_behind_it() -> None:
    (found,) = seen(RULE, FAN)
    assert found.panel is not None and found.panel.name == "SP"
    assert FAN.splitlines()[found.at.span.line - 1].startswith("  FC -- SP.b")
    assert (found.ends, found.legs) == (("SP.a", "SP.b", "SP.c"), ("LP.leg-a", "LP.leg-c", "LP.leg-b"))
    (words,) = said(RULE, FAN)
    assert "SP.b is on LP.leg-c" in words.message and words.source == "NEC 2023 408.3(E)(1)"


def test_a_feeder_in_order_and_one_that_begins_elsewhere_are_right() -> None:
    assert not seen(RULE, changed(FAN, *BACK))
    around = (("  FA -- SP.a\n", "  FC -- SP.a\n"), ("  FC -- SP.b ", "  FA -- SP.b "))
    assert not seen(RULE, changed(FAN, *around))


def test_with_the_feeder_right_the_motor_is_to_blame() -> None:
    swapped = (("  PA -- FAN.T1", "  PB -- FAN.T1"), ("  PB -- FAN.T2", "  PA -- FAN.T2"))
    (found,) = seen(RULE, changed(FAN, *BACK, *swapped))
    assert found.panel is None and found.ends == ("FAN.T1", "FAN.T2", "FAN.T3")
    assert not seen(RULE, changed(FAN, *swapped))


def test_of_two_contactors_that_pass_their_lines_alike_it_is_the_other_that_exchanges_two() -> None:
    """As the words say, the first one keeps its lines: the motor would turn backward by its button."""
    text = (files.folder("boards") / "reversing-starter" / "wrong-lines-not-exchanged.wire").read_text(
        "utf-8"
    )
    mends = check(text, effort=400).mends
    assert mends and all(name.startswith("R.") for mend in mends for name in mend.at)

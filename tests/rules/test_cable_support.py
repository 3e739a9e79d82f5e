"""How near its box and how often a cable is held; NEC 2023 334.30, 314.17(B)(2), 320.30, 330.30."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, LOOP, STAIR, said, seen
from tests.rules.test_box_fill import filled
from wirecheck.judge.tape import INCH
from wirecheck.rules.cable_support import RULE, FarFirstSupport, WideSpacing


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def pipe(kind: str, size: str, measure: str) -> str:
    held = measured("square 30.3 cu in metal", "secured 8 in")
    return f"{held}raceway R1 {kind} {size} 34 ft from LP to A ({measure})\n"


@pytest.mark.parametrize(
    ("kind", "size", "measure", "kinds"),
    [
        # 358.30(A): EMT within 3 ft, every 10 ft. 352.30: PVC up to 1 in every 3 ft, up to 2 in every 5 ft.
        ("EMT", "3/4 in", "secured 36 in, every 10 ft", []),
        ("EMT", "3/4 in", "secured 36-1/8 in", [FarFirstSupport]),
        ("EMT", "3/4 in", "every 121 in", [WideSpacing]),
        ("PVC", "1 in", "every 36 in", []),
        ("PVC", "1 in", "every 37 in", [WideSpacing]),
        ("PVC", "2 in", "secured 36 in, every 60 in", []),
        ("PVC", "2 in", "secured 37 in, every 61 in", [FarFirstSupport, WideSpacing]),
        # 348.30(A): a flexible one may hang free at equipment.
        ("FMC", "1/2 in", "secured 30 in", []),
    ],
)
def test_a_raceway_is_held_too(kind: str, size: str, measure: str, kinds: list[type]) -> None:
    problems = seen(RULE, pipe(kind, size, measure))
    assert [type(one) for one in problems] == kinds
    assert all(one.about.name == "R1" and one.severity == "violation" for one in problems)


def measured(box: str, measure: str, cable: str = "14/2 NM-B") -> str:
    return (
        filled(box, "14/2").replace("14/2 NM-B", cable).replace("from LP to A", f"from LP to A ({measure})")
    )


# 334.30: 12 in and 4-1/2 ft; 314.17(B)(2): 8 in at a single-gang nonmetallic box without clamps.
@pytest.mark.parametrize(
    ("box", "measure", "limit"),
    [
        ("device 20.3 cu in", "secured 8 in", None),
        # A tape is read to a sixteenth.
        ("device 20.3 cu in", "secured 8.03 in", None),
        ("device 20.3 cu in", "secured 8-1/16 in", 8),
        ("device 20.3 cu in clamps", "secured 12 in", None),
        ("device 20.3 cu in clamps", "secured 12-1/16 in", 12),
        ("device 34 cu in 2-gang", "secured 12 in", None),
        ("device 34 cu in 2-gang", "secured 12-1/16 in", 12),
        ("device 20.3 cu in metal", "secured 12 in", None),
        ("octagon 20.3 cu in", "secured 12 in", None),
        ("octagon 20.3 cu in", "secured 12-1/16 in", 12),
        # The gangs may stand before the volume. A line that says one gang is taken at its word.
        ("device 2-gang 20.3 cu in", "secured 12 in", None),
        ("device 1-gang 34 cu in", "secured 8-1/16 in", 8),
        # Where the line does not say: what is larger than 22.5 cu in may have two gangs.
        ("device 22.5 cu in", "secured 8-1/16 in", 8),
        ("device 22.6 cu in", "secured 12 in", None),
        ("device 22.6 cu in", "secured 12-1/16 in", 12),
        ("device", "secured 8-1/16 in", 8),
        ("device 20.3 cu in", "every 54 in", None),
        ("device 20.3 cu in", "every 54.03 in", None),
        ("device 20.3 cu in", "every 54-1/16 in", 54),
    ],
)
def test_cable_support(box: str, measure: str, limit: float | None) -> None:
    text = measured(box, measure)
    found = seen(RULE, text)
    assert len(found) == (limit is not None)
    for one in found:
        assert isinstance(one, WideSpacing if limit == 54 else FarFirstSupport)
        assert one.held.by_staple_only is ("secured" in measure and limit == 8) or limit == 54
        assert (one.severity, one.stage, one.subject, one.end.place) == ("violation", "rough-in", "W1", "A")
        column = one.at.span.column - 1
        assert text.splitlines()[one.at.span.line - 1][column:].startswith(measure)
        (words,) = said(RULE, text)
        assert (words.limit, words.unit) == (pytest.approx(limit), "in")
        assert words.value == pytest.approx(one.measure / INCH, abs=0.001)


@pytest.mark.parametrize(
    ("devices", "found"),
    [
        ("", 1),
        ("S1 is single-pole-switch in A\n", 1),
        ("S1 is single-pole-switch in A\nS2 is single-pole-switch in LP\n", 1),
        ("S1 is single-pole-switch in A\nS2 is single-pole-switch in A\n", 0),
        ("R1 is range-receptacle in A\n", 0),
    ],
)
def test_two_yokes_need_two_gangs(devices: str, found: int) -> None:
    text = measured("device 20.3 cu in", "secured 10 in")
    assert len(seen(RULE, text + devices)) == found
    # What the line says counts, whatever is in the box.
    assert len(seen(RULE, text.replace("20.3 cu in", "20.3 cu in 1-gang") + devices)) == 1


# 320.30: AC as NM, and no rule of its own at a nonmetallic box; 330.30: MC every 6 ft.
@pytest.mark.parametrize(
    ("cable", "measure", "found"),
    [
        ("14/2 AC", "secured 12 in, every 54 in", 0),
        ("14/2 AC", "secured 13 in, every 55 in", 2),
        ("14/2 MC", "every 72 in", 0),
        ("14/2 MC", "every 73 in", 1),
        ("18/2 CL2", "secured 90 in, every 90 in", 0),
    ],
)
def test_other_cables(cable: str, measure: str, found: int) -> None:
    assert len(seen(RULE, measured("device 20.3 cu in", measure, cable))) == found


def test_what_lies_in_a_raceway_is_held_by_it() -> None:
    way = "raceway P1 EMT 1 in 20 ft from LP to A\n"
    text = measured("device 20.3 cu in", "secured 90 in").replace("cable W1", way + "cable W1")
    (one,) = seen(RULE, text)
    assert one.run.name == "W1"
    assert not seen(RULE, text.replace("(secured 90 in)", "(secured 90 in) in P1"))


def test_a_single_wire_is_no_cable() -> None:
    text = filled("device 20.3 cu in", "") + "wire H1 14 THHN black 20 ft from LP to A (secured 90 in)\n"
    assert not seen(RULE, text)


def test_one_end_may_be_held_and_the_other_not() -> None:
    text = filled("octagon 20.3 cu in", "14/2").replace(
        "from LP to A", "from LP (secured 20 in) to A (secured 9 in)"
    )
    assert [one.end.place for one in seen(RULE, text)] == ["LP"]

"""Where aluminum touches copper, and the connector that takes both."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, STAIR, at, changed, own, reported, seen
from tests.samples import board, fed
from wirecheck.rules.mixed_metals import RULE


@pytest.mark.parametrize("text", [STAIR, COOLING])
def test_copper_alone_is_right(text: str) -> None:
    assert not seen(RULE, text)


JOINED = (
    "connector RED 2 to 4 of 12 AWG",
    "box A junction 30 cu in",
    "cable W1 12/2 NM-B aluminum 11 ft from LP to A",
    "cable W2 12/2 NM-B aluminum 11 ft from A to A",
    "cable W3 12/2 NM-B 11 ft from A to A",
    "L1 is luminaire in A",
    "R1 is duplex-receptacle in A",
    "R2 is range-receptacle in A",
    "at A",
)


# NEC 2023 110.14: dissimilar metals are not in one splice or terminal that is not identified for it.
@pytest.mark.parametrize(
    ("line", "aluminum", "copper", "leads", "stage"),
    [
        ("W1.black -- W2.black", None, [], [], ""),
        ("W1.black -- W3.black", ["W1.black"], ["W3.black"], [], "rough-in"),
        ("W1.black -- W2.black -- W3.black", ["W1.black", "W2.black"], ["W3.black"], [], "rough-in"),
        ("W1.black -- L1.hot", ["W1.black"], [], ["L1.hot"], "trim"),
        ("W1.black -- W3.black -- L1.hot", ["W1.black"], ["W3.black"], ["L1.hot"], "trim"),
        ("W3.black -- L1.hot", None, [], [], ""),
        ("W1.black -- W2.black -- pigtail -- R1.hot", ["W1.black", "W2.black"], [], ["R1.hot"], "trim"),
        # The tail may be aluminum where the screw takes it; and a wire under a screw is of another rule.
        ("W1.black -- W2.black -- pigtail -- R2.hot-1", None, [], [], ""),
        ("W1.black -- R1.hot", None, [], [], ""),
        ("W1.black -- W3.black -- pigtail -- R2.hot-1", ["W1.black"], ["W3.black"], [], "rough-in"),
        ("W1.black -- W3.black, connector AL-CU", None, [], [], ""),
        ("W1.black -- L1.hot, connector AL-CU", None, [], [], ""),
        ("W1.black -- W3.black, connector RED", ["W1.black"], ["W3.black"], [], "rough-in"),
    ],
)
def test_what_meets_in_a_splice(
    line: str, aluminum: list[str] | None, copper: list[str], leads: list[str], stage: str
) -> None:
    text = fed(*JOINED, f"  {line}")
    found = seen(RULE, text)
    assert len(found) == (aluminum is not None)
    for one in found:
        assert [wire.name for wire in one.aluminum] == aluminum
        assert [wire.name for wire in one.copper_wires] == copper
        assert [lead.name for lead in one.leads] == leads
        assert (one.severity, one.stage, one.subject, one.under) == ("hazard", stage, "W1.black", None)
        assert at(text, one) == line


def test_a_screw_of_a_bar_takes_one_metal() -> None:
    wires = (
        "box A junction 30 cu in",
        "cable W1 12/2 NM-B aluminum 11 ft from LP to A",
        "cable W2 12/2 NM-B 11 ft from LP to A",
        "at LP",
    )
    (found,) = seen(RULE, fed(*wires, "W1.bare -- W2.bare -- LP.ground"))
    assert (found.under.name, found.stage, found.subject) == ("LP.ground", "rough-in", "W1.bare")
    assert not seen(RULE, fed(*wires, "W1.bare -- LP.ground", "W2.bare -- LP.ground"))
    # A connector is none of a screw's.
    assert seen(RULE, fed(*wires, "W1.bare -- W2.bare -- LP.ground, connector AL-CU"))


def test_a_light_on_old_aluminum() -> None:
    text = own("mixed-metals", "at-a-lead")
    assert reported(text) == ["mixed-metals"]
    assert not seen(RULE, changed(text, ("W1.black -- L1.hot", "W1.black -- L1.hot, connector AL-CU")))


@pytest.mark.parametrize("said", ["connector CU", "connector", "connector 12 A", "rated 12 A", "AL-CU"])
def test_a_connector_that_no_line_declares_is_for_both(said: str) -> None:
    made = board(fed(*JOINED, f"W1.black -- W3.black, {said}"))
    assert [problem.rule for problem in made.problems] == [
        "unknown-name" if said == "connector CU" else "syntax"
    ]
    assert [join.connector for join in made.joins] == [None]

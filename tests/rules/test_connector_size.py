"""What is under a wire connector, by what its line says that it holds; NEC 2023 110.3(B), 110.14(B)."""

from __future__ import annotations

import pytest

import wirecheck
from tests.rules.hands import at, reported, seen, shipped
from tests.samples import board, fed
from wirecheck.rules.connector_size import RULE

JOINED = (
    "connector K 2 to 4 of 14 AWG, 2 to 3 of 12 AWG, 1 of 10 AWG and 2 to 3 of 12 AWG",
    "box A junction 60 cu in",
    *(f"cable W{one} 14/2 NM-B 11 ft from LP to A" for one in range(1, 7)),
    "cable X1 12/3 NM-B 11 ft from A to A",
    "cable X2 12/3 NM-B 11 ft from LP to A",
    "cable T1 10/2 NM-B 11 ft from LP to A",
    "cable E1 8/2 NM-B 11 ft from LP to A",
    "cable S1 16/2 CL2 11 ft from LP to A",
    "L1 is luminaire in A",
    "R1 is duplex-receptacle in A",
    "at A",
)
FOUR = "W1.black -- W2.black -- W3.black -- W4.black"


@pytest.mark.parametrize(
    ("line", "why", "limit"),
    [
        ("W1.black -- W2.black", None, None),
        (FOUR, None, None),
        (f"{FOUR} -- W5.black", "many", 4),
        (f"{FOUR} -- pigtail -- R1.hot", "many", 4),
        (f"{FOUR} -- pigtail 14 -- R1.hot", "many", 4),
        ("W1.black -- W2.black -- W3.black -- pigtail -- R1.hot", None, None),
        ("W1.black -- pigtail -- R1.hot", None, None),
        ("W1.black -- pigtail", None, None),
        # What is 12 AWG, alone and with 10 AWG; a pigtail of no size that is said may be either.
        ("X1.black -- X1.red -- X1.white -- X2.black", "many", 3),
        ("X1.black -- X1.red -- T1.black", None, None),
        ("X1.black -- X1.red -- pigtail -- R1.hot -- T1.black", None, None),
        ("X1.black -- T1.black", "mix", None),
        ("X1.black -- X1.red -- X1.white -- X2.black -- T1.black", "mix", None),
        ("T1.black -- T1.white", "size", None),
        ("E1.black -- E1.white", "size", None),
        ("S1.red -- S1.white", "size", None),
        # A mix that is not listed: its sizes, and its most.
        ("W1.black -- X1.black", None, None),
        ("W1.black -- W2.black -- W3.black -- X1.black", None, None),
        (f"{FOUR} -- X1.black", "many", 4),
        ("W1.black -- E1.black", "size", None),
        ("W1.black -- S1.red", "size", None),
        # A lead has no size that the board tells.
        ("W1.black -- L1.hot", None, None),
        (f"{FOUR} -- L1.hot", "many", 4),
        ("E1.black -- L1.hot", "size", None),
        # Under a screw is no connector.
        ("W1.black -- R1.hot", None, None),
        (f"{FOUR} -- W5.black -- R1.hot", None, None),
    ],
)
def test_what_it_holds(line: str, why: str | None, limit: int | None) -> None:
    text = fed(*JOINED, f"  {line}, connector K")
    found = seen(RULE, text)
    assert [(one.why, one.limit) for one in found] == ([] if why is None else [(why, limit)])
    for one in found:
        stage = "trim" if "L1" in line else "rough-in"
        assert (one.severity, one.stage, one.subject) == ("violation", stage, line.split()[0])
        assert at(text, one) == f"{line}, connector K"


@pytest.mark.parametrize("least", [2, 3])
def test_too_few_for_it(least: int) -> None:
    text = fed(f"connector BIG {least} to 6 of 14 AWG", *JOINED, "  W1.black -- W2.black, connector BIG")
    assert [(one.why, one.limit) for one in seen(RULE, text)] == ([("few", 3)] if least == 3 else [])


def test_one_for_both_metals_may_say_what_it_holds() -> None:
    line = "  W1.black -- W2.black -- W3.black, connector AL-CU"
    assert seen(RULE, fed(*JOINED, line)) == []
    (found,) = seen(RULE, fed("connector AL-CU 2 of 14 AWG", *JOINED, line))
    assert (found.connector.metals, found.why, found.limit) == (True, "many", 2)


def test_each_way_is_one_mistake() -> None:
    assert reported(shipped("connector-size", "wrong")) == ["connector-size"]


def test_the_mend_is_a_connector_of_the_board() -> None:
    report = wirecheck.check(shipped("connector-size", "wrong"), effort=200)
    assert [one.mistake for one in report.mends] == [
        "At A, the connector on the splice of W1.white is SMALL, and should be LARGE."
    ]
    assert "W4.white, connector LARGE  # finds" in report.mended(1)


@pytest.mark.parametrize(
    ("line", "rule"),
    [
        ("connector K2 5 to 2 of 14 AWG", "syntax"),
        ("connector K2 0 of 14 AWG", "syntax"),
        ("connector K2 2 of 99 AWG", "syntax"),
        ("connector K2 200 of 14 AWG", "syntax"),
        ("connector K 2 of 14 AWG", "syntax"),
        ("at A\n  W1.black -- W2.black, connector J", "unknown-name"),
    ],
)
def test_what_is_no_connector(line: str, rule: str) -> None:
    made = board(fed(*JOINED[:-1], line))
    assert [problem.rule for problem in made.problems] == [rule]

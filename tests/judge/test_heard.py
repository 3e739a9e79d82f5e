"""Which calls something can feel, and that the others cost next to nothing."""

from __future__ import annotations

import pytest

from tests.samples import board
from wirecheck import check
from wirecheck.judge.case import Case

# A sequencer in whose heater's way stands a contact of the relay that it pulls in: it goes on and off.
RESTLESS = """board "Restless"
panel LP 120/240 V
breaker LP.1 15 A
box A junction 60 cu in
X is class-2-transformer in A
Q is sequencer in A
K is relay-spdt in A
cable P 14/2 NM-B 9 ft from LP to A
at LP
  P.black -- LP.1
  P.white -- LP.neutral
  P.bare -- LP.ground
at A
  P.black -- X.primary-hot
  P.white -- X.primary-neutral
  P.bare -- X.ground
  X.secondary-r -- K.common -- Q.m1
  K.nc -- Q.heater-a
  Q.m2 -- K.coil-a
  X.secondary-c -- K.coil-b -- Q.heater-b
"""


def thermostats(count: int, *lines: str) -> str:
    made = (f"T{number} is heat-only-thermostat in A" for number in range(1, count + 1))
    return "\n".join([RESTLESS.strip(), *lines, *made, ""])


@pytest.mark.parametrize(
    ("lines", "heard"),
    [
        ((), ()),
        (("T1.R -- X.secondary-r",), ()),
        (("T1.R -- T1.W",), ()),
        (("T1.R -- X.secondary-r", "T1.W -- Q.m2"), ("heat",)),
        (("T1.R -- X.secondary-r", "T1.W -- P.bare"), ("heat",)),
    ],
    ids=["no wire", "one wire", "its own screws", "two wires", "to earth"],
)
def test_a_call_is_heard_by_two_wires(lines: tuple[str, ...], heard: tuple[str, ...]) -> None:
    made = board(thermostats(1, *lines))
    assert not made.problems
    assert Case(made).heard == heard


def test_what_two_make_is_heard_where_one_of_them_is() -> None:
    case = Case(board(thermostats(2, "T2.R -- X.secondary-r", "T2.W -- Q.m2")))
    assert case.heard == ("heat", "T2.heat")


def test_only_what_is_heard_is_played() -> None:
    case = Case(board(thermostats(40)))
    assert len(case.calls) == 41 and not case.heard
    plays = len(case.states)
    assert plays == len(Case(board(thermostats(0))).states)


def test_what_no_wire_leads_to_changes_nothing_in_the_findings_of_the_rest() -> None:
    def told(count: int) -> list[tuple[str, str, str]]:
        found = check(thermostats(count)).findings
        return [(one.rule, one.subject, one.message) for one in found if not one.subject.startswith("T")]

    assert told(0) == told(3)

"""Two transformers that meet on their low sides."""

from __future__ import annotations

import pytest

from tests.judge.test_bunching import CALLED
from tests.rules.hands import case, changed, reported, seen
from wirecheck.rules.transformer_phase import RULE, FedBackward, OutOfPhase, TiedOnOneSide

IRON = """\
part iron "A transformer of any primary"
rating primary 120 V
terminal primary-hot hot
terminal primary-neutral line
terminal secondary-r class-2, holds 3
terminal secondary-c class-2-common, holds 3
transforms primary from primary-hot to primary-neutral into 24 V from secondary-r to secondary-c,
  capacity 40 VA, impedance 6 %, inherently-limited
"""

CABLES = "cable LW 18/2 CL2 6 ft from T1 to PB\ncable RW 18/2 CL2 6 ft from T2 to PB"


def two(red: str = "R", white: str = "C", other: str = "120 V", more: str = "") -> str:
    """Two transformers side by side; a cable from the one's R and C to screws of the other."""
    screws = {"R": "  LW.{} -- T2.secondary-r\n", "C": "  LW.{} -- T2.secondary-c\n", "": "  cap LW.{}\n"}
    return f"""board "Two transformers"
panel LP 120/240 V, 10 kA available
breaker LP.1 15 A
T1 is iron
T2 is iron with primary {other}
cable P1 14/2 NM-B 6 ft from LP to T1
cable P2 14/2 NM-B 6 ft from LP to T2
cable LW 18/2 CL2 6 ft from T1 to T2
at LP
  P1.black -- P2.black -- pigtail -- LP.1
  P1.white -- LP.neutral
  P2.white -- LP.neutral
  P1.bare -- LP.ground
  P2.bare -- LP.ground
at T1
  P1.black -- T1.primary-hot
  P1.white -- T1.primary-neutral
  cap P1.bare
  LW.red -- T1.secondary-r
  LW.white -- T1.secondary-c
at T2
  P2.black -- T2.primary-hot
  P2.white -- T2.primary-neutral
  cap P2.bare
{screws[red].format("red")}{screws[white].format("white")}{more}"""


def found(text: str) -> list[OutOfPhase | FedBackward | TiedOnOneSide]:
    return list(RULE.find(case(text, iron=IRON)))


def test_a_single_transformer_meets_no_other() -> None:
    assert not seen(RULE, CALLED)


def test_apart_they_are_right() -> None:
    assert not found(two("", ""))


def test_out_of_phase_they_drive_current_around() -> None:
    (one,) = found(two("C", "R"))
    assert isinstance(one, OutOfPhase)
    # 25.44 V open each, and 6 % of 24 V x 24 V / 40 VA = 0.864 ohm each.
    assert one.drives == pytest.approx(50.9, rel=0.01)
    assert one.flows == pytest.approx(50.9 / 1.728, rel=0.01)
    assert (one.subject, one.severity, one.stage, one.at.span.line) == ("T2", "hazard", "final", 25)
    assert (one.one.name, one.other.name, bool(one.copper)) == ("T1", "T2", True)


def test_in_phase_each_feeds_the_other() -> None:
    (one,) = found(two("R", "C"))
    assert isinstance(one, FedBackward)
    assert (one.subject, one.severity, one.stage, one.at.span.line) == ("T2", "hazard", "final", 25)


@pytest.mark.parametrize(("other", "kind"), [("150 V", FedBackward), ("162 V", OutOfPhase)])
def test_windings_that_differ_by_a_quarter_are_out_of_phase(other: str, kind: type) -> None:
    # 25.44 V against 25.44 x 120 / 150 = 20.35 V: 5.1 V; against 162: 6.6 V; a quarter of 24 V is 6 V.
    (one,) = found(two("R", "C", other))
    assert isinstance(one, kind)


@pytest.mark.parametrize(("red", "white", "line"), [("R", "", 25), ("", "C", 26), ("C", "", 25)])
def test_on_one_side_they_are_a_wire_away_from_it(red: str, white: str, line: int) -> None:
    (one,) = found(two(red, white))
    assert isinstance(one, TiedOnOneSide)
    assert (one.subject, one.severity, one.stage, one.at.span.line) == ("T2", "violation", "final", line)
    assert one.by is not None
    assert (one.one.name, bool(one.copper)) == ("T1", True)


def test_at_earth_two_sides_may_well_meet() -> None:
    grounded = "  T2.secondary-c -- T2.primary-neutral\n"
    assert not found(two("", "C", more=grounded))
    (one,) = found(two("R", "", more=grounded))
    assert isinstance(one, TiedOnOneSide)


def test_a_jumper_is_what_has_to_be_taken_out() -> None:
    # Each transformer's wire is on a screw of its own, and a jumper joins the two screws.
    text = two("R", "").replace("cable LW 18/2 CL2 6 ft from T1 to T2", "PB is push-button\n" + CABLES)
    text = text.replace("  cap LW.white\n", "").replace(
        "LW.red -- T2.secondary-r", "RW.red -- T2.secondary-r"
    )
    text = text.replace("  LW.white -- T1.secondary-c\n", "")
    text += "at PB\n  LW.red -- PB.a\n  PB.a -- PB.b\n  RW.red -- PB.b\n"
    (one,) = found(text)
    assert isinstance(one, TiedOnOneSide)
    assert text.splitlines()[one.at.span.line - 1].strip() == "PB.a -- PB.b"


def test_each_pair_is_told_once_over_all_positions() -> None:
    switched = two("R", "").replace(
        "at T1\n", "L1 is lampholder 60 W in T1\nS1 is single-pole-switch in T1\nat T1\n"
    )
    switched += (
        "at T1\n  T1.primary-hot -- S1.line\n  S1.load -- L1.hot\n  L1.neutral -- T1.primary-neutral\n"
    )
    assert len(found(switched)) == 1


def test_what_meets_on_both_sides_in_a_position_is_not_told_on_one_as_well() -> None:
    text = (
        two("R", "")
        .replace("at T1\n", "S1 is single-pole-switch in T2\nat T1\n")
        .replace("  cap LW.white\n", "")
    )
    text += "  LW.white -- S1.line\n  S1.load -- T2.secondary-c\n"
    kinds = {type(one) for one in found(text)}
    assert kinds == {TiedOnOneSide, FedBackward}
    plain = text.replace("is iron with primary 120 V", "is class-2-transformer").replace(
        "is iron", "is class-2-transformer"
    )
    assert reported(plain).count("transformer-phase") == 1


def test_what_joins_them_through_a_contact_is_looked_at_where_it_is_closed() -> None:
    """Both sides through a switch each: no plain copper leads from the one to the other."""
    text = changed(
        two("", ""),
        ("at T1\n", "S1 is single-pole-switch in T2\nS2 is single-pole-switch in T2\nat T1\n"),
        ("  cap LW.red\n", "  LW.red -- S1.line\n  S1.load -- T2.secondary-r\n"),
        ("  cap LW.white\n", "  LW.white -- S2.line\n  S2.load -- T2.secondary-c\n"),
    )
    both = [one for one in found(text) if isinstance(one, FedBackward)]
    assert [text.splitlines()[one.at.span.line - 1].strip() for one in both] == ["S1.load -- T2.secondary-r"]

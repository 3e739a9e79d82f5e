"""What a hand did inside a cabinet, against the equipment as its maker left it."""

from __future__ import annotations

import pytest

from tests.rules.hands import own, said, seen
from wirecheck import check, files
from wirecheck.rules.altered_equipment import (
    RULE,
    FeedsOthers,
    GuardsNoMore,
    NoDifference,
    RunsWithout,
    StaysOff,
)

HEATING = files.rule_board("altered-equipment", "right")


def with_line(line: str, text: str = HEATING) -> str:
    return f"{text}{line}\n"


def test_a_machine_as_its_maker_left_it_is_right() -> None:
    assert not seen(RULE, HEATING)
    assert check(HEATING).passes


@pytest.mark.parametrize("safety", ["limit", "rollout", "door"])
def test_a_jumper_over_a_safety_takes_it_away(safety: str) -> None:
    (one,) = seen(RULE, with_line(f"jumper F.{safety}.a -- F.{safety}.b"))
    assert isinstance(one, GuardsNoMore) and one.severity == "hazard"
    assert one.safety.name == f"F.{safety}" and "F.gas-valve" in [load.name for load in one.loads]


def test_two_jumpers_take_away_two() -> None:
    text = with_line("jumper F.limit.a -- F.limit.b\njumper F.rollout.a -- F.rollout.b")
    assert [one.safety.name for one in seen(RULE, text)] == ["F.limit", "F.rollout"]


def test_the_same_by_way_of_the_next_screw() -> None:
    """limit.b and rollout.a are one point: a jumper to either goes around the limit."""
    (one,) = seen(RULE, with_line("jumper F.limit.a -- F.rollout.a"))
    assert isinstance(one, GuardsNoMore) and one.safety.name == "F.limit"


def test_a_lead_that_is_off_stops_what_it_fed() -> None:
    (one,) = seen(RULE, with_line("lift F.inducer.a"))
    assert isinstance(one, StaysOff) and one.call == "heat"
    assert [load.name for load in one.loads] == ["F.inducer", "F.igniter", "F.gas-valve", "F.blower"]
    (other,) = seen(RULE, with_line("lift F.gas-valve.a"))
    assert "F.inducer" not in [load.name for load in other.loads]


def test_a_jumper_from_r_to_w_is_a_call_that_nobody_makes() -> None:
    (one,) = seen(RULE, with_line("jumper F.R -- F.W"))
    assert isinstance(one, RunsWithout) and one.call == "" and one.severity == "hazard"


@pytest.mark.parametrize("line", ["swap F.limit.b, F.rollout.a", "jumper F.limit.b -- F.rollout.a"])
def test_what_changes_nothing_is_advice(line: str) -> None:
    (one,) = seen(RULE, with_line(line))
    assert isinstance(one, NoDifference) and one.severity == "advice"


def test_swapped_twice_is_as_it_was() -> None:
    (one,) = seen(RULE, with_line("swap F.limit.a, F.blower.a\nswap F.blower.a, F.limit.a"))
    assert isinstance(one, NoDifference)


@pytest.mark.parametrize(
    "line",
    ["jumper F.limit.a -- F.limit.b", "lift F.rollout.b", "swap F.limit.a, F.blower.a", "jumper F.R -- F.W"],
)
def test_it_is_told_once_and_the_mend_is_to_undo_it(line: str) -> None:
    report = check(with_line(line), effort=400)
    (one,) = [finding for finding in report.findings if finding.severity != "advice"]
    assert one.line == len(with_line(line).splitlines()) or one.rule != "altered-equipment"
    edits = one.mends[0].edits
    assert edits and check(HEATING).passes
    assert one.mends[0].mistake.startswith("In F, ")


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("lift F.limit.c", "F.limit has no terminal c"),
        ("lift F.limt.a", "F.limt.a is not on this board"),
        ("jumper F.R -- TS.R", "are not in one cabinet"),
        ("swap F.limit.a, F.limit.a", "stands here twice"),
        ("lift W1.black", "W1.black is not on this board"),
    ],
)
def test_what_is_not_inside_a_cabinet_is_told(line: str, words: str) -> None:
    told = [one.message for one in check(with_line(line)).findings]
    assert any(words in message for message in told), told


def test_a_jumper_that_feeds_a_relays_contact_is_not_said_to_do_nothing() -> None:
    """Each pump runs by the jumper of its own relay, and by no other's."""
    text = own("altered-equipment", "jumper-to-a-relays-common")
    found = seen(RULE, text)
    assert [(type(one), one.subject, [load.name for load in one.loads]) for one in found] == [
        (FeedsOthers, "Z1", ["P1"]),
        (FeedsOthers, "Z2", ["P2"]),
    ]
    first, _ = said(RULE, text)
    assert first.message.startswith(
        "P1 runs during a call for heat, and would not without what was done in Z1."
    )
    assert "back as" not in (first.help or "")


DRYING = (files.folder("boards") / "variable-speed-furnace" / "right.wire").read_text(encoding="utf-8")
# The furnace without a dehumidistat, and with the jumper that it comes with.
LEFT_IN = "".join(
    line.replace("DW.red -- ", "") + "\n"
    for line in DRYING.splitlines()
    if not any(word in line for word in ("DS", "DW.white", "cable DW", "dehumidify"))
)


def test_a_jumper_between_two_screws_that_does_what_the_lines_ask_is_right() -> None:
    """Common practice: a new furnace has a jumper from R to DH, and keeps it without a dehumidistat."""
    text = with_line("jumper F.R -- F.DH", LEFT_IN)
    assert not seen(RULE, text)
    assert not [one.rule for one in check(text).findings if one.severity != "advice"]
    # The same where the lines ask for the airflow that it has without, and where none says which.
    other = text.replace("CU.fan, F.blower.high-speed", "CU.fan, F.blower.medium-speed")
    assert {type(one) for one in seen(RULE, other)} == {RunsWithout, StaysOff}
    unsaid = "".join(f"{line}\n" for line in text.splitlines() if "expect cool" not in line)
    assert RunsWithout in {type(one) for one in seen(RULE, unsaid)}


def test_a_jumper_from_inside_of_it_is_no_field_wiring() -> None:
    """That what it brings is asked for makes it none."""
    found = seen(RULE, with_line("jumper F.limit.a -- F.DH", LEFT_IN))
    assert {type(one) for one in found} == {RunsWithout, StaysOff}

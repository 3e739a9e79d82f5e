"""Ground-fault protection by the kind of place: NEC 210.8(A), 210.8(F)."""

from __future__ import annotations

import pytest

from tests.judge.test_guards import RANGE
from tests.rules.hands import COOLING, changed, said, seen
from tests.rules.rooms import dwelling, words
from wirecheck import files
from wirecheck.rules.ground_fault_protection import RULE, OpenEquipment, OpenReceptacle

# 210.8(A): where every receptacle needs it in all three editions.
ALWAYS = ("bath", "laundry", "garage", "outdoors", "crawl-space")


@pytest.mark.parametrize("code", [2017, 2020, 2023])
@pytest.mark.parametrize("room", ALWAYS)
def test_a_receptacle_in_such_a_room_needs_it(room: str, code: int) -> None:
    (one,) = seen(RULE, dwelling(f"{room} A", code=code))
    assert isinstance(one, OpenReceptacle)
    assert (one.subject, one.severity, one.room.kind) == ("R1", "violation", room)
    assert one.source.startswith(f"NEC {code} 210.8(A)") and one.copper


@pytest.mark.parametrize(
    "room", ["bedroom", "hall", "attic", "closet", "stairs", "mechanical-room", "living-room"]
)
def test_in_other_rooms_it_is_not_asked_for(room: str) -> None:
    assert not seen(RULE, dwelling(f"{room} A, B, C"))


def test_without_the_word_nothing_is_asked() -> None:
    assert not seen(RULE, dwelling())
    assert not seen(RULE, dwelling("bath B, C"))


@pytest.mark.parametrize(
    ("room", "code", "severity"),
    [
        # 210.8(A)(6) says it of all receptacles of a kitchen from 2023 on, before of those at the counter;
        # 210.8(A)(5) of finished basements from 2020 on.
        ("kitchen", 2017, "advice"),
        ("kitchen", 2020, "advice"),
        ("kitchen", 2023, "violation"),
        ("basement", 2017, "advice"),
        ("basement", 2020, "violation"),
        ("basement", 2023, "violation"),
    ],
)
def test_editions_differ(room: str, code: int, severity: str) -> None:
    (one,) = seen(RULE, dwelling(f"{room} A", code=code))
    assert one.severity == severity and bool(one.where) == (severity == "advice")
    said = words(RULE, dwelling(f"{room} A", code=code))
    assert ("unfinished" in said) == ((room, code) == ("basement", 2017))


@pytest.mark.parametrize("breaker", ["15 A gfci", "20 A gfci", "15 A gfci afci"])
def test_a_breaker_with_it_protects(breaker: str) -> None:
    assert not seen(RULE, dwelling("bath A, B, C", breaker=breaker))


def test_an_arc_fault_breaker_is_none_for_persons() -> None:
    assert seen(RULE, dwelling("bath A", breaker="15 A afci"))


def test_a_receptacle_with_it_protects_itself() -> None:
    assert not seen(RULE, dwelling("bath A", part="gfci-receptacle 15 A"))


@pytest.mark.parametrize(("code", "asked"), [(2017, 0), (2020, 1), (2023, 1)])
def test_receptacles_of_240_v_are_in_it_since_2020(code: int, asked: int) -> None:
    text = changed(RANGE, ("panel LP", f"code nec {code}\nroom garage B\npanel LP"))
    assert len(seen(RULE, text)) == asked


def test_an_air_conditioner_outdoors_is_advice() -> None:
    (one,) = seen(RULE, changed(COOLING, ("cable PF", "room outdoors CU\ncable PF")))
    assert isinstance(one, OpenEquipment) and one.sealed
    assert (one.subject, one.severity) == ("CU", "advice")
    large = changed(COOLING, ("cable PF", "room outdoors CU\ncable PF"), ("LP.2 30 A", "LP.2 60 A"))
    assert not seen(RULE, large)


def test_inside_of_a_kitchens_cabinet_since_2023() -> None:
    """210.8(A)(6): of a kitchen all receptacles are asked, and before that those that serve the counter."""
    assert len(seen(RULE, dwelling("kitchen-cabinet A"))) == 1
    assert not seen(RULE, dwelling("kitchen-cabinet A", code=2020))


def test_of_a_split_receptacle_the_half_without_it_is_named() -> None:
    board = files.folder("boards") / "workshop-outlets" / "wrong-plain-breaker-for-the-bench.wire"
    (finding,) = said(RULE, board.read_text("utf-8"))
    assert finding.message.endswith("where receptacles need ground-fault protection, and R2.bottom has none.")

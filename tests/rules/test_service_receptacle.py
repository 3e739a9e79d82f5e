"""A receptacle near what is serviced: NEC 210.63(A)."""

from __future__ import annotations

from tests.rules.hands import COOLING, changed, seen
from wirecheck.rules.service_receptacle import RULE


def placed(*rooms: str) -> str:
    lines = "".join(f"room {room}\n" for room in rooms)
    return changed(COOLING, ("cable PF", f"{lines}cable PF"))


def test_each_room_with_equipment_has_one() -> None:
    assert not seen(RULE, COOLING)
    assert not seen(RULE, placed("hall TS"))
    found = seen(RULE, placed("attic F", "outdoors CU, D"))
    assert [(one.subject, one.severity, one.room.kind) for one in found] == [
        ("F", "advice", "attic"),
        ("CU", "advice", "outdoors"),
    ]
    assert len(seen(RULE, placed("basement F, CU"))) == 1


def test_one_that_the_board_shows_is_enough() -> None:
    text = placed("attic F, A").replace(
        "cable PF", "box A device 20.3 cu in\nR1 is duplex-receptacle 15 A in A\ncable PF", 1
    )
    assert not seen(RULE, text)

"""Where a panel may hang: NEC 240.24(D), (E), (F)."""

from __future__ import annotations

import pytest

from tests.rules.hands import seen
from tests.rules.rooms import dwelling, words
from wirecheck.rules.panel_place import RULE


@pytest.mark.parametrize(("room", "section"), [("closet", "(D)"), ("bath", "(E)"), ("stairs", "(F)")])
def test_not_there(room: str, section: str) -> None:
    (one,) = seen(RULE, dwelling(f"{room} LP"))
    assert (one.subject, one.severity, one.at.span.line) == ("LP", "violation", 8)
    assert one.source == f"NEC 2023 240.24{section}"
    assert "no panel may be" in words(RULE, dwelling(f"{room} LP"))


@pytest.mark.parametrize("room", ["hall", "garage", "basement", "mechanical-room", "outdoors", "bedroom"])
def test_elsewhere_it_may(room: str) -> None:
    assert not seen(RULE, dwelling(f"{room} LP"))
    assert not seen(RULE, dwelling("bath A"))

"""The breaker ahead of a panel against its bus: NEC 408.36."""

from __future__ import annotations

import pytest

from tests.rules.hands import seen
from tests.subpanels import NO_MAIN, workshop
from wirecheck.rules.panel_bus import RULE


def bus(amps: int) -> tuple[str, str]:
    return "100 A bus", f"{amps} A bus"


@pytest.mark.parametrize(("amps", "found"), [(60, 0), (59, 1)])
def test_the_feeders_breaker_protects_the_bus(amps: int, found: int) -> None:
    assert len(seen(RULE, workshop(NO_MAIN, bus(amps)))) == found


def test_the_smaller_of_main_and_feeder_counts() -> None:
    assert not seen(RULE, workshop(bus(50), ("60 A main", "50 A main")))
    (found,) = seen(RULE, workshop(bus(50), ("60 A main", "100 A main")))
    assert (found.severity, found.stage, found.subject) == ("violation", "rough-in", "SP")
    assert (found.amps, found.bus, found.ahead is not None) == (60, 50, True)
    (found,) = seen(RULE, workshop(bus(40), ("60 A main", "50 A main")))
    assert found.amps == 50


def test_the_source_has_its_main() -> None:
    assert not seen(RULE, workshop())
    (found,) = seen(RULE, workshop(("200 A main, 200 A bus", "200 A main, 125 A bus")))
    assert (found.subject, found.ahead) == ("LP", None)
    assert not seen(RULE, workshop(("200 A main, 200 A bus", "125 A bus")))


def test_where_nothing_is_said_nothing_is_asked() -> None:
    assert not seen(RULE, workshop((", 60 A main, 100 A bus", "")))

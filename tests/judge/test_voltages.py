"""What a voltage says of a circuit."""

from __future__ import annotations

import pytest

from tests.rules.hands import LIGHT, case
from wirecheck.judge.voltages import is_line, takes_two_hots


@pytest.mark.parametrize(("volts", "line"), [(24, False), (49.9, False), (50, True), (120, True)])
def test_line_voltage_begins_where_live_parts_are_to_be_guarded(volts: float, line: bool) -> None:
    """NEC 2023 110.27(A) (from memory): at 50 V."""
    assert is_line(case(LIGHT), volts) is line


@pytest.mark.parametrize(
    ("volts", "both"), [(120, False), (127, False), (179, False), (180, True), (208, True)]
)
def test_what_is_between_two_hots(volts: float, both: bool) -> None:
    assert takes_two_hots(volts) is both

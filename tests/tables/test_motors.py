"""The protection of motor circuits, by NEC Table 430.52(C)(1) and Annex D, and of their control circuits."""

import pytest

from wirecheck.tables.code import edition
from wirecheck.tables.motors import motor_control_protection, motor_protection
from wirecheck.tables.published import NotInTable

NEC = edition(2023)


def test_annex_d_example_d8() -> None:
    """NEC Annex D, Example D8 (from memory): 34 A and 40 A, wound-rotor, at 460 V, nontime-delay fuses."""
    assert motor_protection(34, "nontime_delay_fuse", "polyphase", code=NEC) == 110
    assert motor_protection(40, "nontime_delay_fuse", "wound-rotor", code=NEC) == 60


def test_shop_motor() -> None:
    """By hand: 1/2 hp at 120 V takes 9.8 A; a breaker of 250 % is 24.5 A, next standard 25 A."""
    assert motor_protection(9.8, code=NEC) == 25
    assert motor_protection(9.8, "instantaneous_breaker", code=NEC) == pytest.approx(78.4)


def test_what_the_table_does_not_have_is_refused() -> None:
    with pytest.raises(NotInTable):
        motor_protection(10, "motor", code=NEC)


def test_control_circuits_of_motors() -> None:
    """Table 430.72(B), from memory: what stays in the enclosure may have more."""
    for size in ("18", "16", "14", "12", "10"):
        inside = motor_control_protection(size, beyond=False, code=NEC)
        beyond = motor_control_protection(size, code=NEC)
        assert inside is not None and beyond is not None and inside > beyond
    assert motor_control_protection("12", "aluminum", code=NEC) == 45
    assert motor_control_protection("14", "aluminum", code=NEC) is None

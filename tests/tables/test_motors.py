"""The protection of motor circuits, by NEC Table 430.52(C)(1) and Annex D, and of their control circuits."""

import pytest

from wirecheck.tables.code import edition
from wirecheck.tables.motors import full_load_current, motor_control_protection, motor_protection
from wirecheck.tables.published import NotInTable

NEC = edition(2023)


def test_annex_d_example_d8() -> None:
    """NEC Annex D, Example D8 (from memory): 34 A and 40 A, wound-rotor, at 460 V, nontime-delay fuses.

    The wires of one motor carry 42.5 A; those of the feeder 40 x 1.25 + 40 + 34 = 124 A.
    """
    small, large = full_load_current(25, 460, 3, code=NEC), full_load_current(30, 460, 3, code=NEC)
    assert (small, large) == (34, 40)
    more = 1 + NEC.limit("extra for the largest motor")
    assert (small * more, large * more + large + small) == (42.5, 124)
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


def test_full_load_currents_of_worked_examples() -> None:
    """Public worked examples: ecmweb.com (motor calculations, part 2) and two sets of exam questions."""
    assert full_load_current(1, 115, code=NEC) == 16
    assert full_load_current(7.5, 230, 3, code=NEC) == 22
    assert full_load_current(50, 480, 3, code=NEC) == 65
    assert full_load_current(30, 208, 3, code=NEC) == 88
    assert full_load_current(7.5, 240, code=NEC) == 40
    assert motor_protection(16, code=NEC) == 40
    assert motor_protection(65, motor="polyphase", code=NEC) == 175


@pytest.mark.parametrize("phases", [1, 3])
def test_full_load_currents_fall_with_the_volts_and_rise_with_the_horsepower(phases: int) -> None:
    """By hand: a motor of one horsepower at half the volts draws twice, give or take the rounding."""
    sizes = (0.5, 0.75, 1, 1.5, 2)
    at_115 = [full_load_current(size, 115, phases, code=NEC) for size in sizes]
    at_230 = [full_load_current(size, 240, phases, code=NEC) for size in sizes]
    assert at_115 == sorted(at_115) and at_230 == sorted(at_230)
    for low, high in zip(at_115, at_230, strict=True):
        assert low == pytest.approx(2 * high, rel=0.02)


@pytest.mark.parametrize(
    ("horsepower", "volts", "phases"), [(5, 115, 3), (4, 230, 3), (15, 230, 1), (5, 277, 3), (0.5, 460, 1)]
)
def test_motors_that_no_table_holds(horsepower: float, volts: float, phases: int) -> None:
    with pytest.raises(NotInTable):
        full_load_current(horsepower, volts, phases, code=NEC)

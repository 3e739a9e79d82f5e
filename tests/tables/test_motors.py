"""Motors: the tables against themselves, physics and NEC Annex D."""

import math

import pytest

from wirecheck.tables.code import edition
from wirecheck.tables.motors import (
    motor_control_protection,
    motor_full_load_current,
    motor_locked_rotor_current,
    motor_protection,
)
from wirecheck.tables.published import NotInTable, mixed

NEC = edition(2023)

HP = 746.0


@pytest.mark.parametrize("name", ["motors_single_phase", "motors_three_phase"])
def test_current_goes_inversely_with_voltage(name: str) -> None:
    """The 200 and 208 V columns are 15 and 10 % above 230 V; 460 V halves it: to the printed digits."""
    factors = {"115": 2.0, "200": 1.15, "208": 1.10, "460": 0.5, "575": 0.4}
    for row in NEC.rows(name):
        for column, factor in factors.items():
            if row.get(column):
                digits = len(row[column].partition(".")[2])
                assert float(row[column]) == pytest.approx(
                    float(row["230"]) * factor, rel=0.02, abs=0.6 * 10.0**-digits
                )


@pytest.mark.parametrize(("name", "phases"), [("motors_single_phase", 1), ("motors_three_phase", 3)])
def test_no_motor_gives_more_than_it_takes(name: str, phases: int) -> None:
    for row in NEC.rows(name):
        taken = 230 * float(row["230"]) * (math.sqrt(3) if phases == 3 else 1)
        assert 0.2 < mixed(row["horsepower"]) * HP / taken < 0.95


def test_locked_rotor_is_six_times_full_load() -> None:
    """NEC Table 430.251(A) rests on six times the full-load current of Table 430.248."""
    for row in NEC.rows("motors_locked_rotor"):
        power = mixed(row["horsepower"]) * HP
        for volts in (115, 230):
            if row[str(volts)]:
                assert motor_locked_rotor_current(power, volts, code=NEC) == pytest.approx(
                    6 * motor_full_load_current(power, volts, code=NEC)
                )
        assert float(row["208"]) == pytest.approx(6 * motor_full_load_current(power, 208, code=NEC), rel=0.02)


def test_annex_d_example_d8() -> None:
    """NEC Annex D, Example D8 (from memory): 25 hp and 30 hp wound-rotor, at 460 V, nontime-delay fuses."""
    squirrel_cage = motor_full_load_current(25 * HP, 460, phases=3, code=NEC)
    assert squirrel_cage == 34
    assert squirrel_cage * 1.25 == 42.5
    assert motor_protection(squirrel_cage, "nontime_delay_fuse", "polyphase", code=NEC) == 110
    wound_rotor = motor_full_load_current(30 * HP, 460, phases=3, code=NEC)
    assert wound_rotor == 40
    assert motor_protection(wound_rotor, "nontime_delay_fuse", "wound-rotor", code=NEC) == 60


def test_shop_motor() -> None:
    """By hand: 1/2 hp at 120 V takes 9.8 A; a breaker of 250 % is 24.5 A, next standard 25 A."""
    amps = motor_full_load_current(HP / 2, 120, code=NEC)
    assert amps == 9.8
    assert motor_protection(amps, code=NEC) == 25
    assert motor_protection(amps, "instantaneous_breaker", code=NEC) == pytest.approx(78.4)


def test_what_the_tables_do_not_have_is_refused() -> None:
    with pytest.raises(NotInTable, match="it lists 1/6"):
        motor_full_load_current(0.4 * HP, 120, code=NEC)
    with pytest.raises(NotInTable, match="its columns"):
        motor_full_load_current(HP, 24, code=NEC)
    with pytest.raises(NotInTable):
        motor_full_load_current(HP, 120, phases=2, code=NEC)
    with pytest.raises(NotInTable):
        motor_protection(10, "motor", code=NEC)
    with pytest.raises(NotInTable):
        motor_locked_rotor_current(10 * HP, 120, code=NEC)


def test_control_circuits_of_motors() -> None:
    """Table 430.72(B), from memory: what stays in the enclosure may have more."""
    for size in ("18", "16", "14", "12", "10"):
        inside = motor_control_protection(size, beyond=False, code=NEC)
        beyond = motor_control_protection(size, code=NEC)
        assert inside is not None and beyond is not None and inside > beyond
    assert motor_control_protection("12", "aluminum", code=NEC) == 45
    assert motor_control_protection("14", "aluminum", code=NEC) is None

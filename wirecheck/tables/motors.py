"""Motors: full-load and locked-rotor currents, and the protection of their circuits.

Sources: NEC Tables 430.248, 430.250, 430.251(A), 430.52(C)(1), 430.72(B).
"""

from __future__ import annotations

from wirecheck.language.quantity import HORSEPOWER
from wirecheck.tables.code import Code
from wirecheck.tables.overcurrent import next_standard
from wirecheck.tables.published import NotInTable, material_named, mixed
from wirecheck.tables.sizes import trade_size

# System voltages that a column of the tables holds for (NEC 430.248 and 430.250, headings).
_SYSTEMS = {
    "115": (110, 120),
    "200": (200, 200),
    "208": (208, 208),
    "230": (220, 240),
    "460": (440, 480),
    "575": (550, 600),
}


def motor_full_load_current(power: float, volts: float, phases: int = 1, *, code: Code) -> float:
    """The full-load current by which a motor's circuit is sized, in amperes.

    Parameters
    ----------
    power : the shaft's rated power in watts, 746 to the horsepower.
    volts : nominal volts of the system.
    phases : 1 or 3.

    Raises
    ------
    NotInTable
        For a horsepower or a voltage that the table does not list; the message says what it does.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> motor_full_load_current(746 / 3, 120, code=nec)
    7.2
    >>> motor_full_load_current(746 * 5, 208, phases=3, code=nec)
    16.7
    """
    if phases not in (1, 3):
        raise NotInTable(f"motor tables are for 1 and 3 phases, not {phases}")
    if phases == 1:
        return _listed("motors_single_phase", "currents of single-phase motors", power, volts, code)
    return _listed("motors_three_phase", "currents of three-phase motors", power, volts, code)


def motor_locked_rotor_current(power: float, volts: float, *, code: Code) -> float:
    """The current of a single-phase motor whose rotor stands still, as at the moment of starting, in amperes.

    Parameters
    ----------
    power : the shaft's rated power in watts, 746 to the horsepower.
    volts : nominal volts of the system.

    Raises
    ------
    NotInTable

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> motor_locked_rotor_current(746 / 2, 120, code=nec)
    58.8
    """
    return _listed("motors_locked_rotor", "locked-rotor currents of motors", power, volts, code)


def _listed(name: str, matter: str, power: float, volts: float, code: Code) -> float:
    column = next((one for one, (low, high) in _SYSTEMS.items() if low <= volts <= high), "")
    rows = code.rows(name)
    for row in rows:
        if abs(power - mixed(row["horsepower"]) * HORSEPOWER) <= 0.005 * power:
            if row.get(column):
                return float(row[column])
            columns = ", ".join(one for one in row if one != "horsepower" and row[one])
            raise NotInTable(
                f"{code.section(matter)} has no {row['horsepower']} hp motor at {volts:g} V: "
                f"its columns are {columns} V"
            )
    listed = ", ".join(row["horsepower"] for row in rows)
    raise NotInTable(f"{code.section(matter)} has no motor of {power / HORSEPOWER:.3g} hp: it lists {listed}")


def motor_protection(
    full_load: float,
    device: str = "inverse_time_breaker",
    motor: str = "single-phase",
    *,
    code: Code,
) -> float:
    """The largest short-circuit protection of a motor's branch circuit, in amperes: a standard rating.

    Parameters
    ----------
    device : `nontime_delay_fuse`, `dual_element_fuse`, `instantaneous_breaker` or `inverse_time_breaker`.
    motor : `single-phase`, `polyphase`, `design b energy-efficient`, `synchronous`, `wound-rotor`
        or `direct-current`.

    Raises
    ------
    NotInTable

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> motor_protection(16.0, code=nec)
    40.0
    """
    row = code.keyed("motor_protection", "motor").get((motor.lower(),))
    if row is None or device == "motor" or device not in row:
        raise NotInTable(
            f"{code.section('protection of motor circuits')} has no {device} for a {motor} motor"
        )
    amps = full_load * float(row[device]) / 100
    if device == "instantaneous_breaker":
        return amps
    rating = next_standard(amps, fuse=device.endswith("fuse"), code=code)
    if rating is None:
        raise NotInTable(f"{code.section('standard ratings')} has no standard rating at or above {amps:g} A")
    return rating


def motor_control_protection(
    size: str, material: str = "copper", beyond: bool = True, *, code: Code
) -> float | None:
    """The largest protection behind which a motor's control circuit may be tapped (NEC 430.72(B)), in A.

    None for a conductor that the table does not name: one that is larger goes by its ampacity.

    Parameters
    ----------
    beyond : whether the conductor leaves the enclosure of the controller.

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> motor_control_protection("14", code=nec), motor_control_protection("14", beyond=False, code=nec)
    (45.0, 100.0)
    >>> motor_control_protection("8", code=nec) is None
    True
    """
    row = code.keyed("motor_control", "size", "material").get((trade_size(size), material_named(material)))
    return float(row["beyond" if beyond else "enclosure"]) if row else None

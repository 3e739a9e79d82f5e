"""Motors: their full-load currents, the protection of their circuits and of their control circuits.

Sources: NEC Tables 430.52(C)(1), 430.72(B), 430.248, 430.250.
"""

from __future__ import annotations

from wirecheck.tables.code import Code
from wirecheck.tables.overcurrent import next_standard
from wirecheck.tables.published import NotInTable, material_named, mixed, number
from wirecheck.tables.sizes import trade_size

# The system volts for which each column of the tables of currents holds, as their headings say.
COLUMNS = {
    115: (110, 120),
    200: (200, 200),
    208: (208, 208),
    230: (220, 240),
    460: (440, 480),
    575: (550, 600),
}
# A horsepower may miss that of a row by so much of it: its rounding.
SAME = 0.01


def full_load_current(horsepower: float, volts: float, phases: int = 1, *, code: Code) -> float:
    """What a motor's conductors and protection are sized by, in amperes (NEC 430.6(A)(1)).

    Parameters
    ----------
    volts : those of its system or of its nameplate.
    phases : 1 or 3.

    Raises
    ------
    NotInTable

    Examples
    --------
    >>> from wirecheck.tables.code import LATEST as nec
    >>> full_load_current(5, 208, 3, code=nec), full_load_current(1 / 3, 120, code=nec)
    (16.7, 7.2)
    """
    name = "motors_three_phase" if phases > 1 else "motors_single_phase"
    column = next((str(one) for one, (least, most) in COLUMNS.items() if least <= volts <= most), "")
    for (written,), row in code.keyed(name, "horsepower").items():
        amps = number(row, column)
        if amps is not None and abs(mixed(written) - horsepower) <= SAME * horsepower:
            return amps
    raise NotInTable(
        f"{code.section('full-load currents of motors')} has no motor of {horsepower:g} hp at {volts:g} V"
    )


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

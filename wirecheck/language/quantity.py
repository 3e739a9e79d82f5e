"""The one door between the trade's units and SI.

`quantity` turns what is written (`22 ft`, `1-1/2 in`, `20.3 cu in`, `86 F`) into a
value in SI; the functions at the end turn SI back into what a tradesperson reads.
Inside the package every value is SI, but temperatures are degrees Celsius and a
percentage is a fraction of one.

Sources: the inch, foot and yard are exact (international yard, 0.9144 m); the
cubic inch, the circular mil and the electric horsepower (746 W, as motors are
rated) follow NIST SP 811 (2008), Appendix B.8; wire gauges follow ASTM B258.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable

from wirecheck.language.syntax import Quantity, Span

HORSEPOWER = 746.0
"""One electric horsepower in watts (NIST SP 811: exact)."""

_CIRCULAR_MIL = math.pi / 4 * (0.0254e-3) ** 2

# unit -> (dimension, what one of it is in SI); temperatures are turned below.
_UNITS: dict[str, tuple[str, float]] = {
    "ft": ("length", 0.3048),
    "in": ("length", 0.0254),
    "yd": ("length", 0.9144),
    "m": ("length", 1.0),
    "cm": ("length", 0.01),
    "mm": ("length", 0.001),
    "cu in": ("volume", 0.0254**3),
    "cm3": ("volume", 1e-6),
    "mm2": ("area", 1e-6),
    "kcmil": ("area", 1000 * _CIRCULAR_MIL),
    "AWG": ("area", 0.0),
    "A": ("current", 1.0),
    "mA": ("current", 1e-3),
    "kA": ("current", 1e3),
    "V": ("voltage", 1.0),
    "mV": ("voltage", 1e-3),
    "kV": ("voltage", 1e3),
    "W": ("power", 1.0),
    "kW": ("power", 1e3),
    "VA": ("apparent-power", 1.0),
    "kVA": ("apparent-power", 1e3),
    "hp": ("horsepower", HORSEPOWER),
    "C": ("temperature", 1.0),
    "F": ("temperature", 1.0),
    "s": ("time", 1.0),
    "ms": ("time", 1e-3),
    "min": ("time", 60.0),
    "h": ("time", 3600.0),
    "ohm": ("resistance", 1.0),
    "kohm": ("resistance", 1e3),
    "Mohm": ("resistance", 1e6),
    "uF": ("capacitance", 1e-6),
    "Hz": ("frequency", 1.0),
    "x": ("ratio", 1.0),
    "%": ("percent", 0.01),
    "": ("number", 1.0),
}

# The same units as people say them.
_SPOKEN = {
    "feet": "ft",
    "foot": "ft",
    "inch": "in",
    "inches": "in",
    "yard": "yd",
    "yards": "yd",
    "meter": "m",
    "meters": "m",
    "metre": "m",
    "metres": "m",
    "amp": "A",
    "amps": "A",
    "ampere": "A",
    "amperes": "A",
    "volt": "V",
    "volts": "V",
    "watt": "W",
    "watts": "W",
    "ohms": "ohm",
    "second": "s",
    "seconds": "s",
    "sec": "s",
    "minute": "min",
    "minutes": "min",
    "hour": "h",
    "hours": "h",
    "percent": "%",
    "µF": "uF",
    "MFD": "uF",
    "°C": "C",
    "°F": "F",
}

SYMBOLS = tuple(unit for unit in _UNITS if unit)
"""The units as they are written."""


def units_of(dimension: str) -> tuple[str, ...]:
    """The units in which a value may be written.

    >>> units_of("voltage"), units_of("power")
    (('V', 'mV', 'kV'), ('W', 'kW'))
    """
    return tuple(unit for unit, (of, _) in _UNITS.items() if of == dimension and unit)


_EXAMPLES = {
    "length": ("a length", "22 ft or 7 m"),
    "volume": ("a volume", "20.3 cu in or 333 cm3"),
    "area": ("a wire's size", "2.5 mm2 or 250 kcmil"),
    "current": ("a current", "15 A"),
    "voltage": ("a voltage", "120 V"),
    "power": ("a power", "60 W"),
    "apparent-power": ("an apparent power", "40 VA"),
    "temperature": ("a temperature", "30 C or 86 F"),
    "time": ("a time", "15 s or 3 min"),
    "resistance": ("a resistance", "5 ohm"),
    "ratio": ("a ratio", "6 x"),
    "percent": ("a percentage", "6 %"),
    "horsepower": ("a motor's power", "1/3 hp"),
    "capacitance": ("a capacitance", "35 uF"),
    "frequency": ("a frequency", "60 Hz"),
    "number": ("a bare number", "3"),
}

# The most that anything on a board can be, in SI: above it a slip of the pen is sure.
_MOST = {
    "length": 1e5,
    "volume": 1e3,
    "area": 1.0,
    "current": 1e6,
    "voltage": 1e6,
    "power": 1e9,
    "apparent-power": 1e9,
    "temperature": 3000.0,
    "time": 1e7,
    "resistance": 1e12,
    "ratio": 1e4,
    "percent": 100.0,
    "horsepower": 1e9,
    "capacitance": 10.0,
    "frequency": 1e6,
    "number": 1e9,
}

_NUMBER = r"(?:\d+[ -]\d+/\d+|\d+/\d+|\d+(?:\.\d+)?|\.\d+)"
_WRITTEN = re.compile(rf"({_NUMBER})[ \t]*((?:[^\d\s.][^\d\s]*(?:[ \t]*in|[23])?)?)")
_FEET_AND_INCHES = re.compile(rf"({_NUMBER})[ \t]*(?:ft|feet|foot)[ \t]+({_NUMBER})[ \t]*(?:in|inch|inches)")
_GAUGE = re.compile(r"\d+|[1-4]/0")


def quantity(text: str, span: Span) -> Quantity:
    """Read a value with its unit.

    Parameters
    ----------
    text : what is written, such as `22 ft`, `1-1/2 in`, `20 ft 6 in`, `15 amps` or a bare `3`.
    span : where it is written.

    Returns
    -------
    A `Quantity` with the value in SI and the writer's number and unit, one space between
    them, in `text`; a number without a unit has the dimension `number`.

    Raises
    ------
    ValueError
        With a message for the writer, where the text is no value or cannot be meant.

    Examples
    --------
    >>> here = Span(1, 1, 1, 9)
    >>> round(quantity("22 ft", here).value, 4)
    6.7056
    >>> round(quantity("1-1/2 in", here).value, 6)
    0.0381
    >>> quantity("86 F", here).value, quantity("86 F", here).dimension
    (30.0, 'temperature')
    """
    match = _WRITTEN.fullmatch(text)
    if match is None:
        return _feet_and_inches(text, span)
    number, unit = match[1], match[2]
    written = " ".join([number, *unit.split()])
    if unit not in _UNITS:
        unit = _SPOKEN.get(unit) or " ".join(unit.replace("cu", "cu ").split())
        if unit not in _UNITS:
            raise ValueError(f"{shortened(text)} has a unit that is not known here")
    dimension, factor = _UNITS[unit]
    if unit == "AWG":
        return Quantity(gauge_area(number), dimension, written, span)
    value = _number(number, text) * factor
    if unit == "F":
        value = (value - 32) / 1.8
    return Quantity(_bounded(value, dimension, text), dimension, written, span)


def _feet_and_inches(text: str, span: Span) -> Quantity:
    match = _FEET_AND_INCHES.fullmatch(text)
    if match is None:
        raise ValueError(f"{shortened(text)} is not a number with a unit")
    value = _number(match[1], text) * 0.3048 + _number(match[2], text) * 0.0254
    written = f"{match[1]} ft {match[2]} in"
    return Quantity(_bounded(value, "length", text), "length", written, span)


def _number(written: str, text: str) -> float:
    """A whole, decimal, fraction or mixed number."""
    if "/" not in written:
        return float(written)
    whole, _, fraction = written.replace("-", " ").rpartition(" ")
    above, _, below = fraction.partition("/")
    if len(written) > 20 or int(below) == 0:
        raise ValueError(f"{shortened(text)} is not a fraction that can be measured")
    return int(whole or 0) + int(above) / int(below)


def _bounded(value: float, dimension: str, text: str) -> float:
    if value > _MOST[dimension]:
        raise ValueError(f"{shortened(text)} is more than any board can have: is there a slip in the number?")
    return value


def gauge_area(gauge: str) -> float:
    """The copper area of a solid wire of an American wire gauge, in square meters.

    Source: ASTM B258, diameter = 0.005 in x 92^((36 - n) / 39), where `1/0` stands for n = 0.

    Examples
    --------
    >>> round(gauge_area("12") * 1e6, 3)
    3.309
    """
    if not _GAUGE.fullmatch(gauge) or len(gauge) > 3 or ("/" not in gauge and int(gauge) > 40):
        raise ValueError(f"{shortened(gauge)} AWG is no wire gauge: gauges run from 40 to 1, then 1/0 to 4/0")
    number = 1 - int(gauge[0]) if "/" in gauge else int(gauge)
    diameter = 0.005 * 0.0254 * math.pow(92, (36 - number) / 39)
    return math.pi / 4 * diameter**2


_UNSPACED = re.compile(
    rf"(?<![\w./-])({_NUMBER})({'|'.join(sorted({*SYMBOLS, *_SPOKEN}, key=len, reverse=True))})(?![\w.-])"
)


def spaced(text: str) -> str:
    """Text with a space between each number and its unit.

    >>> spaced("breaker LP.3 15A"), spaced("S1 is 3-way-switch 1-1/2in")
    ('breaker LP.3 15 A', 'S1 is 3-way-switch 1-1/2 in')
    """
    return _UNSPACED.sub(r"\1 \2", text)


def shortened(text: str, most: int = 40) -> str:
    """Text from a file, cut so that a message stays readable.

    >>> shortened("a" * 50)
    'aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa…'
    """
    return text if len(text) <= most else text[: most - 1] + "…"


def wanted(dimensions: tuple[str, ...]) -> str:
    """What to write where one of these dimensions is meant.

    >>> wanted(("length",))
    'a length, as 22 ft or 7 m'
    >>> wanted(("power", "current"))
    'a power, as 60 W, or a current, as 15 A'
    """
    return ", or ".join(f"{kind}, as {example}" for kind, example in map(_EXAMPLES.__getitem__, dimensions))


def kind(dimension: str) -> str:
    """A dimension in plain words.

    >>> kind("apparent-power")
    'an apparent power'
    """
    return _EXAMPLES[dimension][0]


# ------------------------------------------------------- from SI to the trade

# dimension -> (unit of the trade, what one of it is in SI)
_TRADE = {
    "length": ("ft", 0.3048),
    "volume": ("cu in", 0.0254**3),
    "area": ("mm2", 1e-6),
    "current": ("A", 1.0),
    "voltage": ("V", 1.0),
    "power": ("W", 1.0),
    "apparent-power": ("VA", 1.0),
    "temperature": ("C", 1.0),
    "time": ("s", 1.0),
    "resistance": ("ohm", 1.0),
    "ratio": ("x", 1.0),
    "percent": ("%", 0.01),
    "horsepower": ("hp", HORSEPOWER),
    "capacitance": ("uF", 1e-6),
    "frequency": ("Hz", 1.0),
    "number": ("", 1.0),
}

# The last digit that a good meter shows, by unit: what lies below it is noise.
_LAST = {
    "V": 0.01,
    "A": 1e-4,
    "mA": 0.1,
    "%": 0.1,
    "ohm": 0.01,
    "W": 0.01,
    "VA": 0.01,
    "C": 0.1,
    "s": 0.001,
    "x": 0.01,
}
_LAST_OF_OTHERS = 1e-4
# What is a whole number of these is exact: a table's volumes are in quarters, and a tape is marked in
# sixteenths of an inch and quarters of a foot.
_EXACT = {"cu in": 0.25, "in": 1 / 16, "ft": 1 / 4}
_ON_TAPE = ("in", "ft")
_FIGURES = 3
# From so many seconds on a time is told in minutes.
_MINUTES = 120
_MOST_MORE = 9
_SAME = 1e-9


def trade_value(value: float, dimension: str) -> tuple[float, str]:
    """An SI value as (number, unit) of the trade, not rounded.

    Lengths come in feet; `inches` gives the short ones.

    >>> trade_value(0.05, "percent")
    (5.0, '%')
    """
    unit, one = _TRADE[dimension]
    return value / one, unit


def rounded(value: float, digits: int = _FIGURES, beside: float | None = None) -> str:
    """A bare number as `reading` gives it.

    >>> rounded(4.2000001), rounded(1234.4), rounded(0.05), rounded(7e-16), rounded(1234.0)
    ('4.2', '1230', '0.05', '0', '1234')
    """
    return reading(value, "", digits, beside)


def reading(number: float, unit: str, digits: int = _FIGURES, beside: float | None = None) -> str:
    """A number of the trade as a good meter shows it: at most three figures, and noise is 0.

    What is exact keeps its figures: whole numbers, quarters of a cubic inch, and
    lengths that are marks of a tape, which are written as the trade writes them.
    Less than a tenth of an ampere is in milliamperes.

    Parameters
    ----------
    number, unit : as `120` and `V`; `in` for inches, nothing for a bare number.
    digits : the most figures.
    beside : a number that it is compared with: where both would read the same and are not, it gets
        as many more figures as tell them apart.

    Examples
    --------
    >>> reading(119.93, "V"), reading(7.7e-8, "V"), reading(0.0952, "%"), reading(1027.4, "A")
    ('120 V', '0 V', '0.1 %', '1030 A')
    >>> reading(0.0062, "A"), reading(20.25, "cu in"), reading(1.5, "in"), reading(4.5, "ft")
    ('6.2 mA', '20.25 cu in', '1-1/2 in', '4-1/2 ft')
    >>> reading(15.02, "A"), reading(15.02, "A", beside=15.0), reading(15.0, "A", beside=15.02)
    ('15 A', '15.02 A', '15 A')
    """
    return _reading(number, unit, digits, _more(_reading, number, unit, digits, beside))


def figure(number: float, unit: str, digits: int = _FIGURES, beside: float | None = None) -> float:
    """The number of `reading`, for programs.

    >>> figure(119.93, "V"), figure(0.0062, "A"), figure(7.7e-8, "V"), figure(3.02, "%", beside=3.0)
    (120.0, 0.0062, 0.0, 3.02)
    """
    return float(_decimal(number, unit, digits, _more(_decimal, number, unit, digits, beside)))


def _more(
    write: Callable[[float, str, int, int], str], number: float, unit: str, digits: int, beside: float | None
) -> int:
    """How many more figures tell two numbers apart that are not the same."""
    if beside is None or math.isclose(number, beside, rel_tol=_SAME):
        return 0
    return next(
        (
            more
            for more in range(_MOST_MORE)
            if write(number, unit, digits, more) != write(beside, unit, digits, more)
        ),
        _MOST_MORE,
    )


def _reading(number: float, unit: str, digits: int, more: int) -> str:
    if unit == "A" and 0 < abs(number) < 0.1:
        text = _decimal(number * 1e3, "mA", digits, more)
        return f"{text} mA" if text != "0" else "0 A"
    if unit in _ON_TAPE:
        return f"{_on_tape(number, unit, more) or _decimal(number, unit, digits, more)} {unit}"
    return f"{_decimal(number, unit, digits, more)} {unit}".rstrip()


def _decimal(number: float, unit: str, digits: int, more: int) -> str:
    """A number in decimals, without an exponent, with so many more figures and last digits."""
    if not math.isfinite(number):
        return str(number)
    step = _EXACT.get(unit, 1.0)
    exact = round(number / step) * step
    if math.isclose(number, exact, rel_tol=_SAME):
        return f"{exact:.4f}".rstrip("0").rstrip(".")
    last = -math.floor(math.log10(_LAST.get(unit, _LAST_OF_OTHERS)))
    places = min(digits - 1 - math.floor(math.log10(abs(number))), last) + more
    # A half goes up, as people round.
    kept = math.floor(abs(number) * 10.0**places + 0.5 + _SAME) / 10.0**places
    text = f"{math.copysign(kept, number):.{max(places, 0)}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def _on_tape(number: float, unit: str, more: int) -> str | None:
    """A length on a mark of a tape: `1-1/2`; None where it is between marks."""
    marks = round(1 / _EXACT[unit])
    if not math.isfinite(number) or abs(number * marks - round(number * marks)) > 0.01 * 10.0**-more:
        return None
    whole, part = divmod(round(number * marks), marks)
    if not part:
        return str(whole)
    common = math.gcd(part, marks)
    fraction = f"{part // common}/{marks // common}"
    return f"{whole}-{fraction}" if whole else fraction


def shown(value: float, dimension: str, digits: int = _FIGURES, beside: float | None = None) -> str:
    """An SI value as the trade writes it; `beside` is the SI value that it is compared with (`reading`).

    >>> shown(3.6576, "length"), shown(0.03, "percent"), shown(15.0, "current")
    ('12 ft', '3 %', '15 A')
    """
    number, unit = trade_value(value, dimension)
    return reading(number, unit, digits, None if beside is None else trade_value(beside, dimension)[0])


def feet(meters: float) -> str:
    """A length in feet.

    >>> feet(6.7056), feet(1.3716)
    ('22 ft', '4-1/2 ft')
    """
    return shown(meters, "length")


def inches(meters: float, beside: float | None = None) -> str:
    """A short length in inches.

    >>> inches(0.1524), inches(0.00635), inches(0.15)
    ('6 in', '1/4 in', '5.91 in')
    """
    return reading(meters / 0.0254, "in", beside=None if beside is None else beside / 0.0254)


def amps(amperes: float, beside: float | None = None) -> str:
    """A current.

    >>> amps(15.0), amps(0.0062)
    ('15 A', '6.2 mA')
    """
    return reading(amperes, "A", beside=beside)


def volts(value: float, beside: float | None = None) -> str:
    """A voltage.

    >>> volts(23.456)
    '23.5 V'
    """
    return reading(value, "V", beside=beside)


def minutes(seconds: float) -> str:
    """A time in seconds, or in minutes where it is two of them or more.

    >>> minutes(90), minutes(120), minutes(5400)
    ('90 s', '2 min', '90 min')
    """
    return shown(seconds, "time") if seconds < _MINUTES else f"{rounded(seconds / 60)} min"


def percent(fraction: float, beside: float | None = None) -> str:
    """A fraction of one as a percentage.

    >>> percent(0.0312), percent(0.0302, beside=0.03)
    ('3.1 %', '3.02 %')
    """
    return shown(fraction, "percent", beside=beside)

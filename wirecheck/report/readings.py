"""A meter's reading in words: the number, and what it means where a beginner would be misled."""

from __future__ import annotations

from collections.abc import Sequence

from wirecheck.circuit.meter import METER_OHMS, Reading
from wirecheck.circuit.settle import Settled
from wirecheck.language.quantity import amps, shown, volts
from wirecheck.report.text import wrapped


def told(reading: Reading, what: str, points: Sequence[str], settled: Settled) -> str:
    """One reading as lines of text."""
    between = " to ".join(points)
    if what == "volts":
        lines = [f"{between}: {volts(reading.value or 0.0)}"]
        if reading.phantom:
            lines.append(
                "This is a phantom reading. A wire here is joined to nothing, and picks up voltage from "
                f"the live wires along it, enough for a meter of {METER_OHMS / 1e6:g} megohm and for nothing "
                "else. A load, or a meter with a low-impedance input, shows 0 V. "
                "Treat it as live until it is proved dead."
            )
    elif what == "amps":
        lines = [f"{between}: {amps(reading.value or 0.0)}"]
    else:
        lines = [f"{between}: {_ohms(reading)}"]
        if reading.value is None and reading.through:
            lines.append(
                "Cold, these have less resistance than when they work, and how much less no nameplate tells."
            )
    lines += (
        f"{opening.name} has opened: {amps(opening.amps, opening.limit)} went through it, and it is made for "
        f"{amps(opening.limit, opening.amps)}."
        for opening in settled.opened
    )
    return "".join(wrapped(line, "  " if number else "") + "\n" for number, line in enumerate(lines))


def _ohms(reading: Reading) -> str:
    if reading.value is not None:
        through = f", through {', '.join(reading.through)}" if reading.through else ""
        return shown(reading.value, "resistance") + through
    if reading.through:
        return f"a path through {', '.join(reading.through)}"
    return "open: no path"

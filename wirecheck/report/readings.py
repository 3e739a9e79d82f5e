"""A meter's reading in words: the number, and what it means where a beginner would be misled."""

from __future__ import annotations

from collections.abc import Sequence

from wirecheck.circuit.meter import METER_OHMS, Reading
from wirecheck.circuit.settle import Settled
from wirecheck.language.listing import listed
from wirecheck.report.openings import opened
from wirecheck.report.paragraphs import wrapped
from wirecheck.report.verdict import no_answer
from wirecheck.troubles.signs import signs


def said(reading: Reading, points: Sequence[str], settled: Settled) -> str:
    """One reading as lines of text."""
    told = enumerate(sentences(reading, points, settled))
    return "".join(wrapped(line, "  " if number else "") + "\n" for number, line in told)


def sentences(reading: Reading, points: Sequence[str], settled: Settled) -> list[str]:
    """One reading: between what it is and the display, and then what is to know of it."""
    display = reading.text
    if reading.unit == "ohm":
        if reading.value is None and not reading.through and reading.between is None:
            display = "OL: open, no path"
        elif reading.through:
            display += f", through {', '.join(reading.through)}"
    lines = [f"{' to '.join(points)}: {display}"]
    if reading.phantom:
        lines.append(
            "This is a phantom reading. A wire here is joined to nothing, and picks up voltage from "
            f"the live wires along it, enough for a meter of {METER_OHMS / 1e6:g} megohm and for nothing "
            "else. A load, or a meter with a low-impedance input, shows 0 V. "
            "Treat it as live until it is proved dead."
        )
    if reading.induced:
        lines.append(
            "This is an idle tap of a motor that runs on another one. All its windings are on one core, and "
            "make a transformer: a meter shows volts here, how many is not known. Treat it as live."
        )
    if reading.floating:
        lines.append(
            "Nothing joins these two points, so the meter has nothing to show and its display drifts. "
            "Treat both as live until they are proved dead."
        )
    if reading.between is not None:
        lines.append(
            "No nameplate gives the ohms of a coil or a winding. For its volts and VA they mostly lie "
            "between these two. Compare it with a good one of the same kind. OL means that it is open, and "
            "next to 0 that it is shorted."
        )
    elif reading.value is None and reading.through:
        lines.append(
            "Cold, these have less resistance than when they work, and no nameplate says how much less."
        )
    stands = sorted(
        one.name
        for one in (signs(settled) if reading.unit == "A" else ())
        if one.word == "hum" and settled.circuit.load[one.name].kind == "motor"
    )
    if stands:
        hums = f"{listed(stands)} {'hums and stands' if len(stands) == 1 else 'hum and stand'}"
        lines.append(
            f"{hums}. A motor that stands draws as when it starts, up to several times what is worked out "
            "here, until its overload, its fuse or its breaker opens. Turn the power off before it burns."
        )
    lines += (f"{opened(opening)}." for opening in settled.opened)
    if settled.circuit.left_out:
        lines.append(no_answer(settled.circuit.left_out))
    return lines

"""What explains what was found on a board, in words and as data."""

from __future__ import annotations

from typing import Any

from wirecheck.caution import CAUTION
from wirecheck.circuit.circuit import Circuit
from wirecheck.faults.suspects import Suspect
from wirecheck.faults.words import said
from wirecheck.language.quantity import shown
from wirecheck.model.board import Point
from wirecheck.report.paragraphs import headline, wrapped
from wirecheck.report.signs import PHRASES
from wirecheck.tables.faults import odds
from wirecheck.troubles.cold_reading import Cold
from wirecheck.troubles.diagnosis import Diagnosis
from wirecheck.troubles.observed import Look, Observation
from wirecheck.troubles.shop import Shop

MOST_LISTED = 8
DIMENSION = {"volts": "voltage", "ohms": "resistance", "amps": "current"}


def text(shop: Shop, told: Diagnosis, out: bool) -> str:
    """The explanations with their odds, the next reading, and why each other suspect is out, where asked."""
    good = shop.good.circuit
    lines = [headline(shop.board.title), ""]
    if told.explanations:
        lines.append("What explains all of it:")
        for one in told.explanations[:MOST_LISTED]:
            lines.append(wrapped(f"{_percent(one.odds)} {_faults(one.suspects, good)}", "  "))
        if len(told.explanations) > MOST_LISTED:
            lines.append(f"  and {len(told.explanations) - MOST_LISTED} more")
    else:
        lines.append(wrapped("No single fault and no pair that was tried explains all of it.", ""))
        near = "; or ".join(said(one.fault, good) for one in told.nearest)
        most = f"What explains the most by itself: {near}. " if near else ""
        lines.append(wrapped(f"{most}Look at each reading again.", ""))
    if told.untried:
        lines.append(wrapped(f"{told.untried} pairs of faults were not tried.", ""))
    if told.next is not None:
        where = f"{told.next.state.when()}, at {told.next.probe.place}"
        pair = _pair(told.next.probe.a, told.next.probe.b, good)
        lines += ["", wrapped(f"Measure next, {where}: volts {pair}.", "")]
    elif told.cold is not None:
        lines += ["", wrapped(f"No reading of volts tells these apart. {_cold(told.cold, good)}", "")]
    elif len(told.explanations) > 1:
        lines += ["", "No reading of volts or ohms at their places tells these apart. Look at each."]
    if out:
        lines += ["", "Out:"]
        lines += [wrapped(f"{said(one.suspect.fault, good)}: {_against(one.by)}.", "  ") for one in told.out]
    return "\n".join((*lines, "", wrapped(CAUTION, ""))) + "\n"


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %" if share >= 0.005 else "under 1 %"


def _pair(a: str, b: str, good: Circuit) -> str:
    """Two points, as a line of a report says them: a wire's end by its wire, where the place is said."""
    one, other = (_point(good.point[name]) for name in (a, b))
    return f"from {one} to {other}"


def _point(point: Point) -> str:
    return point.owner if point.kind == "end" else point.name


def _cold(one: Cold, good: Circuit) -> str:
    """The reading of ohms, with what is done before it."""
    off = "".join(f", and lift {_point(good.point[end])}" for end in one.lifted)
    return (
        f"Turn the power off, prove at {one.place} that it is dead{off}. "
        f"Then measure ohms {_pair(one.a, one.b, good)}."
    )


def _faults(wrong: tuple[Suspect, ...], good: Circuit) -> str:
    if not wrong:
        return f"nothing is wrong with the wiring. {odds('nothing').reason}"
    return " and ".join(said(one.fault, good) for one in wrong)


def _against(one: Observation) -> str:
    """Why an observation rules a suspect out."""
    state = one.state.when()
    if isinstance(one, Look):
        does = {"ran": "run", "runs": "run in the end", "opens": "open"}.get(one.does)
        does = PHRASES[one.does].would if does is None else does
        would = f"would not {does}" if one.so else f"would {does}"
        return f"{state}, {one.name} {would}"
    value = "OL" if one.value is None else shown(one.value, DIMENSION[one.quantity])
    return f"{state}, {' to '.join(one.points)} would not read {value}"


def as_data(shop: Shop, told: Diagnosis) -> dict[str, Any]:
    """Plain data, for JSON."""
    good = shop.good.circuit
    after: dict[str, Any] | None = None
    if told.next is not None:
        after = {
            "quantity": "volts",
            "state": told.next.state.words(),
            "place": told.next.probe.place,
            "points": [told.next.probe.a, told.next.probe.b],
            "bits": round(told.next.bits, 3),
            "effort": told.next.effort,
        }
    elif told.cold is not None:
        after = {
            "quantity": "ohms",
            "state": "power off",
            "place": told.cold.place,
            "points": [told.cold.a, told.cold.b],
            "lifted": list(told.cold.lifted),
            "bits": round(told.cold.bits, 3),
            "effort": told.cold.effort,
        }
    return {
        "board": shop.board.title,
        "explanations": [
            {"faults": [said(fault, good) for fault in one.faults], "odds": round(one.odds, 4)}
            for one in told.explanations
        ],
        "nearest": [said(one.fault, good) for one in told.nearest],
        "next": after,
        "out": [{"fault": said(one.suspect.fault, good), "by": _against(one.by)} for one in told.out],
        "untried": told.untried,
    }

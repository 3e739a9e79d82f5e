"""What explains what was found on a board, in words and as data."""

from __future__ import annotations

from typing import Any

from wirecheck.caution import CAUTION
from wirecheck.circuit.circuit import Circuit
from wirecheck.faults.suspects import Suspect
from wirecheck.faults.words import said
from wirecheck.language.listing import listed
from wirecheck.language.quantity import shown
from wirecheck.report.paragraphs import headline, wrapped
from wirecheck.report.signs import PHRASES
from wirecheck.tables.faults import odds
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
        near = listed([said(one.fault, good) for one in told.nearest])
        most = f"What explains the most: {near}. " if near else ""
        lines.append(wrapped(f"{most}Look at each reading again.", ""))
    if told.untried:
        lines.append(wrapped(f"{told.untried} pairs of faults were not tried.", ""))
    if told.next is not None:
        where = f"{told.next.state.when()}, at {told.next.probe.place}"
        lines += ["", wrapped(f"Measure next, {where}: {_next(told, good)}.", "")]
    elif len(told.explanations) > 1:
        lines += ["", "No reading of volts tells these apart. Turn the power off, and measure ohms."]
    if out:
        lines += ["", "Out:"]
        lines += [wrapped(f"{said(one.suspect.fault, good)}: {_against(one.by)}.", "  ") for one in told.out]
    return "\n".join((*lines, "", wrapped(CAUTION, ""))) + "\n"


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %" if share >= 0.005 else "under 1 %"


def _next(told: Diagnosis, good: Circuit) -> str:
    """The reading, as a line of a report says it: a wire's end by its wire, where the place is said."""
    assert told.next is not None
    points = [good.point[name] for name in (told.next.probe.a, told.next.probe.b)]
    one, other = (point.owner if point.kind == "end" else point.name for point in points)
    return f"volts from {one} to {other}"


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
    after = None
    if told.next is not None:
        after = {
            "state": told.next.state.words(),
            "place": told.next.probe.place,
            "points": [told.next.probe.a, told.next.probe.b],
            "bits": round(told.next.bits, 3),
            "effort": told.next.effort,
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

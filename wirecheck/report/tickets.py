"""A ticket and what became of it, in words; and the instructor's sheet of all tickets that a board has."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from wirecheck.caution import CAUTION
from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.fault import Fault
from wirecheck.faults.listed import FUSES
from wirecheck.faults.suspects import Suspect
from wirecheck.faults.words import said
from wirecheck.judge.state_name import StateName
from wirecheck.language.listing import listed
from wirecheck.language.quantity import rounded
from wirecheck.report import dangers
from wirecheck.report.html import page, text
from wirecheck.report.paragraphs import headline, wrapped
from wirecheck.report.plain import plain
from wirecheck.report.signs import shown
from wirecheck.troubles.course import Complaint
from wirecheck.troubles.next_reading import Suggestion
from wirecheck.troubles.shop import Shop
from wirecheck.troubles.signs import WARM
from wirecheck.troubles.ticket import Shown, Ticket, left_untried
from wirecheck.troubles.trials import Differences
from wirecheck.troubles.verdict import Score, Verdict

PROVED = 0.995
"""What is at least so likely counts as proved."""

STYLE = """\
body { font: 14px/1.35 system-ui, sans-serif; max-width: 70em; margin: 1.5em auto; padding: 0 1em; }
h1 { font-size: 1.35em; margin: 0; }
.caution { border: 2px solid #b00020; padding: .3em .6em; }
table { border-collapse: collapse; width: 100%; }
th, td { border-bottom: 1px solid #999; padding: .2em .5em; vertical-align: top; text-align: left; }
ul, ol { margin: 0; padding-left: 1.2em; }
thead { display: table-header-group; }
@media print {
  @page { size: letter; margin: 12mm; }
  body { font-size: 8.5pt; max-width: none; margin: 0; padding: 0; }
  tr { break-inside: avoid; }
}
"""


def opened(one: Ticket) -> str:
    """The ticket as it is handed out: the machine, and what its owner complains of."""
    lines = [headline(one.shop.board.title), "", *(wrapped(each, "  ") for each in by_owner(one))]
    if one.shop.untried:
        lines += ["", wrapped(left_untried(one.shop.untried), "")]
    return "\n".join((*lines, "", wrapped(CAUTION, ""))) + "\n"


def by_owner(one: Ticket) -> list[str]:
    """What the owner complains of, in sentences."""
    hidden = _hidden(one.shop.good.circuit)
    seen = [each._replace(seen=_by_owner(each.seen, hidden)) for each in one.complaints]
    return [f"{_complaint(each)}." for each in [each for each in seen if each.seen] or one.complaints]


def _hidden(good: Circuit) -> frozenset[str]:
    """What opens out of its owner's sight: fuses and transformers, behind panels and covers."""
    fuses = {one.name for one in good.protections if one.kind in FUSES}
    return frozenset(fuses.union(one.name for one in good.windings))


def _by_owner(seen: Differences, hidden: frozenset[str]) -> Differences:
    """What is seen, but for what no owner looks at: what opens out of sight, and joints behind covers."""
    return seen._replace(
        opening=tuple(name for name in seen.opening if name not in hidden),
        signs=tuple(sign for sign in seen.signs if sign.word != WARM),
    )


def complained(seen: Differences) -> str:
    """What is seen to be wrong, as its owner would say it.

    >>> complained(Differences(("CU.fan",), (), (), (), (), ("F.blower",)))
    'CU.fan does not come on; F.blower works'
    """
    told = []
    if seen.missing and not (seen.works or seen.stopping or seen.signs):
        told.append("nothing works" if len(seen.missing) > 1 else f"{seen.missing[0]} does not come on")
    elif seen.missing:
        told.append(f"{listed(seen.missing)} {_verb(seen.missing, 'does', 'do')} not come on")
    if seen.stopping:
        told.append(
            f"{listed(seen.stopping)} {_verb(seen.stopping, 'comes on and goes off', 'come on and go off')}"
        )
    if seen.extra:
        told.append(f"{listed(seen.extra)} {_verb(seen.extra, 'comes', 'come')} on and should not")
    if seen.staying:
        told.append(f"{listed(seen.staying)} {_verb(seen.staying, 'does not go off', 'do not go off')}")
    if seen.opening:
        told.append(f"{listed(seen.opening)} {_verb(seen.opening, 'opens', 'open')}")
    told += shown(seen.signs)
    if seen.works and told:
        told.append(f"{listed(seen.works)} {_verb(seen.works, 'works', 'work')}")
    return "; ".join(told)


def _verb(names: Sequence[str], one: str, several: str) -> str:
    return one if len(names) == 1 else several


def _when(state: StateName) -> str:
    words = "as it stands" if state == StateName() else state.when()
    return words[:1].upper() + words[1:]


def _reading(one: Suggestion) -> str:
    return f"{_when(one.state)}, at {one.probe.place}: volts {one.probe.a} {one.probe.b}"


def _complaint(one: Complaint) -> str:
    return f"{_when(one.state)}, {complained(one.seen)}"


def judged_words(judged: Verdict, fault: Fault, good: Circuit) -> str:
    """What is said of a diagnosis that is not right; nothing of one that is."""
    match judged:
        case "elsewhere":
            told = "It is that wire, and not there: say where on it, or that it is broken on its way."
        case "follows":
            told = f"Right as far as it goes: {said(fault, good)}. A new one opens too: find out why."
        case "wrong":
            told = "It is not that: the part is changed, and nothing is better."
        case _:
            return ""
    return f"{wrapped(told, '')}\n"


def closed(one: Ticket, result: Score, found: bool) -> str:
    """What was wrong, what finding it took, and what the best way is."""
    good = one.shop.good.circuit
    told = f"Right: {said(one.truth.fault, good)}." if found else f"It was: {said(one.truth.fault, good)}."
    lines = ["", wrapped(told, "")]
    if found:
        lines.append(
            wrapped(
                f"{result.points} of 100 points: an effort of {rounded(result.taken)}, where the least is "
                f"{rounded(result.least)}. A reading is 1, and another place 2 or more.",
                "",
            )
        )
        if result.proved < PROVED:
            share = f"{100 * result.proved:.0f} %"
            told = f"It was not proved: its odds were {share} by what was seen and read. A guess costs parts."
            lines.append(wrapped(told, ""))
    lines += (wrapped(danger, "") for danger in of_fault(one.shop, one.truth, one.complaints))
    others = [said(each.fault, good) for each in one.course.left if each != one.truth]
    if others:
        lines.append(wrapped(f"No reading of volts tells it from {listed(others)}.", ""))
    if one.course.readings:
        lines += ["", "The best way to it:"]
    lines += (
        wrapped(f"{number}. {_reading(each)}", "  ") for number, each in enumerate(one.course.readings, 1)
    )
    return "\n".join(lines) + "\n"


def of_fault(shop: Shop, wrong: Suspect, complaints: Sequence[Complaint]) -> tuple[str, ...]:
    """What is dangerous in a fault, in the states in which it is seen, and then in all that are tried."""
    states = dict.fromkeys((*(one.state for one in complaints), *shop.trials))
    return dangers.told(shop.tried((wrong,)).case, states, shop.good.case)


def sheet_text(shop: Shop, rows: Sequence[Shown]) -> str:
    """All faults that show on a board, with what is seen and the best readings."""
    good = shop.good.circuit
    lines = [headline(shop.board.title), "", wrapped(_count(rows, shop), "")]
    for row in rows:
        lines += ["", plain(said(row.suspect.fault, good))]
        lines += (wrapped(f"{_complaint(one)}.", "  ") for one in row.complaints)
        lines += (wrapped(f"{at}. {_reading(one)}", "  ") for at, one in enumerate(row.course.readings, 1))
        lines += (wrapped(danger, "  ") for danger in of_fault(shop, row.suspect, row.complaints))
        others = _others(row, shop)
        if others:
            lines.append(wrapped(f"Not told from it by volts: {listed(others)}.", "  "))
    return "\n".join((*lines, "", wrapped(CAUTION, ""))) + "\n"


def _count(rows: Sequence[Shown], shop: Shop) -> str:
    told = f"{len(rows)} faults show. Each is here with what is seen, and with the readings that find it."
    return f"{told} {left_untried(shop.untried)}" if shop.untried else told


def _others(row: Shown, shop: Shop) -> list[str]:
    """What no reading of volts tells from it."""
    return [said(one.fault, shop.good.circuit) for one in row.course.left if one != row.suspect]


def sheet_data(shop: Shop, rows: Sequence[Shown]) -> dict[str, Any]:
    """The same as plain data, for JSON."""
    return {
        "board": shop.board.title,
        "untried": shop.untried,
        "faults": [
            {
                "fault": said(row.suspect.fault, shop.good.circuit),
                "kind": row.suspect.kind,
                "seen": complaints_data(row.complaints),
                "readings": [
                    {
                        "state": one.state.words(),
                        "place": one.probe.place,
                        "points": [one.probe.a, one.probe.b],
                    }
                    for one in row.course.readings
                ],
                "effort": row.course.effort,
                "dangers": list(of_fault(shop, row.suspect, row.complaints)),
                "like": _others(row, shop),
            }
            for row in rows
        ],
    }


def complaints_data(complaints: Sequence[Complaint]) -> list[dict[str, Any]]:
    """What is seen in each state, as plain data."""
    return [
        {
            "state": one.state.words(),
            **one.seen._asdict(),
            "signs": [sign._asdict() for sign in one.seen.signs],
        }
        for one in complaints
    ]


def sheet_page(shop: Shop, rows: Sequence[Shown]) -> str:
    """The same as one page of HTML, whole in itself, to print."""
    name = plain(shop.board.title) or "A board without a title"
    body = "\n".join(
        f"<tr><td>{text(said(row.suspect.fault, shop.good.circuit))}</td>"
        f"<td>{_items('ul', map(_complaint, row.complaints))}"
        f"{_items('ul', of_fault(shop, row.suspect, row.complaints))}</td>"
        f"<td>{_items('ol', map(_reading, row.course.readings))}</td>"
        f"<td>{_items('ul', _others(row, shop))}</td></tr>"
        for row in rows
    )
    return page(
        f"Troubles: {name}",
        STYLE,
        f"<h1>{text(name)}</h1>\n"
        f'<p class="caution">{text(CAUTION)}</p>\n<p>{text(_count(rows, shop))}</p>\n'
        "<table><thead><tr><th>Fault</th><th>Seen</th><th>Best readings</th>"
        f"<th>Not told from it by volts</th></tr></thead>\n<tbody>\n{body}\n</tbody></table>",
    )


def _items(kind: str, items: Iterable[str]) -> str:
    lines = "".join(f"<li>{text(item)}</li>" for item in items)
    return f"<{kind}>{lines}</{kind}>" if lines else ""

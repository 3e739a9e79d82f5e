"""A list to print and take to the board: each stage's points, what is there, the limit, and a box to tick.

What is there comes from the board's text and its circuit, through the same
functions that the rules judge with; what the text does not say is left blank
for the tape measure. Nothing here is a reading taken at a board.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from wirecheck.caution import CAUTION
from wirecheck.circuit.outermost import outermost
from wirecheck.findings import findings
from wirecheck.judge.case import Case
from wirecheck.judge.drop import drops, exceeds
from wirecheck.judge.fill import fillings
from wirecheck.judge.finding import STAGES, Finding, Stage
from wirecheck.judge.grounds import grounding
from wirecheck.judge.guards import allowed, guarded, plate
from wirecheck.judge.limit import over
from wirecheck.judge.opened import uses_opened
from wirecheck.judge.problem import Problem
from wirecheck.judge.purpose import is_grounding
from wirecheck.judge.size_words import gauge, named_size
from wirecheck.judge.support import held, power_ends, sheathed
from wirecheck.judge.tape import longer, shorter
from wirecheck.language.quantity import amps, inches, percent, shown, volts
from wirecheck.language.syntax import ExpectRuns
from wirecheck.model.board import Device, Join, Member
from wirecheck.report.looks import Paint, unpainted
from wirecheck.report.numbers import counted
from wirecheck.report.paragraphs import WIDTH, headline, wrapped
from wirecheck.report.plain import plain
from wirecheck.report.position_table import cell, group_tables

# Beyond so many positions of one group the list would leave its page; the table of them is another command's.
MOST_ROWS = 16
# Less than this no clamp meter shows (common practice).
LEAST_AMPS = 0.01
# A length that nobody wrote down.
BLANK = "____"
TITLES: dict[Stage, str] = {
    "rough-in": "Rough-in: boxes, cables, splices",
    "trim": "Trim: devices and fixtures",
    "final": "Final: power on, when the instructor says so",
}


class Line(NamedTuple):
    """One point to look at: what is there, and the limit; `wrong` where what is there does not pass."""

    point: str
    here: str
    limit: str
    wrong: bool = False


def _problems(found: Iterable[Finding], stage: Stage) -> Iterator[Problem]:
    """What the findings of a stage were made of."""
    return (each.problem for each in found if each.stage == stage and each.problem is not None)


class Section(NamedTuple):
    """A stage of the work: its lines, and what stands before them in words."""

    stage: Stage
    note: str
    lines: tuple[Line, ...]


def checklist(
    case: Case, stage: Stage = "final", reported: Sequence[Finding] | None = None
) -> tuple[Section, ...]:
    """The lists of every stage up to one, of a board of several systems one after another.

    Where a hazard is on the board, there are no readings to take: the list of
    the final says so and is empty.

    Parameters
    ----------
    reported : the board's findings with the mistakes behind them, where these were looked for
    """
    reported = findings(case) if reported is None else reported
    known = [each for each in reported if each.severity != "advice"]
    found = [one for each in known for one in (each, *each.follows)]
    sections = []
    for one in STAGES[: STAGES.index(stage) + 1]:
        note = _told([each for each in known if _first_stage(each) == one])
        if one == "rough-in" and case.board.problems:
            unread = counted(len({problem.span.line for problem in case.board.problems}), "line")
            note += f" Not in this list: {unread} that could not be understood."
        if one == "final" and any(each.severity == "hazard" for each in found):
            note = " ".join(("Do not put power on: the check found a hazard. Fix it, and check again.", note))
            sections.append(Section(one, note.strip(), ()))
        else:
            lines = (line for system in case.systems for line in _LINES[one](system, found))
            sections.append(Section(one, note, tuple(lines)))
    return tuple(sections)


def _first_stage(finding: Finding) -> Stage:
    """The stage in which a mistake shows first, by itself or by what follows from it."""
    return min((each.stage for each in (finding, *finding.follows)), key=STAGES.index)


def _told(mistakes: Sequence[Finding]) -> str:
    """How many mistakes the check found, and what hands did wrong where that is known."""
    if not mistakes:
        return ""
    named = (each.mends[0].mistake for each in mistakes if len(each.mends) == 1)
    return " ".join((f"The check found {counted(len(mistakes), 'mistake')} in this stage.", *named))


# ----------------------------------------------------------------- rough-in


def _rough_in(case: Case, found: Sequence[Finding]) -> Iterator[Line]:
    yield from _boxes(case)
    yield from _ends(case)
    yield from _spacing(case)
    yield from _sizes(case)
    yield from _grounds(case)


def _boxes(case: Case) -> Iterator[Line]:
    for filling in fillings(case):
        if filling.fill is None:
            continue
        box, volume = filling.box, filling.volume
        here = shown(filling.fill, "volume", beside=volume)
        holds = BLANK if volume is None else f"at most {shown(volume, 'volume', beside=filling.fill)}"
        yield Line(f"Box {box.name}, {box.kind}", f"fill {here}", holds, filling.over)


def _ends(case: Case) -> Iterator[Line]:
    free, jacket = case.code.limit("free conductor"), case.code.limit("jacket in the box")
    for run, end in power_ends(case):
        if not run.jacketed:
            continue
        rules = held(case, run, end)
        measures: list[tuple[str, float | None, float, bool]] = []
        if end.place in case.board.boxes:
            measures.append(("free", end.free, free, True))
        if sheathed(run):
            measures.append(("jacket", end.jacket, jacket, True))
        if rules is not None:
            measures.append(("secured", end.secured, rules.within, False))
        if not measures:
            continue
        yield Line(
            f"{run.name} in {end.place}",
            ", ".join(f"{name} {_length(length)}" for name, length, _, _ in measures),
            _bounds(measures),
            any(_beyond(length, limit, least) for _, length, limit, least in measures),
        )


def _bounds(measures: Sequence[tuple[str, float | None, float, bool]]) -> str:
    """The limits of some measures, the least ones first."""
    bounds = []
    for word, wanted in (("at least", True), ("at most", False)):
        limits = [inches(limit) for _, _, limit, least in measures if least is wanted]
        if limits:
            bounds.append(f"{word} {', '.join(limits)}")
    return "; ".join(bounds)


def _beyond(length: float | None, limit: float, least: bool) -> bool:
    if length is None:
        return False
    return shorter(length, limit) if least else longer(length, limit)


def _length(length: float | None) -> str:
    return f"{BLANK} in" if length is None else inches(length)


def _spacing(case: Case) -> Iterator[Line]:
    widest: dict[str, tuple[float | None, float]] = {}
    for run, end in power_ends(case):
        rules = held(case, run, end)
        if rules is not None:
            known = [each.every for each in run.ends if each.every is not None]
            widest[run.name] = (max(known, default=None), rules.every)
    for name, (every, most) in widest.items():
        yield Line(
            f"{name}, supports",
            f"every {_length(every)}",
            f"at most {inches(most)}",
            _beyond(every, most, False),
        )


def _sizes(case: Case) -> Iterator[Line]:
    for guard in guarded(case):
        by_plate = plate(case, guard)
        least = min(allowed(case, guard), key=lambda one: one.limit.amps, default=None)
        if by_plate is not None:
            here, most = f"{amps(guard.amps)}; nameplate of {by_plate.equipment.name}", by_plate.most
        elif least is not None:
            wire = least.conductor
            here, most = f"{amps(guard.amps)}; {wire.run} is {named_size(wire)}", least.limit.amps
        else:
            continue
        yield Line(f"Breaker {guard.name}", here, f"at most {amps(most)}", over(guard.amps, most))


def _grounds(case: Case) -> Iterator[Line]:
    board = case.board
    joins = {member.point: join for join in board.joins for member in join.members}
    for box in board.boxes.values():
        ends = [
            (conductor, end)
            for conductor in board.conductors.values()
            if is_grounding(conductor)
            for place, end in zip(conductor.places, conductor.ends, strict=True)
            if place == box.name
        ]
        made = [(conductor, end) for conductor, end in ends if end in joins]
        if not ends or (len(ends) == 1 and not made):
            continue
        parts = {case.circuit.node[end] for _, end in made}
        spans = {joins[end].span: joins[end] for _, end in made}
        tails = sum(member.kind == "pigtail" for join in spans.values() for member in join.members)
        loose = [conductor.name for conductor, end in ends if end not in joins]
        words = [f"{counted(len(made), 'wire')}" + (f" and {counted(tails, 'tail')}" if tails else "")]
        if len(parts) > 1:
            words.append(f"in {len(parts)} parts")
        if loose:
            words.append(f"{', '.join(loose)} joined to nothing")
        limit = "all joined, a tail for each device" if len(ends) > 1 else "on its screw"
        yield Line(f"Grounds in {box.name}", "; ".join(words), limit, len(parts) != 1 or bool(loose))
        if box.metal:
            screws = (screw.name for screw in board.terminals.values() if screw.owner == box.name)
            bonded = all(map(grounding(case).is_grounded, screws))
            here = "bonded" if bonded else "not bonded"
            yield Line(f"Metal box {box.name}", here, "tail to its screw", not bonded)


# --------------------------------------------------------------------- trim


def _trim(case: Case, found: Sequence[Finding]) -> Iterator[Line]:
    for device in case.board.devices.values():
        yield from _device(case, device, found)
    for protection in case.circuit.protections:
        if protection.trips is not None:
            fed = _protected(case, protection.name)
            yield Line(
                f"{protection.name}, test button",
                "takes " + (", ".join(fed) or "nothing"),
                "dead when pressed, live when reset" if fed else "",
            )


def _device(case: Case, device: Device, found: Sequence[Finding]) -> Iterator[Line]:
    screws: dict[str, list[str]] = {}
    joins = []
    for join in case.board.joins:
        for name, members in join.under.items():
            if case.board.terminals[name].owner == device.name:
                joins.append(join)
                screws.setdefault(name, []).extend(_under(member, join) for member in members)
    if not screws:
        return
    landed, most = [], 1
    for name, wires in screws.items():
        spec = case.board.terminals[name].spec
        color = f" ({spec.screw})" if spec.screw else ""
        landed.append(f"{spec.name}{color} {' + '.join(wires)}")
        most = max(most, spec.holds)
    wrong = any(
        outermost(problem.about, case.circuit.devices) == device.name or problem.at.of in joins
        for problem in _problems(found, "trim")
    )
    place = f" in {device.place}" if device.place != device.name else ""
    limit = "1 wire a screw" if most == 1 else f"{most} wires a screw at most"
    yield Line(f"{device.name}{place}, {device.part.name}", "; ".join(landed), limit, wrong)


def _under(member: Member, join: Join) -> str:
    """What is under a screw or in the hole beside it, as the line says it."""
    tail = f"{gauge(member.size)} tail" if member.size else "tail"
    what = tail if member.kind == "pigtail" else member.name + _marked(member.marked)
    return f"{what}, pushed in" if join.pushed else what


def _marked(color: str | None) -> str:
    return f" marked {color}" if color else ""


def _protected(case: Case, device: str) -> list[str]:
    """The outlets and loads that lose their hot when a ground-fault device is open."""
    apart = uses_opened(case, device)
    points = [(outlet.name, outlet.hot) for outlet in case.circuit.outlets]
    points += [(load.name, load.a) for load in case.circuit.loads if "standby" not in load.flags]
    fed = (
        name
        for name, point in points
        if case.uses.of(point) in ("hot", "switched") and apart.of(point) == "none"
    )
    return list(
        dict.fromkeys(case.circuit.load[n].name if n in case.circuit.load else _plug(case, n) for n in fed)
    )


def _plug(case: Case, name: str) -> str:
    """An outlet's name; its device's where all outlets of that are one piece, with their tabs in place."""
    circuit = case.circuit
    outlet = next(each for each in circuit.outlets if each.name == name)
    node = circuit.node
    halves = {(node[each.hot], node[each.neutral]) for each in circuit.outlets_of(outlet.device)}
    return outlet.device if len(halves) == 1 else name


# ----------------------------------------------------------------- final


def _final(case: Case, found: Sequence[Finding]) -> Iterator[Line]:
    wrong = {problem.about.name for problem in _problems(found, "final") if problem.about is not None}
    yield from _outlets(case, wrong)
    yield from _switches(case, wrong)
    yield from _calls(case, wrong)
    yield from _drop(case)
    yield from _currents(case)


def _outlets(case: Case, wrong: set[str]) -> Iterator[Line]:
    """What a meter shows at the outlets that no switch turns off, hot, neutral and ground in pairs."""
    rest = case.settled({})
    done: set[str] = set()
    always = {name for group in case.groups if not group.switches for name in group.outlets}
    for outlet in case.circuit.outlets:
        name = _plug(case, outlet.name)
        if outlet.name not in always or name in done:
            continue
        done.add(name)
        pairs = [("hot-neutral", outlet.hot, outlet.neutral)]
        if outlet.ground is not None:
            pairs += [
                ("hot-ground", outlet.hot, outlet.ground),
                ("neutral-ground", outlet.neutral, outlet.ground),
            ]
        if case.uses.of(outlet.neutral) == "hot":
            # Between two hots: there is no neutral to speak of.
            pairs = [("hot-hot", outlet.hot, outlet.neutral)]
        readings = [(pair, rest.across(a, b)) for pair, a, b in pairs]
        yield Line(
            name,
            ", ".join(f"{pair} {volts(value)}" for pair, value in readings),
            ", ".join(
                "near 0 V" if pair == "neutral-ground" else f"about {volts(outlet.volts)}"
                for pair, _ in readings
            ),
            bool({outlet.name, outlet.device} & wrong),
        )


def _switches(case: Case, wrong: set[str]) -> Iterator[Line]:
    for table in group_tables(case):
        bad = any(
            target.name in wrong or outermost(target.of, case.circuit.devices) in wrong
            for target in table.targets
        )
        rows = table.rows[:MOST_ROWS]
        needs = ", ".join(f"{target.name} at least {volts(target.needs)}" for target in table.targets)
        for row in rows:
            seen = [f"{t.name} {cell(v, t)}" for t, v in zip(table.targets, row.volts, strict=True)]
            seen += (f"{opening.name} opens" for opening in row.settled.opened)
            at = ", ".join(f"{switch} {value}" for switch, value in row.positions.items())
            lit = any(v >= t.needs for t, v in zip(table.targets, row.volts, strict=True))
            limit = f"on: {needs}" if lit else "off: 0 V"
            yield Line(at, ", ".join(seen) or "nothing changes", limit, bad or bool(row.settled.opened))
        if len(table.rows) > len(rows):
            yield Line(
                f"{table.switches[0]} to {table.switches[-1]}",
                f"{len(table.rows) - len(rows)} positions more",
                "see wirecheck energize",
            )


def _calls(case: Case, wrong: set[str]) -> Iterator[Line]:
    asked = {
        (call.text): ", ".join(word.text for word, _ in one.steps) or "nothing"
        for one in case.board.expectations
        if isinstance(one, ExpectRuns) and len(one.calls) == 1
        for call in one.calls
    }
    for call in case.calls:
        play = case.played([call])
        runs = [
            name
            for name in play.started()
            if "standby" not in (load := case.circuit.load[name]).flags
            and load.kind not in ("coil", "electronics")
        ]
        yield Line(
            f"Call {call}",
            ", ".join(runs) or "nothing runs",
            asked.get(call, "see wirecheck sequence"),
            any(subject == call or subject in runs for subject in wrong),
        )


def _drop(case: Case) -> Iterator[Line]:
    """The load that loses the largest part of its supply on the way."""
    lost = [drop.branch for drop in drops(case).values() if drop.on_branch]
    if lost:
        limit = case.code.limit("voltage drop of a branch circuit")
        worst = max(lost, key=lambda drop: drop.share)
        yield Line(
            f"Drop to {worst.of.name}, the most",
            f"{percent(worst.share)}: {volts(worst.lost)} of {volts(worst.nominal)} at {amps(worst.flows)}",
            f"at most {percent(limit)}",
            exceeds(worst.share, limit),
        )


def _currents(case: Case) -> Iterator[Line]:
    """The most that each breaker carries, in whatever position or call that is; nothing is plugged in."""
    for protection in case.circuit.protections:
        poles = [protection.pole(number) for number in range(len(protection.pairs))]
        known = [(abs(case.most[pole].amps[pole]), case.most[pole]) for pole in poles if pole in case.most]
        if protection.name not in case.board.breakers or not known:
            continue
        flows, settled = max(known, key=lambda one: one[0])
        if flows > LEAST_AMPS:
            yield Line(
                f"{protection.name}, the most",
                f"{amps(flows, beside=protection.amps)}{case.when(settled)}",
                f"at most {amps(protection.amps, beside=flows)}",
                flows > protection.amps,
            )


_LINES = {"rough-in": _rough_in, "trim": _trim, "final": _final}


# ------------------------------------------------------------------- report


def render(title: str, sections: Iterable[Section], paint: Paint = unpainted) -> str:
    """The list as text: a box to tick, the point, what is there and the limit, folded to the page."""
    widths = (24, 30, 24)
    lines = [paint(headline(title) or "A board without a title", "heading"), "", wrapped(CAUTION, "")]
    for section in sections:
        lines += ["", paint(TITLES[section.stage], "heading")]
        if section.note:
            lines.append(wrapped(section.note, "  "))
        if section.lines:
            lines += _row(("", "by the text", "limit"), widths, "   ")
        for line in section.lines:
            here = f"{line.here}  FIX" if line.wrong else line.here
            lines += _row((line.point, here, line.limit), widths, "[ ]")
        if section.stage == "trim" and section.lines:
            lines.append(wrapped("Torque every screw to the maker's value.", "  "))
    lines += ["", "Name ______________________   Date ____________   Checked by __________________"]
    return "\n".join(lines) + "\n"


def _row(texts: Sequence[str], widths: Sequence[int], box: str) -> Iterator[str]:
    cells = [
        textwrap.wrap(plain(text), width, break_on_hyphens=False) or [""]
        for text, width in zip(texts, widths, strict=True)
    ]
    for index in range(max(map(len, cells))):
        parts = [cell[index] if index < len(cell) else "" for cell in cells]
        mark = box if index == 0 else "   "
        row = f"{mark} " + "  ".join(f"{part:<{width}}" for part, width in zip(parts, widths, strict=True))
        yield row.rstrip()[:WIDTH]

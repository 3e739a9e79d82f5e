"""A panel in another building has no electrode on its ground bar, or nothing there that turns it off.

Lightning and a broken feeder bring a building to volts of its own. A rod in the earth beside it holds its
metal near those of the earth there. It stands in for no wire: earth carries too little current to trip a
breaker, so the ground of the feeder is needed too. The rod goes to the ground bar: on the neutral bar of a
subpanel it grounds the neutral a second time, and the metal not at all. And whoever works in that building,
or fights a fire there, must be able to turn it off without going to the other one.

Source: NEC 225.31, 225.33(A), 250.32(A), 250.32(B), 250.142(B), 250.66(A), Table 250.66
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Contact, Protection
from wirecheck.judge.case import Case
from wirecheck.judge.feeders import Feeder, feeders
from wirecheck.judge.grounds import grounding, to_electrodes
from wirecheck.judge.limit import over
from wirecheck.judge.made_up import join_at
from wirecheck.judge.multiwire import open_together
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.size_words import gauge, named_size
from wirecheck.language.syntax import InPosition
from wirecheck.model.board import Conductor, Panel
from wirecheck.tables.sizes import area


class NoElectrode(Problem):
    """A panel in another building, to which no electrode is wired."""

    panel: Panel


class ElectrodeOnNeutral(Problem):
    """A wire from an electrode that is on the neutral bar of a subpanel."""

    panel: Panel
    conductor: Conductor


class ThinElectrodeWire(Problem):
    """The wire from a panel in another building to its electrode is smaller than `least`."""

    panel: Panel
    conductor: Conductor
    least: str


class NoDisconnect(Problem):
    """A panel in another building with neither a main nor a switch ahead, and more handles than may be."""

    panel: Panel
    handles: int


Kind = NoElectrode | ElectrodeOnNeutral | ThinElectrodeWire | NoDisconnect


def find(case: Case) -> Iterator[Kind]:
    """Each electrode on a subpanel's neutral bar, and what a panel lacks that stands in another building."""
    for feeder in feeders(case).values():
        yield from _on_neutral(case, feeder.panel)
        if feeder.panel.detached:
            yield from _electrode(case, feeder)
            yield from _disconnect(case, feeder)


def _wired(case: Case, panel: Panel) -> list[tuple[Conductor, str]]:
    """The wires of electrodes that come to a panel, each with its end there."""
    return [(one, one.ends[far]) for one, far in to_electrodes(case) if one.places[far] == panel.name]


def _on_neutral(case: Case, panel: Panel) -> Iterator[ElectrodeOnNeutral]:
    node = case.circuit.node
    neutral = node[f"{panel.name}.neutral"]
    if neutral == node[f"{panel.name}.ground"]:
        return  # its bond is the mistake
    for one, end in _wired(case, panel):
        join = join_at(case, end)
        if node[end] == neutral and join is not None:
            yield ElectrodeOnNeutral(
                at=spot(join),
                about=one,
                severity="violation",
                stage="trim",
                copper=frozenset((case.uses.piece[end], case.uses.piece[f"{panel.name}.ground"])),
                panel=panel,
                conductor=one,
            )


def _electrode(case: Case, feeder: Feeder) -> Iterator[NoElectrode | ThinElectrodeWire]:
    panel, board = feeder.panel, case.board
    piece = grounding(case).piece
    bars = {f"{panel.name}.{bar}" for bar in ("neutral", "ground")}
    earthed = _wired(case, panel)
    node = case.circuit.node
    right = [one for one, end in earthed if node[end] == node[f"{panel.name}.ground"]]
    metal = {
        piece[one.name]
        for one in board.terminals.values()
        if "electrode" in one.spec.flags and one.name in piece
    }
    astray = any(node[end] == node[f"{panel.name}.neutral"] for _, end in earthed)
    if not right and not astray and piece[f"{panel.name}.ground"] not in metal:
        yield NoElectrode(
            at=spot(panel),
            about=panel,
            severity="violation",
            stage="trim",
            copper=frozenset(case.uses.piece[bar] for bar in bars),
            panel=panel,
        )
    least = _least(case, feeder)
    for one in right:
        if area(one.size) < area(least):
            yield ThinElectrodeWire(
                at=spot(board.runs[one.run]),
                about=one,
                severity="violation",
                stage="rough-in",
                copper=frozenset(case.uses.piece[end] for end in one.ends),
                panel=panel,
                conductor=one,
                least=least,
            )


def _least(case: Case, feeder: Feeder) -> str:
    """The least copper from a panel to a rod: by the largest hot of the feeder, and not beyond 6 AWG."""
    small = {
        "copper": case.code.limit("largest copper feeder for the least wire to an electrode"),
        "aluminum": case.code.limit("largest aluminum feeder for the least wire to an electrode"),
    }
    large = any(over(area(hot.size), small[hot.material]) for hot in feeder.hots)
    matter = "wire that does for a rod" if large else "least wire to an electrode"
    return case.code.written(matter)


def _disconnect(case: Case, feeder: Feeder) -> Iterator[NoDisconnect]:
    panel, board = feeder.panel, case.board
    if feeder.main is not None or _switched(case, feeder):
        return
    handles: list[Protection] = []
    for one in case.circuit.protections:
        breaker = board.breakers.get(one.name)
        here = breaker is not None and breaker.panel == panel.name
        if here and not any(open_together(case, one, other) for other in handles):
            handles.append(one)
    most = case.code.limit("disconnects of a separate building")
    if over(len(handles), most):
        yield NoDisconnect(
            at=spot(panel),
            about=panel,
            severity="violation",
            stage="trim",
            copper=frozenset(case.uses.piece[panel.on_bus(leg)] for leg in panel.legs),
            panel=panel,
            handles=len(handles),
        )


def _switched(case: Case, feeder: Feeder) -> bool:
    """Whether a switch that a hand moves stands on the way to the panel."""
    for leg in feeder.panel.legs:
        for step in case.routes.back(case.circuit.node[feeder.panel.on_bus(leg)]):
            if isinstance(step.of, Contact) and isinstance(step.of.when, InPosition):
                return case.circuit.devices[step.of.scope].part.moved_by == "hand"
    return False


def words(problem: Kind, case: Case) -> Words:
    """What the building lacks, and what to put there."""
    panel = problem.panel.name
    match problem:
        case ElectrodeOnNeutral(conductor=wire):
            return Words(
                message=f"{wire.name} comes from a ground rod or other electrode, and is on {panel}.neutral. "
                "There it grounds the neutral a second time, and not the metal.",
                help=f"Bring {wire.name} to {panel}.ground: neutral and ground stay apart here.",
                source=case.code.section("grounds of a separate building", "neutral grounds no metal"),
            )
        case NoElectrode():
            return Words(
                message=f"{panel} stands in another building, and no ground rod or other electrode is wired "
                f"to {panel}.ground.",
                help=f"Drive a ground rod there, and run {gauge(_least(case, feeders(case)[panel]))} copper "
                f"from its clamp to {panel}.ground. The ground of the feeder stays.",
                source=case.code.section("electrode of a separate building"),
            )
        case ThinElectrodeWire(conductor=wire, least=least):
            return Words(
                message=f"{wire.name} is {named_size(wire)}. From {panel} to its electrode it must be "
                f"{gauge(least)} or larger.",
                help=f"Run {gauge(least)} copper.",
                source=case.code.section("least wire to an electrode", "wire that does for a rod"),
            )
        case NoDisconnect(handles=handles):
            most = case.code.limit("disconnects of a separate building")
            return Words(
                message=f"{panel} stands in another building and has no main breaker. To turn that building "
                f"off there takes {handles} handles, and {most:g} are the most.",
                help=f"Put a main breaker in {panel}, or a disconnect ahead of it in that building.",
                source=case.code.section(
                    "disconnect of a separate building", "disconnects of a separate building"
                ),
                value=float(handles),
                limit=most,
                unit="handles",
            )


RULE = rule(__name__, "rough-in", "trim", severities=("violation",), find=find, words=words)

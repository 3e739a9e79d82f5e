"""The fuses of a disconnect stay live with it open, since it is fed from the wrong end.

Whoever opens it to change a fuse takes hold of a live one. The blades stand before the fuses so that
both are dead with the handle down.

Source: NEC 240.40, 404.6(C)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Protection
from wirecheck.circuit.routes import OVERCURRENT
from wirecheck.judge.case import Case
from wirecheck.judge.left_live import left_live
from wirecheck.judge.made_up import at_screw
from wirecheck.judge.problem import Problem, Words
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.model.board import Device, Terminal


class FusesStayLive(Problem):
    """With `device` open its fuses are live: power comes to `screws`, and belongs on `blades`."""

    device: Device
    screws: tuple[Terminal, ...]
    blades: tuple[Terminal, ...]


def find(case: Case) -> Iterator[FusesStayLive]:
    """Each disconnect with fuses of its own, at the screw that the feed is on."""
    inside: dict[str, list[Protection]] = {}
    for protection in case.circuit.protections:
        holder = case.circuit.devices.get(protection.device)
        if protection.kind in OVERCURRENT and holder is not None and holder.name != holder.outer:
            inside.setdefault(holder.outer, []).append(protection)
    for name, fuses in inside.items():
        device = case.board.devices[name]
        if not device.part.positions or device.part.moved_by != "hand":
            continue
        contacts = [contact for contact in case.circuit.contacts if contact.scope == name]
        live = left_live(case, frozenset({one.name for one in contacts} | {one.name for one in fuses}))
        piece = case.uses.piece
        poles = [{piece[end] for end in pair} for fuse in fuses for pair in fuse.pairs]
        ends = frozenset(end for pole in poles if pole & live for end in pole)
        terminals = [case.board.terminals[f"{name}.{screw}"] for screw in device.part.terminals]
        touched = [{of.a, of.b} for of in contacts if {piece[of.a], piece[of.b]} & ends]
        blades = tuple(one for one in terminals if any(one.name in pair for pair in touched))
        screws = tuple(one for one in terminals if piece[one.name] in ends & live and one not in blades)
        if screws:
            yield FusesStayLive(
                at=at_screw(case, screws[0]),
                about=device,
                severity="hazard",
                stage="trim",
                copper=ends,
                device=device,
                screws=screws,
                blades=blades,
            )


def words(problem: FusesStayLive, case: Case) -> Words:
    """Which screws the feed is on and where it belongs."""
    device = problem.device.name
    screws = listed(one.name for one in problem.screws)
    blades = listed(one.name for one in problem.blades)
    return Words(
        message=f"The feed of {device} is on {screws}, behind its fuses. With {device} off its fuses stay "
        "live, and the next hand that pulls one touches them.",
        help=f"Turn the breaker off and prove it dead. Bring the wires from the panel to {blades}, and take "
        f"the wires to the equipment from {screws}.",
        source=case.code.section("switch ahead of fuses", "blades are dead when open"),
    )


RULE = rule(__name__, "trim", severities=("hazard",), find=find, words=words)

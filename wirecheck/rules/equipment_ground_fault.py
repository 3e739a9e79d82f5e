"""No ground-fault device guards equipment in or near water, or the outlet that a vehicle is charged from.

Where water, metal and people meet, a few thousandths of an ampere through the body can kill, and no breaker
trips on so little. A ground-fault device opens at 4 mA to 6 mA. A vehicle's charger that is wired in has one
inside; one with a cord has the receptacle's circuit to rely on. A spa that is marked to have its own needs no
other: a board cannot show that, so ask what is marked on it.

Source: NEC 210.8(D)(6), 210.8(D)(7), 210.8(D)(12), 210.8(F), 625.54, 680.44
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.inside import loads_of, outlets_of
from wirecheck.judge.problem import Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.shock_and_arc import Unprotected, feeder, without_ground_fault
from wirecheck.model.board import Device

# By what equipment serves: what it is called, and the matter that asks for the protection.
ASKED: Mapping[str, tuple[str, str]] = {
    "dishwashing": ("a dishwasher", "ground-fault protection of dishwashers"),
    "microwave-cooking": ("a microwave oven", "ground-fault protection of microwave ovens"),
    "water-pumping": ("a pump in an outdoor well", "ground-fault protection of outdoor outlets"),
    "sump-pumping": ("a sump pump", "ground-fault protection of sump pumps"),
    "bathing": ("a spa", "ground-fault protection of a spa"),
}
OUTLETS: Mapping[str, tuple[str, str]] = {
    "vehicle-charging": ("a receptacle for a vehicle", "ground-fault protection of vehicle receptacles"),
}


class Unguarded(Unprotected):
    """`device`, or the outlet that it is, has no ground-fault device on its way to the `breaker`."""

    device: Device
    called: str
    matter: str


def find(case: Case) -> Iterator[Unguarded]:
    """Each such device that a hot comes to past every ground-fault device for persons."""
    for device in case.board.devices.values():
        called, matter, points = _asked(case, device)
        if matter and case.code.asks(matter) and without_ground_fault(case, points):
            breaker = feeder(case, points)
            yield Unguarded(
                at=spot(device if breaker is None else breaker),
                about=device,
                severity="violation",
                stage="trim",
                copper=frozenset(case.uses.piece[one] for one in points if case.uses.of(one) == "hot"),
                device=device,
                breaker=breaker,
                called=called,
                matter=matter,
            )


def _asked(case: Case, device: Device) -> tuple[str, str, list[str]]:
    """What a device is called and what is asked of it, and the points of its loads or of its outlets."""
    serves = device.part.serves
    if serves in ASKED:
        return *ASKED[serves], [end for load in loads_of(case, device) for end in load.ends]
    if serves in OUTLETS:
        return *OUTLETS[serves], [end for one in outlets_of(case, device) for end in (one.hot, one.neutral)]
    return "", "", []


def words(problem: Unguarded, case: Case) -> Words:
    """What it is, and where the protection goes."""
    device, breaker = problem.device.name, problem.breaker
    remedy = "Feed it through a ground-fault breaker or device."
    if breaker is not None:
        remedy = f"Put in a ground-fault breaker for {breaker.name}, and say so on its line: gfci."
        if any(spec.role == "neutral" for spec in problem.device.part.terminals.values()):
            remedy += " The white of its circuit goes on its own neutral screw."
        if len(breaker.poles) == 1:
            remedy += f" Or feed {device} from the load screws of a ground-fault device."
    return Words(
        message=f"{device} is {problem.called}, and no ground-fault device guards it. A leak that "
        "is far too small for a breaker can kill whoever touches it.",
        help=remedy,
        stands=True,
        source=case.code.section(problem.matter),
        also=() if breaker is None else (Note(f"{device} is here", problem.device.span),),
    )


RULE = rule(__name__, "trim", severities=("violation",), find=find, words=words)

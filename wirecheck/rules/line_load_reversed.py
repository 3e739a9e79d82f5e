"""The feed is on the load screws of a ground-fault receptacle, or of a switch that opens two hots.

Only what is fed from the load screws of the device is protected. Fed from behind, it locks out or
leaves the outlets live after it has tripped. With one wire from each side, it trips at the first use.

A disconnect opens its hots from either side, and so does a switch of two poles. Fed from behind, the screws
that everyone takes for dead with it open are the live ones.

Source: NEC 110.3(B), 404.6(C) (from memory); UL 943 (the marks LINE and LOAD)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Contact, Load, Outlet, Protection
from wirecheck.circuit.uses import Uses
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.left_live import left_live
from wirecheck.judge.made_up import at_screw, join_at
from wirecheck.judge.opened import uses_opened
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.source import bars, legs
from wirecheck.judge.switch_poles import switch_poles
from wirecheck.judge.ways import pieces_reached, way
from wirecheck.language.listing import listed
from wirecheck.model.board import Device, Join, Terminal


class OnItsLoad(Problem):
    """Power comes to `screws`, load screws of `device`, by a way that is not through it."""

    device: Device
    screws: tuple[Terminal, ...]


class FedFromBehind(OnItsLoad):
    """To all of its load screws, and to none of its line screws."""


class FedFromBothSides(OnItsLoad):
    """To some of its load screws in place of their line screws."""


class WiredAround(OnItsLoad):
    """To load screws whose line screws are fed as well."""


class HalfPast(Problem):
    """`users` have one wire through `device` and one past it: from a `fork` before it, or from elsewhere."""

    device: Device
    fork: Join | None
    users: tuple[Outlet | Load, ...]


class SwitchReversed(OnItsLoad):
    """To load screws of a switch of several poles, with it open, and not to their line screws, `lines`."""

    lines: tuple[Terminal, ...]
    disconnect: bool


def find(case: Case) -> Iterator[OnItsLoad | HalfPast]:
    """Each ground-fault device or switch that power comes to from the wrong side; else half past one."""
    yield from _switches(case)
    for protection in case.circuit.protections:
        device = case.board.devices.get(protection.name)
        if protection.trips is None or device is None:
            continue
        apart = uses_opened(case, device.name)
        # The load screws that the source comes to with the device open, and whether to the line screw too.
        fed = {load: _is_fed(apart, line) for line, load in protection.pairs if _is_fed(apart, load)}
        behind = [load for load, at_line in fed.items() if not at_line]
        if not fed:
            yield from _half_past(case, device, protection, apart)
            continue
        kind: type[OnItsLoad] = WiredAround
        if behind:
            kind = FedFromBehind if len(behind) == len(protection.pairs) else FedFromBothSides
        screws = tuple(case.board.terminals[one] for one in behind or fed)
        yield kind(
            at=at_screw(case, screws[0]),
            about=device,
            severity="hazard",
            stage="trim",
            copper=frozenset(case.uses.piece[one.name] for one in screws),
            device=device,
            screws=screws,
        )


def _switches(case: Case) -> Iterator[SwitchReversed]:
    """Each switch of several poles with a live load screw while it is off; fuses are another matter."""
    for name, there in switch_poles(case).items():
        device = case.board.devices[name]
        disconnect = any("disconnect" in one.flags for one in there)
        if (len(there) == 1 and not disconnect) or device.part.children:
            continue
        poles = [_pole(case, one) for one in there]
        live = left_live(case, frozenset(one.name for one in there))
        piece, screws, lines = case.uses.piece, [], []
        for line, load in poles:
            if piece[load.name] in live and piece[line.name] not in live and join_at(case, line.name):
                screws.append(load)
                lines.append(line)
        if screws:
            yield SwitchReversed(
                at=at_screw(case, screws[0]),
                about=device,
                severity="advice",
                stage="trim",
                copper=frozenset(piece[one.name] for one in screws),
                device=device,
                screws=tuple(screws),
                lines=tuple(lines),
                disconnect=disconnect,
            )


def _pole(case: Case, contact: Contact) -> tuple[Terminal, Terminal]:
    """The line screw and the load screw of a pole."""
    one, other = (case.board.terminals[end] for end in (contact.a, contact.b))
    return (other, one) if one.spec.role == "switched" else (one, other)


def _is_fed(apart: Uses, point: str) -> bool:
    return apart.of(point) not in ("none", "ground")


def _half_past(case: Case, device: Device, protection: Protection, apart: Uses) -> Iterator[HalfPast]:
    """What has one wire from the load side of a device and the other from before it, by that copper."""
    piece = case.uses.piece
    past: dict[int, dict[str, tuple[Outlet | Load, str, str]]] = {}
    users: list[tuple[Outlet | Load, str, str]] = [
        (one, one.hot, one.neutral) for one in case.circuit.outlets
    ]
    users += ((load, load.a, load.b) for load in case.circuit.loads)
    for user, one, other in users:
        for side, through in ((one, other), (other, one)):
            if _is_fed(apart, side) and apart.of(through) == "none" and _is_fed(case.uses, through):
                past.setdefault(piece[side], {})[user.name] = user, side, through
    for found in past.values():
        _, side, through = next(iter(found.values()))
        forks = (_fork(case, side, line, device) for line, _ in protection.pairs)
        fork = next((join for join in forks if join is not None), None)
        behind = pieces_reached(case, [piece[through]], lambda of: of.name != device.name)
        load = next(load for _, load in protection.pairs if piece[load] in behind)
        yield HalfPast(
            at=spot(fork) if fork is not None else at_screw(case, case.board.terminals[load]),
            about=device,
            severity="fault",
            stage="trim",
            copper=frozenset(piece[one] for _, *ends in found.values() for one in ends),
            device=device,
            fork=fork,
            users=tuple(user for user, *_ in found.values()),
        )


def _fork(case: Case, side: str, line: str, device: Device) -> Join | None:
    """The join outside of the panel at which the ways to a line screw and past its device part."""
    sources = (*legs(case), *bars(case, "neutral"))
    one, other = (way(case, [end], sources, lambda of: of.name != device.name) for end in (side, line))
    if one is None or other is None:
        return None
    return next(
        (join for join in one.joins if join in other.joins and join.place not in case.board.panels), None
    )


def words(problem: OnItsLoad | HalfPast, case: Case) -> Words:
    """Which way power comes, what that does, and which wires belong on which screws."""
    if isinstance(problem, SwitchReversed):
        return _of_a_switch(problem, case)
    message, remedy = _half_said(problem, case) if isinstance(problem, HalfPast) else _said(problem)
    others = problem.screws[1:] if isinstance(problem, OnItsLoad) else ()
    return Words(
        message=message,
        help=remedy,
        source=f"{case.code.section('equipment as its instructions say')}; UL 943",
        also=tuple(Note(f"{screw.name} too", at_screw(case, screw).span) for screw in others),
    )


def _of_a_switch(problem: SwitchReversed, case: Case) -> Words:
    device, screws = problem.device.name, listed(one.name for one in problem.screws)
    stay, them = ("stay", "them") if len(problem.screws) > 1 else ("stays", "it")
    opened = "open" if problem.disconnect else "off"
    blades = ("blades are dead when open",) if problem.disconnect else ()
    return Words(
        message=f"The feed of {device} is on {screws}, for the load. With {device} {opened} {screws} {stay} "
        f"live, where the next hand takes {them} for dead.",
        help=f"Bring what comes from the panel to {listed(one.name for one in problem.lines)}, and what goes "
        f"on from there to {screws}.",
        source=case.code.section(*blades, "equipment as its instructions say"),
    )


def _said(problem: OnItsLoad) -> tuple[str, str]:
    device, screw = problem.device.name, problem.screws[0].name
    match problem:
        case FedFromBehind():
            own = "Its own outlets are then fed from behind: it locks out, or they stay live"
            if not problem.device.part.outlets:
                own = "What it protects is then fed from the wrong side: it locks out, or that stays live"
            return (
                f"The feed of {device} is on its load screws. {own} after it has tripped.",
                f"Bring the feed to the line screws of {device}, and what it protects to the load screws.",
            )
        case FedFromBothSides():
            return (
                f"One wire of the feed of {device} is on a line screw and the other on a load screw, "
                f"{screw}: it trips as soon as anything is used.",
                f"Bring both wires of the feed to the line screws of {device}.",
            )
        case _:
            return (
                f"{screw} is joined to the feed by a way around {device}: it trips for no reason, or "
                "protects nothing there.",
                f"Take apart what joins the load screws of {device} to the wires that come before it.",
            )


def _half_said(problem: HalfPast, case: Case) -> tuple[str, str]:
    device = problem.device.name
    names = listed(dict.fromkeys(case.circuit.devices[user.device].outer for user in problem.users))
    past = f"goes past it in {problem.fork.place}" if problem.fork is not None else "goes past it"
    return (
        f"One wire of {names} goes through {device}, and the other {past}. {device} sees a current that does "
        "not come back through it, and trips as soon as anything is used.",
        f"Bring both wires that go on to {names} to the load screws of {device}. Or splice both past it "
        "with pigtails: a neutral that two circuits share has to go past it.",
    )


RULE = rule(__name__, "trim", severities=("hazard", "fault", "advice"), find=find, words=words)

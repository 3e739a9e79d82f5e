"""Rules about devices on their wires: polarity, switched neutrals, line and load, tabs, dead outlets."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wirecheck.circuit.circuit import Load, Outlet, Winding
from wirecheck.judge.case import Case
from wirecheck.judge.continuity import Wanted, why_no_volts
from wirecheck.judge.finding import Finding, Note
from wirecheck.judge.old_blame import GROUND_COLORS
from wirecheck.judge.stop_words import remedy, said
from wirecheck.language.listing import listed
from wirecheck.language.quantity import volts as in_volts
from wirecheck.language.syntax import ExpectFrom, ExpectLive, ExpectRuns
from wirecheck.model.board import Device, Join, Terminal
from wirecheck.model.runs import CLASS_2_CABLES
from wirecheck.rules.old import rule

# Below this an outlet is dead, and no meter says otherwise (common practice).
DEAD_VOLTS = 5.0
# Above this a circuit is a line-voltage one: 725 and Chapter 9 Table 11(A) end at 30 V.
LINE_VOLTS = 50.0
# Twice this is made for two hots: 208 V or 240 V.
TO_GROUND = 90.0


def _join_at(case: Case, point: str) -> Join | None:
    return next(
        (join for join in case.board.joins if any(member.point == point for member in join.members)), None
    )


@rule("final")
def dead_outlet(case: Case) -> Iterator[Finding]:
    """An outlet or a load never has power, wherever the switches stand.

    What never works was never tested; and the wire that should feed it may end
    somewhere else, live.

    Source: common practice: prove every outlet before the board is handed over
    """
    if case.board.problems or not case.board.panels:
        # A line that could not be read may be the one that feeds it.
        return
    expected = _expected(case)
    dead: dict[str, list[tuple[str, str, str, float]]] = {}
    for name, device, a, b, volts in _supplied(case):
        if device in expected or name in expected or volts < LINE_VOLTS:
            continue
        if all((state.first or state).across(a, b) < DEAD_VOLTS for state in case.states):
            dead.setdefault(device, []).append((name, a, b, volts))
    boards = _dead_boards(case)
    astray = list(_commons_astray(case))
    if not (dead or boards or astray) or _unsafe_to_try(case):
        return
    told = _told_pieces(case)
    for load in boards:
        if _without_feed(case, (load.a, load.b)) & told:
            continue
        join = _join_at(case, load.a) or _join_at(case, load.b)
        yield Finding(
            rule="dead-outlet",
            severity="fault",
            message=f"{load.device} has no power of its own with nothing called: between {load.a} and "
            f"{load.b} there are {in_volts(case.states[0].load_volts(load))}.",
            span=join.span if join else case.board.devices[load.device].span,
            subject=load.name,
            value=round(case.states[0].load_volts(load), 1),
            limit=load.works,
            unit="V",
            source="common practice",
            help="Bring the two sides of the transformer there, letter to letter at both ends of the cable.",
            stage="final",
        )
    for terminal, letters in astray:
        join = _join_at(case, terminal.name)
        yield Finding(
            rule="dead-outlet",
            severity="fault",
            message=f"{terminal.name} comes to no common: its wire is on {listed(letters)}. The "
            "thermostat's own current then goes through what hangs there, and it goes dark with that call.",
            span=join.span if join else case.board.devices[terminal.owner].span,
            subject=terminal.name,
            source="common practice",
            help=f"Bring the wire of {terminal.name} to C at its other end.",
            stage="final",
        )
    for device, found in dead.items():
        name, a, b, volts = found[0]
        # What is wrong on its own copper, up to what feeds it, has a finding of its own and is the cause.
        if _without_feed(case, (a, b)) & told:
            continue
        what = device if len(found) > 1 else name
        state = case.states[0]
        thing: Device | Load | Outlet | Winding = case.board.devices[device]
        if len(found) == 1:
            every: list[Load | Outlet | Winding] = [
                *case.circuit.loads,
                *case.circuit.outlets,
                *case.circuit.windings,
            ]
            thing = next(one for one in every if one.name == name)
        stop = why_no_volts(case, state.first or state, Wanted(thing, a, b, volts))
        yield Finding(
            rule="dead-outlet",
            severity="fault",
            message=f"{what} has no power in any position of the switches. {said(stop, case)}",
            span=stop.at.span if stop.at else case.board.devices[device].span,
            subject=what,
            value=0.0,
            limit=volts,
            unit="V",
            source="common practice",
            help=remedy(stop),
            also=(Note(f"{device} is declared here", case.board.devices[device].span),) if stop.at else (),
            stage="final",
        )


def _dead_boards(case: Case) -> list[Load]:
    """The control boards fed from another's transformer that have no power at rest, when they should wait."""
    windings = {winding.device.partition(".")[0] for winding in case.circuit.windings}
    return [
        load
        for load in case.circuit.loads
        if "standby" in load.flags
        and load.volts < LINE_VOLTS
        and (device := case.board.devices.get(load.device)) is not None
        # Where a transformer is dead, what hangs on it is told.
        and device.name not in windings
        and case.states[0].load_volts(load) < load.works
        # A thermostat without its power makes no call, or lives on its batteries.
        and not device.part.calls
        and not _called_in_vain(case, f"{device.name}.")
    ]


def _commons_astray(case: Case) -> Iterator[tuple[Terminal, list[str]]]:
    """The commons of thermostats that come to other letters and to no common, with those letters."""
    if _called_in_vain(case, ""):
        return
    for terminal in case.board.terminals.values():
        owner = case.board.devices.get(terminal.owner)
        if owner is None or not owner.part.calls or terminal.spec.role != "class-2-common":
            continue
        piece = case.uses.piece[terminal.name]
        others = [
            one
            for one in case.board.terminals.values()
            if one.name != terminal.name
            and case.uses.piece[one.name] == piece
            and one.spec.role.startswith("class-2")
        ]
        if others and all(one.spec.role == "class-2" for one in others):
            yield terminal, [one.name for one in others]


def _called_in_vain(case: Case, within: str) -> bool:
    """Whether a call fails to run something whose name begins so: then that tells what a board lacks."""
    return any(
        any(
            word.text.startswith(within)
            and (load := case.circuit.load.get(word.text)) is not None
            and load.name not in started
            for word, _ in one.steps
        )
        for one in case.board.expectations
        if isinstance(one, ExpectRuns) and one.steps
        for started in [case.played([call.text for call in one.calls if call.text != "idle"]).started()]
    )


def _supplied(case: Case) -> Iterator[tuple[str, str, str, str, float]]:
    """What takes power from the wiring by itself: (name, device, its two screws, volts)."""
    for outlet in case.circuit.outlets:
        if outlet.device in case.board.devices:
            yield outlet.name, outlet.device, outlet.hot, outlet.neutral, outlet.volts
    for load in case.circuit.loads:
        if load.device in case.board.devices:
            yield load.name, load.device, load.a, load.b, load.volts
    for winding in case.circuit.windings:
        if winding.device in case.board.devices:
            yield winding.name, winding.device, *winding.primary, winding.primary_volts


def _expected(case: Case) -> set[str]:
    """What an `expect` line names: whether it works is said there."""
    told: set[str] = set()
    for one in case.board.expectations:
        words = []
        if isinstance(one, ExpectFrom):
            words = [one.load.text]
        elif isinstance(one, ExpectLive):
            words = [one.outlet.text]
        elif isinstance(one, ExpectRuns):
            words = [word.text for word, _ in one.steps]
        told.update(words)
        told.update(load.name for word in words if (load := case.circuit.load.get(word)) is not None)
    return told


def _unsafe_to_try(case: Case) -> bool:
    """Whether there is a short or live metal: until that is cleared nobody can say what else is dead."""
    return any(state.opened for state in case.states) or any(
        terminal.spec.role == "ground" and case.uses.of(terminal.name) in ("hot", "switched")
        for terminal in case.board.terminals.values()
    )


def _told_pieces(case: Case) -> set[int]:
    """The pieces that other rules speak of: those that end loose, or hold a ground."""
    board, uses = case.board, case.uses
    joined = {member.point for join in board.joins for member in join.members}
    told: set[int] = set()
    places: set[str] = set()
    for conductor in board.conductors.values():
        for end, place in zip(conductor.ends, conductor.places, strict=True):
            if end not in joined and end not in board.capped:
                told.add(uses.piece[end])
                places.add(place)
        # Green in a thermostat's cable is the fan call.
        if conductor.color in GROUND_COLORS and conductor.insulation not in CLASS_2_CABLES:
            told.add(uses.piece[conductor.ends[0]])
    for terminal in board.terminals.values():
        # A screw with nothing on it in the box of a loose wire is where that wire belongs.
        if terminal.place in places and uses.of(terminal.name) in ("none", "switched", "switched-neutral"):
            told.add(uses.piece[terminal.name])
    return told


def _without_feed(case: Case, points: Iterable[str]) -> set[int]:
    """The pieces of some points, and through contacts and protection those beyond, up to what is fed."""
    uses = case.uses
    near: dict[int, set[int]] = {}
    pairs = [(contact.a, contact.b) for contact in case.circuit.contacts]
    pairs += (pair for protection in case.circuit.protections for pair in protection.pairs)
    for a, b in pairs:
        near.setdefault(uses.piece[a], set()).add(uses.piece[b])
        near.setdefault(uses.piece[b], set()).add(uses.piece[a])
    waiting = [uses.piece[point] for point in points]
    told = set(waiting)
    for piece in waiting:
        if not uses.direct[piece]:
            for other in near.get(piece, set()) - told:
                told.add(other)
                waiting.append(other)
    return told

"""Thermostat wire and power wire lie in the same box or raceway.

Class 2 insulation is not made to touch power wires: a nick in one puts line voltage on the thermostat,
which everyone touches. So they are kept apart before they enter a box. Inside equipment the maker has
kept them apart.

Source: NEC 725.136(A), 725.136(D)
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wirecheck.circuit.uses import Feed
from wirecheck.judge.case import Case
from wirecheck.judge.class_2 import power_conductors
from wirecheck.judge.finding import Note
from wirecheck.judge.grouped import grouped
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.purpose import is_class_2
from wirecheck.judge.rule import rule
from wirecheck.language.quantity import inches
from wirecheck.model.board import Box, Conductor, Device, Panel, Raceway, Run

Place = Box | Panel | Raceway

LINE_ROLES = frozenset(("hot", "line", "switched"))


class Together(Problem):
    """A Class 2 cable and a power conductor in one place; `device` stands there on both circuits."""

    place: Place
    run: Run
    power: Conductor
    device: Device | None


def find(case: Case) -> Iterator[Together]:
    """Each box, panel and raceway, by the first cable that has no business there, else the first."""
    board, power = case.board, power_conductors(case)
    low = [one for one in board.conductors.values() if is_class_2(one) and one.name not in power]
    # What is in Class 2 cable itself comes last: it should not be on power at all.
    high = sorted(power.values(), key=is_class_2)
    places: tuple[Place, ...] = (*board.boxes.values(), *board.panels.values(), *board.raceways.values())
    for place in places:
        inside = list(grouped((one.run, one) for one in low if _is_in(one, place)).values())
        if not inside or not any(_is_in(each, place) for each in high):
            continue
        devices = tuple(_on_both(case, place))
        passing = [cable for cable in inside if not _serves(case, cable, devices)]
        one = (passing or inside)[0][0]
        other = next((each for each in high if _is_in(each, place) and each.run != one.run), None)
        if other is None:
            continue
        yield Together(
            at=spot(board.runs[one.run]),
            about=board.runs[one.run],
            severity="violation" if passing else "advice",
            stage="rough-in",
            copper=frozenset(case.uses.piece[wire.ends[0]] for wire in (one, other)),
            place=place,
            run=board.runs[one.run],
            power=other,
            device=None if passing else devices[0],
        )


def _is_in(conductor: Conductor, place: Place) -> bool:
    return place.name in (*conductor.places, conductor.raceway)


def _on_both(case: Case, place: Place) -> Iterator[Device]:
    """The devices in a box that stand on both circuits, such as a transformer or a relay."""
    for device in case.board.devices.values():
        if device.place == place.name:
            roles = {spec.role for spec in device.part.terminals.values()}
            kinds = {feed.kind for feed in _feeds(case, device)}
            if ("class-2" in roles and roles & LINE_ROLES) or kinds >= {"class-2", "hot"}:
                yield device


def _feeds(case: Case, device: Device) -> frozenset[Feed]:
    """What the screws of a device are fed by, through contacts too."""
    pieces = {case.uses.piece[f"{device.name}.{name}"] for name in device.part.terminals}
    return frozenset(
        feed for piece in pieces for feed in (*case.uses.direct[piece], *case.uses.reached[piece])
    )


def _serves(case: Case, cable: Sequence[Conductor], devices: Sequence[Device]) -> bool:
    """Whether a Class 2 cable is of the circuit that one of some devices is there for."""
    sources = {feed for device in devices for feed in _feeds(case, device) if feed.kind == "class-2"}
    pieces = {case.uses.piece[conductor.ends[0]] for conductor in cable}
    own = {feed for piece in pieces for feed in (*case.uses.direct[piece], *case.uses.reached[piece])}
    # What is not wired yet does not say which circuit it is of.
    return bool(devices) and (not sources or not own or not sources.isdisjoint(own))


def words(problem: Together, case: Case) -> Words:
    """What lies where, and how the two are parted."""
    run, power, place = problem.run.name, problem.power.run, problem.place
    what = "raceway" if isinstance(place, Raceway) else "panel" if isinstance(place, Panel) else "box"
    both = f"{run}, a Class 2 cable, and {power}, a power circuit, are both in the {what} {place.name}"
    if problem.device is not None:
        matter = "Class 2 wire apart from power at a device of both"
        apart = inches(case.code.limit(matter))
        message = f"{both}. {problem.device.name} needs both there: keep them {apart} apart."
        remedy = (
            "Bring the low voltage in through an opening of its own, and fasten it away from the power wires."
        )
    else:
        matter = "Class 2 wire apart from power"
        message = f"{both}. Nothing but thin insulation then keeps line voltage off the thermostat."
        remedy = (
            f"Run {run} past {place.name} and not through it, or part the two with a barrier made for the "
            f"{what}."
        )
    return Words(
        message=message,
        help=remedy,
        source=case.code.section(matter),
        also=(Note(f"{power} is a power circuit", problem.power.span),),
    )


RULE = rule(__name__, "rough-in", find=find, words=words)

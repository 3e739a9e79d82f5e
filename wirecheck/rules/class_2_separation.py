"""Wires of a Class 2 circuit, as a thermostat's, lie with power wires in one box, raceway or cable.

Class 2 insulation is not made to touch power wires: a nick in one puts line voltage on the thermostat,
which everyone touches. So they are kept apart before they enter a box. Inside equipment the maker has
kept them apart. Single wires and power cable do not help: what makes a circuit Class 2 is its source.
Who wires all of it as power may give up its class; then it is no Class 2 circuit any more.

Source: NEC 725.136(A), 725.136(D), 725.130(A)
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from wirecheck.circuit.uses import Feed
from wirecheck.judge.case import Case
from wirecheck.judge.class_2 import Low, low_conductors, power_conductors
from wirecheck.judge.finding import Note
from wirecheck.judge.grouped import grouped
from wirecheck.judge.made_up import loose_ends
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.purpose import is_class_2
from wirecheck.judge.rule import rule
from wirecheck.language.quantity import inches
from wirecheck.model.board import Box, Conductor, Device, Panel, Raceway, Run

Place = Box | Panel | Raceway | Run

LINE_ROLES = frozenset(("hot", "line", "switched"))


class Together(Problem):
    """A conductor of a Class 2 circuit and a power conductor in one place.

    `device` stands there on both circuits; where `waits`, one may come: wires of both wait for it.
    """

    place: Place
    run: Run
    low: Low
    power: Conductor
    device: Device | None
    waits: bool = False


def find(case: Case) -> Iterator[Together]:
    """Each cable, box, panel and raceway, by the first conductor of the kind in it."""
    every = low_conductors(case)
    if not every:
        return
    # What is in Class 2 cable itself comes last: it should not be on power at all.
    high = sorted(power_conductors(case).values(), key=is_class_2)
    board, shared = case.board, frozenset(_shared(every, high))
    low = [one for one in every if one.conductor.run not in shared]
    for run in board.runs.values():
        if run.name in shared:
            one = next(one for one in every if one.conductor.run == run.name)
            yield _together(case, run, one, next(each for each in high if each.run == run.name), None)
    places: tuple[Place, ...] = (*board.boxes.values(), *board.panels.values(), *board.raceways.values())
    for place in places:
        yield from _in_place(case, place, [one for one in low if _is_in(one.conductor, place)], high)


def _in_place(case: Case, place: Place, low: Sequence[Low], high: Sequence[Conductor]) -> Iterator[Together]:
    """By the first run that has no business there, else by the first cable of a device of both.

    Wire that is made for power may come to such a device beside power (725.136(D)(2)).
    """
    if not low or not any(_is_in(each, place) for each in high):
        return
    devices = tuple(_on_both(case, place))
    runs = list(grouped((one.conductor.run, one) for one in low).values())
    passing = [run[0] for run in runs if not _serves(case, [one.conductor for one in run], devices)]
    passing.sort(key=lambda one: one.whole)
    for one in [*passing, *(run[0] for run in runs if run[0].cable)][:1]:
        other = next((each for each in high if _is_in(each, place) and each.run != one.conductor.run), None)
        if other is not None:
            waits = _waits(case, place, [each.conductor for each in low]) and _waits(case, place, high)
            yield _together(case, place, one, other, None if passing else devices[0], waits)


def _waits(case: Case, place: Place, conductors: Iterable[Conductor]) -> bool:
    """Whether no device stands there, and an end of one of some conductors is joined to nothing there."""
    names = {each.name for each in conductors}
    return not any(device.place == place.name for device in case.board.devices.values()) and any(
        conductor.name in names and conductor.places[which] == place.name
        for conductor, which in loose_ends(case)
    )


def _shared(low: Iterable[Low], high: Iterable[Conductor]) -> Iterator[str]:
    """The power cables in which a conductor of a Class 2 circuit lies beside one of a power circuit."""
    runs = {one.run for one in high}
    yield from (one.conductor.run for one in low if not one.cable and one.conductor.run in runs)


def _together(
    case: Case, place: Place, low: Low, power: Conductor, device: Device | None, waits: bool = False
) -> Together:
    run = case.board.runs[low.conductor.run]
    end = next((end for end in run.ends if end.place == place.name), None)
    return Together(
        # There the hand moves it; one that only passes through a raceway has no end there.
        at=spot(end or run),
        about=run,
        severity="advice" if device is not None or low.whole or waits else "violation",
        stage="rough-in",
        copper=frozenset(case.uses.piece[one.ends[0]] for one in (low.conductor, power)),
        place=place,
        run=run,
        low=low,
        power=power,
        device=device,
        waits=waits,
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
    what = {Raceway: "raceway", Panel: "panel", Box: "box", Run: "cable"}[type(place)]
    low = f"{run}, a Class 2 cable" if problem.low.cable else f"{problem.low.conductor.name}, a Class 2 wire"
    if isinstance(place, Run):
        power = problem.power.name
    both = f"{low}, and {power}, a power circuit, are both in the {what} {place.name}"
    message = f"{both}. Nothing but thin insulation then keeps line voltage off the thermostat."
    matter = "Class 2 wire apart from power"
    if problem.device is not None:
        matter = "Class 2 wire apart from power at a device of both"
        apart = inches(case.code.limit(matter))
        message = f"{both}. {problem.device.name} needs both there: keep them {apart} apart."
        remedy = (
            "Bring the low voltage in through an opening of its own, and fasten it away from the power wires."
        )
    elif problem.low.whole:
        matter = "Class 2 circuit that gives up its class"
        message = (
            f"{both}. That is allowed where all of that circuit is wired as power, for the same machine, "
            "and is no Class 2 circuit any more."
        )
        remedy = (
            "Take the Class 2 marking off its transformer, or run it in thermostat cable of its own, away "
            "from power."
        )
    elif problem.waits:
        message = (
            f"{both}. Only a device that needs both, as a relay, lets them come there, and none stands there "
            "yet."
        )
        remedy = f"If no such device comes to {place.name}, run {run} past it and not through it."
    elif problem.low.cable:
        remedy = (
            f"Run {run} past {place.name} and not through it, or part the two with a barrier made for the "
            f"{what}."
        )
    else:
        message = (
            f"{both}. What makes a circuit Class 2 is its source, whatever its wire: a fault in the {what} "
            "then puts line voltage on the thermostat, which everyone touches."
        )
        remedy = f"Run it in thermostat cable of its own, and not through that {what}."
    return Words(
        message=message,
        help=remedy,
        stands=True,
        source=case.code.section(matter),
        also=(Note(f"{power} is a power circuit", problem.power.span),),
    )


RULE = rule(__name__, "rough-in", severities=("violation", "advice"), find=find, words=words)

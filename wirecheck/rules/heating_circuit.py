"""Something else is on the circuit of the furnace or the boiler.

A lamp that trips the breaker, or a hand that turns it off to work on an outlet, leaves the house cold and
its pipes to freeze. Only what belongs to the heating may share its circuit: a pump, a valve, a humidifier,
the air conditioner. One receptacle may be for its condensate pump, and a motor for its fan, so nothing is
said of those.

Source: NEC 422.12
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Contact, Protection
from wirecheck.judge.case import Case
from wirecheck.judge.heating import heats
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.voltages import is_line
from wirecheck.judge.ways import pieces_reached
from wirecheck.language.listing import listed
from wirecheck.model.board import Breaker, Device

# How many receptacles may be there for what belongs to the heating.
RECEPTACLES = 1
# How many things one message names.
MOST_NAMED = 4


class Shared(Problem):
    """`strangers` are on the circuit of `breaker`, which is that of the heating `unit`."""

    breaker: Breaker
    unit: Device
    strangers: tuple[Device, ...]


def find(case: Case) -> Iterator[Shared]:
    """Each breaker that feeds central heating, with the lights and the receptacles that it feeds besides."""
    units = [device for device in case.board.devices.values() if heats(case, device)]
    for breaker in case.board.breakers.values() if units else ():
        fed = frozenset(_fed(case, breaker))
        unit = next((device for device in units if device.name in fed), None)
        strangers = tuple(case.board.devices[name] for name in _strangers(case, fed))
        if unit is not None and strangers:
            yield Shared(
                at=spot(strangers[0]),
                about=strangers[0],
                severity="violation",
                stage="trim",
                breaker=breaker,
                unit=unit,
                strangers=strangers,
            )


def _strangers(case: Case, fed: frozenset[str]) -> Iterator[str]:
    """The lights of a circuit, and its receptacles where they are too many to be the heating's own."""
    lights = (_owner(case, load.device) for load in case.circuit.loads if load.gives_light)
    outlets = (_owner(case, one.device) for one in case.circuit.outlets)
    receptacles = [name for name in dict.fromkeys(outlets) if name in fed]
    yield from (name for name in dict.fromkeys(lights) if name in fed)
    if len(receptacles) > RECEPTACLES:
        yield from receptacles


def _owner(case: Case, device: str) -> str:
    return case.circuit.devices[device].outer


def _fed(case: Case, breaker: Breaker) -> Iterator[str]:
    """The devices that take line voltage from a breaker, through switches and fuses, but no other breaker."""
    others = case.board.breakers.keys()

    def passes(of: Contact | Protection) -> bool:
        return isinstance(of, Contact) or of.name not in others

    piece = case.uses.piece
    reached = pieces_reached(case, (piece[screw] for screw, _ in breaker.poles), passes)
    takers = [(load.device, load.a, load.b, load.volts) for load in case.circuit.loads]
    takers += [(one.device, one.hot, one.neutral, one.volts) for one in case.circuit.outlets]
    takers += [(one.device, *one.primary, one.primary_volts) for one in case.circuit.windings]
    for device, a, b, volts in takers:
        if is_line(case, volts) and (piece[a] in reached or piece[b] in reached):
            yield _owner(case, device)


def words(problem: Shared, case: Case) -> Words:
    """What is on the circuit, and that it wants another."""
    names = listed((one.name for one in problem.strangers), MOST_NAMED)
    unit, breaker = problem.unit.name, problem.breaker.name
    are = "are" if len(problem.strangers) > 1 else "is"
    return Words(
        message=f"{names} {are} on {breaker}, the circuit of {unit}. Central heating has a circuit to "
        "itself, or what trips it leaves the house cold.",
        help=f"Feed {names} from another circuit. A pump, a valve or a humidifier of {unit} may stay.",
        stands=True,
        source=case.code.section("heating has its own circuit"),
    )


RULE = rule(__name__, "trim", severities=("violation",), find=find, words=words)

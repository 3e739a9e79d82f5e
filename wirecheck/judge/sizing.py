"""What a conductor of the board may carry as it lies there, and the words for the arithmetic."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from wirecheck.circuit.routes import Zone
from wirecheck.judge.case import Case
from wirecheck.judge.old_blame import GROUND_COLORS
from wirecheck.language.quantity import amps, rounded
from wirecheck.model.board import Board, Conductor
from wirecheck.model.runs import CLASS_2_CABLES
from wirecheck.tables.ampacity import Ampacity, conductor_ampacity, terminal_temperature
from wirecheck.tables.code import NEC, Code
from wirecheck.tables.overcurrent import Protection, largest_protection, small_conductor_limit
from wirecheck.tables.sizes import next_larger

# Below this share of an ampere a conductor is not counted as carrying current.
CARRIES = 1e-3


def named_size(conductor: Conductor) -> str:
    """A conductor's size and metal in words: "14 AWG copper", "2.5 mm2 copper"."""
    return f"{gauge(conductor.size)} {conductor.material}"


def gauge(size: str) -> str:
    """A size with its unit.

    >>> gauge("14"), gauge("250 kcmil"), gauge("4/0")
    ('14 AWG', '250 kcmil', '4/0 AWG')
    """
    return size if " " in size else f"{size} AWG"


def power(conductors: Iterable[Conductor]) -> Iterator[Conductor]:
    """Those that are there to carry current at line voltage: no grounding conductors, no Class 2 cable."""
    for conductor in conductors:
        if conductor.color not in GROUND_COLORS and conductor.insulation not in CLASS_2_CABLES:
            yield conductor


def is_grounding(conductor: Conductor) -> bool:
    """Whether its color makes it a grounding conductor."""
    return conductor.color in GROUND_COLORS


@dataclass(frozen=True, slots=True)
class Guarded:
    """A breaker or fuse at line voltage with all its poles, and the conductors that it protects."""

    name: str
    zones: tuple[Zone, ...]
    conductors: tuple[Conductor, ...]

    @property
    def amps(self) -> float:
        """Its rating."""
        return self.zones[0].protection.amps

    def runs(self) -> dict[str, tuple[Conductor, ...]]:
        """Its conductors by cable, or each wire by itself."""
        told: dict[str, tuple[Conductor, ...]] = {}
        for conductor in self.conductors:
            told[conductor.run] = (*told.get(conductor.run, ()), conductor)
        return told


def guarded(case: Case) -> tuple[Guarded, ...]:
    """Every breaker and fuse that is fed from a panel, with its conductors."""
    together: dict[str, list[Zone]] = {}
    for zone in case.zones:
        if zone.origin.kind == "leg":
            together.setdefault(zone.protection.name, []).append(zone)
    told = []
    for name, zones in together.items():
        conductors = {
            conductor.name: conductor for zone in zones for conductor in power((*zone.hots, *zone.returns))
        }
        told.append(Guarded(name, tuple(zones), tuple(conductors.values())))
    return tuple(told)


def carrying_together(case: Case) -> dict[str, int]:
    """For each conductor, how many current-carrying conductors are bunched in its cable or raceway.

    A grounding conductor is not counted (310.15(F)), nor the neutral of a circuit of
    several legs that carries only their unbalance (310.15(E)(1)); with two of three
    legs of a wye it is (310.15(E)(2)). Of wires that never carry current at once, such as
    two travelers, those that carry at the heaviest load are counted.
    """
    used: dict[str, Conductor] = {}
    legs: dict[str, set[str]] = {}
    hots: set[str] = set()
    for zone in case.zones:
        for conductor in power(zone.hots):
            used[conductor.name] = conductor
            hots.add(conductor.name)
        for conductor in power(zone.returns):
            used[conductor.name] = conductor
            legs.setdefault(conductor.name, set()).add(zone.origin.name)
    ever = {name for name in used if name in case.most and abs(case.most[name].amps[name]) > CARRIES}
    at_once = {name for name in used if abs(case.heaviest.amps.get(name, 0)) > CARRIES}
    in_calls = {
        name
        for call in case.calls
        for step in case.played([call]).steps
        for name in used
        if abs(step.settled.amps.get(name, 0)) > CARRIES
    }
    bunches: dict[str, int] = {}
    for name, conductor in used.items():
        if name in ever and name not in at_once and name not in in_calls:
            continue
        if name not in hots and _balances(case.board, legs.get(name, set())):
            continue
        bunch = conductor.raceway or conductor.run
        bunches[bunch] = bunches.get(bunch, 0) + 1
    return {
        conductor.name: bunches.get(conductor.raceway or conductor.run, 0)
        for conductor in case.board.conductors.values()
    }


def _balances(board: Board, legs: set[str]) -> bool:
    """Whether a neutral of circuits on these legs carries only what does not balance."""
    panels = {leg.rpartition(".")[0] for leg in legs}
    if len(legs) < 2 or len(panels) != 1:
        return False
    return len(legs) == len(board.panels[panels.pop()].legs)


def terminal_limit(case: Case, conductor: Conductor, protection: float) -> float:
    """The temperature in C that the screws at a conductor's two ends allow (110.14(C)(1)).

    A screw that is not marked allows what the circuit's rating does; a splice does not limit.
    """
    plain = terminal_temperature(protection, code=case.code)
    marked = [
        terminal_temperature(protection, case.board.terminals[terminal].spec.rated, code=case.code)
        for end in conductor.ends
        for terminal in case.screws.get(end, ())
    ]
    return min(marked, default=plain)


def carries(case: Case, conductor: Conductor, protection: float, bunched: int) -> Ampacity:
    """The ampacity of a conductor in a circuit of that rating.

    Raises
    ------
    NotInTable: for a size or an insulation that the tables do not hold.
    """
    return conductor_ampacity(
        conductor.insulation,
        conductor.size,
        conductor.material,
        case.board.ambient,
        bunched,
        terminal_limit(case, conductor, protection),
        code=case.code,
    )


def arithmetic(steps: Ampacity) -> str:
    """The way from the table's value to the ampacity, step by step."""
    size = gauge(steps.size)
    told = (
        f"{size} {steps.material} with {steps.insulation_c:g} C insulation: {amps(steps.table)} by the table"
    )
    if steps.correction != 1:
        told += f", x {rounded(steps.correction)} for {rounded(steps.ambient)} C around it"
    if steps.adjustment != 1:
        told += (
            f", x {rounded(steps.adjustment)} for {steps.current_carrying} current-carrying wires together"
        )
    if steps.correction != 1 or steps.adjustment != 1:
        told += f" = {amps(steps.corrected)}"
    if steps.cap is not None and steps.terminal_c is not None:
        told += (
            f"; the {steps.terminal_c:g} C column, which its terminals or its cable allow: {amps(steps.cap)}"
        )
    return f"{told}. The least is its ampacity: {amps(steps.result)}."


def may_have(steps: Ampacity, next_up: bool, *, code: Code = NEC) -> Protection:
    """The largest breaker or fuse that a conductor of this ampacity may have (240.4)."""
    limit = largest_protection(steps.size, steps.material, steps.result, next_up, code=code)
    small = small_conductor_limit(steps.size, steps.material, code=code)
    # Where both say the same, the section on small conductors is the one to read.
    return small if small is not None and small.amps <= limit.amps else limit


def larger_sizes(size: str, *, code: Code = NEC) -> Iterator[str]:
    """The sizes above one, smallest first."""
    larger = next_larger(size, code=code)
    while larger is not None:
        yield larger
        larger = next_larger(larger, code=code)

"""The lugs of a subpanel do not have the legs that the panel is made for.

A breaker on a lug that no hot comes to is dead. Two lugs on one leg have no voltage between them: what
needs both hots does not run, and in a circuit of two hots with one neutral the currents add in it where
they should cancel. Between two legs of a wye service there are 208 V, and not 240 V.

Source: NEC 210.4(A), 408.36; common practice
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations

from wirecheck.circuit.circuit import Leg
from wirecheck.judge.case import Case
from wirecheck.judge.feeders import Feeder, feeders
from wirecheck.judge.made_up import at_screw
from wirecheck.judge.problem import Problem, Spot, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.language.quantity import volts
from wirecheck.model.board import Panel

# Volts that two sources of one name can differ by, as a part of them (common practice).
CLOSE = 0.02


class DeadLugs(Problem):
    """No hot comes to some lugs of a subpanel, by name, and `dead` are the breakers that hang on them."""

    panel: Panel
    lugs: tuple[str, ...]
    dead: tuple[str, ...]


class WrongLegs(Problem):
    """Between two lugs of a subpanel there are `present` volts, and it is made for `meant`."""

    panel: Panel
    one: str
    other: str
    present: float
    meant: float


def find(case: Case) -> Iterator[DeadLugs | WrongLegs]:
    """Each subpanel, by the first pair of its lugs that is not as it should be."""
    for feeder in feeders(case).values():
        panel = feeder.panel
        lugs = tuple(panel.lug(leg) for leg, source in feeder.legs.items() if source is None)
        bus = {leg for leg, source in feeder.legs.items() if source is None}
        dead = tuple(
            breaker.name
            for breaker in case.board.breakers.values()
            if breaker.panel == panel.name
            and any(leg in bus and screw not in lugs for screw, leg in breaker.poles)
        )
        if dead:
            yield DeadLugs(
                at=_at(case, panel, lugs[0]),
                about=panel,
                severity="fault",
                stage="trim",
                copper=frozenset(case.uses.piece[lug] for lug in lugs),
                panel=panel,
                lugs=lugs,
                dead=dead,
            )
        yield from _wrong(case, feeder)


def _wrong(case: Case, feeder: Feeder) -> Iterator[WrongLegs]:
    panel = feeder.panel
    there: Mapping[str, Leg] = {leg: source for leg, source in feeder.legs.items() if source is not None}
    for one, other in combinations(there, 2):
        present = abs(there[one].volts - there[other].volts)
        meant = abs(panel.legs[one] - panel.legs[other])
        if abs(present - meant) > CLOSE * meant:
            lugs = panel.lug(one), panel.lug(other)
            yield WrongLegs(
                at=_at_the_pole(case, panel, *lugs) or _at(case, panel, lugs[1]),
                about=panel,
                severity="fault",
                stage="trim",
                copper=frozenset(case.uses.piece[panel.lug(leg)] for leg in (one, other)),
                panel=panel,
                one=panel.lug(one),
                other=panel.lug(other),
                present=present,
                meant=meant,
            )
            return


def _at_the_pole(case: Case, panel: Panel, one: str, other: str) -> Spot | None:
    """Where both hots of the feeder are on one pole, out of the panel; None where they are on two."""
    piece = case.uses.piece
    if piece[one] != piece[other]:
        return None
    for join in case.board.joins:
        terminals = [case.board.terminals.get(member.name) for member in join.members]
        owners = {one.owner for one in terminals if one is not None}
        at_a_pole = join.place != panel.name and bool(owners & case.board.breakers.keys())
        if at_a_pole and piece[join.members[0].point] == piece[one]:
            return spot(join)
    return None


def _at(case: Case, panel: Panel, lug: str) -> Spot:
    terminal = case.board.terminals.get(lug)
    return spot(panel) if terminal is None else at_screw(case, terminal)


def words(problem: DeadLugs | WrongLegs, case: Case) -> Words:
    """Which lugs, what follows, and where their hots come from."""
    panel = problem.panel.name
    if isinstance(problem, DeadLugs):
        are = "are" if len(problem.dead) > 1 else "is"
        all_dead = len(problem.lugs) == len(problem.panel.legs)
        which = panel if all_dead else listed(problem.lugs)
        return Words(
            message=f"No hot comes to {which}, so {listed(problem.dead)} in {panel} {are} dead.",
            help=f"Bring a hot of the feeder to {listed(problem.lugs)}, each from a pole of its own of the "
            f"breaker that feeds {panel}.",
            source="common practice",
        )
    one_leg = problem.present == 0
    what = "are on one leg, so there is no voltage between them" if one_leg else ""
    what = what or f"have {volts(problem.present)} between them"
    return Words(
        message=f"{problem.one} and {problem.other} {what}, and {panel} is made for {volts(problem.meant)}."
        + (" In a circuit of two hots with one neutral their currents add in it." if one_leg else ""),
        help=f"Feed {panel} by one breaker of {len(problem.panel.legs)} poles, and bring each pole to a lug "
        "of its own."
        if one_leg
        else f"Feed {panel} from a source of its kind, or say on its line which it is.",
        source=case.code.section("multiwire circuits") if one_leg else "common practice",
        value=problem.present,
        limit=problem.meant,
        unit="V",
    )


RULE = rule(__name__, "trim", severities=("fault",), find=find, words=words)

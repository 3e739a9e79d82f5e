"""More is connected to a transformer than it can feed, or its primary is not protected.

What counts is all that draws at the same time. An overloaded transformer
runs hot and its voltage sags, until coils let go or it burns out. At the
moment that a coil pulls in it draws several times what it holds with.

Source: UL 5085-3; NEC Table 450.3(B), 725.127
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Load, Winding
from wirecheck.circuit.routes import equipment
from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.judge.class_2 import secondary_protection as secondary_fuse
from wirecheck.judge.drawing import drawing
from wirecheck.judge.finding import Note
from wirecheck.judge.guard_words import kind, opens
from wirecheck.judge.guards import Guarded, guarded
from wirecheck.judge.limit import over
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.transformers import TRUSTED, Drawn, is_class_2, most_drawn, on_secondary
from wirecheck.language.listing import listed
from wirecheck.language.quantity import amps, shown, volts
from wirecheck.tables.transformers import primary_protection, secondary_protection

MOST_FED = 6
MOST_NAMED = 4


class OfTransformer(Problem):
    """What is wrong with a transformer."""

    winding: Winding


class Overdrawn(OfTransformer):
    """It feeds more at once than it is rated for; `burns` tells whether it opens for good."""

    drawn: Drawn
    burns: bool


class SagsAtPullIn(OfTransformer):
    """The moment that coils pull in takes `drawn` VA, and its own winding leaves them `left` volts."""

    coils: tuple[Load, ...]
    drawn: float
    left: float
    state: Settled


class PrimaryUnprotected(OfTransformer):
    """The breaker or fuse ahead of it is larger than the `most` amperes that its primary may have."""

    guard: Guarded
    most: float


Kind = Overdrawn | SagsAtPullIn | PrimaryUnprotected


def find(case: Case) -> Iterator[Kind]:
    """Each transformer: what draws at once, the moment that coils pull in, and what is ahead of it."""
    for winding in case.circuit.windings:
        yield from _overdrawn(case, winding)
        yield from _pulled_in(case, winding)
        yield from _primary(case, winding)


def _overdrawn(case: Case, winding: Winding) -> Iterator[Overdrawn]:
    drawn = most_drawn(case, winding)
    if over(drawn.apparent, winding.capacity):
        yield Overdrawn(
            at=spot(case.circuit.around[winding.device][0]),
            about=winding,
            severity="violation",
            stage="final",
            copper=_copper(case, winding),
            winding=winding,
            drawn=drawn,
            burns=any(opening.name == winding.name for opening in drawn.settled.opened),
        )


def _pulled_in(case: Case, winding: Winding) -> Iterator[SagsAtPullIn]:
    """The moment that coils pull in, where it drags the transformer's own volts below what is trusted."""
    fed = on_secondary(case, winding)
    worst: tuple[float, tuple[Load, ...], Settled] | None = None
    for call in case.heard:
        for step in case.played([call]).steps:
            began = {change.name for change in step.changes if change.kind == "runs"}
            coils = tuple(load for load in fed if load.name in began and load.inrush)
            drawn = sum(load.apparent for load in drawing(fed, step.settled))
            drawn += sum((load.inrush or 0.0) - load.apparent for load in coils)
            if coils and (worst is None or drawn > worst[0]):
                worst = drawn, coils, step.settled
    if worst is None:
        return
    drawn, coils, state = worst
    left = winding.open_volts - drawn / winding.secondary_volts * abs(winding.ohms)
    if left < TRUSTED * winding.secondary_volts:
        yield SagsAtPullIn(
            at=spot(case.circuit.around[winding.device][0]),
            about=winding,
            severity="advice",
            stage="final",
            copper=_copper(case, winding),
            winding=winding,
            coils=coils,
            drawn=drawn,
            left=left,
            state=state,
        )


def _primary(case: Case, winding: Winding) -> Iterator[PrimaryUnprotected]:
    """The protection ahead of a primary; inside equipment that is the maker's business (450.1(4))."""
    inside = len(case.circuit.around[winding.device]) > 1
    if inside or equipment(case.circuit, winding.device) is not None:
        return
    most = _most_ahead(case, winding)
    for guard in guarded(case):
        if winding in guard.drawers and over(guard.amps, most):
            yield PrimaryUnprotected(
                at=spot(case.circuit.around[winding.device][0]),
                about=winding,
                severity="violation",
                stage="final",
                copper=_copper(case, winding),
                winding=winding,
                guard=guard,
                most=most,
            )


def _most_ahead(case: Case, winding: Winding) -> float:
    """The largest protection ahead of a primary."""
    if is_class_2(case, winding):
        return case.code.limit("protection ahead of a Class 2 transformer")
    rated = _primary_amps(winding)
    if _controls_motors(case, winding):
        return rated * case.code.limit("protection ahead of a small control transformer")
    return primary_protection(rated, _secondary_protected(case, winding), code=case.code)


def _controls_motors(case: Case, winding: Winding) -> bool:
    """Whether it feeds a motor's control circuit, and has so small a primary that it may have more ahead."""
    serves = case.circuit.devices[winding.device].part.serves == "motor-control"
    return serves and _primary_amps(winding) < case.code.limit("small primary of a control transformer")


def _secondary_protected(case: Case, winding: Winding) -> bool:
    """Whether its secondary has the protection with which the primary may have more."""
    fuse = secondary_fuse(case, winding)
    rated = winding.capacity / winding.secondary_volts
    return fuse is not None and not over(fuse, secondary_protection(rated, code=case.code))


def _primary_amps(winding: Winding) -> float:
    """What its primary is rated for."""
    return winding.capacity / winding.primary_volts


def _copper(case: Case, winding: Winding) -> frozenset[int]:
    return frozenset(case.uses.piece[end] for end in (*winding.primary, *winding.secondary))


def words(problem: Kind, case: Case) -> Words:
    """What it gives against its rating, and what to do."""
    match problem:
        case Overdrawn():
            return _words_of_overdrawn(problem, case)
        case SagsAtPullIn(winding=winding):
            pull = "pulls in" if len(problem.coils) == 1 else "pull in"
            return Words(
                message=f"When {listed([coil.name for coil in problem.coils], MOST_NAMED)} {pull}"
                f"{case.when(problem.state, winding.name)}, {winding.name} has to give about "
                f"{_va(problem.drawn, winding.capacity)} for a moment, and is rated {_va(winding.capacity)}.",
                help=f"Its own winding alone leaves about {volts(problem.left)} then. Use a larger "
                "transformer.",
                stands=True,
                source="common practice: 20 V of 24 V is the least to trust",
                value=problem.drawn,
                limit=winding.capacity,
                unit="VA",
            )
        case PrimaryUnprotected():
            return _words_of_primary(problem, case)


def _words_of_overdrawn(problem: Overdrawn, case: Case) -> Words:
    winding, drawn = problem.winding, problem.drawn
    each = sorted(drawn.loads, key=lambda load: -load.apparent)
    parts = listed([f"{load.name} {_va(load.apparent)}" for load in each], MOST_FED)
    most = case.code.limit("capacity of a Class 2 source")
    remedy = (
        f"use a transformer of {_va(drawn.apparent)} or more"
        if not is_class_2(case, winding) or drawn.apparent <= most
        else f"share them out over two transformers: a Class 2 one may have {_va(most)} at most"
    )
    return Words(
        message=f"{winding.name} feeds loads of {_va(drawn.apparent, beside=winding.capacity)}"
        f"{case.when(drawn.settled, winding.name)} and is rated {_va(winding.capacity)}: it "
        + ("burns out." if problem.burns else "overheats, and its voltage sags."),
        help=f"At once it feeds {parts}. Take some of the load off it, or {remedy}.",
        stands=True,
        source=f"UL 5085-3; {case.code.section('equipment as its instructions say')}",
        value=drawn.apparent,
        limit=winding.capacity,
        unit="VA",
    )


def _words_of_primary(problem: PrimaryUnprotected, case: Case) -> Words:
    winding, guard, most = problem.winding, problem.guard, problem.most
    if is_class_2(case, winding):
        why = f"A Class 2 transformer may have {amps(most)} ahead of it."
        source = case.code.section("protection ahead of a Class 2 transformer")
    else:
        section = "protection of transformers"
        if _controls_motors(case, winding):
            section = "protection ahead of a small control transformer"
        why = (
            f"Its primary is rated {_va(winding.capacity)} / {volts(winding.primary_volts)} = "
            f"{amps(_primary_amps(winding))}, for which the table allows {amps(most)} at most."
        )
        source = case.code.section(section)
    return Words(
        message=f"{winding.name} is behind {kind(guard.protection)} {guard.name}, which is "
        f"{amps(guard.amps)}, and its primary may have {amps(most)}. With more, a short inside it can burn "
        f"before {guard.name} {opens(guard.protection)}.",
        help=f"{why} Put a fuse of that size, or smaller, in its primary.",
        stands=True,
        source=source,
        value=guard.amps,
        limit=most,
        unit="A",
        also=(Note(f"{guard.name} is {amps(guard.amps)}", guard.protection.span),),
    )


def _va(apparent: float, beside: float | None = None) -> str:
    return shown(apparent, "apparent-power", beside=beside)


RULE = rule(__name__, "final", severities=("violation", "advice"), find=find, words=words)

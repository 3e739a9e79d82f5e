"""A stop or start button is on the grounded side of a control circuit.

Where its wire then touches metal, the coil has both of its sides without the button: the motor starts by
itself, or runs on with the stop button pressed.

Source: NEC 430.74 (from memory)
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from wirecheck.circuit.circuit import Circuit, Load, Winding
from wirecheck.circuit.pieces import pieces
from wirecheck.judge import made_up, purpose
from wirecheck.judge.case import Case
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.secondary_sides import MOMENTARY, Side, sides
from wirecheck.language.listing import listed
from wirecheck.language.syntax import Runs
from wirecheck.model.board import Device, Join


class ButtonInGround(Problem):
    """`buttons` lie between `coil` and the side of its circuit that is on ground.

    `holds` is whether a contact of that coil's own does, too: what keeps it in once a button is let go.
    `turned` is the transformer whose ground is on the wrong side: no button and no fuse is in the other.
    """

    buttons: tuple[Device, ...]
    coil: Load
    holds: bool
    turned: Winding | None


def find(case: Case) -> Iterator[ButtonInGround]:
    """Each coil behind buttons that none before it is behind."""
    copper, node = case.circuit.copper(), case.circuit.node
    ends = {node[end] for winding in case.circuit.windings for end in winding.secondary}
    grounded = {end for end in ends if copper[end] == copper[0]}
    if not grounded:
        return
    together, pressed, held = _together(case.circuit)
    told: set[str] = set()
    for coil in (load for load in case.circuit.loads if load.kind == "coil"):
        ends_there = (node[end] for end in (coil.a, coil.b) if _comes_from_ground(case, node[end], grounded))
        on = [together[copper[end]] for end in ends_there]
        between = {
            name: device
            for side in on
            for name in pressed.get(side, ())
            if name not in told and (device := case.board.devices.get(name)) is not None
        }
        if between:
            told.update(between)
            buttons = tuple(between.values())
            turned = _turned(case, coil)
            bond = _bond(case, turned) if turned is not None else None
            yield ButtonInGround(
                at=spot(bond or buttons[0]),
                about=buttons[0],
                severity="hazard",
                stage="final",
                copper=frozenset((case.uses.piece[coil.a], case.uses.piece[coil.b])),
                buttons=buttons,
                coil=coil,
                holds=any(side in held.get(coil.name, ()) for side in on),
                turned=turned,
            )


def _comes_from_ground(case: Case, node: int, grounded: Collection[int]) -> bool:
    """Whether a coil's end comes to ground, or to a winding's side that is on it, through contacts."""
    copper, origin = case.circuit.copper(), case.routes.origins.get(node)
    return (
        copper[node] != copper[0]
        and origin is not None
        and (origin.kind == "earth" or origin.node in grounded)
    )


def _turned(case: Case, coil: Load) -> Winding | None:
    """The transformer that feeds a coil, with its ground on the side that its buttons and fuses are in."""
    for winding in case.circuit.windings:
        near, far = by_ground(case, winding)
        ends = {case.circuit.node[coil.a], case.circuit.node[coil.b]}
        if ends & near.points and ends & far.points and near.opened and not far.opened:
            return winding
    return None


def _bond(case: Case, winding: Winding) -> Join | None:
    """The line that grounds a side of a transformer at its screw."""
    end = by_ground(case, winding)[0].end
    joined = [join for join, _ in made_up.joins(case).get(end, ())]
    return next((join for join in joined if "ground" in purpose.meeting(join, case.board)), None)


def by_ground(case: Case, winding: Winding) -> tuple[Side, Side]:
    """The two sides of a winding, that on ground first."""
    copper, node = case.circuit.copper(), case.circuit.node
    one, other = sides(case)[winding.name]
    return (one, other) if copper[node[one.end]] == copper[0] else (other, one)


def _together(
    circuit: Circuit,
) -> tuple[Mapping[int, int], Mapping[int, Sequence[str]], Mapping[str, Collection[int]]]:
    """By its copper, the side that each point is on; what a hand presses on each side, in order.

    And by its coil, the sides that a contact is on which closes as the coil pulls in.

    A side is what contacts hold together when all of them are closed, up to ground. So a button that another
    contact goes around is on it too.
    """
    copper, node = circuit.copper(), circuit.node
    ground = copper[0]
    apart = [
        (contact, tuple(on for end in (contact.a, contact.b) if (on := copper[node[end]]) != ground))
        for contact in circuit.contacts
    ]
    side = pieces(copper.values(), (ends for _, ends in apart if len(ends) == 2))
    pressed: dict[int, list[str]] = {}
    held: dict[str, set[int]] = {}
    for contact, ends in apart:
        coil = circuit.meant(contact.when, contact.scope) if isinstance(contact.when, Runs) else None
        if coil is not None:
            held.setdefault(coil.name, set()).update(side[end] for end in ends)
        if MOMENTARY in contact.flags:
            for on in dict.fromkeys(side[end] for end in ends):
                pressed.setdefault(on, []).append(circuit.devices[contact.scope].outer)
    return side, pressed, held


def words(problem: ButtonInGround, case: Case) -> Words:
    """Which buttons, and which coil has its power without them once a wire touches metal."""
    names, coil = listed(one.name for one in problem.buttons), problem.coil.name
    with_it = f", with the contact that holds {coil} in" if problem.holds else ""
    are, do = ("is", "it does") if len(problem.buttons) == 1 else ("are", "they do")
    remedy = f"Bring the grounded side straight to {coil}, and {names} into its other side{with_it}."
    if problem.turned is not None:
        near, far = (one.end for one in by_ground(case, problem.turned))
        remedy = (
            f"Ground the other side: take what grounds {near} off it, and put it on {far}. Then {names} "
            f"{are} in the hot."
        )
    return Words(
        message=f"{names} {are} between {coil} and the grounded side of its circuit. Where a wire there "
        f"touches metal, {coil} is on, whatever {do}.",
        help=remedy,
        stands=True,
        source=case.code.section("a grounded control circuit"),
    )


RULE = rule(__name__, "final", severities=("hazard",), find=find, words=words)

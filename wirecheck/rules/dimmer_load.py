"""A dimmer or a speed control feeds what it is not made for, or an electronic switch feeds a receptacle.

A dimmer chops the volts of a lamp. A motor on it hums and burns, and so does whatever is plugged in there by
somebody who does not know. The speed control of a fan is made for a motor, and a light on it flickers and may
fail. Electronic switches, as sensors and timers, are for what is wired in as well, unless they are listed
for more.

Source: NEC 404.14(E), 110.3(B)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.circuit.circuit import Contact, Load, Outlet, Winding
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.question import question
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.model.board import Device

# What a contact says that it is for.
DIMS, SLOWS, ELECTRONIC = "dims-lights", "slows-fans", "electronic"
# How many things one message names.
MOST_NAMED = 4


class WrongLoad(Problem):
    """`control` feeds `fed`, which it is not made for; `outlets` of them are for cords."""

    control: Device
    contact: Contact
    fed: tuple[Load | Outlet | Winding, ...]

    @property
    def outlets(self) -> tuple[Outlet, ...]:
        """Those that cords are plugged into."""
        return tuple(one for one in self.fed if isinstance(one, Outlet))


def find(case: Case) -> Iterator[WrongLoad]:
    """Each such control, with all behind it that it is not made for."""
    for contact, behind in _behind(case).items():
        fed = tuple(one for one in behind if not _fits(contact, one))
        if fed:
            control = case.circuit.around[contact.scope][0]
            yield WrongLoad(
                at=spot(control),
                about=control,
                severity="violation",
                stage="trim",
                copper=frozenset(case.uses.piece[point] for point in (contact.a, contact.b)),
                control=control,
                contact=contact,
                fed=fed,
            )


def _fits(contact: Contact, of: Load | Outlet | Winding) -> bool:
    if isinstance(of, Outlet):
        return False
    if DIMS in contact.flags:
        return isinstance(of, Load) and of.gives_light
    return SLOWS not in contact.flags or (isinstance(of, Load) and of.kind == "motor")


@question
def _behind(case: Case) -> dict[Contact, tuple[Load | Outlet | Winding, ...]]:
    """What is fed through each contact that is made for some things only."""
    circuit = case.circuit
    made_for_some = [one for one in circuit.contacts if not one.flags.isdisjoint((DIMS, SLOWS, ELECTRONIC))]
    if not made_for_some:
        return {}
    told: dict[Contact, dict[str, Load | Outlet | Winding]] = {one: {} for one in made_for_some}
    users: list[tuple[Load | Outlet | Winding, tuple[str, ...]]] = [(one, one.ends) for one in circuit.loads]
    users += [(one, (one.hot, one.neutral)) for one in circuit.outlets]
    users += [(one, one.primary) for one in circuit.windings]
    for user, ends in users:
        for point in ends:
            for step in case.routes.back(circuit.node[point]):
                if isinstance(step.of, Contact) and step.of in told:
                    told[step.of][user.name] = user
    return {contact: tuple(those.values()) for contact, those in told.items()}


def words(problem: WrongLoad, case: Case) -> Words:
    """What it is made for, what is on it, and what to put in."""
    control, flags = problem.control.name, problem.contact.flags
    names = listed((one.name for one in problem.fed), MOST_NAMED)
    if DIMS in flags:
        made, harm = "is a dimmer, for lights that are wired in", "A motor on it burns"
        remedy = f"Put an ordinary switch in place of {control}, or feed {names} from ahead of it."
    elif SLOWS in flags:
        made, harm = "is the speed control of a fan", "A light on it flickers and fails"
        remedy = f"Feed {names} from a switch of its own, and a fan alone from {control}."
    else:
        made, harm = "is an electronic switch, for what is wired in", "It may not stand what is plugged in"
        remedy = f"Feed {names} from ahead of {control}, or put in an ordinary switch."
    if problem.outlets and SLOWS not in flags:
        harm = "Nobody knows what will be plugged in there"
    return Words(
        message=f"{control} {made}, and it feeds {names}. {harm}.",
        help=remedy,
        stands=True,
        source=case.code.section("dimmers and electronic switches", "equipment as its instructions say"),
        also=tuple(Note(f"{one.name} is here", one.span) for one in problem.fed[:MOST_NAMED]),
    )


RULE = rule(__name__, "trim", severities=("violation",), find=find, words=words)

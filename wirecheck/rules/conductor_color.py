"""A wire's color says something else than what it is used for.

The next person believes the color: white and gray are neutrals, bare and green are grounds, any
other color is a hot. Behind a control transformer that nothing grounds there is no neutral: both sides
are hots. A white of a cable may serve as a hot when it is marked at every end; in a switch loop it takes
the feed to the switch, never the way back to the light.

Source: NEC 200.6, 200.7(C), 250.119; colors of thermostat cable: common practice
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypedDict

from wirecheck.circuit.uses import Use
from wirecheck.judge import control_wires, made_up, purpose
from wirecheck.judge.case import Case
from wirecheck.judge.control_wires import OddColor, carrying
from wirecheck.judge.finding import Note, Severity, Stage
from wirecheck.judge.floating import live_by_itself
from wirecheck.judge.grouped import grouped
from wirecheck.judge.problem import Problem, Spot, Words, spot
from wirecheck.judge.purpose import Purpose
from wirecheck.judge.rule import rule
from wirecheck.language.listing import listed
from wirecheck.model.board import Conductor, Join, Member, Run, Terminal
from wirecheck.tables.published import NotInTable
from wirecheck.tables.sizes import size_at_least
from wirecheck.tables.thermostat_colors import usual_colors, usually_carries

LIVE = ("hot", "switched", "either")
# How many wires one message names.
MOST_NAMED = 6
# From this size up a wire of another color may be marked as a neutral or a ground.
LARGE = "least size that may be marked as a neutral or a ground"


class Miscolored(Problem):
    """The base of the kinds: `conductors` are the wires whose color misleads, most often one."""

    conductors: tuple[Conductor, ...]

    @property
    def conductor(self) -> Conductor:
        """The wire, or the first of two."""
        return self.conductors[0]


class GroundAsHot(Miscolored):
    """Bare or green wires, joined to one another, serve as a hot."""


class WhiteOnGround(Miscolored):
    """A white or gray wire is on the ground."""


class WhiteMarked(Miscolored):
    """A white or gray wire is among the neutrals or grounds (`use`) and is `marked` as something else.

    `here` is whether the end that is not marked is the odd one.
    """

    use: str
    marked: Member
    place: str
    here: bool


class SingleWhiteAsHot(Miscolored):
    """A white or gray wire that lies in no cable serves as a hot."""


class MarkedAsNoHot(Miscolored):
    """A wire serves as a hot and is `marked` as a neutral or a ground."""

    marked: Member


class WhiteNotMarked(Miscolored):
    """The white of a cable serves as a hot and is not marked in `joins`; `partly` where another end is."""

    joins: tuple[Join, ...]
    partly: bool


class WhiteComesBack(Miscolored):
    """The marked white of a switch loop brings the switched hot back; `feed` takes the feed."""

    feed: Conductor | None


class HotColorAs(Miscolored):
    """A wire of a hot's color serves as a neutral or a ground (`use`)."""

    use: str


class ColorsSwapped(Miscolored):
    """In one cable a white is a hot and a colored wire is the neutral, `other` where the second is joined."""

    run: Run
    other: Spot


class UnusualColor(Miscolored):
    """A thermostat's wire is of another color than is usual, and the cable has the usual one."""

    odd: OddColor


# The kinds at line voltage.
POWER_COLORS: tuple[type[Miscolored], ...] = (
    GroundAsHot,
    WhiteOnGround,
    WhiteMarked,
    SingleWhiteAsHot,
    MarkedAsNoHot,
    WhiteNotMarked,
    WhiteComesBack,
    HotColorAs,
    ColorsSwapped,
)


class _Base(TypedDict):
    """What every kind is made of."""

    at: Spot
    about: Conductor
    severity: Severity
    stage: Stage
    copper: frozenset[int]
    conductors: tuple[Conductor, ...]


def _base(case: Case, conductor: Conductor, join: Join, severity: Severity = "violation") -> _Base:
    return {
        "at": spot(join),
        "about": conductor,
        "severity": severity,
        "stage": "trim",
        "copper": frozenset((case.uses.piece[conductor.ends[0]],)),
        "conductors": (conductor,),
    }


def find(case: Case) -> Iterator[Miscolored]:
    """Each conductor whose color or mark says something else than where its copper leads."""
    for run in case.board.runs.values():
        if not purpose.is_class_2(run.conductors[0]):
            wrong = [problem for one in run.conductors for problem in _judged(case, run, one)]
            swapped = _swapped(run, wrong)
            yield from wrong if swapped is None else [swapped]
    yield from _grounds_as_hots(case)
    for odd in control_wires.odd_colors(case):
        yield UnusualColor(**_base(case, odd.conductor, odd.join, "advice"), odd=odd)


Ends = list[tuple[Join, Member]]


def _ends(case: Case, conductor: Conductor) -> Ends:
    """The ends of a conductor that are joined: each join, and the conductor's member in it."""
    joins = made_up.joins(case)
    return [joins[end][0] for end in conductor.ends if end in joins]


def _grounds_as_hots(case: Case) -> Iterator[GroundAsHot]:
    together = grouped(
        (case.uses.piece[conductor.ends[0]], conductor)
        for conductor in filter(purpose.is_grounding, case.board.conductors.values())
        if _is_live(case, conductor)
    )
    for conductors in together.values():
        join = _odd(case, [end for conductor in conductors for end in _ends(case, conductor)])
        yield GroundAsHot(**_base(case, conductors[0], join, "hazard") | {"conductors": conductors})


def _is_live(case: Case, conductor: Conductor) -> bool:
    """Whether it serves as a hot: of a leg, or behind a transformer that nothing grounds."""
    uses, end = case.uses, conductor.ends[0]
    return uses.of(end) in LIVE or (uses.of(end) == "none" and uses.piece[end] in live_by_itself(case))


def _judged(case: Case, run: Run, conductor: Conductor) -> Iterator[Miscolored]:
    """What is wrong with one conductor's color and marks, for what its copper is used for."""
    ends = _ends(case, conductor)
    use = _use(case, conductor, ends)
    color = purpose.of_color(conductor.color)
    if color == "ground":
        # What serves as a ground in its color is right, and what serves as a hot is found as a whole.
        return
    if _is_live(case, conductor):
        marked = [end for end in ends if end[1].marked and purpose.of_color(end[1].marked) != "hot"]
        if color == "neutral" and not run.jacketed:
            yield SingleWhiteAsHot(**_base(case, conductor, _odd(case, ends)))
        elif marked:
            join, member = marked[0]
            yield MarkedAsNoHot(**_base(case, conductor, join), marked=member)
        elif color == "neutral":
            yield from _white_as_hot(case, run, conductor, ends)
    elif use == "neutral" or use == "ground":
        if color == "neutral":
            yield from _white(case, conductor, ends, use)
        else:
            marks = {member.marked and purpose.of_color(member.marked) for _, member in ends}
            if marks != {use} or not _is_large(case, conductor):
                yield HotColorAs(**_base(case, conductor, _odd(case, ends)), use=use)


def _use(case: Case, conductor: Conductor, ends: Ends) -> Use:
    """What its copper is used for; a wire to a transformer's side that is grounded there is its neutral.

    What comes to nothing but grounds at one of its ends is a ground, beside such a transformer too.
    """
    use, end = case.uses.of(conductor.ends[0]), conductor.ends[0]
    sides = {case.uses.piece[one] for winding in case.circuit.windings for one in winding.secondary}
    if use != "ground" or case.uses.piece[end] not in sides:
        return use
    for join, _ in ends:
        screws = [case.board.terminals[one.name] for one in join.members if one.kind == "terminal"]
        if screws and all(one.spec.role == "ground" for one in screws):
            return use
    return "neutral"


def _white(case: Case, conductor: Conductor, ends: Ends, use: Purpose) -> Iterator[Miscolored]:
    """A white wire among the neutrals or the grounds."""
    odd = [
        (join, member)
        for join, member in ends
        if member.marked and purpose.of_color(member.marked) not in ("neutral", use)
    ]
    if odd:
        join, member = odd[0]
        # One end says hot and the other neutral: the end that is not marked is the odd one.
        plain = next((there for there, other in ends if other.marked is None), None)
        base = _base(case, conductor, plain or join)
        yield WhiteMarked(**base, use=use, marked=member, place=join.place, here=plain is not None)
    elif use == "ground":
        yield WhiteOnGround(**_base(case, conductor, _odd(case, ends)))


def _white_as_hot(case: Case, run: Run, conductor: Conductor, ends: Ends) -> Iterator[Miscolored]:
    """The white of a cable that serves as a hot."""
    plain = tuple(join for join, member in ends if member.marked is None)
    if plain:
        partly = len(plain) < len(ends)
        yield WhiteNotMarked(**_base(case, conductor, plain[0]), joins=plain, partly=partly)
    elif _comes_back(case, conductor):
        yield WhiteComesBack(**_base(case, conductor, ends[0][0]), feed=_feed_beside(case, run, conductor))


def _is_large(case: Case, conductor: Conductor) -> bool:
    """Whether it is of a size that may be marked as a neutral or a ground."""
    try:
        return size_at_least(conductor.size, case.code.written(LARGE))
    except NotInTable:
        return False


def _comes_back(case: Case, conductor: Conductor) -> bool:
    """Whether a wire is the way from a switch to the hot side of what works against a neutral."""
    uses, circuit = case.uses, case.circuit
    if uses.of(conductor.ends[0]) != "switched":
        return False
    sides = [side for load in circuit.loads for side in ((load.a, load.b), (load.b, load.a))]
    sides += [(outlet.hot, outlet.neutral) for outlet in circuit.outlets]
    piece = uses.piece[conductor.ends[0]]
    return any(uses.piece[hot] == piece and uses.of(other) == "neutral" for hot, other in sides)


def _feed_beside(case: Case, run: Run, conductor: Conductor) -> Conductor | None:
    """The wire of the same cable that takes the feed to the switch, if one does."""
    uses = case.uses
    legs = uses.legs(conductor.ends[0])
    return next(
        (one for one in run.conductors if uses.of(one.ends[0]) == "hot" and uses.legs(one.ends[0]) == legs),
        None,
    )


def _odd(case: Case, ends: Ends) -> Join:
    """The join in which a wire is with what it does not say that it is; else its first."""
    for join, member in ends:
        own = purpose.of_member(member, case.board)
        if any(purpose.of_member(other, case.board) not in (own, None) for other in join.members):
            return join
    return ends[0][0]


def _swapped(run: Run, wrong: list[Miscolored]) -> ColorsSwapped | None:
    """One problem for two, where a white is the hot and a colored wire the neutral."""
    white = [one for one in wrong if isinstance(one, WhiteNotMarked | MarkedAsNoHot | WhiteComesBack)]
    colored = [one for one in wrong if isinstance(one, HotColorAs) and one.use == "neutral"]
    if len(wrong) != 2 or not white or not colored:
        return None
    first, second = sorted(wrong, key=lambda one: one.at.span)
    return ColorsSwapped(
        at=first.at,
        about=run,
        severity="violation",
        stage="trim",
        copper=first.copper | second.copper,
        conductors=(first.conductor, second.conductor),
        run=run,
        other=second.at,
    )


def words(problem: Miscolored, case: Case) -> Words:
    """What the color says, what the wire is used for, and which color or mark puts it right."""
    wire = problem.conductor
    section = case.code.section
    match problem:
        case GroundAsHot():
            names = listed((one.name for one in problem.conductors), MOST_NAMED)
            are = "are" if len(problem.conductors) > 1 else "is"
            return Words(
                f"{names} {are} {wire.color} and used as a hot. Everyone takes that for the ground and will "
                "touch it.",
                "Use an insulated wire for the hot. A bare or green wire is a ground and nothing else.",
                section("color of a ground"),
            )
        case WhiteOnGround():
            return Words(
                f"{wire.name} is {wire.color} and is on the ground. Someone who takes it for a neutral will "
                "send current over bare metal.",
                f"Ground with a bare or green wire. Then join {wire.name} to the neutrals, or cap it at both "
                "ends.",
                section("color of a neutral", "neutral grounds no metal"),
            )
        case HotColorAs():
            colors = "white or gray" if problem.use == "neutral" else "bare or green"
            return Words(
                f"{wire.name} is {wire.color}, the color of a hot, and serves as a {problem.use}.",
                f"Use a {colors} wire for the {problem.use}. Only {case.code.written(LARGE)} and larger may "
                "be marked as one instead, at every end.",
                section("color of a small neutral" if problem.use == "neutral" else "color of a ground"),
            )
        case WhiteMarked():
            mark = problem.marked.marked or ""
            meant = purpose.of_color(mark)
            return Words(
                f"{wire.name} is marked {mark}, as a {meant} is, in {problem.place}, and "
                f"{'here' if problem.here else 'there'} it is among the {problem.use}s.",
                f"If it should be a {meant}, join it to the {meant}s and mark it here too. If it is the "
                "neutral, take the mark off.",
                section("color of a neutral", "use of white"),
            )
        case ColorsSwapped():
            other = problem.conductors[1]
            return Words(
                f"In {problem.run.name} the white is a hot and a colored wire is the neutral.",
                f"With the breaker off, swap {wire.name} and {other.name} at both ends.",
                section("color of a neutral", "use of white"),
                also=(Note("and here", problem.other.span),),
                guess=f"{wire.name} and {other.name} are swapped.",
            )
        case UnusualColor():
            return _unusual(problem.odd, case)
    return _of_a_hot(problem, case)


def _unusual(odd: OddColor, case: Case) -> Words:
    """Of a thermostat's wire, and where its color says that it belongs, if that is on the same device."""
    terminal, wire, better = odd.terminal, odd.conductor.name, odd.better
    usual = usual_colors(terminal.spec.carries) if terminal.spec.carries else ()
    seen = f"{wire} is on {terminal.spec.name}, where {' or '.join(usual)} is usual."
    used = all(made_up.join_at(case, end) is not None for end in better.ends)
    act = f"swap {wire} and {better.name}" if used else f"use {better.name} for {terminal.spec.name}"
    other = _of_its_color(case, odd)
    if other is None:
        remedy = f"{act[0].upper()}{act[1:]} at both ends."
        return Words(f"{seen} The next technician will look twice.", remedy, "common practice")
    return Words(
        f"{seen} Its color is usual for {other.spec.name}.",
        f"If it is meant for {other.name}, put it there. If not, {act} at both ends.",
        "common practice",
    )


def _of_its_color(case: Case, odd: OddColor) -> Terminal | None:
    """The terminal of the same device that a wire's color is usual for, unless it goes from like to like."""
    if _from_like_to_like(case, odd):
        return None
    carries = usually_carries(odd.conductor.color)
    own = (one for one in case.board.terminals.values() if one.owner == odd.terminal.owner)
    return next((one for one in own if carries is not None and one.spec.carries == carries), None)


def _from_like_to_like(case: Case, odd: OddColor) -> bool:
    """Whether both ends of a wire are on terminals that carry the same."""
    joins = (made_up.join_at(case, end) for end in odd.conductor.ends)
    ends = [{screw.spec.carries for screw in carrying(join, case.board)} if join else set() for join in joins]
    return bool(ends[0] & ends[1])


def _of_a_hot(problem: Miscolored, case: Case) -> Words:
    """The same for a wire that serves as a hot and may be one."""
    wire = problem.conductor
    section = case.code.section
    match problem:
        case SingleWhiteAsHot():
            return Words(
                f"{wire.name} is a single {wire.color} wire and serves as a hot. Only the {wire.color} of a "
                "cable may be marked as one: a single wire comes in every color.",
                "Pull a black, red or blue wire in its place.",
                section("white is for neutrals", "white of a cable as a hot"),
            )
        case MarkedAsNoHot():
            return Words(
                f"{wire.name} serves as a hot and is marked {problem.marked.marked}, which is not a color "
                "of hots.",
                "Mark it black or red at every end."
                if purpose.of_color(wire.color) == "neutral"
                else "Take the mark off.",
                section("white of a cable as a hot"),
            )
        case WhiteNotMarked():
            which = "one of its ends is" if problem.partly else "it is"
            return Words(
                f"{wire.name} is {wire.color} and serves as a hot, and {which} not marked in "
                f"{problem.joins[0].place}. The next person takes it for a neutral.",
                f"Wrap colored tape around it at every end, and write: {wire.name} marked black",
                section("white of a cable as a hot"),
                also=tuple(
                    Note(f"not marked in {join.place} either", join.span) for join in problem.joins[1:]
                ),
            )
        case WhiteComesBack():
            feed = problem.feed
            return Words(
                f"{wire.name} brings the switched hot back from the switch"
                + (f", and {feed.name} takes the feed. " if feed else ". ")
                + f"In a switch loop the marked {wire.color} is the feed or a traveler. The way back to the "
                "light is another color.",
                f"With the breaker off, swap {wire.name} and {feed.name} at both ends, marks too."
                if feed
                else f"Bring it back on a colored wire of the same cable, and use the marked {wire.color} "
                "for the feed or a traveler.",
                section("white of a switch loop"),
            )
    raise TypeError(type(problem))


RULE = rule(__name__, "trim", severities=("hazard", "violation", "advice"), find=find, words=words)

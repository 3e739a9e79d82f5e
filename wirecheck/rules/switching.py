"""A light or an outlet does not do what the board's `expect` line asks, or what 3-way switches are for.

Each switch that the line names must turn it on and off, however the others stand, and no other switch
may. A disconnect that it names beside them cuts it off, and the switches need it on. What is to be live
always must be live in every position: only a disconnect that stands off is no fault of the board. Every
position is tried. A control of the load's own that is no safety is taken as closed. Where no line names
it, 3-way and 4-way switches must each turn it on and off in every position of the others.

Source: the board's own `expect` lines; common practice for 3-way and 4-way switching
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from wirecheck.circuit.opening import Opening
from wirecheck.circuit.positions import Group, combinations
from wirecheck.circuit.settle import View, holds
from wirecheck.judge import made_up
from wirecheck.judge.case import Case
from wirecheck.judge.continuity import NotJoined, Stop, TooLittle, Wanted, why_no_volts
from wirecheck.judge.finding import Note
from wirecheck.judge.judged import judged
from wirecheck.judge.problem import LOOK_AGAIN, Problem, Spot, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.stop_words import remedy, said
from wirecheck.judge.switch_swaps import swap
from wirecheck.judge.target_words import behavior, on_one_hot, with_positions
from wirecheck.judge.targets import Target, Tried, changes, group_of, targets, tried, tried_beyond, turned_by
from wirecheck.judge.unfed import DEAD_VOLTS
from wirecheck.judge.voltages import is_line
from wirecheck.language.listing import listed
from wirecheck.language.quantity import volts
from wirecheck.language.syntax import ExpectFrom, ExpectLive
from wirecheck.model.board import Device, Join, Terminal

# How many positions are searched at most for what is missing in all of them.
MOST_ROWS = 16
# An outlet with more than this share of its volts burns what is plugged in (common practice).
TOO_MUCH = 1.15


class Swapped(NamedTuple):
    """The wires of two screws are swapped; `joins` puts them there, in order of the text."""

    screws: tuple[Terminal, Terminal]
    joins: tuple[Join, ...]


class TurnedOff(NamedTuple):
    """What should always be live is dead in some positions, of which this is the first."""

    dark: Tried


class TooManyVolts(NamedTuple):
    """It has more volts than it is made for, the most in this position."""

    most: Tried


class InWrongPositions(NamedTuple):
    """It is on in the wrong positions, or glows, for a reason that no single place shows.

    Whether it is ever on, ever off, or glows; `too` are switches that change it and should not.
    """

    on: bool
    off: bool
    glows: bool
    too: tuple[str, ...]


Why = Swapped | TurnedOff | TooManyVolts | InWrongPositions | Stop


class NotAsAsked(Problem):
    """A target that does not do what is asked of it, and why; `others` have the same cause.

    `rows` are every position that was tried, `opened` what trips in some of them: then nobody can
    say what else is wrong. `switches` are those that should turn it on and off; `asked` are the lines
    that ask for it, none where it is asked of every 3-way and 4-way switch. `middle` is one of them that
    is no 4-way switch and stands where one belongs, if that is why.
    """

    target: Target
    rows: tuple[Tried, ...]
    why: Why
    switches: tuple[str, ...]
    asked: tuple[ExpectFrom | ExpectLive, ...]
    opened: frozenset[Opening]
    middle: Device | None
    others: tuple[NotAsAsked, ...] = ()


def find(case: Case) -> Iterator[NotAsAsked]:
    """Each target that does not do what is asked; those with one cause in common are one problem."""
    together: dict[object, NotAsAsked] = {}
    for problem in (*_asked_for(case), *_unasked(case)):
        cause = _cause(problem, case)
        first = together.setdefault(cause, problem)
        if first is not problem:
            together[cause] = first.but(
                others=(*first.others, problem),
                asked=tuple(dict.fromkeys((*first.asked, *problem.asked))),
            )
    yield from together.values()


def surely(case: Case, before: object) -> bool:
    """Whether some load is not turned on and off by just the switches that a line names."""
    return any(
        not _turned(tried(case, target, group), [word.text for word in asked.switches])
        for asked in case.board.expectations
        if isinstance(asked, ExpectFrom)
        for target in targets(case.circuit, asked.load.text)
        if (group := group_of(case, target)) is not None
    )


def _asked_for(case: Case) -> Iterator[NotAsAsked]:
    """Each target of a line that does not do what the line asks."""
    lines = (one for one in case.board.expectations if isinstance(one, ExpectFrom | ExpectLive))
    yield from judged(case, lines, _of_line)


def _of_line(case: Case, asked: ExpectFrom | ExpectLive) -> Iterator[NotAsAsked]:
    name = asked.load if isinstance(asked, ExpectFrom) else asked.outlet
    for target in targets(case.circuit, name.text):
        yield from _judged(case, target, asked)


def _unasked(case: Case) -> Iterator[NotAsAsked]:
    """Each target of no line that its 3-way and 4-way switches turn on and off in some positions only."""
    named = set(_named(case))
    for group in case.groups:
        several = tuple(name for name in group.switches if _always_passes(case, name))
        if not several or not combinations(case.circuit, group)[1]:
            continue
        for name in sorted((group.loads | group.outlets) - named):
            target = targets(case.circuit, name)[0]
            if not is_line(case, target.rated):
                continue
            rows = tried(case, target, group)
            switches = tuple(one for one in several if changes(rows, one))
            if switches and not _toggled(rows, several, switches):
                screws = swap(case, target, group, switches)
                off, glows = any(not row.on for row in rows), any(target.glows(row.volts) for row in rows)
                why = _swapped(case, screws) if screws else InWrongPositions(True, off, glows, ())
                yield _problem(case, target, rows, why, switches, ())


def _named(case: Case) -> Iterator[str]:
    """The loads and outlets that `expect` lines name."""
    for one in case.board.expectations:
        if isinstance(one, ExpectFrom | ExpectLive):
            name = one.load if isinstance(one, ExpectFrom) else one.outlet
            yield from (target.name for target in targets(case.circuit, name.text))
            yield from (outlet.name for outlet in case.circuit.outlets_of(name.text))


def _always_passes(case: Case, switch: str) -> bool:
    """Whether a switch has no position in which it is off, as a 3-way and a 4-way have none."""
    circuit = case.circuit
    own = [contact for contact in circuit.contacts if contact.scope == switch]
    return len(own) > 1 and all(
        any(
            holds(
                one.when,
                switch,
                View(circuit, {switch: value}, frozenset(), frozenset(), (), frozenset(), {}),
            )
            for one in own
        )
        for value in circuit.variables[switch].values
    )


def _toggled(rows: Sequence[Tried], several: tuple[str, ...], switches: tuple[str, ...]) -> bool:
    """Whether each of the switches turns it on and off, however the others stand, where any of them does."""
    among: dict[tuple[str, ...], list[Tried]] = {}
    for row in rows:
        rest = tuple(value for name, value in row.positions.items() if name not in several)
        among.setdefault(rest, []).append(row)
    for there in among.values():
        if len({row.on for row in there}) == 1:
            continue
        for switch in switches:
            seen: dict[tuple[str, ...], set[bool]] = {}
            for row in there:
                others = tuple(value for name, value in row.positions.items() if name != switch)
                seen.setdefault(others, set()).add(row.on)
            if any(len(on) == 1 for on in seen.values()):
                return False
    return True


def _cause(problem: NotAsAsked, case: Case) -> object:
    """What is alike where several targets have one cause."""
    match problem.why:
        case Swapped(screws, _):
            return screws
        case Stop(end=NotJoined(here, on)):
            return case.uses.piece[here.name], case.uses.piece[on.name]
        case Stop():
            return problem.at.span, problem.why.end
        case InWrongPositions():
            return problem.at.span, problem.why
    return problem.at.span, type(problem.why)


def _judged(case: Case, target: Target, asked: ExpectFrom | ExpectLive) -> Iterator[NotAsAsked]:
    """What is wrong with one target, if anything is."""
    group = group_of(case, target)
    if group is None:
        return
    rows = tried(case, target, group)
    if isinstance(asked, ExpectFrom) and (wider := _with_named(case, group, asked)) != group:
        group, rows = wider, tried_beyond(case, target, wider)
    if isinstance(asked, ExpectLive):
        why = _why_not_live(case, target, _in_service(rows))
    else:
        why = _why_not_switched(case, target, group, rows, tuple(word.text for word in asked.switches))
    if why is not None:
        switches = tuple(word.text for word in asked.switches) if isinstance(asked, ExpectFrom) else ()
        yield _problem(case, target, rows, why, switches, (asked,))


def _with_named(case: Case, group: Group, asked: ExpectFrom) -> Group:
    """The switches that a target feels, and what a line names that no hand moves, as a pressure switch."""
    named = dict.fromkeys(word.text for word in asked.switches)
    others = (name for name in named if name in group.devices and name in case.circuit.variables)
    return group._replace(switches=tuple(dict.fromkeys((*group.switches, *others))))


def _in_service(rows: Sequence[Tried]) -> tuple[Tried, ...]:
    """The positions in which every disconnect stands on: off is for those who work on what it serves."""
    return tuple(row for row in rows if not _disconnected(row))


def _disconnected(row: Tried) -> frozenset[str]:
    """The disconnects among the switches that are tried that stand off."""
    contacts = row.settled.circuit.contacts
    opened = (one for one in contacts if "disconnect" in one.flags and one.scope in row.positions)
    return frozenset(one.scope for one in opened if one.name not in row.settled.closed)


def _disconnects(rows: Sequence[Tried], switches: Sequence[str]) -> tuple[str, ...]:
    """The disconnects among some switches."""
    cutting = {one.scope for one in rows[0].settled.circuit.contacts if "disconnect" in one.flags}
    return tuple(name for name in switches if name in cutting)


def _turned(rows: Sequence[Tried], switches: Sequence[str]) -> bool:
    """Whether just these switches turn it on and off; a disconnect of several only cuts it off."""
    cutting = _disconnects(rows, switches)
    if len(switches) < 2 or not cutting:
        return turned_by(rows, switches)
    served = [row for row in rows if _disconnected(row).isdisjoint(cutting)]
    return (
        turned_by(served, [name for name in switches if name not in cutting])
        and all(changes(rows, name) for name in cutting)
        and not any(row.on for row in rows if row not in served)
    )


def _problem(
    case: Case,
    target: Target,
    rows: tuple[Tried, ...],
    why: Why,
    switches: tuple[str, ...],
    asked: tuple[ExpectFrom | ExpectLive, ...],
) -> NotAsAsked:
    """A target that does not do what is asked of its switches."""
    at = spot(asked[0]) if asked else spot(case.circuit.around[target.of.device][0])
    middle = _in_the_middle(case, switches) if isinstance(why, InWrongPositions) else None
    if middle is not None:
        at = spot(middle)
    return NotAsAsked(
        at=_at(case, target, why) or at,
        about=target.of,
        severity="hazard" if isinstance(why, TooManyVolts) else "fault",
        stage="final",
        copper=frozenset(case.uses.piece[point] for point in (target.a, target.b)),
        target=target,
        rows=rows,
        why=why,
        switches=switches,
        asked=asked,
        opened=frozenset(opening for row in rows for opening in row.opened),
        middle=middle,
    )


def _why_not_live(case: Case, target: Target, rows: tuple[Tried, ...]) -> Why | None:
    """Why an outlet is not always live, or is more than that."""
    most = max(rows, key=lambda row: row.volts)
    if most.volts > TOO_MUCH * target.rated:
        return TooManyVolts(most)
    dark = next((row for row in rows if not row.on), None)
    if dark is None or most.volts < DEAD_VOLTS:
        # What never has power is no matter of switches: dead-outlet says where its path stops.
        return None
    return TurnedOff(dark) if any(row.on for row in rows) else _stop(case, target, rows)


def _why_not_switched(
    case: Case, target: Target, group: Group, rows: tuple[Tried, ...], switches: tuple[str, ...]
) -> Why | None:
    """Why some switches do not turn a target on and off, or others do."""
    if _turned(rows, switches):
        return None
    screws = swap(case, target, group, switches)
    if screws is not None:
        return _swapped(case, screws)
    wrong = InWrongPositions(
        on=any(row.on for row in rows),
        off=any(not row.on for row in rows),
        glows=any(target.glows(row.volts) for row in rows),
        too=tuple(name for name in rows[0].positions if name not in switches and changes(rows, name)),
    )
    return wrong if wrong.on or wrong.glows else _stop(case, target, rows)


def _swapped(case: Case, screws: tuple[Terminal, Terminal]) -> Swapped:
    """Two screws whose wires are swapped, with the joins that put them there."""
    joins = [join for one in screws if (join := made_up.join_at(case, one.name)) is not None]
    return Swapped(screws, tuple(sorted(joins, key=lambda join: join.span)))


def _stop(case: Case, target: Target, rows: tuple[Tried, ...]) -> Stop:
    """Where the path stops in the position in which the least is missing: that is a wire, and no switch."""
    wanted = Wanted(target.of, target.a, target.b, target.rated)
    stops = (why_no_volts(case, row.settled, wanted) for row in rows[:MOST_ROWS])
    return min(stops, key=lambda stop: stop.steps)


def _at(case: Case, target: Target, why: Why) -> Spot | None:
    """The line that the hand would change, where it is known."""
    match why:
        case Stop():
            return why.at
        case Swapped(_, joins):
            return spot(joins[0]) if joins else None
        case TooManyVolts():
            join = made_up.join_at(case, target.b)
            return spot(join) if join is not None else None
    return None


# -------------------------------------------------------------------- words


def words(problem: NotAsAsked, case: Case) -> Words:
    """What it does, what it should do, and what to do about it."""
    why, name = problem.why, problem.target.name
    volts_seen: float | None = None
    also: list[Note] = []
    guess, look = "", None
    match why:
        case Swapped(screws, joins):
            message, guess = _does(problem), _on_screws(screws)
            help_text = f"Swap the wires on {screws[0].name} and {screws[1].name}."
            also = [Note("the other one", join.span) for join in joins if join.span != problem.at.span]
        case InWrongPositions():
            message, help_text = _wrong_positions(why, problem, case)
            look = _at_what_turns_too(why, problem)
            if problem.middle is not None:
                middle = problem.middle.name
                message += f" {middle} stands between two others, and is no 4-way switch."
                look = (
                    f"{LOOK_AGAIN} at {middle}. A 4-way switch belongs there: the two wires from "
                    "one side on one pair of its screws, and the two from the other side on the other pair."
                )
        case TooManyVolts(most):
            volts_seen = most.volts
            message = (
                f"{name} is made for {volts(problem.target.rated)} and has {volts(most.volts)}"
                f"{with_positions(most.positions)}: it burns out what is plugged in."
            )
            help_text = "Bring it one hot and the neutral, not two hots of different legs."
        case TurnedOff(dark):
            volts_seen = dark.volts
            message = (
                f"{name} should always be live, and has {volts(dark.volts)}{with_positions(dark.positions)}."
            )
            help_text = "Feed it ahead of the switch, from the hot that is always live."
        case Stop():
            if not problem.switches:
                volts_seen = problem.rows[0].volts
                message = _never_whole(problem, why, case)
            else:
                message = f"{_does(problem)} {said(why, case)}"
            help_text = remedy(why)
    message += "".join(_others(problem))
    also += [
        Note("what the board asks for", one.span) for one in problem.asked if one.span != problem.at.span
    ]
    return Words(
        message=message,
        help=help_text,
        source=_asks(problem.asked[0]) if problem.asked else "common practice",
        value=volts_seen,
        limit=problem.target.rated if volts_seen is not None else None,
        unit="V" if volts_seen is not None else None,
        also=tuple(also),
        guess=guess,
        look=look,
    )


def _asks(asked: ExpectFrom | ExpectLive) -> str:
    """The line of the board that asks for it."""
    if isinstance(asked, ExpectLive):
        return f"expect {asked.outlet.text} live"
    return f"expect {asked.load.text} from {', '.join(word.text for word in asked.switches)}"


def _does(problem: NotAsAsked) -> str:
    """What it does, and what its switches should do."""
    does = f"{behavior(problem.rows, problem.target)}."
    switches = problem.switches
    if len(switches) > 1:
        each = "Either of" if len(switches) == 2 else "Each of"
        return f"{does} {each} {listed(switches)} should turn it on or off from any position."
    return f"{does} {switches[0]} should turn it on and off."


def _never_whole(problem: NotAsAsked, why: Stop, case: Case) -> str:
    """What has less than its volts with every switch on, and why."""
    name = problem.target.name
    if isinstance(why.end, TooLittle) and not why.through:
        there, needed = why.end.present, problem.target.rated
        return (
            f"{name} is made for {volts(needed, beside=there)} and has {volts(there, beside=needed)}. "
            "It should always be live."
        )
    return f"{name} should always be live, and is dead. {said(why, case)}"


def _others(problem: NotAsAsked) -> Iterator[str]:
    """What has the same cause: what does the same, and what else each of the rest does."""
    alike = [one for one in problem.others if _pattern(one) == _pattern(problem)]
    if alike:
        yield f" The same goes for {listed(one.target.name for one in alike)}."
    for one in problem.others:
        if one not in alike:
            yield f" {_does(one)}" if one.switches else f" {one.target.name} should always be live."


def _pattern(problem: NotAsAsked) -> object:
    """With which switches it is on, where some should turn it on and off; nothing where it never is."""
    if not problem.switches or not any(row.on or problem.target.glows(row.volts) for row in problem.rows):
        return ()
    return problem.switches, [(row.positions, row.on) for row in problem.rows]


def _on_screws(screws: tuple[Terminal, Terminal]) -> str:
    """Which wires are swapped, in a sentence."""
    one, other = screws
    if one.owner == other.owner:
        return f"On {one.owner}, the wires on the {one.spec.name} and {other.spec.name} screws are swapped."
    return f"The wires on {one.name} and {other.name} are swapped."


def _wrong_positions(why: InWrongPositions, problem: NotAsAsked, case: Case) -> tuple[str, str]:
    """What it does, and where to look, where no single place shows what is wrong."""
    if why.glows:
        return (
            f"{behavior(problem.rows, problem.target)}.",
            "Bring it both hots, from a two-pole breaker."
            if any(on_one_hot(row.settled, problem.target) for row in problem.rows)
            else "Give each load a path of its own: hot to its hot side, neutral to its neutral side.",
        )
    if not why.off:
        return (
            _does(problem),
            "Look for a path that goes around the switches, or a feed on the wrong side of one.",
        )
    if why.too:
        name, too, switches = problem.target.name, listed(why.too), listed(problem.switches)
        one = len(why.too) == 1
        if _disconnects(problem.rows, why.too) == why.too:
            return (
                f"{'The disconnect' if one else 'The disconnects'} {too} {'cuts' if one else 'cut'} off "
                f"{name}, and the expect line names {switches} alone.",
                f"{_name_too(why.too, problem)} If not, wire {name} so that {too} {'is' if one else 'are'} "
                "not on its path.",
            )
        return (
            f"{too} {'turns' if one else 'turn'} {name} on or off, and only {switches} should.",
            f"Wire {name} so that {too} {'is' if one else 'are'} not on its path. Or name "
            f"{'it' if one else 'them'} in the expect line, if {name} should be turned from there too.",
        )
    commons = [
        f"{device.name}.{screw}"
        for name in problem.rows[0].positions
        for device in [case.circuit.devices[name]]
        for screw in _common(device)
    ]
    if len(commons) > 1:
        return (
            _does(problem),
            f"Check the wires on {listed(commons)}: the feed belongs on one, the wire to the load on "
            "another, and the travelers on the other screws.",
        )
    return _does(problem), "Follow the feed to each switch, and what leaves it to its own load and no other."


def _at_what_turns_too(why: InWrongPositions, problem: NotAsAsked) -> str | None:
    """Where to look for what turns it on or off and should not: at that, and not at all that it is fed by."""
    if not why.too or why.glows or not why.off:
        return None
    cutting = _disconnects(problem.rows, why.too) == why.too
    named = f" {_name_too(why.too, problem)}" if cutting else ""
    return f"{LOOK_AGAIN} at each wire on {listed(why.too)}.{named}"


def _name_too(disconnects: tuple[str, ...], problem: NotAsAsked) -> str:
    """That disconnects may be there for it, and how the board says so."""
    name, too = problem.target.name, listed(disconnects)
    them, line = "it" if len(disconnects) == 1 else "them", ", ".join((*problem.switches, *disconnects))
    return f"If {too} should cut off {name}, name {them} too: expect {name} from {line}."


def _in_the_middle(case: Case, switches: tuple[str, ...]) -> Device | None:
    """Of three switches or more that each have a common, the one that wires lead to from two others.

    With a 3-way switch at each end, all between them are 4-way (common practice).
    """
    board = case.board
    devices = {name: board.devices[name] for name in switches if name in board.devices}
    if len(switches) < 3 or len(devices) < len(switches) or not all(map(_common, devices.values())):
        return None
    on_wire: dict[str, set[str]] = {}
    for join in board.joins:
        owners = {board.terminals[one.name].owner for one in join.members if one.name in board.terminals}
        for member in join.members:
            if member.kind == "end":
                on_wire.setdefault(member.name, set()).update(owners & devices.keys())
    between = [
        device
        for name, device in devices.items()
        if len(set().union(*(those for those in on_wire.values() if name in those))) > 2
    ]
    return between[0] if len(between) == 1 else None


def _common(device: Device) -> frozenset[str]:
    """The screw that a switch ties to one of several others."""
    ends = [frozenset((one.a, one.b)) for one in device.part.contacts if one.when is not None]
    return frozenset.intersection(*ends) if len(ends) > 1 else frozenset()


RULE = rule(
    __name__, "final", severities=("hazard", "fault"), find=find, words=words, surely=surely, of_ties=True
)

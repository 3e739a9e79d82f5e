"""What a machine waits for on its call terminal comes from power, or is another call.

On power it is called for good: a compressor that never stops, with nothing that asked for it. On the wire of
the fan it starts as the fan does, also while nobody wants cooling. The color of the wire may be the usual one
at its other end, so that nothing looks wrong there.

Source: common practice for 24 V controls: each call goes from the thermostat's terminal to its like
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge import made_up, ways
from wirecheck.judge.calls_itself import calls_itself
from wirecheck.judge.case import Case
from wirecheck.judge.control_wires import STAGES, carrying
from wirecheck.judge.made_up import at_screw
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.screws_on import is_thermostats, screws_on
from wirecheck.judge.unfed import DEAD_VOLTS
from wirecheck.language.listing import listed
from wirecheck.model.board import Join, Terminal

# The calls that something else than its own may not make. For want of a wire a fan may run with another call.
CALLS = ("heat", "second-heat", "cool", "second-cool")
# What power is tied to for good changes nothing for anybody.
FOR_GOOD = (*CALLS, "fan")
# How a sentence names what is called for.
CALLED = {
    "heat": "heat",
    "second-heat": "more heat",
    "cool": "the compressor",
    "second-cool": "more cooling",
    "fan": "the fan",
}


class OnPower(Problem):
    """`terminal`, which waits for a call that a thermostat can make, is tied to `power` in `join`."""

    terminal: Terminal
    power: Terminal
    join: Join


class OnAnother(Problem):
    """`terminal` hears the call of `instead` of a thermostat alone; that of `meant` reaches no like of it."""

    terminal: Terminal
    instead: Terminal
    meant: Terminal


Kind = OnPower | OnAnother


def find(case: Case) -> Iterator[Kind]:
    """Each terminal of equipment for a call that a thermostat on the board can make."""
    thermostats = [terminal for terminal in case.board.terminals.values() if is_thermostats(case, terminal)]
    told: set[int] = set()
    for terminal in case.board.terminals.values() if thermostats else ():
        carried = terminal.spec.carries
        meant = next((one for one in thermostats if one.spec.carries == carried), None)
        if meant is None or carried not in FOR_GOOD or is_thermostats(case, terminal):
            continue
        # A thermostat's screw without a wire is not used: nothing waits for its call.
        if calls_itself(case, terminal) or made_up.join_at(case, meant.name) is None:
            continue
        piece = case.uses.piece[terminal.name]
        # Those of control wiring.
        there = tuple(one for one in screws_on(case)[piece] if one.spec.carries is not None)
        given = [one for one in there if one.spec.carries == "power" and not is_thermostats(case, one)]
        if given and piece not in told:
            told.add(piece)
            yield from _on_power(case, terminal, given)
        elif carried in CALLS and not given:
            yield from _on_another(case, terminal, meant, there)


def _on_power(case: Case, terminal: Terminal, given: list[Terminal]) -> Iterator[OnPower]:
    """It, where joins and wires tie it to power, and no copper inside of one machine does."""
    way = ways.way(case, [terminal.name], {one.name for one in given}, ways.nothing)
    if way is not None and way.joins and _has_volts(case, terminal):
        join = next((one for one in way.joins if _has_power(case, one)), way.joins[-1])
        yield OnPower(
            at=spot(join),
            about=terminal,
            severity="fault",
            stage="final",
            copper=frozenset((case.uses.piece[terminal.name],)),
            terminal=terminal,
            power=next(one for one in given if one.name == way.points[-1]),
            join=join,
        )


def _has_power(case: Case, join: Join) -> bool:
    return any(screw.spec.carries == "power" for screw in carrying(join, case.board))


def _has_volts(case: Case, terminal: Terminal) -> bool:
    """Whether a terminal has volts to its machine's common with no call, or that has no common."""
    commons = [
        one.name
        for one in case.board.terminals.values()
        if one.owner == terminal.owner and one.spec.carries == "common"
    ]
    rest = case.standing({}).first or case.standing({})
    return not commons or any(rest.across(terminal.name, common) > DEAD_VOLTS for common in commons)


def _on_another(
    case: Case, terminal: Terminal, meant: Terminal, there: tuple[Terminal, ...]
) -> Iterator[OnAnother]:
    """It, where one thermostat's terminal is on it, for another call that has a terminal of its own there."""
    carried = terminal.spec.carries
    calling = [one for one in there if is_thermostats(case, one)]
    if len(calling) != 1 or calling[0].owner != meant.owner:
        return
    other = calling[0].spec.carries
    heard = [one.spec.carries for one in there if not is_thermostats(case, one)]
    unheard = all(
        one.spec.carries != carried or is_thermostats(case, one)
        for one in screws_on(case)[case.uses.piece[meant.name]]
    )
    if (
        other not in (None, "common", "power", carried)
        and other in heard
        and unheard
        and {carried, other} not in STAGES
    ):
        yield OnAnother(
            at=at_screw(case, next(one for one in there if one.spec.carries == other and one not in calling)),
            about=terminal,
            severity="fault",
            stage="final",
            copper=frozenset(case.uses.piece[one.name] for one in (terminal, meant)),
            terminal=terminal,
            instead=calling[0],
            meant=meant,
        )


def words(problem: Kind, case: Case) -> Words:
    """What makes the call, and what should."""
    terminal = problem.terminal
    call = CALLED[terminal.spec.carries or ""]
    source = "common practice: each call goes from the thermostat to its like"
    if isinstance(problem, OnPower):
        screws = listed(member.name for member in problem.join.members if member.kind != "pigtail")
        return Words(
            message=f"{terminal.name} is one piece of copper with {problem.power.name}: {terminal.owner} is "
            f"called for {call} all the time, and no thermostat can stop it.",
            help=f"Look at {screws} in {problem.join.place}: take apart what ties the two. Bring "
            f"{terminal.name} the wire of the thermostat's call for {call}.",
            source=source,
        )
    return Words(
        message=f"{terminal.name} waits for the call for {call}, and hears that of {problem.instead.name}. "
        f"{problem.meant.name} reaches nothing that waits for it.",
        help=f"Take what goes to {terminal.name} off there. Join it with the wire of {problem.meant.name}.",
        source=source,
    )


RULE = rule(__name__, "final", severities=("fault",), find=find, words=words)

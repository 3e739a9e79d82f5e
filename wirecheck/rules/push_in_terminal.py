"""A wire is pushed into the back of a device where only a screw may hold it.

In a push-in hole a thin leaf of brass holds the wire and carries all of its current. It is made for solid
14 AWG copper on a circuit of 15 A, and for nothing else: with more current, or a wire that the leaf does not
close on, it heats, lets go and burns. A device of 20 A has no such holes, and many another has none.

Source: NEC 406.3(D)(3), 110.3(B); UL 498, UL 20 (from memory)
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.finding import Note
from wirecheck.judge.guard_words import begun
from wirecheck.judge.guards import Guarded, behind
from wirecheck.judge.holder import holder
from wirecheck.judge.limit import over
from wirecheck.judge.problem import Problem, Words, spot
from wirecheck.judge.rule import rule
from wirecheck.judge.size_words import gauge
from wirecheck.language.listing import listed
from wirecheck.language.quantity import amps
from wirecheck.language.syntax import Quantity
from wirecheck.model.board import Box, Breaker, Device, Join, Panel, Terminal
from wirecheck.tables.sizes import trade_size

# How many wires one message names.
MOST_NAMED = 4


Holder = Device | Breaker | Panel | Box


class PushedIn(Problem):
    """Wires in the push-in holes of a device, on the lines of `joins`, which may not be there.

    `no_holes` are its screws that have none beside them. `wires` are those that are not 14 AWG copper, each
    with what it is; `guard` is the breaker or fuse of more than 15 A behind them.
    """

    device: Holder
    joins: tuple[Join, ...]
    no_holes: tuple[Terminal, ...]
    wires: tuple[tuple[str, str], ...]
    guard: Guarded | None


def find(case: Case) -> Iterator[PushedIn]:
    """Each device that wires are pushed into, on whatever lines."""
    there: dict[str, list[tuple[Join, Terminal]]] = {}
    for join in case.board.joins:
        for name in join.under if join.pushed else ():
            terminal = case.board.terminals[name]
            there.setdefault(terminal.owner, []).append((join, terminal))
    for pushed in there.values():
        yield from _pushed(case, holder(case, pushed[0][1]), pushed)


def _pushed(case: Case, device: Holder, pushed: list[tuple[Join, Terminal]]) -> Iterator[PushedIn]:
    most = case.code.limit("circuit of push-in terminals")
    rated = device.values.get("current") if isinstance(device, Device) else None
    large = isinstance(rated, Quantity) and over(rated.value, most)
    without = [one for _, one in pushed if large or "push-in" not in one.spec.flags]
    wires = {wire: what for join, terminal in pushed for wire, what in _unfit(case, join, terminal)}
    behind_it = (behind(case, join, terminal.name) for join, terminal in pushed)
    guards = [one for one in behind_it if one is not None and over(one.amps, most)]
    if without or wires or guards:
        joins = tuple({join.span: join for join, _ in pushed}.values())
        yield PushedIn(
            at=spot(joins[0]),
            about=device,
            severity="violation",
            stage="trim",
            copper=frozenset(case.uses.piece[terminal.name] for _, terminal in pushed),
            device=device,
            joins=joins,
            no_holes=tuple({one.name: one for one in without}.values()),
            wires=tuple(wires.items()),
            guard=max(guards, key=lambda one: one.amps, default=None),
        )


def _unfit(case: Case, join: Join, terminal: Terminal) -> Iterator[tuple[str, str]]:
    """The wires that the leaf of a hole is not made for: all but 14 AWG copper."""
    fits = trade_size(case.code.written("wire of push-in terminals"))
    for member in join.under[terminal.name]:
        wire = case.board.conductors.get(member.name)
        size = member.size if wire is None else wire.size
        metal = "copper" if wire is None else wire.material
        if size is not None and (size != fits or metal != "copper"):
            name = f"the pigtail to {terminal.name}" if wire is None else wire.name
            yield name, f"{gauge(size)} {metal}"


def words(problem: PushedIn, case: Case) -> Words:
    """What is wrong with it there: the device, the wire or the circuit."""
    device, guard = problem.device, problem.guard
    fits = case.code.written("wire of push-in terminals")
    most = amps(case.code.limit("circuit of push-in terminals"))
    reasons = []
    if problem.no_holes:
        names = listed([one.name for one in problem.no_holes], MOST_NAMED)
        reasons.append(f"{names} {'have' if len(problem.no_holes) > 1 else 'has'} no push-in hole")
    for what in dict.fromkeys(what for _, what in problem.wires):
        wires = [name for name, is_so in problem.wires if is_so == what]
        be = "are" if len(wires) > 1 else "is"
        reasons.append(f"{listed(wires, MOST_NAMED)} {be} {what}, and a hole takes solid {fits} copper alone")
    if guard is not None:
        of = f"{begun(guard.protection)[:1].lower()}{begun(guard.protection)[1:]}"
        reasons.append(f"{of} is {amps(guard.amps)}, and push-in holes are for circuits of {most}")
    why = "Only the screw holds a wire there."
    if problem.wires or guard is not None:
        why = "The thin leaf in the hole heats, and lets go of the wire."
    if isinstance(device, Device) and device.part.outlets:
        source = f"{case.code.section('circuit of push-in terminals')}; UL 498"
    else:
        source = f"{case.code.section('equipment as its instructions say')}; UL 20"
    return Words(
        message=f"Wires are pushed into the back of {device.name}: {'; '.join(reasons)}. {why}",
        help=f"Take each wire out of the back of {device.name}, and put it under its screw.",
        source=source,
        value=None if guard is None else guard.amps,
        limit=None if guard is None else case.code.limit("circuit of push-in terminals"),
        unit=None if guard is None else "A",
        also=tuple(Note("this one too", join.span) for join in problem.joins[1:]),
    )


RULE = rule(__name__, "trim", severities=("violation",), find=find, words=words)

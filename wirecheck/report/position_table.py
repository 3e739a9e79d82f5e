"""Every position of every switch in tables to hold beside the board: what lights, what is live, what trips.

Switches that do not feel each other have a table each; a switch that has one
light to itself has two lines of a common table. What each light does is then
said in words.
"""

from __future__ import annotations

import textwrap
from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import NamedTuple

from wirecheck.circuit.by_itself import at_once
from wirecheck.circuit.circuit import Load, Outlet
from wirecheck.circuit.opening import Opening
from wirecheck.circuit.positions import Group, combinations
from wirecheck.circuit.series import in_series
from wirecheck.circuit.settle import Settled
from wirecheck.judge.buttons import buttons, pushes
from wirecheck.judge.case import Case
from wirecheck.judge.state_name import StateName
from wirecheck.judge.target_words import behavior, with_positions
from wirecheck.judge.targets import Target, Tried, changes, target_of, turned_by
from wirecheck.judge.voltages import LIVE_VOLTS
from wirecheck.language.listing import listed
from wirecheck.language.quantity import reading, rounded, volts
from wirecheck.model.board import Board
from wirecheck.report.dangers import said
from wirecheck.report.looks import Paint, unpainted
from wirecheck.report.numbers import counted
from wirecheck.report.openings import opened
from wirecheck.report.paragraphs import WIDTH, headline, wrapped
from wirecheck.report.plain import plain
from wirecheck.report.verdict import no_answer
from wirecheck.rules import switching
from wirecheck.troubles.dangers import Danger, dangers

# An outlet or a load with less than this share of its volts, and more than nothing, is worth a word.
DIM = 0.02
# No column of a table is wider, and where the switches of a row need more than this they are in words.
CELL = 36
SWITCHES = 48
# Playing a call out takes its time: so many positions and calls are played, and of more only the calls.
MOST_PLAYED = 32

# How the switches of the other tables stand, by whether each position was worked out by itself.
ELSEWHERE = {
    True: "While one light is tried, the switches of the others stay as in their first lines.",
    False: "On a board of this size, rooms are tried together: volts include the drop of what else is on.",
}


class Position(NamedTuple):
    """One position of a group's switches, with the volts of each target and the wires that are live."""

    positions: Mapping[str, str]
    settled: Settled
    volts: tuple[float, ...]
    live: tuple[str, ...]


class GroupTable(NamedTuple):
    """Every position of the switches that feel each other; not `whole` where they are too many to list."""

    switches: tuple[str, ...]
    targets: tuple[Target, ...]
    rows: tuple[Position, ...]
    whole: bool

    def tried(self, index: int) -> list[Tried]:
        """One target in each row."""
        needs = self.targets[index].needs
        return [
            Tried(row.positions, row.volts[index], row.volts[index] >= needs, row.settled)
            for row in self.rows
        ]

    def changing(self) -> list[str]:
        """The wires that are live in some positions and not in others."""
        names = dict.fromkeys(name for row in self.rows for name in row.live)
        return [name for name in names if not all(name in row.live for row in self.rows)]


def live(settled: Settled) -> tuple[str, ...]:
    """The conductors, and the ground screws and metal boxes, with volts to ground that a touch feels."""
    return tuple(name for name, _ in _live_at(settled))


def _live_at(settled: Settled) -> tuple[tuple[str, int], ...]:
    """What is live, each with its node."""
    circuit = settled.circuit
    node, volts, floating = circuit.node, settled.volts, settled.floating
    points = [(wire.conductor.name, node[wire.a]) for wire in circuit.wires]
    points += ((name, node[name]) for name in grounds(circuit.board))
    return tuple((name, at) for name, at in points if at not in floating and abs(volts[at]) > LIVE_VOLTS)


def grounds(board: Board) -> list[str]:
    """The ground screws and metal boxes of a board."""
    return [terminal.name for terminal in board.terminals.values() if terminal.spec.role == "ground"]


def group_tables(case: Case) -> Iterator[GroupTable]:
    """The groups of a board whose switches do something by themselves, without a call.

    What they do may be to light a lamp, to make a wire live, or to trip a breaker.
    """
    # Other groups stand anywhere in a row's state, so that what they make live is none of its business.
    switched = frozenset(node for group in case.groups if group.switches for node in group.nodes)
    for group in case.groups:
        wanted = group_targets(case, group)
        if group.switches and not called(case, group):
            whole = combinations(case.circuit, group)[1]
            elsewhere = switched - group.nodes
            rows = []
            for moved, settled in case.exact_rows(group):
                volts = tuple(settled.across(each.a, each.b) for each in wanted)
                lit = tuple(name for name, at in _live_at(settled) if at not in elsewhere)
                rows.append(Position(moved, settled, volts, lit))
            table = GroupTable(group.switches, wanted, tuple(rows), whole)
            if wanted or table.changing() or any(_events(row) for row in rows):
                yield table


def called(case: Case, group: Group) -> bool:
    """Whether a group waits for calls or has controls that take their time."""
    devices = case.circuit.devices.values()
    return any(
        (device.part.calls or device.part.states) and device.outer in group.devices for device in devices
    )


def group_targets(case: Case, group: Group) -> tuple[Target, ...]:
    """The loads and outlets of a group, but for what a control draws while it waits."""
    circuit = case.circuit
    found: list[Load | Outlet] = [
        load for load in circuit.loads if load.name in group.loads and "standby" not in load.flags
    ]
    found += (outlet for outlet in circuit.outlets if outlet.name in group.outlets)
    return tuple(target_of(each) for each in found)


def cell(volts: float, target: Target, dead: Collection[str] = ()) -> str:
    """What a target gets, in a word and its volts; a dash where there is nothing.

    `dead` are the loads that are burnt out.
    """
    if volts <= DIM * target.rated:
        return "-"
    load = isinstance(target.of, Load)
    if target.name in dead:
        return f"burnt out {reading(volts, 'V')}"
    word = ("on " if load else "") if volts >= target.needs else "dim " if load else "low "
    return f"{word}{reading(volts, 'V')}"


def render(case: Case, paint: Paint = unpainted) -> str:
    """Every position of the switches, group by group, then what never changes, and then every call.

    Of a board of several systems one after another.
    """
    lines = [paint(headline(case.board.title), "heading")]
    for system in case.systems:
        lines += _system(system)
    if case.faults:
        lines += (wrapped(sentence, "  ") for sentence in ["", *_dangers(case)])
    if case.left_out:
        lines += ["", wrapped(no_answer(case.left_out), "")]
    return "\n".join(lines) + "\n"


def _dangers(case: Case) -> Iterator[str]:
    """What faults make dangerous, each once, with the first state in which it is so."""
    first: dict[object, tuple[Danger, StateName]] = {}
    for name in case.named_states():
        for danger in dangers(case, name):
            first.setdefault((type(danger), danger[0]), (danger, name))
    for danger, name in first.values():
        when = name.when()
        yield f"{when[:1].upper()}{when[1:]}, danger: {said(danger, case.circuit)}"


def _system(case: Case) -> list[str]:
    lines: list[str] = []
    tables = list(group_tables(case))
    single = [table for table in tables if len(table.switches) == len(table.targets) == 1]
    if len(single) == 1:
        single = []
    if single:
        lines += ["", *_singles(single)]
    for table in tables:
        if table not in single:
            lines += ["", *_laid_out(table)]
        if not table.whole:
            lines.append(
                wrapped(
                    f"These {len(table.rows)} positions are a sample: the {len(table.switches)} switches "
                    "that work together have too many to list.",
                    "  ",
                )
            )
    if len(tables) > 1:
        lines += ["", wrapped(ELSEWHERE[case.one_by_one], "  ")]
    lines += _unswitched(case, tables)
    for group in case.groups:
        if group.switches and called(case, group):
            lines += _in_calls(case, group)
    said = sentences(case, tables)
    if said:
        lines += ["", *(wrapped(sentence, "  ") for sentence in said)]
    for call in ("", *case.calls) if case.calls else ():
        lines += ["", _call(case, call)]
    return lines


def sentences(case: Case, tables: Sequence[GroupTable]) -> tuple[str, ...]:
    """What the lights and outlets do, and what trips, in words; what the board asks for in other words."""
    # What trips is said of here by itself, and leaves dark what its switches do rightly.
    asked = {
        problem.target.name: switching.words(problem, case).message
        for problem in switching.find(case)
        if not problem.opened
    }
    said: dict[str, None] = {}
    explained: set[str] = set()
    rest = case.settled({})
    for table in [*tables, GroupTable((), (), (Position({}, rest, (), live(rest)),), True)]:
        # What opens with the switches at rest is in a table's rows already, where there is one.
        known = not table.switches and any(row.settled.opened for each in tables for row in each.rows)
        trips = () if known else _trips(table)
        for sentence in (*_live_metal(case, table), *trips, *_behavior(table, asked, explained)):
            said.setdefault(sentence)
    said |= dict.fromkeys(message for name, message in asked.items() if name not in explained)
    said |= dict.fromkeys(_held(case))
    return tuple(said)


def _held(case: Case) -> Iterator[str]:
    """What runs on once a start button is let go, and what stops it."""
    known, rest = buttons(case.circuit), case.at_rest.running
    for pushed in pushes(case):
        runs = [load.name for load in case.circuit.loads if load.name in pushed.after.running - rest]
        if runs:
            stops = [
                button.name
                for button in known.values()
                if not button.closes
                and at_once(
                    pushed.after, case.circuit.variables[button.name], button.pressed
                ).running.isdisjoint(runs)
            ]
            until = f" until {' or '.join(stops)} is pressed" if stops else ""
            yield (
                f"Once {pushed.button.name} is let go, {listed(runs)} {'runs' if len(runs) == 1 else 'run'} "
                f"on{until}."
            )


def _live_metal(case: Case, table: GroupTable) -> Iterator[str]:
    """Each ground screw and metal box that is live in some position, once."""
    for name in grounds(case.board):
        row = next((row for row in table.rows if name in row.live), None)
        if row is not None:
            present = abs(row.settled.volts[case.circuit.node[name]])
            when = "" if all(name in each.live for each in table.rows) else with_positions(row.positions)
            yield (
                f"{name} is at {volts(present)} to ground{when}. Do not touch any metal of this board: turn "
                "the power off."
            )


def _behavior(table: GroupTable, asked: Mapping[str, str], explained: set[str]) -> Iterator[str]:
    """What each target does that is not explained yet; those that are reported are added to the explained."""
    tripped = any(row.settled.opened for row in table.rows)
    for index, target in enumerate(table.targets):
        if target.name in explained:
            continue
        rows = table.tried(index)
        chain = _chain(rows, target)
        if chain:
            row, others = chain
            circuit = row.settled.circuit
            names = [name for name in circuit.load if name in (target.name, *others)]
            got = [volts(row.settled.load_volts(circuit.load[name])) for name in names]
            explained.update(names)
            yield (
                f"{listed(names)} are in series: they share the {volts(target.rated)} of the "
                f"source and get {listed(got)}{with_positions(row.positions)}."
            )
            continue
        explained.add(target.name)
        if target.name in asked:
            yield asked[target.name]
        elif not tripped:
            yield from _by_itself(table, target, rows)


def _by_itself(table: GroupTable, target: Target, rows: list[Tried]) -> Iterator[str]:
    """What a target does of which the board asks nothing, or what it asks for: worth a word if not plain."""
    turning = tuple(switch for switch in table.switches if changes(rows, switch))
    if len(turning) > 1 and turned_by(rows, turning):
        yield f"{listed(turning)} each turn {target.name} on and off from any position."
    elif len(turning) != 1 or not turned_by(rows, turning):
        yield f"{behavior(rows, target)}."
    elif len(table.switches) > 1:
        yield f"{turning[0]} alone turns {target.name} on and off."


def _chain(rows: list[Tried], target: Target) -> tuple[Tried, tuple[str, ...]] | None:
    """The position in which a target glows in series with other loads, and those loads."""
    for row in rows:
        if isinstance(target.of, Load) and target.glows(row.volts):
            others = in_series(row.settled, target.name)
            if others:
                return row, others
    return None


def _trips(table: GroupTable) -> Iterator[str]:
    """Each thing that opens, once, with the first position that makes it."""
    first: dict[tuple[str, str], tuple[Opening, Position, int]] = {}
    for row in table.rows:
        for opening in row.settled.opened:
            known = first.get((opening.name, opening.kind))
            first[opening.name, opening.kind] = (
                (known[0], known[1], known[2] + 1) if known else (opening, row, 1)
            )
    for opening, row, count in first.values():
        every = " in every position" if table.switches else ""
        when = every if count == len(table.rows) else with_positions(row.positions)
        more = f" and in {counted(count - 1, 'more position')}" if 1 < count < len(table.rows) else ""
        yield f"{opened(opening, f'{when}{more}')}."


def _singles(tables: Sequence[GroupTable]) -> list[str]:
    rows = [
        (*table.switches, *row.positions.values(), table.targets[0].name,
         cell(row.volts[0], table.targets[0], row.settled.circuit.dead), _events(row),
         ", ".join(n for n in row.live if n in changing))
        for table in tables
        for changing in [table.changing()]
        for row in table.rows
    ]  # fmt: skip
    columns = [[head, *cells] for head, cells in zip(_SINGLE, zip(*rows, strict=True), strict=True)]
    return laid([column for column in columns if any(column[1:])])


_SINGLE = ("switch", "is", "it has", "which gets", "trips", "live then")


def _laid_out(table: GroupTable) -> Iterator[str]:
    """A group's table; where its targets are too many for the width, several with the same rows."""
    before = [[switch, *(row.positions[switch] for row in table.rows)] for switch in table.switches]
    if _width(before) > SWITCHES:
        before = [["position", *(_positions(row.positions) for row in table.rows)]]
    rest = [
        [target.name, *(cell(row.volts[index], target, row.settled.circuit.dead) for row in table.rows)]
        for index, target in enumerate(table.targets)
    ]
    events = ["trips", *(_events(row) for row in table.rows)]
    changing = table.changing()
    lives = ["live then", *(", ".join(n for n in row.live if n in changing) or "-" for row in table.rows)]
    rest += (column for column in (events, lives if changing else []) if any(column[1:]))
    while rest:
        shown_now = [*before, rest.pop(0)]
        while rest and _width([*shown_now, rest[0]]) <= WIDTH - 2:
            shown_now.append(rest.pop(0))
        yield from laid(shown_now)
        if rest:
            yield ""


def _positions(positions: Mapping[str, str]) -> str:
    return ", ".join(f"{switch} {value}" for switch, value in positions.items())


def _events(row: Position) -> str:
    words = {"burned": "burns out", "limited": "shuts itself off"}
    events = [f"{opening.name} {words.get(opening.kind, 'trips')}" for opening in row.settled.opened]
    events += (f"{name} buzzes" for name in row.settled.chattering)
    return "; ".join(events)


def _width(columns: Sequence[Sequence[str]]) -> int:
    return sum(min(CELL, max(len(text) for text in column)) + 2 for column in columns) - 2


def laid(columns: Sequence[Sequence[str]]) -> list[str]:
    """Columns side by side, two spaces apart, each with its heading underlined; long cells go on below.

    >>> print("\\n".join(laid([["S1", "up", "down"], ["L1", "on 120 V", "-"]])))
      S1    L1
      ----  --------
      up    on 120 V
      down  -
    """
    folded = [[_fold(text) for text in column] for column in columns]
    widths = [max(len(line) for lines in column for line in lines) for column in folded]
    texts = []
    for number, row in enumerate(zip(*folded, strict=True)):
        for index in range(max(len(lines) for lines in row)):
            cells = [lines[index] if index < len(lines) else "" for lines in row]
            texts.append("  " + "  ".join(f"{c:<{w}}" for c, w in zip(cells, widths, strict=True)).rstrip())
        if number == 0:
            texts.append("  " + "  ".join("-" * width for width in widths))
    return texts


def _fold(text: str) -> list[str]:
    return textwrap.wrap(plain(text), CELL, break_on_hyphens=False) or [""]


def _unswitched(case: Case, tables: Sequence[GroupTable]) -> list[str]:
    """What no switch changes: its loads and outlets, and the wires that are live in every position."""
    rest = case.settled({})
    lines = []
    rows = [
        (target.name, cell(rest.across(target.a, target.b), target, rest.circuit.dead))
        for group in case.groups
        if not group.switches and not called(case, group)
        for target in group_targets(case, group)
    ]
    if rows:
        names, volts = zip(*rows, strict=True)
        always = "in every position" if tables else "as it is"
        lines += ["", *laid([["it", *names], [always, *volts]])]
    lit = set(live(rest)).intersection(*map(live, case.survey.states))
    if lit:
        named = ", ".join(name for name in live(rest) if name in lit)
        lines += ["", wrapped(f"Live in every position: {named}.", "  ")]
    return lines


def _in_calls(case: Case, group: Group) -> list[str]:
    """What runs in the end, for each position of a group's switches and each call."""
    choices, _ = combinations(case.circuit, group)
    calls = ("", *case.calls)
    if len(choices) * len(calls) > MOST_PLAYED:
        return []
    rows = []
    for moved in choices:
        for call in calls:
            settled = case.standing(moved, [call] if call else [])
            runs = [name for name in case.circuit.load if name in settled.running and _works(case, name)]
            running = ", ".join(name for name in runs if name in group.loads) or "-"
            rows.append((*moved.values(), call or "-", running))
    columns = zip((*group.switches, "call", "runs in the end"), *rows, strict=True)
    return ["", *laid(list(columns))]


def _call(case: Case, call: str) -> str:
    play = case.played([call] if call else [])
    runs = [f"{name} after {rounded(time)} s" for name, time in play.started().items() if _works(case, name)]
    what = f"{call} called" if call else "no call"
    return wrapped(f"{what}: " + ("; ".join(runs) if runs else "nothing runs") + ".", "  ")


def _works(case: Case, name: str) -> bool:
    load = case.circuit.load[name]
    return "standby" not in load.flags and load.kind not in ("coil", "electronics")

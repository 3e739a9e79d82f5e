"""What is live and what runs: one state in full, or every position of the switches in a table."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import click

from wirecheck.circuit.positions import Group, combinations
from wirecheck.circuit.settle import Settled
from wirecheck.language.quantity import rounded, shown
from wirecheck.report.plain import plain
from wirecheck.report.text import wrapped
from wirecheck.rules.case import Case

# Volts to ground that a touch feels (common practice: what a tester calls live).
LIVE_VOLTS = 30.0
# An outlet or a load with less than this share of its volts, and more than nothing, is worth a word.
DIM = 0.02


def one_state(case: Case, settled: Settled) -> str:
    """A state in full: what opened, each load, each outlet, and what is live."""
    lines = [click.style(plain(case.board.title), bold=True) + plain(case.when(settled))]
    lines += (wrapped(line, "  ") for line in _opened(settled))
    rows = [("load", "", "volts", "amps")]
    for load in case.circuit.loads:
        on = "runs" if load.name in settled.running else "off"
        present = settled.load_volts(load)
        if on == "off" and present > DIM * load.volts:
            on = "too low"
        rows.append((load.name, on, rounded(present, 4), rounded(settled.load_amps(load), 3)))
    if len(rows) > 1:
        lines += ["", *_columns(rows)]
    rows = [("outlet", "", "volts", "")]
    for outlet in case.circuit.outlets:
        present = settled.across(outlet.hot, outlet.neutral)
        rows.append((outlet.name, "live" if present > LIVE_VOLTS else "dead", rounded(present, 4), ""))
    if len(rows) > 1:
        lines += ["", *_columns(rows)]
    lines += ["", wrapped("Live: " + (", ".join(live(settled)) or "nothing") + ".", "  ")]
    return "\n".join(lines) + "\n"


def live(settled: Settled) -> tuple[str, ...]:
    """The conductors with volts to ground that a touch feels."""
    told = []
    for wire in settled.circuit.wires:
        node = settled.circuit.node[wire.a]
        if node not in settled.floating and abs(settled.volts[node]) > LIVE_VOLTS:
            told.append(wire.conductor.name)
    return tuple(told)


def table(case: Case) -> str:
    """Every position of the switches, group by group, and then every call."""
    lines = [click.style(plain(case.board.title), bold=True)]
    for group in case.groups:
        if group.switches and (group.loads or group.outlets):
            lines += ["", *_group(case, group)]
    fixed = [group for group in case.groups if not group.switches and (group.loads or group.outlets)]
    rest = case.settled({})
    rows = [row for group in fixed for row in _always(case, rest, group)]
    if rows and not case.circuit.moves:
        lines += ["", "  Whatever the switches do:", *_columns(rows)]
    for call in ("", *case.calls) if case.calls else ():
        lines += ["", *_call(case, call)]
    return "\n".join(lines) + "\n"


def _group(case: Case, group: Group) -> Iterator[str]:
    choices, whole = combinations(case.circuit, group)
    loads = [load for load in case.circuit.loads if load.name in group.loads and "standby" not in load.flags]
    outlets = [outlet for outlet in case.circuit.outlets if outlet.name in group.outlets]
    rows: list[tuple[str, ...]] = [
        (*group.switches, *(x.name for x in loads), *(x.name for x in outlets), "")
    ]
    for moved in choices:
        settled = case.in_positions(moved)
        cells = [
            _load_cell(settled.load_volts(load), load.volts, load.name in settled.running) for load in loads
        ]
        cells += (_load_cell(settled.across(o.hot, o.neutral), o.volts, None) for o in outlets)
        rows.append((*moved.values(), *cells, "; ".join(_opened_briefly(settled))))
    yield from _columns(rows)
    if not whole:
        yield wrapped(
            f"These {len(choices)} positions are a sample: the {len(group.switches)} switches that feel "
            "each other have too many to list.",
            "  ",
        )


def _always(case: Case, settled: Settled, group: Group) -> Iterator[tuple[str, ...]]:
    for load in case.circuit.loads:
        if load.name in group.loads:
            yield load.name, _load_cell(settled.load_volts(load), load.volts, load.name in settled.running)
    for outlet in case.circuit.outlets:
        if outlet.name in group.outlets:
            yield outlet.name, _load_cell(settled.across(outlet.hot, outlet.neutral), outlet.volts, None)


def _load_cell(present: float, rated: float, runs: bool | None) -> str:
    if present <= DIM * rated:
        return "-"
    word = {True: "on ", False: "low ", None: ""}[runs]
    return f"{word}{shown(present, 'voltage', 4)}"


def _call(case: Case, call: str) -> Iterator[str]:
    play = case.played([call] if call else [])
    runs = [f"{name} after {time:g} s" for name, time in play.started().items() if _works(case, name)]
    what = f"  {call} called" if call else "  no call"
    yield wrapped(f"{what.strip()}: " + ("; ".join(runs) if runs else "nothing runs") + ".", "  ")


def _works(case: Case, name: str) -> bool:
    load = case.circuit.load[name]
    return "standby" not in load.flags and load.kind not in ("coil", "electronics")


def _opened(settled: Settled) -> Iterator[str]:
    for opening in settled.opened:
        passed, limit = shown(opening.amps, "current"), shown(opening.limit, "current")
        if opening.kind == "burned":
            yield f"{opening.name} burns out: {passed} from a winding that is made for {limit}."
        elif opening.kind == "ground-fault":
            yield f"{opening.name} trips on a ground fault: {passed} do not come back."
        else:
            yield f"{opening.name} opens: {passed} through what is made for {limit}."
    for name in settled.chattering:
        yield f"{name} finds no rest: it buzzes."


def _opened_briefly(settled: Settled) -> Iterator[str]:
    for opening in settled.opened:
        yield f"{opening.name} {'burns out' if opening.kind == 'burned' else 'trips'}"
    for name in settled.chattering:
        yield f"{name} buzzes"


def _columns(rows: Sequence[Sequence[str]]) -> list[str]:
    """Rows in columns two spaces apart, the first row underlined."""
    widths = [max(len(plain(row[index])) for row in rows) for index in range(len(rows[0]))]
    lines = [
        "  " + "  ".join(plain(cell).ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]
    lines.insert(1, "  " + "  ".join("-" * width for width in widths if width))
    return lines


def as_data(case: Case, states: Mapping[str, Settled]) -> dict[str, object]:
    """States as plain data for other programs: volts and amperes by name."""
    return {
        "board": case.board.title,
        "states": [
            {
                "state": name,
                "running": sorted(settled.running),
                "opened": [
                    {"name": o.name, "kind": o.kind, "amps": o.amps, "limit": o.limit} for o in settled.opened
                ],
                "chattering": list(settled.chattering),
                "loads": {
                    load.name: {"volts": settled.load_volts(load), "amps": settled.load_amps(load)}
                    for load in case.circuit.loads
                },
                "outlets": {
                    o.name: {"volts": settled.across(o.hot, o.neutral)} for o in case.circuit.outlets
                },
                "live": list(live(settled)),
            }
            for name, settled in states.items()
        ],
    }

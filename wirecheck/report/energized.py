"""What is live and what runs in one state, in full; and states as plain data."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.language.quantity import amps, figure, volts
from wirecheck.report.looks import Paint, unpainted
from wirecheck.report.plain import plain
from wirecheck.report.position_table import DIM, LIVE_VOLTS, group_tables, live, opened, sentences
from wirecheck.report.text import wrapped


def motors(settled: Settled) -> frozenset[str]:
    """The motors that run."""
    return frozenset(
        load.name
        for load in settled.circuit.loads
        if load.kind == "motor" and load.inrush and load.name in settled.running
    )


def one_state(
    case: Case, settled: Settled, starting: frozenset[str] = frozenset(), paint: Paint = unpainted
) -> str:
    """A state in full: what opened, each load, each outlet, what is live; `starting` motors stand still."""
    lines = [paint(plain(case.board.title), "heading") + plain(case.when(settled))]
    if starting:
        lines += [wrapped(f"The moment at which {', '.join(sorted(starting))} start.", "  ")]
    lines += (wrapped(opened(opening), "  ") for opening in settled.opened)
    lines += (wrapped(f"{name} finds no rest: it buzzes.", "  ") for name in settled.chattering)
    rows = [("load", "", "volts", "amps")]
    for load in case.circuit.loads:
        on = "runs" if load.name in settled.running else "off"
        if load.name in starting:
            on = "starts"
        present = settled.load_volts(load)
        if on == "off" and present > DIM * load.volts:
            on = "too low"
        rows.append((load.name, on, volts(present), amps(settled.load_amps(load))))
    if len(rows) > 1:
        lines += ["", *_columns(rows)]
    rows = [("outlet", "", "volts", "")]
    for outlet in case.circuit.outlets:
        present = settled.across(outlet.hot, outlet.neutral)
        rows.append((outlet.name, "live" if present > LIVE_VOLTS else "dead", volts(present), ""))
    if len(rows) > 1:
        lines += ["", *_columns(rows)]
    lines += ["", wrapped("Live: " + (", ".join(live(settled)) or "nothing") + ".", "  ")]
    return "\n".join(lines) + "\n"


def _columns(rows: Sequence[Sequence[str]]) -> list[str]:
    """Rows in columns two spaces apart, the first row underlined."""
    widths = [max(len(plain(row[index])) for row in rows) for index in range(len(rows[0]))]
    lines = [
        "  " + "  ".join(plain(cell).ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]
    lines.insert(1, "  " + "  ".join("-" * width for width in widths if width))
    return lines


def _data(number: float, unit: str) -> float:
    """A number for other programs, which may reckon with it: more figures than people read, and no noise."""
    return figure(number, unit, digits=6)


def as_data(case: Case, states: Mapping[str, Settled]) -> dict[str, object]:
    """States as plain data for other programs: volts and amperes by name, and what the lights do in words."""
    return {
        "board": case.board.title,
        "said": list(sentences(case, list(group_tables(case)))),
        "states": [
            {
                "state": name,
                "positions": dict(settled.positions),
                "running": sorted(settled.running),
                "opened": [
                    {"name": o.name, "kind": o.kind, "amps": _data(o.amps, "A"), "limit": _data(o.limit, "A")}
                    for o in settled.opened
                ],
                "chattering": list(settled.chattering),
                "loads": {
                    load.name: {
                        "volts": _data(settled.load_volts(load), "V"),
                        "amps": _data(settled.load_amps(load), "A"),
                    }
                    for load in case.circuit.loads
                },
                "outlets": {
                    o.name: {"volts": _data(settled.across(o.hot, o.neutral), "V")}
                    for o in case.circuit.outlets
                },
                "live": list(live(settled)),
            }
            for name, settled in states.items()
        ],
    }

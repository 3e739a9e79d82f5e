"""A board in one state: what is live and what runs, as a value, in words, and as plain data."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from wirecheck import arguments
from wirecheck.caution import CAUTION
from wirecheck.circuit.opening import Opening
from wirecheck.circuit.settle import Settled, starting
from wirecheck.judge.case import Case
from wirecheck.judge.state_name import StateName
from wirecheck.judge.voltages import LIVE_VOLTS
from wirecheck.language.quantity import amps, figure, volts
from wirecheck.report.dangers import as_data as danger_data
from wirecheck.report.dangers import said as danger_said
from wirecheck.report.html import paragraph, piece, table
from wirecheck.report.looks import Paint, unpainted
from wirecheck.report.openings import opened
from wirecheck.report.paragraphs import headline, wrapped
from wirecheck.report.plain import plain
from wirecheck.report.position_table import DIM, group_tables, live, sentences
from wirecheck.report.verdict import no_answer
from wirecheck.troubles.dangers import Danger, dangers


class LoadState(NamedTuple):
    """What a load gets and draws, and what it does: `runs`, `starts`, `too low`, `burnt out` or `off`."""

    volts: float
    amps: float
    does: str


@dataclass(frozen=True, slots=True)
class Energized:
    """A board in one state; a notebook shows it as tables, `print` as the text of the command line.

    Attributes
    ----------
    board : the board's title
    name : what is moved and what is called in this state
    settled : the solved state itself
    starting : the motors that start at this very moment, and stand still yet
    dangers : what can hurt somebody in it
    """

    board: str
    name: StateName
    settled: Settled = field(repr=False)
    starting: frozenset[str] = frozenset()
    dangers: tuple[Danger, ...] = ()

    @property
    def state(self) -> str:
        """The state in words, as `S1 down` or `at rest`."""
        return self.name.words() + (", as the motors start" if self.starting else "")

    @property
    def positions(self) -> Mapping[str, str]:
        """How every switch, safety, breaker, fuse and control stands."""
        return dict(self.settled.positions)

    @property
    def running(self) -> tuple[str, ...]:
        """The loads that run."""
        return tuple(sorted(self.settled.running))

    @property
    def loads(self) -> Mapping[str, LoadState]:
        """Each load with its volts and its amps."""
        states = {}
        for load in self.settled.circuit.loads:
            does = "runs" if load.name in self.settled.running else "off"
            if load.name in self.starting:
                does = "starts"
            elif load.name in self.settled.circuit.dead:
                does = "burnt out"
            elif does == "off" and self.settled.load_volts(load) > DIM * load.volts:
                does = "too low"
            present = self.settled.plug_volts(load)
            states[load.name] = LoadState(_data(present, "V"), _data(self.settled.load_amps(load), "A"), does)
        return states

    @property
    def outlets(self) -> Mapping[str, float]:
        """The volts between hot and neutral of each outlet."""
        settled = self.settled
        return {one.name: _data(settled.across(one.hot, one.neutral), "V") for one in settled.circuit.outlets}

    @property
    def opened(self) -> tuple[Opening, ...]:
        """What opened by itself, and the amps that made it."""
        return self.settled.opened

    @property
    def live(self) -> tuple[str, ...]:
        """The wires, and the ground screws and metal boxes, that a touch feels."""
        return live(self.settled)

    def as_data(self) -> dict[str, Any]:
        """Plain data, equal to a state of what `--format json` prints."""
        return {
            "state": self.state,
            "positions": self.positions,
            "running": list(self.running),
            "opened": [
                {
                    "name": one.name,
                    "kind": one.kind,
                    "amps": _data(one.amps, "A"),
                    "limit": _data(one.limit, "A"),
                }
                for one in self.opened
            ],
            "chattering": list(self.settled.chattering),
            "loads": {name: {"volts": load.volts, "amps": load.amps} for name, load in self.loads.items()},
            "outlets": {name: {"volts": present} for name, present in self.outlets.items()},
            "live": list(self.live),
            "dangers": [danger_data(one, self.settled.circuit) for one in self.dangers],
            "left_out": sorted(self.settled.circuit.left_out),
        }

    def render(self, paint: Paint = unpainted) -> str:
        """The state in full: what opened, each load, each outlet, what is live; and the caution."""
        heading = "" if self.name == StateName() else f" with {self.name.words()}"
        lines = [paint(headline(self.board), "heading") + plain(heading)]
        lines += (wrapped(sentence, "  ") for sentence in self.events())
        if self.loads:
            rows = [(name, one.does, volts(one.volts), amps(one.amps)) for name, one in self.loads.items()]
            lines += ["", *_columns([("load", "", "volts", "amps"), *rows])]
        if self.outlets:
            cells = [(name, _lives(present), volts(present)) for name, present in self.outlets.items()]
            lines += ["", *_columns([("outlet", "", "volts"), *cells])]
        lines += ["", wrapped(f"Live: {', '.join(self.live) or 'nothing'}.", "  "), "", wrapped(CAUTION, "")]
        return "\n".join(lines) + "\n"

    def events(self) -> Iterable[str]:
        """What opened or never settles, and what has no answer, in sentences."""
        if self.starting:
            yield f"The moment at which {', '.join(sorted(self.starting))} start."
        yield from (f"{opened(one)}." for one in self.opened)
        yield from (f"{name} never settles: it buzzes." for name in self.settled.chattering)
        yield from (f"Danger: {danger_said(one, self.settled.circuit)}" for one in self.dangers)
        if self.settled.circuit.left_out:
            yield no_answer(self.settled.circuit.left_out)

    def __str__(self) -> str:
        return self.render()

    def _repr_html_(self) -> str:
        parts = [paragraph(sentence) for sentence in self.events()]
        if self.loads:
            rows = ((name, one.does, volts(one.volts), amps(one.amps)) for name, one in self.loads.items())
            parts.append(table(("load", "", "volts", "amps"), rows))
        if self.outlets:
            cells = ((name, _lives(present), volts(present)) for name, present in self.outlets.items())
            parts.append(table(("outlet", "", "volts"), cells))
        parts.append(paragraph(f"Live: {', '.join(self.live) or 'nothing'}."))
        return piece(f"{self.board}: {self.state}", *parts)


def energized(
    case: Case, moved: Mapping[str, str] | None = None, calls: Iterable[str] = (), start: bool = False
) -> Energized:
    """The board with switches moved and calls made, when its controls have had their time.

    Parameters
    ----------
    moved, calls : as in `wirecheck.arguments`
    start : the moment at which the motors start, and draw locked-rotor current

    Raises
    ------
    wirecheck.arguments.WrongArgument
        Where the board lacks what is named.
    """
    positions, made = arguments.positions(case, moved), arguments.calls(case, calls)
    settled = case.standing(positions, made)
    name = StateName(tuple(positions.items()), made)
    if start:
        return Energized(case.board.title, name, starting(settled), motors(settled))
    return Energized(case.board.title, name, settled, dangers=dangers(case, name))


def motors(settled: Settled) -> frozenset[str]:
    """The motors that run."""
    return frozenset(
        load.name
        for load in settled.circuit.loads
        if load.kind == "motor" and load.inrush and load.name in settled.running
    )


def every_state(case: Case) -> tuple[Energized, ...]:
    """The board at rest, in every position of each group of switches, and at the end of each call.

    Of a board of several systems each state but the first tells of the system that it is a state of.
    """
    return tuple(
        Energized(case.board.title, name, one, dangers=_of_faults(case, name))
        for name, one in case.named_states().items()
    )


def _of_faults(case: Case, name: StateName) -> tuple[Danger, ...]:
    """What faults make dangerous in a state; what a board has without any is in its sentences."""
    return dangers(case, name) if case.faults else ()


def as_data(case: Case, states: Iterable[Energized]) -> dict[str, Any]:
    """States as plain data for other programs: volts and amps by name, and what the lights do in words."""
    return {
        "board": case.board.title,
        "said": [
            sentence for system in case.systems for sentence in sentences(system, list(group_tables(system)))
        ],
        "states": [state.as_data() for state in states],
    }


def _data(number: float, unit: str) -> float:
    """A number for other programs, which may reckon with it: more figures than people read, and no noise."""
    return figure(number, unit, digits=6)


def _lives(present: float) -> str:
    return "live" if present > LIVE_VOLTS else "dead"


def _columns(rows: Sequence[Sequence[str]]) -> list[str]:
    """Rows in columns two spaces apart, the first row underlined."""
    widths = [max(len(plain(row[index])) for row in rows) for index in range(len(rows[0]))]
    lines = [
        "  " + "  ".join(plain(cell).ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]
    lines.insert(1, "  " + "  ".join("-" * width for width in widths if width))
    return lines

"""The timing chart of a call: a row for each call, sensor, control and load, time to scale.

Where nothing happens for long, a piece of time is left out and the chart says
how much. Words that would run into each other are set one below the other.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from wirecheck.circuit.call import CallPlayed
from wirecheck.circuit.circuit import Load
from wirecheck.circuit.play import Step
from wirecheck.drawing.colors import PAPER, Page
from wirecheck.drawing.letters import shorten, text_width
from wirecheck.drawing.sheet import CAUTION_LINE, Frame, Line, Sheet
from wirecheck.language.quantity import amps, rounded, volts

# In points.
MARGIN = 24.0
BAR = 13.0
ROW = 22.0
LINE = 11.0
SMALL, PLAIN, LARGE = 8.0, 9.5, 14.0
NAMES_WIDTH = 190.0
CHART_WIDTH, NARROWEST, WIDEST = 760.0, 300.0, 2400.0
BREAK = 26.0
# A wait that is so many times as long as the middling one is drawn broken.
LONG_WAIT = 6.0

COLORS = {"call": "#1d5fc4", "sensor": "#8a5a00", "control": "#5f6f80", "load": "#11823b", "trip": "#b00020"}
KINDS = {
    "call": "call",
    "sensor": "switch, closed or tripped",
    "control": "control, where it stands",
    "load": "load, running",
    "trip": "opened or burned out",
}


class Span(NamedTuple):
    """A stretch of time in which a row stands at something; `end` is None where it goes on."""

    start: float
    end: float | None
    words: str


class Row(NamedTuple):
    """One row: what it is of, its stretches, and what it drew when it last started."""

    name: str
    kind: str
    spans: tuple[Span, ...]
    figures: str


def timing_sheet(played: CallPlayed, title: str, page: Page = PAPER) -> Sheet:
    """The chart of a call.

    Parameters
    ----------
    played : the call, as `wirecheck.circuit.call.play_call` gives it.
    title : what stands above it.

    Returns
    -------
    A `Sheet`; the same play gives the same sheet.
    """
    return _Chart(played, page).drawn(title)


def timing_strip(played: CallPlayed, page: Page, width: float) -> Sheet:
    """The chart of a call for a page that tells its title and the caution, as wide as there is room.

    Parameters
    ----------
    played, page : as in `timing_sheet`
    width : of the room for it; a chart that needs more has more

    Returns
    -------
    A `Sheet`, with an upright line `moment-N` at each step N of the play, counted from 1.
    """
    return _Chart(played, page, width).drawn("")


def rows(played: CallPlayed) -> tuple[Row, ...]:
    """The rows of a call's chart: its calls, what moved, and what ran, each that is ever on."""
    circuit = played.before.circuit
    states = [(max(step.time, 0.0), step) for step in played.steps]
    found: list[Row] = []
    calls = {call for step in played.steps for call in step.settled.calls}
    for call in sorted(calls):
        found.append(Row(call, "call", _spans((t, _on(call in s.settled.calls)) for t, s in states), ""))
    moved = {c.name for step in played.steps for c in step.changes if c.kind == "moves"}
    ordered = [name for name in circuit.variables if name in moved]
    sensors = [name for name in ordered if circuit.variables[name].moved_by != "state"]
    controls = [name for name in ordered if name not in sensors]
    for kind, names in (("sensor", sensors), ("control", controls)):
        for name in names:
            rest = circuit.variables[name].values[0]
            spans = _spans((t, _stands(s.settled.positions[name], rest)) for t, s in states)
            found.append(Row(name, kind, spans, ""))
    for load in circuit.loads:
        if "standby" in load.flags:
            continue
        spans = _spans((t, _on(load.name in s.settled.running)) for t, s in states)
        if spans:
            found.append(Row(load.name, "load", spans, _figures(load, played.steps)))
    tripped = dict.fromkeys(each.name for step in played.steps for each in step.settled.opened)
    for name in tripped:
        spans = _spans((t, _on(any(o.name == name for o in s.settled.opened))) for t, s in states)
        found.append(Row(name, "trip", spans, ""))
    return tuple(row for row in found if row.spans)


def _on(so: bool) -> str | None:
    return "" if so else None


def _stands(value: str, rest: str) -> str | None:
    return None if value == rest else value


def _spans(values: Iterable[tuple[float, str | None]]) -> tuple[Span, ...]:
    """The stretches in which something stands at a value; None is where it is at rest."""
    stretches: list[Span] = []
    for time, value in values:
        last = stretches[-1] if stretches and stretches[-1].end is None else None
        if last is not None and last.words == value:
            continue
        if last is not None:
            stretches[-1] = last._replace(end=time)
        if value is not None:
            stretches.append(Span(time, None, value))
    return tuple(span for span in stretches if span.end is None or span.end > span.start)


def _figures(load: Load, steps: Sequence[Step]) -> str:
    """Volts and amps of a load when it last started."""
    for step in reversed(steps):
        if any(change.name == load.name and change.kind == "runs" for change in step.changes):
            return f"{volts(step.settled.plug_volts(load))}  {amps(step.settled.load_amps(load))}"
    return ""


class Break(NamedTuple):
    """A piece of time that is left out: from `start` to `end`, around x."""

    start: float
    end: float
    x: float


class Axis(NamedTuple):
    """Where each moment stands: `times` and `places` side by side, and the pieces left out."""

    times: tuple[float, ...]
    places: tuple[float, ...]
    breaks: tuple[Break, ...]

    def x(self, time: float) -> float:
        """The place of a moment that is one of `times`."""
        return self.places[self.times.index(time)]


def axis(moments: Iterable[float], left: float, width: float) -> Axis:
    """Lay moments out to one scale, with long waits broken.

    >>> told = axis([0, 10, 20, 3600], 0.0, 106.0)
    >>> [round(x) for x in told.places], [(b.start, b.end) for b in told.breaks]
    ([0, 10, 20, 106], [(20, 3600)])
    """
    times = tuple(sorted(set(moments)))
    gaps = [after - before for before, after in itertools.pairwise(times)]
    if not gaps:
        return Axis(times, tuple(left for _ in times), ())
    longest = LONG_WAIT * sorted(gaps)[len(gaps) // 2]
    broken = [gap > longest for gap in gaps]
    shown = [longest if cut else gap for gap, cut in zip(gaps, broken, strict=True)]
    scale = (width - BREAK * sum(broken)) / sum(shown)
    places, breaks, x = [left], [], left
    for gap, cut, drawn, start in zip(gaps, broken, shown, times, strict=False):
        step = drawn * scale + (BREAK if cut else 0.0)
        if cut:
            breaks.append(Break(start, start + gap, x + step / 2))
        x += step
        places.append(x)
    return Axis(times, tuple(places), tuple(breaks))


def levels(spots: Sequence[tuple[float, float]], gap: float = 4.0) -> list[int]:
    """How far out each piece of text goes, so that it meets neither another nor another's leader.

    A leader runs from the line 0 to its text's left end. So a text that
    reaches over the next one's left end goes farther out than that one.

    Parameters
    ----------
    spots : left and right end of each, in order of the left ends.

    >>> levels([(0, 10), (5, 15), (12, 30), (40, 50)])
    [2, 1, 0, 0]
    """
    levels: list[int] = []
    for index in range(len(spots) - 1, -1, -1):
        reach = spots[index][1] + gap
        under = [
            level
            for (start, _), level in zip(spots[index + 1 :], reversed(levels), strict=True)
            if start < reach
        ]
        levels.append(max(under, default=-1) + 1)
    return levels[::-1]


def short_clock(seconds: float) -> str:
    """A moment in little room.

    >>> short_clock(0), short_clock(68), short_clock(200), short_clock(3720)
    ('0 s', '68 s', '3:20 min', '1:02 h')
    """
    if seconds < 120:
        return f"{rounded(seconds)} s"
    minutes, rest = divmod(round(seconds), 60)
    if minutes < 60:
        return f"{minutes}:{rest:02} min" if rest else f"{minutes} min"
    hours, minutes = divmod(minutes, 60)
    if rest:
        return f"{hours}:{minutes:02}:{rest:02} h"
    return f"{hours}:{minutes:02} h" if minutes else f"{hours} h"


class _Placed(NamedTuple):
    """Words in a bar or under it: their span's place, and how far down they go."""

    text: str
    x: float
    level: int


class _Chart:
    """One chart while it is drawn: the axis, and the height that has been used."""

    def __init__(self, played: CallPlayed, page: Page, room: float | None = None) -> None:
        self.played = played
        self.page = page
        self.stripped = room is not None
        self.rows = rows(played)
        shown = {span.start for row in self.rows for span in row.spans}
        shown |= {span.end for row in self.rows for span in row.spans if span.end is not None}
        self.left = MARGIN + NAMES_WIDTH
        least = CHART_WIDTH
        if room is not None:
            widest = max((text_width(row.name, PLAIN) for row in self.rows), default=0.0)
            self.left = MARGIN + min(widest + 10, NAMES_WIDTH)
            least = max(room - self.left - 140.0 - MARGIN, NARROWEST)
        # Room for each moment's words, within reason.
        width = min(max(least, len(shown) * 14.0), WIDEST)
        self.axis = axis(shown | {0.0}, self.left, width)
        self.right = self.left + width + 30.0
        self.sheet = Sheet("", page.ground)
        self.middles: list[float] = []
        self.count = 0

    def name(self, kind: str) -> str:
        """A name of its own for each thing on the sheet."""
        self.count += 1
        return f"{kind}-{self.count}"

    def drawn(self, title: str) -> Sheet:
        sheet, page = self.sheet, self.page
        sheet.title = title
        widest = self.right + 110 - MARGIN
        y = MARGIN + LARGE / 2 if not self.stripped else MARGIN / 2
        if not self.stripped:
            shown = shorten(title, widest, LARGE, True)
            sheet.write("title", shown, MARGIN, y, LARGE, page.ink, bold=True, align="start")
            y = sheet.caution(MARGIN, y + 18 + CAUTION_LINE * 2, page.faint)[-1].y + LARGE
        for line in self._notes():
            sheet.write(self.name("note"), line, MARGIN, y, PLAIN, page.faint, align="start")
            y += LINE + 2
        y = self._legend(y + 4) + 6
        y = self._moments(y)
        first = y
        for row in self.rows:
            y = self._row(row, y)
        self._grid(first - 4, y)
        self._breaks(y)
        if self.stripped:
            self._steps(first - 4, y)
        sheet.width, sheet.height = widest + 2 * MARGIN, y + MARGIN
        return sheet

    def _notes(self) -> Iterator[str]:
        held = ", ".join(f"{name} {value}" for name, value in self.played.fixed.items())
        if held:
            yield f"Held all the while: {held}."
        if not any(row.kind != "call" for row in self.rows):
            yield "Nothing on this board works for the call."
        if self.played.period:
            yield f"It never comes to rest: the same thing repeats every {short_clock(self.played.period)}."
        elif self.played.bound:
            last = short_clock(self.played.steps[-1].time)
            yield f"Stopped at {last}: it never comes to rest, and what comes later is not shown."
        if self.axis.breaks:
            yield "Time to scale; at each pair of slanted lines a wait is cut short, and its length is named."

    def _legend(self, y: float) -> float:
        x = MARGIN
        kinds = {row.kind for row in self.rows}
        for kind, words in KINDS.items():
            if kind in kinds:
                self._bar(x, x + 16, y, kind, words)
                written = self.sheet.write(
                    self.name("legend"), words, x + 21, y, SMALL, self.page.ink, align="start"
                )
                x += 21 + written.width + 18
        if any(row.figures for row in self.rows):
            at = self.right + 8
            self.sheet.write(
                self.name("figures"), "when it starts", at, y, SMALL, self.page.faint, align="start"
            )
        return y + LINE

    def _moments(self, y: float) -> float:
        """The moments above the chart, each over its line."""
        times = [(time, self.axis.x(time)) for time in self.axis.times]
        texts = [short_clock(time) for time, _ in times]
        spots = [(x, x + 3 + text_width(text, SMALL)) for (_, x), text in zip(times, texts, strict=True)]
        lines = levels(spots)
        depth = max(lines, default=0) + 1
        for (_, x), text, level in zip(times, texts, lines, strict=True):
            at = y + (depth - 1 - level) * LINE + LINE / 2
            self.sheet.write(
                self.name("time"), text, x + 3, at, SMALL, self.page.ink, align="start", kind="time"
            )
            self._line([(x, at - LINE / 2), (x, y + depth * LINE)], self.page.faint, 0.5)
        return y + depth * LINE + 6

    def _row(self, row: Row, y: float) -> float:
        placed = list(self._words(row))
        depth = max((each.level for each in placed), default=0)
        middle = y + BAR / 2 + 2
        self.middles.append(middle)
        name = shorten(row.name, NAMES_WIDTH - 10, PLAIN)
        self.sheet.write(
            self.name("row"),
            name,
            self.left - 8,
            middle,
            PLAIN,
            self.page.ink,
            align="end",
            kind="row",
            title=row.name,
        )
        for span in row.spans:
            end = self.right if span.end is None else self.axis.x(span.end)
            self._bar(self.axis.x(span.start), end, middle, row.kind, _title(row, span))
        for each in placed:
            inside = each.level == 0
            at = middle if inside else middle + BAR / 2 + (each.level - 0.5) * LINE
            color = PAPER.ground if inside else self.page.ink
            self.sheet.write(
                self.name("state"), each.text, each.x, at, SMALL, color, align="start", kind="state"
            )
            if not inside:
                down = [(each.x - 2.5, middle + BAR / 2), (each.x - 2.5, at + LINE / 2 - 2)]
                self._line(down, COLORS[row.kind], 0.7)
        if row.figures:
            self.sheet.write(
                self.name("figures"),
                row.figures,
                self.right + 8,
                middle,
                SMALL,
                self.page.faint,
                align="start",
                kind="figures",
            )
        return y + ROW + depth * LINE

    def _words(self, row: Row) -> Iterator[_Placed]:
        """What each stretch says: in its bar where it fits, else below it, clear of its neighbors."""
        below: list[tuple[float, str]] = []
        for span in row.spans:
            start = self.axis.x(span.start)
            end = self.right if span.end is None else self.axis.x(span.end)
            clear = min([b.x - BREAK / 2 for b in self.axis.breaks if start < b.x < end], default=end)
            if not span.words:
                continue
            if text_width(span.words, SMALL) + 6 <= clear - start:
                yield _Placed(span.words, start + 4, 0)
            else:
                below.append((start + 3, span.words))
        lines = levels([(x - 3, x + text_width(text, SMALL)) for x, text in below])
        for (x, text), level in zip(below, lines, strict=True):
            yield _Placed(text, x, level + 1)

    def _bar(self, start: float, end: float, middle: float, kind: str, title: str) -> None:
        color = COLORS[kind]
        width = max(end - start, 1.0)
        self.sheet.frames.append(
            Frame(
                self.name("bar"),
                title,
                start,
                middle - BAR / 2,
                width,
                BAR,
                color,
                PAPER.ground,
                0.8,
                kind=f"bar {kind}",
            )
        )

    def _line(self, points: list[tuple[float, float]], color: str, pen: float) -> None:
        self.sheet.lines.append(Line(self.name("line"), "", (tuple(points),), color, pen))

    def _grid(self, top: float, bottom: float) -> None:
        for x in self.axis.places:
            self.sheet.lines.append(
                Line(
                    self.name("grid"),
                    "",
                    (((x, top), (x, bottom)),),
                    "#c4cad1",
                    0.4,
                    dash="dotted",
                )
            )

    def _steps(self, top: float, bottom: float) -> None:
        """A line at each step of the play; the page shows that of the step at which it stands."""
        for number, step in enumerate(self.played.steps, 1):
            # A step at which nothing begins or ends on the chart stands where the one before it does.
            x = self.axis.x(max(time for time in self.axis.times if time <= max(step.time, 0.0)))
            ways = (((x, top), (x, bottom)),)
            line = Line(f"moment-{number}", "", ways, self.page.ink, 2.2, kind="moment")
            self.sheet.lines.append(line)

    def _breaks(self, bottom: float) -> None:
        """Where time is left out: each bar is cut by two slanted lines; below stands how long it is."""
        for each in self.axis.breaks:
            words = short_clock(each.end - each.start)
            for middle in self.middles:
                top, low = middle - BAR / 2 - 2, middle + BAR / 2 + 2
                self.sheet.frames.append(
                    Frame(
                        self.name("break"),
                        f"{words} without an event",
                        each.x - 4,
                        top,
                        8,
                        low - top,
                        self.page.ground,
                        self.page.ground,
                        kind="break",
                    )
                )
                for side in (-4, 4):
                    slant = [(each.x + side - 2.5, low), (each.x + side + 2.5, top)]
                    self._line(slant, self.page.faint, 0.8)
            self.sheet.write(
                self.name("left-out"),
                words,
                each.x,
                bottom + LINE / 2 + 2,
                SMALL,
                self.page.faint,
                kind="left-out",
            )


def _title(row: Row, span: Span) -> str:
    """What shows when the bar is pointed at."""
    until = "on" if span.end is None else f"to {short_clock(span.end)}"
    stands = f" {span.words}" if span.words else ""
    return f"{row.name}{stands}: {short_clock(span.start)} {until}"

"""A call played out in time, step by step: what moved, ran and stopped, with the volts and amps of it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from wirecheck.circuit.call import CallPlayed
from wirecheck.circuit.play import Change, Step
from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.judge.state_name import StateName
from wirecheck.language.listing import listed
from wirecheck.language.quantity import amps, figure, rounded, volts
from wirecheck.model.board import Device
from wirecheck.model.devices import every_device
from wirecheck.parts.part import sensed_as
from wirecheck.report.dangers import told
from wirecheck.report.looks import Paint, unpainted
from wirecheck.report.numbers import counted
from wirecheck.report.openings import opened
from wirecheck.report.paragraphs import headline, wrapped
from wirecheck.report.plain import plain
from wirecheck.report.verdict import MOST_NAMED, no_answer

# What an example of a line that a board lacks names at most.
MOST_SENSED = 3

# What a load is seen to do when it gets its volts, and when it loses them, by its kind.
STARTS = {
    "coil": "pulls in",
    "valve": "opens",
    "lamp": "lights",
    "igniter": "heats",
    "heater": "heats",
    "electronics": "has power",
    "bell": "rings",
    "capacitor": "is in",
}
STOPS = {
    "coil": "lets go",
    "valve": "closes",
    "lamp": "goes out",
    "igniter": "is off",
    "heater": "is off",
    "electronics": "has no power",
    "bell": "is silent",
    "capacitor": "is out",
}


class Event(NamedTuple):
    """One change in words; `volts` and `amps` are those of the load after it, or None."""

    change: Change
    text: str
    volts: float | None = None
    amps: float | None = None


def events(step: Step) -> Iterator[Event]:
    """What happens in a step, in words."""
    settled = step.settled
    for change in step.changes:
        load = settled.circuit.load.get(change.name)
        if change.kind in ("runs", "stops") and load is not None:
            words = STARTS.get(load.kind, "runs") if change.kind == "runs" else STOPS.get(load.kind, "stops")
            # A load that has started says what it draws; one that has stopped what is left across it.
            yield Event(change, f"{load.name} {words}", settled.plug_volts(load), settled.load_amps(load))
        else:
            yield Event(change, _words(change, settled))
    for name in settled.chattering:
        yield Event(Change("buzzes", name, "", ""), f"{name} never settles: it buzzes")


def _words(change: Change, settled: Settled) -> str:
    if change.kind == "call":
        return f"{change.name} is called" if change.now == "on" else f"{change.name} call ends"
    if change.kind == "satisfied":
        return f"{change.name} is satisfied, and its call for {change.was} ends"
    if change.kind == "opens":
        return opened(next(each for each in settled.opened if each.name == change.name))
    if change.now in ("open", "closed"):
        return f"{change.name} {'opens' if change.now == 'open' else 'closes'}"
    return f"{change.name} goes from {change.was} to {change.now}"


def clock(seconds: float) -> str:
    """A moment as people read it.

    >>> clock(0), clock(47), clock(47.5), clock(200), clock(7384)
    ('0 s', '47 s', '47.5 s', '3 min 20 s', '2 h 3 min 4 s')
    """
    if seconds < 120:
        return f"{rounded(seconds)} s"
    hours, rest = divmod(round(seconds), 3600)
    minutes, rest = divmod(rest, 60)
    parts = ((hours, "h"), (minutes, "min"), (rest, "s"))
    return " ".join(f"{count} {unit}" for count, unit in parts if count)


def text(case: Case, played: CallPlayed, paint: Paint = unpainted) -> str:
    """The whole call as lines of text."""
    named = " and ".join(played.calls)
    heading = f" with {named} called" if named else " with nothing called"
    held = ", ".join(f"{name} held {value}" for name, value in played.fixed.items())
    lines = [paint(headline(case.board.title), "heading") + plain(heading + (f" and {held}" if held else ""))]
    lines += ["", wrapped("Before: " + _running(played.before), "  "), ""]
    rows = [("time", "what happens", "volts", "amps")]
    last = ""
    for step in played.steps:
        moment = "" if clock(step.time) == last else clock(step.time)
        last = clock(step.time)
        for event in events(step):
            rows.append(
                (
                    moment,
                    event.text,
                    "" if event.volts is None else volts(event.volts),
                    "" if event.amps is None else amps(event.amps),
                )
            )
            moment = ""
    if len(rows) > 1:
        lines += _columns(rows)
    elif named:
        lines.append(wrapped(f"Nothing happens: nothing on this board works for {named}.", "  "))
    lines += ["", wrapped(f"{_ending(played)} {_running(played.rest)}", "  ")]
    lines += (wrapped(danger, "  ") for danger in _dangers(case, played))
    for sentence in _besides(case):
        lines += ["", wrapped(sentence, "  ")]
    return "\n".join(lines) + "\n"


def ending(case: Case, played: CallPlayed) -> list[str]:
    """How a call ends and what runs then, what is dangerous, what stands still, and what has no answer."""
    return [f"{_ending(played)} {_running(played.rest)}", *_dangers(case, played), *_besides(case)]


def _besides(case: Case) -> list[str]:
    """What stands still all the time, and what has no answer."""
    return [sentence for sentence in (_standing_still(case), no_answer(case.left_out)) if sentence]


def _dangers(case: Case, played: CallPlayed) -> tuple[str, ...]:
    """What faults make dangerous in the call."""
    return told(case, [StateName(tuple(played.fixed.items()), played.calls)]) if case.faults else ()


def _ending(played: CallPlayed) -> str:
    last = played.steps[-1].time if played.steps else 0.0
    if played.period is not None:
        again = clock(played.period) if played.period > 0 else "moment"
        return f"It never comes to rest: the same thing repeats every {again}. At {clock(last)}:"
    if played.bound == "events":
        return (
            f"Stopped after {counted(len(played.steps), 'event')}, at {clock(last)}: it never comes "
            "to rest, and what comes later is not shown. At that moment:"
        )
    if played.bound == "time":
        return (
            f"Stopped at the time limit: something would still move after {clock(last)}, "
            "and it is not shown. At that moment:"
        )
    return f"At rest after {clock(last)}:"


def _standing_still(case: Case) -> str:
    """The controls that nothing moves, since no line says what they sense; nothing where there are none."""
    still = [
        device
        for device in case.board.devices.values()
        if device.part.senses and device.part.positions and not device.part.safety
    ]
    still = [device for device in still if device.name not in case.board.sensed]
    acting = {device.name: _acting(case, device) for device in still}
    example = next((f"{name} senses {', '.join(things)}" for name, things in acting.items() if things), "")
    if not example:
        return ""
    stand, them = ("stands", "it") if len(still) == 1 else ("stand", "them")
    return f"{listed(acting, MOST_NAMED)} {stand} still: no line says what acts on {them}, as: {example}."


def _acting(case: Case, control: Device) -> list[str]:
    """What on the board may act on a control, the first few of it."""
    able = []
    for device in case.board.devices.values():
        inside = [load for one in every_device({device.name: device}) for load in one.part.loads]
        if any(sensed_as(load) in control.part.senses for load in inside):
            able.append(device.name)
    return able[:MOST_SENSED]


def _running(settled: Settled) -> str:
    """What runs, standby apart, in a sentence."""
    loads = [load for load in settled.circuit.loads if load.name in settled.running]
    running = [load.name for load in loads if "standby" not in load.flags]
    waits = [load.name for load in loads if "standby" in load.flags]
    words = f"{', '.join(running)} {'runs' if len(running) == 1 else 'run'}" if running else "nothing runs"
    if waits:
        words += f"; {', '.join(waits)} {'has' if len(waits) == 1 else 'have'} power"
    return f"{words}."


def _columns(rows: list[tuple[str, str, str, str]]) -> list[str]:
    """Times and numbers to the right, words to the left, the heading underlined; long words go on below."""
    import textwrap

    folded = [(time, textwrap.wrap(plain(words), 56) or [""], *figures) for time, words, *figures in rows]
    wide = [
        max(len(row[0]) for row in folded),
        max(len(line) for row in folded for line in row[1]),
        max(len(row[2]) for row in folded),
        max(len(row[3]) for row in folded),
    ]
    lines = []
    for time, words, present, flows in folded:
        line = f"  {time:>{wide[0]}}  {words[0]:<{wide[1]}}  {present:>{wide[2]}}  {flows:>{wide[3]}}"
        lines.append(line.rstrip())
        lines += (f"  {'':>{wide[0]}}  {more}" for more in words[1:])
    lines.insert(1, "  " + "  ".join("-" * width for width in wide))
    return lines


def as_data(case: Case, played: CallPlayed) -> dict[str, object]:
    """The whole call as plain data: seconds, volts and amperes."""
    return {
        "version": 1,
        "board": case.board.title,
        "calls": list(played.calls),
        "held": dict(played.fixed),
        "call_ends": played.ends,
        "stopped_by": played.bound or None,
        "repeats_every": played.period,
        "before": {"running": _names(played.before)},
        "steps": [
            {
                "time": step.time,
                "changes": [_event(event) for event in events(step)],
                "running": _names(step.settled),
            }
            for step in played.steps
        ],
        "dangers": list(_dangers(case, played)),
        "left_out": list(case.left_out),
    }


def _event(event: Event) -> dict[str, object]:
    data: dict[str, object] = {"kind": event.change.kind, "name": event.change.name, "text": event.text}
    if event.change.was or event.change.now:
        data |= {"was": event.change.was, "now": event.change.now}
    if event.volts is not None and event.amps is not None:
        data |= {"volts": figure(event.volts, "V", 6), "amps": figure(event.amps, "A", 6)}
    return data


def _names(settled: Settled) -> list[str]:
    return [load.name for load in settled.circuit.loads if load.name in settled.running]

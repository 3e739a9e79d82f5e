"""What the board should do, with every name in it known, and the words of the lines that say it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from wirecheck.language import syntax
from wirecheck.language.syntax import Statement, Word
from wirecheck.model.board import Device, Expectation
from wirecheck.model.devices import every_device
from wirecheck.model.draft import Draft

# More names than this help nobody to choose.
MOST_OFFERED = 8


class LineWords(NamedTuple):
    """The words of a line: what is judged by it, and by which switches, calls or buttons it is to work."""

    judged: tuple[Word, ...]
    by: tuple[Word, ...] = ()

    @property
    def all(self) -> tuple[Word, ...]:
        """All of them, in the order in which they stand."""
        return tuple(sorted((*self.judged, *self.by), key=lambda word: word.span))


def words_of(line: Expectation) -> LineWords:
    """The names in a line that says what the board should do.

    >>> from wirecheck.language.reader import read
    >>> runs, starts = read("expect cool runs COMP, then FAN\\nexpect START starts M").statements
    >>> [word.text for word in words_of(runs).judged], [word.text for word in words_of(starts).all]
    (['COMP', 'FAN'], ['START', 'M'])
    """
    match line:
        case syntax.ExpectFrom(load, switches):
            return LineWords((load,), switches)
        case syntax.ExpectLive(outlet):
            return LineWords((outlet,))
        case syntax.ExpectRuns(calls, steps) | syntax.ExpectEnd(calls, steps):
            return LineWords(tuple(word for word, _ in steps), calls)
        case syntax.ExpectStops(safety, loads):
            return LineWords((safety, *loads))
        case syntax.ExpectStarts(button, loads):
            return LineWords(loads, (button,))


def known_expectations(statements: tuple[Statement, ...], draft: Draft) -> Iterator[Expectation]:
    """The expectations whose every name is known; the others are problems."""
    devices = {device.name: device for device in every_device(draft.devices)}
    loads, outlets = dict(_loads(devices)), dict(_outlets(devices))
    movable = {name: device.outer for name, device in devices.items() if device.part.positions}
    opening = {name: device.outer for name, device in devices.items() if device.part.protections}
    made = {call: "" for device in devices.values() for call in device.part.calls}
    made |= {f"{each.name}.{call}": each.outer for each in devices.values() for call in each.part.calls}

    def all_known(words: tuple[Word, ...], names: dict[str, str], what: str) -> bool:
        """Whether every word is one of the names, each of which is given with the device that it is in."""
        wrong = [word for word in words if word.text not in names]
        for word in wrong:
            owner = word.path[0]
            if owner in draft.broken:
                continue
            inside = [name for name, outer in names.items() if outer == owner]
            if word.text in devices:
                # A device with one load bears that load's name too: the shorter one will do.
                whole = [name for name in inside if name in devices]
                _not_itself(word, what, whole or inside, devices[word.text], draft)
            else:
                draft.unknown(word, f"The {what}", inside or list(names), later=owner not in draft.declared)
        return not wrong

    for statement in statements:
        if isinstance(statement, syntax.ExpectFrom):
            one = all_known((statement.load,), loads | outlets, "load or outlet")
            if all_known(statement.switches, movable, "switch") and one:
                yield statement
        elif isinstance(statement, syntax.ExpectLive):
            if all_known((statement.outlet,), loads | outlets, "outlet"):
                yield statement
        elif isinstance(statement, syntax.ExpectRuns | syntax.ExpectEnd):
            ever = {"idle": ""} if isinstance(statement, syntax.ExpectRuns) else {}
            one = all_known(statement.calls, made | ever, "call")
            if all_known(tuple(word for word, _ in statement.steps), loads | outlets, "load") and one:
                yield statement
        elif isinstance(statement, syntax.ExpectStops):
            one = all_known((statement.safety,), movable | opening | made, "safety or call")
            if all_known(statement.loads, loads, "load") and one:
                yield statement
        elif isinstance(statement, syntax.ExpectStarts):
            one = all_known((statement.button,), movable, "button or switch")
            if all_known(statement.loads, loads, "load") and one:
                yield statement


def _not_itself(word: Word, what: str, inside: list[str], device: Device, draft: Draft) -> None:
    """Say that a device is there but is not what is asked for, and what in it would do."""
    advice = None
    if len(inside) == 1:
        advice = f"Did you mean {inside[0]}?"
    elif inside:
        advice = "It has: " + ", ".join(inside[:MOST_OFFERED]) + "."
    elif device.part.calls:
        advice = f"It makes a call: write expect {device.part.calls[0]} runs, and what it should run."
    draft.wrong("unknown-name", f"{word.text} itself is no {what}.", word.span, advice)


def _loads(devices: dict[str, Device]) -> Iterator[tuple[str, str]]:
    for device in devices.values():
        for load in device.part.loads:
            yield f"{device.name}.{load.name}", device.outer
        if len(device.part.loads) == 1:
            yield device.name, device.outer


def _outlets(devices: dict[str, Device]) -> Iterator[tuple[str, str]]:
    for device in devices.values():
        for outlet in device.part.outlets:
            yield f"{device.name}.{outlet.name}", device.outer
        if device.part.outlets:
            yield device.name, device.outer

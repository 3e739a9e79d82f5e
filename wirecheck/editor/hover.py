"""What is told of the thing under the pointer: what a screw takes, what a wire is for, what a part is."""

from __future__ import annotations

from typing import NamedTuple

from wirecheck.editor.names import thing_at
from wirecheck.editor.opened import Opened
from wirecheck.editor.part_names import told_in_part
from wirecheck.judge.purpose import is_class_2, of_conductor
from wirecheck.language.mentions import up_to, word_at
from wirecheck.language.quantity import amps, feet
from wirecheck.language.reader import on_one_line
from wirecheck.language.syntax import Span, Word
from wirecheck.language.words import FORMS, NAMED_FORMS
from wirecheck.model.board import Board, Conductor, Device, Terminal
from wirecheck.model.devices import every_device
from wirecheck.parts.part import Part
from wirecheck.report import catalog
from wirecheck.report.plain import plain

PURPOSES = {
    "hot": "by its color a hot or a switched wire",
    "neutral": "by its color a neutral",
    "ground": "a ground",
}


class Told(NamedTuple):
    """Rows of plain words, the stretch of text that they are about, and the screw or wire that it names."""

    rows: tuple[str, ...]
    span: Span
    point: str | None = None


def hover(now: Opened, line: int, column: int) -> Told | None:
    """What is known of the word at a place, or None of one that says nothing by itself.

    Examples
    --------
    >>> from wirecheck.assembly import shipped_parts
    >>> from wirecheck.editor.opened import opened
    >>> text = 'board "Shed"\\nbox A device 18 cu in\\nS1 is 3-way-switch in A\\nat A\\n'
    >>> text += "  S1.common -- S1.traveler-1"
    >>> shed = opened(text, "-", shipped_parts())
    >>> hover(shed, 5, 8).rows
    ('S1.common, of 3-way-switch', 'Hot, black screw, ...', 'With it: S1.traveler-1 (line 5)')
    >>> hover(shed, 2, 1).rows
    ('It is written: box A device 20.3 cu in',)
    """
    word = word_at(now.syntax.text, line, column)
    if word is None:
        return None
    rows, point = _of_board(now, word, column) if now.board is not None else ([], None)
    if not rows:
        rows = told_in_part(now, line, column) or _of_part(now, word.text) or _of_line(now, word)
    return Told(tuple(plain(row) for row in rows), word.span, point) if rows else None


def _of_board(now: Opened, word: Word, column: int) -> tuple[list[str], str | None]:
    """What the board has by that name, or by what of it the pointer is on; the name, of a screw or wire."""
    board = now.board
    assert board is not None
    thing = thing_at(now, word.span.line, column)
    for name in dict.fromkeys((up_to(word, column), word.text)):
        name = board.screws.get(name, name)
        if name in board.terminals and (thing is None or name not in board.breakers):
            return _screw(board, board.terminals[name]), name
        if name in board.conductors:
            return _wire(board, board.conductors[name]), name
        inside = next((one for one in every_device(board.devices) if one.name == name), None)
        if inside is not None:
            return _device(inside), None
        if thing is not None and thing.name == name:
            return _line_of(now, name), None
    return _inner_screw(board, word.text) or (_line_of(now, thing.name) if thing else []), None


def _screw(board: Board, terminal: Terminal) -> list[str]:
    device = board.devices.get(terminal.owner)
    if device is not None:
        head = f"{terminal.name}, of {device.part.name}"
        said = catalog.terminal(terminal.spec, device.part)
    else:
        role = catalog.ROLES.get(terminal.spec.role, terminal.spec.role)
        head, said = f"{terminal.name}, in {terminal.place}", f"{role}. {terminal.spec.text}"
    return [head, _begun_large(said), *_joined(board, terminal.name)]


def _wire(board: Board, wire: Conductor) -> list[str]:
    purpose = of_conductor(wire)
    run = board.runs[wire.run]
    said = "24 V control wiring" if is_class_2(wire) else PURPOSES.get(purpose or "", "")
    way = f"{feet(wire.length)} from {wire.places[0]} to {wire.places[1]}"
    rows = [f"{wire.name}, {said}" if said else wire.name, f"{wire.size} {run.kind}, {wire.material}, {way}"]
    return rows + [row for end in wire.ends for row in _joined(board, end)]


def _joined(board: Board, point: str) -> list[str]:
    """What a point is joined with, a row for each line that does."""
    rows = []
    for join in board.joins:
        if any(member.point == point for member in join.members):
            others = [member.name or "a pigtail" for member in join.members if member.point != point]
            where = f"At {join.place}" if _is_end(board, point) else "With it"
            rows.append(f"{where}: {', '.join(others)} (line {join.span.line})")
    if point in board.capped:
        rows.append(f"Capped, on line {board.capped[point].line}")
    return rows


def _is_end(board: Board, point: str) -> bool:
    return point not in board.terminals


def _device(device: Device) -> list[str]:
    values = ", ".join(f"{name} {value.text}" for name, value in device.values.items())
    rows = [f"{device.name}, {device.part.name}", device.part.title]
    return [*rows, f"With {values}"] if values else rows


def _inner_screw(board: Board, name: str) -> list[str]:
    """A terminal of something inside a device."""
    for device in every_device(board.devices):
        for label, spec in device.part.terminals.items():
            if f"{device.name}.{label}" == name:
                return [f"{name}, of {device.part.name}", _begun_large(catalog.terminal(spec, device.part))]
    return []


def _line_of(now: Opened, name: str) -> list[str]:
    """The line that makes a thing, and of a breaker what hangs on it."""
    made = next((one for one in now.mentions if one.makes and one.name == name), None)
    if made is None:
        return []
    statement = next(
        (one for one in now.syntax.statements if one.span.line <= made.span.line <= one.span.end_line), None
    )
    if statement is None:
        return [name]
    rows = [on_one_line(now.syntax.text, statement.span)]
    board = now.board
    if board is not None and name in board.breakers:
        breaker = board.breakers[name]
        legs = ", ".join(leg for _, leg in breaker.poles)
        rows.append(f"{amps(breaker.amps)} on leg {legs} of {breaker.panel}")
        rows += [row for terminal, _ in breaker.poles for row in _joined(board, terminal)]
    return rows


def _of_part(now: Opened, name: str) -> list[str]:
    """A part of the library, where that is what the word names on its line."""
    if not any(getattr(getattr(one, "part", None), "text", "") == name for one in now.syntax.statements):
        return []
    part = now.library.part(name)
    return [] if part is None else [f"{part.name}: {part.title}", *_terminals(part)]


def _terminals(part: Part) -> list[str]:
    return [f"{name}: {catalog.terminal(spec, part)}" for name, spec in part.terminals.items()]


def _of_line(now: Opened, word: Word) -> list[str]:
    """How a statement is written, on the word that begins it."""
    row = now.syntax.text.split("\n")[word.span.line - 1]
    begins = not row[: word.span.column - 1].strip()
    form = FORMS.get(word.text) if begins else NAMED_FORMS.get(word.text)
    return [f"It is written: {form}"] if form else []


def _begun_large(text: str) -> str:
    return text[:1].upper() + text[1:]

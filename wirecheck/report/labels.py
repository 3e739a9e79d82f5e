"""Labels for the wires and the screws of a board, to print, cut out and stick on.

A wire has its number at both ends, with where that end goes and where the other one is. A bare wire has no
label: nothing sticks to it that may come under a connector, and by being bare it is known.

Source: common practice: a label at both ends of each wire, with its number and from where to where it goes
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from wirecheck.caution import CAUTION
from wirecheck.judge.grouped import grouped
from wirecheck.language.listing import listed
from wirecheck.model.board import Board, Conductor, Terminal
from wirecheck.report import html
from wirecheck.report.spreadsheet import Row

BARE = "bare"
GROUND = "ground"
TO_DO = (
    "Cut along the lines. A wire takes a label at each end, with the same number: the second line is where "
    "that end goes, the third where the other end is. Bare wires take none. Stick them on with the power off."
)

STYLE = """
:root { color-scheme: light; --line: #777; --wrong: #b00020; }
html { background: #fff; color: #1a1a1a; }
body { font: 15px/1.35 system-ui, sans-serif; max-width: 52em; margin: 1em auto; padding: 0 1em; }
h1 { font-size: 1.35em; margin: 0; }
h2 { font-size: 1.05em; margin: 1em 0 .3em; }
h1, p, li { overflow-wrap: anywhere; }
p { margin: .4em 0; }
.caution { border: 2px solid var(--wrong); padding: .3em .6em; }
ul { list-style: none; margin: 0; padding: 1px 0 0 1px; display: flex; flex-wrap: wrap; }
li { box-sizing: border-box; border: 1px dashed var(--line); margin: -1px 0 0 -1px; padding: 1mm 1.5mm; }
li { font-size: 8pt; line-height: 1.25; break-inside: avoid; }
li span { display: block; }
b { font-size: 11pt; }
.wires li { width: 60mm; min-height: 15mm; }
.screws li { width: 40mm; min-height: 9mm; }
@media print {
  @page { margin: 12mm; }
  body { max-width: none; margin: 0; padding: 0; }
  h2 { break-after: avoid; }
}
"""


class WireLabel(NamedTuple):
    """The label of one end of a wire: both ends have the wire's number."""

    number: int
    wire: str
    here: str
    there: str


class ScrewLabel(NamedTuple):
    """The label of a screw or of a bar, with the numbers of the wires that go there."""

    screw: str
    wires: tuple[int, ...]


class Labels(NamedTuple):
    """All labels of a board."""

    title: str
    wires: tuple[WireLabel, ...]
    screws: tuple[ScrewLabel, ...]


def labels(board: Board) -> Labels:
    """The labels of a board as it is written: wires in the order of its lines, then screws.

    Examples
    --------
    >>> import wirecheck
    >>> text = "panel LP 120 V\\nbreaker LP.1 15 A\\nbox A device 18 cu in\\n"
    >>> text += "cable W1 14/2 NM-B 9 ft from LP to A\\nat LP\\n  W1.black -- LP.1\\nat A\\n  cap W1.black"
    >>> found = labels(wirecheck.assemble(text)[1])
    >>> found.wires[0]
    WireLabel(number=1, wire='W1.black', here='LP.1', there='A, capped')
    >>> found.screws
    (ScrewLabel(screw='LP.1', wires=(1,)),)
    """
    numbers = {wire.name: number for number, wire in enumerate(_labeled(board), 1)}
    on = _landed(board)
    wires = []
    for wire in _labeled(board):
        ends = [_end(board, point, place, on) for point, place in zip(wire.ends, wire.places, strict=True)]
        name = wire.name if board.runs[wire.run].jacketed else f"{wire.name}, {wire.color}"
        wires += [
            WireLabel(numbers[wire.name], name, *ends),
            WireLabel(numbers[wire.name], name, *ends[::-1]),
        ]
    owners = {end: wire.name for wire in board.conductors.values() for end in wire.ends}
    there = grouped((screw, numbers.get(owners[point])) for point, screws in on.items() for screw in screws)
    joined = dict.fromkeys(name for join in board.joins for name in join.under)
    screws = (
        ScrewLabel(name, tuple(sorted({one for one in there.get(name, ()) if one is not None})))
        for name in joined
        if board.terminals[name].spec.role != GROUND
    )
    return Labels(board.title, tuple(wires), tuple(screws))


def _labeled(board: Board) -> Iterator[Conductor]:
    """The wires that take a label, each in its place among the lines of the board."""
    return (wire for wire in board.conductors.values() if wire.color != BARE)


def _landed(board: Board) -> dict[str, list[str]]:
    """For each end of a wire, the screws that it is under itself."""
    on: dict[str, list[str]] = {}
    for join in board.joins:
        for name, members in join.under.items():
            for member in members:
                if member.kind == "end" and name not in on.setdefault(member.point, []):
                    on[member.point].append(name)
    return on


def _end(board: Board, point: str, place: str, on: Mapping[str, list[str]]) -> str:
    """Where an end of a wire goes, in a few words."""
    if point in board.capped:
        return f"{place}, capped"
    screws = [_screw(board, board.terminals[name]) for name in on.get(point, ())]
    spliced = any(member.point == point for join in board.joins for member in join.splice)
    if spliced or not screws:
        where = f"{place}, {'splice' if spliced else 'joined to nothing'}"
        return listed([where, *screws], 3)
    return listed(screws, 3)


def _screw(board: Board, terminal: Terminal) -> str:
    """A screw, with its place where its name does not tell that."""
    told = terminal.place in board.panels or terminal.place == terminal.owner
    return terminal.name if told else f"{terminal.name} in {terminal.place}"


def rows(found: Labels) -> Iterator[Row]:
    """The labels as rows for a printer of labels, a row a label."""
    yield ("kind", "number", "name", "here", "there")
    yield from (("wire", one.number, one.wire, one.here, one.there) for one in found.wires)
    yield from (("screw", None, one.screw, _wires(one), None) for one in found.screws)


def _wires(label: ScrewLabel) -> str:
    """The wires that a screw has.

    >>> _wires(ScrewLabel("LP.neutral", (2, 5))), _wires(ScrewLabel("S1.line", (1,)))
    ('wires 2 and 5', 'wire 1')
    """
    said = listed(list(map(str, label.wires)), len(label.wires))
    return f"wire{'s' if len(label.wires) > 1 else ''} {said}" if label.wires else ""


def page(found: Labels, notes: Iterable[str] = ()) -> str:
    """The sheet of labels as a page of HTML, whole in itself; a board's names are text in it."""
    heading = f"Labels: {found.title or 'a board without a title'}"
    wires = (_label(str(one.number), one.wire, one.here, f"to {one.there}") for one in found.wires)
    screws = (_label(one.screw, "", _wires(one)) for one in found.screws)
    told = "\n".join(map(html.paragraph, (TO_DO, *notes)))
    return html.page(
        heading,
        STYLE,
        f"<main>\n<h1>{html.text(heading)}</h1>\n"
        f'<p class="caution">{html.text(CAUTION)}</p>\n{told}\n'
        f"{_sheet('Wires', 'wires', wires)}{_sheet('Screws', 'screws', screws)}</main>",
    )


def _sheet(title: str, kind: str, made: Iterable[str]) -> str:
    listed_labels = "\n".join(made)
    return f'<h2>{title}</h2>\n<ul class="{kind}">\n{listed_labels}\n</ul>\n' if listed_labels else ""


def _label(head: str, beside: str, *lines: str) -> str:
    """A label: what is read from afar, what stands beside that, and lines below."""
    below = "".join(f"<span>{html.text(line)}</span>" for line in lines)
    return f"<li><b>{html.text(head)}</b>{html.text(f' {beside}' if beside else '')}{below}</li>"

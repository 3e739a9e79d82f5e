"""From what a file says to the board as built: names resolved, cables opened into conductors.

A name that cannot be resolved becomes a `Problem`, and the board goes on
without what hung on it, so that one slip of the pen hides nothing else.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Protocol

from wirecheck.language import syntax
from wirecheck.language.syntax import Problem, Quantity, Setting, Span, Statement, Syntax, Word
from wirecheck.language.words import nearest
from wirecheck.model.board import (
    Board,
    Box,
    Breaker,
    Conductor,
    Device,
    Expectation,
    Join,
    Member,
    Panel,
    Raceway,
    Run,
    RunEnd,
    Terminal,
)
from wirecheck.parts.part import Part
from wirecheck.tables.sizes import trade_size

CLASS_2_CABLES = frozenset(("CL2", "CL2P", "CL2R", "CL3", "CL3P", "CL3R"))
POWER_CABLES = frozenset(("NM-B", "UF-B", "SER", "SEU", "MC", "AC"))
POWER_COLORS = {
    1: ("black",),
    2: ("black", "white"),
    3: ("black", "red", "white"),
    4: ("black", "red", "blue", "white"),
}
CLASS_2_COLORS = ("red", "white", "green", "yellow", "blue", "brown", "orange", "black")
BOX_KINDS = ("device", "octagon", "square", "junction")
BOX_FLAGS = ("metal", "nonmetallic", "clamps", "wet", "2-gang", "3-gang", "4-gang")
BREAKER_FLAGS = ("1-pole", "2-pole", "3-pole", "gfci", "afci")
MEASURES = ("free", "jacket", "secured", "every")
AMBIENT = 30.0
EDITION = 2023

SYSTEMS = {
    "120": {"a": 120 + 0j},
    "120/240": {"a": 120 + 0j, "b": -120 + 0j},
    "240": {"a": 120 + 0j, "b": -120 + 0j},
    "208Y/120": {leg: cmath.rect(120, -math.tau * turn / 3) for turn, leg in enumerate("abc")},
}


class Parts(Protocol):
    """What the board needs of a library of parts."""

    def part(self, name: str) -> Part | None:
        """The part of that name, or None."""

    def names(self) -> list[str]:
        """Every part's name, for a near one."""


@dataclass
class _Draft:
    """The board while it is being gathered."""

    library: Parts
    problems: list[Problem]
    panels: dict[str, Panel] = field(default_factory=dict)
    breakers: dict[str, Breaker] = field(default_factory=dict)
    boxes: dict[str, Box] = field(default_factory=dict)
    runs: dict[str, Run] = field(default_factory=dict)
    conductors: dict[str, Conductor] = field(default_factory=dict)
    raceways: dict[str, Raceway] = field(default_factory=dict)
    devices: dict[str, Device] = field(default_factory=dict)
    terminals: dict[str, Terminal] = field(default_factory=dict)
    places: dict[str, Span] = field(default_factory=dict)
    declared: dict[str, Span] = field(default_factory=dict)
    # Declared, and not to be made out: what is said of them later is passed over in silence.
    broken: set[str] = field(default_factory=set)

    def wrong(self, rule: str, message: str, span: Span, advice: str | None = None) -> None:
        """Keep a problem."""
        self.problems.append(Problem(rule, message, span, advice))

    def unknown(self, word: Word, what: str, names: list[str]) -> None:
        """Keep a problem about a name that nothing bears, with the near one."""
        near = nearest(word.text, names)
        self.wrong(
            "unknown-name",
            f"{what} {word.text} is not on this board.",
            word.span,
            near and f"Did you mean {near}?",
        )

    def declare(self, word: Word) -> bool:
        """Whether the name is new; a second use of it is a problem."""
        before = self.declared.get(word.text)
        if before is None:
            self.declared[word.text] = word.span
            return True
        self.wrong(
            "syntax",
            f"{word.text} already names something, on line {before.line}.",
            word.span,
            "Give each thing a name of its own.",
        )
        return False

    def place(self, word: Word) -> bool:
        """Whether the name is a place: a panel, a box, or a device that is in no box."""
        if word.text in self.places:
            return True
        if word.text in self.broken or not word.text:
            return False
        device = self.devices.get(word.text)
        if device is not None:
            self.wrong(
                "unknown-name",
                f"{word.text} is inside {device.place}, so wires come to {device.place}.",
                word.span,
                f"Write {device.place} here.",
            )
        else:
            self.unknown(word, "The place", list(self.places))
        return False


def build(source: Syntax, library: Parts) -> Board:
    """The board that a file describes.

    Parameters
    ----------
    source: what the reader made of the file.
    library: where parts are looked up by name.

    Returns
    -------
    A `Board`; its `problems` hold those of the file and those of its names.
    """
    draft = _Draft(library, list(source.problems), broken=set(source.broken))
    title, edition, ambient = _heading(source.statements, draft)
    for statement in source.statements:
        if isinstance(statement, syntax.PanelStatement):
            _panel(statement, draft)
        elif isinstance(statement, syntax.BoxStatement):
            _box(statement, draft)
    for statement in source.statements:
        if isinstance(statement, syntax.BreakerStatement):
            _breaker(statement, draft)
        elif isinstance(statement, syntax.DeviceStatement):
            _device(statement, draft)
    for statement in source.statements:
        if isinstance(statement, syntax.RacewayStatement):
            _raceway(statement, draft)
    for statement in source.statements:
        if isinstance(statement, syntax.CableStatement):
            _cable(statement, draft)
        elif isinstance(statement, syntax.WireStatement):
            _wire(statement, draft)
    joins, capped = _make_up(source.statements, draft)
    expectations = tuple(_expectations(source.statements, draft))
    draft.problems.sort(key=lambda problem: problem.span)
    return Board(
        title=title.text if title else "",
        edition=edition,
        ambient=ambient,
        panels=draft.panels,
        breakers=draft.breakers,
        boxes=draft.boxes,
        runs=draft.runs,
        conductors=draft.conductors,
        raceways=draft.raceways,
        devices=draft.devices,
        terminals=draft.terminals,
        joins=joins,
        capped=capped,
        expectations=expectations,
        problems=tuple(draft.problems),
        span=title.span if title else Span(1, 1, 1, 1),
    )


def every_device(devices: dict[str, Device]) -> Iterator[Device]:
    """Each device and, after it, the parts inside it, however deep."""
    waiting = list(reversed(devices.values()))
    while waiting:
        device = waiting.pop()
        yield device
        waiting.extend(reversed(device.children))


def switches(board: Board) -> Iterator[Device]:
    """Each device, at any depth, that a hand moves between positions."""
    for device in every_device(board.devices):
        if device.part.positions and device.part.moved_by == "hand":
            yield device


def calls(board: Board) -> tuple[str, ...]:
    """Every call that some thermostat of the board can make, in order of appearance.

    Where more than one device makes a call of the same name, each is there
    under its own name too (`Z1.heat`).
    """
    makers: dict[str, list[str]] = {}
    for device in every_device(board.devices):
        for call in device.part.calls:
            makers.setdefault(call, []).append(device.name)
    told: list[str] = []
    for call, names in makers.items():
        told.append(call)
        if len(names) > 1:
            told.extend(f"{name}.{call}" for name in names)
    return tuple(told)


# ------------------------------------------------------------------ heading


def _heading(statements: tuple[Statement, ...], draft: _Draft) -> tuple[Word | None, int, float]:
    title, edition, ambient = None, EDITION, AMBIENT
    for statement in statements:
        if isinstance(statement, syntax.BoardTitle):
            if title is None:
                title = statement.title
            else:
                draft.wrong("syntax", "A board has one title, and this is a second one.", statement.span)
        elif isinstance(statement, syntax.Code):
            if statement.name.text != "nec" or int(statement.edition.value) != EDITION:
                draft.wrong(
                    "syntax",
                    f"The limits known here are those of nec {EDITION}.",
                    statement.span,
                    f"Write: code nec {EDITION}",
                )
        elif isinstance(statement, syntax.Ambient):
            ambient = statement.temperature.value
    if title is None:
        draft.wrong("syntax", "The board has no title.", Span(1, 1, 1, 1), 'Begin with: board "What it is"')
    return title, edition, ambient


# ------------------------------------------------------------------- places


def _panel(statement: syntax.PanelStatement, draft: _Draft) -> None:
    if not draft.declare(statement.name):
        return
    name = statement.name.text
    legs = SYSTEMS.get(statement.system.text)
    if legs is None:
        draft.wrong(
            "syntax",
            f"{statement.system.text} V is no source known here.",
            statement.system.span,
            "Sources are 120 V, 120/240 V, 240 V and 208Y/120 V.",
        )
        legs = SYSTEMS["120/240"]
    available = statement.available.value if statement.available else None
    draft.panels[name] = Panel(name, statement.system.text, legs, available, statement.span)
    draft.places[name] = statement.name.span
    _terminals_of("panel", name, name, draft)


def _box(statement: syntax.BoxStatement, draft: _Draft) -> None:
    if not draft.declare(statement.name):
        return
    if statement.kind.text not in BOX_KINDS:
        near = nearest(statement.kind.text, list(BOX_KINDS))
        draft.wrong(
            "syntax",
            f"{statement.kind.text} is no kind of box known here.",
            statement.kind.span,
            f"Did you mean {near}?" if near else "Boxes are: " + ", ".join(BOX_KINDS) + ".",
        )
    flags = _flags(statement.flags, BOX_FLAGS, "A box", draft)
    name = statement.name.text
    draft.boxes[name] = Box(
        name=name,
        kind=statement.kind.text,
        volume=statement.volume.value if statement.volume else None,
        trade_size=statement.trade_size.text if statement.trade_size else None,
        metal="metal" in flags,
        clamps="clamps" in flags,
        wet="wet" in flags,
        gangs=next((int(flag[0]) for flag in flags if flag.endswith("-gang")), 1),
        span=statement.span,
    )
    draft.places[name] = statement.name.span
    if "metal" in flags:
        _terminals_of("metal-box", name, name, draft)


def _flags(words: tuple[Word, ...], known: tuple[str, ...], what: str, draft: _Draft) -> frozenset[str]:
    for word in words:
        if word.text not in known:
            near = nearest(word.text, list(known))
            draft.wrong(
                "syntax",
                f"{word.text} is nothing that is said of this. {what} may be: " + ", ".join(known) + ".",
                word.span,
                f"Did you mean {near}?" if near else None,
            )
    return frozenset(word.text for word in words if word.text in known)


def _terminals_of(part_name: str, owner: str, place: str, draft: _Draft) -> Part | None:
    part = draft.library.part(part_name)
    if part is not None:
        for spec in part.terminals.values():
            name = f"{owner}.{spec.name}"
            draft.terminals[name] = Terminal(name, owner, place, spec)
    return part


def _breaker(statement: syntax.BreakerStatement, draft: _Draft) -> None:
    if not draft.declare(statement.name):
        return
    name = statement.name.text
    owner, _, position = name.rpartition(".")
    panel = draft.panels.get(owner)
    if owner in draft.broken:
        draft.broken.add(name)
        return
    if panel is None:
        word = Word(owner or name, statement.name.span)
        draft.unknown(word, "The panel", list(draft.panels))
        return
    if not position.isdigit() or len(position) > 3 or int(position) == 0:
        draft.wrong(
            "syntax",
            f"{name} names no position of the panel.",
            statement.name.span,
            f"Positions are numbered from 1, as in {owner}.3.",
        )
        return
    flags = _flags(statement.flags, BREAKER_FLAGS, "A breaker", draft)
    count = next((int(flag[0]) for flag in flags if flag.endswith("-pole")), 1)
    legs = list(panel.legs)
    if count > len(legs):
        draft.wrong(
            "syntax",
            f"{name} has {count} poles, and {owner} has {len(legs)} leg{'s' if len(legs) > 1 else ''}.",
            statement.span,
        )
        count = len(legs)
    first = (int(position) - 1) // 2 % len(legs)
    if statement.leg is not None:
        if statement.leg.text in legs:
            first = legs.index(statement.leg.text)
        else:
            draft.wrong(
                "syntax",
                f"{owner} has no leg {statement.leg.text}.",
                statement.leg.span,
                "Its legs are " + ", ".join(legs) + ".",
            )
    taken = [legs[(first + pole) % len(legs)] for pole in range(count)]
    if count == len(legs):
        taken = legs
    names = [name] if count == 1 else [f"{name}.{'abc'[pole]}" for pole in range(count)]
    kind = next((flag for flag in ("gfci", "afci") if flag in flags), None)
    part = draft.library.part(f"{kind}-breaker" if kind else "breaker")
    spec = part.terminals.get("load") if part else None
    if spec is not None:
        for terminal in names:
            draft.terminals[terminal] = Terminal(terminal, name, owner, spec)
    neutral = part.terminals.get("neutral") if part else None
    if neutral is not None:
        draft.terminals[f"{name}.neutral"] = Terminal(f"{name}.neutral", name, owner, neutral)
    draft.breakers[name] = Breaker(
        name=name,
        panel=owner,
        amps=statement.rating.value,
        poles=tuple(zip(names, taken, strict=True)),
        flags=flags,
        tied=statement.tied.text if statement.tied else None,
        span=statement.span,
        rating_span=statement.rating.span,
    )


# ------------------------------------------------------------------ devices


def _device(statement: syntax.DeviceStatement, draft: _Draft) -> None:
    if not draft.declare(statement.name):
        return
    part = draft.library.part(statement.part.text)
    if part is None:
        draft.broken.add(statement.name.text)
        if statement.place is None:
            draft.places[statement.name.text] = statement.name.span
        near = nearest(statement.part.text, draft.library.names())
        draft.wrong(
            "unknown-part",
            f"There is no part called {statement.part.text} in the library.",
            statement.part.span,
            f"Did you mean {near}?" if near else "See the list with: wirecheck parts",
        )
        return
    if part.problems:
        first = part.problems[0]
        draft.wrong(
            "unknown-part",
            f"The part {part.name} has a mistake on line {first.span.line} of its own file: {first.message}",
            statement.part.span,
            "Check the part's file first.",
        )
    name = statement.name.text
    place = name
    if statement.place is None:
        draft.places[name] = statement.name.span
    elif statement.place.text in draft.places:
        place = statement.place.text
    elif statement.place.text not in draft.broken:
        draft.unknown(statement.place, "The place", list(draft.places))
    values = _values(part, statement.settings, statement.part.span, draft)
    draft.devices[name] = _assemble(name, part, place, values, statement.span, draft, ())
    for spec in part.terminals.values():
        terminal = f"{name}.{spec.name}"
        draft.terminals[terminal] = Terminal(terminal, name, place, spec)


def _assemble(
    name: str,
    part: Part,
    place: str,
    values: dict[str, Quantity | Word],
    span: Span,
    draft: _Draft,
    above: tuple[str, ...],
) -> Device:
    children = []
    for child in part.children:
        inner = draft.library.part(child.part)
        if inner is None or inner.name in above or inner.name == part.name:
            continue
        settings = tuple(
            Setting(setting.name, values.get(setting.value.text, setting.value), setting.span)
            if isinstance(setting.value, Word)
            else setting
            for setting in child.settings
        )
        quiet = _Draft(draft.library, [])
        inner_values = _values(inner, settings, span, quiet)
        children.append(
            _assemble(f"{name}.{child.name}", inner, place, inner_values, span, draft, (*above, part.name))
        )
    return Device(name, part, place, values, tuple(children), span)


SAME_KIND = {"horsepower": "power"}


def _values(
    part: Part, settings: tuple[Setting, ...], span: Span, draft: _Draft
) -> dict[str, Quantity | Word]:
    """Every rating of the part, the settings over the defaults."""
    values = {rating.name: rating.values[0] for rating in part.ratings.values() if rating.values}
    for setting in settings:
        if setting.name is not None:
            rating = part.ratings.get(setting.name.text)
            if rating is None:
                near = nearest(setting.name.text, list(part.ratings))
                draft.wrong(
                    "unknown-name",
                    f"{part.name} has no rating called {setting.name.text}.",
                    setting.name.span,
                    f"Did you mean {near}?" if near else _offer(part),
                )
                continue
        else:
            fitting = [
                rating for rating in part.ratings.values() if _same_kind(rating.values[0], setting.value)
            ]
            if len(fitting) != 1:
                several = ", ".join(rating.name for rating in fitting)
                draft.wrong(
                    "syntax",
                    f"{setting.value.text} fits {'more than one' if fitting else 'no'} rating of {part.name}"
                    + (f" ({several})." if fitting else "."),
                    setting.span,
                    f"Say which, as in: with {fitting[0].name} {setting.value.text}"
                    if fitting
                    else _offer(part),
                )
                continue
            rating = fitting[0]
        if not _same_kind(rating.values[0], setting.value):
            draft.wrong(
                "syntax",
                f"{rating.name} of {part.name} is given as {setting.value.text}, another kind of value.",
                setting.span,
                f"It is a value such as {rating.values[0].text}.",
            )
            continue
        if len(rating.values) > 1 and not any(_equal(value, setting.value) for value in rating.values):
            choice = " or ".join(value.text for value in rating.values)
            draft.wrong(
                "syntax",
                f"{part.name} comes with {rating.name} {choice}, not {setting.value.text}.",
                setting.span,
            )
            continue
        values[rating.name] = setting.value
    return values


def _same_kind(one: Quantity | Word, other: Quantity | Word) -> bool:
    if isinstance(one, Quantity) and isinstance(other, Quantity):
        return SAME_KIND.get(one.dimension, one.dimension) == SAME_KIND.get(other.dimension, other.dimension)
    return isinstance(one, Word) and isinstance(other, Word)


def _equal(one: Quantity | Word, other: Quantity | Word) -> bool:
    if isinstance(one, Quantity) and isinstance(other, Quantity):
        return math.isclose(one.value, other.value, rel_tol=1e-9)
    return one.text == other.text


def _offer(part: Part) -> str | None:
    if not part.ratings:
        return f"{part.name} takes no values."
    return "It takes: " + ", ".join(f"{r.name} (as {r.values[0].text})" for r in part.ratings.values()) + "."


# --------------------------------------------------------------------- runs


def _ends(ends: tuple[syntax.RunEnd, syntax.RunEnd], draft: _Draft) -> tuple[RunEnd, RunEnd] | None:
    known = [draft.place(end.place) for end in ends]
    if not all(known):
        return None
    first, second = (_end(end, draft) for end in ends)
    return first, second


def _end(end: syntax.RunEnd, draft: _Draft) -> RunEnd:
    told: dict[str, float] = {}
    spans: dict[str, Span] = {}
    for measure in end.measures:
        if measure.name.text not in MEASURES:
            near = nearest(measure.name.text, list(MEASURES))
            draft.wrong(
                "syntax",
                f"{measure.name.text} is no measure of a cable's end. The tape says: "
                + ", ".join(MEASURES)
                + ".",
                measure.name.span,
                f"Did you mean {near}?" if near else None,
            )
        elif measure.value.dimension == "length":
            told[measure.name.text] = measure.value.value
            spans[measure.name.text] = measure.span
    return RunEnd(
        place=end.place.text,
        free=told.get("free"),
        jacket=told.get("jacket"),
        secured=told.get("secured"),
        every=told.get("every"),
        spans=spans,
        span=end.span,
    )


def _raceway_name(word: Word | None, draft: _Draft) -> str | None:
    if word is None:
        return None
    if word.text in draft.broken:
        return None
    if word.text not in draft.raceways:
        draft.unknown(word, "The raceway", list(draft.raceways))
        return None
    return word.text


def _raceway(statement: syntax.RacewayStatement, draft: _Draft) -> None:
    if not draft.declare(statement.name):
        return
    ends = _ends(statement.ends, draft)
    if ends is None:
        return
    name = statement.name.text
    draft.raceways[name] = Raceway(
        name=name,
        kind=statement.kind.text,
        size=statement.size.value,
        size_text=statement.size.text,
        length=statement.length.value,
        places=(ends[0].place, ends[1].place),
        runs=(),
        span=statement.span,
    )


def _cable(statement: syntax.CableStatement, draft: _Draft) -> None:
    if not draft.declare(statement.name):
        return
    kind = statement.kind.text
    low_voltage = kind in CLASS_2_CABLES
    if not low_voltage and kind not in POWER_CABLES:
        known = sorted(POWER_CABLES | CLASS_2_CABLES)
        near = nearest(kind, known)
        draft.wrong(
            "syntax",
            f"{kind} is no kind of cable known here.",
            statement.kind.span,
            f"Did you mean {near}?" if near else "Cables are: " + ", ".join(known) + ".",
        )
    if low_voltage:
        most = len(CLASS_2_COLORS)
        colors = CLASS_2_COLORS[: statement.count]
    else:
        most = max(POWER_COLORS)
        colors = (*POWER_COLORS.get(statement.count, POWER_COLORS[most]), "bare")
    if not 1 <= statement.count <= most:
        draft.wrong(
            "syntax",
            f"A {kind} cable of {statement.count} conductors is not known here.",
            statement.span,
            f"Up to {most} are.",
        )
    ends = _ends(statement.ends, draft)
    if ends is None:
        draft.broken.add(statement.name.text)
        return
    _run(statement, colors, True, ends, draft)


def _wire(statement: syntax.WireStatement, draft: _Draft) -> None:
    if not draft.declare(statement.name):
        return
    ends = _ends(statement.ends, draft)
    if ends is None:
        draft.broken.add(statement.name.text)
        return
    _run(statement, (statement.color.text,), False, ends, draft)


def _run(
    statement: syntax.CableStatement | syntax.WireStatement,
    colors: tuple[str, ...],
    jacketed: bool,
    ends: tuple[RunEnd, RunEnd],
    draft: _Draft,
) -> None:
    name = statement.name.text
    try:
        trade_size(statement.size.text)
    except LookupError as unknown:
        draft.wrong(
            "syntax", f"{unknown}.", statement.size.span, "Sizes are written as 14, 1/0, 250 or 2.5 mm2."
        )
        draft.broken.add(name)
        return
    raceway = _raceway_name(statement.raceway, draft)
    places = (ends[0].place, ends[1].place)
    second = "'" if places[0] == places[1] else ""
    conductors = []
    for color in colors:
        conductor = f"{name}.{color}" if jacketed else name
        conductors.append(
            Conductor(
                name=conductor,
                size=statement.size.text,
                material="aluminum" if statement.aluminum else "copper",
                insulation=statement.kind.text,
                color=color,
                length=statement.length.value,
                places=places,
                ends=(f"{conductor}@{places[0]}", f"{conductor}@{places[1]}{second}"),
                run=name,
                raceway=raceway,
                span=statement.span,
            )
        )
    draft.conductors.update((conductor.name, conductor) for conductor in conductors)
    draft.runs[name] = Run(
        name=name,
        kind=statement.kind.text,
        jacketed=jacketed,
        conductors=tuple(conductors),
        length=statement.length.value,
        ends=ends,
        raceway=raceway,
        span=statement.span,
    )
    if raceway is not None:
        way = draft.raceways[raceway]
        draft.raceways[raceway] = Raceway(
            way.name, way.kind, way.size, way.size_text, way.length, way.places, (*way.runs, name), way.span
        )


# -------------------------------------------------------------------- joins


def _make_up(statements: tuple[Statement, ...], draft: _Draft) -> tuple[tuple[Join, ...], dict[str, Span]]:
    joins: list[Join] = []
    capped: dict[str, Span] = {}
    used: set[str] = set()
    place: Word | None = None
    known = False
    for statement in statements:
        if isinstance(statement, syntax.AtStatement):
            place = statement.place
            known = draft.place(place)
        elif isinstance(statement, syntax.JoinStatement | syntax.CapStatement):
            if place is None:
                draft.wrong(
                    "syntax",
                    "This join does not say where it is made.",
                    statement.span,
                    "Write the place above it, as in: at A",
                )
                continue
            if not known:
                continue
            if isinstance(statement, syntax.CapStatement):
                point = _conductor_end(statement.name, place.text, used, draft)
                if point is not None:
                    capped[point] = statement.span
                continue
            if statement.when is not None:
                draft.wrong(
                    "syntax",
                    "A join on a board is there or is not: `when` belongs inside a part.",
                    statement.span,
                )
            members = [
                member
                for end in statement.ends
                if (member := _member(end, place.text, used, draft)) is not None
            ]
            if len(members) > 1:
                joins.append(_join(place.text, members, statement.span))
    return tuple(joins), capped


def _member(end: syntax.JoinEnd, place: str, used: set[str], draft: _Draft) -> Member | None:
    marked = end.marked.text if end.marked else None
    if end.name is None:
        return Member("pigtail", "pigtail", "", marked, end.span)
    name = end.name.text
    terminal = draft.terminals.get(name)
    if terminal is not None:
        if terminal.place == place:
            return Member("terminal", name, name, marked, end.span)
        draft.wrong(
            "unknown-name",
            f"{name} is in {terminal.place}, and this join is made at {place}.",
            end.name.span,
            f"Join it under: at {terminal.place}",
        )
        return None
    point = _conductor_end(end.name, place, used, draft)
    return None if point is None else Member("end", name, point, marked, end.span)


def _conductor_end(word: Word, place: str, used: set[str], draft: _Draft) -> str | None:
    """The point of that conductor's end in this place."""
    conductor = draft.conductors.get(word.text)
    if conductor is None:
        _no_such_end(word, place, draft)
        return None
    here = [end for end, where in zip(conductor.ends, conductor.places, strict=True) if where == place]
    if not here:
        first, second = conductor.places
        draft.wrong(
            "unknown-name",
            f"{word.text} runs from {first} to {second} and does not come to {place}.",
            word.span,
            "Check the cable's line, or the place named after `at`.",
        )
        return None
    point = here[0] if here[0] not in used else here[-1]
    used.add(point)
    return point


def _no_such_end(word: Word, place: str, draft: _Draft) -> None:
    """Say what is wrong with a name in a join that is no terminal and no conductor."""
    owner, _, last = word.text.partition(".")
    if owner in draft.broken or word.text in draft.broken:
        return
    if word.text in draft.runs and draft.runs[word.text].jacketed:
        colors = ", ".join(conductor.name for conductor in draft.runs[word.text].conductors)
        draft.wrong(
            "unknown-name",
            f"{word.text} is a cable; name one of its conductors.",
            word.span,
            f"It has: {colors}.",
        )
        return
    if word.text in draft.devices or word.text in draft.breakers or word.text in draft.panels:
        inside = [terminal.name for terminal in draft.terminals.values() if terminal.owner == word.text]
        draft.wrong(
            "unknown-name",
            f"{word.text} is not a screw; name one of its terminals.",
            word.span,
            "It has: " + ", ".join(inside) + "." if inside else None,
        )
        return
    if owner in draft.declared and last:
        inside = [name for name in (*draft.terminals, *draft.conductors) if name.startswith(owner + ".")]
        near = nearest(word.text, inside)
        if inside:
            draft.wrong(
                "unknown-name",
                f"{owner} has no {last}.",
                word.span,
                f"Did you mean {near}? It has: " + ", ".join(inside) + "."
                if near
                else "It has: " + ", ".join(inside) + ".",
            )
            return
        if owner in draft.boxes and last == "ground":
            draft.wrong(
                "unknown-name",
                f"Only a metal box has a ground screw, and {owner} is not said to be metal.",
                word.span,
                f"If it is, write metal at the end of the line that declares {owner}.",
            )
            return
    here = [terminal.name for terminal in draft.terminals.values() if terminal.place == place]
    here += [conductor.name for conductor in draft.conductors.values() if place in conductor.places]
    draft.unknown(word, "The wire or screw", here or [*draft.terminals, *draft.conductors])


def _join(place: str, members: list[Member], span: Span) -> Join:
    """Sort the members of one line into the splice and the screws.

    Conductors that stand beside a screw sit under it; a pigtail leads from the
    splice to the screw after it; two screws side by side are joined by a jumper.
    """
    under: dict[str, list[Member]] = {}
    splice: list[Member] = []
    waiting: list[Member] = []
    last: Member | None = None
    tail: Member | None = None
    has_tail = any(member.kind == "pigtail" for member in members)
    for member in members:
        if member.kind == "pigtail":
            splice.extend(waiting)
            waiting = []
            tail = member
            splice.append(member)
            last = None
        elif member.kind == "end":
            waiting.append(member)
        else:
            sits = under.setdefault(member.point, [])
            if tail is not None:
                sits.append(tail)
                tail = None
                splice.extend(waiting)
            elif waiting:
                sits.extend(waiting)
            elif last is not None:
                sits.append(last)
                under[last.point].append(member)
            waiting = []
            last = member
    if waiting:
        if has_tail or last is None:
            splice.extend(waiting)
        else:
            under[last.point].extend(waiting)
    return Join(
        place, tuple(members), tuple(splice), {name: tuple(sits) for name, sits in under.items()}, span
    )


# ------------------------------------------------------------- expectations


def _expectations(statements: tuple[Statement, ...], draft: _Draft) -> Iterator[Expectation]:
    devices = {device.name: device for device in every_device(draft.devices)}
    loads = set(_load_names(devices))
    outlets = set(_outlet_names(devices))
    movable = {name for name, device in devices.items() if device.part.positions}
    made = {call for device in devices.values() for call in device.part.calls}
    made |= {f"{device.name}.{call}" for device in devices.values() for call in device.part.calls}

    def all_known(words: tuple[Word, ...], names: set[str], what: str) -> bool:
        wrong = [word for word in words if word.text not in names]
        for word in wrong:
            if word.text.partition(".")[0] in draft.broken:
                continue
            owner = word.text.partition(".")[0]
            draft.unknown(word, what, [name for name in names if name.startswith(owner)] or list(names))
        return not wrong

    for statement in statements:
        if isinstance(statement, syntax.ExpectFrom):
            one = all_known((statement.load,), loads | outlets, "The load or outlet")
            if all_known(statement.switches, movable, "The switch") and one:
                yield statement
        elif isinstance(statement, syntax.ExpectLive):
            if all_known((statement.outlet,), loads | outlets, "The outlet"):
                yield statement
        elif isinstance(statement, syntax.ExpectRuns):
            one = all_known(statement.calls, made | {"idle"}, "The call")
            if all_known(tuple(word for word, _ in statement.steps), loads | outlets, "The load") and one:
                yield statement
        elif isinstance(statement, syntax.ExpectStops):
            one = all_known((statement.safety,), movable | _opening(devices), "The safety")
            if all_known(statement.loads, loads, "The load") and one:
                yield statement


def _opening(devices: dict[str, Device]) -> set[str]:
    return {name for name, device in devices.items() if device.part.protections}


def _load_names(devices: dict[str, Device]) -> Iterator[str]:
    for device in devices.values():
        for load in device.part.loads:
            yield f"{device.name}.{load.name}"
        if len(device.part.loads) == 1:
            yield device.name


def _outlet_names(devices: dict[str, Device]) -> Iterator[str]:
    for device in devices.values():
        for outlet in device.part.outlets:
            yield f"{device.name}.{outlet.name}"
        if device.part.outlets:
            yield device.name

"""Placing by hand: a panel, a box, a device, a cable, a wire or what should run, put on a board or changed.

Each is one line of the text, written here as a hand would type it. The language and the model say what is
wrong with it: a line that makes a mistake is not placed, and the answer says which mistake that is.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from itertools import chain, count
from string import ascii_uppercase
from typing import TYPE_CHECKING, Any, Literal, NamedTuple, get_args

from wirecheck.language.names import Position, of_end
from wirecheck.language.syntax import (
    Ambient,
    AtStatement,
    BoardTitle,
    BoxStatement,
    BreakerStatement,
    CableStatement,
    Code,
    DeviceStatement,
    ExpectFrom,
    ExpectLive,
    ExpectRuns,
    ExpectStops,
    PanelStatement,
    Problem,
    RacewayStatement,
    RoomStatement,
    Span,
    Statement,
    WireStatement,
    Word,
)

if TYPE_CHECKING:
    from wirecheck.mend.sheet import Sheet
    from wirecheck.model.board import Board
    from wirecheck.page.question import Question
    from wirecheck.parts.library import Library
    from wirecheck.parts.part import Part

What = Literal[
    "panel",
    "subpanel",
    "breaker",
    "box",
    "device",
    "cable",
    "raceway",
    "wire",
    "room",
    "goal",
    "value",
    "away",
]
"""What is put on the board; or a value of what is there is set, or that is taken away."""
WHATS: tuple[What, ...] = get_args(What)

TITLE = 'board "A board of my own"'
"""What a text begins with in which nothing stands yet."""
ORDER: tuple[tuple[type[Any], ...], ...] = (
    (BoardTitle, Code, Ambient),
    (PanelStatement,),
    (BreakerStatement,),
    (BoxStatement,),
    (RacewayStatement, CableStatement, WireStatement),
    (DeviceStatement,),
    (RoomStatement,),
)
"""In which order a board says what is on it, where it has no line of that kind yet."""
MADE: dict[What, type[Any]] = {
    "panel": PanelStatement,
    "subpanel": PanelStatement,
    "breaker": BreakerStatement,
    "box": BoxStatement,
    "cable": CableStatement,
    "raceway": RacewayStatement,
    "wire": WireStatement,
    "room": RoomStatement,
    "device": DeviceStatement,
}
GOALS = (ExpectFrom, ExpectLive, ExpectRuns, ExpectStops)
"""What says what should run: from switches, at all times, or by a call; and what stops it."""
MOST_SPACES = 84
"""The spaces of a panel among which a free one is looked for."""
NEVER = '#"\n\r'
"""What none of the words may hold: a remark or a quotation in which the rest of the line would end."""


class Placing(NamedTuple):
    """What is placed: its name, kind and size, where it is, and where it leads.

    `name` may be empty: then it gets the next that is free. Of a device `kind` is its part and `size` its
    values; of a goal `name` is the load and `kind` what it is worked from, or the call that runs it. Where
    its `size` is `live`, it has power at all times; where it is `stops`, `name` stops `kind`. Of a
    value `kind` is which. A single wire has a `color`, and `within` is the raceway that it is in. Of a room
    `kind` is what kind of place a box or a device is in, or nothing.
    """

    what: What
    name: str = ""
    kind: str = ""
    size: str = ""
    place: str = ""
    to: str = ""
    color: str = ""
    within: str = ""


class CannotPlace(ValueError):
    """A line that the board cannot have; the message says why."""


def place_answer(path: str, asked: Question) -> str:
    """The board's text with the thing placed, and its name; or why it cannot be.

    Parameters
    ----------
    path : where the board's file is, beside which its own parts may lie
    asked : the text, and what is placed
    """
    from wirecheck.assembly import NotABoard, library_beside

    assert asked.placing is not None
    try:
        text, name = placed(asked.text, asked.placing, library_beside(path))
    except (CannotPlace, NotABoard) as error:
        return json.dumps({"refused": str(error)})
    return json.dumps({"text": text, "name": name})


def placed(text: str, placing: Placing, library: Library) -> tuple[str, str]:
    r"""A text with a thing placed, and the name of that.

    Raises
    ------
    CannotPlace
        The line would be a mistake, or nothing changes.
    wirecheck.assembly.NotABoard
        The text is something else.

    Examples
    --------
    >>> from wirecheck import shipped_parts
    >>> text, name = placed("", Placing("panel", kind="120/240 V", size="10 kA"), shipped_parts())
    >>> text
    'board "A board of my own"\n\npanel LP 120/240 V, 10 kA available\n'
    """
    from wirecheck.language import reader
    from wirecheck.mend.sheet import sheet
    from wirecheck.model.build import build
    from wirecheck.model.devices import callers

    for words in placing:
        if any(char in words for char in NEVER):
            raise CannotPlace("A name and a value stand in one line, without # and quotes.")
    if not text.strip():
        text = f"{TITLE}\n"
    syntax = reader.read(text)
    if not any(isinstance(one, BoardTitle) for one in syntax.statements):
        from wirecheck.assembly import need_board

        need_board(syntax)
    now, before = sheet(syntax), build(syntax, library)
    if placing.what == "away":
        return _taken_away(now, placing.name).text(), placing.name
    name = placing.name.strip()
    if placing.what == "value":
        after = _set(now, placing)
    elif placing.what == "room":
        name = placing.place.strip()
        after = _in_room(now, name, placing.kind.strip())
    elif (
        placing.what == "goal"
        and name
        and not placing.size
        and placing.kind.strip() in {*callers(before), "idle"}
    ):
        after = _run_by(now, name, placing.kind.strip())
    elif placing.what == "goal" and name:
        after = _expected(now, name, _line(placing, name))
    else:
        name = name or _free(placing, before, library)
        after = _added(now, placing.what, _line(placing, name))
    made = after.text()
    _hold(before, build(reader.read(made), library))
    return made, name


def things(statements: Iterable[Any], text: str) -> list[dict[str, Any]]:
    """What is on a board by its name, with the values that its line says, which may be set.

    >>> from wirecheck.language.reader import read
    >>> said = 'board "Shed"\\npanel LP 120 V\\nbreaker LP.1 15 A'
    >>> things(read(said).statements, said)[1]
    {'name': 'LP.1', 'what': 'breaker', 'values': {'rating': '15 A'}}
    """
    from wirecheck.language.rewriting import covered

    words = {kind: what for what, kind in MADE.items() if kind is not RoomStatement and what != "subpanel"}
    return [
        {
            "name": one.name.text,
            "what": "subpanel" if isinstance(one, PanelStatement) and one.fed else words[type(one)],
            "values": {what: covered(text, span).strip(" ,") for what, span in _values(one).items()},
            **({"ends": [end.place.text for end in one.ends]} if isinstance(one, RacewayStatement) else {}),
        }
        for one in statements
        if type(one) in words
    ]


def _line(placing: Placing, name: str) -> str:
    """The line that says what is placed."""
    kind, size, place, to, color, within = (words.strip() for words in placing[2:])
    match placing.what:
        case "panel":
            return f"panel {name} {kind}" + (f", {size} available" if size else "")
        case "subpanel":
            return f"subpanel {name} {kind}" + (f", {size} main" if size else "")
        case "breaker" | "box":
            return " ".join(filter(None, (placing.what, name, kind, size)))
        case "cable" | "raceway":
            return f"{placing.what} {name} {kind} {size} from {place} to {to}"
        case "wire":
            inside = f" in {within}" if within else ""
            return f"wire {name} {kind} {color} {size} from {place} to {to}{inside}"
        case "device":
            return f"{name} is {kind}" + (f" {size}" if size else "") + (f" in {place}" if place else "")
        case _:
            if not kind and size != "live":
                raise CannotPlace(
                    f"Say what {name} stops." if size else f"Say what works {name}: switches, or a call."
                )
            return f"expect {name} {size or 'from'}" + ("" if size == "live" else f" {kind}")


def _added(now: Sheet, what: What, written: str) -> Sheet:
    """The sheet with a line more, after the last of its kind, or where such lines stand on a board."""
    from wirecheck.mend.sheet import Line

    statement = _read(written, MADE.get(what, GOALS))
    kinds = next((kinds for kinds in ORDER if isinstance(statement, kinds)), GOALS)
    like = [number for number, line in enumerate(now.lines) if isinstance(line.statement, kinds)]
    if like:
        at = like[-1]
    elif what == "goal":
        at = len(now.lines) - 1
    else:
        earlier = tuple(chain.from_iterable(ORDER[: ORDER.index(kinds)]))
        at = max((n for n, line in enumerate(now.lines) if isinstance(line.statement, earlier)), default=-1)
    line = Line(statement, None, written if like else f"\n{written}")
    return now._replace(lines=(*now.lines[: at + 1], line, *now.lines[at + 1 :]))


def _read(written: str, kind: type[Any] | tuple[type[Any], ...]) -> Statement:
    """The statement that a line is.

    Raises
    ------
    CannotPlace
        It is none, or another than was meant.
    """
    from wirecheck.language import reader

    said = reader.read(written)
    if said.problems:
        raise CannotPlace(f"“{written}” cannot be read: {_told(said.problems[0])}")
    statement, *more = said.statements or (None,)
    if statement is None or more or not isinstance(statement, kind):
        raise CannotPlace(f"“{written}” says something else than that.")
    return statement


def _set(now: Sheet, placing: Placing) -> Sheet:
    """The sheet with one value of a thing set."""
    from wirecheck.mend.edits import edited
    from wirecheck.mend.values import changed_at

    for number, line in enumerate(now.lines):
        statement: Any = line.statement
        spans = _values(statement)
        if not spans or statement.name.text != placing.name:
            continue
        span = spans.get(placing.kind)
        if span is None:
            raise CannotPlace(
                f"The line of {placing.name} says no {placing.kind or 'such value'} that can be set."
            )
        words = placing.size.strip()
        if not words:
            raise CannotPlace(f"Write what the {placing.kind} of {placing.name} is.")
        spaced = placing.kind == "values"
        try:
            change = changed_at(
                number, placing.name, placing.kind, span, f" {words}" if spaced else words, now
            )
            _read(change.written, type(statement))
            after = edited(now, change)
        except ValueError as error:
            raise CannotPlace(str(error)) from error
        if after is None or change.was == change.now:
            raise CannotPlace(f"The {placing.kind} of {placing.name} is {words} already.")
        return after
    raise CannotPlace(f"There is no {placing.name} on the board.")


def _values(statement: Any) -> dict[str, Span]:
    """Where a line says what can be set; of a device, where its values stand or would stand."""
    match statement:
        case PanelStatement():
            measures = {"fault current": statement.available, "main": statement.main, "bus": statement.bus}
            return {name: value.span for name, value in measures.items() if value is not None}
        case BreakerStatement():
            return {"rating": statement.rating.span}
        case BoxStatement():
            size = statement.volume or statement.trade_size
            return {"kind": statement.kind.span, **({"volume": size.span} if size else {})}
        case CableStatement():
            return {"size": statement.size.span, "kind": statement.kind.span, "length": statement.length.span}
        case WireStatement():
            length = statement.length.span
            return {"size": statement.size.span, "kind": statement.kind.span,
                    "color": statement.color.span, "length": length}  # fmt: skip
        case RacewayStatement():
            return {"size": statement.size.span, "kind": statement.kind.span, "length": statement.length.span}
        case DeviceStatement(part=part, settings=settings):
            # From what stands before them on, since it may be `with` that begins them.
            until = settings[0].span if settings else part.span
            before = [one.span[2:] for one in statement.sights if settings and one.span < until]
            end = max([part.span[2:], *before])
            values = Span(*end, *(settings[-1].span[2:] if settings else end))
            place = {"box": statement.place.span} if statement.place else {}
            return {"part": part.span, "values": values, **place}
    return {}


def _run_by(now: Sheet, load: str, call: str) -> Sheet:
    """The sheet with one more load that a call should run; all that it runs stands in one line."""
    from wirecheck.language.rewriting import covered

    for number, line in enumerate(now.lines):
        one = line.statement
        if isinstance(one, ExpectRuns) and [each.text for each in one.calls] == [call] and one.steps:
            if load in [step.text for step, _ in one.steps]:
                raise CannotPlace(f"It is said already that {call} runs {load}.")
            return now.changed(number, f"{covered(now.syntax.text, one.span)}, {load}")
    return _added(now, "goal", f"expect {call} runs {load}")


def _expected(now: Sheet, load: str, written: str) -> Sheet:
    """The sheet with what works a load: in a line more, or in place of what was said of it before."""
    from wirecheck.language.rewriting import covered

    for number, line in enumerate(now.lines):
        one, new = line.statement, _read(written, GOALS)
        was = one.load if isinstance(one, ExpectFrom) else one.outlet if isinstance(one, ExpectLive) else None
        if was and was.text == load and isinstance(new, ExpectFrom | ExpectLive):
            if covered(now.syntax.text, one.span) == written:
                raise CannotPlace(f"That is said of {load} already.")
            return now.changed(number, written)
    return _added(now, "goal", written)


def _in_room(now: Sheet, place: str, kind: str) -> Sheet:
    """The sheet with a box, or a device in none, in a kind of place, and in no other."""
    if kind:
        _read(_room(kind, [place]), RoomStatement)
    rooms = [line.statement for line in now.lines if isinstance(line.statement, RoomStatement)]
    was = next((one.kind.text for one in rooms if place in [each.text for each in one.places]), "")
    if kind == was:
        raise CannotPlace(
            f"{place} is in the {kind} already." if kind else f"{place} is in no room. Choose one."
        )
    now = _out_of_rooms(now, place)
    for number, line in enumerate(now.lines):
        if isinstance(line.statement, RoomStatement) and line.statement.kind.text == kind:
            return now.changed(number, _room(kind, [*(one.text for one in line.statement.places), place]))
    return _added(now, "room", _room(kind, [place])) if kind else now


def _out_of_rooms(now: Sheet, place: str) -> Sheet:
    """The sheet with a place in no room."""
    for number, line in reversed(list(enumerate(now.lines))):
        if isinstance(line.statement, RoomStatement):
            names = [one.text for one in line.statement.places]
            if place in names:
                left = [name for name in names if name != place]
                now = now.changed(number, _room(line.statement.kind.text, left) if left else None)
    return now


def _room(kind: str, names: Iterable[str]) -> str:
    return f"room {kind} {', '.join(names)}"


def _taken_away(now: Sheet, name: str) -> Sheet:
    """The sheet without a thing, and without what is joined and capped of it."""
    _need_empty(now, name)
    now = _out_of_rooms(now, name)
    for place in {line.statement.place.text for line in now.lines if isinstance(line.statement, AtStatement)}:
        now = _unjoined(now, place, name)
    for number, line in enumerate(now.lines):
        if _declares(line.statement, name):
            return now.changed(number, None)
    raise CannotPlace(f"There is no {name} on the board.")


def _need_empty(now: Sheet, name: str) -> None:
    """Nothing, where no other thing is in a thing, or leads to it.

    Raises
    ------
    CannotPlace
        Something is.
    """
    for line in now.lines:
        match line.statement:
            case DeviceStatement(place=place) if place and place.text == name:
                inside = line.statement.name.text
            case CableStatement() | WireStatement() | RacewayStatement() as run if name in [
                end.place.text for end in run.ends
            ]:
                inside = run.name.text
            case CableStatement() | WireStatement() as run if run.raceway and run.raceway.text == name:
                inside = run.name.text
            case BreakerStatement() as breaker if breaker.name.path[0] == name != breaker.name.text:
                inside = breaker.name.text
            case _:
                continue
        raise CannotPlace(f"Take {inside} away first: it is in {name}, or leads to it.")


def _unjoined(now: Sheet, place: str, name: str) -> Sheet:
    """The sheet with nothing of a thing joined or capped in a place."""
    from wirecheck.mend.edits import Part, edited

    for number, end in reversed(list(now.caps(place))):
        if _is_of(end, name):
            now = now.changed(number, None)
    for number, _, listed in reversed(list(now.joins(place))):
        members = [member for member, _ in listed if member is not None]
        own = [member for member in members if _is_of(member, name)]
        if len(own) > len(members) - 2:
            now = now.changed(number, None)
            continue
        rest = next(member for member in members if member not in own)
        for member in own:
            now = edited(now, Part(place, member, rest)) or now
    return now


def _is_of(member: str, name: str) -> bool:
    """Whether a member of a join is of a thing: a wire of a cable, a screw of a device or of a breaker."""
    path = Word(of_end(member), Span(1, 1, 1, 1)).path
    return name in (".".join(path[:1]), ".".join(path[:2]))


def _declares(statement: Any, name: str) -> bool:
    return bool(_values(statement)) and statement.name.text == name


def _hold(before: Board, after: Board) -> None:
    """Nothing, where the line makes no mistake that was not there.

    Raises
    ------
    CannotPlace
        It makes one; the message is the model's.
    """
    known = {problem.message for problem in before.problems}
    for problem in after.problems:
        if problem.message not in known:
            raise CannotPlace(_told(problem))


def _told(problem: Problem) -> str:
    return " ".join(_sentence(words) for words in (problem.message, problem.help) if words)


def _sentence(words: str) -> str:
    words = words[:1].upper() + words[1:]
    return words if words[-1:] in ".?!" else f"{words}."


def _free(placing: Placing, board: Board, library: Library) -> str:
    """The next free name for a thing, as a hand would name it."""
    taken = {*board.panels, *board.breakers, *board.boxes, *board.runs, *board.devices, *board.raceways}
    match placing.what:
        case "panel":
            return next(name for name in chain(("LP",), (f"P{n}" for n in count(2))) if name not in taken)
        case "subpanel":
            return next(name for name in chain(("SP",), (f"SP{n}" for n in count(2))) if name not in taken)
        case "breaker":
            return _free_space(placing, board)
        case "box":
            return next(name for name in chain(ascii_uppercase, _numbered("BOX{}")) if name not in taken)
        case "cable" | "wire":
            return next(name for name in _numbered("W{}") if name not in taken)
        case "raceway":
            return next(name for name in _numbered("RW{}") if name not in taken)
        case "device":
            part = library.part(placing.kind.strip())
            return next(name for name in _numbered(_called(part)) if name not in taken)
    raise CannotPlace("Say what should run.")


def _free_space(placing: Placing, board: Board) -> str:
    """The next free space of a panel, or of two poles the next pair of spaces."""
    panel = placing.place.strip()
    wide = 2 if "2-pole" in placing.size else 3 if "3-pole" in placing.size else 1
    used = {space for one in board.breakers.values() if one.panel == panel for space in one.spaces}
    for space in range(1, MOST_SPACES):
        if used.isdisjoint(Position(space, "").spaces(wide)):
            return f"{panel}.{space}"
    raise CannotPlace(f"{panel} has no free space.")


def _numbered(name: str) -> Iterator[str]:
    return (name.format(number) for number in count(1))


def _called(part: Part | None) -> str:
    """What a device of a part is called, with its number (common practice)."""
    if part is None:
        return "D{}"
    kinds = {load.kind for load in part.loads}
    signs = (
        ("R{}", bool(part.outlets)),
        ("S{}", bool(part.positions) and part.moved_by in ("hand", "motion", "daylight")),
        ("TS{}", bool(part.calls)),
        ("L{}", "lamp" in kinds or any("light" in load.flags for load in part.loads)),
        ("T{}", bool(part.transformers)),
        ("M{}", "motor" in kinds),
    )
    return next((letter for letter, so in signs if so), "D{}")

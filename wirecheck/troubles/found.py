"""A report of what was found on a board, held against the board that it is for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from wirecheck import arguments
from wirecheck.arguments import WrongArgument
from wirecheck.faults.ends import end_at
from wirecheck.judge.case import Case
from wirecheck.judge.state_name import StateName
from wirecheck.language import reader, syntax
from wirecheck.language.syntax import Problem, Word
from wirecheck.parts.part import LOCKED_OUT
from wirecheck.tables.signs import known
from wirecheck.troubles.observed import Look, Observation, Read
from wirecheck.troubles.signs import BUZZ, WARM

QUANTITIES: dict[str, arguments.Quantity] = {"voltage": "volts", "resistance": "ohms", "current": "amps"}

DOES = ("run", "not run", "stop", "not stop", "trip")
SIGNS = (*known(), BUZZ, WARM, LOCKED_OUT)

MOST_OBSERVATIONS = 200
"""The most that a report may tell."""


class Found(NamedTuple):
    """What was found: `lines` are the numbers of the lines that say it, one for each."""

    observations: tuple[Observation, ...]
    lines: tuple[int, ...]
    problems: tuple[Problem, ...]
    place: str | None


def found(text: str | bytes, case: Case, file: str = "-") -> Found:
    """What a text says was seen and measured.

    Parameters
    ----------
    text : in the language of grammar/board.lark
    case : the board that it was found on
    file : the text's name

    Examples
    --------
    >>> from wirecheck.assembly import assemble
    >>> shed = Case(assemble('board "Shed"\\npanel LP 120 V\\nbreaker LP.1 15 A')[1])
    >>> found('found on "Shed"\\nread 0 V from LP.1 to LP.neutral', shed).observations[0].value
    0.0
    >>> found('found on "Shed"\\nsaw L1 run', shed).problems[0].message
    'there is nothing called L1 that runs.'
    """
    source = reader.read(text, file)
    problems = list(source.problems)
    told: list[tuple[Observation, int]] = []
    state, place = StateName(), None
    for one in source.statements:
        try:
            match one:
                case syntax.FoundTitle(board):
                    _same_board(board, case)
                case syntax.StandingStatement():
                    state = _state(one, case)
                case syntax.SawStatement():
                    told += ((look, one.span.line) for look in _looks(one, state, case))
                case syntax.ReadStatement():
                    read, place = _read(one, state, case)
                    told.append((read, one.span.line))
                case _:
                    raise WrongArgument("this belongs in no report of what was found.")
        except WrongArgument as error:
            problems.append(Problem("unknown-name", str(error), one.span))
        if len(told) > MOST_OBSERVATIONS:
            problems.append(Problem("syntax", f"more than {MOST_OBSERVATIONS} things were found.", one.span))
            break
    problems.sort(key=lambda problem: problem.span)
    observations = tuple(observation for observation, _ in told)
    return Found(observations, tuple(line for _, line in told), tuple(problems), place)


def _same_board(title: Word, case: Case) -> None:
    if title.text != case.board.title:
        raise WrongArgument(f"this was found on {title.text}, and the board is {case.board.title}.")


def _state(one: syntax.StandingStatement, case: Case) -> StateName:
    moved = arguments.positions(case, {name.text: position.text for name, position in one.moved})
    calls = tuple(word.text for word in one.calls if word.text != "nothing")
    after = None if one.after is None else arguments.moment(one.after.value)
    return StateName(tuple(moved.items()), arguments.calls(case, calls), after)


def _looks(one: syntax.SawStatement, state: StateName, case: Case) -> Iterator[Look]:
    name = one.name.text
    if one.does == "trip":
        known = [each.name for each in case.circuit.protections]
        known += [each.name for each in case.circuit.windings]
        if name not in known:
            raise WrongArgument(f"there is nothing called {name} that trips.{arguments.offer(name, known)}")
        yield Look(state, name, "opens", True)
        return
    loads = case.circuit.load
    if one.does not in DOES:
        yield Look(state, _shows(name, one.does, case), one.does, True)
        return
    known = [*loads, *(outlet.name for outlet in case.circuit.outlets)]
    if name not in known:
        raise WrongArgument(f"there is nothing called {name} that runs.{arguments.offer(name, known)}")
    name = loads[name].name if name in loads else name
    if state.after is not None and one.does in ("run", "not run"):
        # Who looks at a moment says what is so in it.
        yield Look(state, name, "runs", one.does == "run")
        return
    yield Look(state, name, "ran", one.does != "not run")
    # What is seen to run may stop later in the same call: only who waited for the end can say.
    if one.does in ("stop", "not stop"):
        yield Look(state, name, "runs", one.does == "not stop")


def _shows(name: str, word: str, case: Case) -> str:
    """What shows a sign, by its own name."""
    if word not in SIGNS:
        raise WrongArgument(
            f'there is nothing that is seen as "{word}".{arguments.offer(word, (*DOES, *SIGNS))}'
        )
    names = _that_show(word, case)
    if name not in names:
        raise WrongArgument(f"there is nothing called {name} that can be so.{arguments.offer(name, names)}")
    return names[name]


def _that_show(word: str, case: Case) -> dict[str, str]:
    """All that can show a sign: each name that it may have, with its own."""
    circuit = case.circuit
    if word == WARM:
        return {point.place: point.place for point in circuit.point.values()}
    if word == LOCKED_OUT:
        held = [each for each in circuit.variables.values() if LOCKED_OUT in each.values]
        return {each.device: each.name for each in held} | {each.name: each.name for each in held}
    outlets = {outlet.name: outlet.name for outlet in circuit.outlets}
    return outlets | {name: load.name for name, load in circuit.load.items()}


def _read(one: syntax.ReadStatement, state: StateName, case: Case) -> tuple[Read, str | None]:
    """A reading, and the place in which it was taken."""
    off = tuple(_end(wire, place, case) for wire, place in one.off)
    if one.value is not None and one.value.dimension == "current":
        return Read(state, "amps", (one.points[0].text,), one.value.value, _power(one), off), None
    points = tuple(_point(word, one.place, case) for word in one.points)
    # OL is what an ohmmeter shows.
    quantity = QUANTITIES[one.value.dimension] if one.value is not None else "ohms"
    value = one.value.value if one.value is not None else None
    power: arguments.Power | None = "off" if quantity == "ohms" else _power(one)
    return Read(state, quantity, points, value, power, off), case.circuit.point[points[0]].place


def _power(one: syntax.ReadStatement) -> arguments.Power | None:
    return "off" if one.power_off else None


def _point(word: Word, place: Word | None, case: Case) -> str:
    from wirecheck.circuit import meter

    if place is not None and word.text in case.board.conductors:
        return _end(word, place, case)
    try:
        return meter.point(case.circuit, word.text)
    except meter.Ambiguous as error:
        near = f" Near it: {', '.join(error.choices)}." if error.choices else ""
        raise WrongArgument(f"{error}{near}") from error


def _end(wire: Word, place: Word, case: Case) -> str:
    conductor = case.board.conductors.get(wire.text)
    if conductor is None:
        near = arguments.offer(wire.text, case.board.conductors)
        raise WrongArgument(f"there is no wire {wire.text}.{near}")
    end = end_at(conductor, place.text, case.board)
    if end is None:
        raise WrongArgument(f"{wire.text} does not come to {place.text}.")
    return end

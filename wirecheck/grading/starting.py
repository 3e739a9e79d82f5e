"""The file that a student begins with: all that is handed out, and in each place what there is to join."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.grading.exercise import CHANGE, EXPECTATION, Exercise, Heading, board_of
from wirecheck.judge.finding import SEVERITIES
from wirecheck.language import syntax
from wirecheck.language.listing import listed
from wirecheck.model.board import Board, Expectation
from wirecheck.model.draft import Parts

NAME_HERE = "write your name between the quotes"
COSTS_THE_STAGE = "costs the stage"
MOST_NAMED = 12


def starting(exercise: Exercise, library: Parts) -> str:
    """The text that a student completes.

    Parameters
    ----------
    exercise : what is handed out, line by line with its comments
    library : where its parts are looked up

    Examples
    --------
    >>> from wirecheck import shipped_parts
    >>> from wirecheck.grading.exercise import exercise
    >>> shed = '''exercise "Shed"
    ... stage final 9 points
    ... panel LP 120 V
    ... breaker LP.1 15 A
    ... S1 is single-pole-switch
    ... cable W1 14/2 NM-B 9 ft from LP to S1
    ... expect S1 live costs 3 points'''
    >>> print(starting(exercise(shed), shipped_parts()), end="")
    board "Shed"
    student ""  # write your name between the quotes
    for "Shed"
    <BLANKLINE>
    panel LP 120 V
    breaker LP.1 15 A
    S1 is single-pole-switch
    cable W1 14/2 NM-B 9 ft from LP to S1
    <BLANKLINE>
    at LP
      # wires: W1.black, W1.white and W1.bare
      # screws: LP.neutral, LP.ground and LP.1
    <BLANKLINE>
    at S1
      # wires: W1.black, W1.white and W1.bare
      # screws: S1.line, S1.load and S1.ground
    <BLANKLINE>
    expect S1 live
    """
    board = board_of(exercise, library)
    made_up = {one.place.text for one in exercise.handed_out if isinstance(one, syntax.AtStatement)}
    lines = [
        f'board "{exercise.title}"',
        f'student ""  # {NAME_HERE}',
        f'for "{exercise.title}"',
        "",
        *_handed_out(exercise, board, made_up),
    ]
    for place in _places(board):
        if place not in made_up:
            lines += ["", f"at {place}", *_to_join(board, place)]
    lines += ["", *(one.text for one in exercise.asked)] if exercise.asked else []
    return "\n".join(lines) + "\n"


def not_said(exercise: Exercise, begun: str) -> str:
    """What costs a whole stage and is not said in the file that a student begins with, in a sentence or two.

    Parameters
    ----------
    begun : that file, in which the exercise's comments are, and its prices are not

    Examples
    --------
    >>> from wirecheck.grading.exercise import exercise
    >>> shed = exercise('exercise "Shed"\\nstage final 9 points\\nswitching costs the stage')
    >>> print(not_said(shed, 'board "Shed"'))
    One of these costs all points of its stage: a hazard and switching. The file does not say so. Tell the \
students, or write a comment into the exercise: # a hazard costs the stage
    >>> not_said(shed, "# A hazard costs the stage.")
    ''
    """
    articles = {**dict.fromkeys((*SEVERITIES, CHANGE), "a "), EXPECTATION: "an "}
    whole = [f"{articles.get(name, '')}{name}" for name, price in exercise.prices.items() if price is None]
    whole += [one.text for one in exercise.asked if one.costs is not None and one.costs.points is None]
    if not whole or COSTS_THE_STAGE in begun:
        return ""
    return (
        f"One of these costs all points of its stage: {listed(whole, MOST_NAMED)}. The file does not say so. "
        f"Tell the students, or write a comment into the exercise: # {whole[0]} {COSTS_THE_STAGE}"
    )


def _handed_out(exercise: Exercise, board: Board, made_up: set[str]) -> Iterator[str]:
    """The lines of the exercise without what only a teacher needs; comments and blank lines stay."""
    own = exercise.source.text.split("\n")
    gone: set[int] = set()
    last_join: dict[int, str] = {}
    place = ""
    for one in exercise.source.statements:
        if isinstance(one, Heading | Expectation):
            gone.update(range(one.span.line, one.span.end_line + 1))
        if isinstance(one, syntax.AtStatement):
            place = one.place.text
        if place and isinstance(one, syntax.AtStatement | syntax.JoinStatement | syntax.CapStatement):
            last_join = {line: name for line, name in last_join.items() if name != place}
            last_join[one.span.end_line] = place
    kept: list[str] = []
    for number, line in enumerate(own, 1):
        # Of blank lines that follow each other one is enough.
        if number not in gone and (line.strip() or (kept and kept[-1])):
            kept.append(line.rstrip())
        if number in last_join:
            kept += _to_join(board, last_join[number])
    while kept and not kept[-1]:
        kept.pop()
    yield from kept


def _places(board: Board) -> list[str]:
    """The places to which wires come, in the order of the board."""
    return list(dict.fromkeys(place for wire in board.conductors.values() for place in wire.places))


def _to_join(board: Board, place: str) -> Iterator[str]:
    """The ends and the screws that are left to join in a place."""
    used = {
        member.screw or member.name for join in board.joins if join.place == place for member in join.members
    }
    wires = [wire.name for wire in board.conductors.values() if place in wire.places]
    screws = [one.name for one in board.terminals.values() if one.place == place]
    for what, names in (("wires", wires), ("screws", screws)):
        left = [name for name in names if name not in used]
        if left:
            yield f"  # {what}: {listed(left)}"

"""The state that the user asks for: switches set, calls made, and the board that they are of."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

import click

from wirecheck.cli._sources import Shelf, Unreadable, content, shown_path

if TYPE_CHECKING:
    from wirecheck.judge.case import Case

_Command = Callable[..., Any]

# So many names help; more are a wall of words.
MOST_LISTED = 12


def state_options(command: _Command) -> _Command:
    """Add `--set` and `--call` to a command."""
    command = click.option(
        "--call",
        "calls",
        multiple=True,
        metavar="CALL",
        help="A call that is made, as cool, or Z1.heat where two devices make it. May be given again.",
    )(command)
    return click.option(
        "--set",
        "settings",
        multiple=True,
        metavar="NAME=POSITION",
        help="A switch, safety, breaker (on, off) or fuse (in, out) set to a position. May be given again.",
    )(command)


def case_of(path: str) -> Case:
    """The board of a file, ready to be worked on; what could not be read of it is said and left out."""
    from wirecheck import NotABoard, refuse_other_files
    from wirecheck.judge.case import Case
    from wirecheck.language.reader import read
    from wirecheck.model.build import build
    from wirecheck.report.plain import plain

    syntax = read(content(path), shown_path(path))
    try:
        refuse_other_files(syntax)
    except NotABoard as error:
        raise Unreadable(f"{path} is not a board: {error}.") from error
    board = build(syntax, Shelf().beside(path))
    if board.problems:
        first = board.problems[0]
        click.echo(
            f"wirecheck: not all of {plain(path)} could be read, and what could not is left out; "
            f"the first is line {first.span.line}: {plain(first.message)}",
            err=True,
        )
    return Case(board)


def moved(case: Case, settings: Iterable[str]) -> dict[str, str]:
    """The positions that `--set` names."""
    from wirecheck.language.words import nearest

    told: dict[str, str] = {}
    for setting in settings:
        name, equals, value = setting.partition("=")
        if not equals:
            raise click.UsageError(f"--set {setting}: write it as NAME=POSITION, such as S1=up.")
        variable = case.circuit.variables.get(name)
        if variable is None:
            near = nearest(name, case.circuit.variables)
            listed = ", ".join(list(case.circuit.variables)[:MOST_LISTED])
            raise click.UsageError(
                f"--set {setting}: nothing called {name} stands in positions."
                + (f" Did you mean {near}?" if near else f" These do: {listed}." if listed else "")
            )
        if value not in variable.values:
            raise click.UsageError(f"--set {setting}: {name} can be {', '.join(variable.values)}.")
        told[name] = value
    return told


def made(case: Case, calls: Iterable[str]) -> tuple[str, ...]:
    """The calls that `--call` names."""
    from wirecheck.language.words import nearest

    known = [*case.calls]
    known += (
        f"{device.name}.{call}" for device in case.circuit.devices.values() for call in device.part.calls
    )
    for call in calls:
        if call not in known:
            near = nearest(call, known)
            offer = (
                f" Did you mean {near}?" if near else f" There are: {', '.join(case.calls)}." if known else ""
            )
            raise click.UsageError(f"--call {call}: nothing on this board makes that call.{offer}")
    return tuple(calls)

"""The state that the user asks for: switches set, calls made, and the board that they are of."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

import click

from wirecheck import NotABoard, WrongArgument
from wirecheck.cli._sources import PATH, Shelf, Unreadable, content
from wirecheck.inputs import shown_path

if TYPE_CHECKING:
    from wirecheck.circuit.fault import Fault
    from wirecheck.judge.case import Case
    from wirecheck.language.syntax import Syntax
    from wirecheck.model.board import Board
    from wirecheck.parts.library import Library

_Command = Callable[..., Any]


def state_options(command: _Command) -> _Command:
    """Add `--set` and `--call` to a command."""
    command = click.option(
        "--call",
        "calls",
        multiple=True,
        metavar="CALL",
        help="A call to make, such as cool, or Z1.heat where two devices make it. Can be repeated.",
    )(command)
    return click.option(
        "--set",
        "settings",
        multiple=True,
        metavar="NAME=POSITION",
        help="Set a switch, safety, breaker (on, off) or fuse (in, out) to a position. Can be repeated.",
    )(command)


def fault_options(command: _Command) -> _Command:
    """Add `--fault` and `--faults` to a command, as `wrong` and `listed`."""
    command = click.option(
        "--fault",
        "wrong",
        multiple=True,
        metavar="FAULT",
        help="Work it out with this wrong: 'F.fuse blown', 'open W1.white at A', or its number in --faults. "
        "Can be repeated.",
    )(command)
    return click.option(
        "--faults", "listed", metavar="FILE", type=PATH, help="A list of faults, whose numbers --fault takes."
    )(command)


def assembled(path: str, library: Library, data: bytes | None = None) -> tuple[Syntax, Board]:
    """What a file says, and its board; what was read of it already is not read again."""
    from wirecheck import assemble

    try:
        return assemble(content(path) if data is None else data, shown_path(path), library)
    except NotABoard as error:
        raise Unreadable(f"{path} is not a board: {error}.") from error


def case_of(path: str, own: str | None) -> Case:
    """The board of a file, ready to be worked on; what could not be read of it is said and left out.

    `own` is the folder of `--parts`.
    """
    from wirecheck.judge.case import Case

    _, board = assembled(path, Shelf(own).beside(path))
    say_left_out(board, path)
    return Case(board)


def faulty(path: str, own: str | None, wrong: Sequence[str], listed: str | None) -> Case:
    """The board of a file, with the faults that `--fault` names in it; `listed` is the file of `--faults`."""
    from wirecheck import arguments

    if listed is not None and not wrong:
        raise click.UsageError("--faults: say which of them, as --fault 1.")
    if path == "-" == listed:
        raise click.UsageError("--faults: the board and its faults cannot both come from standard input.")
    case = case_of(path, own)
    return arguments.with_faults(case, chosen(case, wrong, listed) or ())


def chosen(case: Case, wrong: Sequence[str], listed: str | None) -> tuple[Fault, ...] | None:
    """The faults that `--fault` names, or else all that `--faults` lists; None where neither is given."""
    from wirecheck import arguments

    with usage("--fault"):
        text = content(listed) if listed is not None else b""
        known = arguments.listed_faults(case, text, shown_path(listed or "-")) if listed is not None else {}
        if wrong:
            return arguments.named_faults(case, wrong, known)
    return tuple(known.values()) if listed is not None else None


def say_left_out(board: Board, path: str) -> None:
    """Say what could not be read of a board."""
    from wirecheck.assembly import left_out
    from wirecheck.report.plain import plain

    missing = left_out(board, path)
    if missing:
        click.echo(f"wirecheck: {plain(missing)}", err=True)


@contextmanager
def usage(option: str = "") -> Iterator[None]:
    """Say an argument that a board or a picture cannot take as a mistake in the command."""
    try:
        yield
    except WrongArgument as error:
        raise click.UsageError(f"{option} {error}".strip()) from error


def moved(case: Case, settings: Iterable[str]) -> dict[str, str]:
    """The positions that `--set` names."""
    from wirecheck import arguments

    settings_made: dict[str, str] = {}
    for setting in settings:
        name, equals, value = setting.partition("=")
        if not equals:
            raise click.UsageError(f"--set {setting}: write it as NAME=POSITION, such as S1=up.")
        settings_made[name] = value
    with usage("--set"):
        return arguments.positions(case, settings_made)


def made(case: Case, calls: Iterable[str]) -> tuple[str, ...]:
    """The calls that `--call` names."""
    from wirecheck import arguments

    with usage("--call"):
        return arguments.calls(case, calls)


def needed(case: Case, calls: Iterable[str], verb: str) -> tuple[str, ...]:
    """The calls that `--call` names, of which there must be one."""
    called = made(case, calls)
    if not called:
        offer = f" This board has: {', '.join(case.calls)}." if case.calls else " This board has none."
        raise click.UsageError(f"Name a call to {verb}, as --call heat.{offer}")
    return called

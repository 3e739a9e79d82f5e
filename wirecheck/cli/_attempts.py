"""The work on one file, and what ended it before it was done: said in words, and no other file's matter."""

from __future__ import annotations

import os
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, Generic, NamedTuple, TypeVar

import click

import wirecheck
from wirecheck.circuit.work import WorkEnds
from wirecheck.cli import end_if_asked

Value = TypeVar("Value")
Command = TypeVar("Command", bound=Callable[..., Any])

SECONDS, MEGABYTES = 60, 1500
"""What each file is given where there are many: a hundred times what a large board takes."""
LEAST_MEGABYTES = 100
"""Python, the rules and the renderer of pictures take most of this before they see a board."""
TOO_MUCH_WORK = "The board takes more work than is spent on one: what is asked of it was not worked out."
TRACEBACK = "WIRECHECK_TRACEBACK"
"""The environment's variable that asks for the traceback of a defect."""

_PACKAGE = Path(wirecheck.__file__).resolve().parent


class Limits(NamedTuple):
    """What the user gives to each file, and how many are worked on at once; None is as it comes."""

    seconds: int | None = None
    megabytes: int | None = None
    jobs: int | None = None

    @property
    def asked(self) -> bool:
        """Whether there is a limit that only a process of its own can hold to."""
        return self.seconds is not None or self.megabytes is not None


def limit_options(several: bool = False, always: Limits | None = None) -> Callable[[Command], Command]:
    """The options `--seconds`, `--megabytes` and, where there may be several files, `--jobs`: as `limits`.

    `always` are the limits of a command that works within some whether or not the user sets any.
    """
    import functools

    usual = " Default: {}, where there are several." if several else ""
    if always is not None:
        usual = " Default: {}."
    given = always or Limits(SECONDS, MEGABYTES)

    def add(command: Command) -> Command:
        @functools.wraps(command)
        def limited(
            *args: Any, seconds: int | None, megabytes: int | None, jobs: int | None = None, **named: Any
        ) -> Any:
            set_to = Limits(seconds, megabytes, jobs)
            if always is not None:
                set_to = Limits(seconds or always.seconds, megabytes or always.megabytes, jobs)
            return command(*args, limits=set_to, **named)

        options = [
            click.option(
                "--seconds",
                type=click.IntRange(1, 1_000_000),
                metavar="N",
                help="Stop the work on a file after N seconds." + usual.format(given.seconds),
            ),
            click.option(
                "--megabytes",
                type=click.IntRange(LEAST_MEGABYTES, 1_000_000),
                metavar="N",
                help="Stop the work on a file that needs more than N MB of memory."
                + usual.format(given.megabytes),
            ),
        ]
        if several:
            options.append(
                click.option(
                    "--jobs",
                    type=click.IntRange(1, 1000),
                    metavar="N",
                    help="Work on N files at once. Default: as many as there are processors"
                    + (", and one more." if always else "."),
                )
            )
        with_options: Any = limited
        for option in reversed(options):
            with_options = option(with_options)
        chosen: Command = with_options
        return chosen

    return add


class Done(NamedTuple, Generic[Value]):
    """What the work on a file came to, and what it said by the way."""

    value: Value
    said: str = ""


class Refused(NamedTuple):
    """What the file or the command has wrong, so that the work could not be done."""

    error: click.ClickException
    said: str = ""


class Ended(NamedTuple):
    """What ended the work before it was done, and what to do; for a defect, where it came from."""

    message: str
    help: str
    traceback: str = ""


Outcome = Done[Value] | Refused | Ended


def attempt(function: Callable[..., Value], *args: Any) -> Outcome[Value]:
    """The work on one file in this process: whatever happens in it, there is an outcome."""
    try:
        return Done(function(*args))
    except click.ClickException as error:
        return Refused(error)
    except Exception as error:
        end_if_asked(error)
        return by_error(error)


def by_error(error: BaseException) -> Ended:
    """What is said of an error that nothing expected."""
    if isinstance(error, MemoryError):
        return Ended(
            "The work on this file needed more memory than there is.", "Divide the board into several."
        )
    if isinstance(error, WorkEnds):
        return Ended(TOO_MUCH_WORK, "Divide the board into several.")
    return Ended(
        f"wirecheck itself failed: {defect(error)}. This is a defect of wirecheck and not of the board.",
        "Please report it, with the file.",
        "".join(traceback.format_exception(error)) if os.environ.get(TRACEBACK) else "",
    )


def defect(error: BaseException) -> str:
    """What kind of error it is, and the place in the program that it came from.

    >>> defect(KeyError("a"))
    'KeyError'
    """
    name = type(error).__name__
    place = ""
    for frame, line in traceback.walk_tb(error.__traceback__):
        file = frame.f_code.co_filename
        if Path(file).is_relative_to(_PACKAGE) or not place:
            place = f" in {os.path.relpath(file, _PACKAGE.parent)}, line {line}"
    return name + place


def by_memory(megabytes: int) -> Ended:
    """What is said of a file that needed too much memory."""
    return Ended(
        f"The work on this file needed more than {megabytes} MB of memory, and was stopped.",
        f"Run it by itself with more memory: --megabytes {2 * megabytes}.",
    )


def by_time(seconds: float) -> Ended:
    """What is said of a file that took too long."""
    return Ended(
        f"The work on this file took longer than {seconds:g} s, and was stopped.",
        f"Run it by itself with more time: --seconds {10 * seconds:g}.",
    )


def by_status(status: int) -> Ended:
    """What is said of a file whose process ended: by a signal where the status is negative."""
    import signal

    ended = f"ended with status {status}"
    if status < 0:
        known = {int(each): each.name for each in signal.Signals}
        ended = f"was ended by signal {-status}" + (f" ({known[-status]})" if -status in known else "")
    return Ended(
        f"The process that worked on this file {ended}.",
        "Run it by itself. Where memory is short, run fewer at once: --jobs 1.",
    )


def finished(path: str, limits: Limits, function: Callable[..., Value], *args: Any) -> Value:
    """What a function makes of one file: here, or in a process with limits where the user set some.

    Raises
    ------
    click.ClickException
        The function refused the file, or its work was ended.
    """
    if not limits.asked:
        return function(*args)
    from wirecheck.cli._sources import content
    from wirecheck.cli._workers import in_workers

    (outcome,) = in_workers(function, [args], limits, content(path) if path == "-" else b"")
    return value(path, outcome)


def value(path: str, outcome: Outcome[Value]) -> Value:
    """What the work on a file came to, with what it said by the way.

    Raises
    ------
    click.ClickException
        It was refused or ended.
    """
    match outcome:
        case Done(result, said):
            click.echo(said, nl=False, err=True)
            made: Value = result
            return made
        case Refused(error, said):
            click.echo(said, nl=False, err=True)
            raise error
        case Ended():
            raise complaint(path, outcome)


def complaint(path: str, ended: Ended) -> click.ClickException:
    """What ended the work on a file, as an error of the command."""
    from wirecheck.cli._sources import Unreadable

    show_traceback(ended)
    return Unreadable(f"{path} was not done. {ended.message} {ended.help}")


def show_traceback(ended: Ended) -> None:
    """Show where a defect came from, to those who asked for it."""
    click.echo(ended.traceback, nl=False, err=True)


def many(files: Sequence[object], limits: Limits) -> bool:
    """Whether files are worked on in processes of their own: where there are several, or a limit."""
    return len(files) > 1 or limits.asked

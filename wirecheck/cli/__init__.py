"""The commands. Each is one file beside this one, loaded only when it is called.

A new command is a new file `NAME.py` here, with a click command called
`command` in it. Files whose names begin with `_` are what commands share.
"""

from __future__ import annotations

import contextlib
import errno
import gc
import io
import os
import pkgutil
import signal
import sys
import threading
from collections.abc import Iterator
from importlib import import_module
from typing import Any, NoReturn

import click

from wirecheck.caution import CAUTION
from wirecheck.version import __version__

FINDINGS, FAILED = 1, 2
"""Exit statuses beside 0: there are findings worse than advice; the command could not do its work."""


class Commands(click.Group):
    """The commands, found by the names of their files."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Every command's name."""
        return sorted(info.name for info in pkgutil.iter_modules(__path__) if not info.name.startswith("_"))

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name, loaded now."""
        if cmd_name not in self.list_commands(ctx):
            return None
        command: click.Command = import_module(f"{__name__}.{cmd_name}").command
        return command

    def make_context(
        self, info_name: str | None, args: list[str], parent: click.Context | None = None, **extra: Any
    ) -> click.Context:
        """Read the command line; where it asks for help or the version, that is said now."""
        with _seen_through():
            return super().make_context(info_name, args, parent, **extra)

    def invoke(self, ctx: click.Context) -> object:
        """Run the command, and see its output through."""
        with _seen_through():
            return super().invoke(ctx)


@contextlib.contextmanager
def _seen_through() -> Iterator[None]:
    """What is said in it reaches its reader, or it is known that it did not."""
    try:
        try:
            yield
        finally:
            sys.stdout.flush()
    except OSError as error:
        raise Unsaid(error) from error


class Stopped(BaseException):
    """A signal asks the process to end; what it has begun is put in order on the way out."""

    def __init__(self, number: int) -> None:
        self.number = number


class Unsaid(Exception):
    """The output has nowhere to go: a reader that left, a disk that is full."""

    def __init__(self, error: OSError) -> None:
        super().__init__(error.strerror)
        self.left_early = error.errno == errno.EPIPE


@click.group(
    cls=Commands,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    help=f"Check a wiring board written as text, and draw it.\n\n{CAUTION}",
    epilog="Exit status: 0 for nothing worse than advice, 1 for findings, 2 when the command could not do "
    "its work.",
)
@click.version_option(__version__, prog_name="wirecheck")
def commands() -> None:
    """The commands."""


_ended = threading.Event()
_asked: list[int] = []
"""The signal that has asked for the end: Python may swallow what it raises, or make another error of it."""


def _stop(number: int, _frame: object) -> None:
    """End in order at the first signal, and at once at the next."""
    if _ended.is_set():
        return
    _asked.append(number)
    for each in stopping():
        signal.signal(each, signal.SIG_DFL)
    sys.unraisablehook = _unraisable
    raise Stopped(number)


def end_if_asked(error: BaseException) -> None:
    """Go on to the end where it was asked for: the error is then what Python made of it on its way."""
    if _asked:
        raise Stopped(_asked[0]) from error


def _unraisable(swallowed: Any) -> None:
    """Say what Python swallows, but for the end that was asked for, which is told at the end."""
    if not isinstance(swallowed.exc_value, Stopped):
        sys.__unraisablehook__(swallowed)


def stopping() -> list[signal.Signals]:
    """The signals that ask a process to end, where the system has them."""
    names = ("SIGINT", "SIGTERM", "SIGHUP")
    return [getattr(signal, name) for name in names if hasattr(signal, name)]


def _ready_streams() -> None:
    """Make the standard streams ready: what is written to them comes whole or is known not to have come.

    One that was closed at the start gets a place to go, or to come from: a file that is opened later would
    else take its number, and be written as if it were standard output. Standard output that Python was told
    to keep no buffer for would lose the rest of what a pipe or a full disk took a part of.
    """
    for number, name, mode in ((0, "stdin", "r"), (1, "stdout", "w"), (2, "stderr", "w")):
        stream = getattr(sys, name)
        if stream is None:
            nowhere = os.open(os.devnull, os.O_RDWR)
            if nowhere != number:
                os.dup2(nowhere, number)
                os.close(nowhere)
            setattr(sys, name, os.fdopen(number, mode, closefd=False))
        elif mode == "w":
            # A terminal that cannot show a character shows its number instead.
            stream.reconfigure(errors="backslashreplace")
    if isinstance(sys.stdout.buffer, io.RawIOBase):
        sys.stdout = os.fdopen(1, "w", encoding=sys.stdout.encoding, errors="backslashreplace", closefd=False)


def main() -> NoReturn:
    """Run a command; whatever happens, the exit status tells it truly."""
    _ready_streams()
    # What is ignored from the start, as in a process left in the background, stays so.
    heard = [each for each in stopping() if signal.getsignal(each) != signal.SIG_IGN]
    try:
        for each in heard:
            signal.signal(each, _stop)
        status = _stoppable()
        if _asked:
            raise Stopped(_asked[0])
    except Stopped as stop:
        with contextlib.suppress(OSError):
            click.echo("wirecheck: stopped.", err=True)
        status = 128 + stop.number
    except OSError:
        # Nor can it be said that it could not: standard error has no reader either.
        status = FAILED
    for each in heard:
        signal.signal(each, signal.SIG_DFL)
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except OSError:
            # What is left in the buffer has nowhere to go; Python would try again at its end.
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
    # Python would look through all that is left for what can go, and all of it goes with the process.
    gc.freeze()
    sys.exit(status)


def _stoppable() -> int:
    """The status of a command; a signal that comes once it has ended finds nothing left to stop."""
    try:
        return _status()
    finally:
        _ended.set()


def _status() -> int:
    """Run a command, and say what kept it from its work."""
    try:
        status = commands.main(prog_name="wirecheck", standalone_mode=False)
    except click.ClickException as error:
        error.show()
        return FAILED
    except click.Abort:
        click.echo("wirecheck: stopped.", err=True)
        return 128 + signal.SIGINT
    except Unsaid as error:
        if error.left_early:
            return 128 + 13  # As if SIGPIPE had ended it.
        click.echo(f"wirecheck: the output could not be written: {error}.", err=True)
        return FAILED
    except Exception as error:
        end_if_asked(error)
        from wirecheck.cli._attempts import by_error, show_traceback

        ended = by_error(error)
        show_traceback(ended)
        click.echo(f"wirecheck: {ended.message} {ended.help}", err=True)
        return FAILED
    return status if isinstance(status, int) else 0

"""The commands. Each is one file beside this one, loaded only when it is called.

A new command is a new file `NAME.py` here, with a click command called
`command` in it. Files whose names begin with `_` are what commands share.
"""

from __future__ import annotations

import errno
import gc
import os
import pkgutil
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
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


@contextmanager
def _seen_through() -> Iterator[None]:
    """What is said in it reaches its reader, or it is known that it did not."""
    try:
        try:
            yield
        finally:
            sys.stdout.flush()
    except OSError as error:
        raise Unsaid(error) from error


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


def main() -> NoReturn:
    """Run a command; whatever happens, the exit status tells it truly."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            # It was closed before the start: nothing comes from it, and what is said to it is lost.
            setattr(sys, name, os.fdopen(os.open(os.devnull, os.O_RDWR), mode))
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            # A terminal that cannot show a character shows its number instead.
            stream.reconfigure(errors="backslashreplace")
    try:
        status = _status()
    except OSError:
        # Nor can it be said that it could not: standard error has no reader either.
        status = FAILED
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except OSError:
            # What is left in the buffer has nowhere to go; Python would try again at its end.
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
    # Python would look through all that is left for what can go, and all of it goes with the process.
    gc.freeze()
    sys.exit(status)


def _status() -> int:
    """Run a command, and say what kept it from its work."""
    try:
        status = commands.main(prog_name="wirecheck", standalone_mode=False)
    except click.ClickException as error:
        error.show()
        return FAILED
    except (click.Abort, KeyboardInterrupt):
        click.echo("wirecheck: stopped.", err=True)
        return 128 + signal.SIGINT
    except Unsaid as error:
        if error.left_early:
            return 128 + 13  # As if SIGPIPE had ended it.
        click.echo(f"wirecheck: the output could not be written: {error}.", err=True)
        return FAILED
    except Exception as error:
        from wirecheck.cli._attempts import by_error, show_traceback

        ended = by_error(error)
        show_traceback(ended)
        click.echo(f"wirecheck: {ended.message} {ended.help}", err=True)
        return FAILED
    return status if isinstance(status, int) else 0

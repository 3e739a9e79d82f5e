"""The commands. Each is one file beside this one, loaded only when it is called.

A new command is a new file `NAME.py` here, with a click command called
`command` in it. Files whose names begin with `_` are what commands share.
"""

from __future__ import annotations

import errno
import gc
import os
import pkgutil
import sys
from importlib import import_module
from typing import NoReturn

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

    def invoke(self, ctx: click.Context) -> object:
        """Run the command, and see its output through."""
        try:
            try:
                return super().invoke(ctx)
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
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            # A terminal that cannot show a character shows its number instead.
            stream.reconfigure(errors="backslashreplace")
    try:
        status = commands.main(prog_name="wirecheck", standalone_mode=False)
    except click.ClickException as error:
        error.show()
        status = FAILED
    except (click.Abort, KeyboardInterrupt):
        click.echo("wirecheck: stopped.", err=True)
        status = 130
    except Unsaid as error:
        if not error.left_early:
            click.echo(f"wirecheck: the output could not be written: {error}.", err=True)
        # What is left in the buffer has nowhere to go either; Python would try again at its end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        status = 128 + 13 if error.left_early else FAILED  # As if SIGPIPE had ended it.
    except Exception:
        sys.excepthook(*sys.exc_info())
        click.echo(
            "wirecheck: this is a mistake in wirecheck, not in your board. Please report it.", err=True
        )
        status = FAILED
    # Python would look through all that is left for what can go, and all of it goes with the process.
    gc.freeze()
    sys.exit(status if isinstance(status, int) else 0)

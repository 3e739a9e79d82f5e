"""What the user sees: colors where they are wanted, progress where it takes long."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from typing import Any, TypeVar

import click

from wirecheck.judge.finding import STAGES
from wirecheck.report.looks import Look, Paint, unpainted

Command = TypeVar("Command", bound=Callable[..., Any])
Item = TypeVar("Item")

MANY = 8
"""From this many files on, progress is shown."""
EFFORT = 400
"""Changes that are tried on a wrong board where nobody says how many."""
COLORS = {"hazard": "red", "violation": "yellow", "fault": "magenta", "advice": "cyan"}


def color_option(function: Command) -> Command:
    """The option `--color`."""
    option = click.option(
        "--color",
        type=click.Choice(["auto", "always", "never"]),
        default="auto",
        help="When to color the text. auto: on a terminal, unless NO_COLOR is set.",
    )
    return option(function)


def format_option(forms: Sequence[str]) -> Callable[[Command], Command]:
    """The option `--format`, whose first form is the one that is taken where none is asked for."""
    return click.option(
        "-f", "--format", "form", type=click.Choice(forms), default=forms[0], help="Output format."
    )


def stage_option(words: str) -> Callable[[Command], Command]:
    """The option `--stage`."""
    return click.option("--stage", type=click.Choice(STAGES), default="final", help=words)


def effort_option(function: Command) -> Command:
    """The option `--effort`."""
    option = click.option(
        "--effort",
        type=click.IntRange(0, 100_000),
        default=EFFORT,
        show_default=True,
        help="How many changes are tried on a wrong board, to find the mistake. 0: none.",
    )
    return option(function)


def quiet_option(function: Command) -> Command:
    """The option `--quiet`."""
    return click.option("-q", "--quiet", is_flag=True, help="Show only boards with findings.")(function)


def colored(when: str) -> bool:
    """Whether standard output gets colors."""
    if when == "auto":
        return sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    return when == "always"


def paint(when: str) -> Paint:
    """What gives text its looks on standard output."""
    return painted if colored(when) else unpainted


def painted(text: str, look: Look) -> str:
    """Text in the color and weight of its look."""
    return click.style(text, fg=COLORS.get(look), bold=True)


def say(text: str) -> None:
    """Put text on standard output, as it is."""
    # Whether there are colors in it was decided when it was made.
    click.echo(text, nl=False, color=True)


def progress(items: Sequence[Item], label: str, quiet: bool = False) -> AbstractContextManager[Any]:
    """Items to go through, with a bar on standard error where there are many and someone is looking."""
    shown = len(items) >= MANY and not quiet and sys.stderr.isatty()
    return click.progressbar(items, label=label, file=sys.stderr, hidden=not shown)

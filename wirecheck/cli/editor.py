"""`wirecheck editor`: the language server, which an editor starts."""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Callable
from typing import TYPE_CHECKING

import click

from wirecheck import files
from wirecheck.cli import stopping
from wirecheck.cli._attempts import Done, Ended, Limits, Refused, limit_options, show_traceback
from wirecheck.cli._screen import say
from wirecheck.cli._sources import Unreadable

if TYPE_CHECKING:
    from wirecheck.editor.found import Found

LIMITS = Limits(60, 1500, 2)
"""What the check of a text is given, and how many run at once: a change ends the one that is out of date."""
FIRST = (
    "It needs the extra editor: python -m pip install 'wirecheck[editor]'. Where the editor does not find "
    "wirecheck, write its whole path in these lines: command -v wirecheck in a terminal says it, on Windows "
    "where wirecheck."
)
"""What holds for every editor."""
SHED = """board "Shed"
panel LP 120 V
breaker LP.1 15 A
braeker LP.3 15 A
"""
"""A board with a slip of the pen, the check of which loads what most checks need."""


@click.command(short_help="Speak to an editor (Language Server Protocol).")
@click.option("--grammar", is_flag=True, help="Print a TextMate grammar instead, and end.")
@click.option(
    "--setup",
    "name",
    type=click.Choice(files.setup_names()),
    help="Print the lines that set up this editor instead, and end.",
)
@limit_options(always=LIMITS)
def command(limits: Limits, grammar: bool, name: str | None) -> None:
    """Speak the Language Server Protocol on standard input and output.

    It is not for people to start: an editor that speaks the protocol starts it, and shows what is wrong
    with a board while it is typed. No file is changed but by the editor.

    Any editor that speaks the protocol will do. Have it start `wirecheck editor` for files that end in .wire,
    with the language name wirecheck.
    """
    if name is not None:
        from wirecheck.report import guide
        from wirecheck.report.paragraphs import wrapped

        (setup,) = guide.lessons([files.setup_text(name)])
        say(f"{guide.told(setup.title, setup)}\n{wrapped(FIRST, '')}\n")
        return
    if grammar:
        import json

        from wirecheck.editor.textmate import textmate

        click.echo(json.dumps(textmate(), indent=2))
        return
    try:
        from wirecheck.editor.server import server
    except ImportError:
        raise Unreadable("editor needs pygls: install wirecheck with its extra editor.") from None
    from wirecheck.cli._standing import Standing
    from wirecheck.editor.found import found
    from wirecheck.editor.powered import powered

    # What a check needs is loaded here once, and not in each process.
    found(None, SHED, "-", 1)
    standing = Standing(limits._replace(jobs=limits.jobs or LIMITS.jobs))

    async def work(path: str | None, text: str, file: str, effort: int) -> tuple[Found, ...]:
        match await standing.outcome(found, path, text, file, effort):
            case Done(answer):
                told: tuple[Found, ...] = answer
                return told
            case Refused(error):
                return (_not_checked(error.format_message()),)
            case Ended() as ended:
                show_traceback(ended)
                return (_not_checked(ended.message),)

    async def meter(path: str | None, text: str, file: str, name: str) -> tuple[str, ...]:
        done = await standing.outcome(powered, path, text, file, name)
        return done.value if isinstance(done, Done) else ()

    _end_at_signals(standing.close)

    # One thread waits for what comes in. A process that is made meanwhile closes its own standard input, and
    # must not wait for that thread, which it has no copy of: so each has an end of its own.
    with os.fdopen(os.dup(0), "rb") as heard, os.fdopen(os.dup(1), "wb") as said:
        try:
            server(work, meter).start_io(heard, said)
        finally:
            standing.close()


def _end_at_signals(close: Callable[[], None]) -> None:
    """Have a signal end the server, though a thread of it waits for an editor that says nothing more.

    The end has a thread of its own, since what the signal breaks into may hold what `close` needs.
    """

    def end(number: int) -> None:
        try:
            close()
        finally:
            os._exit(128 + number)

    for each in stopping():
        if signal.getsignal(each) != signal.SIG_IGN:
            signal.signal(each, lambda number, _: threading.Thread(target=end, args=(number,)).start())


def _not_checked(why: str) -> Found:
    """That a text was not checked, and why; it is said at its first line."""
    from wirecheck.editor.found import Found
    from wirecheck.judge.finding import NOT_CHECKED
    from wirecheck.language.syntax import Span

    return Found(NOT_CHECKED, "fault", why, Span(1, 1, 1, 1))

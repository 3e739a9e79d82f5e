"""Lines that somebody asks at a bench, one after another: typed at a prompt, or from a script."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any

import click

from wirecheck.arguments import WrongArgument
from wirecheck.circuit.work import WorkEnds
from wirecheck.cli._attempts import TOO_MUCH_WORK
from wirecheck.cli._screen import say
from wirecheck.cli._sources import content
from wirecheck.language.asking import Asked, NotUnderstood, asked

if TYPE_CHECKING:
    from wirecheck.troubles.bench import Bench

PROMPT = "> "
MOST_ASKED = 10_000
"""The most lines of a session."""
LONGEST = 2_000
"""The most characters that are taken of a typed line at once: a stream may never end one."""


def script_option(command: Callable[..., object]) -> Callable[..., object]:
    """The option `--script`."""
    return click.option(
        "--script",
        metavar="FILE",
        type=click.Path(),
        help="What to ask for, a line each, as it would be typed. - is standard input.",
    )(command)


def questions(script: str | None) -> Iterator[str]:
    """The lines that are asked, each shown where it came from a script; typed ones have a prompt."""
    if script is not None:
        for line in content(script).decode("utf-8", "replace").splitlines()[:MOST_ASKED]:
            yield line
        return
    for _ in range(MOST_ASKED):
        if sys.stdin.isatty():
            click.echo(PROMPT, nl=False)
        line = sys.stdin.readline(LONGEST)
        if not line:
            return
        yield line


VERBS = (
    *(
        "call",
        "wait",
        "set",
        "power",
        "look",
        "volts",
        "ohms",
        "amps",
        "lift",
        "land",
        "replace",
        "reset",
        "stop",
    ),
)
"""What can be asked for at a bench."""


def readings(bench: Bench, script: str | None, form: str) -> str:
    """Answer what is asked at a bench, one after another; all of it at once in the end, where it is data."""
    import json

    from wirecheck.caution import CAUTION
    from wirecheck.report import bench as words
    from wirecheck.report import dangers
    from wirecheck.report.paragraphs import wrapped

    answers: list[dict[str, Any]] = []
    known: set[str] = set()
    shown = say if form == "text" else silent

    def answer(one: Asked) -> str:
        if one.verb == "help":
            return words.helped(VERBS)
        if one.verb not in VERBS:
            raise NotUnderstood(f"{one.verb} is for a ticket: wirecheck trouble.")
        told = bench.do(one)
        hurt = dangers.told(bench.case, [bench.state]) if bench.case.faults and bench.power == "on" else ()
        new = [danger for danger in hurt if danger not in known]
        known.update(new)
        answers.append(told.as_data() | ({"dangers": new} if new else {}))
        return words.answered(told) + "".join(wrapped(danger, "") + "\n" for danger in new)

    shown(f"{wrapped(CAUTION, '')}\n\n")
    for line in questions(script):
        if script is not None and line.strip():
            shown(f"{PROMPT}{line.strip()}\n")
        if not ask(line, answer, shown):
            break
    if form == "text":
        return ""
    return json.dumps({"board": bench.case.board.title, "answers": answers}, indent=1) + "\n"


def silent(_text: str) -> None:
    """Nothing is said while a session is told as data in the end."""


def ask(line: str, answer: Callable[[Asked], str], shown: Callable[[str], None]) -> bool:
    """Answer one line, or say why it cannot be; whether the session goes on."""
    try:
        one = asked(line)
        if one is None:
            return True
        if one.verb == "stop":
            return False
        shown(answer(one))
    except (NotUnderstood, WrongArgument) as error:
        shown(f"{error}\n")
    except WorkEnds:
        shown(f"{TOO_MUCH_WORK}\n")
    return True

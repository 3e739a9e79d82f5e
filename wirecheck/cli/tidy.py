"""`wirecheck tidy`: a file laid out in one standard way."""

from __future__ import annotations

import click

from wirecheck.cli import FAILED, FINDINGS
from wirecheck.cli._sources import Unreadable, content, named, write


@click.command(short_help="Put files in the standard layout.")
@click.argument("paths", metavar="FILE...", nargs=-1, required=True, type=click.Path())
@click.option("--check", "only_check", is_flag=True, help="Change nothing. Exit 1 if a file is not tidy.")
@click.pass_context
def command(ctx: click.Context, paths: tuple[str, ...], only_check: bool) -> None:
    """Put every FILE in the standard layout, in place. Comments stay, and its meaning stays the same.

    A folder means all .wire files in it; - reads standard input and writes standard output.
    """
    bad: list[Unreadable] = []

    def complain(error: Unreadable) -> None:
        bad.append(error)
        error.show()

    untidy = 0
    for each in named(paths, complain):
        try:
            untidy += _tidy(each.path, only_check)
        except Unreadable as error:
            complain(error)
    if bad:
        ctx.exit(FAILED)
    ctx.exit(FINDINGS if only_check and untidy else 0)


def _tidy(path: str, only_check: bool) -> bool:
    """Tidy one file; whether it was not tidy."""
    from wirecheck.language.tidy import tidy

    data = content(path)
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise Unreadable(
            f"{path} was left as it is: line {line} holds a byte that is not UTF-8 text."
        ) from error
    tidied = tidy(text)
    changed: bool = tidied != text
    if path == "-" and not only_check:
        write("-", tidied)
    elif changed and only_check:
        click.echo(f"{path} is not tidy")
    elif changed:
        write(path, tidied)
        click.echo(f"{path} tidied")
    return changed

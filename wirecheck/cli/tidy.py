"""`wirecheck tidy`: a file laid out in one standard way."""

from __future__ import annotations

import os

import click

from wirecheck.cli import FAILED, FINDINGS
from wirecheck.cli._sources import PATH, Named, Unreadable, content, named, passed_over, rewrite, write


@click.command(short_help="Put files in the standard layout.")
@click.argument("paths", metavar="FILE...", nargs=-1, required=True, type=PATH)
@click.option("--check", "only_check", is_flag=True, help="Change nothing. Exit 1 if a file is not tidy.")
@click.pass_context
def command(ctx: click.Context, paths: tuple[str, ...], only_check: bool) -> None:
    """Put every FILE in the standard layout, in place. Comments stay, and its meaning stays the same.

    A folder means all .wire files in it; - reads standard input and writes standard output. A file that
    is no board and no part is left as it is, and so is a link: name the file that it leads to.
    """
    bad: list[Unreadable] = []

    def complain(error: Unreadable) -> None:
        bad.append(error)
        error.show()

    untidy = 0
    for each in named(paths, complain):
        try:
            untidy += _tidy(each, only_check)
        except Unreadable as error:
            complain(error)
    if bad:
        ctx.exit(FAILED)
    ctx.exit(FINDINGS if only_check and untidy else 0)


def _tidy(each: Named, only_check: bool) -> bool:
    """Tidy one file; whether it was not tidy."""
    from wirecheck.language.tidy import NotOurs, file_tidied, tidy

    path = each.path
    if os.path.islink(path):
        if each.asked:
            raise _left(path, f"it is a link. Name the file that it leads to, {os.path.realpath(path)}")
        passed_over(path, "it is a link")
        return False
    data = content(path)
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise _left(path, f"line {line} holds a byte that is not UTF-8 text") from error
    try:
        tidied = tidy(text) if path == "-" else file_tidied(text)
    except NotOurs as error:
        raise _left(path, str(error)) from error
    changed: bool = tidied != text
    if path == "-" and not only_check:
        write("-", tidied)
    elif changed and only_check:
        click.echo(f"{path} is not tidy")
    elif changed:
        if content(path) != data:
            raise _left(path, "it changed in the meantime")
        rewrite(path, tidied)
        click.echo(f"{path} tidied")
    return changed


def _left(path: str, why: str) -> Unreadable:
    """The complaint about a file that tidy does not touch."""
    return Unreadable(f"{path} was left as it is: {why}.")

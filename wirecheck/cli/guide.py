"""`wirecheck guide`: the language in ten lessons."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import click

from wirecheck import inputs
from wirecheck.cli._screen import color_option, paint, say
from wirecheck.cli._sources import PATH, Unreadable, content, make_folder, rewrite

if TYPE_CHECKING:
    from wirecheck.report.guide import Lesson


# A number of more digits is no lesson's, and too many take long to read.
MOST_DIGITS = 5


@click.command(short_help="Learn the language, lesson by lesson.")
@click.argument("asked", metavar="[LESSON]", required=False)
@click.option(
    "--save", "folder", metavar="FOLDER", type=PATH, help="Put the files of LESSON into this folder instead."
)
@color_option
def command(asked: str | None, folder: str | None, color: str) -> None:
    """List the lessons of the guide, or print LESSON: from the first line of a board to a part of your own.

    With --save, the boards and parts of LESSON are put into a folder, as they are at its end. A file there
    that no lesson has made is left as it is.
    """
    from wirecheck import files
    from wirecheck.report import guide

    known = guide.lessons(files.lesson_texts())
    if asked is None:
        if folder is not None:
            raise click.UsageError("--save: name the lesson whose files it is to put there.")
        say(guide.listing(known))
        return
    number = int(asked) if asked.isdecimal() and len(asked) < MOST_DIGITS else 0
    if not 1 <= number <= len(known):
        raise click.UsageError(f"There is no lesson {asked}: they go from 1 to {len(known)}.")
    if folder is None:
        say(guide.page(known[number - 1], len(known), paint(color)))
    else:
        _save(known, number, folder)


def _save(known: tuple[Lesson, ...], number: int, folder: str) -> None:
    """Put the files of a lesson into a folder: all of them, or none where one is somebody's own."""
    from wirecheck.report import guide
    from wirecheck.report.plain import plain

    ever = guide.typed(known)
    texts = {os.path.join(folder, name): texts[-1] for name, texts in guide.typed(known[:number]).items()}
    for path in texts:
        lessons_own = {text.encode() for text in ever[os.path.basename(path)]}
        if os.path.lexists(path) and content(path) not in lessons_own:
            raise Unreadable(f"{path} is not as a lesson left it, and may be yours. Nothing was changed.")
    make_folder(folder)
    for path, text in texts.items():
        rewrite(path, text)
        click.echo(f"{plain(inputs.shown_path(path))} is saved.", err=True)

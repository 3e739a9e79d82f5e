"""The rules and the parts as pages in a folder, which two commands write."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import click

from wirecheck.cli._sources import PATH, make_folder, spare, write

if TYPE_CHECKING:
    from wirecheck.judge.rule import Manual
    from wirecheck.parts.library import Library
    from wirecheck.report.manual_pages import RulePage

pages_option = click.option(
    "-o",
    "--output",
    metavar="FOLDER",
    type=PATH,
    help="Write a page for each rule and each part into this folder, and index.html to find them.",
)


def put_pages(folder: str, library: Library, own: str | None = None) -> None:
    """Write the pages of all rules, and of all parts of a library; over no part that is read for it."""
    from wirecheck import files
    from wirecheck.report.manual_pages import pages
    from wirecheck.rules import manuals

    if folder == "-":
        raise click.UsageError("--output: the pages are many files. Name a folder for them.")
    rules = [rule_page(each) for _, each in sorted(manuals().items())]
    parts = [part for each in library.names() if (part := library.part(each))]
    words = {word: part for word, (part, _) in files.part_words().items()}
    made = {os.path.join(folder, name): page for name, page in pages(rules, parts, words)}
    for path in made:
        spare(path, ["-"], own)
    make_folder(folder)
    for path, page in made.items():
        write(path, page)


def rule_page(manual: Manual) -> RulePage:
    """What there is to say of a rule; what is about a file and no board has no boards."""
    from wirecheck import files
    from wirecheck.judge.finding import NOT_CHECKED
    from wirecheck.report.manual_pages import RulePage
    from wirecheck.tables.editions import differences

    wrong, right = (
        "" if manual.name == NOT_CHECKED else files.rule_board(manual.name, which)
        for which in ("wrong", "right")
    )
    return RulePage(manual, wrong, right, differences(manual.source))

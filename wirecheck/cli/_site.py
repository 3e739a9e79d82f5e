"""The pages of a folder, written as files that any web server gives out."""

from __future__ import annotations

import os

import click

from wirecheck.cli._sources import Unreadable, make_folder, spare_each, write


def put_site(folder: str, out: str) -> None:
    """Write the pages of a folder into another, over no board and no part."""
    from wirecheck.caution import CAUTION
    from wirecheck.page.site import missing, site
    from wirecheck.report.paragraphs import wrapped
    from wirecheck.report.plain import plain

    if out == "-":
        raise click.UsageError("--save: the pages are many files. Name a folder for them.")
    lacking = missing()
    if lacking:
        raise Unreadable(
            "--save needs Python for browsers, which a release of wirecheck carries and this copy does not. "
            f"Not in wirecheck/page/browser: {', '.join(lacking)}. In a clone, .ci/browser fetches them."
        )
    made = site(folder)
    paths = {os.path.join(out, name): data for name, data in made.files.items()}
    spare_each(paths, [])
    for place in sorted({os.path.dirname(path) for path in paths}):
        make_folder(place)
    for path, data in paths.items():
        write(path, data)
    size = sum(map(len, paths.values())) / 1e6
    click.echo(
        "\n".join(
            (
                *(wrapped(plain(sentence), "") for sentence in made.left),
                wrapped(
                    plain(
                        f"The pages are in {out}: {size:.0f} MB. Put that folder on any web server, and "
                        "open its index.html there: from a disk alone, browsers run none of it."
                    ),
                    "",
                ),
                wrapped(CAUTION, ""),
            )
        )
    )

"""What a report looks like: one format, one file.

Each has `render(reports, manuals, skipped) -> str`, a pure function of the reports, of the rules' manuals by
name, and of the files of a folder that were skipped since they hold a part. To add a format, add its file.
"""

from __future__ import annotations

import pkgutil
from collections.abc import Mapping, Sequence
from importlib import import_module
from typing import TYPE_CHECKING

from wirecheck.arguments import one_of
from wirecheck.report.report import Report

if TYPE_CHECKING:
    from wirecheck.judge.rule import Manual

FORMATS = ("text", *sorted({info.name for info in pkgutil.iter_modules(__path__)} - {"text"}))
"""The names of the formats, which are those of their files; text is what a person gets unasked."""


def render(
    form: str, reports: Sequence[Report], manuals: Mapping[str, Manual], skipped: Sequence[str] = ()
) -> str:
    """The reports in one of `FORMATS`.

    Raises
    ------
    wirecheck.arguments.WrongArgument
        Where there is no such format.

    Examples
    --------
    >>> render("json", [], {}).splitlines()[0]
    '{'
    """
    one_of(form, FORMATS, "format")
    module = import_module(f"{__name__}.{form}")
    text: str = module.render(reports, manuals, skipped)
    return text

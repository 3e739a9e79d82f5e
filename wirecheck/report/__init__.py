"""Reports: what the findings look like. One output, one file.

Each output's module has `render(reports, manuals) -> str`, a pure function of
the reports and of the rules' manuals by name. To add an output, add its file
and its name to `FORMATS`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from importlib import import_module
from typing import TYPE_CHECKING

from wirecheck.asked import one_of
from wirecheck.report.report import Report

if TYPE_CHECKING:
    from wirecheck.judge.rule import Manual

FORMATS = ("text", "json", "sarif", "junit", "github")


def render(form: str, reports: Sequence[Report], manuals: Mapping[str, Manual]) -> str:
    """The reports in one of `FORMATS`.

    Raises
    ------
    wirecheck.asked.WrongArgument
        Where there is no such format.

    Examples
    --------
    >>> render("json", [], {}).splitlines()[0]
    '{'
    """
    one_of(form, FORMATS, "format")
    module = import_module(f"wirecheck.report.{form}")
    text: str = module.render(reports, manuals)
    return text

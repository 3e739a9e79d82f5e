"""Results as a piece of a page, for a notebook: what is said of a board is text in it, whatever it holds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from html import escape
from typing import TYPE_CHECKING

from wirecheck.caution import CAUTION
from wirecheck.judge.finding import Finding
from wirecheck.policy import policy
from wirecheck.report.mended import sentences
from wirecheck.report.plain import plain

if TYPE_CHECKING:
    from wirecheck.report.report import Report


def fragment(report: Report) -> str:
    """A report: its findings in a table, the gravity and the line before the words.

    >>> from wirecheck.report.report import Report
    >>> "No problem found." in fragment(Report("-", "Shed", "", ()))
    True
    """
    from wirecheck.report.verdict import clean, not_judged, own_parts

    if report.findings:
        rows = (
            (finding.severity, str(finding.to_change.line), finding.rule, " ".join(_said(finding)))
            for finding in report.findings
        )
        body = table(("severity", "line", "rule", "finding"), rows)
    else:
        body = paragraph(clean(report))
    rest = [paragraph(words) for words in (not_judged(report), own_parts(report)) if words]
    return piece(report.board or "A board without a title", body, *rest)


def _said(finding: Finding) -> Iterator[str]:
    yield from sentences(finding)


def page(title: str, style: str, body: str, script: str = "", *, pictures: bool = False) -> str:
    """A page that is whole in itself: its style and its script stand in it, and nothing else may work.

    Parameters
    ----------
    title : in words, in which nothing is markup
    body : what is shown, as HTML
    script : what the page does itself
    pictures : whether pictures stand in it as data
    """
    heading, does = text(title), f"<script>{script}</script>\n" if script else ""
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f"{policy(style, script, pictures=pictures)}"
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{heading}</title>\n<style>{style}</style>\n</head>\n<body>\n{body}\n{does}</body>\n</html>\n"
    )


def piece(title: str, *parts: str) -> str:
    """A titled piece of a page, with the caution at its end."""
    return f"<div><h4>{text(title)}</h4>{''.join(parts)}<p><small>{text(CAUTION)}</small></p></div>"


def table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Rows under their heads."""
    lines = ["".join(f'<th style="text-align:left">{text(head)}</th>' for head in heads)]
    lines += ("".join(f'<td style="text-align:left">{text(cell)}</td>' for cell in row) for row in rows)
    return f"<table>{''.join(f'<tr>{line}</tr>' for line in lines)}</table>"


def paragraph(words: str) -> str:
    """Words as a paragraph."""
    return f"<p>{text(words)}</p>"


def text(words: str) -> str:
    """Words in which nothing is markup."""
    return escape(plain(words))

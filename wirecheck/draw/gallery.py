"""A gallery: every board as wired and as a ladder, its findings beside, one board a printed page."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

from wirecheck.draw.colors import SEVERITY
from wirecheck.draw.page import caution, inline, shape, text, whole
from wirecheck.draw.picture import draw
from wirecheck.model.board import Board
from wirecheck.rules.finding import SEVERITIES

if TYPE_CHECKING:
    from wirecheck.rules.finding import Finding


class Exhibit(NamedTuple):
    """A board with its file's name, what its file expects of it, line by line, and its findings."""

    file: str
    board: Board
    expects: Sequence[str]
    findings: Sequence[Finding]


STYLE = """\
body { padding: 0 1.5em 2em; }
header { padding: 1em 0; }
.index { columns: 26em; column-gap: 2em; padding: 0; list-style: none; font-size: .87em; }
.index li { break-inside: avoid; padding: .12em 0; }
.mark { display: inline-block; min-width: 1.5em; padding: 0 .35em; border-radius: .75em; color: #fff;
  text-align: center; font-size: .8em; font-weight: 700; }
section { border-top: 2px solid var(--line); padding: 1em 0 1.5em;
  content-visibility: auto; contain-intrinsic-size: auto 900px; }
.pictures { display: flex; flex-direction: column; gap: 1em; margin: .6em 0; align-items: flex-start; }
.pictures svg { max-width: 100%; height: auto; }
.side { flex-direction: row; }
.side svg { flex: 0 1 auto; min-width: 0; }
.told { columns: 30em; column-gap: 2em; font-size: .87em; }
.told ol { margin: 0; padding: 0; list-style: none; }
.told li { break-inside: avoid; margin-bottom: .5em; }
.expects { font-family: ui-monospace, monospace; font-size: .93em; }
@media print {
  :root { --ground: #fff; --ink: #1a1a1a; --faint: #5a6068; --line: #c4c9cf; }
  @page { size: PAGE landscape; margin: 9mm; }
  body { padding: 0; font-size: 8.5pt; line-height: 1.25; }
  section { break-before: page; border: 0; padding: 0; height: HEIGHT; overflow: hidden; display: flex;
    flex-direction: column; content-visibility: visible; }
  .pictures { flex: 1 1 auto; min-height: 0; align-items: stretch; gap: 6pt; margin: 3pt 0; }
  .pictures svg { flex: 1 1 0; min-height: 0; min-width: 0; width: 100%; height: 100%; }
  .told { font-size: 7pt; flex: none; columns: 3; column-gap: 10pt; }
  .told li { margin-bottom: 2pt; }
}
""" + "".join(f".{severity} {{ background: {color}; }}\n" for severity, color in SEVERITY.items())
HEIGHTS = {"letter": "7.7in", "a4": "190mm"}
"""What a lying page has for a board between its margins."""


def gallery_page(title: str, exhibits: Sequence[Exhibit], colors: str = "paper", page: str = "letter") -> str:
    """The gallery as one page of HTML, whole in itself.

    Parameters
    ----------
    exhibits: the boards, in the order in which they are shown.
    colors: `paper` or `dark`.
    page: `letter` or `a4`, for when it is printed: one board a page, the index on the first.
    """
    style = STYLE.replace("PAGE", page).replace("HEIGHT", HEIGHTS[page])
    rows = "\n".join(_row(number, each) for number, each in enumerate(exhibits, 1))
    sections = "".join(_section(number, each, colors) for number, each in enumerate(exhibits, 1))
    body = (
        f'<header><h1>{text(title)}</h1>\n{caution()}</header>\n<ol class="index">\n{rows}\n</ol>\n{sections}'
    )
    return whole(title, style, body, colors)


def _row(number: int, exhibit: Exhibit) -> str:
    return (
        f'<li><a href="#board-{number}">{text(exhibit.board.title or "A board without a title")}</a> '
        f'<span class="faint">{text(exhibit.file)}</span> {"".join(_marks(exhibit.findings))}</li>'
    )


def _marks(findings: Iterable[Finding]) -> Iterator[str]:
    """How many findings of each severity there are."""
    counts = Counter(finding.severity for finding in findings)
    for severity in SEVERITIES:
        if counts[severity]:
            yield f'<span class="mark {severity}" title="{severity}">{counts[severity]}</span> '


def _section(number: int, exhibit: Exhibit, colors: str) -> str:
    board, findings = exhibit.board, exhibit.findings
    pictures = [
        draw(board, findings, "wiring", colors, listed=False),
        draw(board, (), "ladder", colors),
    ]
    shapes = [shape(picture) for picture in pictures]
    # Side by side where both are then larger than one over the other, on a page half again as wide as high.
    side = "side" if 1.5 / sum(shapes) > min(1.5 / max(shapes), 0.5) else "over"
    drawn = "\n".join(
        inline(picture, f"{number}-{kind}-") for picture, kind in zip(pictures, ("w", "l"), strict=True)
    )
    return (
        f'<section id="board-{number}">\n<h2>{text(board.title or "A board without a title")}</h2>\n'
        f'<p class="faint">{text(exhibit.file)}</p>\n<div class="pictures {side}">\n{drawn}\n</div>\n'
        f'<div class="told">\n{"".join(_expects(exhibit.expects))}{"".join(_findings(findings))}</div>\n'
        "</section>\n"
    )


def _expects(lines: Sequence[str]) -> Iterator[str]:
    if lines:
        yield "<h3>What it shall do</h3>\n"
        yield f'<p class="expects">{"<br>".join(map(text, lines))}</p>\n'


def _findings(findings: Sequence[Finding]) -> Iterator[str]:
    if not findings:
        yield "<h3>Nothing found</h3>\n"
        return
    yield "<h3>What is found</h3>\n<ol>\n"
    for number, finding in enumerate(findings, 1):
        yield (
            f'<li><span class="mark {finding.severity}">{number}</span> <b>{text(finding.rule)}</b> '
            f"({finding.severity}, line {finding.span.line}): {text(finding.message)}</li>\n"
        )
    yield "</ol>\n"

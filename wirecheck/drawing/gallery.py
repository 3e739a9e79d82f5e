"""A gallery: every board as wired and as a ladder, its findings beside.

On paper a board has a page of words, and then its pictures as they are laid out for paper. The few words of
a board without a finding stand under its picture, where there is room.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import groupby
from typing import TYPE_CHECKING, NamedTuple

from wirecheck.drawing.colors import PAPER, SEVERITY
from wirecheck.drawing.letters import SMALLEST, wrap
from wirecheck.drawing.page import caution, inline, on_sheets, paper_style, size, text, whole
from wirecheck.drawing.paper import on_paper
from wirecheck.drawing.picture import draw, sheet
from wirecheck.drawing.sheet import CAUTION_WIDTH, Sheet
from wirecheck.drawing.wiring import ONE_OF_THESE
from wirecheck.judge.finding import NOT_CHECKED, SEVERITIES, in_plain_values
from wirecheck.language.listing import listed
from wirecheck.model.board import Board

if TYPE_CHECKING:
    from wirecheck.judge.finding import Finding


class Exhibit(NamedTuple):
    """What a page shows of a board: plain values, so that each board can be drawn in a process of its own.

    `expects` is what the file expects of it, line by line; `unjudged` what no line of the file names;
    `pictures` the board as wired and as a ladder, none where it could not be drawn; `sheets` both as they
    are laid out for paper; `own` its parts that do not ship, each with its file. `told` is whether these
    sheets have its words too, so that paper needs no page for them.
    """

    file: str
    title: str
    expects: Sequence[str]
    findings: Sequence[Finding]
    unjudged: Sequence[str] = ()
    pictures: Sequence[str] = ()
    own: Sequence[str] = ()
    sheets: Sequence[str] = ()
    told: bool = False


def exhibit(
    file: str,
    board: Board,
    expects: Sequence[str],
    findings: Sequence[Finding],
    unjudged: Sequence[str] = (),
    colors: str = "paper",
    page: str = "letter",
) -> Exhibit:
    """A board drawn for the page, and for the paper on which that is printed."""
    pictures = (
        draw(board, findings, "wiring", colors, listed=False),
        draw(board, (), "ladder", colors),
    )
    title = board.title or "A board without a title"
    own = tuple(f"{part.name} ({part.file})" for part in board.own_parts)
    shown = Exhibit(file, title, expects, in_plain_values(findings), unjudged, pictures, own)
    laid = (
        sheet(board, findings, "wiring", page=page, listed=False),
        sheet(board, (), "ladder", page=page),
    )
    sheets = [on_paper(each, page) for each in laid]
    for number, each in enumerate(laid) if not findings else ():
        fuller = on_paper(_with_words(each, _few_words(shown)), page)
        if len(sheets[number]) == len(fuller) == 1:
            sheets[number] = fuller
            return shown._replace(sheets=[one for all_of in sheets for one in all_of], told=True)
    return shown._replace(sheets=[one for all_of in sheets for one in all_of])


def _few_words(exhibit: Exhibit) -> list[tuple[str, bool]]:
    """What is said of a board without a finding, line by line, and whether that is bold."""
    lines = [(exhibit.file, False)]
    if exhibit.expects:
        lines += [("What it should do", True), *((line, False) for line in exhibit.expects)]
    lines += [(line, False) for line in (*_unjudged(exhibit.unjudged), *_not_shipped(exhibit.own))]
    return [*lines, (_no_problem(exhibit.unjudged), True)]


def _with_words(drawn: Sheet, lines: Iterable[tuple[str, bool]]) -> Sheet:
    """A drawing with words under it, at its left edge."""
    fuller = replace(drawn, marks=list(drawn.marks))
    caution = [mark.x - mark.width / 2 for mark in drawn.marks if mark.kind == "caution"]
    left = min(caution, default=0.0)
    y = drawn.top + drawn.height
    for number, (told, bold) in enumerate(lines, 1):
        for place, line in enumerate(wrap(told, CAUTION_WIDTH, SMALLEST, bold), 1):
            fuller.write(
                f"told-{number}-{place}", line, left, y, SMALLEST, PAPER.ink, bold=bold, align="start"
            )
            y += LINE
    fuller.height = y - drawn.top + LINE / 2
    return fuller


def not_drawn(file: str, finding: Finding) -> Exhibit:
    """What stands for a board whose drawing did not come to its end."""
    return Exhibit(file, "Not checked", (), (finding,))


STYLE = """\
body { padding: 0 1.5em 2em; }
header { padding: 1em 0; }
.index { columns: 26em; column-gap: 2em; padding: 0; list-style: none; font-size: .87em; }
.index li { break-inside: avoid; padding: .1em 0; }
.index ul { list-style: none; padding: 0 0 .4em 1em; }
.mark { display: inline-block; min-width: 1.5em; padding: 0 .35em; border-radius: .75em; color: #fff;
  text-align: center; font-size: .8em; font-weight: 700; }
section { border-top: 2px solid var(--line); padding: 1em 0 1.5em;
  content-visibility: auto; contain-intrinsic-size: auto 900px; }
.pictures { display: flex; flex-direction: column; gap: 1em; margin: .6em 0; align-items: flex-start; }
.pictures svg { max-width: 100%; height: auto; }
.side { flex-direction: row; }
.side div { min-width: 0; }
.words { columns: 30em; column-gap: 2em; font-size: .87em; }
.words h3 { break-after: avoid; }
.words ol { margin: 0; padding: 0; list-style: none; }
.words li { break-inside: avoid; margin-bottom: .5em; }
.words li ul { margin: .2em 0; padding-left: 1.2em; list-style: none; }
.words li li { margin-bottom: .1em; }
.mark.small { font-size: .65em; background: none; color: inherit; border: 1px solid; }
.expects { font-family: ui-monospace, monospace; font-size: .93em; }
@media print {
  body { padding: 0; font-size: 10pt; line-height: 1.3; }
  section { break-before: page; border: 0; padding: 0; content-visibility: visible; }
  .words { columns: 1; }
}
""" + "".join(f".{severity} {{ background: {color}; }}\n" for severity, color in SEVERITY.items())
LINE = 11.0
"""From one line of words under a drawing to the next, in points."""
WINDOW = (1035.0, 592.0)
"""What a window has for two pictures, in points."""


def gallery_page(title: str, exhibits: Sequence[Exhibit], colors: str = "paper", page: str = "letter") -> str:
    """The gallery as one page of HTML, whole in itself.

    Parameters
    ----------
    exhibits : the boards, in the order in which they are shown.
    colors : `paper` or `dark`, as they were drawn.
    page : `letter` or `a4`, to print it: a page of words where a board needs it, then its pictures.
    """
    style = STYLE + paper_style(page, "12mm")
    numbered = list(enumerate(exhibits, 1))
    groups = groupby(numbered, key=lambda each: each[1].title)
    rows = "\n".join(_group(name, list(group)) for name, group in groups)
    sections = "".join(_section(number, each) for number, each in numbered)
    key = " ".join(f'<span class="mark {severity}">{severity}</span>' for severity in SEVERITIES)
    body = (
        f"<header><h1>{text(title)}</h1>\n{caution()}</header>\n<p>{key}</p>\n"
        f'<ol class="index">\n{rows}\n</ol>\n{sections}'
    )
    return whole(title, style, body, colors)


def _group(title: str, exhibits: Iterable[tuple[int, Exhibit]]) -> str:
    """The boards of one title, a line each."""
    files = "\n".join(
        f'<li><a href="#board-{number}">{text(exhibit.file)}</a> {"".join(_marks(exhibit.findings))}</li>'
        for number, exhibit in exhibits
    )
    return f"<li><b>{text(title)}</b>\n<ul>\n{files}\n</ul></li>"


def _marks(findings: Iterable[Finding]) -> Iterator[str]:
    """How many findings of each severity there are."""
    counts = Counter(finding.severity for finding in findings)
    for severity in SEVERITIES:
        if counts[severity]:
            yield f'<span class="mark {severity}" title="{severity}">{counts[severity]}</span> '


def _section(number: int, exhibit: Exhibit) -> str:
    """A board's section: its words, its pictures for the screen and those for paper."""
    paper = " screen" if exhibit.told else ""
    said = "".join(
        (*_expects(exhibit.expects), *_findings(exhibit.findings, exhibit.unjudged), *_own(exhibit.own))
    )
    return (
        f'<section id="board-{number}">\n<div class="words-of{paper}">\n<h2>{text(exhibit.title)}</h2>\n'
        f'<p class="faint">{text(exhibit.file)}</p>\n'
        f'<div class="words">\n{said}</div>\n</div>\n'
        f"{_pictures(number, exhibit.pictures) if exhibit.pictures else ''}"
        f"{on_sheets(exhibit.sheets)}</section>\n"
    )


def _pictures(number: int, pictures: Sequence[str]) -> str:
    """The two pictures as a screen shows them."""
    drawn = "\n".join(
        f'<div class="{kind}">{inline(picture, f"{number}-{kind}-")}</div>'
        for picture, kind in zip(pictures, "wl", strict=True)
    )
    return f'<div class="pictures screen {_way([size(picture) for picture in pictures])}">\n{drawn}\n</div>\n'


def _way(sizes: Sequence[tuple[float, float]]) -> str:
    """How two pictures stand in a window: `over` one another, or side by `side` where both fit it.

    >>> _way([(700, 200), (700, 200)]), _way([(300, 500), (300, 500)]), _way([(1200, 900), (1200, 900)])
    ('over', 'side', 'over')
    """
    (width, height), (other_width, other_height) = sizes
    fits = width + other_width <= WINDOW[0]
    return "side" if fits and height + other_height > WINDOW[1] else "over"


def _expects(lines: Sequence[str]) -> Iterator[str]:
    if lines:
        yield "<h3>What it should do</h3>\n"
        yield f'<p class="expects">{"<br>".join(map(text, lines))}</p>\n'


def _own(parts: Sequence[str]) -> Iterator[str]:
    yield from (f"<p>{text(line)}</p>\n" for line in _not_shipped(parts))


def _not_shipped(parts: Sequence[str]) -> Iterator[str]:
    if parts:
        yield f"Parts that do not ship: {listed(parts)}."


def _unjudged(names: Sequence[str]) -> Iterator[str]:
    if names:
        yield f"Not judged, for want of an expect line: {listed(names)}."


def _no_problem(unjudged: Sequence[str]) -> str:
    return f"No problem found{' in what was judged' if unjudged else ''}"


def _findings(findings: Sequence[Finding], unjudged: Sequence[str]) -> Iterator[str]:
    yield from (f"<p>{text(line)}</p>\n" for line in _unjudged(unjudged))
    if not findings:
        yield f"<h3>{_no_problem(unjudged)}</h3>\n"
        return
    yield "<h3>What was found</h3>\n<ol>\n"
    for number, finding in enumerate(findings, 1):
        yield (
            f'<li><span class="mark {finding.severity}">{number}</span> {"".join(_mistakes(finding))}'
            f"<b>{text(finding.rule)}</b> ({finding.severity}{_line(finding)}): {text(finding.message)}"
        )
        if finding.follows:
            same = "".join(
                f'<li><span class="mark small {one.severity}">{number}</span> '
                f"{text(one.rule)}{_line(one)}: {text(one.message)}</li>\n"
                for one in finding.follows
            )
            yield f"<br>From the same mistake:\n<ul>\n{same}</ul>"
        yield "</li>\n"
    yield "</ol>\n"


def _mistakes(finding: Finding) -> Iterator[str]:
    """What hands did wrong, before what comes of it."""
    told = [text(mistake) for mistake in finding.mistakes]
    if len(told) > 1:
        listed_ones = "".join(f"<li>{one}</li>\n" for one in told)
        yield f"<b>{ONE_OF_THESE}</b>\n<ul>\n{listed_ones}</ul>\n"
    else:
        yield from (f"<b>{one}</b><br>\n" for one in told)


def _line(finding: Finding) -> str:
    return "" if finding.rule == NOT_CHECKED else f", line {finding.to_change.line}"

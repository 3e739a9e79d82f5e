"""A gallery: every board as wired and as a ladder, its findings beside, one board a printed page."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from typing import TYPE_CHECKING, NamedTuple

from wirecheck.drawing.colors import SEVERITY
from wirecheck.drawing.page import caution, inline, size, text, whole
from wirecheck.drawing.picture import draw
from wirecheck.drawing.wiring import ONE_OF_THESE
from wirecheck.judge.finding import NOT_CHECKED, SEVERITIES, in_plain_values
from wirecheck.language.listing import listed
from wirecheck.model.board import Board

if TYPE_CHECKING:
    from wirecheck.judge.finding import Finding


class Exhibit(NamedTuple):
    """What a page shows of a board: plain values, so that each board can be drawn in a process of its own.

    `expects` is what the file expects of it, line by line; `unjudged` what no line of the file names;
    `pictures` the board as wired and as a ladder, none where it could not be drawn; `own` its parts that do
    not ship, each with its file.
    """

    file: str
    title: str
    expects: Sequence[str]
    findings: Sequence[Finding]
    unjudged: Sequence[str] = ()
    pictures: Sequence[str] = ()
    own: Sequence[str] = ()


def exhibit(
    file: str,
    board: Board,
    expects: Sequence[str],
    findings: Sequence[Finding],
    unjudged: Sequence[str] = (),
    colors: str = "paper",
) -> Exhibit:
    """A board drawn for the page."""
    pictures = (
        draw(board, findings, "wiring", colors, listed=False),
        draw(board, (), "ladder", colors),
    )
    title = board.title or "A board without a title"
    own = tuple(f"{part.name} ({part.file})" for part in board.own_parts)
    return Exhibit(file, title, expects, in_plain_values(findings), unjudged, pictures, own)


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
  :root { --ground: #fff; --ink: #1a1a1a; --faint: #5a6068; --line: #c4c9cf; }
  @page { size: PAGE landscape; margin: 9mm; }
  body { padding: 0; font-size: 8.5pt; line-height: 1.25; }
  section { break-before: page; border: 0; padding: 0; content-visibility: visible; }
  section.one { height: HEIGHT; overflow: hidden; display: flex; flex-direction: column; }
  .pictures { flex: 1 1 auto; min-height: 0; align-items: stretch; gap: 6pt; margin: 3pt 0; }
  .pictures div { flex: 1 1 0; min-height: 0; min-width: 0; }
  .pictures svg { display: block; width: 100%; height: 100%; }
  .apart { display: block; }
  .apart div { height: calc(HEIGHT * .74); }
  .apart div + div { break-before: page; height: calc(HEIGHT - 1em); }
  .words { font-size: 7pt; flex: none; order: 1; columns: 3; column-gap: 10pt; }
  .words li { margin-bottom: 2pt; }
}
""" + "".join(f".{severity} {{ background: {color}; }}\n" for severity, color in SEVERITY.items())
ROOM = (740.0, 480.0)
"""What a lying page has for pictures, in points."""
LEAST_SCALE = 0.5
"""Smaller than this, the smallest words cannot be read in print."""
HEIGHTS = {"letter": "7.7in", "a4": "190mm"}
"""What a lying page has for a board between its margins."""


def gallery_page(title: str, exhibits: Sequence[Exhibit], colors: str = "paper", page: str = "letter") -> str:
    """The gallery as one page of HTML, whole in itself.

    Parameters
    ----------
    exhibits : the boards, in the order in which they are shown.
    colors : `paper` or `dark`, as they were drawn.
    page : `letter` or `a4`, for when it is printed: one board a page, the index on the first.
    """
    style = STYLE.replace("PAGE", page).replace("HEIGHT", HEIGHTS[page])
    numbered = list(enumerate(exhibits, 1))
    groups = groupby(numbered, key=lambda each: each[1].title)
    rows = "\n".join(_group(name, list(group)) for name, group in groups)
    shown = [_section(number, each) for number, each in numbered]
    sections = "".join(section for section, _ in shown)
    style += "".join(shares for _, shares in shown)
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


def _section(number: int, exhibit: Exhibit) -> tuple[str, str]:
    """A board's section, and its own lines of the page's style."""
    said = "".join(
        (*_expects(exhibit.expects), *_findings(exhibit.findings, exhibit.unjudged), *_own(exhibit.own))
    )
    pages, pictures, grown = _pictures(number, exhibit.pictures) if exhibit.pictures else ("one", "", "")
    section = (
        f'<section id="board-{number}" class="{pages}">\n<h2>{text(exhibit.title)}</h2>\n'
        f'<p class="faint">{text(exhibit.file)}</p>\n'
        f'<div class="words">\n{said}</div>\n'
        f"{pictures}</section>\n"
    )
    return section, grown


def _pictures(number: int, pictures: Sequence[str]) -> tuple[str, str, str]:
    """On how many printed pages two pictures stand, they themselves, and their shares of the room."""
    sizes = [size(picture) for picture in pictures]
    way = _way(sizes)
    # Both in one scale on a printed page: each takes room as it is wide, or as it is high.
    shares = [width if way == "side" else height for width, height in sizes]
    drawn = "\n".join(
        f'<div class="{kind}">{inline(picture, f"{number}-{kind}-")}</div>'
        for picture, kind in zip(pictures, "wl", strict=True)
    )
    grown = "".join(
        f"#board-{number} .{kind} {{ flex-grow: {share:g}; }}\n"
        for kind, share in zip("wl", shares, strict=True)
    )
    pages = "two" if way == "apart" else "one"
    return pages, f'<div class="pictures {way}">\n{drawn}\n</div>\n', grown


def _way(sizes: Sequence[tuple[float, float]]) -> str:
    """How two pictures stand on a printed page: `over` one another, `side` by side, or `apart` on two.

    >>> _way([(700, 200), (700, 200)]), _way([(300, 500), (300, 500)]), _way([(1200, 900), (1200, 900)])
    ('over', 'side', 'apart')
    """
    (width, height), (other_width, other_height) = sizes
    over = min(ROOM[0] / max(width, other_width), ROOM[1] / (height + other_height))
    side = min(ROOM[0] / (width + other_width), ROOM[1] / max(height, other_height))
    if max(over, side) < LEAST_SCALE:
        return "apart"
    return "over" if over >= side else "side"


def _expects(lines: Sequence[str]) -> Iterator[str]:
    if lines:
        yield "<h3>What it should do</h3>\n"
        yield f'<p class="expects">{"<br>".join(map(text, lines))}</p>\n'


def _own(parts: Sequence[str]) -> Iterator[str]:
    if parts:
        yield f"<p>Parts that do not ship: {text(listed(parts))}.</p>\n"


def _findings(findings: Sequence[Finding], unjudged: Sequence[str]) -> Iterator[str]:
    if unjudged:
        yield f"<p>Not judged, for want of an expect line: {text(listed(unjudged))}.</p>\n"
    if not findings:
        yield f"<h3>No problem found{' in what was judged' if unjudged else ''}</h3>\n"
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
    return "" if finding.rule == NOT_CHECKED else f", line {finding.span.line}"

"""The checklist as one page of HTML, whole in itself: to print on one sheet, or to read on a screen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import ceil

from wirecheck.caution import CAUTION
from wirecheck.report.checklist import TITLES, Section
from wirecheck.report.html import page, text
from wirecheck.report.plain import plain

# Rows that fit on one sheet of Letter or A4 at each size of print in points, counted in a browser.
SIZES = ((9.5, 44), (8.5, 51), (7.5, 59), (6.5, 64), (6.0, 72))
# The widths of the three columns on Letter in points, and of a letter in parts of the print's size.
WIDTHS = (136.0, 226.0, 147.0)
LETTER = 0.52

STYLE = """\
:root { color-scheme: light dark; --line: #999; --faint: #f2f2f2; --wrong: #b00020; }
@media (prefers-color-scheme: dark) { :root { --line: #777; --faint: #2a2a2a; --wrong: #ff8a95; } }
body { font: 15px/1.35 system-ui, sans-serif; max-width: 60em; margin: 1.5em auto; padding: 0 1em; }
h1 { font-size: 1.35em; margin: 0; }
h2 { font-size: 1.05em; margin: .9em 0 .2em; }
p { margin: .25em 0; }
.caution { border: 2px solid var(--wrong); padding: .3em .6em; margin: .5em 0; }
.note, .wrong td { color: var(--wrong); font-weight: 600; }
.from { opacity: .75; }
table { border-collapse: collapse; width: 100%; table-layout: fixed; }
th { text-align: left; font-weight: 600; }
th, td { border-bottom: 1px solid var(--line); padding: .15em .4em; vertical-align: top; }
th, td { overflow-wrap: anywhere; }
thead th { background: var(--faint); }
.tick { width: 1.6em; }
.point { width: 26%; }
.limit { width: 28%; }
.box { display: inline-block; width: .85em; height: .85em; border: 1.5px solid currentColor; }
.sign { display: flex; gap: 2em; margin-top: 1em; }
.sign span { flex: 1; border-top: 1px solid currentColor; padding-top: .2em; margin-top: 1.4em; }
@media print {
  :root { color-scheme: light; --line: #999; --faint: #f2f2f2; --wrong: #b00020; }
  @page { margin: 9mm; }
  body { font-size: var(--print); line-height: 1.15; max-width: none; margin: 0; padding: 0; }
  h2 { margin-top: .5em; break-after: avoid; }
  tr { break-inside: avoid; }
  th, td { padding: .03em .3em; }
  .box { width: .75em; height: .75em; border-width: 1px; }
  .sign { margin-top: .3em; }
}
"""


def render(title: str, file: str, sections: Iterable[Section]) -> str:
    """The page; whatever stands in a board's names stands in it as text."""
    listed = list(sections)
    size = _print_size(listed)
    name = plain(title) or "A board without a title"
    body = "\n".join(line for section in listed for line in _section(section))
    style = f"\n:root {{ --print: {size}pt; }}\n{STYLE}"
    where = f'<p class="from">{text(file)}</p>\n' if file else ""
    return page(
        f"Checklist: {name}",
        style,
        f"<h1>{text(name)}</h1>\n{where}"
        f'<p class="caution">{text(CAUTION)}</p>\n{body}\n'
        '<div class="sign"><span>Name</span><span>Date</span><span>Checked by</span></div>',
    )


def _print_size(sections: list[Section]) -> float:
    """The largest print, in points, at which the page fits on a sheet; the smallest where none does."""
    for size, most in SIZES:
        rows = 0
        for section in sections:
            rows += 2 + bool(section.note) if section.lines else 2
            for line in section.lines:
                texts = zip((line.point, line.here, line.limit), WIDTHS, strict=True)
                rows += max(1, *(ceil(len(text) * LETTER * size / width) for text, width in texts))
        if rows <= most:
            return size
    return SIZES[-1][0]


def _section(section: Section) -> Iterator[str]:
    yield f"<h2>{text(TITLES[section.stage])}</h2>"
    if section.note:
        yield f'<p class="note">{text(section.note)}</p>'
    if not section.lines:
        return
    yield "<table>"
    yield (
        '<thead><tr><th class="tick"></th><th class="point">Point</th><th>By the text</th>'
        '<th class="limit">Limit</th></tr></thead>'
    )
    yield "<tbody>"
    for line in section.lines:
        here = f"{text(line.here)} (fix)" if line.wrong else text(line.here)
        row = '<tr class="wrong">' if line.wrong else "<tr>"
        yield (
            f'{row}<td><span class="box"></span></td><td>{text(line.point)}</td><td>{here}</td>'
            f"<td>{text(line.limit)}</td></tr>"
        )
    yield "</tbody>\n</table>"
    if section.stage == "trim":
        yield "<p>Torque every screw to the maker's value.</p>"

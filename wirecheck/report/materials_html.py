"""The list of materials as one page of HTML, whole in itself: to print and take to the store."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.caution import CAUTION
from wirecheck.report.html import page, paragraph, text
from wirecheck.report.materials import GROUPS, Group, Item, Listing, beside

STYLE = """
:root { color-scheme: light dark; --line: #999; --faint: #f2f2f2; --wrong: #b00020; }
@media (prefers-color-scheme: dark) { :root { --line: #777; --faint: #2a2a2a; --wrong: #ff8a95; } }
body { font: 15px/1.35 system-ui, sans-serif; max-width: 50em; margin: 1.5em auto; padding: 0 1em; }
h1 { font-size: 1.35em; margin: 0; overflow-wrap: anywhere; }
p { margin: .4em 0; overflow-wrap: anywhere; }
.caution { border: 2px solid var(--wrong); padding: .3em .6em; }
table { border-collapse: collapse; width: 100%; table-layout: fixed; margin-top: .6em; }
th, td { text-align: left; border-bottom: 1px solid var(--line); padding: .15em .4em; vertical-align: top; }
td { overflow-wrap: anywhere; }
th { background: var(--faint); font-weight: 600; }
.tick { width: 1.6em; }
.number { width: 4em; text-align: right; }
.box { display: inline-block; width: .85em; height: .85em; border: 1.5px solid currentColor; }
.lengths { display: block; opacity: .8; }
@media print {
  :root { color-scheme: light; --line: #999; --faint: #f2f2f2; --wrong: #b00020; }
  @page { size: letter; margin: 12mm; }
  body { font-size: 10pt; line-height: 1.2; max-width: none; margin: 0; padding: 0; }
  tr { break-inside: avoid; }
  .group { break-after: avoid; }
}
"""


def render(listing: Listing) -> str:
    """The page; whatever stands in a board's names stands in it as text."""
    words = "\n".join(map(paragraph, listing.words))
    body = "\n".join(line for group in GROUPS for line in _group(group, listing))
    return page(
        listing.heading,
        STYLE,
        f"<h1>{text(listing.heading)}</h1>\n"
        f'<p class="caution">{text(CAUTION)}</p>\n{words}\n<table>\n{body}\n</table>',
    )


def _group(group: Group, listing: Listing) -> Iterator[str]:
    there = [one for one in listing.items if one.group == group]
    if there:
        yield (
            f'<tbody><tr class="group"><th class="tick"></th><th class="number"></th><th>{group}</th></tr>'
        )
        yield from (_row(one, listing.slack) for one in there)
        yield "</tbody>"


def _row(item: Item, slack: float) -> str:
    lengths = beside(item, slack)
    said = f'<span class="lengths">{text(lengths)}</span>' if lengths else ""
    return (
        f'<tr><td><span class="box"></span></td><td class="number">{item.number}</td>'
        f"<td>{text(item.what)}{said}</td></tr>"
    )

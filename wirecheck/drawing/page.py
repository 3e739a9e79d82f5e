"""A page of HTML, whole in itself, with pictures in it: no file, script or font from elsewhere."""

from __future__ import annotations

import re
from collections.abc import Iterable
from html import escape

from wirecheck.caution import CAUTION
from wirecheck.drawing.letters import FAMILY, printable
from wirecheck.drawing.render import SIZES
from wirecheck.policy import policy

_ID = re.compile(r'(<g id=")([^"]*)"')
_FINE = re.compile(r"(\d\.\d)\d\b")
_SIZE = re.compile(r'<svg width="([\d.]+)pt" height="([\d.]+)pt"')
_TOLD = re.compile(r"<title>[^<]*</title>\n?")
_NAMED = re.compile(r'<g id="(?!graph0)[^"]*" class="[^"]*">\n?|</g>\n?')
_TAG = re.compile(r"<[^>]*>")
_TENTHS = re.compile(r"(\d+\.\d)\d+")
_OUTLINE = re.compile(r' (?:d|points)="[^"]*"')

STYLE = f"""\
:root {{ --ground: #fff; --ink: #1a1a1a; --faint: #5a6068; --line: #c4c9cf; --chosen: #e7eefc; }}
:root.dark {{ --ground: #15181c; --ink: #f0f2f4; --faint: #aeb6bf; --line: #454c55; --chosen: #25324a; }}
* {{ box-sizing: border-box; }}
body {{ margin: 0; background: var(--ground); color: var(--ink); font: 15px/1.4 {FAMILY}; }}
h1 {{ font-size: 1.3em; margin: 0; }}
h2 {{ font-size: 1.1em; margin: 0; }}
h3 {{ font-size: 1em; margin: .6em 0 .2em; }}
p {{ margin: .2em 0; }}
a {{ color: inherit; }}
.caution {{ border-left: 4px solid #b00020; padding-left: .6em; }}
.faint {{ color: var(--faint); }}
@media screen {{ .ticks, [id*="key-ticks-"], [id*="key-wire-"], [id*="key-strokes-"] {{ display: none; }} }}
"""


def text(words: str) -> str:
    r"""Words as HTML: what could be taken for markup, and what no page can hold, is written out.

    >>> text("<b> \x00")
    '&lt;b&gt; ?'
    """
    return escape(printable(words))


def inline(svg: str, prefix: str) -> str:
    """An SVG to stand in a page beside others: its ids with a prefix, its outlines in tenths of a point.

    >>> inline('<?xml version="1.0"?>\\n<svg><g id="a"><path d="M1.25,2"/></g></svg>', "p-")
    '<svg><g id="p-a"><path d="M1.2,2"/></g></svg>'
    """
    svg = svg[svg.index("<svg") :]
    svg = _ID.sub(rf'\g<1>{prefix}\g<2>"', svg)
    return _OUTLINE.sub(lambda outline: _FINE.sub(r"\1", outline[0]), svg).replace("\n", "")


def size(svg: str) -> tuple[float, float]:
    """Width and height of a picture, in points.

    >>> size('<svg width="90pt" height="45pt"/>')
    (90.0, 45.0)
    """
    found = _SIZE.search(svg)
    return (float(found[1]), float(found[2])) if found else (1.0, 1.0)


def lean(svg: str) -> str:
    """A picture without the names and titles of its parts, in tenths of a point: as paper needs it.

    >>> lean('<g id="graph0"><g id="a" class="b"><title>A</title><text y="1.25">0.15 A</text></g></g></svg>')
    '<g id="graph0"><text y="1.2">0.15 A</text></g></svg>'
    """
    bare = _NAMED.sub("", _TOLD.sub("", svg)).replace("</svg>", "</g></svg>")
    bare = bare.replace(' xml:space="preserve"', "")
    return _TAG.sub(lambda tag: _TENTHS.sub(r"\1", tag[0]), bare)


def on_sheets(pictures: Iterable[str]) -> str:
    """Pictures that were laid out for paper: each a sheet of it when the page is printed, else not seen.

    >>> on_sheets(['<svg width="612pt" height="792pt"><g id="graph0"></g></svg>'])
    '<div class="paper"><div class="upright"><svg width="612pt" height="792pt"><g></g></svg></div></div>\\n'
    """
    listed = []
    for picture in pictures:
        width, height = size(picture)
        way = "lying" if width > height else "upright"
        drawn = lean(inline(picture, "")).replace(' id="graph0"', "", 1)
        listed.append(f'<div class="{way}">{drawn}</div>')
    return f'<div class="paper">{"".join(listed)}</div>\n' if listed else ""


def paper_style(page: str, margin: str) -> str:
    """How such sheets are printed: each whole on a page without a margin, which the picture has itself.

    Parameters
    ----------
    page : `letter` or `a4`
    margin : of the pages that have words
    """
    long, short = SIZES[page]
    return f"""\
.paper {{ display: none; }}
@media print {{
  :root {{ --ground: #fff; --ink: #1a1a1a; --faint: #5a6068; --line: #c4c9cf; --chosen: #fff; }}
  @page {{ size: {page} portrait; margin: {margin}; }}
  @page lying {{ size: {page} landscape; margin: 0; }}
  @page upright {{ size: {page} portrait; margin: 0; }}
  .screen {{ display: none; }}
  .paper {{ display: block; }}
  .lying {{ page: lying; height: {short - 1:g}pt; break-inside: avoid; overflow: hidden; }}
  .upright {{ page: upright; height: {long - 1:g}pt; break-inside: avoid; overflow: hidden; }}
  .paper svg {{ display: block; }}
}}
"""


def whole(title: str, style: str, body: str, colors: str, script: str = "") -> str:
    """The page, under a policy that lets nothing work in it but this style and this script."""
    kind = ' class="dark"' if colors == "dark" else ""
    style = f"\n{STYLE}{style}"
    if script:
        body = f"{body}<script>{script}</script>\n"
    return (
        f'<!DOCTYPE html>\n<html lang="en"{kind}>\n<head>\n<meta charset="utf-8">\n{policy(style, script)}'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{text(title)}</title>\n<style>{style}</style>\n</head>\n<body>\n"
        f"{body}</body>\n</html>\n"
    )


def caution() -> str:
    """The caution as a paragraph."""
    return f'<p class="caution">{text(CAUTION)}</p>\n'

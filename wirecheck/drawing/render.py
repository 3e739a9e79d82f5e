"""Graphviz source to SVG, and SVG to PNG and PDF, with no program but Python packages.

Graphviz runs as WebAssembly (`wirecheck/renderer.py`), always, so that one board gives
one picture on every machine; resvg makes pixels, svglib and reportlab make
PDF whose text stays text.
"""

from __future__ import annotations

import re
from io import BytesIO

from wirecheck import font
from wirecheck.drawing.letters import BOLD_FAMILY, FAMILY
from wirecheck.drawing.sheet import BACKSLASH, DASHES
from wirecheck.renderer import rendered

Size = tuple[float, float]
SIZES = {"letter": (792.0, 612.0), "a4": (841.89, 595.28)}
"""One page, lying on its side: width and height in points."""


def size_of(page: str | Size) -> Size:
    """The size of a page by its name, or the one that was given.

    >>> size_of("letter"), size_of((720.0, 540.0))
    ((792.0, 612.0), (720.0, 540.0))
    """
    return SIZES[page] if isinstance(page, str) else page


def to_svg(source: str, page: str | Size | None = None) -> str:
    """The picture that Graphviz makes of a source with its positions given.

    Parameters
    ----------
    source : Graphviz source for the engine `nop2`.
    page : `letter`, `a4`, the size of the room for it, or None for the picture's own size.

    Returns
    -------
    SVG text; the same source gives the same text.

    >>> to_svg("graph g { }").startswith("<?xml")
    True
    """
    picture = _lean(rendered(source))
    return picture if page is None else _on_page(picture, page)


_COMMENT = re.compile(r"<!--.*?-->\n|<!DOCTYPE[^>]*>\n", re.DOTALL)
_TOLD = re.compile(
    r"<title>[^<]*</title>\n<g id=\"a_[^\"]*\"><a xlink:title=\"([^\"]*)\">\n(.*?)</a>\n</g>\n", re.DOTALL
)
_DASHED = re.compile(rf'<g id="[^"]*" class="edge[^"]* ({"|".join(DASHES)})[ "].*?</g>', re.DOTALL)
_DASH = re.compile(r'stroke-dasharray="[^"]*"')
_UNTOLD = re.compile(r"(<g id=\"[^\"]*\" class=\"(?:node|edge)[^\"]*\">\n)<title>[^<]*</title>\n(?!<g)")


def _lean(picture: str) -> str:
    """Graphviz's SVG with each part's own title as its title, one font for all, no comments,
    and no document type, which names a file elsewhere."""
    picture = _COMMENT.sub("", picture).replace("&#45;", "-").replace(BACKSLASH, "\\")
    picture = _UNTOLD.sub(r"\1", picture)
    picture = _TOLD.sub(r"<title>\1</title>\n\2", picture)
    picture = _DASHED.sub(
        lambda group: _DASH.sub(f'stroke-dasharray="{DASHES[group[1]]}"', group[0]), picture
    )
    picture = picture.replace(f' font-family="{BOLD_FAMILY}"', ' font-weight="bold"')
    picture = picture.replace(f' font-family="{FAMILY}"', "")
    return picture.replace('<g id="graph0"', f'<g id="graph0" font-family="{FAMILY}"', 1)


def _on_page(picture: str, page: str | Size) -> str:
    """The picture scaled to one page, upright or on its side, whichever shows it larger."""
    long, short = size_of(page)
    box = re.search(r'viewBox="([\d.-]+) ([\d.-]+) ([\d.-]+) ([\d.-]+)"', picture)
    if box is None:
        return picture
    width, height = float(box[3]), float(box[4])
    wide, high = (long, short) if width / height >= 1 else (short, long)
    return re.sub(
        r'<svg width="[^"]*" height="[^"]*"',
        f'<svg width="{wide:g}pt" height="{high:g}pt"',
        picture,
        count=1,
    )


def to_png(picture: str, zoom: float = 2.0) -> bytes:
    """The picture in pixels; `zoom` 1 gives 96 to the inch.

    >>> to_png('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>')[1:4]
    b'PNG'
    """
    from resvg_py import svg_to_bytes

    regular, bold = font.paths()
    return bytes(
        svg_to_bytes(
            svg_string=picture,
            zoom=zoom,
            dpi=96,
            skip_system_fonts=True,
            font_files=[str(regular), str(bold)],
            font_family="Bitstream Vera Sans",
            sans_serif_family="Bitstream Vera Sans",
        )
    )


def to_pdf(*pictures: str) -> bytes:
    """Pictures as a PDF, each a page of its own size, their text still text.

    >>> to_pdf('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>')[:4]
    b'%PDF'
    """
    from reportlab.graphics import renderPDF
    from reportlab.pdfgen.canvas import Canvas
    from svglib.svglib import register_font, svg2rlg

    regular, bold = font.paths()
    register_font("Bitstream Vera Sans", str(regular))
    register_font("Bitstream Vera Sans", str(bold), weight="bold")
    content = BytesIO()
    canvas = Canvas(content, invariant=1)
    for picture in pictures:
        drawing = svg2rlg(BytesIO(picture.replace("DejaVu Sans,Bitstream", "Bitstream").encode("utf-8")))
        if drawing is None:
            raise ValueError("this is not an SVG picture")
        canvas.setPageSize((drawing.width, drawing.height))
        renderPDF.draw(drawing, canvas, 0, 0)
        canvas.showPage()
    canvas.save()
    return content.getvalue()

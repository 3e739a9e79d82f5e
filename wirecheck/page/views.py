"""The pages as HTML: the list of the boards in a folder, and the page of one board.

What a file says is text in them, whatever it holds. Their scripts and their style are files of their own.
"""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import NamedTuple
from urllib.parse import quote

from wirecheck.caution import CAUTION
from wirecheck.drawing.colors import INSULATION
from wirecheck.report.plain import plain
from wirecheck.tables.rooms import ROOMS

WHATS = {
    "panel": "Panel",
    "subpanel": "Subpanel",
    "breaker": "Breaker",
    "box": "Box",
    "device": "Device",
    "cable": "Cable",
    "raceway": "Raceway",
    "wire": "Single wire",
    "room": "Room",
    "goal": "What should run",
    "value": "Change",
}
"""What is placed, in the order in which a board is made."""


class Listed(NamedTuple):
    """A board of the folder: the name of its file, and its title where it has one."""

    file: str
    title: str


class Around(NamedTuple):
    """What is around a page: a server, as by default, or files alone.

    Attributes
    ----------
    root : how an address leads from the page to the list of boards
    ending : what stands after the name of a board in the address of its page
    policy : what it may do, as an element of its head, where no server says it
    loading : what is said until the first answer, where that takes long
    """

    root: str = "/"
    ending: str = ""
    policy: str = ""
    loading: str = ""

    def to(self, kind: str, file: str) -> str:
        """The address of a file's page, or of a file of all pages.

        >>> Around().to("board", "a b.wire"), Around("../", ".html").to("board", "a b.wire")
        ('/board/a%20b.wire', '../board/a%20b.wire.html')
        """
        return f"{self.root}{kind}/{quote(file)}{self.ending}"


SERVED = Around()


def list_page(
    boards: Sequence[Listed],
    left: Sequence[str],
    above: str = "",
    below: str = "",
    around: Around = SERVED,
) -> str:
    """The boards of a folder, each a link; `left` says in sentences what of the folder is not listed.

    Parameters
    ----------
    above, below : what the folder has beside boards, as HTML
    around : what is around the page

    Examples
    --------

    >>> '<a href="/board/a%20b.wire">A &amp; B</a>' in list_page([Listed("a b.wire", "A & B")], ())
    True
    """
    rows = "".join(
        f'<li><a href="{around.to("board", board.file)}">{text_of(board.title or board.file)}</a>'
        f"{file_of(board)}</li>\n"
        for board in boards
    )
    told = "".join(f"<p>{text_of(sentence)}</p>\n" for sentence in left)
    none = "" if boards else "<p>There is no board in this folder.</p>\n"
    return whole(
        "Boards",
        f'<header><h1>Boards</h1>{caution()}</header>\n<main class="list">\n'
        f"{above}{none}<ul>\n{rows}</ul>\n{below}{told}</main>\n",
        around=around,
    )


def board_page(board: Listed, text: str, exercise: str = "", around: Around = SERVED) -> str:
    """The page of one board, with the text of its file.

    Parameters
    ----------
    exercise : what is asked of it and how it is handed in, as HTML, where it is an exercise
    around : what is around the page

    Examples
    --------

    >>> "&lt;script&gt;" in board_page(Listed("a.wire", "A"), "<script>")
    True
    """
    title = board.title or board.file
    colors = "".join(f"<option>{name}</option>" for name in INSULATION if name != "bare")
    whats = "".join(
        f'<label class="switch"><input type="radio" name="what" value="{what}"'
        f"{' checked' if what == 'device' else ''}>{words}</label>"
        for what, words in WHATS.items()
    )
    body = _BOARD.format(
        colors=f'<option value="">no color</option>{colors}',
        whats=whats,
        rooms=" ".join(ROOMS),
        title=text_of(title),
        file=escape(board.file),
        caution=caution(),
        text=escape(_shown(text)),
        exercise=exercise,
        asked='\n<a class="asked" href="#exercise">What is asked</a>' if exercise else "",
        home=around.root,
        checking=text_of(around.loading or "Checking."),
    )
    return whole(title, body, "board.js", *(["exercise.js"] if exercise else []), around=around)


def file_of(one: Listed) -> str:
    """The name of a file beside its title, which others may have too."""
    return f' <span class="faint">{text_of(one.file)}</span>' if one.title else ""


def wrong_page(title: str, sentence: str) -> str:
    """The page in place of one that there is not."""
    return whole(
        title,
        f'<header><h1>{text_of(title)}</h1></header>\n<main class="list"><p>{text_of(sentence)}</p>'
        '<p><a href="/">All boards</a></p></main>\n',
    )


_BOARD = """\
<a class="skip" href="#text">To the text</a>
<a class="skip" href="#verdict">To the findings</a>
<header><nav><a href="{home}">All boards</a>{asked}</nav><h1 id="title">{title}</h1>{caution}</header>
<main class="board" id="board" data-file="{file}" data-tool="line">
<section class="written" aria-labelledby="text-head">
<div class="heading"><h2 id="text-head">Text</h2><p class="faint" id="kept" role="status"></p></div>
<div class="editor"><div class="gutter" id="gutter" aria-hidden="true"></div>
<textarea id="text" aria-labelledby="text-head" spellcheck="false" autocapitalize="off"
autocomplete="off" wrap="off">
{text}</textarea></div>
<div class="bar"><button type="button" id="undo" disabled>Undo</button>
<button type="button" id="redo" disabled>Redo</button>
<button type="button" id="back">Start over</button>
<button type="button" id="save">Save a copy</button></div>
</section>
<section class="drawn" aria-labelledby="picture-head">
<div class="heading"><h2 id="picture-head">Picture</h2><p class="faint" id="state"></p>
<p class="faint hint">A touch goes to its line in the text.</p></div>
<div class="bar">
<fieldset class="tools"><legend>Touch</legend>
<label><input type="radio" name="tool" value="line" checked>Line</label>
<label><input type="radio" name="tool" value="place">Place</label>
<label><input type="radio" name="tool" value="wire">Wire</label>
<label><input type="radio" name="tool" value="power">Power</label>
<label><input type="radio" name="tool" value="meter">Meter</label></fieldset>
<div class="zoom" role="group" aria-label="Size of the picture">
<button type="button" id="smaller" aria-label="Smaller">−</button>
<button type="button" id="fit">Fit</button>
<button type="button" id="larger" aria-label="Larger">+</button></div></div>
<div class="picture" id="picture" tabindex="0" role="group" aria-labelledby="picture-head"></div>
</section>
<section class="tool" id="placing" aria-label="Place" data-rooms="{rooms}" hidden>
<fieldset><legend>Place</legend>{whats}</fieldset>
<form id="new" autocomplete="off">
<p class="faint" id="what-for"></p>
<div id="shelf" hidden><label>Find a part <input id="part" type="search" spellcheck="false"
placeholder="light, three-way, outlet"></label>
<div id="parts" role="radiogroup" aria-label="Parts" class="shelf"></div>
<p class="faint" id="part-says"></p></div>
<div class="bar" id="fields"></div>
<p id="placed" role="status"></p></form></section>
<section class="tool" id="wire" aria-label="Wire" hidden>
<p class="faint">Touch a wire's end, then the screw or the wire that it goes on. Two screws get a
wire between them. For a tail, touch the screw first, then the splice or the wire. Or choose them here.</p>
<p id="done" role="status"></p>
<div class="bar"><label>In <select id="place"></select></label>
<label>take <select id="taken"></select></label></div>
<div class="bar"><label>and put it on <select id="target"></select></label>
<button type="button" data-act="put">Put</button>
<button type="button" data-act="swap">Swap the two</button></div>
<div class="bar"><button type="button" data-act="off">Take it off</button>
<button type="button" data-act="cap">Cap it</button>
<button type="button" data-act="tail">Splice with a tail</button>
<label>Mark it <select id="color">{colors}</select></label>
<button type="button" data-act="mark">Mark</button></div></section>
<section class="tool" id="power" aria-label="Power" hidden>
<p class="faint">Touch a switch, a breaker or a fuse in the picture to move it. Or choose here.</p>
<label class="switch"><input type="checkbox" id="on">Power on</label>
<fieldset id="calls" hidden><legend>Calls</legend></fieldset>
<div class="bar"><button type="button" id="play" hidden>Play the calls in time</button></div>
<div id="playing" hidden><div class="bar"><label>Step <input type="range" id="step" min="0" value="0"></label>
<button type="button" id="earlier">Back</button>
<button type="button" id="later">Next</button>
<button type="button" id="run">Run</button>
<button type="button" id="leave">Leave</button></div>
<p id="moment" role="status"></p><div id="ending"></div></div>
<div id="controls"></div>
<div id="runs" role="status"></div></section>
<section class="tool" id="meter" aria-label="Meter" hidden>
<p class="faint">Touch two screws or wires' ends in the picture. Or write their names here.</p>
<p class="display" id="display" role="status"></p><div id="says"></div>
<div class="bar"><label>Measure <select id="quantity"><option>volts</option><option>ohms</option>
<option>amps</option></select></label>
<label id="first">Red lead <input id="red" list="points" autocomplete="off" spellcheck="false"></label>
<label id="second">Black lead <input id="black" list="points" autocomplete="off" spellcheck="false"></label>
<label class="switch"><input type="checkbox" id="powered">Power on</label>
<datalist id="points"></datalist></div></section>
<section class="tool" id="chart" aria-labelledby="chart-head" hidden>
<h2 id="chart-head">The call in time</h2>
<div class="chart" id="chart-box" tabindex="0" role="group" aria-labelledby="chart-head"></div></section>
<section class="found" aria-labelledby="found-head">
{exercise}<h2 id="found-head">Findings</h2>
<p id="verdict" role="status" tabindex="-1">{checking}</p>
<ol id="findings"></ol>
<div id="rest"></div>
</section>
</main>
<dialog id="trial" aria-labelledby="trial-head">
<h2 id="trial-head">Try a mend</h2>
<p id="trial-words"></p><div id="trial-lines"></div>
<div class="bar"><button type="button" id="take">Take it</button>
<button type="button" id="leave-it">Leave it</button></div>
<div class="sides"><section aria-labelledby="before-head"><h3 id="before-head">As it is</h3>
<p id="before-verdict"></p>
<div class="picture" id="before-picture" tabindex="0" role="group" aria-labelledby="before-head"></div>
</section>
<section aria-labelledby="after-head"><h3 id="after-head">With the mend</h3>
<p id="after-verdict" role="status"></p>
<div class="picture" id="after-picture" tabindex="0" role="group" aria-labelledby="after-head"></div>
</section></div>
</dialog>
<noscript><p class="none">This page needs its script. Let your browser run it, or ask your instructor.</p>
</noscript>
"""


def whole(title: str, body: str, *scripts: str, around: Around = SERVED) -> str:
    """A page whole, with its scripts and its style."""
    page = f"{around.root}page/"
    runs = "".join(f'<script type="module" src="{page}{script}"></script>\n' for script in scripts)
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f"{around.policy}"
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="color-scheme" content="light dark">\n'
        f"<title>{text_of(title)}</title>\n"
        f'<link rel="stylesheet" href="{page}page.css">\n{runs}</head>\n<body>\n{body}</body>\n</html>\n'
    )


def caution() -> str:
    """The caution that every page carries."""
    return f'<p class="caution">{text_of(CAUTION)}</p>'


def text_of(words: str) -> str:
    """Words in which nothing is markup."""
    return escape(plain(words))


def _shown(text: str) -> str:
    """A file's text as a text area can hold it: no page can hold what is no character of it."""
    return "".join(char if char in "\n\r\t" or char >= " " else "\N{REPLACEMENT CHARACTER}" for char in text)

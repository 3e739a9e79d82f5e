"""The page of a board's tickets: what is complained of, what can be asked, and what came of it."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from urllib.parse import urlencode

from wirecheck.page.views import SERVED, Around, Listed, caution, file_of, text_of, whole

MOST_OFFERED = 5
"""The most readings that can be asked for as how hard a ticket is."""


def ticket_page(file: str, faults: str, title: str, around: Around = SERVED) -> str:
    """The page on which a fault is found.

    Examples
    --------
    >>> "&lt;A&gt;" in ticket_page("a.wire", "", "<A>")
    True
    """
    hard = "".join(f"<option>{count}</option>" for count in range(1, MOST_OFFERED + 1))
    body = _TICKET.format(
        title=text_of(title or file),
        caution=caution(),
        file=escape(file),
        faults=escape(faults),
        hard=hard,
        board=around.to("board", file),
        home=around.root,
        loading=text_of(around.loading or "One moment."),
    )
    return whole(f"Find what is wrong: {title or file}", body, "ticket.js", around=around)


def ticket_items(boards: Sequence[Listed], lists: Sequence[Listed], around: Around = SERVED) -> str:
    """The tickets of a folder: of each board, and of each list of faults for the board of its title."""
    of = {board.title: board for board in boards if board.title}
    rows = [(of[one.title], one.file, f"{one.title}: {one.file}") for one in lists if one.title in of]
    rows += [(board, "", board.title or board.file) for board in boards]
    items = "".join(
        f'<li><a href="{escape(address(board.file, faults, around))}">{text_of(words)}</a>'
        f"{file_of(board)}</li>\n"
        for board, faults, words in rows
    )
    if not items:
        return ""
    return (
        "<h2>Find what is wrong</h2>\n<details><summary>Boards with a hidden fault</summary>\n"
        f"<ul>\n{items}</ul></details>\n"
    )


def address(file: str, faults: str, around: Around = SERVED) -> str:
    """Where tickets are: of a board, or of a list of faults for it.

    >>> address("a b.wire", "f.wire")
    '/ticket/a%20b.wire?faults=f.wire'
    """
    return around.to("ticket", file) + (f"?{urlencode({'faults': faults})}" if faults else "")


_TICKET = """\
<a class="skip" href="#complaints">To the ticket</a>
<a class="skip" href="#look">To what can be done</a>
<header><nav><a href="{home}">All boards</a></nav><h1>Find what is wrong: {title}</h1>{caution}</header>
<main class="ticket" id="ticket" data-file="{file}" data-faults="{faults}">
<section aria-labelledby="ticket-head">
<h2 id="ticket-head">Ticket</h2>
<div id="complaints" role="status" tabindex="-1"><p>{loading}</p></div>
<progress id="far" aria-label="Faults tried" hidden></progress>
<div class="bar"><label>How many readings it takes
<select id="hard"><option value="">any</option>{hard}</select></label>
<button type="button" id="another">Another ticket</button>
<a href="{board}">The board as it was wired</a></div>
</section>
<section class="drawn" aria-labelledby="picture-head">
<h2 id="picture-head">Picture</h2>
<p class="faint">The board as it was wired. Touch two screws or wires' ends: the meter's leads go there.</p>
<div class="zoom" role="group" aria-label="Size of the picture">
<button type="button" id="smaller" aria-label="Smaller">−</button>
<button type="button" id="fit">Fit</button>
<button type="button" id="larger" aria-label="Larger">+</button></div>
<div class="picture" id="picture" tabindex="0" role="group" aria-labelledby="picture-head"></div>
</section>
<div class="hands">
<section class="tool" aria-labelledby="do-head">
<h2 id="do-head">Do</h2>
<p id="state" class="faint"></p>
<div class="bar"><button type="button" id="look" data-line="look">Look</button>
<button type="button" data-line="power off">Power off</button>
<button type="button" data-line="power on">Power on</button></div>
<div class="bar"><label>Call <select id="call"></select></label>
<button type="button" data-verb="call" data-from="call">Call</button></div>
<div class="bar"><label>After the call, seconds <input id="seconds" inputmode="decimal" size="5"></label>
<button type="button" id="wait">Wait</button></div>
<div class="bar"><label>Switch <select id="control"></select></label>
<label>to <select id="position"></select></label>
<button type="button" data-verb="set" data-from="control position">Set</button></div>
<div class="bar"><label>Measure <select id="quantity"><option>volts</option><option>ohms</option>
<option>amps</option></select></label>
<label id="first">Red lead <input id="red" list="points" autocomplete="off" spellcheck="false"></label>
<label id="second">Black lead <input id="black" list="points" autocomplete="off" spellcheck="false"></label>
<button type="button" id="measure">Measure</button><datalist id="points"></datalist></div>
<div class="bar"><label>Wire's end <select id="end"></select></label>
<button type="button" data-verb="lift" data-from="end">Lift it</button>
<button type="button" data-verb="land" data-from="end">Land it</button></div>
<div class="bar"><label>What opened <select id="opened"></select></label>
<button type="button" data-verb="replace" data-from="opened">Replace</button>
<button type="button" data-verb="reset" data-from="opened">Reset</button></div>
<form class="bar" id="ask"><label>Or in words <input id="line" autocomplete="off" spellcheck="false"
maxlength="500"></label><button type="submit">Ask</button></form>
</section>
<section aria-labelledby="name-head">
<h2 id="name-head">Name it</h2>
<div class="bar"><label>In <select id="where"></select></label>
<label>this is wrong: <select id="what"></select></label>
<button type="button" data-verb="diagnose" data-from="what">That is it</button></div>
<details><summary>Give up</summary><button type="button" data-line="stop">Show what it was</button></details>
</section>
</div>
<div class="latest" id="latest" tabindex="0" role="group" aria-label="The last answer" hidden>
<p id="count" class="faint"></p>
<div id="newest" role="status"></div></div>
<section class="answers" aria-labelledby="answers-head">
<h2 id="answers-head">What came of it</h2>
<p class="faint" id="none-yet">Nothing was asked yet.</p>
<ol id="answers"></ol>
</section>
</main>
<noscript><p class="none">This page needs its script. Let your browser run it, or ask your instructor.</p>
</noscript>
"""

"""The instructor's view as HTML: who is where, what stays, what was handed in, and the codes of names."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from urllib.parse import quote

from wirecheck.grading.marks import alike
from wirecheck.judge.finding import STAGES
from wirecheck.page.seen import Seen, Where
from wirecheck.page.views import Listed, caution, text_of, whole

MOST_NAMED = 30
MINUTE = 60.0


def class_view(
    seen: Seen,
    exercises: Sequence[Listed],
    counts: Mapping[tuple[str, str], int],
    codes: Sequence[tuple[str, str]],
    token: str,
    recorded: bool,
) -> str:
    """The instructor's page.

    Parameters
    ----------
    counts : how many students are in the record, by exercise and stage; a stage of nothing is all of them
    codes : the names under which works were handed in, and their codes
    """
    sheets = "".join(_sheets(one, counts, token) for one in exercises)
    names = "".join(f"<tr><td>{text_of(name)}</td><td>{code}</td></tr>" for name, code in codes)
    none = "No work was handed in yet." if recorded else "There is no record: serve --record FILE keeps one."
    shown = _table("Codes", _row("th", "Name", "Code"), names)
    return whole(
        "The class",
        f'<header><nav><a href="/">All boards</a></nav><h1>The class</h1>{caution()}</header>\n'
        '<main class="class">\n<div class="bar"><label class="switch"><input type="checkbox" id="goes" '
        "checked>Keep up to date</label></div>\n"
        f'<div id="now">{now_part(seen)}</div>\n'
        f"<h2>Sheets of the class</h2>\n{f'<ul>{sheets}</ul>' if sheets else '<p>No exercise.</p>'}\n"
        "<h2>Codes</h2>\n<p>A name that was handed in under takes its code in another browser.</p>\n"
        f"{shown if names else f'<p>{none}</p>'}\n</main>\n",
        "class.js",
    )


def now_part(seen: Seen) -> str:
    """What changes by the minute."""
    where = seen.now()
    rows = "".join(_where(one, seen.clock()) for one in where)
    heads = _row("th", "Who", "On", "For", "Last asked", "Stays longest", "Comes to")
    table = _table("Who is where", heads, rows)
    stuck = "".join(
        f"<li>{text_of(one.rule)}: "
        + "; ".join(
            f"{text_of(who)}, {_minutes(stays)} ({text_of(noted.subject or noted.says)})"
            for who, noted, stays in one.who[:MOST_NAMED]
        )
        + (f"; and {len(one.who) - MOST_NAMED} more" if len(one.who) > MOST_NAMED else "")
        + "</li>"
        for one in seen.stuck()
    )
    here = table if rows else "<p>Nobody has asked anything yet.</p>"
    stays = f"<ul>{stuck}</ul>" if stuck else "<p>Nothing for two minutes or more.</p>"
    return f"<h2>Who is where</h2>\n{here}\n<h2>What stays</h2>\n{stays}\n"


def _where(one: Where, now: float) -> str:
    longest = min(one.found.items(), key=lambda item: item[1], default=None)
    stays = ""
    if longest is not None:
        noted, since = longest
        stays = f"{text_of(noted.rule)}, {_minutes(one.at - since)}: {text_of(noted.says)}"
    return _row(
        "td",
        text_of(one.who),
        f"{one.doing}: {text_of(one.title or one.file)}",
        _minutes(now - one.since),
        f"{_minutes(now - one.at)} ago" if now - one.at >= MINUTE / 2 else "now",
        stays,
        text_of(one.last),
    )


def _sheets(one: Listed, counts: Mapping[tuple[str, str], int], token: str) -> str:
    links = []
    for stage in ("", *STAGES):
        count = counts.get((alike(one.title), stage), 0)
        if count:
            address = f"/class/{token}/sheet/{quote(one.file)}" + (f"?stage={stage}" if stage else "")
            links.append(f'<a href="{address}">{stage or "all stages"}, {count}</a>')
    return f"<li>{text_of(one.title or one.file)}: {' '.join(links) or 'nothing handed in yet'}</li>\n"


def _table(label: str, heads: str, rows: str) -> str:
    """A table, to be scrolled by itself where it is wider than the screen."""
    return (
        f'<div class="rows" tabindex="0" role="region" aria-label="{label}">'
        f"<table><thead>{heads}</thead><tbody>{rows}</tbody></table></div>"
    )


def _row(kind: str, *cells: str) -> str:
    return f"<tr>{''.join(f'<{kind}>{cell}</{kind}>' for cell in cells)}</tr>"


def _minutes(seconds: float) -> str:
    return f"{seconds / MINUTE:.0f} min"

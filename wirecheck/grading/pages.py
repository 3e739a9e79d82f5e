"""A student's sheet and a class's table as pages, each whole in itself: for a screen, and to print on Letter.

Whatever stands in a work is text in them. A picture is in its page as data, which runs nothing.
"""

from __future__ import annotations

import os
from base64 import b64encode
from collections.abc import Iterator, Sequence

from wirecheck.caution import CAUTION
from wirecheck.drawing.page import lean, size
from wirecheck.grading.board_drawn import LONG, NOT_DRAWN, SHORT, Drawn
from wirecheck.grading.marks import ByEye
from wirecheck.grading.sheet import Sheet, StageScore, Taken, points
from wirecheck.grading.whole_class import WholeClass
from wirecheck.grading.words import NO_VERDICT, ONE_NAME, judged_by_eye, price, taken
from wirecheck.language.listing import listed
from wirecheck.report.html import page, text
from wirecheck.report.numbers import counted

MOST_NAMED = 40
LOST = "* The stage was lost whole to one mistake."

EDGE = 36
"""The margin of a printed page, in points: half an inch, which any printer has (common practice)."""

STYLE = f"""
:root {{ color-scheme: light dark; --ink: #1b1b1b; --page: #fff; --line: #bbb; --faint: #f3f3f0;
  --wrong: #a3001b; --bar: #4a6f8a; }}
@media (prefers-color-scheme: dark) {{ :root {{ --ink: #e8e8e4; --page: #1c1d1f; --line: #555;
  --faint: #2a2b2e; --wrong: #ff8a95; --bar: #8fb4cf; }} }}
* {{ box-sizing: border-box; }}
body {{ font: 16px/1.45 system-ui, sans-serif; color: var(--ink); background: var(--page);
  max-width: 62em; margin: 1.5em auto; padding: 0 1em; }}
h1 {{ font-size: 1.5em; margin: 0; }}
header {{ display: flex; flex-wrap: wrap; justify-content: space-between; align-items: baseline;
  column-gap: 2em; }}
h2 {{ font-size: 1.15em; margin: 1.4em 0 .3em; }}
p {{ margin: .3em 0; }}
.from {{ opacity: .75; }}
.caution {{ border: 2px solid var(--wrong); padding: .35em .7em; margin: .8em 0; }}
.score {{ font-size: 1.25em; font-weight: 600; }}
table {{ border-collapse: collapse; width: 100%; }}
th, td {{ text-align: left; vertical-align: top; padding: .3em .6em .3em 0; overflow-wrap: break-word;
  border-bottom: 1px solid var(--line); }}
h1, p, li, a, .name {{ overflow-wrap: anywhere; }}
td p:first-child {{ margin-top: 0; }}
.name {{ min-width: 6.5em; }}
.said {{ width: 52%; }}
thead th {{ border-bottom: 2px solid var(--ink); }}
tfoot td, tfoot th {{ border-top: 2px solid var(--ink); border-bottom: 0; font-weight: 600; }}
.number {{ text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums; padding-right: 1em; }}
.number .small {{ white-space: normal; margin-left: auto; max-width: 9em; }}
.stage th {{ background: var(--faint); padding-left: .4em; }}
.stage .number {{ background: var(--faint); }}
.stage .small {{ font-weight: 400; padding-left: .4em; }}
.lost {{ color: var(--wrong); font-weight: 600; }}
.todo {{ margin-top: .25em; font-style: italic; }}
.small {{ font-size: .9em; opacity: .85; }}
.board {{ overflow-x: auto; }}
.picture {{ display: block; max-width: 100%; min-width: 40em; height: auto; background: #fff; }}
.part {{ display: none; }}
.plot {{ width: 100%; max-width: 38em; height: auto; }}
.plot text {{ font: 13px system-ui, sans-serif; fill: var(--ink); }}
.plot rect {{ fill: var(--bar); }}
.plot line {{ stroke: var(--ink); }}
@media (max-width: 40em) {{
  body {{ padding: 0 .6em; }}
  table {{ font-size: .9em; }}
  th, td {{ padding-right: .4em; }}
  .number {{ padding-right: .6em; }}
  .number, thead .number {{ white-space: normal; overflow-wrap: normal; }}
  .number .small {{ max-width: 6em; }}
  .stage .number, tfoot .number {{ white-space: nowrap; }}
}}
@media print {{
  :root {{ color-scheme: light; --ink: #000; --page: #fff; --line: #999; --faint: #eee; --wrong: #000;
    --bar: #777; }}
  @page {{ size: letter; margin: {EDGE}pt; @bottom-right {{ content: counter(page) " of " counter(pages);
    font: 8pt system-ui, sans-serif; }} }}
  @page lying {{ size: letter landscape; }}
  body {{ font-size: 10pt; line-height: 1.35; max-width: none; margin: 0; padding: 0; }}
  a {{ color: inherit; text-decoration: none; }}
  .caution {{ font-size: 8.5pt; border-width: 1pt; }}
  .small, .from {{ opacity: 1; }}
  h2, .stage {{ break-after: avoid; }}
  tr, li, .caution, .plot, .board {{ break-inside: avoid; }}
  thead {{ display: table-header-group; }}
  tfoot {{ display: table-row-group; }}
  h2 {{ margin: 8pt 0 3pt; }}
  p {{ margin: .15em 0; }}
  th, td {{ padding-top: .2em; padding-bottom: .2em; }}
  .board {{ overflow: visible; }}
  .picture {{ min-width: 0; max-height: {LONG:g}pt; }}
  .lying {{ page: lying; }}
  .lying .picture {{ max-height: {SHORT:g}pt; }}
  .on-screen {{ display: none; }}
  .part {{ display: block; }}
}}
"""
PLOT_WIDTH, PLOT_HEIGHT, PLOT_FOOT, PLOT_HEAD = 560, 170, 34, 18


def student_page(sheet: Sheet, picture: Drawn = NOT_DRAWN) -> str:
    """A student's sheet.

    Parameters
    ----------
    picture : the board, where it is drawn

    Examples
    --------
    >>> "&lt;script&gt;" in student_page(Sheet("a.wire", "<script>", "Shed", ()))
    True
    """
    return _page(f"{sheet.student}: {sheet.exercise}", _student(sheet, picture), bool(picture.whole))


def class_page(done: WholeClass, pages: dict[str, str] | None = None, by_eye: Sequence[ByEye] = ()) -> str:
    """What a class did.

    Parameters
    ----------
    pages : the address of each work's own page, by the work's file
    by_eye : what the instructor judged by eye, which stands beside what wirecheck has
    """
    return _page(f"{done.exercise}: the class", _class(done, pages or {}, judged_by_eye(done, by_eye)))


def _page(title: str, body: Iterator[str], pictures: bool = False) -> str:
    lines = "\n".join(body)
    return page(title, STYLE, f"<main>\n{lines}\n</main>", pictures=pictures)


# ------------------------------------------------------------------ a student


def _student(sheet: Sheet, picture: Drawn) -> Iterator[str]:
    score = f'<p class="score">{points(sheet.score)} of {points(sheet.points)} points</p>'
    yield f"<header><h1>{text(sheet.student)}</h1>{score}</header>"
    yield f'<p class="from">{text(sheet.exercise)} · {text(os.path.basename(sheet.file))}</p>'
    yield f'<p class="caution">{text(CAUTION)}</p>'
    if sheet.refused:
        yield f'<p class="lost">Not graded, and worth nothing: {text(sheet.refused)}</p>'
    yield '<table>\n<thead><tr><th>What</th><th class="number">Points</th></tr></thead>'
    for stage in sheet.stages:
        taken = [one for one in sheet.taken if one.stage == stage.stage]
        yield f"<tbody>{_stage(stage, bool(taken), bool(sheet.refused))}"
        for one in taken:
            yield from _row(one, bool(picture.whole))
        yield "</tbody>"
    yield (
        f'<tfoot><tr><th>All</th><td class="number">{points(sheet.score)} of {points(sheet.points)}'
        "</td></tr></tfoot>\n</table>"
    )
    for remark in sheet.remarks:
        yield f'<p class="small">{text(remark)}</p>'
    if picture.whole:
        flags = ", with flags where something was found" if sheet.taken else ""
        yield from _board(f"{sheet.student}: the board{flags}", picture)


def _stage(stage: StageScore, mistakes: bool, refused: bool) -> str:
    """A stage with what it comes to, above the mistakes that were found at it."""
    said = "" if mistakes or refused else "no mistake found"
    if stage.lost and not refused:
        said = "lost whole"
    about = f' <span class="small">{said}</span>' if said else ""
    kind = ' class="lost"' if stage.lost else ""
    return (
        f'<tr class="stage"><th{kind}>{stage.stage}{about}</th>'
        f'<td class="number">{points(stage.score)} of {points(stage.points)}</td></tr>'
    )


def _board(title: str, picture: Drawn) -> Iterator[str]:
    """The board on a screen and on paper: as one picture, or on paper as sheets that join."""
    kind = " on-screen" if picture.parts else " lying" if picture.lies else ""
    yield _pictured(title, picture.whole, kind)
    for number, part in enumerate(picture.parts, 1):
        width, height = size(part)
        kind = " part lying" if width > height else " part"
        yield _pictured(f"{title}. Sheet {number} of {len(picture.parts)}", part, kind)


def _pictured(title: str, picture: str, kind: str) -> str:
    data = b64encode(lean(picture).encode()).decode()
    return (
        f'<section class="board{kind}" tabindex="0" aria-label="{text(title)}"><h2>{text(title)}</h2>\n'
        f'<img class="picture" alt="The board as it is wired" src="data:image/svg+xml;base64,{data}">'
        "</section>"
    )


def _row(one: Taken, drawn: bool) -> Iterator[str]:
    parts = [f"<p>{text(one.message)}</p>"]
    parts += [
        f'<p class="todo">{"Or: " if number else ""}{text(todo)}</p>' for number, todo in enumerate(one.to_do)
    ]
    parts += [f'<p class="small">From the same mistake: {text(each)}</p>' for each in one.follows]
    where = [f"line {one.line}"] if one.line else [f"asked: {one.asked}"] if one.asked else []
    flag = [f"flag {one.flag}"] if drawn and one.flag else []
    said = [*flag, one.severity, one.rule, *where, one.source]
    parts.append(f'<p class="small">{text(" · ".join(each for each in said if each))}</p>')
    taken, why = _price(one)
    yield f'<tr><td>{"".join(parts)}</td><td class="number">{taken}{why}</td></tr>'


def _price(one: Taken) -> tuple[str, str]:
    """What a mistake takes, and why that is not its price."""
    number = taken(one)
    rest = price(one)[len(number) :]
    return number, f'<p class="small">{text(rest.strip(", "))}</p>' if rest else ""


# -------------------------------------------------------------------- a class


def _class(done: WholeClass, pages: dict[str, str], judged: list[ByEye]) -> Iterator[str]:
    yield f"<h1>{text(done.exercise)}</h1>"
    yield f'<p class="from">{counted(len(done.sheets), "work")} · {points(done.points)} points</p>'
    yield f'<p class="caution">{text(CAUTION)}</p>'
    if not done.sheets:
        return
    yield (f'<p class="score">Mean {points(round(done.mean, 1))}, median {points(round(done.median, 1))}</p>')
    yield _plot(done)
    yield "<h2>Each student</h2>"
    heads = "".join(
        f'<th class="number">{one.stage} <span class="small">of {points(one.points)}</span></th>'
        for one in done.stages
    )
    yield (
        f'<table>\n<thead><tr><th class="name">Student</th>{heads}<th class="number">All</th>'
        '<th class="number">Mistakes</th></tr></thead>\n<tbody>'
    )
    for sheet in done.sheets:
        cells = "".join(_cell(one, bool(sheet.refused)) for one in sheet.stages)
        mistakes = "not graded" if sheet.refused else str(len(sheet.taken))
        name = text(sheet.student)
        if sheet.file in pages:
            name = f'<a href="{text(pages[sheet.file])}">{name}</a>'
        yield (
            f'<tr><td class="name">{name}</td>{cells}<td class="number">{points(sheet.score)}</td>'
            f'<td class="number">{mistakes}</td></tr>'
        )
    means = "".join(f'<td class="number">{points(round(one.mean, 1))}</td>' for one in done.stages)
    yield (
        f'</tbody>\n<tfoot><tr><th>Mean</th>{means}<td class="number">{points(round(done.mean, 1))}</td>'
        "<td></td></tr></tfoot>\n</table>"
    )
    if any(one.lost for sheet in done.sheets if not sheet.refused for one in sheet.stages):
        yield f'<p class="small">{LOST}</p>'
    if judged:
        yield "<h2>Judged by eye</h2>"
        yield (
            '<table>\n<thead><tr><th class="name">Student</th><th>Stage</th><th class="number">Points</th>'
            "<th>Note</th></tr></thead>\n<tbody>"
        )
        for entry in judged:
            yield (
                f"<tr><td>{text(entry.student)}</td><td>{entry.stage}</td>"
                f'<td class="number">{points(entry.points)}</td><td>{text(entry.note)}</td></tr>'
            )
        yield "</tbody>\n</table>"
    refused = [one for one in done.sheets if one.refused]
    if refused:
        yield "<h2>Not graded</h2>\n<ul>"
        yield from (
            f"<li>{text(one.student)} ({text(one.file)}): {text(one.refused)}</li>" for one in refused
        )
        yield "</ul>"
    if done.lessons:
        yield "<h2>To teach again</h2>"
        yield '<table>\n<thead><tr><th class="number">Students</th><th>What</th></tr></thead>\n<tbody>'
        for lesson in done.lessons:
            who = listed(lesson.students, MOST_NAMED)
            what = text(lesson.summary.replace("`", ""))
            yield (
                f'<tr><td class="number">{len(lesson.students)}</td><td><p>{what}</p>'
                f'<p class="small">{text(lesson.rule)} · {text(who)}</p></td></tr>'
            )
        yield "</tbody>\n</table>"
    if done.common:
        yield "<h2>Each mistake, and whose it is</h2>"
        yield (
            '<table>\n<thead><tr><th class="number">Students</th><th class="said">Mistake</th><th>Who</th>'
            '<th class="number">Points lost</th></tr></thead>\n<tbody>'
        )
        for one in done.common:
            yield (
                f'<tr><td class="number">{len(one.students)}</td><td>{text(one.mistake)}</td>'
                f"<td>{text(listed(one.students, MOST_NAMED))}</td>"
                f'<td class="number">{points(one.points)}</td></tr>'
            )
        yield "</tbody>\n</table>"
    if done.alike:
        yield f"<h2>Works that say the same</h2>\n<p>{text(NO_VERDICT)}</p>\n<ul>"
        for alike in done.alike:
            yield f"<li>{text(listed(alike.students))}: {text('; '.join(alike.shared))}</li>"
        yield "</ul>"
    if done.one_name:
        yield f"<h2>Works under one name</h2>\n<p>{text(ONE_NAME)}</p>\n<ul>"
        yield from (f"<li>{text(one.student)}: {text(listed(one.files))}</li>" for one in done.one_name)
        yield "</ul>"


def _cell(one: StageScore, refused: bool) -> str:
    """A work's points at a stage, with a mark where it was lost whole."""
    if one.lost and not refused:
        return f'<td class="number lost">{points(one.score)}*</td>'
    return f'<td class="number">{points(one.score)}</td>'


def _plot(done: WholeClass) -> str:
    """How many works have so many points, as bars with their counts."""
    most = max(done.bins) or 1
    width = PLOT_WIDTH / len(done.bins)
    base = PLOT_HEIGHT - PLOT_FOOT
    shapes = []
    for number, count in enumerate(done.bins):
        left, height = number * width, (base - PLOT_HEAD) * count / most
        middle, top = left + width / 2, base - height
        if count:
            shapes.append(
                f'<rect x="{left + 3:g}" y="{top:.5g}" width="{width - 6:g}" height="{height:.5g}"/>'
                f'<text x="{middle:g}" y="{top - 5:.5g}" text-anchor="middle">{count}</text>'
            )
        least, last = (points(each * done.points / len(done.bins)) for each in (number, number + 1))
        shapes.append(f'<text x="{middle:g}" y="{base + 16}" text-anchor="middle">{least}-{last}</text>')
    shapes.append(f'<line x1="0" y1="{base}" x2="{PLOT_WIDTH}" y2="{base}"/>')
    shapes.append(f'<text x="{PLOT_WIDTH / 2:g}" y="{PLOT_HEIGHT - 2}" text-anchor="middle">points</text>')
    label = f"How many of {counted(len(done.sheets), 'work')} have so many points"
    return (
        f'<svg class="plot" viewBox="0 0 {PLOT_WIDTH} {PLOT_HEIGHT}" role="img" aria-label="{label}">'
        f"<title>{label}</title>{''.join(shapes)}</svg>"
    )

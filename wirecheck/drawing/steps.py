"""A sequence as one page that steps through it: each diagram once, with what each step shows of it."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, NamedTuple

from wirecheck.drawing.area import LEAST_ON_PAPER, LEAST_ON_SCREEN, Area
from wirecheck.drawing.letters import SMALLEST
from wirecheck.drawing.page import caution, inline, size, text, whole
from wirecheck.drawing.picture import KINDS, draw_states
from wirecheck.model.board import Board

if TYPE_CHECKING:
    from wirecheck.circuit.settle import Settled


class Shot(NamedTuple):
    """One step: its moment and what happens then, in words, and the state after it."""

    moment: str
    words: Sequence[str]
    settled: Settled


LEAST_SCALE = LEAST_ON_SCREEN / SMALLEST
"""Smaller than this, the volts at a screw cannot be read on a screen; a picture that has no room scrolls."""
AREA = Area(790.0, 750.0, LEAST_SCALE, scrolls=True)
"""What a picture is laid out for, in points: the width that a window of 1366 pixels leaves, and what is read
with a little scrolling down."""
LEAST_PRINTED = LEAST_ON_PAPER / SMALLEST
"""Smaller than this, words cannot be read in print; a picture that is then too high is on several pages."""
LYING, UPRIGHT = (720.0, 480.0), (540.0, 660.0)
"""What a printed page leaves for a picture under a step's words, in points."""

STYLE = """\
html, body { height: 100%; }
body { display: grid; grid-template: auto 1fr / 16em 1fr; gap: 0 1em; padding: .5em 1em; }
header { grid-column: 1 / 3; display: flex; gap: .2em 1.5em; align-items: center; padding-bottom: .5em; }
header h1 { max-width: 40%; }
header .caution { flex: 1; font-size: .8em; line-height: 1.3; }
nav { overflow: auto; border-top: 1px solid var(--line); min-height: 0; }
nav ol { list-style: none; margin: 0; padding: 0; }
nav button { display: grid; grid-template-columns: 5.6em 1fr; width: 100%; text-align: left; border: 0;
  border-bottom: 1px solid var(--line); padding: .3em; background: none; color: inherit; font: inherit;
  font-size: .85em; cursor: pointer; overflow-wrap: anywhere; }
nav button[aria-current] { background: var(--chosen); box-shadow: inset 4px 0 #1d5fc4; padding-left: .6em; }
main { min-width: 0; min-height: 0; display: flex; flex-direction: column; }
.bar { display: flex; gap: .5em; align-items: center; padding-bottom: .4em; }
.bar button, .bar select { font: inherit; padding: .2em .7em; color: inherit; background: var(--ground);
  border: 1px solid var(--faint); border-radius: .3em; cursor: pointer; }
.bar button[aria-pressed=true] { background: var(--chosen); }
.bar input { flex: none; width: 9em; }
.said { flex: 1; min-width: 0; margin: 0; font-weight: 600; line-height: 1.2; max-height: 2.4em;
  overflow: hidden; }
.pictures { flex: 1; min-height: 0; display: flex; flex-wrap: wrap; gap: .6em; overflow: auto; }
figure { position: relative; margin: 0; flex: 1; }
figure[hidden] { display: none; }
figure svg { position: absolute; width: 100%; height: 100%; }
.state { visibility: hidden; }
.state.on { visibility: visible; }
#printed { display: none; }
@media (max-width: 60em) {
  body { grid-template: auto auto 1fr / 1fr; height: auto; }
  header { grid-column: 1; flex-wrap: wrap; }
  header h1 { max-width: none; }
  nav { max-height: 9em; grid-row: 3; }
  .bar { flex-wrap: wrap; }
}
@media print {
  :root { --ground: #fff; --ink: #1a1a1a; --faint: #5a6068; --line: #c4c9cf; --chosen: #fff; }
  @page { margin: 12mm; }
  @page lying { size: landscape; }
  @page upright { size: portrait; }
  html, body { height: auto; }
  body { display: block; padding: 0; font-size: 10pt; }
  main { display: none; }
  nav { overflow: visible; max-height: none; columns: 2; }
  nav li { break-inside: avoid; }
  nav button[aria-current] { box-shadow: none; padding-left: .3em; }
  #printed { display: block; }
  #printed section { break-before: page; break-inside: avoid; }
  #printed h2 { margin-bottom: 4pt; }
  #printed svg { position: static; }
  .lying { page: lying; }
  .upright { page: upright; }
}
"""

SCRIPT = """\
"use strict";
const shown = JSON.parse(document.getElementById("shown").textContent);
const slider = document.getElementById("step"), said = document.getElementById("said");
const rows = [...document.querySelectorAll("nav button")];
const parts = shown.map(([id, spans]) => [document.getElementById(id), spans]);
const figures = [...document.querySelectorAll("figure")], printed = document.getElementById("printed");
let at = -1, playing = null;
function holds(spans, step) { return spans.some(([from, to]) => from <= step && step <= to); }
function show(step) {
  step = Math.max(0, Math.min(rows.length - 1, step));
  if (step === at) return;
  const fresh = (spans) => at >= 0 && holds(spans, step) && !holds(spans, at);
  const news = parts.filter(([, spans]) => fresh(spans)).map(([part]) => part);
  at = step;
  for (const [part, spans] of parts) part.classList.toggle("on", holds(spans, step));
  for (const row of rows) row.removeAttribute("aria-current");
  rows[step].setAttribute("aria-current", "step");
  rows[step].scrollIntoView({block: "nearest"});
  slider.value = step;
  said.textContent = rows[step].title;
  reveal(news.filter((part) => !part.closest("figure").hidden));
}
function reveal(news) {
  const part = news.find((each) => each.classList.contains("lit")) || news[0];
  if (part) part.scrollIntoView({block: "nearest", inline: "nearest"});
}
function play(on) {
  clearInterval(playing);
  playing = on ? setInterval(() => at + 1 < rows.length ? show(at + 1) : play(false), 1500) : null;
  document.getElementById("play").textContent = on ? "Stop" : "Play";
}
rows.forEach((row, index) => row.addEventListener("click", () => { play(false); show(index); }));
slider.addEventListener("input", () => { play(false); show(Number(slider.value)); });
document.getElementById("back").addEventListener("click", () => { play(false); show(at - 1); });
document.getElementById("on").addEventListener("click", () => { play(false); show(at + 1); });
document.getElementById("play").addEventListener("click", () => {
  if (playing === null && at === rows.length - 1) show(0);
  play(playing === null);
});
const which = document.getElementById("which");
function choose() {
  for (const figure of figures) figure.hidden = which.value !== "both" && figure.id !== which.value;
}
which.addEventListener("change", choose);
document.getElementById("size").addEventListener("click", (click) => {
  const small = document.querySelector(".pictures").classList.toggle("small");
  click.target.setAttribute("aria-pressed", small);
});
function copied(figure, step) {
  const section = document.createElement("section"), copy = figure.cloneNode(true);
  section.className = figure.className;
  section.appendChild(document.createElement("h2")).textContent = rows[step].title;
  for (const [part, spans] of parts) {
    const own = copy.querySelector(`[id="${CSS.escape(part.id)}"]`);
    if (own) own.classList.toggle("on", holds(spans, step));
  }
  for (const part of [copy, ...copy.querySelectorAll("[id]")]) part.removeAttribute("id");
  section.append(copy);
  return section;
}
addEventListener("beforeprint", () => {
  const chosen = figures.filter((figure) => !figure.hidden);
  printed.replaceChildren(...rows.flatMap((row, step) => chosen.map((figure) => copied(figure, step))));
});
addEventListener("afterprint", () => printed.replaceChildren());
document.addEventListener("keydown", (key) => {
  if (key.target === slider || key.target === which || key.ctrlKey || key.altKey || key.metaKey) return;
  const to = {ArrowLeft: at - 1, ArrowRight: at + 1, Home: 0, End: rows.length - 1}[key.key];
  if (to === undefined) return;
  key.preventDefault();
  play(false);
  show(to);
});
choose();
show(0);
"""


def steps_page(board: Board, title: str, shots: Sequence[Shot], colors: str = "paper") -> str:
    """A page that steps through a sequence, in both diagrams.

    Parameters
    ----------
    board : as `wirecheck.model.build` gives it.
    title : what is played, as `Condensing gas furnace: heat`.
    shots : the steps in order, one at least; every step is also in a list, by which one can go to it.
    colors : `paper` or `dark`.

    Returns
    -------
    HTML, whole in itself. Buttons, a slider, the list and the arrow keys go from step to step. Printed, it is
    the list and then a page for each step, with the diagram that is chosen.
    """
    figures, shown, style = [], [], STYLE
    for kind in KINDS:
        picture = draw_states(board, [shot.settled for shot in shots], kind, colors, AREA, ticked=True)
        prefix = f"{kind}-"
        figures.append(
            f'<figure id="{kind}" class="{kind} {_way(picture.svg)}">{inline(picture.svg, prefix)}</figure>\n'
        )
        style += _measures(kind, picture.svg)
        shown += [(prefix + name, spans(states)) for name, states in picture.only.items()]
    rows = "".join(
        f'<li><button type="button" title="{text(_said(shot))}"><span>{text(shot.moment)}</span>'
        f"<span>{'<br>'.join(map(text, shot.words))}</span></button></li>\n"
        for shot in shots
    )
    data = json.dumps(shown, separators=(",", ":")).replace("<", "\\u003c")
    body = (
        f"<header><h1>{text(title)}</h1>{caution()}</header>\n"
        f'<nav aria-label="Steps"><ol>\n{rows}</ol></nav>\n<main>\n<div class="bar">\n'
        '<button type="button" id="back">Back</button><button type="button" id="on">Next</button>'
        '<button type="button" id="play">Play</button>\n'
        f'<input type="range" id="step" min="0" max="{len(shots) - 1}" value="0" aria-label="Step">\n'
        '<p class="said" id="said" aria-live="polite"></p>\n'
        '<select id="which" aria-label="Diagram"><option value="wiring">Wiring</option>'
        '<option value="ladder">Ladder</option><option value="both">Both</option></select>\n'
        '<button type="button" id="size" aria-pressed="false">Whole</button></div>\n'
        "<noscript><p>Stepping needs JavaScript; without it, the list tells the steps.</p></noscript>\n"
        f'<div class="pictures">\n{"".join(figures)}</div>\n</main>\n<div id="printed"></div>\n'
        f'<script type="application/json" id="shown">{data}</script>\n'
    )
    return whole(title, style, body, colors, f"\n{SCRIPT}")


def _way(svg: str) -> str:
    """How a printed page lies that shows a picture largest.

    >>> _way('<svg width="900pt" height="500pt"/>'), _way('<svg width="500pt" height="500pt"/>')
    ('lying', 'upright')
    """
    width, height = size(svg)
    if width * LEAST_PRINTED > UPRIGHT[0]:
        return "lying"
    lying, upright = (min(wide / width, high / height, 1.0) for wide, high in (LYING, UPRIGHT))
    return "lying" if lying > upright else "upright"


def _measures(kind: str, svg: str) -> str:
    """A picture's own lines of the style: how large it is at least on a screen, and at most on paper."""
    width, height = size(svg)
    wide, high = LYING if _way(svg) == "lying" else UPRIGHT
    # What is too high at the least scale goes on on the next page.
    scale = min(1.0, max(LEAST_PRINTED, min(wide / width, high / height)))
    least = f"min-width: {width * LEAST_SCALE:.0f}pt; min-height: {height * LEAST_SCALE:.0f}pt;"
    return (
        f".pictures:not(.small) #{kind} {{ {least} }}\n"
        f"#printed .{kind} svg {{ width: {width * scale:.0f}pt; height: {height * scale:.0f}pt; }}\n"
    )


def _said(shot: Shot) -> str:
    return f"{shot.moment}: {'; '.join(shot.words)}"


def spans(steps: Iterable[int]) -> list[list[int]]:
    """Numbers as spans from one to another.

    >>> spans({0, 1, 2, 5})
    [[0, 2], [5, 5]]
    """
    spans: list[list[int]] = []
    for step in sorted(steps):
        if spans and spans[-1][1] == step - 1:
            spans[-1][1] = step
        else:
            spans.append([step, step])
    return spans

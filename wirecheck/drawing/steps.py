"""A sequence as one page that steps through it: each diagram once, with what each step shows of it."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, NamedTuple

from wirecheck.drawing.page import caution, inline, text, whole
from wirecheck.drawing.picture import KINDS, draw_states
from wirecheck.model.board import Board

if TYPE_CHECKING:
    from wirecheck.circuit.settle import Settled


class Shot(NamedTuple):
    """One step: its moment and what happens then, in words, and the state after it."""

    moment: str
    words: Sequence[str]
    settled: Settled


STYLE = """\
html, body { height: 100%; }
body { display: grid; grid-template: auto 1fr / 19em 1fr; gap: 0 1em; padding: .6em 1em; }
header { grid-column: 1 / 3; display: flex; flex-wrap: wrap; gap: .2em 1.5em;
  align-items: center; padding-bottom: .4em; }
header h1 { margin-right: auto; }
nav { overflow: auto; border-top: 1px solid var(--line); min-height: 0; }
nav ol { list-style: none; margin: 0; padding: 0; }
nav button { display: grid; grid-template-columns: 6.2em 1fr; width: 100%; text-align: left; border: 0;
  border-bottom: 1px solid var(--line); padding: .35em .3em; background: none; color: inherit; font: inherit;
  font-size: .87em; cursor: pointer; }
nav button[aria-current] { background: var(--chosen); box-shadow: inset 4px 0 #1d5fc4; padding-left: .6em; }
main { min-width: 0; min-height: 0; display: flex; flex-direction: column; }
.bar { display: flex; flex-wrap: wrap; gap: .4em .7em; align-items: center; padding-bottom: .4em; }
.bar button, .bar select { font: inherit; padding: .25em .8em; color: inherit; background: var(--ground);
  border: 1px solid var(--faint); border-radius: .3em; cursor: pointer; }
.bar input { flex: 1; min-width: 6em; }
.said { min-height: 1.5em; font-weight: 600; }
.pictures { flex: 1; min-height: 0; display: flex; gap: .6em; overflow: auto; }
.pictures figure { margin: 0; flex: 1; min-width: 0; min-height: 0; }
.pictures figure[hidden] { display: none; }
.pictures svg { display: block; width: 100%; height: 100%; }
.state { visibility: hidden; }
.state.on { visibility: visible; }
@media (max-width: 60em) {
  body { grid-template: auto auto 1fr / 1fr; height: auto; }
  header { grid-column: 1; }
  nav { max-height: 9em; grid-row: 3; }
}
@media print {
  @page { size: landscape; }
  nav, .bar { display: none; }
  body { display: block; }
  .pictures svg { max-height: 6in; }
}
"""

SCRIPT = """\
"use strict";
const shown = JSON.parse(document.getElementById("shown").textContent);
const slider = document.getElementById("step"), said = document.getElementById("said");
const rows = [...document.querySelectorAll("nav button")];
const parts = shown.map(([id, spans]) => [document.getElementById(id), spans]);
let at = -1, playing = null;
function show(step) {
  step = Math.max(0, Math.min(rows.length - 1, step));
  if (step === at) return;
  at = step;
  for (const [part, spans] of parts)
    part.classList.toggle("on", spans.some(([from, to]) => from <= step && step <= to));
  for (const row of rows) row.removeAttribute("aria-current");
  rows[step].setAttribute("aria-current", "step");
  rows[step].scrollIntoView({block: "nearest"});
  slider.value = step;
  said.textContent = rows[step].title;
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
  for (const figure of document.querySelectorAll("figure"))
    figure.hidden = which.value !== "both" && figure.id !== which.value;
}
which.addEventListener("change", choose);
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
    HTML, whole in itself. Buttons, a slider, the list and the arrow keys go from step to step.
    """
    figures, shown = [], []
    for kind in KINDS:
        picture = draw_states(board, [shot.settled for shot in shots], kind, colors)
        prefix = f"{kind}-"
        figures.append(f'<figure id="{kind}">{inline(picture.svg, prefix)}</figure>\n')
        shown += [(prefix + name, _spans(states)) for name, states in picture.only.items()]
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
        '<select id="which" aria-label="Diagram"><option value="wiring">Wiring</option>'
        '<option value="ladder">Ladder</option><option value="both">Both</option></select>\n</div>\n'
        '<p class="said" id="said" aria-live="polite"></p>\n'
        "<noscript><p>Stepping needs JavaScript; without it, the list tells the steps.</p></noscript>\n"
        f'<div class="pictures">\n{"".join(figures)}</div>\n</main>\n'
        f'<script type="application/json" id="shown">{data}</script>\n'
    )
    return whole(title, STYLE, body, colors, f"\n{SCRIPT}")


def _said(shot: Shot) -> str:
    return f"{shot.moment}: {'; '.join(shot.words)}"


def _spans(steps: Iterable[int]) -> list[list[int]]:
    """Numbers as spans from one to another.

    >>> _spans({0, 1, 2, 5})
    [[0, 2], [5, 5]]
    """
    spans: list[list[int]] = []
    for step in sorted(steps):
        if spans and spans[-1][1] == step - 1:
            spans[-1][1] = step
        else:
            spans.append([step, step])
    return spans

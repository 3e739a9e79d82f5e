// The text of the board: its lines are numbered beside it, and those with findings are marked there.

import {by, made} from "./dom.js";

const ABOVE = 4;

export function textOf(typed, moved) {
  const area = by("text");
  const gutter = by("gutter");
  let shown = "";
  let found = new Map();

  const earlier = [];
  const later = [];
  const lineAt = (offset) => area.value.slice(0, offset).split("\n").length;
  const caret = () => lineAt(area.selectionStart);

  function number() {
    const count = area.value.split("\n").length;
    const now = JSON.stringify([count, [...found]]);
    if (now === shown) return;
    shown = now;
    const rows = Array.from({length: count}, (_, index) => {
      const severity = found.get(index + 1);
      return made("div", {className: severity ? `with ${severity}` : ""}, `${index + 1}`);
    });
    gutter.replaceChildren(...rows);
    follow();
  }

  const follow = () => gutter.scrollTo(0, area.scrollTop);

  // The first line that another text has otherwise, brought into sight.
  function bring(was, now) {
    const lines = was.split("\n");
    const line = now.split("\n").findIndex((one, index) => one !== lines[index]);
    const high = parseFloat(getComputedStyle(area).lineHeight);
    const hidden = line * high < area.scrollTop || (line + 2) * high > area.scrollTop + area.clientHeight;
    if (line >= 0 && hidden) area.scrollTo(0, Math.max(0, line - ABOVE) * high);
    follow();
  }

  function put(text) {
    const was = area.value;
    area.value = text;
    number();
    bring(was, text);
    by("undo").disabled = !earlier.length;
    by("redo").disabled = !later.length;
    typed();
  }

  // One step back or on: what stands there now can be had again.
  function step(from, onto) {
    onto.push(area.value);
    put(from.pop());
  }

  by("undo").addEventListener("click", () => step(earlier, later));
  by("redo").addEventListener("click", () => step(later, earlier));
  area.addEventListener("input", () => {
    number();
    typed();
  });
  area.addEventListener("scroll", follow);
  document.addEventListener("selectionchange", () => {
    if (document.activeElement === area) moved(caret());
  });
  number();

  return {
    get: () => area.value,
    set(text) {
      area.value = text;
      number();
    },
    // Another text in its place, by a deed that can be undone.
    replace(text) {
      if (text === area.value) return;
      earlier.push(area.value);
      later.length = 0;
      put(text);
    },
    // Which lines have findings, and the gravest of each.
    mark(findings) {
      found = new Map();
      for (const finding of [...findings].reverse()) found.set(finding.line, finding.severity);
      number();
    },
    // Show a line, and choose it.
    goTo(line) {
      const lines = area.value.split("\n");
      const start = lines.slice(0, line - 1).join("\n").length + (line > 1 ? 1 : 0);
      area.focus({preventScroll: true});
      area.setSelectionRange(start, start + (lines[line - 1] ?? "").length);
      area.scrollTo(0, Math.max(0, line - ABOVE) * parseFloat(getComputedStyle(area).lineHeight));
      area.scrollIntoView({block: "nearest"});
      follow();
    },
  };
}

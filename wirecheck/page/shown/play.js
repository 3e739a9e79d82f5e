// A call in time: one picture for all its steps, of which a slider shows one.

import {by, made} from "./dom.js";

const PACE = 1500;

export function playOf(ask, show, left) {
  let steps = [];
  let parts = [];
  let at = 0;
  let running = 0;

  const holds = (spans) => spans.some(([from, to]) => from <= at && at <= to);

  function stop() {
    clearInterval(running);
    running = 0;
    by("run").textContent = "Run";
  }

  function go(step) {
    at = Math.max(0, Math.min(steps.length - 1, step));
    for (const [part, spans] of parts) part.classList.toggle("on", holds(spans));
    const {moment, says} = steps[at];
    by("step").value = at;
    by("step").setAttribute("aria-valuetext", moment);
    by("moment").textContent = `${moment}: ${says.join("; ")}`;
    if (at === steps.length - 1) stop();
  }

  function byHand(step) {
    stop();
    go(step);
  }

  function run() {
    if (running) return stop();
    if (at === steps.length - 1) go(0);
    by("run").textContent = "Stop";
    running = setInterval(() => go(at + 1), PACE);
  }

  function end() {
    stop();
    steps = parts = [];
    by("playing").hidden = true;
  }

  by("play").addEventListener("click", () => ask());
  by("step").addEventListener("input", () => byHand(Number(by("step").value)));
  by("earlier").addEventListener("click", () => byHand(at - 1));
  by("later").addEventListener("click", () => byHand(at + 1));
  by("run").addEventListener("click", run);
  by("leave").addEventListener("click", () => {
    end();
    left();
    by("play").focus();
  });

  return {
    // Another answer takes the picture's place.
    end,
    begin(told) {
      by("playing").hidden = false;
      if (told.refused) {
        by("moment").textContent = told.refused;
        by("ending").replaceChildren();
        return;
      }
      const svg = show(told.picture);
      steps = told.steps;
      parts = Object.entries(told.only).map(([id, spans]) => [svg.querySelector(`[id="${CSS.escape(id)}"]`), spans]);
      by("ending").replaceChildren(...told.ending.map((words) => made("p", {}, words)));
      by("step").max = steps.length - 1;
      go(0);
    },
  };
}

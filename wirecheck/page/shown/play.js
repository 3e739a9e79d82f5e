// A call in time: one picture for all its steps, of which a slider shows one.

import {by, made} from "./dom.js";

const PACE = 1500;

export function playOf(ask, picture, left) {
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
    const news = parts.filter(([part, spans]) => holds(spans) && !part.classList.contains("on"));
    for (const [part, spans] of parts) part.classList.toggle("on", holds(spans));
    const seen = news.find(([part]) => part.classList.contains("lit")) ?? news[0];
    if (at && seen) picture.follow(seen[0].id);
    const {moment, says} = steps[at];
    by("step").value = at;
    by("step").setAttribute("aria-valuetext", moment);
    by("moment").textContent = `${moment}: ${says.join("; ")}`;
    by("state").textContent = `Played: ${moment}.`;
    by("ending").hidden = at < steps.length - 1;
    if (at === steps.length - 1) stop();
  }

  // What stands beside it is of the state in the end, and not of a step.
  function instead(playing) {
    by("playing").hidden = !playing;
    for (const id of ["controls", "runs"]) by(id).classList.toggle("away", playing);
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
    instead(false);
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
    goes: () => steps.length > 0,
    // Another answer takes the picture's place.
    end,
    begin(told) {
      instead(true);
      if (told.refused) {
        by("moment").textContent = told.refused;
        by("ending").replaceChildren();
        return;
      }
      const svg = picture.show(told.picture);
      steps = told.steps;
      parts = Object.entries(told.only).map(([id, spans]) => [svg.querySelector(`[id="${CSS.escape(id)}"]`), spans]);
      by("ending").replaceChildren(...told.ending.map((words) => made("p", {}, words)));
      by("step").max = steps.length - 1;
      go(0);
    },
  };
}

// A call in time: one picture for all its steps, of which a slider shows one, and its chart with a line there.

import {by, made} from "./dom.js";

const PACE = 1500;
const POINT = 4 / 3; // A point of the drawing in pixels of the page.

export function playOf(ask, picture, left) {
  let steps = [];
  let parts = [];
  let at = 0;
  let running = 0;
  let moments = []; // The lines of the chart, one for each step but the first.

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
    moments.forEach((line, index) => line.classList.toggle("on", index === Math.max(0, at - 1)));
    follow(moments[Math.max(0, at - 1)]);
    const {moment, says} = steps[at];
    by("step").value = at;
    by("step").setAttribute("aria-valuetext", moment);
    by("moment").textContent = `${moment}: ${says.join("; ")}`;
    by("state").textContent = `Played: ${moment}.`;
    by("ending").hidden = at < steps.length - 1;
    if (at === steps.length - 1) stop();
  }

  // The chart is drawn as large as its words need to be read, and the line of the step stays in sight.
  function drawChart(chart) {
    const box = by("chart-box");
    const read = new DOMParser().parseFromString(chart.svg, "image/svg+xml").documentElement;
    const svg = document.importNode(read, true);
    svg.setAttribute("role", "img");
    svg.setAttribute("aria-label", "Chart of the call: what is on, and when. The steps say the same.");
    box.replaceChildren(svg);
    svg.style.width = `${Math.max(chart.least * POINT, Math.min(chart.width * POINT, box.clientWidth))}px`;
    svg.style.height = "auto";
    moments = steps.slice(1).map((_, index) => svg.querySelector(`#moment-${index + 1}`)).filter(Boolean);
  }

  const middle = (line) => {
    const {left, right} = line.getBoundingClientRect();
    return (left + right) / 2;
  };

  function follow(line) {
    if (!line) return;
    const {left, width} = by("chart-box").getBoundingClientRect();
    const off = middle(line) - left;
    if (off < width * 0.2 || off > width * 0.8) by("chart-box").scrollBy(off - width / 2, 0);
  }

  // A touch on the chart goes to the step that is nearest there.
  by("chart-box").addEventListener("click", ({clientX}) => {
    if (!moments.length) return;
    const far = moments.map((line) => Math.abs(middle(line) - clientX));
    byHand(far.indexOf(Math.min(...far)) + 1);
  });

  // What stands beside it is of the state in the end, and not of a step.
  function instead(playing) {
    by("playing").hidden = !playing;
    by("chart").hidden = !playing || !moments.length;
    document.querySelector(".found").classList.toggle("away", !by("chart").hidden);
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
    steps = parts = moments = [];
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
      by("chart").hidden = false;
      drawChart(told.chart);
      instead(true);
      by("step").max = steps.length - 1;
      go(0);
    },
  };
}

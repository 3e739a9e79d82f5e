// A ticket: what is asked on it is kept in this browser, and asked of the server from its beginning each time.

import {by, made} from "./dom.js";
import {held, hold, ROOT, who} from "./kept.js";
import {meterOf} from "./meter.js";
import {pictureIn} from "./picture.js";
import {AWAY, sent} from "./sent.js";

const {file, faults} = by("ticket").dataset;
const me = who();
const KEY = `wirecheck-ticket:${ROOT}${file}:${faults}:${me?.name ?? ""}`;
const dark = matchMedia("(prefers-color-scheme: dark)");
let ticket = held(KEY) ?? {lines: []};
let over = true; // Until there is a ticket.
let doing = Promise.resolve();
let offered = {};

const picture = pictureIn(by("picture"), touched, () => {});
const meter = meterOf(() => picture.mark(meter.marks()));

function touched(near) {
  const id = near((each) => meter.has(each));
  if (id) meter.touch(id);
}

const fill = (id, values) => by(id).replaceChildren(...values.map((value) =>
  made("option", {value}, value)));

function offer(told) {
  offered = told;
  meter.show(told);
  picture.show(told.picture);
  fill("call", ["nothing", ...told.calls]);
  fill("control", Object.keys(told.controls));
  fill("end", told.ends);
  fill("opened", told.opens);
  fill("where", Object.keys(told.wrong));
  // What the board has none of is not asked for.
  const some = {call: told.calls, seconds: told.calls, control: Object.keys(told.controls), opened: told.opens};
  for (const [id, all] of Object.entries(some)) by(id).closest(".bar").hidden = !all.length;
  positions();
  faultsThere();
}

const positions = () => fill("position", offered.controls[by("control").value] ?? []);
const faultsThere = () => fill("what", offered.wrong[by("where").value] ?? []);

function show(told) {
  over = told.over;
  by("complaints").replaceChildren(...told.complaints.map((words) => made("p", {}, words)));
  by("state").textContent = over ? "" : `Now: ${told.state}.`;
  const readings = told.readings === 1 ? "1 reading" : `${told.readings} readings`;
  by("count").textContent = `${readings}, an effort of ${told.effort} so far.`;
  const answers = told.said.map(({asked, says}) =>
    made("li", {}, made("code", {}, asked), made("pre", {}, says)));
  by("answers").replaceChildren(...answers);
  by("none-yet").hidden = answers.length > 0;
  const last = told.said.at(-1);
  tell(told.outcome ?? last?.says, told.outcome ? "outcome" : "");
  by("latest").hidden = !last;
  enable();
}

function enable() {
  for (const one of document.querySelectorAll(".hands button")) one.disabled = over;
}

// The last answer stays in sight, wherever it was asked.
function tell(words, kind = "") {
  by("latest").hidden = false;
  by("newest").replaceChildren(...[words].filter(Boolean).map((one) => made("pre", {className: kind}, one.trim())));
  by("latest").scrollTo(0, 0);
}

// What takes long is the first ticket of a board: its faults are tried once for the whole class.
function trying([done, of]) {
  if (by("far").hidden) {
    by("complaints").replaceChildren(made("p", {}, "All that can be wrong on this board is tried, once for all "
      + "its tickets. On a large board this takes a while."));
  }
  by("far").hidden = false;
  if (of) [by("far").max, by("far").value] = [of, done];
}

// What is asked is added to the ticket once it is answered. One thing is asked after the other.
function ask(line, first = false) {
  doing = doing.then(async () => {
    if (over && line) return;
    const lines = line ? [...ticket.lines, line] : ticket.lines;
    const colors = dark.matches ? "dark" : "paper";
    const step = {...ticket, ...picture.room(), ...me, file, faults, text: "", colors, first, lines};
    let told = await sent("/ask", step);
    while (told?.trying) {
      trying(told.trying);
      told = await sent("/ask", step);
    }
    by("far").hidden = true;
    if (!told || told.refused || told.busy) {
      const why = told?.refused ?? AWAY.refused;
      if (first) by("complaints").replaceChildren(made("p", {}, why));
      else tell(why);
      return;
    }
    ticket = {number: told.number, seal: told.seal, readings: ticket.readings, lines};
    hold(KEY, ticket);
    if (first) offer(told);
    show(told);
  });
}

function another() {
  const hard = by("hard").value;
  ticket = {lines: [], readings: hard ? Number(hard) : undefined};
  over = true;
  enable();
  by("latest").hidden = true;
  ask(null, true);
}

for (const one of document.querySelectorAll("[data-line]")) {
  one.addEventListener("click", () => ask(one.dataset.line));
}
for (const one of document.querySelectorAll("[data-verb]")) {
  one.addEventListener("click", () => {
    const words = one.dataset.from.split(" ").map((id) => by(id).value);
    if (words.every(Boolean)) ask([one.dataset.verb, ...words].join(" "));
  });
}
by("wait").addEventListener("click", () => {
  const seconds = by("seconds").value.trim();
  ask(seconds ? `wait ${seconds} s` : "wait");
});
by("measure").addEventListener("click", () => {
  const asked = meter.asked();
  if (asked) ask([asked.quantity, ...asked.points].join(" "));
  else tell("A lead hangs free. Touch what it goes on in the picture, or write its name.");
});
by("ask").addEventListener("submit", (event) => {
  event.preventDefault();
  const line = by("line").value.trim();
  by("line").value = "";
  if (line) ask(line);
});
by("control").addEventListener("change", positions);
by("where").addEventListener("change", faultsThere);
by("another").addEventListener("click", another);
dark.addEventListener("change", () => ask(null, true));
enable();
ask(null, true);

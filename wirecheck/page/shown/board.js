// One board: what is typed, moved and measured is asked of the server, and what it answers is shown.

import {asker} from "./ask.js";
import {by} from "./dom.js";
import {findingsIn} from "./found.js";
import {kept} from "./kept.js";
import {meterOf} from "./meter.js";
import {pictureIn} from "./picture.js";
import {powerOf} from "./power.js";
import {textOf} from "./text.js";

const PAUSE = 25; // Milliseconds after a key before the board is asked about.
const QUIET = 700; // After an answer, before the mends are looked for.

const file = by("board").dataset.file;
const inFile = by("text").value;
const dark = matchMedia("(prefers-color-scheme: dark)");
const store = kept(file, inFile);
let answer = {marked: {}, lines: {}, findings: []};
let chosen = [];
let before = null;
let timer = 0;

const tool = () => document.querySelector("input[name=tool]:checked").value;
const text = textOf(typed, (line) => choose(answer.marked[line] ?? []));
const power = powerOf(() => ask());
const meter = meterOf(() => measure());
const picture = pictureIn(by("picture"), touched, () => ask());
const findings = findingsIn((finding, number) => {
  choose(answer.marked[finding.line] ?? []);
  text.goTo(finding.line);
  picture.reveal(chosen, `finding-${number}`);
});
const check = asker("/check", shown);
const read = asker("/measure", (told) => meter.tell(told));

function question(more) {
  const colors = dark.matches ? "dark" : "paper";
  return {file, text: text.get(), ...power.state(), colors, ...picture.room(), ...more};
}

function ask(mends = false) {
  clearTimeout(timer);
  check(question({mends}));
  measure();
}

function measure() {
  const asked = tool() === "meter" ? meter.asked() : null;
  if (asked) read(question(asked));
  else meter.tell({});
  mark();
}

function typed() {
  const held = store.keep(text.get());
  by("kept").textContent = held ? "Kept in this browser." : "This browser keeps nothing: save a copy.";
  clearTimeout(timer);
  timer = setTimeout(ask, PAUSE);
}

function shown(told, asked) {
  if (told.refused) {
    by("verdict").textContent = told.refused;
    by("verdict").className = "";
    return;
  }
  answer = told;
  findings(told);
  text.mark(told.findings);
  power.show(told);
  meter.show(told);
  picture.show(told.picture);
  mark();
  performance.mark("wirecheck-shown", {detail: asked.text});
  if (told.findings.length && !told.mends && asked.text === text.get()) {
    clearTimeout(timer);
    timer = setTimeout(() => ask(true), QUIET);
  }
}

function choose(ids) {
  chosen = ids;
  mark();
}

function mark() {
  const leads = tool() === "meter" ? meter.marks() : [];
  picture.mark([...chosen.map((id) => ({ids: [id], kind: "chosen"})), ...leads]);
}

// A touch on the picture does what the tool does: goes to the line, moves a switch, or puts a lead there.
function touched(near) {
  if (tool() === "power") {
    const id = near((each) => power.has(each));
    if (id) power.touch(id.slice("device-".length));
    return;
  }
  if (tool() === "meter") {
    const id = near((each) => meter.has(each));
    if (id) meter.touch(id);
    return;
  }
  const fine = (id) => id in answer.lines && !/^(room|device|jacket)-/.test(id);
  const id = near(fine) ?? near((each) => each in answer.lines);
  if (!id) return;
  choose([id, ...(answer.marked[answer.lines[id]] ?? [])]);
  text.goTo(answer.lines[id]);
}

function useTool() {
  by("board").dataset.tool = tool();
  for (const name of ["power", "meter"]) by(name).hidden = tool() !== name;
  measure();
}

// Back to the file, and back again: nothing that was typed is lost by a touch.
function goBack() {
  const now = text.get();
  if (before === null) {
    before = now;
    text.set(inFile);
  } else {
    text.set(before);
    before = null;
  }
  by("back").textContent = before === null ? "Back to the file" : "Take that back";
  typed();
}

function save() {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text.get()], {type: "text/plain"}));
  link.download = file.split("/").pop();
  link.click();
  URL.revokeObjectURL(link.href);
}

by("back").addEventListener("click", goBack);
by("save").addEventListener("click", save);
for (const one of document.querySelectorAll("input[name=tool]")) one.addEventListener("change", useTool);
dark.addEventListener("change", () => ask());

const earlier = store.text();
if (earlier !== null) {
  text.set(earlier);
  by("kept").textContent = store.fileChanged()
    ? "This is your text of before. The file has changed since."
    : "This is your text of before.";
}
useTool();
ask();

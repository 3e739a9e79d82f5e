// One board: what is typed, moved and measured is asked of the server, and what it answers is shown.

import {asker} from "./ask.js";
import {by} from "./dom.js";
import {findingsIn} from "./found.js";
import {kept, who} from "./kept.js";
import {meterOf} from "./meter.js";
import {pictureIn} from "./picture.js";
import {placingOf} from "./place.js";
import {playOf} from "./play.js";
import {powerOf} from "./power.js";
import {unpressed} from "./press.js";
import {AWAY, sent} from "./sent.js";
import {textOf} from "./text.js";
import {trialOf} from "./trial.js";
import {wiringOf} from "./wire.js";

const PAUSE = 25; // Milliseconds after a key before the board is asked about.
const QUIET = 700; // After an answer, before the mends are looked for.
const SHOWN = "wirecheck-shown"; // Marks when the answer to a text is on the page, as the benchmark reads it.
const EMPTY = "Nothing stands here yet. Choose Place, and begin with a panel.";

const file = by("board").dataset.file;
const inFile = by("text").value;
const dark = matchMedia("(prefers-color-scheme: dark)");
const store = kept(file, inFile);
let answer = {marked: {}, lines: {}, findings: []};
let answered = null; // The text that this answer is of.
let chosen = [];
let timer = 0;
let count = 0; // Of the questions that were asked, and which was the last before a call was played.
let playedAt = 0;
let doing = Promise.resolve();

const tool = () => document.querySelector("input[name=tool]:checked").value;
const text = textOf(typed, (line) => choose(answer.marked[line] ?? []));
const power = powerOf(() => ask());
const meter = meterOf(() => measure());
const picture = pictureIn(by("picture"), touched, () => ask());
const wiring = wiringOf((deed) => done("/wire", {deed}, wiring), () => mark());
const placing = placingOf((thing) => done("/place", {placing: thing}, placing), () => mark(),
  () => sent("/parts", {file, text: ""}));
const findings = findingsIn((finding, number) => {
  choose(answer.marked[finding.line] ?? []);
  text.goTo(finding.line);
  picture.reveal([`finding-${number}`, ...chosen]);
}, tryIt, say);
const trial = trialOf(async (more) => await sent("/mends", question(more)) ?? AWAY, (mended) => {
  text.replace(mended);
  by("verdict").focus();
});
const play = playOf(() => {
  clearTimeout(timer);
  playedAt = count;
  playIt.ask(question());
}, picture, () => ask());
const playIt = asker("/play", (told) => play.begin(told));
const unlessPressed = unpressed(by("picture"));
const check = asker("/check", (...answer) => unlessPressed(() => shown(...answer)));
const search = asker("/mends", (...answer) => unlessPressed(() => shown(...answer)));
const read = asker("/measure", (told) => meter.tell(told));

function question(more) {
  const colors = dark.matches ? "dark" : "paper";
  return {file, text: text.get(), ...power.state(), colors, ...picture.room(), ...who(), ...more};
}

function ask() {
  clearTimeout(timer);
  search.stop();
  check.ask(question({number: ++count}));
  measure();
}

// A mend is of the text that was checked: where that was typed in since, another answer is on its way.
function tryIt(words, mended) {
  if (text.get() === answered) trial(words, answered, mended);
}

// What a line more would have judged is said by hand.
function say({what, name}) {
  document.querySelector("input[name=tool][value=place]").checked = true;
  useTool();
  placing.say(what, name);
}

function measure() {
  const asked = tool() === "meter" ? meter.asked() : null;
  if (asked) read.ask(question(asked));
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
    by("verdict").textContent = asked.text.trim() ? told.refused : EMPTY;
    by("verdict").className = "";
    return;
  }
  answer = told;
  answered = asked.text;
  findings(told);
  text.mark(told.findings);
  meter.show(told);
  wiring.show(told);
  placing.show(told);
  // An answer that was on its way when a call was played does not end the play.
  if (!play.goes() || asked.number > playedAt) {
    play.end();
    power.show(told);
    picture.show(told.picture);
  }
  mark();
  performance.clearMarks(SHOWN);
  performance.mark(SHOWN, {detail: asked.text});
  if (told.findings.length && !told.mends && !play.goes() && asked.text === text.get()) {
    clearTimeout(timer);
    timer = setTimeout(() => search.ask(question({number: ++count})), QUIET);
  }
}

// Deeds are done one after the other, each on what the one before it left.
function done(address, deed, tool) {
  doing = doing.then(async () => {
    const asked = question(deed);
    const told = await sent(address, asked) ?? AWAY;
    const typedMeanwhile = asked.text !== text.get();
    if (told.text !== undefined && !typedMeanwhile) text.replace(told.text);
    tool.tell(typedMeanwhile ? "You typed meanwhile: do it again." : told.refused ?? tool.said?.(told) ?? "");
  });
}

function choose(ids) {
  chosen = ids;
  mark();
}

function mark() {
  const own = {meter, wire: wiring, place: placing}[tool()]?.marks() ?? [];
  picture.mark([...chosen.map((id) => ({ids: [id], kind: "chosen"})), ...own]);
}

// A touch on the picture does what the tool does: goes to the line, wires, moves a switch, puts a lead there.
// Where a drag begins counts for what has two ends.
function touched(near, begins) {
  if (begins && !["wire", "meter"].includes(tool())) return;
  if (tool() === "power") {
    const id = near((each) => power.has(each));
    if (id) power.touch(id.slice("device-".length));
    return;
  }
  if (tool() === "place") {
    const id = near((each) => placing.has(each));
    if (id) placing.touch(id);
    return mark();
  }
  if (tool() === "wire") {
    const room = near((each) => each.startsWith("room-"));
    const id = near((each) => wiring.has(each, room));
    if (id) wiring.touch(id, room);
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
  for (const name of ["wire", "power", "meter"]) by(name).hidden = tool() !== name;
  by("placing").hidden = tool() !== "place";
  if (tool() === "place") placing.open();
  measure();
}

// Where one thing stands below the other, what the tool asks for is below the picture: both are brought into sight.
function bringTool() {
  const below = document.querySelector(".tool:not([hidden])")?.getBoundingClientRect().bottom ?? 0;
  if (below > innerHeight) document.querySelector(".drawn").scrollIntoView({block: "start"});
}

function save() {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text.get()], {type: "text/plain"}));
  link.download = file.split("/").pop();
  link.click();
  URL.revokeObjectURL(link.href);
}

by("back").addEventListener("click", () => text.replace(inFile));
by("save").addEventListener("click", save);
for (const one of document.querySelectorAll("input[name=tool]")) {
  one.addEventListener("change", () => {
    useTool();
    bringTool();
  });
}
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

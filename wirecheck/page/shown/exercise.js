// Handing in an exercise: under a name, whose code this browser keeps, and the sheets that came back.

import {by, made} from "./dom.js";
import {becomes, held, hold, who} from "./kept.js";
import {AWAY, sent} from "./sent.js";

const file = by("board").dataset.file;
const form = by("hand-in");
const SHEETS = `wirecheck-sheets:${file}`;
const MOST = 50;

function shown() {
  const me = who();
  by("name").value = me?.name ?? by("name").value;
  by("name").readOnly = Boolean(me);
  by("other").hidden = !me;
  if (me) {
    by("code-asked").hidden = true;
    by("handed").textContent ||= `You hand in as ${me.name}. Your code is ${me.code}: write it down.`;
  }
  const mine = (held(SHEETS) ?? []).filter((one) => one.name === me?.name);
  by("sheets").replaceChildren(...mine.map((one) => made("li", {},
    made("a", {href: one.sheet, target: "_blank", rel: "noopener"},
      `Sheet of ${new Date(one.at).toLocaleTimeString()}, ${one.stage}: ${one.score}`))));
}

async function handIn(event) {
  event.preventDefault();
  by("send").disabled = true;
  by("handed").textContent = "It is being graded.";
  const me = who();
  const told = await sent("/hand-in", {
    file,
    text: by("text").value,
    name: by("name").value,
    code: me?.code ?? by("code").value,
    stage: by("stage").value,
  }) ?? AWAY;
  by("send").disabled = false;
  if (told.code === true) {
    by("code-asked").hidden = false;
    by("code").focus();
  }
  if (!told.sheet) {
    by("handed").textContent = told.refused ?? told.busy;
    return;
  }
  if (!me) becomes(told.name, told.code);
  hold(SHEETS, [told, ...(held(SHEETS) ?? [])].slice(0, MOST));
  const why = told.refused_work ? ` It was not graded: ${told.refused_work}` : "";
  by("handed").textContent = `Handed in: ${told.score}.${why} Your code is ${told.code}: write it down.`;
  shown();
}

// The next student at this browser begins anew: what this one wrote is under her name until she is back.
function other() {
  hold("wirecheck-name", null);
  location.reload();
}

if (form) {
  form.addEventListener("submit", handIn);
  by("other").addEventListener("click", other);
  shown();
}

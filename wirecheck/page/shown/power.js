// The power: on or off, what is moved and called, and what runs. What it comes to is said by the server.

import {by, made} from "./dom.js";

const GROUPS = [["switch", "Switches"], ["protection", "Breakers and fuses"], ["safety", "Safeties"]];
const OTHER = "Controls";
const ALONE = "by itself";

export function powerOf(changed) {
  const moved = {};
  const called = new Set();
  const switches = [by("on"), by("powered")];
  let power = false;
  let controls = [];
  let shown = "";

  function turn(on) {
    power = on;
    for (const one of switches) one.checked = on;
    by("calls").hidden = !on || !by("calls").querySelector("input");
    offerPlay();
    if (!on) by("runs").replaceChildren();
    changed();
  }

  function move(name, value) {
    const control = controls.find((one) => one.name === name);
    const resting = control.alone ? "" : control.values[0];
    if (value === resting) delete moved[name];
    else moved[name] = value;
    const select = document.querySelector(`select[data-control="${CSS.escape(name)}"]`);
    if (select) select.value = value;
    changed();
  }

  function selectOf(control) {
    const select = made("select", {}, ...control.values.map((value) => made("option", {value}, value)));
    select.dataset.control = control.name;
    if (control.alone) select.prepend(made("option", {value: ""}, ALONE));
    select.value = moved[control.name] ?? (control.alone ? "" : control.values[0]);
    select.addEventListener("change", () => move(control.name, select.value));
    return made("label", {}, `${control.name} `, select);
  }

  const offerPlay = () => {
    by("play").hidden = !power || !called.size;
  };

  function callOf(call) {
    const box = made("input", {type: "checkbox", checked: called.has(call)});
    box.addEventListener("change", () => {
      if (box.checked) called.add(call);
      else called.delete(call);
      offerPlay();
      changed();
    });
    return made("label", {className: "switch"}, box, call);
  }

  function offer(answer) {
    const now = JSON.stringify([answer.controls, answer.calls]);
    if (now === shown) return;
    shown = now;
    controls = answer.controls;
    const known = new Set(GROUPS.map(([kind]) => kind));
    const sorted = [...GROUPS.map(([kind, words]) => [words, controls.filter((one) => one.kind === kind)]),
      [OTHER, controls.filter((one) => !known.has(one.kind))]];
    by("controls").replaceChildren(...sorted.filter(([, some]) => some.length).map(([words, some]) =>
      made("fieldset", {}, made("legend", {}, words), ...some.map(selectOf))));
    by("calls").replaceChildren(made("legend", {}, "Calls"), ...answer.calls.map(callOf));
    by("calls").hidden = !power || !answer.calls.length;
  }

  function table(head, rows) {
    const line = (cells, tag) => made("tr", {}, ...cells.map((cell) => made(tag, {}, cell)));
    return made("table", {}, made("thead", {}, line(head, "th")),
      made("tbody", {}, ...rows.map((row) => line(row, "td"))));
  }

  function tell(told) {
    by("state").textContent = told ? `Power on, ${told.state}.` : "";
    if (!told || !told.positions) return by("runs").replaceChildren();
    const inside = told.events.map((words) => made("p", {className: "event"}, words));
    if (told.loads.length) inside.push(table(["load", "does", "volts", "amps"], told.loads));
    if (told.outlets.length) inside.push(table(["outlet", "volts"], told.outlets));
    inside.push(made("p", {}, `Live: ${told.live.join(", ") || "nothing"}.`));
    by("runs").replaceChildren(...inside);
    for (const control of controls.filter((one) => one.alone)) {
      const select = document.querySelector(`select[data-control="${CSS.escape(control.name)}"]`);
      if (select) select.options[0].textContent = `${ALONE}, now ${told.positions[control.name]}`;
    }
  }

  for (const one of switches) one.addEventListener("change", () => turn(one.checked));
  return {
    state: () => ({power, moved, calls: power ? [...called] : []}),
    show(answer) {
      offer(answer);
      tell(power ? answer.power : null);
    },
    // A touch on a device: its one switch goes on to its next position; of several the first is offered.
    touch(device) {
      const own = controls.filter((one) => one.device === device || one.device.startsWith(`${device}.`));
      if (own.length === 1) {
        const [control] = own;
        const values = control.alone ? ["", ...control.values] : control.values;
        const now = moved[control.name] ?? values[0];
        move(control.name, values[(values.indexOf(now) + 1) % values.length]);
      } else if (own.length) {
        document.querySelector(`select[data-control="${CSS.escape(own[0].name)}"]`)?.focus();
      }
    },
    // Whether a part of the picture is a device with something to move.
    has: (id) => controls.some((one) => id === `device-${one.device}` || id.startsWith("device-")
      && one.device.startsWith(`${id.slice("device-".length)}.`)),
  };
}

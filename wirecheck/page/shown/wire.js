// Wiring by hand: a wire's end is taken and put somewhere. What that makes of the text is the server's to say.

import {by, made} from "./dom.js";

export function wiringOf(ask, changed) {
  const [place, taken, target, color] = [by("place"), by("taken"), by("target"), by("color")];
  let hands = {};
  let offered = "";
  let held = false;

  const here = () => hands[place.value] ?? {wires: [], screws: []};
  const isHere = (name) => here().wires.includes(name) || here().screws.includes(name);

  function options(select, names) {
    const was = select.value;
    select.replaceChildren(...names.map((value) => made("option", {value}, value)));
    select.value = names.includes(was) ? was : names[0] ?? "";
  }

  function offerHere() {
    const {wires, screws} = here();
    options(taken, [...wires, ...screws]);
    options(target, [...screws, ...wires]);
    // A wire's end comes first, where nothing was taken yet but the same screw twice.
    if (!held && taken.value === target.value) taken.value = wires[0] ?? screws[0] ?? "";
  }

  function act(name) {
    held = false;
    const other = name === "mark" ? color.value : target.value;
    ask({act: name, place: place.value, one: taken.value, other});
    changed();
  }

  // The place and the name that a part of the picture stands for; a wire is taken in the room where it is touched.
  function spot(id, room) {
    for (const [where, {wires, screws}] of Object.entries(hands)) {
      const screw = screws.find((name) => id === `terminal-${name}` || id === `label-${name}-screw`);
      if (screw) return [where, screw];
      const wire = wires.find((name) => id === `label-${name}@${where}`
        || (id === `conductor-${name}` && room === `room-${where}`));
      if (wire) return [where, wire];
    }
    return null;
  }

  function take(where, name) {
    place.value = where;
    offerHere();
    taken.value = name;
    held = true;
    by("done").textContent = `${name} in ${where}: touch what it goes on.`;
    changed();
  }

  function letGo() {
    held = false;
    by("done").textContent = "";
    changed();
  }

  place.addEventListener("change", () => {
    offerHere();
    letGo();
  });
  for (const one of [taken, target]) one.addEventListener("change", changed);
  for (const button of document.querySelectorAll("[data-act]")) {
    button.addEventListener("click", () => act(button.dataset.act));
  }
  document.addEventListener("keydown", (key) => {
    if (key.key === "Escape" && held) letGo();
  });

  const idsOf = (name) => [`terminal-${name}`, `label-${name}@${place.value}`];

  return {
    show(answer) {
      const now = JSON.stringify(answer.hands);
      if (now === offered) return;
      offered = now;
      hands = answer.hands;
      options(place, Object.keys(hands));
      offerHere();
    },
    has: (id, room) => spot(id, room) !== null,
    // The first touch takes; the second puts, on what is in the same place; the same again lets go.
    touch(id, room) {
      const [where, name] = spot(id, room);
      if (!held || where !== place.value) return take(where, name);
      if (name === taken.value) return letGo();
      target.value = name;
      act("put");
    },
    marks: () => [
      {ids: isHere(taken.value) ? idsOf(taken.value) : [], kind: "chosen"},
      ...(held ? [] : [{ids: isHere(target.value) ? idsOf(target.value) : [], kind: "goal"}]),
    ],
    tell(words) {
      by("done").textContent = words;
    },
    // What was taken meanwhile is still asked about.
    said: ({says}) => (held ? by("done").textContent : says),
  };
}

// The meter: its leads are put on screws and wires' ends, and the server says what it shows.

import {by, made} from "./dom.js";

export function meterOf(changed) {
  const [quantity, red, black] = [by("quantity"), by("red"), by("black")];
  let answer = {points: [], carriers: []};
  let offered = "";
  let next = red;

  const alone = () => quantity.value === "amps";
  const known = () => (alone() ? answer.carriers : answer.points);

  function offer() {
    const now = JSON.stringify([alone(), known()]);
    by("second").hidden = alone();
    by("first").firstChild.textContent = alone() ? "Around or through " : "Red lead ";
    if (now === offered) return;
    offered = now;
    by("points").replaceChildren(...known().map((value) => made("option", {value})));
  }

  function leads() {
    return alone() ? [[red, "R"]] : [[red, "R"], [black, "B"]];
  }

  // The parts of the picture that stand for what can be measured at.
  function idsOf(name) {
    return alone()
      ? [`conductor-${name}`, `device-${name}`]
      : [`terminal-${name}`, `label-${name}`, `label-${name}-screw`, `volts-${name}`];
  }

  const nameOf = (id) => known().find((name) => idsOf(name).includes(id));

  quantity.addEventListener("change", () => {
    red.value = black.value = "";
    next = red;
    offer();
    changed();
  });
  for (const lead of [red, black]) lead.addEventListener("input", changed);

  return {
    show(told) {
      answer = told;
      offer();
    },
    has: (id) => nameOf(id) !== undefined,
    // A touch: the lead whose turn it is goes there.
    touch(id) {
      next.value = nameOf(id);
      next = alone() || next === black ? red : black;
      changed();
    },
    // What is measured, or nothing while a lead hangs free.
    asked() {
      const points = leads().map(([lead]) => lead.value.trim());
      return points.every(Boolean) ? {quantity: quantity.value, points} : null;
    },
    marks: () => leads().map(([lead, letter], index) =>
      ({ids: idsOf(lead.value.trim()), kind: index ? "black" : "red", letter})),
    tell(told) {
      by("display").textContent = told.display ?? "";
      const says = told.says ?? [told.refused ?? told.danger ?? ""];
      by("says").replaceChildren(...says.filter(Boolean).map((words) =>
        made("p", {className: told.danger ? "danger" : ""}, words)));
      if (told.danger) by("says").setAttribute("role", "alert");
      else by("says").removeAttribute("role");
    },
  };
}

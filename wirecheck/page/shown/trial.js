// A mend that is tried: the board as it is and with the mend made, side by side, with what changes marked on both.

import {by, made} from "./dom.js";
import {pictureIn} from "./picture.js";

export function trialOf(check, taken) {
  const dialog = by("trial");
  const sides = ["before", "after"].map((name) => ({
    picture: pictureIn(by(`${name}-picture`), () => {}, () => {}),
    verdict: by(`${name}-verdict`),
  }));
  let mended = "";
  let count = 0;

  // The lines of a text that another does not have, each with its number.
  function own(text, other) {
    const left = other.split("\n");
    return text.split("\n").flatMap((line, index) => {
      const at = left.indexOf(line);
      if (at < 0) return [[index + 1, line]];
      left.splice(at, 1);
      return [];
    });
  }

  function lines(sign, some) {
    return some.map(([number, line]) => made("code", {className: "line"}, `${sign} ${number}: ${line.trim()}`));
  }

  async function show(side, text, other, asked) {
    side.verdict.textContent = "Checking.";
    const told = await check({text, ...side.picture.room()});
    if (asked !== count || !dialog.open) return;
    side.verdict.textContent = told.refused ?? told.verdict;
    if (told.refused) return;
    side.picture.show(told.picture);
    const ids = own(text, other).flatMap(([line]) => told.marked[line] ?? []);
    side.picture.mark(ids.map((id) => ({ids: [id], kind: "chosen"})));
    side.picture.follow(ids.find((id) => id.startsWith("terminal-")) ?? ids[0]);
  }

  by("take").addEventListener("click", () => {
    dialog.close();
    taken(mended);
  });
  by("leave-it").addEventListener("click", () => dialog.close());

  return (words, text, now) => {
    mended = now;
    by("trial-words").textContent = words;
    by("trial-lines").replaceChildren(...lines("−", own(text, now)), ...lines("+", own(now, text)));
    dialog.showModal();
    by("take").focus();
    count += 1;
    show(sides[0], text, now, count);
    show(sides[1], now, text, count);
  };
}

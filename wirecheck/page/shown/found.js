// The findings: each in the words of the report, with a button that goes to its line and its place.

import {by, made} from "./dom.js";

const ASKS = {goal: (name) => `Say what ${name} should do`, room: (name) => `Say what room ${name} is in`};

export function findingsIn(chosen, tried, say) {
  const list = by("findings");
  const rest = by("rest");
  let shown = "";
  let left = ""; // What was not judged, as it is shown.

  const paragraphs = (sentences) => sentences.map((words) => made("p", {}, words));

  // A button that makes a mend in the text; nothing where none was tried.
  function tryIt(words, text) {
    if (text === undefined) return "";
    const button = made("button", {type: "button", className: "try"}, "Try it");
    button.addEventListener("click", () => tried(words, text));
    return button;
  }

  function saying(one) {
    const button = made("button", {type: "button", className: "say"}, ASKS[one.what](one.name));
    button.addEventListener("click", () => say(one));
    return button;
  }

  function item(finding, index) {
    const head = made(
      "button",
      {type: "button", className: "head"},
      made("span", {className: `severity ${finding.severity}`}, finding.severity.toUpperCase()),
      ` ${finding.rule}${finding.subject ? `, ${finding.subject}` : ""} `,
      made("span", {className: "faint"}, `line ${finding.line}`),
    );
    head.addEventListener("click", () => chosen(finding, index + 1));
    const body = [...paragraphs(finding.says)];
    const ways = finding.todo.map((words, number) => [words, tryIt(words, finding.mended[number])]);
    if (finding.todo.length > 1) {
      body.push(made("p", {}, "Any one of these puts it right, with the power off:"));
      body.push(made("ul", {}, ...ways.map((way) => made("li", {}, ...way))));
    } else {
      const before = finding.mended.length ? "To do, with the power off: " : "To do: ";
      body.push(...ways.map(([words, button]) => made("p", {}, before + words, button)));
    }
    if (finding.follows.length) {
      body.push(made("p", {}, "From the same mistake:"));
      body.push(made("ul", {}, ...finding.follows.map((words) => made("li", {}, words))));
    }
    for (const note of finding.also) body.push(made("p", {}, `With line ${note.line}: ${note.says}`));
    const more = [finding.why && `Why: ${finding.why}`, finding.source && `Source: ${finding.source}`];
    if (more.some(Boolean)) {
      body.push(made("details", {}, made("summary", {}, "Why"), ...paragraphs(more.filter(Boolean))));
    }
    return made("li", {}, head, ...body);
  }

  // What was opened stays open, and what had the focus has it, where the list is about the same.
  function replaced(items) {
    const heads = [...list.querySelectorAll(".head")];
    const at = heads.indexOf(document.activeElement);
    const opened = [...list.children].map((one) => one.querySelector("details")?.open);
    list.replaceChildren(...items);
    items.forEach((one, index) => {
      const details = one.querySelector("details");
      if (details && opened[index]) details.open = true;
    });
    if (at >= 0) (items[at]?.querySelector(".head") ?? by("verdict")).focus();
  }

  return (answer) => {
    by("verdict").textContent = answer.verdict;
    by("verdict").className = answer.findings.length ? "" : "clean";
    const unsaid = JSON.stringify([answer.rest, answer.unsaid]);
    if (unsaid !== left) {
      left = unsaid;
      const had = rest.contains(document.activeElement);
      rest.replaceChildren(...paragraphs(answer.rest), ...answer.unsaid.map(saying));
      if (had) (rest.querySelector("button") ?? by("verdict")).focus();
    }
    const now = JSON.stringify(answer.findings);
    if (now === shown) return;
    shown = now;
    replaced(answer.findings.map(item));
  };
}

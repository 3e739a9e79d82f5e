// The instructor's view keeps up to date, while it is asked to and nobody reads in it by keyboard.

import {by} from "./dom.js";

const EVERY = 5000;

async function renew() {
  const place = by("now");
  if (!by("goes").checked || place.contains(document.activeElement) || document.hidden) return;
  try {
    const answer = await fetch(`${location.pathname}/now`, {signal: AbortSignal.timeout(EVERY)});
    if (!answer.ok) return;
    const read = new DOMParser().parseFromString(await answer.text(), "text/html");
    place.replaceChildren(...read.body.childNodes);
  } catch {
    // The server is away: the next time it may be back.
  }
}

setInterval(renew, EVERY);

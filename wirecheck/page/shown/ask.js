// Questions: one is on its way at a time, and of those that wait only the newest is sent.

import {AWAY, sent} from "./sent.js";

const AGAIN = 1500;

export function asker(address, answered) {
  let running = false;
  let waiting = null;
  let stop = () => {};

  async function run() {
    running = true;
    while (waiting) {
      const asked = waiting;
      waiting = null;
      const way = new AbortController();
      let stopped = false;
      stop = () => {
        stopped = true;
        way.abort();
      };
      const answer = await sent(address, asked, way);
      if (stopped) continue;
      if (answer) {
        answered(answer, asked);
      } else {
        answered(AWAY, asked);
        await new Promise((again) => setTimeout(again, AGAIN));
        if (!stopped) waiting ??= asked;
      }
    }
    running = false;
  }

  return {
    ask(question) {
      waiting = question;
      if (!running) run();
    },
    // What was asked is not wanted any more: the server ends its work on it.
    stop() {
      waiting = null;
      stop();
    },
  };
}

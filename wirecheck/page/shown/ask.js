// Questions to the server: one is on its way at a time, and of those that wait only the newest is sent.

const LONGEST = 60000;
const AGAIN = 1500;

export const AWAY = {refused: "The server does not answer now. Your text is kept in this browser."};

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

// The answer, or nothing where there was none: the server is away, or has too much to do.
export async function sent(address, question, way = new AbortController()) {
  const late = setTimeout(() => way.abort(), LONGEST);
  try {
    const response = await fetch(address, {
      method: "POST",
      headers: {"content-type": "application/json"},
      body: JSON.stringify(question),
      signal: way.signal,
    });
    return response.status === 503 ? null : await response.json();
  } catch {
    return null;
  } finally {
    clearTimeout(late);
  }
}

// A question of a page that has no server, and what its workers answer: it stands in the place of `sent.js` there.

const LONGEST = 60000; // Milliseconds of work on a question.
const PATIENT = "/mends"; // What takes long has a worker of its own, and holds up nothing else.

export const AWAY = {refused: "What checks boards cannot be loaded now. Your text is kept in this browser."};
const TOO_LONG = {refused: "This took longer than a minute here, and was stopped. Check it with wirecheck itself."};
const failed = (why) => ({refused: `wirecheck itself failed: ${why}. This is a defect of it and not of the board.`});

// A worker, what waits for it, and what it works on. What is to be ended ends with its worker, and a new one begins.
function desk() {
  let worker = null;
  let ready = false;
  let working = null;
  const waiting = [];

  function begin() {
    if (working || !waiting.length) return;
    worker ??= hired();
    if (!ready) return;
    working = waiting.shift();
    working.late = setTimeout(() => anew(TOO_LONG), LONGEST);
    worker.postMessage([working.address, JSON.stringify(working.question)]);
  }

  function hired() {
    const made = new Worker(new URL("worker.js", import.meta.url), {type: "module"});
    made.addEventListener("message", ({data}) => {
      if (made !== worker) return;
      if (data.ready) ready = true;
      else if (data.absent) away();
      else if (data.failed) anew(failed(data.failed));
      else done(JSON.parse(data.answer));
      begin();
    });
    made.addEventListener("error", () => made === worker && away());
    return made;
  }

  function done(answer) {
    clearTimeout(working.late);
    working.answered(answer);
    working = null;
  }

  function leave() {
    worker.terminate();
    worker = null;
    ready = false;
  }

  function anew(answer) {
    leave();
    done(answer);
    worker = hired();
    begin();
  }

  // It could not be loaded: whoever asks again has it tried again.
  function away() {
    leave();
    if (working) done(null);
    for (const one of waiting.splice(0)) one.answered(null);
  }

  function forget(one) {
    if (one === working) return anew(null);
    const place = waiting.indexOf(one);
    if (place < 0) return;
    waiting.splice(place, 1);
    one.answered(null);
  }

  return (address, question, signal) => new Promise((answered) => {
    const one = {address, question, answered};
    waiting.push(one);
    signal.addEventListener("abort", () => forget(one));
    begin();
  });
}

const quick = desk();
const patient = desk();

// The answer, or nothing where there was none: it is not wanted any more, or what answers could not be loaded.
export const sent = (address, question, way = new AbortController()) =>
  (address === PATIENT ? patient : quick)(address, question, way.signal);

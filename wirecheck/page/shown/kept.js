// The student's text, kept in this browser from visit to visit. The board's file is never written.

// What this browser keeps under a key, or nothing.
export function held(key) {
  try {
    return JSON.parse(localStorage.getItem(key));
  } catch {
    return null;
  }
}

// Keep a value under a key, or nothing there; whether the browser did.
export function hold(key, value) {
  try {
    if (value === null) localStorage.removeItem(key);
    else localStorage.setItem(key, JSON.stringify(value));
    return true;
  } catch {
    return false;
  }
}

// Who handed in from this browser, with her code, or nothing.
export const who = () => held("wirecheck-name");

// What was written here before she gave her name becomes hers with it. No file's name has a colon.
export function becomes(name, code) {
  for (const key of Object.keys(localStorage)) {
    if (!/^wirecheck:[^:]+$/.test(key)) continue;
    hold(`${key}:${name}`, held(key));
    hold(key, null);
  }
  hold("wirecheck-name", {name, code});
}

// Several folders may be saved on one server, and files in them have the same names; no page's path has a colon.
export const ROOT = new URL("..", import.meta.url).pathname.slice(1).replaceAll(":", "%3A");
const keyOf = (file, me) => `wirecheck:${ROOT}${file}${me ? `:${me.name}` : ""}`;

export function kept(file, inFile) {
  const before = () => held(keyOf(file, who())) ?? {};

  return {
    // What was typed here before, or nothing.
    text: () => before().text ?? null,
    // Whether the file said something else when that was typed.
    fileChanged: () => before().of !== undefined && before().of !== inFile,
    // Keep a text; whether the browser did.
    keep(text) {
      return hold(keyOf(file, who()), text === inFile ? null : {text, of: inFile});
    },
  };
}

// The student's text, kept in this browser from visit to visit. The board's file is never written.

export function kept(file, inFile) {
  const key = `wirecheck:${file}`;

  function held() {
    try {
      return JSON.parse(localStorage.getItem(key)) ?? {};
    } catch {
      return {};
    }
  }

  return {
    // What was typed here before, or nothing.
    text: () => held().text ?? null,
    // Whether the file said something else when that was typed.
    fileChanged: () => held().of !== undefined && held().of !== inFile,
    // Keep a text; whether the browser did.
    keep(text) {
      try {
        if (text === inFile) localStorage.removeItem(key);
        else localStorage.setItem(key, JSON.stringify({text, of: inFile}));
        return true;
      } catch {
        return false;
      }
    },
  };
}

// What would move under a finger waits until the finger has done what it came for: a touch means what it was put on.

const CLICK = 400; // Milliseconds in which the click follows that a pointer's coming up makes.
const LONGEST = 4000; // A pointer that never came up, as far as the page knows.

// Does something at once, or as soon as nobody presses in the box; of what waits, the newest.
export function unpressed(box) {
  let pressed = false;
  let waiting = null;
  let timer = 0;

  function free() {
    clearTimeout(timer);
    pressed = false;
    const does = waiting;
    waiting = null;
    does?.();
  }

  function freeIn(milliseconds) {
    clearTimeout(timer);
    timer = setTimeout(free, milliseconds);
  }

  box.addEventListener("pointerdown", () => {
    pressed = true;
    freeIn(LONGEST);
  });
  for (const ends of ["pointerup", "pointercancel"]) addEventListener(ends, () => pressed && freeIn(CLICK));
  addEventListener("click", () => pressed && free());

  return (does) => {
    if (pressed) waiting = does;
    else does();
  };
}
